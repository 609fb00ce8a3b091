"""A least price that no plan goes below, from prices of pieces: proven in whole numbers, whatever the prices are.

Let u be any whole prices of the pieces, and M[s] at least the value of every pattern of stock s. A plan that uses n[s]
lengths of stock s costs the sum of c[s] n[s] = (c[s] - M[s]) n[s] + M[s] n[s], and M[s] n[s] is in total at least the
worth u d of the demand d. So u d plus the least that the sum of (c[s] - M[s]) n[s] can be is a bound. Where n[s] has no
upper limit, u is scaled until M[s] <= c[s].

Source:
    A. A. Farley, Operations Research 38(5), 1990. Status: recalled; the derivation above is complete in itself.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.covering.problem import Limits, Supply, Whole

SCALE_BITS = 30
"""A pattern's value stays below two to this power, so that it fits the tables of the search for patterns."""


def whole_prices(worth: NDArray[np.float64], most_pieces: int) -> tuple[Whole, int]:
    """Return prices of pieces in whole units, rounded down, and how many units make one unit of money."""
    dearest = math.ceil(max(1.0, float(worth.max(initial=0.0))))
    scale = max(1, (1 << SCALE_BITS) // (dearest * max(1, most_pieces)))
    return np.floor(np.maximum(worth, 0.0) * scale).astype(np.int64), scale


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Proof:
    """Whole prices of pieces, and for each stock a value that none of its patterns exceeds; in parts of `scale`.

    Args:
        values: prices of the pieces.
        tops: for each stock the greatest value of a pattern.
        scale: units in one unit of money.
    """

    values: Whole
    tops: tuple[int, ...]
    scale: int

    def scaled(self, supplies: Sequence[Supply], limits: Limits) -> Proof:
        """Return the proof with prices so low that no pattern of a stock without end is worth more than the stock."""
        over, under = 1, 1
        for supply, high, top in zip(supplies, limits.high, self.tops, strict=True):
            if high is None and top * over > supply.price * self.scale * under:
                over, under = supply.price * self.scale, top
        if over == under:
            return self
        values = np.array([int(value) * over // under for value in self.values], dtype=np.int64)
        return Proof(values=values, tops=tuple(-(-top * over // under) for top in self.tops), scale=self.scale)

    def least(self, demand: Whole, supplies: Sequence[Supply], limits: Limits) -> Fraction:
        """Return a price that no plan within the limits goes below.

        Args:
            demand: pieces wanted of each kind.
            supplies, limits: the stocks, and how many of each there may be.

        Returns:
            The bound, exactly as proven; `rounded_up` makes a price of it.
        """
        fair = self.scaled(supplies, limits)
        total = int(fair.values @ demand)
        for supply, low, high, top in zip(supplies, limits.low, limits.high, fair.tops, strict=True):
            wasted = supply.price * self.scale - top
            times = low if wasted >= 0 or high is None else high
            total += times * wasted
        return max(Fraction(0), Fraction(total, self.scale))


def rounded_up(least: Fraction, supplies: Sequence[Supply]) -> int:
    """Return the least price at or above a bound that a plan can have: a multiple of what all prices have in common."""
    step = price_step(supplies)
    return -(-least.numerator // (least.denominator * step)) * step


def price_step(supplies: Sequence[Supply]) -> int:
    """Return the largest whole number that all prices are multiples of."""
    return math.gcd(*(supply.price for supply in supplies)) or 1
