"""The whole-number program of ripped boards: how often each lane is cut, and how each board is ripped into lanes.

A lane is told by its width and by the length of the board it is ripped from. Lanes and ways to rip are listed apart, so
there are far fewer columns than boards cut in every way; a row for each kind of lane ties them together.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from nookwright.solvers.covering.problem import Limits, Pattern, Whole
from nookwright.solvers.covering.program import Program
from nookwright.solvers.listing import fillings_worth

_MOST_RIPS = 3000


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LaneProblem:
    """What lanes and boards are made of.

    Args:
        lengths, widths, demand: of each kind of piece.
        steps: the widths a lane may have, narrow first.
        rooms: length and width of each stock's boards.
        prices: of each stock.
    """

    lengths: Whole
    widths: Whole
    demand: Whole
    steps: tuple[int, ...]
    rooms: tuple[tuple[int, int], ...]
    prices: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LaneTops:
    """By whole prices of the pieces: the best lane of every step along every stock, and the best board of each stock.

    Args:
        values: prices of the pieces.
        lanes: for each stock and step, a value that no lane exceeds.
        boards: for each stock, a value that no board exceeds.
        waste: how far everything in a plan together stays at most below those.
    """

    values: Whole
    lanes: Sequence[Sequence[int]]
    boards: Sequence[int]
    waste: int


def lane_program(problem: LaneProblem, tops: LaneTops, limits: Limits, most: int) -> Program | None:
    """Return the program of all lanes and ways to rip that waste little enough; None if they are too many."""
    types = sorted({(step, room[0]) for step in range(len(problem.steps)) for room in problem.rooms})
    lanes: list[Whole] = []
    of_type: list[int] = []
    for number, (step, length) in enumerate(types):
        found = _lanes_of(problem, tops, step, length, most - len(lanes))
        if found is None:
            return None
        lanes.extend(found)
        of_type.extend([number] * len(found))
    rips: list[tuple[int, Whole]] = []
    for stock in range(len(problem.rooms)):
        if limits.high[stock] != 0:
            ways = _rips_of(problem, tops, stock, types)
            if ways is None:
                return None
            rips.extend((stock, way) for way in ways)
    listed = np.array(lanes, dtype=np.int64).reshape(-1, len(problem.demand))
    return _program(problem, limits, listed, np.array(of_type, dtype=np.int64), rips, len(types))


def _lanes_of(problem: LaneProblem, tops: LaneTops, step: int, length: int, most: int) -> Whole | None:
    """Return the pieces of every full lane of a kind that may be in a plan."""
    fits = np.where(problem.widths <= problem.steps[step], problem.demand, 0)
    top = max(tops.lanes[i][step] for i, room in enumerate(problem.rooms) if room[0] == length)
    found = fillings_worth(problem.lengths, fits, tops.values, length, limit=top - tops.waste, most=most, full=True)
    if found is None:
        return None
    whole_width = problem.widths == problem.steps[step]  # a lane without a piece of its own width is a narrower lane
    return found[found[:, whole_width].any(axis=1)]


def _rips_of(problem: LaneProblem, tops: LaneTops, stock: int, types: Sequence[tuple[int, int]]) -> list[Whole] | None:
    """Return how often each kind of lane comes out of a board, for every way to rip it that no lane can be added to."""
    length, width = problem.rooms[stock]
    worth = tops.lanes[stock]
    places = {step: number for number, (step, along) in enumerate(types) if along == length}
    found: list[Whole] = []

    def rip(step: int, left: int, value: int, counts: dict[int, int]) -> None:
        if len(found) > _MOST_RIPS:
            return
        if step < 0:
            if left < problem.steps[0] and value >= tops.boards[stock] - tops.waste:
                way = np.zeros(len(types), dtype=np.int64)
                for one, often in counts.items():
                    way[places[one]] = often
                found.append(way)
            return
        for often in range(left // problem.steps[step], -1, -1):
            more = {**counts, step: often} if often else counts
            rip(step - 1, left - often * problem.steps[step], value + often * worth[step], more)

    rip(len(problem.steps) - 1, width, 0, {})
    return None if len(found) > _MOST_RIPS else found


def _program(
    problem: LaneProblem, limits: Limits, lanes: Whole, of_type: Whole, rips: list[tuple[int, Whole]], types: int
) -> Program:
    kinds, stocks = len(problem.demand), len(problem.rooms)
    ways = np.array([way for _, way in rips], dtype=np.int64).reshape(-1, types)
    stock_of = np.array([stock for stock, _ in rips], dtype=np.int64)
    is_type = (of_type[:, None] == np.arange(types)).astype(np.int64)
    is_stock = (stock_of[:, None] == np.arange(stocks)).astype(np.int64)
    count = len(lanes)
    rows = np.zeros((count + len(rips), kinds + types + stocks), dtype=np.int64)
    rows[:count, :kinds], rows[:count, kinds : kinds + types] = lanes, -is_type
    rows[count:, kinds : kinds + types], rows[count:, kinds + types :] = ways, is_stock
    most = [np.inf if high is None else float(high) for high in limits.high]
    low = np.concatenate([problem.demand, np.zeros(types), limits.low]).astype(np.float64)
    high = np.concatenate([np.full(kinds + types, np.inf), most])
    often = np.where(lanes > 0, -(-problem.demand // np.maximum(lanes, 1)), 0).max(axis=1, initial=0)
    boards = np.full(len(rips), int(problem.demand.sum()))
    nothing = np.zeros(count, dtype=np.bool_)
    by_stock = tuple(np.concatenate([nothing, column > 0]) for column in is_stock.T)
    by_type = tuple(np.concatenate([column > 0, np.zeros(len(rips), dtype=np.bool_)]) for column in is_type.T)
    by_way = tuple(np.arange(count + len(rips)) == count + i for i in range(len(rips)))
    return Program(
        prices=np.concatenate([np.zeros(count, dtype=np.int64), np.array(problem.prices)[stock_of]]),
        rows=rows, low=low, high=high, tops=np.concatenate([often, boards]), kinds=kinds,
        groups=(*by_stock, *by_type, *by_way), plan_of=_planner(problem, lanes, of_type, rips),
    )  # fmt: skip


def _planner(
    problem: LaneProblem, lanes: Whole, of_type: Whole, rips: list[tuple[int, Whole]]
) -> Callable[[Whole], list[Pattern] | None]:
    def plan_of(times: Whole) -> list[Pattern] | None:
        """Put lanes into the places that ripped boards give; what is cut beyond the demand is left out."""
        waiting: dict[int, list[int]] = {}
        for lane in np.flatnonzero(times[: len(lanes)]).tolist():
            waiting.setdefault(int(of_type[lane]), []).extend([lane] * int(times[lane]))
        left = problem.demand.copy()
        plan: list[Pattern] = []
        for number in np.flatnonzero(times[len(lanes) :]).tolist():
            stock, way = rips[number]
            for _ in range(int(times[len(lanes) + number])):
                held: list[Whole] = []
                for kind in np.flatnonzero(way).tolist():
                    for _ in range(min(int(way[kind]), len(waiting.get(kind, [])))):
                        held.append(np.minimum(lanes[waiting[kind].pop()], left))
                        left = left - held[-1]
                if any(lane.any() for lane in held):
                    kept = tuple(lane for lane in held if lane.any())
                    plan.append(Pattern(stock=stock, counts=np.sum(kept, axis=0), lanes=kept))
        return None if left.any() else plan

    return plan_of
