"""A point cloud thinned to patches: one robust mean for each piece of each surface, in the scan's own coordinates."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.solvers.robust_plane import MAD_TO_SD, clipped_plane, outermost_plane
from nookwright.stages.inputs.scan import Patch, Scan
from nookwright.stages.inputs.survey import SurfaceName
from nookwright.stages.survey.shape import Shape

MOST_PATCHES = 150
"""More patches than this on all surfaces together are made fewer by larger ones: they share most of their waviness
and only cost time. Common practice, no source."""

CELLS_MM = (150.0, 200.0, 250.0, 300.0, 400.0, 500.0)
"""Sizes a patch may have; the smallest that keeps them few enough is taken. [mm] Common practice, no source."""

LARGER = 1.1
"""By how much patches grow when they come out too many, as they do along ragged edges."""

BAND_MM = 200.0
"""Points this near to where a surface is expected may belong to it. [mm] Common practice, no source."""

COARSE_MM = 100.0
"""Pieces by which a surface is first looked for where points lie close. [mm] Common practice, no source."""

ON_PLANE_MM = 15.0
"""A piece this near to a plane lies on it, waviness included. [mm] Common practice, no source."""

SURFACE_MM = 30.0
"""Points farther than this off the surface's plane are something else. [mm] Common practice, no source."""

EDGE_MM = 50.0
"""Nothing nearer than this to another surface or to the end of the room counts: mixed points, mouldings, rounded
edges. [mm] Common practice, no source."""

FOOT_MM = 150.0
"""No point of a wall below this counts when no skirting was told of: one may stand there. [mm]
Common practice, no source."""

MOST_TILT = 0.2
"""A surface turned or leaning more than this from the first guess is not that surface. Common practice, no source."""

LEAST_POINTS = 30
"""A patch of fewer points is none. Common practice, no source."""

LEAST_COUNTED = 0.6
"""A patch of which less than this share lies together is no plain piece of a surface. Common practice, no source."""

MOST_SPREAD = 1.6
"""A patch whose points stray more than so many times the scanner's noise is no plain piece of a surface.
Common practice, no source."""

MOST_TURN = 0.06
"""A patch turned more than this from its surface is partly something else: plaster does not wave so steeply.
Common practice, no source."""

STEP_MM = 6.0
STEP_SDS = 5.0
"""A patch that differs from those about it by more than either is something hung or stuck on the surface.
Common practice, no source."""

WELL_SEEN, NEAR_SPOT_MM = 8, 500.0
"""A surface with so many patches, one of them this near to a spot, tells whether the spot lies on it. Common practice,
no source."""

FLOOR_SHARE = 0.25
LEAST_SD_MM = 0.3
"""However many points it has, a patch is no surer than this share of one point's noise, nor than that: neighbouring
points share errors of colour, angle and registration. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Expected:
    """The room as first guessed, for finding its surfaces in a scan.

    Args:
        shape: the room's kind.
        planes: each surface's offset and two tilts.
        low, high: corners of the box that the room's spots span; the scan is looked at no farther.
        extents: how far each surface reaches in its two other coordinates, lowest then highest. [mm]
        foot_mm: how high above the floor the walls begin to count. [mm]
    """

    shape: Shape
    planes: dict[SurfaceName, Vector]
    low: Vector
    high: Vector
    extents: dict[SurfaceName, tuple[Vector, Vector]]
    foot_mm: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Found:
    """The surfaces of a room found in a scan.

    Args:
        planes: of each surface found, its plane in the room as first guessed.
        patches: its pieces.
    """

    planes: dict[SurfaceName, Vector]
    patches: tuple[Patch, ...]


def foot_of(skirting_height_mm: float | None) -> float:
    """Return how high above the floor the walls of a room begin to count. [mm]"""
    return FOOT_MM if skirting_height_mm is None else skirting_height_mm + EDGE_MM


def find_surfaces(points: Matrix, scan: Scan, turn: Matrix, shift: Vector, expected: Expected) -> Found:
    """Return the pieces of a room's surfaces that a scan shows.

    Furniture, skirting, sockets and stray points are left out: a surface is the outermost plane that many pieces
    lie on; a piece is plain or does not count; one that steps out of its neighbours does not count either.

    Args:
        points: the scan, in its own coordinates, one point a row. [mm]
        scan: what is known of it.
        turn, shift: bring its coordinates to the room as first guessed, nearly.
        expected: the room as first guessed.

    Returns:
        The surfaces found.
    """
    placed = points @ turn.T + shift
    inside = np.all((placed >= expected.low - BAND_MM) & (placed <= expected.high + BAND_MM), axis=1)
    own, placed = points[inside], placed[inside]
    holding = _size_holding_enough(len(own), expected)
    planes: dict[SurfaceName, Vector] = {}
    for surface in expected.planes:
        plane = _plane_of(surface, placed, expected, min(max(COARSE_MM, holding / 2), CELLS_MM[-1] / 2))
        if plane is not None:
            planes[surface] = plane
    size = max(_cell_size(planes, expected), min(holding, CELLS_MM[-1]))
    while True:
        patches = [
            patch for surface in planes for patch in _patches_on(surface, own, placed, planes, expected, scan, size)
        ]
        if len(patches) <= MOST_PATCHES:
            return Found(planes=planes, patches=tuple(patches))
        size *= LARGER


def _off(surface: SurfaceName, plane: Vector, placed: Matrix, shape: Shape) -> Vector:
    """Return how far points stand before a surface's plane, into the room, square to it. [mm]"""
    across, p, q = shape.axes(surface)
    off = placed[:, across] - plane[0] - plane[1] * placed[:, p] - plane[2] * placed[:, q]
    found: Vector = shape.into_room(surface) * off / math.sqrt(1 + plane[1] ** 2 + plane[2] ** 2)
    return found


def _plane_of(surface: SurfaceName, placed: Matrix, expected: Expected, piece_mm: float) -> Vector | None:
    """Return the plane a surface really has in the room as first guessed; None when the scan does not show it."""
    _, p, q = expected.shape.axes(surface)
    guess = expected.planes[surface]
    off = _off(surface, guess, placed, expected.shape)
    within = (np.abs(off) <= BAND_MM) & _inside(placed[:, [p, q]], expected.extents[surface])
    if surface in expected.shape.walls:
        within &= placed[:, 2] >= expected.low[2] + expected.foot_mm
    places, heights = _pieces(placed[within][:, [p, q]], off[within], piece_mm)
    found = outermost_plane(places, heights, ON_PLANE_MM, MOST_TILT)
    if found is None:
        return None
    into = expected.shape.into_room(surface) * math.sqrt(1 + guess[1] ** 2 + guess[2] ** 2)
    return np.asarray(guess + into * found)


def _inside(places: Matrix, extent: tuple[Vector, Vector]) -> NDArray[np.bool_]:
    """Return which places lie within a surface's extent."""
    return np.asarray(np.all((places >= extent[0]) & (places <= extent[1]), axis=1))


def _pieces(places: Matrix, heights: Vector, size: float) -> tuple[Matrix, Vector]:
    """Return the middles of coarse pieces, and the height at which most of each one's points lie."""
    found: list[tuple[float, float]] = []
    modes: list[float] = []
    for rows in _cells(places, size, LEAST_POINTS // 2):
        counts, edges = np.histogram(heights[rows], bins=np.arange(-BAND_MM, BAND_MM + 5.0, 5.0))
        together = np.convolve(counts, (1, 1, 1), mode="same")
        best = int(np.argmax(together))
        near = rows[np.abs(heights[rows] - (edges[best] + 2.5)) <= 7.5]
        found.append(tuple(np.median(places[near], axis=0)))
        modes.append(float(np.median(heights[near])))
    return np.array(found).reshape(-1, 2), np.array(modes)


def _cells(places: Matrix, size: float, least: int) -> Iterator[NDArray[np.intp]]:
    """Give the rows of the places in each cell of a grid that holds enough of them."""
    if len(places) == 0:
        return
    columns = np.floor(places / size).astype(np.int64)
    columns -= columns.min(axis=0)
    keys = columns[:, 0] * (columns[:, 1].max() + 1) + columns[:, 1]
    order = np.argsort(keys, kind="stable")
    ends = np.flatnonzero(np.diff(keys[order])) + 1
    yield from (rows for rows in np.split(order, ends) if len(rows) >= least)


def _areas(surfaces: Iterable[SurfaceName], expected: Expected) -> list[float]:
    """Return how large each surface is, at most, seen along its own axis. [mm2]"""
    return [float(np.prod(expected.extents[surface][1] - expected.extents[surface][0])) for surface in surfaces]


def _size_holding_enough(points: int, expected: Expected) -> float:
    """Return the size of patches that would hold twice the points they need, were all points spread evenly. [mm]"""
    return math.sqrt(2 * LEAST_POINTS * sum(_areas(expected.planes, expected)) / max(points, 1))


def _cell_size(planes: Iterable[SurfaceName], expected: Expected) -> float:
    """Return the smallest size of patches that keeps them few enough. [mm]"""
    areas = _areas(planes, expected)
    for size in CELLS_MM:
        if sum(math.ceil(area / size**2) for area in areas) <= MOST_PATCHES:
            return size
    return CELLS_MM[-1] if not areas else max(CELLS_MM[-1], math.sqrt(sum(areas) / MOST_PATCHES))


def _patches_on(
    surface: SurfaceName,
    own: Matrix,
    placed: Matrix,
    planes: dict[SurfaceName, Vector],
    expected: Expected,
    scan: Scan,
    size: float,
) -> list[Patch]:
    _, p, q = expected.shape.axes(surface)
    off = _off(surface, planes[surface], placed, expected.shape)
    within = np.flatnonzero(np.abs(off) <= SURFACE_MM)
    within = within[_clear_of_edges(surface, placed[within], planes, expected)]
    if len(within) == 0:
        return []
    places = placed[within][:, [p, q]]
    found: list[tuple[Vector, float, float, NDArray[np.intp]]] = []
    for rows in _cells(places, size, LEAST_POINTS):
        here = within[rows]
        middle = places[rows].mean(axis=0)
        plane, sd, counted = clipped_plane(places[rows] - middle, off[here], max(scan.sd_mm / 2, LEAST_SD_MM))
        plain = np.count_nonzero(counted) >= LEAST_COUNTED * len(rows)
        plain &= bool(np.all(np.abs(plane[1:]) <= MOST_TURN))
        if plain and sd <= MOST_SPREAD * max(scan.sd_mm, 1.0):
            spread = math.hypot(sd / math.sqrt(np.count_nonzero(counted)), FLOOR_SHARE * scan.sd_mm, LEAST_SD_MM)
            found.append((middle, float(plane[0]), spread, here[counted]))
    if not found:
        return []
    kept = _in_step(np.array([one[0] for one in found]), np.array([one[1] for one in found]), size)
    return [
        Patch(surface=surface, xyz=tuple(own[rows].mean(axis=0).tolist()), sd_mm=spread)
        for (_, _, spread, rows), good in zip(found, kept, strict=True)
        if good
    ]


def _clear_of_edges(
    surface: SurfaceName, placed: Matrix, planes: dict[SurfaceName, Vector], expected: Expected
) -> NDArray[np.bool_]:
    """Return which points stand clear of the other surfaces and of the ends of their own.

    Beyond an outside corner lies more of the room: a wall is kept clear of on both sides, along its own length.
    """
    shape = expected.shape
    clear = _inside(placed[:, list(shape.axes(surface)[1:])], expected.extents[surface])
    for other, plane in planes.items():
        if other == surface:
            continue
        off = _off(other, plane, placed, shape)
        if other in shape.walls:
            low, high = expected.extents[other]
            beside = _inside(placed[:, list(shape.axes(other)[1:])], (low - EDGE_MM, high + EDGE_MM))
            clear &= (np.abs(off) >= EDGE_MM) | ~beside
        else:
            clear &= off >= EDGE_MM
    if surface in shape.walls:
        floor = placed[:, 2] - expected.low[2]
        if "floor" in planes:
            floor = _off("floor", planes["floor"], placed, shape)
        clear &= floor >= expected.foot_mm
    return np.asarray(clear)


def _in_step(places: Matrix, offs: Vector, size: float) -> NDArray[np.bool_]:
    """Return which patches do not stand out of the plane of those about them."""
    kept = np.ones(len(offs), dtype=np.bool_)
    if len(offs) < 5:
        return kept
    steps = np.zeros(len(offs))
    for row, place in enumerate(places):
        apart = np.hypot(*(places - place).T)
        near = np.argsort(apart, kind="stable")[1:9]
        steps[row] = offs[row] - float(np.median(offs[near]))
    usual = MAD_TO_SD * float(np.median(np.abs(steps - np.median(steps))))
    return np.asarray(np.abs(steps) <= max(STEP_MM, STEP_SDS * usual))


def spots_off(
    picked: Matrix, surfaces: Sequence[Sequence[SurfaceName]], placed: Matrix, found: Found, shape: Shape
) -> list[tuple[SurfaceName, float]]:
    """Return, for each spot, the surface it misses most of those it should lie on, and by how much. [mm]

    A surface counts where the scan shows it well, near to the spot.

    Args:
        picked: the spots in the scan's own coordinates, one a row. [mm]
        surfaces: of each, the surfaces it should lie on.
        placed: the spots in the room as first guessed, one a row. [mm]
        found: the surfaces found.
        shape: the room's kind.

    Returns:
        A surface and a distance for each spot; any surface and 0 where nothing can be said.
    """
    seen = {s: np.array([patch.xyz for patch in found.patches if patch.surface == s]) for s in found.planes}
    worst: list[tuple[SurfaceName, float]] = []
    for own, its, place in zip(picked, surfaces, placed, strict=True):
        near = [
            s
            for s in its
            if len(seen.get(s, ())) >= WELL_SEEN
            and float(np.min(np.linalg.norm(seen[s] - own, axis=1))) <= NEAR_SPOT_MM
        ]
        misses = [(s, float(abs(_off(s, found.planes[s], place[None], shape)[0]))) for s in near]
        worst.append(max(misses, key=lambda miss: miss[1], default=("floor", 0.0)))
    return worst
