"""How large a standard deviation is that many observations share, and how large an error each of them may hide."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.linear_fit import Matrix, Vector

ROUNDING = 1e-13
"""Added to each unknown's own weight, all weights 1: less than rounding, but no weight may fall below 0 by it."""

LEAST_SHARE = 1e-6
"""An observation whose error shows by less than this share shows nothing but rounding."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ScaledSystem:
    """Independent observations, linear about a state, some of whose variances grow with one unknown scale.

    The variance of observation i is `fixed[i] + scale ** 2 * scaled[i]`.

    Args:
        residuals: computed less observed, not whitened.
        jacobian: their derivatives by the unknowns; together they must leave none of these open.
        fixed, scaled: parts of the variances.
    """

    residuals: Vector
    jacobian: Matrix
    fixed: Vector
    scaled: Vector


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ScaleScan:
    """What the observations say at each scale that was tried.

    Args:
        scales: the scales.
        deviances: minus twice the logarithm of the restricted likelihood, up to a constant, one a scale.
        errors: the error that fits best if only this observation is wrong; a row for each scale, a column for each
            observation under test.
        precisions: one over the variance of that error; 0 where nothing checks the observation.
        weights: for each scale, what errors of any two observations under test weigh in what is left over.
    """

    scales: Vector
    deviances: Vector
    errors: Matrix
    precisions: Matrix
    weights: NDArray[np.float64]

    def likelihoods(self, log_prior: Vector) -> Vector:
        """Return how likely each scale is, adding up to 1.

        Args:
            log_prior: logarithm of how likely each was before the observations.
        """
        logs = log_prior - self.deviances / 2
        shares = np.exp(logs - logs.max())
        found: Vector = shares / shares.sum()
        return found


def scan_scales(system: ScaledSystem, scales: Vector, tested: Sequence[int]) -> ScaleScan:
    """Adjust a linear system at each of several scales, and say what each observation may hide.

    With V the variances, A the Jacobian and r the residuals after the adjustment, the deviance is
    ln |V| + ln |A' V^-1 A| + r' V^-1 r: the likelihood of what is left of the observations once the unknowns are
    taken out, so that fitting many unknowns does not make the scale look small.

    Args:
        system: the observations.
        scales: scales to try, above 0.
        tested: observations under test, by their row.

    Returns:
        Deviances, errors and their precisions.

    Source:
        Restricted maximum likelihood as in Patterson and Thompson, Biometrika 58 (1971). Status: recalled.
    """
    rows = np.asarray(tested, dtype=np.intp)
    steady = system.scaled == 0
    fixed_part, fixed_side = _normal(system, steady, system.fixed)
    deviances, errors, precisions, weights = np.empty(len(scales)), [], [], []
    for place, scale in enumerate(scales):
        variances = system.fixed + scale**2 * system.scaled
        normal, side = _normal(system, ~steady, variances)
        normal, side = normal + fixed_part, side + fixed_side
        size = np.sqrt(np.diag(normal))
        even = normal / np.outer(size, size)  # unknowns of all units alike, or rounding may eat the smallest
        even[np.diag_indices(len(even))] += ROUNDING
        pivots = np.diag(np.linalg.cholesky(even)) * size
        sides = np.column_stack([side, system.jacobian[rows].T])
        solved = np.linalg.solve(even, sides / size[:, None]) / size[:, None]
        squares = float(np.sum(system.residuals**2 / variances) - side @ solved[:, 0])
        deviances[place] = np.sum(np.log(variances)) + 2 * np.sum(np.log(pivots)) + squares
        left = system.residuals[rows] - system.jacobian[rows] @ solved[:, 0]
        seen = system.jacobian[rows] @ solved[:, 1:] / variances[rows]
        shares = 1 - np.diag(seen)
        shown = shares > LEAST_SHARE
        errors.append(np.where(shown, -left / np.where(shown, shares, 1.0), 0.0))
        precisions.append(np.where(shown, shares / variances[rows], 0.0))
        weights.append((np.eye(len(rows)) - seen) / variances[rows, None])
    return ScaleScan(
        scales=np.asarray(scales),
        deviances=deviances,
        errors=np.array(errors),
        precisions=np.array(precisions),
        weights=np.array(weights),
    )


def _normal(
    system: ScaledSystem, chosen: np.ndarray[tuple[int], np.dtype[np.bool_]], variances: Vector
) -> tuple[Matrix, Vector]:
    """Return the chosen observations' part of the normal equations."""
    jacobian = system.jacobian[chosen]
    weighted = jacobian / variances[chosen, None]
    return weighted.T @ jacobian, weighted.T @ system.residuals[chosen]
