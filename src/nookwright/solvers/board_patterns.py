"""Patterns of boards that are ripped into lanes first and then crosscut: lanes side by side, pieces end to end in each.

A lane is as wide as its widest piece; narrower ones in it are ripped once more. Sizes and rooms have the kerf added
already, so that they add up without it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.covering.problem import Limits, Pattern, Supply, Whole, price_of
from nookwright.solvers.covering.program import Program
from nookwright.solvers.knapsack import Bundle, add_bundle, bundles_of, filled, read_off
from nookwright.solvers.lane_program import LaneProblem, LaneTops, lane_program

_Across = tuple[int, tuple[int, ...]]  # value of lanes side by side, and the lanes as places among the lane widths
_COARSER = 1000
"""Areas are divided by this as values of a quick plan, so that they add up within the tables."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardRoom:
    """What one board of a stock holds: along it and across it."""

    length: int
    width: int


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Lanes:
    """The best lane of every width along every board, by one set of values.

    Args:
        bundles: what the lanes were filled from, narrow pieces first.
        taken: the rooms in which each bundle is taken.
        ends: for each lane width, how many bundles are narrow enough.
        values: for each stock and each lane width, the value of its best lane.
    """

    bundles: list[Bundle]
    taken: NDArray[np.bool_]
    ends: list[int]
    values: list[list[int]]


class BoardPatterns:
    """Kinds of pieces with their sizes along and across, and stocks with their rooms."""

    def __init__(
        self, sizes: Sequence[tuple[int, int]], demand: Sequence[int], rooms: Sequence[BoardRoom],
        supplies: Sequence[Supply],
    ) -> None:  # fmt: skip
        """Every kind must fit some stock."""
        self.lengths: Whole = np.array([size[0] for size in sizes], dtype=np.int64)
        self.widths: Whole = np.array([size[1] for size in sizes], dtype=np.int64)
        self.demand: Whole = np.array(demand, dtype=np.int64)
        self.rooms = tuple(rooms)
        self.supplies = tuple(supplies)
        self._by_width = np.argsort(self.widths, kind="stable")
        self._steps = sorted(set(self.widths.tolist()))
        self._top = max(room.length for room in rooms)

    @property
    def most_pieces(self) -> int:
        """No pattern holds more pieces."""
        along = self._top // int(self.lengths.min())
        across = max(room.width for room in self.rooms) // int(self.widths.min())
        return max(1, along * across)

    def best(self, values: Whole, left: Whole) -> list[tuple[int, Pattern]]:
        """Return for each stock a value that none of its boards exceeds, and a board worth that or nearly that.

        Lanes are filled each for itself, so together they may take a piece more often than is left; then the board is
        filled lane after lane instead.
        """
        lanes = self._lanes(values, left)
        return [self._board(stock, lanes, values, left) for stock in range(len(self.rooms))]

    def loose(self, values: Whole, left: Whole) -> list[tuple[int, Pattern]]:
        """Return for each stock the board whose lanes are each the best, and its value."""
        lanes = self._lanes(values, left)
        return [self._unmended(stock, lanes)[:2] for stock in range(len(self.rooms))]

    def complete(self, left: Whole, most: Sequence[int | None]) -> list[Pattern] | None:
        """Return the cheaper of two quick plans; None if stock runs out."""
        area = self.lengths * self.widths // _COARSER + 1
        weights = (area, area * (self.lengths + 4 * self.widths) // (self._top + 4 * max(self._steps)) + 1)
        plans = [self._greedy(left, most, weight) for weight in weights]
        return min(
            (plan for plan in plans if plan is not None), key=lambda plan: price_of(plan, self.supplies), default=None
        )

    def listed(self, values: Whole, tops: Sequence[int], waste: int, limits: Limits, most: int) -> Program | None:
        """Return the program of all lanes and ways to rip that waste little enough."""
        lanes = self._lanes(values, self.demand)
        problem = LaneProblem(
            lengths=self.lengths, widths=self.widths, demand=self.demand, steps=tuple(self._steps),
            rooms=tuple((room.length, room.width) for room in self.rooms),
            prices=tuple(supply.price for supply in self.supplies),
        )  # fmt: skip
        best = LaneTops(values=values, lanes=lanes.values, boards=tops, waste=waste)
        return lane_program(problem, best, limits, most)

    def _greedy(self, left: Whole, most: Sequence[int | None], weight: Whole) -> list[Pattern] | None:
        """Plan board after board, each the one that gives most for its price."""
        plan: list[Pattern] = []
        high = list(most)
        while left.any():
            found = [
                pattern for _, pattern in self.best(weight, left) if pattern.counts.any() and high[pattern.stock] != 0
            ]
            if not found:
                return None
            chosen = max(found, key=lambda one: int(weight @ one.counts) / (self.supplies[one.stock].price + 1e-3))
            plan.append(chosen)
            left = left - chosen.counts
            limit = high[chosen.stock]
            high[chosen.stock] = None if limit is None else limit - 1
        return plan

    def _lanes(self, values: Whole, left: Whole) -> _Lanes:
        bundles = bundles_of(self.lengths, values, left, self._top, self._by_width)
        table = np.zeros(self._top + 1, dtype=np.int32)
        taken = np.zeros((len(bundles), self._top + 1), dtype=np.bool_)
        ends: list[int] = []
        by_step: list[list[int]] = []
        number = 0
        for step in self._steps:
            while number < len(bundles) and self.widths[bundles[number][0]] <= step:
                add_bundle(table, taken[number], bundles[number][2], bundles[number][3])
                number += 1
            ends.append(number)
            by_step.append([int(table[room.length]) for room in self.rooms])
        return _Lanes(bundles=bundles, taken=taken, ends=ends, values=[list(one) for one in zip(*by_step, strict=True)])

    def _board(self, stock: int, lanes: _Lanes, values: Whole, left: Whole) -> tuple[int, Pattern]:
        top, pattern, steps = self._unmended(stock, lanes)
        if np.all(pattern.counts <= left):
            return top, pattern
        return top, self._one_by_one(stock, steps, values, left)

    def _unmended(self, stock: int, lanes: _Lanes) -> tuple[int, Pattern, tuple[int, ...]]:
        """Return a board's value, its pattern and its lane widths, each lane filled for itself."""
        top, steps = self._across(self.rooms[stock].width, lanes.values[stock], {})
        room, kinds = self.rooms[stock].length, len(self.demand)
        each = tuple(read_off(lanes.bundles[: lanes.ends[step]], lanes.taken, room, kinds) for step in steps)
        return top, _pattern(stock, each, kinds), steps

    def _across(self, width: int, values: Sequence[int], known: dict[int, _Across]) -> _Across:
        """Return the most value of lanes side by side in a width, and the lanes as places among the lane widths."""
        if width not in known:
            best: _Across = (0, ())
            for step, lane in enumerate(self._steps):
                if lane <= width and values[step] > 0:
                    value, others = self._across(width - lane, values, known)
                    best = max(best, (value + values[step], (*others, step)), key=lambda one: one[0])
            known[width] = best
        return known[width]

    def _one_by_one(self, stock: int, steps: Sequence[int], values: Whole, left: Whole) -> Pattern:
        """Fill lanes one after another, the widest first, each from what the others left."""
        room, rest = self.rooms[stock].length, left
        lanes: list[Whole] = []
        for step in sorted(steps, reverse=True):
            allowed = np.where(self.widths <= self._steps[step], rest, 0)
            bundles = bundles_of(self.lengths, values, allowed, room)
            _, taken = filled(bundles, room)
            lanes.append(read_off(bundles, taken, room, len(left)))
            rest = rest - lanes[-1]
        return _pattern(stock, tuple(lanes), len(left))


def _pattern(stock: int, lanes: tuple[Whole, ...], kinds: int) -> Pattern:
    counts: Whole = np.sum(lanes, axis=0, dtype=np.int64) if lanes else np.zeros(kinds, dtype=np.int64)
    return Pattern(stock=stock, counts=counts, lanes=tuple(lane for lane in lanes if lane.any()))
