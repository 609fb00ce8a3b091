"""Patterns along one length: which pieces fit end to end, found by exact tables of the best value for every room.

Sizes and rooms have the kerf added already, so that they add up without it.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.covering.problem import Pattern, Supply, Whole, price_of
from nookwright.solvers.knapsack import bundles_of, filled, read_off
from nookwright.solvers.length_plans import Room, fullest_plan, snug_plan

_MOST_CELLS = 30_000_000
"""Largest table made to list patterns by their value."""
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

    def best(self, values: Whole, left: Whole) -> list[tuple[int, Whole]]:
        """Return for each stock its pattern of most value, and that value."""
        top = max(self.rooms)
        bundles = bundles_of(self.sizes, values, left, top)
        table, taken = filled(bundles, top)
        return [(int(table[room]), read_off(bundles, taken, room, len(self._each))) for room in self.rooms]

    def loose(self, values: Whole, left: Whole) -> list[tuple[int, Whole]]:
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

    def worth(self, values: Whole, limits: Sequence[int], most: int, *, full: bool) -> list[Pattern] | None:
        """Return every pattern whose value reaches its stock's limit, or None when they are more than `most`.

        With `full` only those are listed beside whose pieces no other wanted piece fits.
        """
        found: list[Pattern] = []
        for stock, (room, limit) in enumerate(zip(self.rooms, limits, strict=True)):
            rows = self._rows_worth(values, room, limit, most - len(found), full)
            if rows is None:
                return None
            found.extend(Pattern(stock=stock, counts=row) for row in rows if row.any())
        return found

    def _patterns(self, plan: Sequence[tuple[int, Sequence[int]]]) -> list[Pattern]:
        kinds = len(self._each)
        return [
            Pattern(stock=stock, counts=np.bincount(np.array(pieces, dtype=np.int64), minlength=kinds).astype(np.int64))
            for stock, pieces in plan
        ]

    def _rows_worth(self, values: Whole, top: int, limit: int, most: int, full: bool) -> Whole | None:
        """Return the counts of every pattern in a room whose value reaches a limit; None if too many."""
        order = np.argsort(-self.sizes, kind="stable")
        if len(order) * (top + 1) > _MOST_CELLS or most < 0:
            return None
        later = self._later_values(values, order, top)
        rest = np.cumsum((self.sizes * self.demand)[order][::-1])[::-1]
        rest = np.append(rest, 0)
        room, value = np.array([top]), np.array([0])
        skipped = np.array([top + 1])  # the smallest piece left out so far
        trail: list[tuple[NDArray[np.intp], NDArray[np.int64]]] = []
        for level, kind in enumerate(order.tolist()):
            size, wanted = self._each[kind], int(self.demand[kind])
            times = np.arange(min(wanted, top // size) + 1)
            parent, count = np.nonzero(room[:, None] >= size * times[None, :])
            room, value = room[parent] - size * count, value[parent] + int(values[kind]) * count
            skipped = np.where(count < wanted, size, skipped[parent])
            keep = value + later[level + 1][room] >= limit
            if full:
                keep &= room - rest[level + 1] < skipped
            room, value, skipped = room[keep], value[keep], skipped[keep]
            trail.append((parent[keep], count[keep]))
            if len(room) > most:
                return None
        counts = np.zeros((len(room), len(order)), dtype=np.int64)
        at = np.arange(len(room))
        for kind, (parent, count) in zip(order[::-1].tolist(), trail[::-1], strict=True):
            counts[:, kind] = count[at]
            at = parent[at]
        return counts

    def _later_values(self, values: Whole, order: NDArray[np.intp], top: int) -> NDArray[np.int32]:
        """Return the most value that the kinds from each level on can add in every room."""
        table = np.zeros((len(order) + 1, top + 1), dtype=np.int32)
        for level in range(len(order) - 1, -1, -1):
            table[level] = table[level + 1]
            one = order[level : level + 1]
            for _, _, size, value in bundles_of(self.sizes, values, self.demand, top, one):
                row = table[level]
                np.maximum(row[size:], row[: top + 1 - size] + value, out=row[size:])
        return table
