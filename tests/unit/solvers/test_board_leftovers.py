"""Tests of the longest piece left over for the same money: cases by hand, and small ones by trying everything."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from nookwright.solvers.board_leftovers import BoardJob, LongestLeft, left_over, longest_left
from nookwright.solvers.pack_boards import Board, BoardsPlan, Ripped, pack_boards
from nookwright.solvers.shaking import Shaker


def improved(job: BoardJob) -> LongestLeft:
    """Return the cheapest plan, then the longest piece it can leave."""
    plan = pack_boards(job.pieces, boards=job.boards, kerf=job.kerf, rounds=100)
    return longest_left(plan, job, probes=60, rounds=100)


def test_where_one_split_alone_fits_its_leftover_is_proven_the_longest() -> None:
    """Pieces 600, 600, 300, 300 on boards of 1000, no kerf: only 600 + 300 twice fits on two, and leaves 100 on each."""
    job = BoardJob(
        pieces=((6000, 500), (6000, 500), (3000, 500), (3000, 500)),
        boards=(Board(length=10000, width=500, price=7),), kerf=0,
    )  # fmt: skip
    best = improved(job)
    assert (best.plan.cost, best.left) == (14, 1000)
    assert best.left < best.beyond <= best.left + 10


def test_a_plan_that_spreads_its_waste_is_put_right() -> None:
    """Pieces 400, 400, 300, 300 on boards of 1000: 400 + 300 twice leaves 300 each; 400 + 300 + 300 leaves 600."""
    job = BoardJob(
        pieces=((4000, 500), (4000, 500), (3000, 500), (3000, 500)),
        boards=(Board(length=10000, width=500, price=7),), kerf=0,
    )  # fmt: skip
    spread = BoardsPlan(
        boards=(Ripped(stock=0, lanes=((0, 2),)), Ripped(stock=0, lanes=((1, 3),))), cost=14, least_cost=14
    )
    assert left_over(spread, job) == 3000
    best = longest_left(spread, job, probes=60, rounds=100)
    assert (best.plan.cost, best.left) == (14, 6000)
    assert best.beyond <= 6010


def splits(pieces: Sequence[int]) -> Iterator[list[list[int]]]:
    """Yield every way to share pieces out over boards."""
    if not pieces:
        yield []
        return
    for rest in splits(pieces[1:]):
        yield [[pieces[0]], *rest]
        for i in range(len(rest)):
            yield [*rest[:i], [pieces[0], *rest[i]], *rest[i + 1 :]]


def longest(lengths: Sequence[int], boards: Sequence[Board], kerf: int, cost: int) -> int:
    """Return the longest piece left by any way to cut for a cost, every group from every board that holds it."""
    best = 0
    for groups in splits(lengths):
        need = [sum(group) + kerf * len(group) for group in groups]
        prices = [min((b.price for b in boards if b.length + kerf >= one), default=10**9) for one in need]
        for one, cheapest in zip(need, prices, strict=True):
            for board in boards:
                if board.length + kerf >= one and sum(prices) - cheapest + board.price <= cost:
                    best = max(best, board.length - one)
    return best


def test_small_jobs_match_trying_everything() -> None:
    """Up to six pieces, two lengths for sale: within a millimetre of the longest there is, and the bound beyond it."""
    numbers = Shaker(41)
    for case in range(40):
        boards = tuple(Board(length=1500 + numbers.below(1500), width=9, price=10 + numbers.below(30)) for _ in "ab")
        top = max(board.length for board in boards)
        lengths = [300 + numbers.below(top - 300) for _ in range(2 + numbers.below(5))]
        job = BoardJob(pieces=tuple((length, 9) for length in lengths), boards=boards, kerf=20)
        best = improved(job)
        most = longest(lengths, boards, 20, best.plan.cost)
        assert best.left <= most < best.beyond, case
        assert most - best.left <= 10, case
        assert sorted(i for one in best.plan.boards for lane in one.lanes for i in lane) == list(range(len(lengths)))
