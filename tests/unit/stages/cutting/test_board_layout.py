"""Tests of one board stock: money, offcuts, lanes of mixed width, and what is said of the plan; worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from nookwright.geometry.frame import Frame
from nookwright.stages.cutting.board_check import board_faults, money_for
from nookwright.stages.cutting.board_layout import _left_says, lay_out_boards
from nookwright.stages.cutting.board_search import FoundBoards
from nookwright.stages.inputs.shop import BoardLength, BoardOffcut, BoardStock, Saw
from nookwright.stages.parts.part import SQUARE, Part

FRAME = Frame(origin=(0, 0, 0), u=(1, 0, 0), v=(0, 0, 1))
SAW = Saw(kerf_mm=3.0, end_trim_mm=10.0, keep_mm=200.0)
PROVEN = "proven best, no way to rip and crosscut them costs less"


def part(number: str, length: float, width: float = 100) -> Part:
    """Return a plain rectangular part."""
    return Part(
        number=number, name=number, role="strip", module="A", stock="pine", wood="pine", thickness_mm=20,
        outline=((0, 0), (length, 0), (length, width), (0, width)), edges=(SQUARE,) * 4, frame=FRAME,
    )  # fmt: skip


def pine(*offcuts: BoardOffcut, prices: tuple[str, str] = ("9", "20")) -> BoardStock:
    """Return a board 100 wide, sold in 1800 and 3000."""
    sold = tuple(
        BoardLength(length_mm=length, price=Decimal(price)) for length, price in zip((1800, 3000), prices, strict=True)
    )
    return BoardStock(
        key="pine", name="pine", wood="pine", thickness_mm=20, width_mm=100, lengths=sold, offcuts=offcuts
    )


def test_an_offcut_with_clean_ends_saves_a_board() -> None:
    """1200 and 590 need 10 + 1200 + 3 + 590 = 1803, too much for 1800; 590 comes from an offcut of 590."""
    parts, stock = [part("S1", 1200), part("S2", 590)], pine(BoardOffcut(length_mm=590))
    boards, summary, _ = lay_out_boards(parts, stock, SAW)
    assert [(b.length_mm, b.offcut, [p.part for p in b.pieces]) for b in boards] == [
        (1800, False, ["S1"]),
        (590, True, ["S2"]),
    ]
    assert boards[1].pieces[0].at_mm == 0
    assert money_for(boards, stock) == Decimal(9)
    assert summary is not None
    assert summary.bound_says == f"boards for 9.00: {PROVEN}; for this money no plan leaves a longer piece"


def test_there_are_no_more_offcuts_than_there_are() -> None:
    """Three pieces of 590: two from offcuts, one from a board."""
    boards, _, _ = lay_out_boards(
        [part(f"S{i}", 590) for i in range(3)], pine(BoardOffcut(length_mm=600, count=2)), SAW
    )
    assert [board.offcut for board in boards] == [False, True, True]


def test_a_piece_longer_than_all_that_is_sold_comes_from_a_board_on_hand() -> None:
    """3200 of a board of 3400, though two of 1690 would fill it better: 10 + 1690 each come from two boards of 1800."""
    parts, stock = [part("S1", 1690), part("S2", 1690), part("S3", 3200)], pine(BoardOffcut(length_mm=3400))
    boards, summary, misfits = lay_out_boards(parts, stock, SAW)
    assert misfits == ()
    assert [(b.length_mm, b.offcut, [p.part for p in b.pieces]) for b in boards] == [
        (1800, False, ["S1"]), (1800, False, ["S2"]), (3400, True, ["S3"])
    ]  # fmt: skip
    assert summary is not None
    assert summary.bound_says.startswith(f"boards for 18.00: {PROVEN}")


@pytest.mark.parametrize("offcuts", [1, 2])
def test_of_long_pieces_only_those_are_refused_that_no_board_on_hand_is_left_for(offcuts: int) -> None:
    """Three of 3200 from so many of 3400: the others are told, with what boards give; what is short is cut all the same."""
    parts = [*(part(f"S{i}", 3200) for i in range(3)), part("S9", 500)]
    boards, _, misfits = lay_out_boards(parts, pine(BoardOffcut(length_mm=3400, count=offcuts)), SAW)
    assert sum(board.offcut for board in boards) == offcuts
    assert len(misfits) == 3 - offcuts
    assert {one.part for one in misfits} | {p.part for b in boards for p in b.pieces} == {"S0", "S1", "S2", "S9"}
    assert misfits[0].cure.endswith("the longest board gives 2990 mm, and other parts take the longer ones on hand")
    assert misfits[0].gives_mm == 2990


def test_a_piece_longer_than_any_board_is_refused() -> None:
    """On hand or for sale."""
    boards, summary, (misfit,) = lay_out_boards([part("S1", 3401)], pine(BoardOffcut(length_mm=3400)), SAW)
    assert (boards, summary) == ((), None)
    assert misfit.cure.endswith("the longest board gives 2990 mm")


def test_a_strip_beyond_the_last_lane_is_kept_where_it_is_wide_enough() -> None:
    """1800 - 10 - 900 - 3 = 887 come off first; of the 910 left 10 are trimmed; 100 - 60 - 3 = 37 lie beyond the lane."""
    for narrowest, strip in ((37.0, (900, 37)), (37.1, (0, 0)), (0.0, (0, 0))):
        (board,), _, _ = lay_out_boards([part("S1", 900, 60)], pine(), replace(SAW, keep_strip_mm=narrowest))
        assert (board.leftover_mm, board.strip_length_mm, board.strip_mm) == (887, *strip)


def test_the_far_end_is_trimmed_where_that_is_told() -> None:
    """1800 - 10 - 15 = 1775 are good; of 900 used, 1775 - 900 - 3 = 872 are left; an offcut's ends are both clean."""
    saw = replace(SAW, far_end_trim_mm=15, keep_strip_mm=30)
    (board,), _, _ = lay_out_boards([part("S1", 900, 60)], pine(), saw)
    assert (board.leftover_mm, board.strip_length_mm) == (872, 900)
    assert lay_out_boards([part("S1", 1775)], pine(), saw)[0][0].length_mm == 1800
    assert lay_out_boards([part("S1", 1775.1)], pine(), saw)[0][0].length_mm == 3000
    (offcut,), _, _ = lay_out_boards([part("S1", 1775.1)], pine(BoardOffcut(length_mm=1775.1)), saw)
    assert offcut.offcut
    (long,), _, _ = lay_out_boards([part("S1", 1780)], pine(), SAW)
    assert "S1 reaches beyond the end on board 1" in board_faults((long,), [part("S1", 1780)], pine(), saw)


def test_a_strip_of_a_board_used_up_is_as_long_as_the_board() -> None:
    """1800 - 10 - 1700 - 3 = 87 are not kept, so the board is ripped as a whole: 1790 x 37."""
    (board,), _, _ = lay_out_boards([part("S1", 1700, 60)], pine(), replace(SAW, keep_strip_mm=30))
    assert (board.leftover_mm, board.strip_length_mm, board.strip_mm) == (87, 1790, 37)


def test_a_short_strip_is_not_kept() -> None:
    """900 x 37 where nothing shorter than 901 is kept: then 887 is not either, and 1790 x 37 is."""
    (board,), _, _ = lay_out_boards([part("S1", 900, 60)], pine(), replace(SAW, keep_mm=901, keep_strip_mm=30))
    assert (board.leftover_mm, board.strip_length_mm, board.strip_mm) == (887, 1790, 37)
    (board,), _, _ = lay_out_boards([part("S1", 900, 60)], pine(), replace(SAW, keep_mm=1791, keep_strip_mm=30))
    assert board.strip_mm == 0


def test_a_narrow_piece_comes_from_a_strip_on_hand_and_a_wide_one_does_not() -> None:
    """40 wide from a strip of 40 x 1000, whose ends and edges are clean: both sizes to the full; 41 from a board."""
    stock = pine(BoardOffcut(length_mm=1000, width_mm=40))
    boards, _, _ = lay_out_boards([part("S1", 1000, 40), part("S2", 900, 41)], stock, SAW)
    assert [(b.length_mm, b.width_mm, b.offcut, [p.part for p in b.pieces]) for b in boards] == [
        (1800, 0, False, ["S2"]), (1000, 40, True, ["S1"])
    ]  # fmt: skip
    assert money_for(boards, stock) == Decimal(9)


def test_a_top_is_not_glued_up_from_strips() -> None:
    """It takes full widths; and a long part that is wider than the long strip on hand is told."""
    stock = pine(BoardOffcut(length_mm=3400, width_mm=40, count=9))
    top = replace(part("T1", 1000, 190), pieces=2)
    boards, _, misfits = lay_out_boards([top, part("S1", 3300, 41), part("S2", 3300, 40)], stock, SAW)
    assert [one.part for one in misfits] == ["S1"]
    assert misfits[0].cure.endswith("the longest board gives 2990 mm")
    assert {p.part for b in boards if b.offcut for p in b.pieces} == {"S2"}


def test_the_cheaper_lengths_are_chosen_over_fewer_boards() -> None:
    """Three of 900: 10 + 3 * 903 - 3 = 2716 fit one of 3000 at 20; one of 1800 holds one, so three would cost 27."""
    parts = [part(f"S{i}", 900) for i in range(3)]
    boards, summary, _ = lay_out_boards(parts, pine(), SAW)
    assert [board.length_mm for board in boards] == [3000]
    assert summary is not None
    assert summary.bound_says.startswith(f"boards for 20.00: {PROVEN}")
    boards, _, _ = lay_out_boards(parts, pine(prices=("9", "28")), SAW)
    assert [board.length_mm for board in boards] == [1800, 1800, 1800]


def test_a_narrower_piece_shares_a_lane_and_is_ripped_once_more() -> None:
    """60 and 45 side by side need 108 of 100; one after the other 10 + 900 + 3 + 800 of 1800 do."""
    parts = [part("S1", 900, 60), part("S2", 800, 45)]
    (board,), _, _ = lay_out_boards(parts, pine(), SAW)
    assert [(p.part, p.at_mm, p.across_mm, p.width_mm) for p in board.pieces] == [
        ("S1", 10, 0, 60), ("S2", 913, 0, 45),
    ]  # fmt: skip


def test_what_is_left_is_gathered_on_one_board() -> None:
    """Two of 800 and two of 500 on boards of 1800: 800 + 800 and 500 + 500 leave the longest piece.

    10 + 2 * 503 = 1016 are gone from the second board, 784 are left; 800 + 500 twice would leave 484 on each.
    """
    parts = [part("S1", 800), part("S2", 800), part("S3", 500), part("S4", 500)]
    boards, summary, _ = lay_out_boards(parts, pine(prices=("9", "99")), SAW)
    assert max(board.leftover_mm for board in boards) == 784
    assert summary is not None
    assert summary.bound_says.endswith("for this money no plan leaves a longer piece")


def test_the_same_parts_give_the_same_boards() -> None:
    """Deterministic without a limit of time."""
    parts = [part(f"S{i}", 300 + 97 * i % 800, (30, 45, 60)[i % 3]) for i in range(14)]
    assert lay_out_boards(parts, pine(), SAW) == lay_out_boards(parts, pine(), SAW)


def test_more_time_gives_no_dearer_a_plan() -> None:
    """Time is asked for only beyond the rounds that every plan gets."""
    parts = [part(f"S{i}", 300 + 97 * i % 800, (30, 45, 60)[i % 3]) for i in range(14)]
    plain, _, _ = lay_out_boards(parts, pine(), SAW)
    asked: list[bool] = []

    def twice() -> bool:
        asked.append(len(asked) < 2)
        return asked[-1]

    longer, _, _ = lay_out_boards(parts, pine(), SAW, twice)
    assert money_for(longer, pine()) <= money_for(plain, pine())


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"length_mm": 1801.0}, "no board of 1801 mm is for sale"),
        ({"offcut": True}, "there are not so many offcuts of 1800 mm"),
        ({"leftover_mm": 1000.0}, "1000 mm cannot be left over on board 1"),
        ({"strip_mm": 37.1}, "a strip 37.1 mm wide cannot be left over on board 1"),
        ({"strip_length_mm": 900.1}, "a strip 900.1 mm long cannot be left over on board 1"),
        ({"width_mm": 60.0}, "no board 60 mm wide is for sale"),
        ({"offcut": True, "width_mm": 60.0}, "there are not so many offcuts of 1800 mm, 60 mm wide"),
        ({"stock": "oak"}, "a board of oak among those of pine"),
        ({"index": 2}, "board 1 is numbered 2"),
        ({"pieces": ()}, "S1, 900 x 60 mm, is cut 1 times too seldom"),
    ],
)
def test_the_checker_names_what_is_wrong(wrong: dict[str, object], said: str) -> None:
    """Each fault in a sentence of its own."""
    parts = [part("S1", 900, 60)]
    (board,), _, _ = lay_out_boards(parts, pine(), SAW)
    assert board_faults((board,), parts, pine(), SAW) == ()
    assert said in board_faults((replace(board, **wrong),), parts, pine(), SAW)  # type: ignore[arg-type]


def test_a_vague_bound_of_what_is_left_over_is_not_told() -> None:
    """Left 50, and no plan leaves 100.2: more than twice as much tells nobody anything; 100 is told as 100 % longer."""
    found = FoundBoards(boards=(), cost=0, least=0, nested=False, left=500, beyond=1002)
    assert _left_says(found, 200) == "; how long a piece another plan for this money leaves is not known"
    assert _left_says(replace(found, beyond=1000), 200) == "; for this money no plan leaves a piece 100 % longer"
    assert _left_says(found, 501) == ""
