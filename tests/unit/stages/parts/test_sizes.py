"""What a blank is cut to: on a mark, the finished size where nothing is left on."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from nookwright.basics.lengths import Marks
from nookwright.geometry.frame import Frame
from nookwright.stages.parts.part import SQUARE, Edge, Part
from nookwright.stages.parts.sizes import cut_size_mm

HALF_MM = Marks(units="mm", resolution=0.5)
SIXTEENTHS = Marks(units="inch", resolution=1 / 16)
SHELF = Part(
    number="A1", name="shelf", role="shelf", module="A", stock="birch", wood="birch-plywood", thickness_mm=18,
    outline=((0, 0), (800.4, 0), (800.4, 300.3), (0, 300.3)), edges=(SQUARE,) * 4,
    frame=Frame(origin=(0, 0, 0), u=(1, 0, 0), v=(0, 0, 1)),
)  # fmt: skip


def test_what_enters_a_gap_is_cut_to_the_mark_below_and_what_covers_one_to_that_above() -> None:
    """800.4 and 300.3 lie between 800 and 800.5, and between 300 and 300.5."""
    assert cut_size_mm(SHELF, HALF_MM) == (800.0, 300.0)
    assert cut_size_mm(replace(SHELF, role="strip"), HALF_MM) == (800.5, 300.5)


def test_an_inch_reader_s_blank_lies_on_a_sixteenth() -> None:
    """800.4 is 31.512 in, 504.2 sixteenths; 300.3 is 11.823 in, 189.2 sixteenths."""
    assert cut_size_mm(SHELF, SIXTEENTHS) == pytest.approx((504 / 16 * 25.4, 189 / 16 * 25.4))


def test_only_the_size_that_something_still_comes_off_goes_up() -> None:
    """5 to scribe along the lower edge: 305.3 wide goes up to 305.5; its length stays that of the finished part."""
    scribed = replace(SHELF, edges=(Edge(scribe_mm=5), SQUARE, SQUARE, SQUARE))
    assert cut_size_mm(scribed, HALF_MM) == (800.0, 305.5)


def test_a_board_with_both_ends_tilted_the_same_way_is_never_cut_short() -> None:
    """Each face is 800.4 long, one set off by 18 tan 30 = 10.392: 810.792 goes up to 811."""
    tilted = replace(SHELF, edges=(SQUARE, Edge(bevel_rad=math.radians(30)), SQUARE, Edge(bevel_rad=-math.radians(30))))
    assert cut_size_mm(tilted, HALF_MM) == (811.0, 300.0)
