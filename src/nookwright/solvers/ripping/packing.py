"""Patterns of single lanes: whether all pieces go into so many lanes of each kind is a covering problem of its own.

A lane costs what it measures. One more kind, which holds everything at once, costs more than all lanes there are. So a
plan for less does with those lanes, and a least price as high as that proves that there is none.
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
        sizes = [length * lanes.steps[step] for step, length in lanes.kinds]
        unit = min(sizes)
        prices = [100 * size // unit for size in sizes]
        most = [int(count) for count in counts]
        self.lacking = 1 + sum(price * count for price, count in zip(prices, most, strict=True))
        self.supplies = (
            *(Supply(price=price, most=count) for price, count in zip(prices, most, strict=True)),
            Supply(price=self.lacking),
        )
        self.limits = Limits(low=(*most, 0), high=(*most, None))

    @property
    def most_pieces(self) -> int:
        """No lane holds more pieces."""
        return self.lanes.most_pieces

    def best(self, values: Whole, left: Whole) -> list[tuple[int, Pattern]]:
        """Return for each kind of lane its pattern of most value, and that value."""
        filled = self.lanes.filled(values, left)
        found = [
            (int(filled.values[kind]), Pattern(stock=kind, counts=filled.lane(kind)))
            for kind in range(len(self.lanes.kinds))
        ]
        return [*found, (int(values @ left), Pattern(stock=len(found), counts=left.copy()))]

    def loose(self, values: Whole, left: Whole) -> list[tuple[int, Pattern]]:
        """Return the same: no pattern here holds a kind too often."""
        return self.best(values, left)

    def complete(self, left: Whole, most: Sequence[int | None]) -> list[Pattern] | None:
        """Return a quick plan: each piece, wide and long ones first, into the lane that it leaves least room in."""
        pieces, kinds = self.lanes, self.lanes.kinds
        stocks = [stock for stock in range(len(kinds)) for _ in range(most[stock] or 0)]
        room = [kinds[stock][1] for stock in stocks]
        held: list[Whole] = [np.zeros(len(left), dtype=np.int64) for _ in stocks]
        over = np.zeros(len(left), dtype=np.int64)
        order = sorted(np.flatnonzero(left).tolist(), key=lambda i: (-int(pieces.widths[i]), -int(pieces.lengths[i])))
        for piece in order:
            length, width = int(pieces.lengths[piece]), int(pieces.widths[piece])
            wide = [pieces.steps[kinds[stock][0]] >= width for stock in stocks]
            for _ in range(int(left[piece])):
                fits = [(stocks[i], room[i], i) for i in range(len(stocks)) if wide[i] and room[i] >= length]
                if fits:
                    at = min(fits)[2]
                    room[at] -= length
                    held[at][piece] += 1
                else:
                    over[piece] += 1
        plan = [Pattern(stock=stock, counts=counts) for stock, counts in zip(stocks, held, strict=True) if counts.any()]
        if over.any() and most[-1] == 0:
            return None
        return [*plan, Pattern(stock=len(kinds), counts=over)] if over.any() else plan

    def listed(self, values: Whole, tops: Sequence[int], waste: int, limits: Limits, most: int) -> Program | None:
        """Return the program of all full lanes that waste little enough."""
        kinds = len(self.demand)
        _, high = row_limits(self.demand, limits)
        found: list[Pattern] = []
        for stock, ((step, length), top) in enumerate(zip(self.lanes.kinds, tops, strict=False)):
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
