"""The steps of a board: carried out one by one by their figures they give just what the plan tells, and nothing is lost."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from decimal import Decimal

import pytest

from carried_out import carried_out
from corrupted_boards import part, whole_plan
from nookwright.stages.cutting.board_layout import lay_out_boards
from nookwright.stages.cutting.board_steps import BoardStep, board_steps
from nookwright.stages.cutting.cutting_plan import BoardPiece, BoardPlan
from nookwright.stages.inputs.shop import BoardLength, BoardOffcut, BoardStock, Saw

PINE = BoardStock(
    key="pine", name="pine", wood="pine", thickness_mm=20, width_mm=100,
    lengths=(BoardLength(length_mm=2000, price=Decimal(9)),),
)  # fmt: skip
SAW = Saw(kerf_mm=3, end_trim_mm=10)


def steps_of(board: BoardPlan, stock: BoardStock = PINE, saw: Saw = SAW) -> tuple[BoardStep, ...]:
    """Return the steps of a board."""
    return board_steps(board, stock, saw)


def planned(*sizes: tuple[float, float], stock: BoardStock = PINE, saw: Saw = SAW) -> BoardPlan:
    """Return the one board that parts of these sizes are cut from."""
    parts = [part(f"S{i}", *size, pieces=1) for i, size in enumerate(sizes, start=1)]
    plans, _, misfits = lay_out_boards(parts, stock, saw)
    assert not misfits
    assert len(plans) == 1
    return plans[0]


def told(steps: tuple[BoardStep, ...]) -> list[tuple[str, tuple[float, ...]]]:
    """Return what is done at each step, and its figures to the tenth."""
    return [(step.doing, tuple(round(figure.mm, 1) for figure in step.figures)) for step in steps]


def test_a_board_is_trimmed_parted_ripped_and_crosscut() -> None:
    """2000 long: 10 off, 900 + 3 + 500 stay, 1413 with the cuts are used; 587 are cut off before it is ripped to 60."""
    board = planned((900, 60), (500, 60))
    steps = steps_of(board)
    assert told(steps) == [
        ("trim first end", (10,)),
        ("keep end", (1403,)),
        ("rip", (60,)),
        ("crosscut", (900,)),
    ]  # fmt: skip
    assert steps[1].keeps == (pytest.approx(584), 100)
    assert [one.part for one in steps[3].frees] == ["S1", "S2"]
    assert [one.part for one in steps[3].remains] == ["S2"]
    assert steps[2].left == (pytest.approx(1403), pytest.approx(37))


def test_a_crooked_board_is_planed_and_straightened_before_it_is_trimmed_and_ripped() -> None:
    """6 off its edges: 94 are left of 100; the end that is kept comes off first, in its full width and with its crook."""
    crooked = replace(PINE, straighten_mm=6, flatten_mm=3)
    steps = steps_of(planned((900, 40), (900, 40), stock=crooked), crooked)
    assert told(steps) == [
        ("keep end", (910,)),
        ("plane", ()),
        ("straighten", ()),
        ("true", (94,)),
        ("trim first end", (10,)),
        ("rip", (40,)),
        ("rip", (40,)),
    ]  # fmt: skip
    assert steps[0].keeps == (pytest.approx(1087), 100)
    assert [one.part for step in steps for one in step.frees] == ["S1", "S2"]
    assert [step.new_setting for step in steps if step.doing == "rip"] == [True, False]


def test_a_strip_that_is_kept_comes_free_at_the_last_rip() -> None:
    """100 - 40 - 3 = 57 wide, and as long as the board is then: 2000 - 10, for 137 are not worth keeping."""
    saw = replace(SAW, keep_strip_mm=30)
    steps = steps_of(planned((1850, 40), saw=saw), saw=saw)
    assert told(steps) == [("trim first end", (10,)), ("rip", (40,)), ("crosscut", (1850,))]
    assert steps[1].keeps == (1990, 57)
    assert steps[2].left == (pytest.approx(137), 40)


def test_a_board_of_full_width_is_crosscut_and_its_end_kept_at_last() -> None:
    """With 15 off the far end: 2000 - 10 - 15 - 1200 - 3 = 772; the narrower piece is ripped last."""
    saw = replace(SAW, far_end_trim_mm=15)
    steps = steps_of(planned((700, 100), (497, 70), saw=saw), saw=saw)
    assert told(steps) == [
        ("trim first end", (10,)),
        ("trim far end", (15,)),
        ("crosscut", (700,)),
        ("crosscut", (497,)),
        ("narrow", (70,)),
    ]  # fmt: skip
    assert steps[3].keeps == (pytest.approx(772), 100)
    assert steps[4].left == (497, pytest.approx(27))


def test_pieces_alike_in_width_are_narrowed_at_one_setting() -> None:
    """The widest first: 70 once, then 40 twice without setting the fence anew, wherever they lie in the lane."""
    pieces = [
        BoardPiece(part=f"S{i}", at_mm=10 + 403 * i, length_mm=400, width_mm=width)
        for i, width in enumerate((100, 40, 70, 40))
    ]
    board = BoardPlan(stock="pine", index=1, length_mm=2000, pieces=tuple(pieces), leftover_mm=378)
    steps = steps_of(board)
    narrow = [step for step in steps if step.doing == "narrow"]
    assert [step.figures[0].mm for step in narrow] == [70, 40, 40]
    assert [step.new_setting for step in narrow] == [True, True, False]


def test_an_offcut_used_as_it_lies_there_has_no_step() -> None:
    """Its ends are clean, and the piece is just as long and wide."""
    stock = replace(PINE, offcuts=(BoardOffcut(length_mm=700),))
    board = planned((700, 100), stock=stock)
    assert board.offcut
    assert steps_of(board, stock) == ()


@pytest.mark.parametrize("number", range(60))
def test_steps_carried_out_give_every_piece_and_all_that_is_kept(number: int) -> None:
    """Of jobs with several widths, offcuts, strips, glued-up parts, far trims and slanted ends.

    To the hundredth; but pieces that share cuts are laid out in whole tenths, up, so each of those cuts may leave a tenth.
    """
    plans, parts, stock, saw = whole_plan(number)
    slanted = {one.number for one in parts if one.number.startswith("R")}
    for board in plans:
        steps = board_steps(board, stock, saw)
        bench = carried_out(steps, board, stock, saw)
        off = 0.01 + 0.11 * sum(step.doing == "slant" for step in steps)
        given = Counter(one[0] for one in bench.pieces)
        whole = {piece.part for piece in board.pieces} if not steps else set()
        assert given + Counter(whole) == Counter(piece.part for piece in board.pieces)
        for piece in board.pieces:
            if piece.part in slanted or piece.part in whole:
                continue
            near_it = [
                one
                for one in bench.pieces
                if one[0] == piece.part
                and -0.01 < one[1] - piece.length_mm < off
                and abs(one[4] - piece.width_mm) < 0.01
                and one[1:4] == (one[2], one[2], 0.0)
            ]
            assert near_it, (piece, bench.pieces)
        kept = [size for size in bench.kept if size[0] >= saw.kept_from_mm]
        strips = [size for size in kept if board.strip_mm and abs(size[1] - board.strip_mm) < 0.01]
        assert len(strips) == bool(board.strip_mm)
        ends = [size for size in kept if size not in strips]
        assert len(ends) == (board.leftover_mm >= saw.kept_from_mm)
        assert all(-0.01 < size[0] - board.leftover_mm < off for size in ends)


def test_pieces_that_share_cuts_and_are_narrower_than_the_board_come_off_in_one() -> None:
    """Two of job 2: cut off together, ripped to the wider of them, and only then parted by their slanted cut."""
    plans, _, stock, saw = whole_plan(2)
    every = [board_steps(board, stock, saw) for board in plans]
    (steps,) = (steps for steps in every if any(step.together for step in steps))
    at = next(i for i, step in enumerate(steps) if step.together)
    off, ripped, parted = steps[at : at + 3]
    assert (off.doing, ripped.doing, parted.doing) == ("crosscut", "narrow", "slant")
    assert off.together == ripped.together == (*parted.frees,)
    assert ripped.figures[0].mm == max(piece.width_mm for piece in off.together) < 100


@pytest.mark.parametrize("number", range(60))
def test_slanted_pieces_come_out_as_long_as_they_lie_in_the_plan(number: int) -> None:
    """A mitred piece is as long, over its own width, as its box: 35 degrees run 0.7002 across; bevels reach below."""
    plans, parts, stock, saw = whole_plan(number)
    boxes = {one.number: one for one in parts}
    for board in plans:
        bench = carried_out(board_steps(board, stock, saw), board, stock, saw)
        for name, near, far, lag, _ in bench.pieces:
            if not name.startswith("R"):
                continue
            piece = next(one for one in board.pieces if one.part == name)
            over = max(near, lag + far) - min(0.0, lag)
            bevelled = any(edge.bevel_rad for edge in boxes[name].edges)
            below = 20 * 0.57736 if bevelled else 0.0  # 20 thick at 30 degrees
            assert piece.length_mm - below - 0.3 < over < piece.length_mm + 0.7


@pytest.mark.parametrize("number", range(40))
def test_nothing_is_lost(number: int) -> None:
    """Pieces, what is kept, what is told as left over, sawdust and trims make the whole board, but for narrow rips."""
    plans, _, stock, saw = whole_plan(number)
    for board in plans:
        steps = board_steps(board, stock, saw)
        if not steps or any(step.doing in {"slant", "narrow"} for step in steps):
            continue
        bench = carried_out(steps, board, stock, saw)
        left = [step.left for step in steps if step.left]
        fell = [one for one in bench.waste if min(one) > 0]
        assert sum(sorted(left), ()) == pytest.approx(sum(sorted(fell), ()))
        areas = [near * width for _, near, _, _, width in bench.pieces] + [a * b for a, b in bench.kept + left]
        whole = board.length_mm * (board.width_mm or stock.width_mm)
        assert sum(areas) + bench.sawdust + bench.trimmed == pytest.approx(whole, rel=2e-3)


@pytest.mark.parametrize("number", range(20))
def test_the_cut_drawn_is_half_a_kerf_beyond_its_figure(number: int) -> None:
    """And a piece drawn in hand lies in it; trims count the cut in."""
    plans, _, stock, saw = whole_plan(number)
    for board in plans:
        for order, step in enumerate(board_steps(board, stock, saw), start=1):
            assert step.order == order
            if step.doing in {"rip", "narrow", "crosscut", "keep end"}:
                assert step.cut is not None
                axis = 0 if step.doing in {"crosscut", "keep end"} else 1
                beyond = step.cut[0][axis] - step.figures[0].end[axis]
                assert beyond == pytest.approx(saw.kerf_mm / 2)
            low, high = (pick(y for _, y in step.hand) for pick in (min, max))
            left, right = (pick(x for x, _ in step.hand) for pick in (min, max))
            for one in step.inside:
                for x, y in one.corners:
                    assert low - 1e-6 <= y <= high + 1e-6
                    assert left - 1e-6 <= x <= right + 0.3
