"""Column generation: patterns worth more than their stock are added until there is none, or the bound says enough."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.covering.bound import Proof, rounded_up, whole_prices
from nookwright.solvers.covering.master import Master, Relaxed
from nookwright.solvers.covering.problem import Limits, Pattern, Source, TimeLeft, Whole

_Floats = NDArray[np.float64]
_SMOOTHING = 0.7
"""Share of the best prices so far in the prices tried next. Source: common practice, no source."""
_NEAR = 1e-6
_MOST_PENALTY = 100
"""A missing piece is never made dearer than so many of the dearest stock."""
_AT_ONCE = 8
"""Patterns of different pieces taken from one set of prices."""
_GAIN = 1e-7
"""A pattern worth this share above its stock counts as worth more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Generated:
    """Where column generation ended.

    Args:
        relaxed: the best mix of the patterns known then.
        least: a price that no plan for the demand asked, within the limits, goes below.
        proof: what proves it.
    """

    relaxed: Relaxed
    least: int
    proof: Proof


class Generator:
    """Adds patterns to a master program, for the whole demand or for what is left of it."""

    def __init__(self, source: Source, time_left: TimeLeft) -> None:
        """Start with no patterns; a plan must be added before the first run."""
        self.source = source
        self.master = Master(source.demand, source.supplies)
        self._time_left = time_left

    def run(
        self, left: Whole, limits: Limits, *, enough: float = math.inf, rounds: int, sharp: bool = False,
        loose: bool = False,
    ) -> Generated:  # fmt: skip
        """Add patterns until none is worth adding.

        Args:
            left: pieces still wanted of each kind.
            limits: how many of each stock there may be.
            enough: end as soon as the bound reaches this price.
            rounds: end after so many rounds.
            sharp: go on after the bound, rounded up, has reached the cost of the mix.
            loose: whether patterns may hold a kind more often than is left: only the bound is wanted.

        Returns:
            The mix and the best bound found on the way.
        """
        supplies = self.source.supplies
        self.master.restrict(left, limits, loose=loose)
        best = self.source.loose if loose else self.source.best
        dearest = max(1, *(supply.price for supply in supplies))
        self.master.fine(2 * dearest)
        relaxed = self.master.relaxed()
        centre: _Floats | None = None
        proof = Proof(values=np.zeros_like(left), tops=(0,) * len(supplies), scale=1)
        bound = proof.least(left, supplies, limits)
        for _ in range(rounds):
            new: list[Pattern] = []
            worth = np.where(left > 0, relaxed.worth, 0.0)
            tries = (worth,) if centre is None else (_SMOOTHING * centre + (1 - _SMOOTHING) * worth, worth)
            for trial in tries:
                values, scale = whole_prices(trial, self.source.most_pieces)
                found = best(values, left)
                told = Proof(values=values, tops=tuple(value for value, _ in found), scale=scale)
                reached = told.least(left, supplies, limits)
                if reached > bound or centre is None:
                    centre = trial * self._shrink(told)
                    proof, bound = told, max(bound, reached)
                new = self._worth_adding(found, values, worth, relaxed, left)
                if new:
                    break
            least = rounded_up(bound, supplies)
            done = not sharp and (least >= enough or least >= relaxed.cost - _GAIN * max(1.0, relaxed.cost))
            if done or self._time_left() <= 0:
                break
            if not self.master.add(new):
                if relaxed.missing < _NEAR or self.master.penalty >= min(enough, _MOST_PENALTY * dearest):
                    break
                self.master.fine(4 * self.master.penalty)
            relaxed = self.master.relaxed()
        return Generated(relaxed=relaxed, least=rounded_up(bound, supplies), proof=proof)

    def _shrink(self, proof: Proof) -> float:
        """Return the factor that makes prices of pieces fair: no pattern of an unlimited stock worth more than it."""
        ratios = [
            supply.price * proof.scale / top
            for supply, top in zip(self.source.supplies, proof.tops, strict=True)
            if supply.most is None and top > 0
        ]
        return min(1.0, *ratios) if ratios else 1.0

    def _worth_adding(
        self, found: list[tuple[int, Pattern]], values: Whole, worth: _Floats, relaxed: Relaxed, left: Whole
    ) -> list[Pattern]:
        """Return patterns worth more than their stock: for each stock its best, then others of the pieces not in it."""
        new: list[Pattern] = []
        for _ in range(_AT_ONCE):
            gains = []
            for stock, (_, pattern) in enumerate(found):
                price = self.source.supplies[stock].price + relaxed.scarce[stock]
                gains.append(float(worth @ pattern.counts) - price)
                if gains[-1] > _GAIN * max(1.0, price) and pattern.counts.any():
                    new.append(pattern)
            chosen = int(np.argmax(gains))
            if gains[chosen] <= _GAIN or not found[chosen][1].counts.any():
                break
            left = np.maximum(left - found[chosen][1].counts, 0)
            found = self.source.best(np.where(left > 0, values, 0), left)
        return new
