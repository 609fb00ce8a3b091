"""How far a surface strays from its plane at every place on it that was touched: spots, stations, pieces of scans."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.stages.inputs.scan import Place, Scan
from nookwright.stages.inputs.survey import SurfaceName
from nookwright.stages.survey.scan_pose import placed
from nookwright.stages.survey.shape import Axes
from nookwright.stages.survey.tools import GRAIN_SD_MM
from nookwright.stages.survey.unknowns import Unknowns


def places_of(state: Vector, surface: SurfaceName, unknowns: Unknowns) -> Matrix:
    """Return the places touched on a surface, one a row: its spots, its stations, then the pieces in scans. [mm]"""
    spots = unknowns.spots_on(surface)
    pieces = [
        placed(scan, np.array(points), state, unknowns).places for scan, points, _ in pieces_on(surface, unknowns)
    ]
    return np.concatenate([state[spots[:, None] + np.arange(3)], unknowns.station_points(surface, state), *pieces])


def pieces_on(surface: SurfaceName, unknowns: Unknowns) -> list[tuple[Scan, list[Place], list[float]]]:
    """Return, for each scan that shows a surface, its pieces: their places in the scan and spreads. [mm]"""
    found = []
    for scan in unknowns.scans:
        pieces = [patch for patch in scan.patches if patch.surface == surface]
        if pieces:
            found.append((scan, [patch.xyz for patch in pieces], [patch.sd_mm for patch in pieces]))
    return found


def own_variances(surface: SurfaceName, unknowns: Unknowns) -> Vector:
    """Return what each of those places strays on its own account: the plaster's grain, or a scan's noise. [mm2]"""
    touched = len(unknowns.spots_on(surface)) + len(unknowns.stations_on(surface))
    noise = [np.square(sds) for _, _, sds in pieces_on(surface, unknowns)]
    return np.concatenate([np.full(touched, GRAIN_SD_MM**2), *noise])


def strays_of(state: Vector, surface: SurfaceName, unknowns: Unknowns) -> tuple[Vector, Matrix]:
    """Return how far those places lie off the surface's plane, square to it, with derivatives. [mm]"""
    stations = unknowns.stations_on(surface)
    strays, rows = _of_spots(state, unknowns.shape.axes(surface), unknowns.spots_on(surface), unknowns.surface(surface))
    own = np.zeros((len(stations), len(state)))
    own[np.arange(len(stations)), stations] = 1.0
    pieces = [
        _of_pieces(state, surface, scan, np.array(points), unknowns) for scan, points, _ in pieces_on(surface, unknowns)
    ]
    return (
        np.concatenate([strays, state[stations], *(piece for piece, _ in pieces)]),
        np.concatenate([rows, own, *(its for _, its in pieces)]),
    )


def _of_pieces(
    state: Vector, surface: SurfaceName, scan: Scan, points: Matrix, unknowns: Unknowns
) -> tuple[Vector, Matrix]:
    """Return how far pieces of a scan lie off a surface's plane, with derivatives by the scan's pose and the plane."""
    here, plane = placed(scan, points, state, unknowns), unknowns.surface(surface)
    axes = unknowns.shape.axes(surface)
    along, strays, by_plane = _off_plane(here.places, axes, state[plane : plane + 3])
    jacobian = np.zeros((len(points), len(state)))
    jacobian[:, here.columns] = np.einsum("i,nij->nj", along, here.rows)
    jacobian[:, plane : plane + 3] = by_plane
    return strays, jacobian


def _of_spots(state: Vector, axes: Axes, spots: NDArray[np.intp], plane: int) -> tuple[Vector, Matrix]:
    places = state[spots[:, None] + np.arange(3)]
    along, strays, by_plane = _off_plane(places, axes, state[plane : plane + 3])
    jacobian = np.zeros((len(spots), len(state)))
    jacobian[np.arange(len(spots))[:, None], spots[:, None] + np.arange(3)] = along
    jacobian[:, plane : plane + 3] = by_plane
    return strays, jacobian


def _off_plane(places: Matrix, axes: Axes, plane: Vector) -> tuple[Vector, Vector, Matrix]:
    """Return the way square to a plane, how far places lie off it that way, and derivatives by the plane. [mm]"""
    across, p, q = axes
    norm = math.sqrt(1 + plane[1] ** 2 + plane[2] ** 2)
    along = np.zeros(3)
    along[across], along[p], along[q] = 1 / norm, -plane[1] / norm, -plane[2] / norm
    strays = places @ along - plane[0] / norm
    by_plane = np.column_stack(
        [
            np.full(len(places), -1 / norm),
            -places[:, p] / norm - strays * plane[1] / norm**2,
            -places[:, q] / norm - strays * plane[2] / norm**2,
        ]
    )
    return along, strays, by_plane
