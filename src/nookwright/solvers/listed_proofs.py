"""Rules a set of sheets out by listing every pattern that its plan could use: for sheets of few parts.

By any values of the parts, the sheets together can hold only so much more than all parts are worth. No sheet of a plan
can waste more than that, so only the patterns that waste no more are listed, and every way to choose among them is
tried. Values that leave least to waste are sought by a linear program over the patterns known; all that the proof rests
on is counted in whole numbers.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.counted_proofs import CountedProofs, Pattern

_Whole = NDArray[np.int64]
_Floats = NDArray[np.float64]
_SCALE = 1 << 40
_AREA_SHARE = 0.03
"""Share of its area in what a part is worth: so none is worth nothing, and few patterns are worth the same."""
_SMOOTHING = 0.5
_MOST_ROUNDS = 120
_ENOUGH = 0.98
"""Values are sought until those that leave less to waste leave no less than this share of it, so many times."""
_TIMES = 4
_BLOCKS = 150_000
_MOST_PATTERNS = 12_000
_LOOKS_A_STEP, _MOST_STEPS = 30_000_000, 30
"""So often are parts of patterns looked at in a step while every way to choose is tried, and so many steps."""


class ListedProof:
    """The proof against one set of sheets; `too_many` says that its patterns were too many to list."""

    def __init__(self, proofs: CountedProofs, counts: Sequence[int]) -> None:
        """Begin with the patterns known.

        Args:
            proofs: where patterns are known from, and new ones join.
            counts: how many sheets of each kind.
        """
        self._proofs, self._counts = proofs, np.array(counts, dtype=np.int64)
        self.too_many = False
        holding = {one.kind for one in proofs.counted}
        self._kinds = [j for j, count in enumerate(counts) if count and j in holding]
        self._wanted = proofs.wanted.copy()
        self._wanted[list(proofs.tables.lost)] = 0

    def steps(self) -> Iterator[bool]:
        """Yield False step after step, at last True if the sheets cannot hold the parts; else nothing is known."""
        best: tuple[int, _Whole, _Whole] | None = None
        for found in self._nearest():
            yield False
            best = found
        if best is None:
            return
        waste, values, tops = best
        listed: list[Pattern] = []
        for j in self._kinds:
            self._proofs.tables.richest(values, j)
            patterns = self._proofs.listed(j, values, int(tops[j]) - waste - 1, _BLOCKS)
            yield False
            if patterns is None or len(patterns) + len(listed) > _MOST_PATTERNS:
                self.too_many = True
                return
            listed += patterns
        yield from self._tried(listed, values, tops)

    def _nearest(self) -> Iterator[tuple[int, _Whole, _Whole] | None]:
        """Yield, round after round, the least waste so far, by which values, and what a sheet holds at most by them."""
        area = self._proofs.area_values(self._counts.tolist())
        centre: _Floats | None = None
        best: tuple[int, _Whole, _Whole] | None = None
        in_vain = 0
        for _ in range(_MOST_ROUNDS):
            _, prices, _ = self._proofs.mix(self._kinds, self._counts.tolist(), self._proofs.counted, None)
            prices = (1 - _AREA_SHARE) * prices + _AREA_SHARE * area
            centre = prices if centre is None else _SMOOTHING * centre + (1 - _SMOOTHING) * prices
            values = np.floor(centre * _SCALE).astype(np.int64)
            values[list(self._proofs.tables.lost)] = 0
            tops = self._tops(values)
            if tops is not None:
                waste = int(self._counts @ tops - values @ self._wanted)
                in_vain += best is not None and waste > _ENOUGH * best[0]
                best = (waste, values, tops) if best is None or waste < best[0] else best
            yield best
            if in_vain >= _TIMES:
                return

    def _tops(self, values: _Whole) -> _Whole | None:
        """Return what a sheet of each kind holds at most; None when a pattern worth more was found, or none proven."""
        tops = np.zeros(len(self._counts), dtype=np.int64)
        known = True
        for j in self._kinds:
            self._proofs.tables.richest(values, j)
            tops[j] = max(int(values @ one.pieces) for one in self._proofs.counted if one.kind == j)
            found, whole = self._proofs.searched(j, values, self._wanted, int(tops[j]), _BLOCKS)
            known = known and whole and not found
        return tops if known else None

    def _tried(self, listed: Sequence[Pattern], values: _Whole, tops: _Whole) -> Iterator[bool]:
        """Yield False while every choice of the patterns is tried, at last True if none holds all parts."""
        from nookwright.solvers.kernels.covers import NONE, OPEN, cover_of, covered

        if not listed:
            yield True
            return
        kinds = np.array([one.kind for one in listed], dtype=np.int64)
        pieces = np.array([one.pieces for one in listed], dtype=np.int16)
        cover = cover_of(kinds, pieces, values, tops, self._wanted, self._counts)
        for _ in range(_MOST_STEPS):
            answer = covered(cover, _LOOKS_A_STEP)
            yield answer == NONE
            if answer != OPEN:
                return
