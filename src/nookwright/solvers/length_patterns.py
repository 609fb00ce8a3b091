"""Patterns along one length: which pieces fit end to end, found by exact tables of the best value for every room.

Sizes and rooms have the kerf added already, so that they add up without it.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from nookwright.solvers.covering.master import row_limits
from nookwright.solvers.covering.problem import Limits, Pattern, Supply, Whole, price_of
from nookwright.solvers.covering.program import Program, program_of_patterns
from nookwright.solvers.knapsack import bundles_of, filled, read_off
from nookwright.solvers.length_plans import Room, fullest_plan, snug_plan
from nookwright.solvers.listing import fillings_worth

_FULLEST_PIECES = 100
"""Up to so many pieces are also planned length by length, each as full as can be."""


class LengthPatterns:
    """Kinds of pieces with their sizes, and stocks with their rooms."""

    def __init__(
        self, sizes: Sequence[int], demand: Sequence[int], rooms: Sequence[int], supplies: Sequence[Supply]
    ) -> None:
        """Every kind must fit at least one stock of which there is no end."""
        self.sizes: Whole = np.array(sizes, dtype=np.int64)
        self.demand: Whole = np.array(demand, dtype=np.int64)
        self.supplies = tuple(supplies)
        self.rooms = tuple(rooms)
        self._each = [int(size) for size in sizes]

    @property
    def most_pieces(self) -> int:
        """No pattern holds more pieces."""
        return max(1, max(self.rooms) // min(self._each))

    def best(self, values: Whole, left: Whole) -> list[tuple[int, Pattern]]:
        """Return for each stock its pattern of most value, and that value."""
        top = max(self.rooms)
        bundles = bundles_of(self.sizes, values, left, top)
        table, taken = filled(bundles, top)
        return [
            (int(table[room]), Pattern(stock=stock, counts=read_off(bundles, taken, room, len(self._each))))
            for stock, room in enumerate(self.rooms)
        ]

    def loose(self, values: Whole, left: Whole) -> list[tuple[int, Pattern]]:
        """Return the same: no pattern here holds a kind too often."""
        return self.best(values, left)

    def complete(self, left: Whole, most: Sequence[int | None]) -> list[Pattern] | None:
        """Return the cheapest of a few quick plans for what is left; None if stock runs out."""
        rooms = [
            Room(size=room, price=supply.price, most=high)
            for room, supply, high in zip(self.rooms, self.supplies, most, strict=True)
        ]
        pieces = [i for i, count in enumerate(left.tolist()) for _ in range(count)]
        pieces.sort(key=lambda i: (-self._each[i], i))
        rules = [snug_plan, fullest_plan] if len(pieces) <= _FULLEST_PIECES else [snug_plan]
        favourites = (None, *range(len(rooms)))
        plans = [rule(self._each, pieces, rooms, favourite) for rule in rules for favourite in favourites]
        told = [self._patterns(plan) for plan in plans if plan is not None]
        return min(told, key=lambda plan: price_of(plan, self.supplies), default=None)

    def listed(self, values: Whole, tops: Sequence[int], waste: int, limits: Limits, most: int) -> Program | None:
        """Return the program of all patterns that waste little enough; of full ones only when all are too many."""
        prices = np.array([supply.price for supply in self.supplies], dtype=np.int64)
        low, high = row_limits(self.demand, limits)
        kinds = len(self.demand)
        for full in (False, True):
            found: list[Pattern] | None = []
            for stock, (room, top) in enumerate(zip(self.rooms, tops, strict=True)):
                if limits.high[stock] == 0 or found is None:
                    continue
                rows = fillings_worth(
                    self.sizes, self.demand, values, room, limit=top - waste, most=most - len(found), full=full
                )
                found = None if rows is None else found + [Pattern(stock=stock, counts=row) for row in rows]
            if found is not None:
                return program_of_patterns(
                    tuple(found), self.demand, prices, low[kinds:], high[kinds:], exactly=not full
                )
        return None

    def _patterns(self, plan: Sequence[tuple[int, Sequence[int]]]) -> list[Pattern]:
        kinds = len(self._each)
        return [
            Pattern(stock=stock, counts=np.bincount(np.array(pieces, dtype=np.int64), minlength=kinds).astype(np.int64))
            for stock, pieces in plan
        ]
