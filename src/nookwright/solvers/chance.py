"""Quantiles of the normal and chi-square distributions, and the hunt for single wrong observations."""

from __future__ import annotations

import math
from collections.abc import Sequence
from statistics import NormalDist

from nookwright.solvers.adjust import Adjustment


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


def wrong_rows(adjustment: Adjustment, rows: Sequence[int], *, chance: float = 0.05) -> tuple[int, ...]:
    """Return the observations that are probably wrong, the worst first (data snooping).

    The largest w statistic is compared with its Bonferroni limit; when it exceeds, that observation is taken out
    (by giving it a free error) and the others are judged again, until none exceeds.

    Args:
        adjustment: the adjustment in question.
        rows: independent observations under test, by their place in the adjustment.
        chance: chance of a false alarm when all observations are good, both tails, all rows together.

    Returns:
        Rows, the worst first.

    Source:
        [adjustment] data snooping with the w statistic, one observation at a time. Status: computed.
    """
    found: list[int] = []
    if not rows:
        return ()
    limit = normal_quantile(1 - chance / (2 * len(rows)))
    residuals, projector = adjustment.whitened_residuals.copy(), adjustment.projector.copy()
    while True:
        shown = [row for row in rows if projector[row, row] > 1e-6]
        sizes = {row: abs(residuals[row]) / math.sqrt(projector[row, row]) for row in shown}
        worst = max(sizes, key=lambda row: sizes[row], default=None)
        if worst is None or sizes[worst] <= limit:
            return tuple(found)
        found.append(worst)
        column = projector[:, worst].copy()
        residuals -= column * residuals[worst] / column[worst]
        projector -= column[:, None] * column[None, :] / column[worst]
