"""The glue-up by hand, for a soft and a hard wood."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from nookwright.basics.findings import Finding
from nookwright.stages.checks.glue_up import check_glue_up
from nookwright.stages.inputs.brief import Climate, MonthAir
from nookwright.stages.inputs.shop import BoardLength, BoardStock, Glue
from nookwright.stages.parts.part import PartList
from nookwright.trade.glue_up import clamp_pressure


def _top(job: Any, **changed: Any) -> Finding:
    """Return the finding of a top 1800 x 600 of five boards."""
    top = replace(
        job.parts.part("C1"), role="worktop", name="top", wood="pine", pieces=5, thickness_mm=27.0,
        outline=((0, 0), (1800, 0), (1800, 600), (0, 600)),
    )  # fmt: skip
    top = replace(top, **changed)
    (finding,) = check_glue_up(PartList(parts=(top,), joints=()), job.shop, job.brief)
    return finding


def test_a_pine_top_by_hand(job: Any) -> None:
    """100 psi is 0.6895 N/mm2; 3000 / (0.6895 x 27) = 161.2 mm; 1700 / 161.2 = 10.55: 12 clamps, 154.5 apart.

    Each presses 0.6895 x 27 x 154.5 = 2877 to 4315 N. Glue: 4 x 1.8 x 0.027 m2 x 200 = 38.9 g.
    """
    finding = _top(job)
    assert "12 clamps, 154.5 mm apart" in finding.summary
    assert "each pressing 2.9 kN to 4.3 kN" in finding.summary
    assert "40 g of glue" in finding.summary
    assert finding.worked.startswith("3000 / (0.69 x 27.0) = 161 mm; 12 clamps, 155 mm apart; 4 x 1.80 x 0.027")
    assert finding.verdict == "pass"


@pytest.mark.parametrize(
    ("width", "said"),
    [
        (
            602.0,
            "Take 6 boards of 120 mm, 720 mm in all (5 would do for a blank 2 mm narrower), to be cut to 602 mm once",
        ),
        (612.0, "(5 would do for a blank 12 mm narrower)"),
        (613.0, "Take 6 boards of 120 mm, 720 mm in all, to be cut to 613 mm once they are glued; 5 glue lines"),
    ],
)
def test_boards_are_taken_as_wide_as_they_are_cut(job: Any, width: float, said: str) -> None:
    """125 wide, 5 off to straighten: five give 600; a last board that gives no more than a tenth of itself is told."""
    lengths = (BoardLength(length_mm=2400, price=Decimal(9)),)
    pine = BoardStock(
        key="pine", name="pine", wood="pine", thickness_mm=27, width_mm=125, straighten_mm=5, lengths=lengths
    )
    shop = replace(job.shop, boards=(pine,))
    outline = ((0, 0), (1800, 0), (1800, width), (0, width))
    top = replace(job.parts.part("C1"), wood="pine", stock="pine", pieces=6, thickness_mm=27.0, outline=outline)
    edges = tuple(replace(edge, scribe_mm=0.0, bevel_rad=0.0) for edge in top.edges)
    (finding,) = check_glue_up(PartList(parts=(replace(top, edges=edges),), joints=()), shop, job.brief)
    assert said in finding.summary


def test_a_thick_hard_top_crowds_weak_clamps(job: Any) -> None:
    """Red oak 60 thick: 200 psi is 1.379 N/mm2; 3000 / (1.379 x 60) = 36 mm."""
    finding = _top(job, wood="red-oak", thickness_mm=60.0)
    assert finding.verdict == "caution"
    assert finding.remedy.startswith("These clamps are too weak")


def test_a_damp_room_leaves_wood_too_moist(job: Any) -> None:
    """Twelve months of 70 % come to 13 %."""
    damp = Climate(indoor=(MonthAir(warmth_c=20, humidity_pct=70),) * 12)
    moist = replace(job.brief, climate=damp)
    top = replace(job.parts.part("C1"), wood="pine", pieces=2)
    (finding,) = check_glue_up(PartList(parts=(top,), joints=()), job.shop, moist)
    assert "stays moister than that" in finding.remedy


def test_the_label_rules(job: Any) -> None:
    """Another glue, another clamp."""
    shop = replace(job.shop, glue=Glue(open_min=5, clamp_min=30, clamp_n=9000))
    top = replace(job.parts.part("C1"), wood="pine", pieces=2)
    (finding,) = check_glue_up(PartList(parts=(top,), joints=()), shop, job.brief)
    assert "closed within 5 minutes" in finding.summary
    assert "clamped 30 minutes" in finding.summary


def test_a_plain_board_is_not_glued(job: Any) -> None:
    """One piece."""
    assert check_glue_up(job.parts, job.shop, job.brief) == ()


@pytest.mark.parametrize(("gravity", "psi"), [(0.36, (100, 150)), (0.50, (150, 200)), (0.67, (200, 300))])
def test_pressure_by_hardness(gravity: float, psi: tuple[float, float]) -> None:
    """The guidance's three classes, in its own unit."""
    assert [each / 0.006894757 for each in clamp_pressure(gravity)] == pytest.approx(psi, rel=1e-6)
