"""Cuts rectangles from boards: boards are ripped into lanes along their length, lanes are crosscut into pieces.

Kerfs are paid exactly by inflation, along and across. A quick plan comes first, then the search for the cheapest, which
ends when no plan of rips and crosscuts can be cheaper. Where no two pieces fit side by side, it is a matter of lengths.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

import numpy as np

from nookwright.solvers.board_patterns import BoardPatterns, BoardRoom
from nookwright.solvers.covering.problem import Pattern, Source, Supply, TimeLeft, Whole, price_of, unlimited
from nookwright.solvers.covering.search import State, cheapest_covers
from nookwright.solvers.length_patterns import LengthPatterns
from nookwright.solvers.ripping.lanes import lanes_of
from nookwright.solvers.ripping.search import RipSearch


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """A board to cut from.

    Args:
        length, width: what can be used of it, end trim taken off.
        price: in any whole unit of money; 0 for one that is there anyway.
        most: how many there are; None for one that is sold.
    """

    length: int
    width: int
    price: int
    most: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Ripped:
    """One board: index of its stock, and its lanes, each with the indices of its pieces; widest lane first."""

    stock: int
    lanes: tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardsPlan:
    """Every board to cut, the cost, and the least cost any plan of rips and crosscuts can have, as far as known."""

    boards: tuple[Ripped, ...]
    cost: int
    least_cost: int


def pack_boards(pieces: Sequence[tuple[int, int]], *, boards: Sequence[Board], kerf: int, rounds: int) -> BoardsPlan:
    """Cut every piece from the cheapest boards that a number of rounds finds.

    Args:
        pieces: length and width of each; each must fit a board.
        boards: boards to cut from.
        kerf: width of a cut.
        rounds: rounds of search after the quick plan; fewer when no plan can be cheaper.

    Returns:
        The plan; when `cost` equals `least_cost` no plan is cheaper.
    """
    best = BoardsPlan(boards=(), cost=0, least_cost=0)
    for plan in islice(boards_plans(pieces, boards=boards, kerf=kerf), rounds + 1):
        best = plan
    return best


def boards_plans(
    pieces: Sequence[tuple[int, int]], *, boards: Sequence[Board], kerf: int, time_left: TimeLeft = unlimited
) -> Iterator[BoardsPlan]:
    """Yield a quick plan, then the best so far after each round; ends when no plan can be cheaper.

    Args:
        pieces: length and width of each; each must fit a board.
        boards: boards to cut from.
        kerf: width of a cut.
        time_left: seconds left; the search ends soon after it falls to 0.

    Yields:
        Plans of falling cost and rising least cost.

    Raises:
        ValueError: if a piece fits no board, or there are too few boards.
    """
    if not pieces:
        return
    sizes = [(length + kerf, width + kerf) for length, width in pieces]
    rooms = [BoardRoom(length=board.length + kerf, width=board.width + kerf) for board in boards]
    for (length, width), (long, wide) in zip(pieces, sizes, strict=True):
        if not any(long <= room.length and wide <= room.width for room in rooms):
            message = f"a piece of {length} x {width} fits no board"
            raise ValueError(message)
    demand = Counter(sizes)
    kinds = sorted(demand, reverse=True)
    source = _source(kinds, [demand[kind] for kind in kinds], rooms, boards)
    first = source.complete(source.demand, [board.most for board in boards])
    if first is None:
        message = "there are too few boards for these pieces"
        raise ValueError(message)
    for state in _states(source, first, rooms, time_left):
        yield _plan(state, sizes, kinds, rooms, boards)


def _states(
    source: Source, first: Sequence[Pattern], rooms: Sequence[BoardRoom], time_left: TimeLeft
) -> Iterator[State]:
    """Yield plans and bounds: of ripped boards by numbers of boards, rips and lanes, as far as that leads."""
    if not isinstance(source, BoardPatterns):
        yield from cheapest_covers(source, first, time_left=time_left)
        return
    best = State(plan=tuple(first), cost=price_of(first, source.supplies), least=0)
    yield best
    sizes = list(zip(source.lengths.tolist(), source.widths.tolist(), strict=True))
    lanes = lanes_of(sizes, source.demand.tolist(), [(room.length, room.width) for room in rooms])
    if lanes is not None and time_left() > 0:
        for best in RipSearch(lanes, source.supplies, first, time_left).rounds():
            yield best
    if not best.proven and time_left() > 0:
        yield from cheapest_covers(source, best.plan, least=best.least, time_left=time_left)


def _source(
    kinds: Sequence[tuple[int, int]], demand: Sequence[int], rooms: Sequence[BoardRoom], boards: Sequence[Board]
) -> Source:
    """Return the patterns: of lengths where every board gives one lane and holds every piece across."""
    supplies = [Supply(price=board.price, most=board.most) for board in boards]
    narrowest, widest = min(width for _, width in kinds), max(width for _, width in kinds)
    if all(widest <= room.width < 2 * narrowest for room in rooms):
        return LengthPatterns([length for length, _ in kinds], demand, [room.length for room in rooms], supplies)
    return BoardPatterns(kinds, demand, rooms, supplies)


def _plan(
    state: State, sizes: Sequence[tuple[int, int]], kinds: Sequence[tuple[int, int]], rooms: Sequence[BoardRoom],
    boards: Sequence[Board],
) -> BoardsPlan:  # fmt: skip
    """Return the plan with its pieces told apart and put into lanes."""
    waiting: dict[tuple[int, int], list[int]] = defaultdict(list)
    for i in range(len(sizes) - 1, -1, -1):
        waiting[sizes[i]].append(i)
    used = Counter(pattern.stock for pattern in state.plan)
    ripped: list[Ripped] = []
    for pattern in sorted(state.plan, key=lambda one: (one.stock, tuple((-one.counts).tolist()))):
        used[pattern.stock] -= 1
        lanes = [_taken(lane, kinds, waiting) for lane in pattern.lanes or (pattern.counts,)]
        held = tuple(sorted((lane for lane in lanes if lane), key=lambda lane: -max(sizes[i][1] for i in lane)))
        if held:
            stock = _cheapest(pattern.stock, held, sizes, rooms, boards, used)
            used[stock] += 1
            ripped.append(Ripped(stock=stock, lanes=held))
    cost = sum(boards[one.stock].price for one in ripped)
    return BoardsPlan(boards=tuple(ripped), cost=cost, least_cost=min(state.least, cost))


def _taken(lane: Whole, kinds: Sequence[tuple[int, int]], waiting: dict[tuple[int, int], list[int]]) -> tuple[int, ...]:
    """Take the pieces of a lane off the stacks of those waiting; wide ones first, then long ones."""
    mine: list[int] = []
    for kind in sorted(np.flatnonzero(lane).tolist(), key=lambda kind: (-kinds[kind][1], -kinds[kind][0])):
        stack = waiting[kinds[kind]]
        mine.extend(stack.pop() for _ in range(min(len(stack), int(lane[kind]))))
    return tuple(mine)


def _cheapest(
    stock: int, lanes: Sequence[Sequence[int]], sizes: Sequence[tuple[int, int]], rooms: Sequence[BoardRoom],
    boards: Sequence[Board], used: Counter[int],
) -> int:  # fmt: skip
    """Return the cheapest stock whose board holds the lanes and is still there; the longest of equal ones sold."""
    length = max(sum(sizes[i][0] for i in lane) for lane in lanes)
    width = sum(max(sizes[i][1] for i in lane) for lane in lanes)
    fits = [
        i for i, board in enumerate(boards)
        if rooms[i].length >= length and rooms[i].width >= width and (board.most is None or used[i] < board.most)
    ]  # fmt: skip
    return min(fits, key=lambda i: (boards[i].price, i != stock, boards[i].length * (1 if not boards[i].price else -1)))
