"""Tests of boards with crooked edges and of boards on hand with flaws, worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from nookwright.basics.lengths import Marks
from nookwright.drawings.pages.boards import board_bars
from nookwright.geometry.frame import Frame
from nookwright.stages.cutting.board_layout import lay_out_boards
from nookwright.stages.inputs.shop import BoardLength, BoardOffcut, BoardStock, Saw, Shop
from nookwright.stages.parts.part import SQUARE, Part

FRAME = Frame(origin=(0, 0, 0), u=(1, 0, 0), v=(0, 0, 1))
SAW = Saw(kerf_mm=3.0, end_trim_mm=10.0)
MM = Marks(units="mm", resolution=0.5)
PINE = BoardStock(
    key="pine", name="pine", wood="pine", thickness_mm=20, width_mm=100,
    lengths=(BoardLength(length_mm=1800, price=Decimal(9)),),
)  # fmt: skip


def part(number: str, length: float, width: float, pieces: int = 1) -> Part:
    """Return a plain part."""
    return Part(
        number=number, name="strip", role="strip", module="A", stock="pine", wood="pine", thickness_mm=20,
        outline=((0, 0), (length, 0), (length, width), (0, width)), edges=(SQUARE,) * 4, frame=FRAME, pieces=pieces,
    )  # fmt: skip


def test_what_straightening_takes_is_gone_before_lanes_are_ripped() -> None:
    """Two lanes of 48 and a kerf of 3 make 99: they fit 100, and with 4 off its edges they take two boards."""
    parts = [part("S1", 1500, 48), part("S2", 1500, 48)]
    assert len(lay_out_boards(parts, PINE, SAW)[0]) == 1
    assert len(lay_out_boards(parts, replace(PINE, straighten_mm=4), SAW)[0]) == 2


def test_a_part_as_wide_as_a_crooked_board_is_too_wide() -> None:
    """98 of 100 is there until 4 mm are taken off."""
    assert lay_out_boards([part("S1", 1500, 98)], PINE, SAW)[2] == ()
    (misfit,) = lay_out_boards([part("S1", 1500, 98)], replace(PINE, straighten_mm=4), SAW)[2]
    assert misfit.cure == "glue it up from 2 boards, or choose one wider than 96 mm"


def test_boards_are_glued_up_at_the_width_that_jointing_leaves() -> None:
    """A top of 290 from boards of 96: three would give 288, so it is made from four, each 96 wide."""
    stock = replace(PINE, straighten_mm=4)
    plans, _, misfits = lay_out_boards([part("T1", 1700, 290, pieces=4)], stock, SAW)
    assert misfits == ()
    assert [[(piece.part, piece.width_mm) for piece in plan.pieces] for plan in plans] == [[("T1", 96)]] * 4
    assert lay_out_boards([part("T1", 1700, 290, pieces=3)], stock, SAW)[2][0].part == "T1"


def test_the_sawyer_is_told_to_straighten_and_what_to_cut_out() -> None:
    """Over the bar of the board."""
    sound = BoardOffcut(length_mm=800, cut_from="the board of 2400 mm, from 0 mm to 800 mm")
    stock = replace(PINE, straighten_mm=4, offcuts=(sound,))
    plans, _, _ = lay_out_boards([part("S1", 700, 48)], stock, SAW)
    (bar,) = board_bars(plans, Shop(currency="EUR", sheets=(), boards=(stock,)), MM)
    assert bar.title.startswith(
        "pine, board 1, offcut 800 long (cut it out of the board of 2400 mm, from 0 mm to 800 mm): "
        "straighten its edges to 96, rip a lane 48 wide, then crosscut"
    )


def test_two_sound_pieces_of_one_length_are_told_apart() -> None:
    """A knot in the middle leaves two of 800: each is cut out of its own half, and no bar stands for both."""
    halves = ("the board of 1700 mm, from 0 mm to 800 mm", "the board of 1700 mm, from 900 mm to 1700 mm")
    stock = replace(PINE, offcuts=tuple(BoardOffcut(length_mm=800, cut_from=half) for half in halves))
    plans, _, _ = lay_out_boards([part("S1", 700, 100), part("S2", 700, 100)], stock, SAW)
    assert sorted(plan.cut_from for plan in plans) == sorted(halves)
    told = [bar.title for bar in board_bars(plans, Shop(currency="EUR", sheets=(), boards=(stock,)), MM)]
    assert [sum(f"(cut it out of {half})" in title for title in told) for half in halves] == [1, 1]


def test_a_board_to_be_planed_flat_is_bought_thicker_than_its_parts() -> None:
    """Bought 24 thick, 4 of it taken off: the sawyer is told to plane it to 20 before anything else."""
    stock = replace(PINE, flatten_mm=4, straighten_mm=4)
    assert stock.bought_thickness_mm == 24
    plans, _, _ = lay_out_boards([part("S1", 700, 48)], stock, SAW)
    (bar,) = board_bars(plans, Shop(currency="EUR", sheets=(), boards=(stock,)), MM)
    assert "plane its faces flat, to 20 thick, straighten its edges to 96, rip a lane" in bar.title
