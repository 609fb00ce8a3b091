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
class Alike:
    """Observations that share what grows with the scale.

    Args:
        rows: the observations.
        covariance: of what they share, at a scale of 1.
    """

    rows: NDArray[np.intp]
    covariance: Matrix


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Spent:
    """As many observations as unknowns, by which these unknowns are taken out once for all scales.

    Args:
        rows: the observations.
        columns: the unknowns; the rows alone settle them, whatever the others are.
    """

    rows: NDArray[np.intp]
    columns: NDArray[np.intp]


NOTHING_SPENT = Spent(rows=np.empty(0, dtype=np.intp), columns=np.empty(0, dtype=np.intp))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ScaledSystem:
    """Observations, linear about a state, whose variances grow with one unknown scale.

    The covariance of the observations is `fixed`, on its diagonal, and the scale squared times `scaled`, on its
    diagonal too, and the covariances of those that are `alike`.

    Args:
        residuals: computed less observed, not whitened.
        jacobian: their derivatives by the unknowns; together they must leave none of these open.
        fixed, scaled: parts of the variances.
        alike: which observations share what grows with the scale.
        spent: observations that take some of the unknowns out.
    """

    residuals: Vector
    jacobian: Matrix
    fixed: Vector
    scaled: Vector
    alike: tuple[Alike, ...] = ()
    spent: Spent = NOTHING_SPENT


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ScaleScan:
    """What the observations say at each scale that was tried.

    Args:
        scales: the scales.
        deviances: minus twice the logarithm of the restricted likelihood, up to a constant, one a scale.
        errors: the error that fits best if only this observation is wrong; a row for each scale, a column for each
            observation under test.
        precisions: one over the variance of that error; 0 where nothing checks the observation.
        parts, part_weights: each error as parts that are independent at every scale, and what they weigh there.
        pulls, solved: what the errors do to the unknowns, and that with the unknowns' cofactors.
    """

    scales: Vector
    deviances: Vector
    errors: Matrix
    precisions: Matrix
    parts: Matrix
    part_weights: Matrix
    pulls: NDArray[np.float64]
    solved: NDArray[np.float64]

    def likelihoods(self, log_prior: Vector) -> Vector:
        """Return how likely each scale is, adding up to 1.

        Args:
            log_prior: logarithm of how likely each was before the observations.
        """
        logs = log_prior - self.deviances / 2
        shares = np.exp(logs - logs.max())
        found: Vector = shares / shares.sum()
        return found

    def weights(self, one: int, other: int) -> Vector:
        """Return what errors of two observations under test weigh together in what is left over, one a scale."""
        found: Vector = self.part_weights @ (self.parts[:, one] * self.parts[:, other]) - np.einsum(
            "sk,sk->s", self.pulls[:, :, one], self.solved[:, :, other]
        )
        return found


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Contrasts:
    """What is left of a system once the spent observations have taken their unknowns out.

    Args:
        residuals, jacobian: of the observations that are left, by the unknowns that are left.
        fixed, scaled: the parts of their covariance.
        steady: precision matrix and side of those that neither the scale nor the spent ones touch.
        squares: their weighted sum of squares.
        tested: places of the observations under test among those left.
    """

    residuals: Vector
    jacobian: Matrix
    fixed: Matrix
    scaled: Matrix
    steady: tuple[Matrix, Vector]
    squares: float
    tested: NDArray[np.intp]


def scan_scales(system: ScaledSystem, scales: Vector, tested: Sequence[int]) -> ScaleScan:
    """Adjust a linear system at each of several scales, and say what each observation may hide.

    With V the covariance, A the Jacobian and r the residuals after the adjustment, the deviance is
    ln |V| + ln |A' V^-1 A| + r' V^-1 r: the likelihood of what is left of the observations once the unknowns are
    taken out, so that fitting many unknowns does not make the scale look small.

    The spent observations take their unknowns out of all others; what those are then short of is a sum of a fixed
    part and one that grows with the scale, and one turn makes both independent at every scale.

    Args:
        system: the observations.
        scales: scales to try, above 0.
        tested: observations under test, by their row; none of them spent.

    Returns:
        Deviances, errors and their precisions.

    Source:
        Restricted maximum likelihood as in Patterson and Thompson, Biometrika 58 (1971). Status: recalled.
    """
    rows = np.asarray(tested, dtype=np.intp)
    left = _contrasts(system, rows)
    middle = float(scales.min() * scales.max())  # of the squares, as ratios go
    lower = np.linalg.inv(np.linalg.cholesky(left.fixed + middle * left.scaled))
    growths, turn = np.linalg.eigh(lower @ left.scaled @ lower.T)
    turned = turn.T @ lower
    residuals, jacobian, parts = turned @ left.residuals, turned @ left.jacobian, turned[:, left.tested]
    spreads = 1 + np.outer(scales**2 - middle, growths)
    weights = 1 / spreads
    weighted = jacobian.T * weights[:, None, :]
    normals = weighted @ jacobian + left.steady[0]
    sides = weighted @ residuals + left.steady[1]
    pulls = weighted @ parts
    sizes = np.sqrt(np.einsum("sii->si", normals))
    even = normals / sizes[:, :, None] / sizes[:, None, :]  # unknowns of all units alike, or rounding eats the smallest
    even[:, np.arange(even.shape[1]), np.arange(even.shape[1])] += ROUNDING
    pivots = np.einsum("sii->si", np.linalg.cholesky(even)) * sizes
    together = np.concatenate([sides[:, :, None], pulls], axis=2) / sizes[:, :, None]
    solved = np.linalg.solve(even, together) / sizes[:, :, None]
    squares = left.squares + weights @ residuals**2 - np.einsum("sk,sk->s", sides, solved[:, :, 0])
    precisions = weights @ parts**2 - np.einsum("skm,skm->sm", pulls, solved[:, :, 1:])
    misfits = weights * residuals @ parts - np.einsum("sk,skm->sm", solved[:, :, 0], pulls)
    variances = system.fixed[rows] + np.multiply.outer(scales**2, system.scaled[rows])
    shown = precisions * variances > LEAST_SHARE
    return ScaleScan(
        scales=np.asarray(scales),
        deviances=np.log(spreads).sum(axis=1) + 2 * np.log(pivots).sum(axis=1) + squares,
        errors=np.where(shown, -misfits / np.where(shown, precisions, 1.0), 0.0),
        precisions=np.where(shown, precisions, 0.0),
        parts=parts,
        part_weights=weights,
        pulls=pulls,
        solved=solved[:, :, 1:],
    )


def _contrasts(system: ScaledSystem, tested: NDArray[np.intp]) -> _Contrasts:
    """Return what the observations say beside the spent ones, and how unsure that is."""
    spent, columns = system.spent.rows, system.spent.columns
    others = np.setdiff1d(np.arange(len(system.residuals)), spent)
    stay = np.setdiff1d(np.arange(system.jacobian.shape[1]), columns)
    ahead, rest = system.jacobian[spent], system.jacobian[others]
    shares = np.linalg.solve(ahead[:, columns].T, rest[:, columns].T).T
    alone = (system.scaled[others] == 0) & ~shares.any(axis=1) & ~np.isin(others, tested)
    for one in system.alike:
        alone &= ~np.isin(others, one.rows)
    residuals = system.residuals[others] - shares @ system.residuals[spent]
    jacobian = rest[:, stay] - shares @ ahead[:, stay]
    precise = jacobian[alone] / system.fixed[others[alone], None]
    bound, shares = others[~alone], shares[~alone]
    fixed, scaled = (np.diag(part[bound]) + (shares * part[spent]) @ shares.T for part in (system.fixed, system.scaled))
    share_of = np.zeros((len(bound), len(system.residuals)))
    share_of[:, spent], share_of[np.arange(len(bound)), bound] = -shares, 1.0
    for one in system.alike:
        its = share_of[:, one.rows]
        scaled += its @ one.covariance @ its.T
    return _Contrasts(
        residuals=residuals[~alone],
        jacobian=jacobian[~alone],
        fixed=fixed,
        scaled=scaled,
        steady=(precise.T @ jacobian[alone], precise.T @ residuals[alone]),
        squares=float(np.sum(residuals[alone] ** 2 / system.fixed[others[alone]])),
        tested=np.searchsorted(bound, tested),
    )
