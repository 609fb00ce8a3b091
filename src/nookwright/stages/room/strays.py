"""How far a surface strays from its plane at every place on it that was touched: spots, stations, pieces of scans."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.stages.inputs.scan import Place, Scan
from nookwright.stages.inputs.survey import SurfaceName
from nookwright.stages.survey.scan_pose import placed, pose_places
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


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Touched:
    """The places touched on a surface, in the order of `places_of`, ready to be evaluated again and again.

    Args:
        unknowns: the room's unknowns.
        axes: the surface's coordinate, and the two it is a function of.
        plane: place of its offset in the state.
        spots: place of each spot's x, y and z in the state.
        stations: places of the stations' strays.
        pieces: each scan that shows the surface, with its pieces' places in it.
        columns: the unknowns all these depend on: spots, stations, the plane, the scans' poses.
    """

    unknowns: Unknowns
    axes: Axes
    plane: int
    spots: NDArray[np.intp]
    stations: NDArray[np.intp]
    pieces: tuple[tuple[Scan, Matrix], ...]
    columns: NDArray[np.intp]

    def along(self, state: Vector) -> Vector:
        """Return the direction of length 1 square to the surface's plane."""
        return _square_to(state[self.plane : self.plane + 3], self.axes)

    def strays(self, state: Vector, turn: Matrix) -> tuple[Vector, Matrix]:
        """Return how far the places lie off the surface's plane, square to it, multiplied by a matrix. [mm]

        Args:
            state: the unknowns.
            turn: the matrix.

        Returns:
            The products, and their derivatives by `columns`.
        """
        plane = state[self.plane : self.plane + 3]
        along, strays, by_plane = _off_plane(state[self.spots], self.axes, plane)
        spots, touched = len(self.spots), len(self.spots) + len(self.stations)
        found, tilted = np.zeros(len(turn)), np.zeros((len(turn), 3))
        found[:spots], found[spots:touched], tilted[:spots] = strays, state[self.stations], by_plane
        jacobian = np.empty((len(turn), len(self.columns)))
        jacobian[:, : 3 * spots] = (turn[:, :spots, None] * along).reshape(len(turn), 3 * spots)
        at = 2 * spots + touched
        jacobian[:, 3 * spots : at] = turn[:, spots:touched]
        first = at + 3
        for scan, points in self.pieces:
            here = placed(scan, points, state, self.unknowns)
            rows = slice(touched, touched + len(points))
            _, found[rows], tilted[rows] = _off_plane(here.places, self.axes, plane)
            jacobian[:, first : first + 7] = turn[:, rows] @ np.einsum("i,nij->nj", along, here.rows)
            touched, first = touched + len(points), first + 7
        jacobian[:, at : at + 3] = turn @ tilted
        return turn @ found, jacobian


def touched_on(surface: SurfaceName, unknowns: Unknowns) -> Touched:
    """Return the places touched on a surface."""
    spots = unknowns.spots_on(surface)[:, None] + np.arange(3)
    stations, plane = unknowns.stations_on(surface), unknowns.surface(surface)
    pieces = tuple((scan, np.array(points)) for scan, points, _ in pieces_on(surface, unknowns))
    poses = [pose_places(scan, unknowns) for scan, _ in pieces]
    return Touched(
        unknowns=unknowns,
        axes=unknowns.shape.axes(surface),
        plane=plane,
        spots=spots,
        stations=stations,
        pieces=pieces,
        columns=np.concatenate([spots.ravel(), stations, np.arange(plane, plane + 3), *poses]),
    )


def strays_of(state: Vector, surface: SurfaceName, unknowns: Unknowns) -> tuple[Vector, Matrix]:
    """Return how far the places touched on a surface lie off its plane, square to it, with derivatives. [mm]"""
    touched = touched_on(surface, unknowns)
    count = len(touched.spots) + len(touched.stations) + sum(len(points) for _, points in touched.pieces)
    strays, own = touched.strays(state, np.eye(count))
    jacobian = np.zeros((count, len(state)))
    jacobian[:, touched.columns] = own
    return strays, jacobian


def _off_plane(places: Matrix, axes: Axes, plane: Vector) -> tuple[Vector, Vector, Matrix]:
    """Return the way square to a plane, how far places lie off it that way, and derivatives by the plane. [mm]"""
    _, p, q = axes
    norm = math.sqrt(1 + plane[1] ** 2 + plane[2] ** 2)
    along = _square_to(plane, axes)
    strays = places @ along - plane[0] / norm
    by_plane = np.column_stack(
        [
            np.full(len(places), -1 / norm),
            -places[:, p] / norm - strays * plane[1] / norm**2,
            -places[:, q] / norm - strays * plane[2] / norm**2,
        ]
    )
    return along, strays, by_plane


def _square_to(plane: Vector, axes: Axes) -> Vector:
    """Return the direction of length 1 square to a plane."""
    across, p, q = axes
    norm = math.sqrt(1 + plane[1] ** 2 + plane[2] ** 2)
    along = np.zeros(3)
    along[across], along[p], along[q] = 1 / norm, -plane[1] / norm, -plane[2] / norm
    return along
