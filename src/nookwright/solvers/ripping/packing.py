"""Patterns of single lanes: whether all pieces go into so many lanes of each kind is a covering problem of its own.

The lanes that there are cost nothing; one more kind, which holds any piece and which there is no end of, costs 1. So a
plan that costs nothing is one that does with the lanes there are, and a least price of 1 proves that there is none.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from nookwright.solvers.covering.master import row_limits
from nookwright.solvers.covering.problem import Limits, Pattern, Supply, Whole
from nookwright.solvers.covering.program import Program, program_of_patterns
from nookwright.solvers.listing import fillings_worth
from nookwright.solvers.ripping.lanes import Lanes


class LanePatterns:
    """Kinds of pieces, and the kinds of lane as stocks; the last stock stands for lanes that are lacking."""

    def __init__(self, lanes: Lanes, counts: Sequence[int]) -> None:
        """Start with so many lanes of each kind."""
        self.lanes = lanes
        self.demand: Whole = lanes.demand
        widest = len(lanes.steps) - 1
        longest = max(length for _, length in lanes.kinds)
        self._lacking = lanes.kinds.index((widest, longest))
        self.kinds = (*lanes.kinds, lanes.kinds[self._lacking])
        self.supplies = (*(Supply(price=0, most=int(count)) for count in counts), Supply(price=1))
        self.limits = Limits(low=(*(int(count) for count in counts), 0), high=(*(int(c) for c in counts), None))

    @property
    def most_pieces(self) -> int:
        """No pattern holds more pieces."""
        return self.lanes.most_pieces

    def best(self, values: Whole, left: Whole) -> list[tuple[int, Pattern]]:
        """Return for each kind of lane its pattern of most value, and that value."""
        filled = self.lanes.filled(values, left)
        found = [
            (int(filled.values[kind]), Pattern(stock=kind, counts=filled.lane(kind)))
            for kind in range(len(self.lanes.kinds))
        ]
        value, pattern = found[self._lacking]
        return [*found, (value, Pattern(stock=len(found), counts=pattern.counts))]

    def loose(self, values: Whole, left: Whole) -> list[tuple[int, Pattern]]:
        """Return the same: no pattern here holds a kind too often."""
        return self.best(values, left)

    def complete(self, left: Whole, most: Sequence[int | None]) -> list[Pattern] | None:
        """Return a quick plan: each piece, wide and long ones first, into the lane that it leaves least room in."""
        kinds, lanes = self.lanes, list[tuple[int, int, int]]()  # what is left of each lane, its stock, its step
        for stock, (step, length) in enumerate(self.kinds[:-1]):
            lanes.extend([(length, stock, step)] * (most[stock] or 0))
        held: list[Whole] = [np.zeros(len(left), dtype=np.int64) for _ in lanes]
        order = sorted(np.flatnonzero(left).tolist(), key=lambda i: (-int(kinds.widths[i]), -int(kinds.lengths[i])))
        for piece in order:
            length, width = int(kinds.lengths[piece]), int(kinds.widths[piece])
            for _ in range(int(left[piece])):
                fits = [
                    (step, room, i) for i, (room, _, step) in enumerate(lanes)
                    if room >= length and kinds.steps[step] >= width
                ]  # fmt: skip
                if fits:
                    _, _, at = min(fits)
                else:
                    step, room = self.kinds[-1]
                    lanes.append((room, len(self.kinds) - 1, step))
                    held.append(np.zeros(len(left), dtype=np.int64))
                    at = len(lanes) - 1
                room, stock, step = lanes[at]
                lanes[at] = (room - length, stock, step)
                held[at][piece] += 1
        return [
            Pattern(stock=stock, counts=counts)
            for (_, stock, _), counts in zip(lanes, held, strict=True)
            if counts.any()
        ]

    def listed(self, values: Whole, tops: Sequence[int], waste: int, limits: Limits, most: int) -> Program | None:
        """Return the program of all full lanes that waste little enough."""
        kinds = len(self.demand)
        _, high = row_limits(self.demand, limits)
        found: list[Pattern] = []
        for stock, ((step, length), top) in enumerate(zip(self.kinds, tops, strict=True)):
            if limits.high[stock] == 0:
                continue
            wanted = np.where(self.lanes.widths <= self.lanes.steps[step], self.demand, 0)
            rows = fillings_worth(
                self.lanes.lengths, wanted, values, length, limit=top - waste, most=most - len(found), full=True
            )
            if rows is None:
                return None
            found += [Pattern(stock=stock, counts=row) for row in rows]
        prices = np.array([supply.price for supply in self.supplies], dtype=np.int64)
        return program_of_patterns(
            tuple(found), self.demand, prices, np.zeros(len(self.supplies)), high[kinds:], exactly=False
        )
