"""Quantiles of the normal and chi-square distributions."""

from __future__ import annotations

import math
from statistics import NormalDist


def normal_quantile(probability: float) -> float:
    """Return the value a standard normal variable stays below with this probability."""
    return NormalDist().inv_cdf(probability)


def chi_square_quantile(*, probability: float, dof: int) -> float:
    """Return the value a chi-square variable stays below with this probability.

    Bisection on the lower incomplete gamma function, to 1e-10 of the value.

    Args:
        probability: between 0 and 1, both left out.
        dof: degrees of freedom, at least 1.

    Returns:
        The quantile.
    """
    low, high = 0.0, float(dof)
    while _chi_square_below(high, dof) < probability:
        low, high = high, 2 * high
    while high - low > 1e-10 * high:
        middle = (low + high) / 2
        if _chi_square_below(middle, dof) < probability:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def _chi_square_below(value: float, dof: int) -> float:
    """Return the probability of a smaller value: the series of the lower incomplete gamma function."""
    a, x = dof / 2, value / 2
    term = total = 1 / a
    n = a
    while term > total * 1e-16:
        n += 1
        term *= x / n
        total += term
    return total * math.exp(a * math.log(x) - x - math.lgamma(a))
