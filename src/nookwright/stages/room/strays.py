"""How far a surface strays from its plane at every place on it that was touched: its spots, then its stations."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.stages.inputs.survey import SurfaceName
from nookwright.stages.survey.shape import Axes
from nookwright.stages.survey.unknowns import Unknowns


def places_of(state: Vector, surface: SurfaceName, unknowns: Unknowns) -> Matrix:
    """Return the places touched on a surface, one a row: its spots, then its stations. [mm]"""
    spots = unknowns.spots_on(surface)
    return np.concatenate([state[spots[:, None] + np.arange(3)], unknowns.station_points(surface, state)])


def strays_of(state: Vector, surface: SurfaceName, unknowns: Unknowns) -> tuple[Vector, Matrix]:
    """Return how far those places lie off the surface's plane, square to it, with derivatives. [mm]"""
    stations = unknowns.stations_on(surface)
    strays, rows = _of_spots(state, unknowns.shape.axes(surface), unknowns.spots_on(surface), unknowns.surface(surface))
    own = np.zeros((len(stations), len(state)))
    own[np.arange(len(stations)), stations] = 1.0
    return np.concatenate([strays, state[stations]]), np.concatenate([rows, own])


def _of_spots(state: Vector, axes: Axes, spots: NDArray[np.intp], plane: int) -> tuple[Vector, Matrix]:
    across, p, q = axes
    offset, tilt_p, tilt_q = state[plane : plane + 3]
    norm = math.sqrt(1 + tilt_p**2 + tilt_q**2)
    at_p, at_q = state[spots + p], state[spots + q]
    stray = (state[spots + across] - offset - tilt_p * at_p - tilt_q * at_q) / norm
    rows = np.arange(len(spots))
    jacobian = np.zeros((len(spots), len(state)))
    jacobian[rows, spots + across] = 1 / norm
    jacobian[rows, spots + p], jacobian[rows, spots + q] = -tilt_p / norm, -tilt_q / norm
    jacobian[:, plane] = -1 / norm
    jacobian[:, plane + 1] = -at_p / norm - stray * tilt_p / norm**2
    jacobian[:, plane + 2] = -at_q / norm - stray * tilt_q / norm**2
    return stray, jacobian
