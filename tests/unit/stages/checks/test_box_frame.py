"""Boards that dividers stand on or prop: by beam tables, and the finding that follows."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from nookwright.stages.checks.box_frame import framed_boards
from nookwright.stages.checks.shelves import check_shelves
from nookwright.stages.design.design import Box, Shelf, Upright
from nookwright.stages.parts.part import PartList

from .conftest import lying  # type: ignore[import-not-found]

L = 1000.0
"""Between the middles of the sides. [mm]"""

OWN = 280 * 18 * 1e-9 * 680 * 9.81
W = 37 * 9.81 / 1000 + OWN
"""Things and the board itself. [N/mm]"""

EI = 8550 * 280 * 18**3 / 12


def _side(x_mm: float) -> Upright:
    return Upright(kind="side", x_mm=x_mm - 9, thickness_mm=18, z0_mm=80, z1_left_mm=2080, z1_right_mm=2080)


def _divider(x_mm: float, foot_mm: float, head_mm: float) -> Upright:
    return Upright(
        kind="divider", x_mm=x_mm - 9, thickness_mm=18, z0_mm=foot_mm, z1_left_mm=head_mm, z1_right_mm=head_mm
    )


def _row(z_mm: float, x0_mm: float = 9.0, x1_mm: float = L - 9, fixing: Any = "row") -> Shelf:
    return Shelf(fixing=fixing, x0_mm=x0_mm, x1_mm=x1_mm, z_mm=z_mm, thickness_mm=18, depth_mm=280)


def _box(job: Any, dividers: tuple[Upright, ...], shelves: tuple[Shelf, ...]) -> Box:
    uprights = (_side(0.0), *dividers, _side(L))
    return replace(job.design.boxes[0], x0_mm=-9.0, x1_mm=L + 9, uprights=uprights, shelves=shelves)


def test_a_divider_below_makes_two_spans(job: Any) -> None:
    """The published coefficient of two equal spans: 0.0054161 w l^4 / E I, l half of the board; ends carry 3/8 w l.

    The divider gives by its own squash too: less than a hundredth of a millimetre.
    """
    row = _row(980)
    (found,) = framed_boards(_box(job, (_divider(L / 2, 98, 980),), (row,)), job.brief).values()
    half = L / 2
    assert found.sag_mm == pytest.approx(0.0054161 * W * half**4 / EI, abs=0.004)
    assert found.end_n == pytest.approx(0.375 * W * half, rel=0.01)
    assert found.moment_n_mm == pytest.approx(W * half**2 / 8, rel=0.01)
    assert found.stands_mm == ()


def test_a_divider_that_stands_on_it_presses_it_with_its_shelves(job: Any) -> None:
    """Two pin shelves of half the width hang half their load each on the divider: P = w L / 2.

    5 w L^4 / 384 E I + P L^3 / 48 E I; moment w L^2 / 8 + P L / 4. With the divider carried on below it is two spans.
    """
    row = _row(980)
    pins = (_row(1400, 9, L / 2 - 9, "pins"), _row(1400, L / 2 + 9, L - 9, "pins"))
    (found,) = framed_boards(_box(job, (_divider(L / 2, 998, 1900),), (row, *pins)), job.brief).values()
    P = W * L / 2
    assert found.sag_mm == pytest.approx(5 * W * L**4 / (384 * EI) + P * L**3 / (48 * EI), rel=1e-3)
    assert found.moment_n_mm == pytest.approx(W * L**2 / 8 + P * L / 4, rel=1e-3)
    assert found.end_n == pytest.approx(W * L / 2 + P / 2, rel=1e-3)
    assert found.stands_mm == (L / 2,)
    assert found.propped_mm == pytest.approx(0.0054161 * W * (L / 2) ** 4 / EI, abs=0.004)


def test_two_boards_tied_by_a_divider_sag_alike(job: Any) -> None:
    """Equal boards, equal loads: the divider between them carries nothing, each sags 5 w L^4 / 384 E I."""
    found = framed_boards(_box(job, (_divider(L / 2, 998, 1500),), (_row(980), _row(1500))), job.brief)
    assert [board.sag_mm for board in found.values()] == pytest.approx([5 * W * L**4 / (384 * EI)] * 2, rel=1e-3)


def test_dividers_from_bottom_to_top_need_no_frame(job: Any) -> None:
    """Shelves between them span freely."""
    assert framed_boards(job.design.boxes[0], job.brief) == {}


def test_the_finding_tells_the_cure(job: Any) -> None:
    """It fails with the divider on it, and says what one below gives."""
    row = _row(980)
    pins = (_row(1400, 9, L / 2 - 9, "pins"), _row(1400, L / 2 + 9, L - 9, "pins"))
    box = _box(job, (_divider(L / 2, 998, 1900),), (row, *pins))
    board = lying("C1", L - 18, 280, name="row board", role="shelf")
    board = replace(board, frame=replace(board.frame, origin=(9.0, -280.0, 980.0)))
    design = replace(job.design, boxes=(box,))
    sag, strength, *_ = check_shelves(design, PartList(parts=(board,), joints=()), job.brief, job.shop)
    assert (sag.verdict, sag.subject) == ("fail", "row board C1")
    assert "1 of the dividers on it stand on nothing below." in sag.summary
    later = float(sag.remedy.removeprefix("Carry the divider on below it, in line: ").removesuffix(" mm after years."))
    assert later == pytest.approx(0.0054161 * W * (L / 2) ** 4 / EI * 1.8, abs=0.01)
    assert strength.demand == pytest.approx((W * L**2 / 8 + W * L / 2 * L / 4) / (280 * 18**2 / 6), rel=1e-3)
