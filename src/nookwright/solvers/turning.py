"""Turning and shifting one set of points onto another, and a turn's derivatives."""

from __future__ import annotations

import numpy as np

from nookwright.solvers.linear_fit import Matrix, Vector


def rigid_fit(points: Matrix, targets: Matrix) -> tuple[Matrix, Vector]:
    """Return the turn and shift that bring points nearest to their targets in least squares.

    Args:
        points: places, one a row; at least three, not on one line.
        targets: where each should be.

    Returns:
        Turn R and shift t: R p + t is near the target.

    Source:
        W. Kabsch, Acta Crystallographica A 32 (1976), with the determinant's sign kept. Status: recalled.
    """
    middle, aim = points.mean(axis=0), targets.mean(axis=0)
    left, _, right = np.linalg.svd((targets - aim).T @ (points - middle))
    sign = np.sign(np.linalg.det(left) * np.linalg.det(right))
    turn: Matrix = left @ np.diag([1.0, 1.0, sign]) @ right
    shift: Vector = aim - turn @ middle
    return turn, shift


def spread_off_line(points: Matrix) -> float:
    """Return how far points stray from their best straight line, root of the mean square."""
    sizes = np.linalg.svd(points - points.mean(axis=0), compute_uv=False)
    return float(np.sqrt(np.sum(sizes[1:] ** 2) / len(points)))


def turn_about_axes(angles: Vector) -> tuple[Matrix, list[Matrix]]:
    """Return the turn about x, then y, then z, and its derivatives by the three angles.

    Args:
        angles: about x, y and z. [rad]

    Returns:
        The turn, and one matrix for each angle.
    """
    turns, slopes = [], []
    for axis, angle in enumerate(angles):
        first, second = (axis + 1) % 3, (axis + 2) % 3
        cosine, sine = float(np.cos(angle)), float(np.sin(angle))
        turn, slope = np.eye(3), np.zeros((3, 3))
        turn[first, first] = turn[second, second] = cosine
        turn[first, second], turn[second, first] = -sine, sine
        slope[first, first] = slope[second, second] = -sine
        slope[first, second], slope[second, first] = -cosine, cosine
        turns.append(turn)
        slopes.append(slope)
    x, y, z = turns
    return z @ y @ x, [z @ y @ slopes[0], z @ slopes[1] @ x, slopes[2] @ y @ x]
