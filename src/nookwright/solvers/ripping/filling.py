"""Puts all pieces into lanes that are given, or proves that they do not go in, by trying every filling that matters.

Many short runs, each trying but a few fillings of every lane, soon find a plan where there are many; what they find to
be without a filling is kept, so that longer and broader ones come to an end where there is none.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from nookwright.solvers.covering.problem import TimeLeft, Whole
from nookwright.solvers.ripping.lanes import Lanes

if TYPE_CHECKING:
    from nookwright.solvers.kernels.lane_filling import Dead

_SHAKEN = 100
"""By how many per cent what a filling takes of the spare is shaken before fillings are put in order."""
_BREADTH, _NODES = 2, 200
"""Most fillings tried of a lane, and most lanes looked at, in the first runs."""
_RUNS = 12
"""So many runs, and both are raised."""
_SHELF = 3_000_000
"""Most numbers in fillings still to be tried."""
_DEAD, _MOST_DEAD = 1 << 14, 1 << 20
"""What can be kept of what has no filling: at first, and at last."""


class Filling:
    """The search; it can be left after any run and taken up again."""

    def __init__(self, lanes: Lanes, counts: Sequence[int]) -> None:
        """Start with so many lanes of each kind.

        Args:
            lanes: the pieces and the kinds of lane.
            counts: how many lanes there are of each kind.
        """
        from nookwright.solvers.kernels.lane_filling import Lanes as Filled
        from nookwright.solvers.kernels.lane_filling import Question, Shelf

        self._kinds = np.flatnonzero(np.array(counts))
        self._order = np.lexsort((-lanes.widths, -lanes.lengths))
        widths = np.array(lanes.steps, dtype=np.int64)
        demand = lanes.demand[self._order]
        lane_count = np.array(counts, dtype=np.int64)[self._kinds]
        word, shift = _places(np.concatenate([demand, lane_count]))
        kinds = np.array(lanes.kinds, dtype=np.int64).reshape(-1, 2)[self._kinds]
        self._question = Question(
            length=lanes.lengths[self._order], step=np.searchsorted(widths, lanes.widths[self._order]), demand=demand,
            lane_length=kinds[:, 1].copy(), lane_step=kinds[:, 0].copy(), lane_count=lane_count, word=word, shift=shift,
        )  # fmt: skip
        rows = max(1000, _SHELF // max(1, len(demand)))
        self._shelf = Shelf(
            counts=np.zeros((rows, len(demand)), dtype=np.int16), lane=np.zeros(rows, dtype=np.int64),
            taken=np.zeros(rows), order=np.zeros(rows, dtype=np.int64),
        )  # fmt: skip
        most = int(lane_count.sum())
        self._filled = Filled(kind=np.zeros(most, dtype=np.int64), counts=np.zeros((most, len(demand)), dtype=np.int16))
        self._dead = _empty(_DEAD, int(word.max(initial=0)) + 1)
        self._chance = np.array([88172645463325252], dtype=np.uint64)
        self._runs = 0
        self.found: list[tuple[int, Whole]] | None = None
        self.impossible = False

    def run(self, runs: int, time_left: TimeLeft) -> bool:
        """Make so many runs, or fewer until it is known whether all pieces go in; return whether it is."""
        from nookwright.solvers.kernels.lane_filling import FILLED, IMPOSSIBLE, fill_lanes

        if not self._kinds.size:
            self.impossible = True
        for _ in range(runs):
            if self.impossible or self.found is not None or time_left() <= 0:
                break
            raised = self._runs // _RUNS
            ended = fill_lanes(
                self._question, _BREADTH << min(raised, 40), _NODES << min(raised // 2, 40),
                _SHAKEN if self._runs else 0, self._chance, self._shelf, self._dead, self._filled,
            )  # fmt: skip
            self._runs += 1
            self.impossible = ended == IMPOSSIBLE
            if ended == FILLED:
                self.found = [
                    (int(self._kinds[kind]), self._counts(counts))
                    for kind, counts in zip(self._filled.kind.tolist(), self._filled.counts, strict=True)
                    if kind >= 0
                ]
            self._make_room()
        return self.impossible or self.found is not None

    def _counts(self, held: Whole) -> Whole:
        counts = np.zeros(len(self._order), dtype=np.int64)
        counts[self._order] = held
        return counts

    def _make_room(self) -> None:
        """Double the room for what has no filling once it is half full."""
        from nookwright.solvers.kernels.lane_filling import copy_dead

        room = len(self._dead.used)
        if 2 * int(self._dead.known[0]) > room and room < _MOST_DEAD:
            more = _empty(4 * room, self._dead.keys.shape[1])
            copy_dead(self._dead, more)
            self._dead = more


def _empty(room: int, words: int) -> Dead:
    from nookwright.solvers.kernels.lane_filling import Dead

    return Dead(
        keys=np.zeros((room, words), dtype=np.uint64), used=np.zeros(room, dtype=np.bool_),
        known=np.zeros(1, dtype=np.int64),
    )  # fmt: skip


def _places(most: Whole) -> tuple[Whole, np.ndarray[tuple[int], np.dtype[np.uint64]]]:
    """Return the word and the bit from which on each number stands, that none runs from one word into the next."""
    word, shift = np.zeros(len(most), dtype=np.int64), np.zeros(len(most), dtype=np.uint64)
    at = 0
    for i, bits in enumerate(int(one).bit_length() for one in most):
        if at % 64 + bits > 64:
            at += 64 - at % 64
        word[i], shift[i] = at // 64, at % 64
        at += bits
    return word, shift
