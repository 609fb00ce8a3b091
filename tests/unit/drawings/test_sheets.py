"""Sheets drawn for the saw: which cut frees which piece, sizes of turned pieces, leaders that meet one cut only."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from nookwright.basics.lengths import Marks
from nookwright.drawings.clearance import touching
from nookwright.drawings.page import Area, Circle, Line, Text
from nookwright.drawings.pages.sheets import DOT_MM, compact_sheets, diagram, freed_by, small_said
from nookwright.drawings.sheet import Issue
from nookwright.stages.cutting.cutting_plan import Cut, Leftover, Placed, SheetPlan

KERF_MM = 3.0
MM = Marks(units="mm", resolution=0.5)
PAPER = Area(x=10.0, y=20.0, width=270.0, height=150.0)


def piece(part: str, x: float, y: float, length: float, width: float, *, turned: bool = False) -> Placed:
    """Return a piece on a sheet."""
    return Placed(part=part, x_mm=x, y_mm=y, length_mm=length, width_mm=width, turned=turned)


def rip(order: int, at: float, x1: float, x2: float, y: float) -> Cut:
    """Return a cut along the sheet."""
    return Cut(order=order, along="length", at_mm=at, x1_mm=x1, y1_mm=y, x2_mm=x2, y2_mm=y)


def cross(order: int, at: float, x: float, y1: float, y2: float) -> Cut:
    """Return a cut across the sheet."""
    return Cut(order=order, along="width", at_mm=at, x1_mm=x, y1_mm=y1, x2_mm=x, y2_mm=y2)


def sheet(length: float, width: float, placed: list[Placed], cuts: list[Cut]) -> SheetPlan:
    """Return a sheet without leftovers."""
    return SheetPlan(
        stock="ply", index=1, length_mm=length, width_mm=width, placed=tuple(placed), cuts=tuple(cuts), leftovers=()
    )


def test_a_later_cut_beside_a_piece_does_not_free_it_again() -> None:
    """U, 300 wide, comes free by cut 2; cut 4 in the strip below runs 2 mm from the kerf beside it, and frees L2."""
    plan = sheet(
        1000.0,
        603.0,
        [piece("U", 0, 303, 500, 300), piece("L1", 0, 0, 400, 300), piece("L2", 403, 0, 597, 297)],
        [rip(1, 300, 0, 1000, 301.5), cross(2, 500, 501.5, 303, 603), cross(3, 400, 401.5, 0, 300),
         rip(4, 297, 403, 1000, 298.5)],
    )  # fmt: skip
    assert freed_by(plan, KERF_MM) == {1: [], 2: ["U"], 3: ["L1"], 4: ["L2"]}


def test_a_turned_piece_is_measured_as_its_part_is() -> None:
    """A shelf 1112 long lies across the sheet: its size reads as in the parts list, length first."""
    assert piece("B6", 0, 0, 250, 1112, turned=True).own_size_mm == (1112, 250)
    assert piece("B5", 0, 0, 1112, 250).own_size_mm == (1112, 250)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_no_figure_is_broken_where_sheets_share_a_page(paper, parts, shop) -> None:
    """The largest sizes, and every heading, stand in one line of the pieces' table."""
    half = shop.saw.kerf_mm / 2
    big = sheet(2440.0, 1220.0, [piece("C1", 0, 0, 2269.5, 1154.5)], [rip(1, 1154.5, 0, 2440, 1154.5 + half),
                cross(2, 2269.5, 2269.5 + half, 0, 1154.5)])  # fmt: skip
    kept = replace(big, leftovers=(Leftover(x_mm=0, y_mm=1157.5, length_mm=2440.0, width_mm=62.5),))
    (draft,) = compact_sheets([kept], parts, shop, Issue(paper=paper, marks=MM, job="A job", date="", revision="A"))
    said = {item.text for item in draft.items if isinstance(item, Text)}
    assert {"Part", "Length", "Width", "Cut", "keep", "2269.5", "1154.5", "2440"} <= said


def test_a_leader_meets_its_own_cut_only() -> None:
    """Four narrow pieces over each other: the numbers of their cuts stand beside them, each led straight to its cut."""
    strips = [piece(f"P{i}", 0, 100.0 * i, 214, 97) for i in range(4)]
    cuts = [cross(1, 214, 215.5, 0, 1200), *(rip(i + 2, 97, 0, 214, 98.5 + 100.0 * i) for i in range(4))]
    items, missing = diagram(sheet(2400.0, 1200.0, strips, cuts), MM, PAPER, 10)
    assert missing == ()
    dots = [item.centre for item in items if isinstance(item, Circle) and item.radius == DOT_MM]
    leaders = [item for item in items if isinstance(item, Line) and item.end in dots]
    assert leaders
    lines = [(item.start, item.end) for item in items if isinstance(item, Line) and item.pen == "wide"]
    for leader in leaders:
        (x0, y0), (x1, y1) = leader.start, leader.end
        near = 1.0 - 1.0 / math.dist(leader.start, leader.end)
        short = (leader.start, (x0 + (x1 - x0) * near, y0 + (y1 - y0) * near))
        assert not any(touching(short, line) for line in lines)
        assert any(_between(leader.end, line) for line in lines)


def _between(place: tuple[float, float], line: tuple[tuple[float, float], tuple[float, float]]) -> bool:
    return abs(math.dist(line[0], place) + math.dist(place, line[1]) - math.dist(*line)) < 0.01


@pytest.mark.parametrize(("inches", "said"), [(7 / 64, '7/64"'), (3 / 32, '3/32"'), (1 / 8, '1/8"')])
def test_the_kerf_of_a_thin_blade_is_told_as_it_is(inches: float, said: str) -> None:
    """A blade 7/64 wide is not called 1/8."""
    assert small_said(inches * 25.4, Marks(units="inch", resolution=1 / 16)) == said
