"""What a blank is cut to: on a mark, the finished size where nothing is left on."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from nookwright.basics.lengths import Marks
from nookwright.geometry.frame import Frame
from nookwright.stages.parts.part import SQUARE, Edge, Part
from nookwright.stages.parts.sizes import as_printed, as_sawn, cut_size_mm, sizes

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


MITRED = replace(SHELF, outline=((0, 0), (800.4, 0), (500.1, 300.3), (0, 300.3)))
"""Its right end mitred 45 degrees, to what is lost by rounding."""


def test_a_mitred_part_as_printed_keeps_its_angle() -> None:
    """800 at the long point and 300 wide; at 45 degrees the short point is then 500."""
    printed, way = as_printed(MITRED, HALF_MM)
    assert way == "nearest"
    assert printed.outline == (
        pytest.approx((0, 0)), pytest.approx((800, 0)), pytest.approx((500, 300)), pytest.approx((0, 300)),
    )  # fmt: skip
    assert sizes(printed).short_mm == pytest.approx(500)


def test_five_corners_are_left_as_they_are() -> None:
    """No one end could be moved for both its lengths."""
    clipped = replace(SHELF, outline=((0, 0), (800.4, 0), (800.4, 200), (700, 300.3), (0, 300.3)), edges=(SQUARE,) * 5)
    assert as_printed(clipped, HALF_MM) == (clipped, "down")


@pytest.mark.parametrize("role", ["shelf", "strip"])
@pytest.mark.parametrize("scribed", [(0,), (0, 2), (1,), (1, 3), (2, 3)])
def test_what_is_left_on_reaches_as_far_as_on_the_true_part(role: str, scribed: tuple[int, ...]) -> None:
    """5 on each of the edges named, a mitred one among them: the blank of the part as sawn is that of the true part."""
    edges = tuple(Edge(scribe_mm=5) if i in scribed else SQUARE for i in range(4))
    part = replace(MITRED, role=role, edges=edges)  # type: ignore[arg-type]
    sawn, true = as_sawn(part, HALF_MM).blank_mm, part.blank_mm
    if {0, 2} & set(scribed):
        assert sawn[1] == pytest.approx(true[1])
    if {1, 3} & set(scribed):
        assert sawn[0] == pytest.approx(true[0])
