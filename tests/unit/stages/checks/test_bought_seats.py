"""Sitting on a bought cabinet, by hand, and the board that cures it."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from nookwright.stages.checks.bought_seats import check_bought_seats
from nookwright.stages.checks.own_seats import check_own_seats
from nookwright.stages.design.design import Box, FittedTop
from nookwright.stages.inputs.brief import Bought, Load


def _cabinet(job: Any, width_mm: float = 632.0, top_mm: float = 450.0) -> Box:
    """Return a bought cabinet with sides of 16."""
    return replace(
        job.design.boxes[0],
        bought=Bought(width_mm=width_mm, height_mm=350, depth_mm=300),
        x0_mm=0.0, x1_mm=width_mm, z0_mm=100.0, z1_left_mm=top_mm, z1_right_mm=top_mm,
    )  # fmt: skip


def test_a_person_breaks_a_wide_particleboard_panel_by_hand(job: Any) -> None:
    """981 N x 600 / 4 = 147150 N mm over 300 x 16^2 / 6 = 12800 mm3: 11.50 of 13 x (1 - 1.645 x 0.16) / 2.1 = 4.56.

    Its sinking: 981 x 600^3 / (48 x 2000 x 300 x 16^3 / 12) = 21.56 mm. 18 mm birch plywood takes 147150 / 16200 = 9.08
    of 42.6 x 0.7368 / 2.1 = 14.95, and costs 632 x 300 / (2440 x 1220) x 90 = 5.73; the 24 mm one 7.64.
    """
    (finding,) = check_bought_seats(replace(job.design, boxes=(_cabinet(job),)), job.shop, job.brief)
    assert finding.verdict == "fail"
    assert finding.demand == pytest.approx(11.496, abs=0.002)
    assert finding.limit == pytest.approx(4.561, abs=0.002)
    assert "21.56 mm" in finding.summary
    assert finding.remedy == (
        "Lay a seat board of birch plywood 18 over it from side to side, 18 mm thick: stress 9.08 N/mm2 of 14.95 N/mm2, "
        "about 5.73 EUR."
    )


def test_a_light_person_on_a_narrow_one_passes(job: Any) -> None:
    """30 kg over 200 mm: 294.3 x 200 / 4 / 12800 = 1.15."""
    brief = replace(job.brief, load=Load(person_kg=30))
    (finding,) = check_bought_seats(replace(job.design, boxes=(_cabinet(job, 232),)), job.shop, brief)
    assert (finding.verdict, finding.remedy) == ("pass", "")
    assert finding.demand == pytest.approx(1.1496, abs=0.001)


def test_nothing_is_asked_of_high_or_covered_cabinets(job: Any) -> None:
    """700 mm up, under a top, under another box, or when nobody sits."""
    high = replace(job.design, boxes=(_cabinet(job, top_mm=700.0),))
    assert check_bought_seats(high, job.shop, job.brief) == ()
    top = FittedTop(
        name="top", letter="T", stock=job.shop.sheets[0], outline=((0, -350), (632, -350), (632, 0), (0, 0)),
        edges=(None,) * 4, z_mm=450.0, thickness_mm=18,
    )  # fmt: skip
    covered = replace(job.design, boxes=(_cabinet(job),), tops=(top,))
    assert check_bought_seats(covered, job.shop, job.brief) == ()
    above = replace(job.design.boxes[0], z0_mm=450.0)
    assert check_bought_seats(replace(job.design, boxes=(_cabinet(job), above)), job.shop, job.brief) == ()
    nobody = replace(job.brief, load=Load(person_kg=0))
    assert check_bought_seats(replace(job.design, boxes=(_cabinet(job),)), job.shop, nobody) == ()


def test_a_shop_without_such_a_board_says_so(job: Any) -> None:
    """3 mm is no seat."""
    thin = replace(job.shop, sheets=(replace(job.shop.sheets[0], thickness_mm=3, price=Decimal(1)),))
    (finding,) = check_bought_seats(replace(job.design, boxes=(_cabinet(job),)), thin, job.brief)
    assert finding.remedy.startswith("No sheet in the shop file carries it")


def test_a_low_box_of_our_own_by_hand(job: Any) -> None:
    """A case 450 high with a divider in its middle: 981 N x 355 / 4 / (300 x 18^2 / 6) = 5.37 of 14.95 N/mm2.

    Without the divider 728 clear: 11.02; under 150 kg 16.53: fails, and 658 mm would do. A top or nobody: nothing to say.
    """
    left = job.design.boxes[0]
    low = [replace(each, z0_mm=0, z1_left_mm=432, z1_right_mm=432) for each in left.uprights]
    seat = replace(left, z0_mm=0, z1_left_mm=450, z1_right_mm=450, level_top_mm=450, uprights=tuple(low))
    clear = low[1].x_mm - low[0].x_mm - 18
    (held,) = check_own_seats(replace(job.design, boxes=(seat,), tops=()), job.brief)
    assert held.demand == pytest.approx(981 * clear / 4 / 16200, abs=0.01)
    assert (held.verdict, held.remedy) == ("pass", "")
    wide = replace(seat, uprights=(low[0], low[2]))
    heavy = replace(job.brief, load=replace(job.brief.load, person_kg=150))
    (broken,) = check_own_seats(replace(job.design, boxes=(wide,), tops=()), heavy)
    span = low[2].x_mm - low[0].x_mm - 18
    assert broken.demand == pytest.approx(1471.5 * span / 4 / 16200, abs=0.01)
    assert broken.verdict == "fail"
    assert broken.remedy == "Set uprights 658 mm apart at most under it, or lay a top over it."
    nobody = replace(job.brief, load=replace(job.brief.load, person_kg=0))
    assert check_own_seats(replace(job.design, boxes=(seat,), tops=()), nobody) == ()
    assert check_own_seats(replace(job.design, boxes=(left,), tops=()), job.brief) == ()
