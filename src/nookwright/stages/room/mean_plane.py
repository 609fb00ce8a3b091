"""The mean plane of a wavy surface by the spots measured on it: what a person calls its lean, its fall, its turn."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.stages.room.height_field import HeightField

GRID = 7
"""Places sampled along each side of the rectangle. Computed: 15 change a lean by less than 0.05 mm/m."""

LEAST_SPAN_MM = 300.0
"""A rectangle narrower than this is widened to it, so that a plane can be fitted. [mm] Common practice, no source."""

LEAST_SPREAD_MM = 50.0
"""Spots that stray less than this from one straight line, root of the mean square, do not make a plane. [mm]
Common practice, no source."""

NO_SPREAD = 1e-12
"""Places spread one way by less than this share of the other, squared, tell nothing of that way."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MeanPlane:
    """The two tilts of the plane fitted to a surface, in the order of `HeightField`.

    Args:
        tilts: along p and along q.
        rows: their derivatives by the state.
        own_covariance: what exact spots would still leave.
    """

    tilts: Vector
    rows: Matrix
    own_covariance: Matrix


def mean_plane(field: HeightField, state: Vector, spots: NDArray[np.intp]) -> MeanPlane:
    """Fit a plane by least squares to the spots measured on a surface, each counting the same.

    With four spots at a floor's corners its fall to the right is the mean of the falls along the back and the front:
    what a person with a level finds. The plane the waviness is thought to be added to is another thing, which nobody
    can see. Where the spots make no plane, as two alone do not, it is fitted to the surface as it is thought to be,
    over the rectangle the spots span.

    Args:
        field: the surface.
        state: the adjusted unknowns.
        spots: places in the state of the x of every named spot on the surface.

    Returns:
        The plane's tilts with what they depend on.
    """
    across, p_axis, q_axis = field.axes
    places = state[spots[:, None] + np.array([p_axis, q_axis])]
    spread, weights = _weights(places)
    if spread < LEAST_SPREAD_MM:
        return _over_rectangle(field, places)
    tilts: Vector = weights @ state[spots + across]
    rows = np.zeros((2, len(state)))
    rows[:, spots + across] = weights
    rows[:, spots + p_axis], rows[:, spots + q_axis] = -tilts[0] * weights, -tilts[1] * weights
    return MeanPlane(tilts=tilts, rows=rows, own_covariance=np.zeros((2, 2)))


def mean_plane_of_pieces(field: HeightField, places: Matrix) -> MeanPlane:
    """Fit a plane by least squares to a surface that a scan shows, at its spots and pieces, each counting the same.

    Args:
        field: the surface.
        places: the spots and pieces in its two other coordinates, one a row. [mm]

    Returns:
        The plane's tilts with what they depend on.
    """
    return _at(field, places)


def _weights(places: Matrix) -> tuple[float, Matrix]:
    """Return how far places stray from one straight line, root of the mean square, and the weights of a plane's tilts.

    The weights are what each place's value contributes to the two tilts of the fitted plane.
    """
    if len(places) < 3:
        return 0.0, np.zeros((2, len(places)))
    beside = places - places.mean(axis=0)
    squares, ways = np.linalg.eigh(beside.T @ beside)
    shares = np.where(squares > NO_SPREAD * squares[1], 1 / np.maximum(squares, NO_SPREAD * squares[1]), 0.0)
    return math.sqrt(max(float(squares[0]), 0.0) / len(places)), (ways * shares) @ ways.T @ beside.T


def _over_rectangle(field: HeightField, places: Matrix) -> MeanPlane:
    lines = [_line(places[:, column]) for column in (0, 1)]
    return _at(field, np.column_stack([grid.ravel() for grid in np.meshgrid(*lines, indexing="ij")]))


def _at(field: HeightField, places: Matrix) -> MeanPlane:
    """Return the plane that fits a surface best at places, as it is thought to be there."""
    tilts, rows, own = field.sums(_weights(places)[1], *places.T)
    return MeanPlane(tilts=tilts, rows=rows, own_covariance=own)


def _line(places: Vector) -> Vector:
    """Return the places of the grid along one side."""
    low, high = (float(places.min()), float(places.max())) if len(places) else (0.0, 0.0)
    missing = max(LEAST_SPAN_MM - (high - low), 0.0) / 2
    return np.linspace(low - missing, high + missing, GRID)
