"""Tests of what stands over the bars of boards: how each lane is cut, in the sawyer's words."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from nookwright.basics.lengths import Marks
from nookwright.drawings.page import Area, Shape, Text
from nookwright.drawings.pages.boards import board_bars, draw_bars
from nookwright.stages.cutting.cutting_plan import BoardPiece, BoardPlan
from nookwright.stages.inputs.shop import BoardLength, BoardStock, Saw, Shop

SHOP = Shop(
    currency="EUR", sheets=(),
    boards=(
        BoardStock(
            key="pine", name="pine", wood="pine", thickness_mm=20, width_mm=100,
            lengths=(BoardLength(length_mm=1800, price=Decimal(9)),),
        ),
    ),
)  # fmt: skip
MM = Marks(units="mm", resolution=0.5)
AREA = Area(x=0, y=0, width=250, height=100)


def piece(name: str, at: float, across: float, width: float) -> BoardPiece:
    """Return a piece of 500 on a board."""
    return BoardPiece(part=name, at_mm=at, length_mm=500, across_mm=across, width_mm=width)


def titles(*pieces: BoardPiece, offcut: bool = False, left: float = 780) -> list[str]:
    """Return the headings of one board's bars."""
    board = BoardPlan(stock="pine", index=1, length_mm=1800, pieces=pieces, leftover_mm=left, offcut=offcut)
    return [bar.title for bar in board_bars((board,), SHOP, MM)]


def test_lanes_say_how_they_are_ripped_and_crosscut() -> None:
    """A lane narrower than the board is ripped, a narrower piece in it once more; the last is what remains of 100."""
    assert titles(piece("S1", 10, 0, 60), piece("S2", 513, 0, 45), piece("S3", 10, 63, 37), left=150) == [
        "pine, board 1, 1800 long: rip a lane 60 wide, crosscut, then rip to S2 45",
        "pine, board 1, lane 2: the 37 that remain, crosscut; 150 left over",
    ]


def test_an_end_that_is_kept_comes_off_before_the_board_is_ripped() -> None:
    """It is kept in its full width: 780 of 1800; then 1800 - 780 - 3.2 = 1016.8 lie at the fence, 10 less once trimmed."""
    pieces = (piece("S1", 10, 0, 60), piece("S2", 513, 0, 45), piece("S3", 10, 63, 37))
    assert titles(*pieces) == [
        "pine, board 1, 1800 long: crosscut it at 1007 from its trimmed first end, keep the 780 beyond, "
        "rip a lane 60 wide, crosscut, then rip to S2 45",
        "pine, board 1, lane 2: the 37 that remain, crosscut",
    ]
    board = BoardPlan(stock="pine", index=1, length_mm=1800, pieces=pieces, leftover_mm=780)
    first, second = board_bars((board,), SHOP, MM)
    assert (first.length_mm, first.kept_mm, second.kept_mm) == (1800, 780, 0)
    assert second.length_mm == pytest.approx(1016.8)
    words = [one.text for one in draw_bars((first,), AREA, 10, MM)[0] if isinstance(one, Text)]
    assert words[-2:] == ["keep", "780"]
    words = [one.text for one in draw_bars((second,), AREA, 10, MM)[0] if isinstance(one, Text)]
    assert "keep" not in words


def test_the_far_end_is_trimmed_before_what_is_kept_is_measured() -> None:
    """15 off the end of 1800, then 780 to keep, then 1800 - 15 - 780 - 3.2 = 1001.8 to rip; the offcut's end is clean."""
    shop = replace(SHOP, saw=Saw(far_end_trim_mm=15))
    pieces = (piece("S1", 10, 0, 60), piece("S3", 10, 63, 37))
    board = BoardPlan(stock="pine", index=1, length_mm=1800, pieces=pieces, leftover_mm=780)
    first, second = board_bars((board,), shop, MM)
    assert (
        ": trim 15 mm off its far end, then crosscut it at 992 from its trimmed first end, keep the 780 beyond, rip"
        in first.title
    )
    assert second.length_mm == pytest.approx(1001.8)
    keep = next(one for one in draw_bars((first,), AREA, 10, MM)[0] if isinstance(one, Text) and one.text == "780")
    assert 180 - 1.5 - 78 < keep.at[0] < 180 - 1.5
    offcut = replace(board, offcut=True)
    assert ": crosscut it at 1017 from its first end, keep the 780 beyond" in board_bars((offcut,), shop, MM)[0].title


def test_a_strip_is_told_where_it_is_kept_and_where_it_is_used() -> None:
    """Over the last lane of the board that it is left of; and as an offcut with its width, which may be all ripped."""
    board = BoardPlan(
        stock="pine", index=1, length_mm=1800, pieces=(piece("S1", 10, 0, 60),), leftover_mm=150, strip_length_mm=1790,
        strip_mm=36.8,
    )  # fmt: skip
    assert [bar.title for bar in board_bars((board,), SHOP, MM)] == [
        "pine, board 1, 1800 long: rip a lane 60 wide, then crosscut; keep the strip beyond it, 1790 x 36.5; "
        "150 left over"
    ]
    drawn = draw_bars(board_bars((board,), SHOP, MM), AREA, 10, MM)[0]
    assert "1790 x 36.5" in [one.text for one in drawn if isinstance(one, Text)]
    corners = [one.points for one in drawn if isinstance(one, Shape) and one.fill == "white"]
    (strip,) = [points for points in corners if points[1][0] - points[0][0] == pytest.approx(179)]
    assert strip[0][0] == pytest.approx(1)
    assert max(y for _, y in strip) == pytest.approx(min(y for points in corners if points != strip for _, y in points))
    board = BoardPlan(
        stock="pine", index=1, length_mm=900, width_mm=45, pieces=(piece("S1", 0, 0, 45),), leftover_mm=397, offcut=True
    )
    assert [bar.title for bar in board_bars((board,), SHOP, MM)] == [
        "pine, board 1, offcut 900 long, 45 wide: crosscut; keep the 397 left over"
    ]


def test_a_board_of_full_width_is_crosscut_first() -> None:
    """Nothing is ripped off where a piece has the whole width: the end to keep is what is left at last."""
    assert titles(piece("S1", 10, 0, 100), piece("S2", 513, 0, 45)) == [
        "pine, board 1, 1800 long: crosscut, then rip to S2 45; keep the 780 left over"
    ]
    assert titles(piece("S1", 10, 0, 100), left=150) == ["pine, board 1, 1800 long: crosscut; 150 left over"]


def test_an_offcut_is_called_one() -> None:
    """It is looked for in the rack and not bought."""
    assert titles(piece("S1", 0, 0, 100), offcut=True, left=150) == [
        "pine, board 1, offcut 1800 long: crosscut; 150 left over"
    ]
