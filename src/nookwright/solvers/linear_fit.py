"""Linear algebra under the adjustment: cofactors, rank, datum of a free network, reliability of observations."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

Vector = NDArray[np.float64]
Matrix = NDArray[np.float64]

_RANK_IS_LOST = 1e-11  # smallest singular value beside the largest, columns scaled to unit length
_SQUARING_IS_SAFE = 1e-4  # smallest pivot of the root: normal equations then keep some eight digits
_RESIDUAL_IS_ROUNDING = 1e-9  # variance of a whitened residual that is nothing but rounding


def expect_full_rank(upper: Matrix) -> None:
    """Refuse a triangular factor that leaves an unknown open.

    Args:
        upper: triangular factor of a Jacobian whose columns have unit length.

    Raises:
        ValueError: if the observations leave an unknown open.
    """
    diagonal = np.abs(np.diag(upper))
    if diagonal.size < upper.shape[1] or np.any(diagonal < _RANK_IS_LOST):
        message = "the observations leave some unknowns open"
        raise ValueError(message)


def lower_root(normal: Matrix) -> Matrix | None:
    """Return the Cholesky factor of normal equations, or None where squaring has cost too many digits.

    Args:
        normal: of a Jacobian whose columns have unit length.
    """
    try:
        lower: Matrix = np.asarray(np.linalg.cholesky(normal), dtype=np.float64)
    except np.linalg.LinAlgError:
        return None
    return lower if np.min(np.diag(lower), initial=1.0) > _SQUARING_IS_SAFE else None


def regular(normal: Matrix, jacobian: Callable[[], Matrix], scale: Vector) -> Matrix:
    """Return a root of the cofactor matrix of the unknowns: times its transpose it gives the cofactors.

    Args:
        normal: normal equations of the whitened Jacobian, columns scaled to unit length.
        jacobian: gives that Jacobian, should the normal equations have too few digits.
        scale: what each column was divided by.

    Returns:
        The root.

    Raises:
        ValueError: if the observations leave an unknown open.
    """
    lower = lower_root(normal)
    if lower is not None:
        return np.asarray(np.linalg.inv(lower).T, dtype=np.float64) / scale[:, None]
    upper: Matrix = np.asarray(np.linalg.qr(jacobian(), mode="r"), dtype=np.float64)
    expect_full_rank(upper)
    return np.asarray(np.linalg.inv(upper), dtype=np.float64) / scale[:, None]


def split(jacobian: Matrix) -> tuple[Matrix, Vector, Matrix]:
    """Return the singular value decomposition without its null part."""
    left, sizes, right = np.linalg.svd(jacobian, full_matrices=False)
    kept = sizes > _RANK_IS_LOST * sizes[0]
    return left[:, kept], sizes[kept], right[kept]


def to_datum(right: Matrix, scale: Vector, datum: NDArray[np.intp], values: Matrix | Vector) -> Matrix | Vector:
    """Return values moved along the open directions until the datum's square sum is least (S-transformation)."""
    if len(right) == right.shape[1]:
        return values
    complement = np.linalg.svd(right, full_matrices=True)[2][len(right) :].T
    opened = complement / scale[:, None]  # columns span what the observations do not see, in the unknowns' own units
    part = opened[datum]
    return values - opened @ np.linalg.solve(part.T @ part, part.T @ values[datum])


def reliability(whitener: Matrix | Vector, white: Vector, fitted: Matrix) -> tuple[Vector, Vector, Vector]:
    """Return redundancy numbers, w statistics and shares of a block of observations, correlated or not.

    With P the weights, v the residuals and Qvv their cofactors, the redundancy number is the diagonal of Qvv P
    and w = (P v)_i / sqrt((P Qvv P)_ii); for independent observations that is v / (sd sqrt(r)).

    Args:
        whitener: one over the standard deviations, or the inverse root of the covariance.
        white: whitened residuals.
        fitted: a root of the covariance of the whitened computed values.

    Returns:
        Redundancy numbers, w, and the variances of the whitened residuals.
    """
    shares = 1 - np.einsum("ij,ij->i", fitted, fitted)
    if whitener.ndim == 1:
        redundancy, numerator, variance = shares, white, shares
    else:
        part = np.eye(len(white)) - fitted @ fitted.T
        redundancy = np.einsum("ij,ji->i", np.linalg.solve(whitener, part), whitener)
        size = np.einsum("ji,ji->i", whitener, whitener)
        numerator = whitener.T @ white / np.sqrt(size)
        variance = np.einsum("ji,ji->i", whitener, part @ whitener) / size
    shown = variance > _RESIDUAL_IS_ROUNDING
    w = np.zeros_like(white)
    w[shown] = numerator[shown] / np.sqrt(variance[shown])
    return redundancy, w, shares
