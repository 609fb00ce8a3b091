"""Puts pieces into lanes that are given: a few lanes are emptied and filled anew, over and over, until nothing is left.

A lane is filled as full as the pieces at hand allow, every set of them being looked at. So the room that is left over
gathers in single lanes, until the pieces that are left over go in there.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.covering.problem import Whole
from nookwright.solvers.ripping.lanes import Lanes
from nookwright.solvers.shaking import Shaker

_AT_HAND = 13
"""At most so many pieces are looked at for one lane: all their sets are."""


class Refill:
    """Lanes with the pieces in them, and those that are left over."""

    def __init__(self, lanes: Lanes, counts: Sequence[int], start: int = 1) -> None:
        """Fill so many lanes of each kind, each piece into the lane that it leaves least room in.

        Args:
            lanes: the pieces and the kinds of lane.
            counts: how many lanes there are of each kind.
            start: start of the shaking.
        """
        self._lanes = lanes
        self._shaker = Shaker(start)
        self._kind = np.repeat(np.arange(len(lanes.demand)), lanes.demand)
        self._length = lanes.lengths[self._kind]
        self._width = lanes.widths[self._kind]
        self._worth = self._length * self._width
        self._types = [kind for kind, count in enumerate(counts) for _ in range(int(count))]
        self._room = [lanes.kinds[kind][1] for kind in self._types]
        self._step = [lanes.steps[lanes.kinds[kind][0]] for kind in self._types]
        self._held: list[list[int]] = [[] for _ in self._types]
        self._over: list[int] = []
        free = list(self._room)
        for piece in sorted(range(len(self._kind)), key=lambda i: (-int(self._width[i]), -int(self._length[i]))):
            fits = [
                (self._step[lane], free[lane], lane)
                for lane in range(len(free))
                if free[lane] >= self._length[piece] and self._step[lane] >= self._width[piece]
            ]
            if fits:
                lane = min(fits)[2]
                free[lane] -= int(self._length[piece])
                self._held[lane].append(piece)
            else:
                self._over.append(piece)

    @property
    def done(self) -> bool:
        """Whether every piece is in a lane."""
        return not self._over

    def run(self, moves: int) -> bool:
        """Make so many moves, or fewer until every piece is in a lane; return whether it is."""
        for _ in range(moves):
            if not self._over or not self._types:
                break
            self._move()
        return self.done

    def lanes(self) -> list[tuple[int, Whole]]:
        """Return the kind of each lane, and how many pieces of each kind it holds."""
        kinds = len(self._lanes.demand)
        return [
            (kind, np.bincount(self._kind[held], minlength=kinds).astype(np.int64))
            for kind, held in zip(self._types, self._held, strict=True)
            if held
        ]

    def _move(self) -> None:
        """Empty two or three lanes and fill them anew; keep that unless more is left over than before."""
        count = min(len(self._types), 2 + self._shaker.below(2))
        chosen: list[int] = []
        while len(chosen) < count:
            lane = self._shaker.below(len(self._types))
            if lane not in chosen:
                chosen.append(lane)
        chosen.sort(key=lambda lane: (self._step[lane], self._shaker.below(1000)))
        over = list(self._over)
        pool = over + [piece for lane in chosen for piece in self._held[lane]]
        filled: list[list[int]] = []
        for lane in chosen:
            taken = self._fullest(lane, pool)
            filled.append(taken)
            pool = [piece for piece in pool if piece not in taken]
        if self._worth[pool].sum() <= self._worth[over].sum():
            self._over = pool
            for lane, taken in zip(chosen, filled, strict=True):
                self._held[lane] = taken

    def _fullest(self, lane: int, pool: Sequence[int]) -> list[int]:
        """Return the pieces that fill a lane best, of those at hand that are narrow enough."""
        fits = [piece for piece in pool if self._width[piece] <= self._step[lane]]
        while len(fits) > _AT_HAND:
            fits.pop(self._shaker.below(len(fits)))
        if not fits:
            return []
        lengths, worths = _sums(self._length[fits]), _sums(self._worth[fits])
        best = int(np.argmax(np.where(lengths <= self._room[lane], worths, -1)))
        return [piece for place, piece in enumerate(fits) if best >> place & 1]


def _sums(values: NDArray[np.int64]) -> NDArray[np.int64]:
    """Return the sum of every set of values; bit by bit of its place it tells which are in it."""
    sums = np.zeros(1, dtype=np.int64)
    for value in values:
        sums = np.concatenate([sums, sums + value])
    return sums
