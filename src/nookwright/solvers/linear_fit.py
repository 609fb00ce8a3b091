"""Linear algebra under the adjustment: cofactors, rank, datum of a free network, reliability of observations."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Vector = NDArray[np.float64]
Matrix = NDArray[np.float64]

_RANK_IS_LOST = 1e-11  # smallest singular value beside the largest, columns scaled to unit length


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


def regular(jacobian: Matrix, scale: Vector) -> tuple[Matrix, Matrix]:
    """Return the cofactor matrix of the unknowns and an orthonormal basis of the fitted residuals.

    Args:
        jacobian: whitened, one column an unknown.
        scale: length of each column.

    Returns:
        Cofactors and basis.

    Raises:
        ValueError: if the observations leave an unknown open.
    """
    basis, upper = np.linalg.qr(jacobian / scale)
    expect_full_rank(upper)
    inverse = np.linalg.inv(upper) / scale[:, None]
    return inverse @ inverse.T, basis


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


def reliability(whiteners: Sequence[Matrix | Vector], white: Vector, projector: Matrix) -> tuple[Vector, Vector]:
    """Return redundancy numbers and w statistics, for independent and correlated observations alike.

    With P the weights, v the residuals and Qvv their cofactors, the redundancy number is the diagonal of Qvv P
    and w = (P v)_i / sqrt((P Qvv P)_ii); for independent observations that is v / (sd sqrt(r)).
    """
    redundancy, numerator, variance = np.empty_like(white), np.empty_like(white), np.empty_like(white)
    row = 0
    for whitener in whiteners:
        rows = slice(row, row + len(whitener))
        part = projector[rows, rows]
        if whitener.ndim == 1:
            redundancy[rows], numerator[rows], variance[rows] = np.diag(part), white[rows], np.diag(part)
        else:
            redundancy[rows] = np.einsum("ij,ji->i", np.linalg.solve(whitener, part), whitener)
            numerator[rows] = whitener.T @ white[rows]
            variance[rows] = np.einsum("ji,jk,ki->i", whitener, part, whitener)
            variance[rows] /= np.einsum("ji,ji->i", whitener, whitener)
            numerator[rows] /= np.sqrt(np.einsum("ji,ji->i", whitener, whitener))
        row += len(whitener)
    shown = variance > 1e-9  # below it the residual is nothing but rounding
    w = np.zeros_like(white)
    w[shown] = numerator[shown] / np.sqrt(variance[shown])
    return redundancy, w
