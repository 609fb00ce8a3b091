"""Tests of boards ripped into lanes and crosscut: cases by hand, and small ones by trying everything."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

import pytest

from nookwright.solvers.pack_boards import Board, BoardsPlan, boards_plans, pack_boards
from nookwright.solvers.shaking import Shaker

Size = tuple[int, int]


def fits_in_lanes(pieces: Sequence[Size], length: int, width: int, kerf: int) -> bool:
    """Whether pieces can lie in lanes on one board, by trying every way to share them out over lanes."""

    def shared(rest: Sequence[Size], lanes: list[list[Size]]) -> bool:
        if not rest:
            across = sum(max(wide for _, wide in lane) for lane in lanes) + kerf * (len(lanes) - 1)
            along = max(sum(long for long, _ in lane) + kerf * (len(lane) - 1) for lane in lanes)
            return across <= width and along <= length
        for i in range(len(lanes)):
            if shared(rest[1:], [*lanes[:i], [*lanes[i], rest[0]], *lanes[i + 1 :]]):
                return True
        return shared(rest[1:], [*lanes, [rest[0]]])

    return shared(pieces, [])


def cheapest(pieces: Sequence[Size], boards: Sequence[Board], kerf: int) -> int:
    """Return the least cost, by giving every set of pieces the cheapest board that holds it."""

    @cache
    def price(held: int) -> int:
        mine = [piece for i, piece in enumerate(pieces) if held >> i & 1]
        prices = [board.price for board in boards if fits_in_lanes(mine, board.length, board.width, kerf)]
        return min(prices, default=10**9)

    @cache
    def least(left: int) -> int:
        if not left:
            return 0
        first = left & -left
        best, held = 10**9, left
        while held:
            if held & first:
                best = min(best, price(held) + least(left & ~held))
            held = (held - 1) & left
        return best

    return least((1 << len(pieces)) - 1)


def check(plan: BoardsPlan, pieces: Sequence[Size], boards: Sequence[Board], kerf: int) -> None:
    """Every piece once, every lane within its board, lanes side by side within its width, the cost added up."""
    assert sorted(i for one in plan.boards for lane in one.lanes for i in lane) == list(range(len(pieces)))
    assert plan.cost == sum(boards[one.stock].price for one in plan.boards)
    for one in plan.boards:
        board = boards[one.stock]
        for lane in one.lanes:
            assert sum(pieces[i][0] + kerf for i in lane) - kerf <= board.length
        assert sum(max(pieces[i][1] for i in lane) + kerf for lane in one.lanes) - kerf <= board.width


def test_small_jobs_match_trying_everything() -> None:
    """Up to six pieces, two sizes of board: the least cost, proven."""
    numbers = Shaker(23)
    for case in range(40):
        boards = [
            Board(length=70 + numbers.below(60), width=20 + numbers.below(20), price=10 + numbers.below(30))
            for _ in range(2)
        ]
        wanted = [(15 + numbers.below(60), 6 + numbers.below(14)) for _ in range(1 + numbers.below(6))]
        pieces = [size for size in wanted if any(size[0] <= b.length and size[1] <= b.width for b in boards)]
        if pieces:
            plan = pack_boards(pieces, boards=boards, kerf=2, rounds=400)
            check(plan, pieces, boards, 2)
            assert plan.cost == plan.least_cost == cheapest(pieces, boards, 2), case


def test_two_lanes_and_a_kerf_share_a_board() -> None:
    """Two lanes of 48 and a kerf of 3 make 99; in 98 they need two boards."""
    pieces = [(890, 48), (890, 48)]
    assert pack_boards(pieces, boards=[Board(length=890, width=99, price=5)], kerf=3, rounds=9).cost == 5
    assert pack_boards(pieces, boards=[Board(length=890, width=98, price=5)], kerf=3, rounds=9).cost == 10


def test_an_offcut_is_used_first() -> None:
    """Two pieces of 500: one from the offcut of 600, one from a board; there is only one offcut."""
    boards = [Board(length=600, width=50, price=0, most=1), Board(length=900, width=50, price=7)]
    plan = pack_boards([(500, 50), (500, 50)], boards=boards, kerf=3, rounds=9)
    assert (plan.cost, plan.least_cost) == (7, 7)
    assert sorted(one.stock for one in plan.boards) == [0, 1]


def test_a_piece_that_fits_no_board_is_refused() -> None:
    """Neither long enough nor wide enough together is no board."""
    boards = [Board(length=600, width=50, price=3), Board(length=500, width=90, price=3)]
    with pytest.raises(ValueError, match="a piece of 550 x 60 fits no board"):
        pack_boards([(550, 60)], boards=boards, kerf=3, rounds=9)


def test_too_few_boards_are_refused() -> None:
    """Three pieces, two boards that hold one each."""
    with pytest.raises(ValueError, match="too few boards"):
        pack_boards([(500, 50)] * 3, boards=[Board(length=600, width=50, price=3, most=2)], kerf=3, rounds=9)


def test_nothing_to_cut_costs_nothing() -> None:
    """No pieces, no plan."""
    assert pack_boards([], boards=[Board(length=600, width=50, price=3)], kerf=3, rounds=9).cost == 0


def test_the_first_plan_comes_without_a_search_and_later_ones_are_no_worse() -> None:
    """A job of 40 pieces: costs fall, bounds rise; without time only the first plan comes."""
    numbers = Shaker(6)
    pieces = [(200 + numbers.below(900), (18, 30, 45)[numbers.below(3)]) for _ in range(40)]
    boards = [Board(length=2400, width=95, price=800), Board(length=3000, width=120, price=1250)]
    plans = [plan for plan, _ in zip(boards_plans(pieces, boards=boards, kerf=3), range(12), strict=False)]
    for plan in plans:
        check(plan, pieces, boards, 3)
    assert [plan.cost for plan in plans] == sorted((plan.cost for plan in plans), reverse=True)
    assert [plan.least_cost for plan in plans] == sorted(plan.least_cost for plan in plans)
    (only,) = boards_plans(pieces, boards=boards, kerf=3, time_left=lambda: 0.0)
    assert only == plans[0]
