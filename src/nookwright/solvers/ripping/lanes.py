"""Lanes and rips: the kinds of lane that boards can give, every way to rip a board, and the best lane of each kind.

A kind of lane is told by its width, one of the widths of the pieces, and by the length of the board it is ripped from.
Sizes have the kerf added already, so that they add up without it. Lengths are counted in the largest unit that measures
every piece; what a board is longer than whole units is of no use.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.covering.problem import Whole
from nookwright.solvers.knapsack import Bundle, add_bundle, bundles_of, read_off

_MOST_RIPS = 3000
_COARSE = 3000
"""Steps of the longest lane where lanes are filled quickly."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Lanes:
    """What is cut, and the kinds of lane.

    Args:
        lengths, widths, demand: of each kind of piece; lengths, here and below, in units of their own.
        steps: the widths a lane may have, narrow first.
        kinds: of each kind of lane, the place of its width among the steps, and its length.
        rip_stock: of each way to rip, the stock it rips.
        rips: for each way to rip, how many lanes of each kind it gives.
    """

    lengths: Whole
    widths: Whole
    demand: Whole
    steps: tuple[int, ...]
    kinds: tuple[tuple[int, int], ...]
    rip_stock: Whole
    rips: Whole

    @property
    def most_pieces(self) -> int:
        """No lane holds more pieces."""
        return max(1, max(length for _, length in self.kinds) // int(self.lengths.min()))

    def in_steps(self) -> Lanes | None:
        """Return the same in coarse steps, pieces too long rather than too short; None where these are coarse enough.

        What fits these lanes fits the true ones.
        """
        step = max(length for _, length in self.kinds) // _COARSE
        if step < 2:
            return None
        kinds = tuple((place, length // step) for place, length in self.kinds)
        return replace(self, lengths=-(-self.lengths // step), kinds=kinds)

    def filled(self, values: Whole, left: Whole) -> FilledLanes:
        """Return the most valuable lane of each kind, no kind of piece taken more often than is left."""
        top = max(length for _, length in self.kinds)
        bundles = bundles_of(self.lengths, values, left, top, np.argsort(self.widths, kind="stable"))
        table = np.zeros(top + 1, dtype=np.int32)
        taken = np.zeros((len(bundles), top + 1), dtype=np.bool_)
        ends: list[int] = []
        best = np.zeros(len(self.kinds), dtype=np.int64)
        number = 0
        for place, step in enumerate(self.steps):
            while number < len(bundles) and self.widths[bundles[number][0]] <= step:
                add_bundle(table, taken[number], bundles[number][2], bundles[number][3])
                number += 1
            ends.append(number)
            for kind, (its, length) in enumerate(self.kinds):
                if its == place:
                    best[kind] = table[length]
        return FilledLanes(lanes=self, values=best, bundles=bundles, taken=taken, ends=tuple(ends))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FilledLanes:
    """The best lane of each kind by one set of values."""

    lanes: Lanes
    values: Whole
    bundles: list[Bundle]
    taken: NDArray[np.bool_]
    ends: tuple[int, ...]

    def lane(self, kind: int) -> Whole:
        """Return how many pieces of each kind the best lane holds."""
        place, length = self.lanes.kinds[kind]
        return read_off(self.bundles[: self.ends[place]], self.taken, length, len(self.lanes.demand))


def lanes_of(sizes: Sequence[tuple[int, int]], demand: Sequence[int], rooms: Sequence[tuple[int, int]]) -> Lanes | None:
    """Return the lanes that boards can give; None where there are too many ways to rip them.

    Args:
        sizes: length and width of each kind of piece.
        demand: how many are wanted.
        rooms: length and width of each stock's boards.
    """
    steps = tuple(sorted({width for _, width in sizes}))
    unit = math.gcd(*(length for length, _ in sizes))
    along = [length // unit for length, _ in rooms]
    kinds = tuple((place, length) for length in sorted(set(along)) for place in range(len(steps)))
    number = {kind: i for i, kind in enumerate(kinds)}
    stocks: list[int] = []
    rips: list[Whole] = []
    for stock, (length, (_, width)) in enumerate(zip(along, rooms, strict=True)):
        ways = _ways(steps, width)
        if ways is None:
            return None
        for way in ways:
            rip = np.zeros(len(kinds), dtype=np.int64)
            for place, often in enumerate(way):
                rip[number[place, length]] = often
            stocks.append(stock)
            rips.append(rip)
    return Lanes(
        lengths=np.array([length // unit for length, _ in sizes], dtype=np.int64),
        widths=np.array([width for _, width in sizes], dtype=np.int64),
        demand=np.array(demand, dtype=np.int64), steps=steps, kinds=kinds,
        rip_stock=np.array(stocks, dtype=np.int64), rips=np.array(rips, dtype=np.int64).reshape(-1, len(kinds)),
    )  # fmt: skip


def _ways(steps: Sequence[int], width: int) -> list[tuple[int, ...]] | None:
    """Return the ways to rip a width that leave no room for one more lane, nor for a wider lane in place of one."""
    found: list[tuple[int, ...]] = []
    wider = [steps[i + 1] - step if i + 1 < len(steps) else width for i, step in enumerate(steps)]

    def rip(place: int, left: int, way: tuple[int, ...]) -> None:
        if len(found) > _MOST_RIPS:
            return
        if place < 0:
            counts = way[::-1]
            if left < steps[0] and all(not often or left < wider[i] for i, often in enumerate(counts)) and any(counts):
                found.append(counts)
            return
        for often in range(left // steps[place], -1, -1):
            rip(place - 1, left - often * steps[place], (*way, often))

    rip(len(steps) - 1, width, ())
    return None if len(found) > _MOST_RIPS else found
