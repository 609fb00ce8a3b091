"""Of all cheapest plans for boards, one that leaves a long piece over: the longest possible, as far as that is known.

A plan leaves a piece of some length over when one of its boards could as well be shorter by that much. So that board is
handed to the search for nothing, already shortened, and the question is whether the rest costs no more than before.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import islice
from typing import Literal

from nookwright.solvers.covering.problem import TimeLeft, unlimited
from nookwright.solvers.pack_boards import Board, BoardsPlan, boards_plans

_STEP = 10
"""Lengths are told apart to this. [0.1 mm]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class LongestLeft:
    """A plan, the longest piece it leaves over, and a length that no plan for its money leaves.

    Args:
        plan: the plan.
        left: what one bought board leaves beyond its last cuts, over the full width.
        beyond: no plan of the same cost leaves as much as this.
    """

    plan: BoardsPlan
    left: int
    beyond: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardJob:
    """What is cut from what: length and width of each piece, the boards, width of a cut."""

    pieces: tuple[tuple[int, int], ...]
    boards: tuple[Board, ...]
    kerf: int


def longest_left(
    plan: BoardsPlan, job: BoardJob, *, probes: int, rounds: int, time_left: TimeLeft = unlimited
) -> LongestLeft:
    """Return a plan no dearer that leaves as long a piece over as is found.

    Args:
        plan: a plan for the job; what it leaves at least stays.
        job: pieces and boards; boards without a limit of number are bought.
        probes: lengths to try at most.
        rounds: rounds of search for each.
        time_left: seconds left.

    Returns:
        The plan, what it leaves, and what no plan for the same money leaves.
    """
    found, left = plan, left_over(plan, job)
    shortest = min(length for length, _ in job.pieces) + job.kerf
    order = _in_order(plan, job)
    limits = {stock: job.boards[stock].length + job.kerf - shortest + 1 for stock in order}
    fresh, unknown = set(order), set[int]()
    while probes > 0 and time_left() > 0:
        waiting = [stock for stock in order if limits[stock] - left > _STEP and stock not in unknown]
        if not waiting:
            break
        stock = next((one for one in waiting if one in fresh), waiting[0])
        wish = left + _STEP if stock in fresh else (left + limits[stock]) // 2
        answer = _leaving(found, job, stock, wish, rounds, time_left)
        probes -= 1
        fresh.discard(stock)
        if answer == "unknown":
            unknown.add(stock)
        elif answer == "none":
            limits[stock] = wish
        else:
            found, left = answer, left_over(answer, job)
    return LongestLeft(plan=found, left=left, beyond=max([left + 1, *limits.values()]))


def left_over(plan: BoardsPlan, job: BoardJob) -> int:
    """Return the longest piece that a bought board leaves over its full width.

    Args:
        plan: the plan.
        job: what it is for.
    """
    spare = [
        job.boards[one.stock].length - max(sum(job.pieces[i][0] + job.kerf for i in lane) for lane in one.lanes)
        for one in plan.boards
        if job.boards[one.stock].most is None
    ]
    return max([0, *spare])


def _in_order(plan: BoardsPlan, job: BoardJob) -> list[int]:
    """Return the boards for sale that a plan for this money can hold: those in the plan first, the longest of them."""
    used = {one.stock for one in plan.boards}
    sold = [i for i, board in enumerate(job.boards) if board.most is None and board.price <= plan.cost]
    return sorted(sold, key=lambda i: (i not in used, -job.boards[i].length))


def _leaving(
    plan: BoardsPlan, job: BoardJob, stock: int, wish: int, rounds: int, time_left: TimeLeft
) -> BoardsPlan | Literal["none", "unknown"]:
    """Return a plan no dearer with a board of a stock that leaves what is wished; or whether there is none."""
    bought = job.boards[stock]
    shortened = replace(bought, length=bought.length - wish - job.kerf, price=0, most=1)
    target = plan.cost - bought.price
    search = boards_plans(job.pieces, boards=(*job.boards, shortened), kerf=job.kerf, time_left=time_left)
    for one in islice(search, rounds + 1):
        if one.cost <= target:
            boards = tuple(
                replace(board, stock=stock if board.stock == len(job.boards) else board.stock) for board in one.boards
            )
            cost = sum(job.boards[board.stock].price for board in boards)
            return BoardsPlan(boards=boards, cost=cost, least_cost=min(cost, plan.least_cost))
        if one.least_cost > target:
            return "none"
    return "unknown"
