"""Boards as solids in the room: which of them foul each other, and which stick through a surface of the room."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import numpy.typing as npt

from nookwright.geometry.frame import Point2
from nookwright.geometry.polygon import distance_to_boundary_mm, points_along
from nookwright.geometry.solid import Solid, bounds_overlap, interference_mm3, less, placed, slab
from nookwright.stages.inputs.survey import SurfaceName
from nookwright.stages.parts.part import Groove, Part, PartList

if TYPE_CHECKING:
    from nookwright.stages.room.room import Room

Points = npt.NDArray[np.float64]
"""Places in the room, one a row. [mm]"""

_SURFACES: tuple[SurfaceName, ...] = ("floor", "back", "left", "right", "slope", "ceiling")
"""In the order in which they are tried."""

_TOUCHING_MM = 0.01
"""Boxes that overlap by less along an axis only touch. Our choice: a tenth of what a rule shows. [mm]"""
_AT_EDGE_MM = 0.05
"""A groove whose end lies this near the outline runs out at the edge. Our choice. [mm]"""
_PAST_MM = 1.0
"""How far cutters reach beyond the wood, so that no skin is left. Our choice. [mm]"""
_SAMPLE_MM = 150.0
"""Spacing of the points of an edge that are tried against the room; walls wave more slowly. Our choice. [mm]"""
_CLEAR_MM = 50.0
"""A board whose corners all stand this far off a surface cannot touch a bump of it. Our choice. [mm]"""


class Interference(NamedTuple):
    """Two parts that fill the same space: their numbers and the shared volume in mm3."""

    first: str
    second: str
    volume_mm3: float


class Protrusion(NamedTuple):
    """A part that sticks through a surface of the room, and how deep at worst, in mm."""

    number: str
    surface: SurfaceName
    depth_mm: float


def solid_of(part: Part) -> Solid:
    """Return a part as the solid that stands in the room: bevelled, its cut-outs and grooves taken out.

    Scribe allowances are left off: this is the board as it is once fitted.

    Args:
        part: the part.

    Returns:
        The solid in the room frame. [mm]

    Raises:
        ValueError: if its bevels meet inside the board.
    """
    board = slab(near=part.outline, far=part.face_b(), near_mm=0.0, far_mm=part.thickness_mm)
    cutters = [
        _cutter(
            (
                (hole.u_mm, hole.v_mm),
                (hole.u_mm + hole.width_mm, hole.v_mm),
                (hole.u_mm + hole.width_mm, hole.v_mm + hole.height_mm),
                (hole.u_mm, hole.v_mm + hole.height_mm),
            ),
            -_PAST_MM,
            part.thickness_mm + _PAST_MM,
        )
        for hole in part.cutouts
    ]
    cutters += [_groove_cutter(part, groove) for groove in part.grooves]
    return placed(less(board, tuple(cutters)), part.frame)


def _cutter(corners: tuple[Point2, ...], top_mm: float, bottom_mm: float) -> Solid:
    """Return the straight-sided solid between two depths below face A."""
    return slab(near=corners, far=corners, near_mm=top_mm, far_mm=bottom_mm)


def _groove_cutter(part: Part, groove: Groove) -> Solid:
    """Return what a groove takes out; it runs on past an edge that it reaches."""
    (u1, v1), (u2, v2) = groove.start, groove.end
    length = math.hypot(u2 - u1, v2 - v1)
    du, dv = (u2 - u1) / length, (v2 - v1) / length
    lean = max((abs(math.tan(edge.bevel_rad)) for edge in part.edges), default=0.0)
    run_out = part.thickness_mm * lean + _PAST_MM
    back = run_out if distance_to_boundary_mm(groove.start, part.outline) < _AT_EDGE_MM else 0.0
    on = run_out if distance_to_boundary_mm(groove.end, part.outline) < _AT_EDGE_MM else 0.0
    half = groove.width_mm / 2.0
    start, end = (u1 - back * du, v1 - back * dv), (u2 + on * du, v2 + on * dv)
    corners = (
        (start[0] + half * dv, start[1] - half * du),
        (end[0] + half * dv, end[1] - half * du),
        (end[0] - half * dv, end[1] + half * du),
        (start[0] - half * dv, start[1] + half * du),
    )
    if groove.face == "A":
        return _cutter(corners, -_PAST_MM, groove.depth_mm)
    return _cutter(corners, part.thickness_mm - groove.depth_mm, part.thickness_mm + _PAST_MM)


def interferences(parts: PartList, tolerance_mm3: float = 1.0) -> tuple[Interference, ...]:
    """Return the pairs of parts that fill the same space.

    Args:
        parts: the parts; grooves count as cut, so a housed end may stand in its housing.
        tolerance_mm3: shared volume that still counts as touching. [mm3]

    Returns:
        The pairs, in the parts' own order, with the volume each shares.
    """
    solids = [solid_of(part) for part in parts.parts]
    found: list[tuple[int, int, float]] = []
    for i, j in _near_pairs(solids):
        volume = interference_mm3(solids[i], solids[j])
        if volume > tolerance_mm3:
            found.append((i, j, volume))
    numbers = [part.number for part in parts.parts]
    return tuple(Interference(numbers[i], numbers[j], volume) for i, j, volume in sorted(found))


def _near_pairs(solids: list[Solid]) -> list[tuple[int, int]]:
    """Return the pairs whose bounding boxes overlap, found by sweeping along x."""
    bounds = [solid.bounds for solid in solids]
    open_now: list[int] = []
    pairs: list[tuple[int, int]] = []
    for i in sorted(range(len(solids)), key=lambda n: bounds[n][0][0]):
        open_now = [j for j in open_now if bounds[j][1][0] - bounds[i][0][0] > _TOUCHING_MM]
        pairs += [(min(i, j), max(i, j)) for j in open_now if bounds_overlap(solids[i], solids[j], _TOUCHING_MM)]
        open_now.append(i)
    return pairs


_AXES: dict[SurfaceName, tuple[int, int, int]] = {
    "floor": (0, 1, 2),
    "slope": (0, 1, 2),
    "ceiling": (0, 1, 2),
    "back": (0, 2, 1),
    "left": (1, 2, 0),
    "right": (1, 2, 0),
}
"""Which two coordinates a surface is asked for, and which one it gives: 0 = x, 1 = y, 2 = z."""


def outside_room(parts: PartList, room: Room, tolerance_mm: float = 0.5) -> tuple[Protrusion, ...]:
    """Return the parts that stick through a surface of the room.

    The corners of both faces, and points along their edges, are tried against every surface's best estimate; the
    surface's own uncertainty is the design's business. Scribe allowances are left off.

    Args:
        parts: the parts.
        room: the room.
        tolerance_mm: depth that still counts as touching. [mm]

    Returns:
        Part, surface and greatest depth, in the parts' own order. [mm]
    """
    surfaces = [surface for surface in _SURFACES if room.has(surface)]
    tried = [_tried_points(part) for part in parts.parts]
    deep: dict[tuple[int, SurfaceName], float] = {}
    for surface in surfaces:
        # All parts at once: a surface is asked twice, not twice for every part.
        at_corners = _depths_mm(room, surface, [corners for corners, _ in tried])
        near = [i for i, depth in enumerate(at_corners) if depth >= -_CLEAR_MM]
        for i, depth in zip(near, _depths_mm(room, surface, [tried[i][1] for i in near]), strict=True):
            deep[i, surface] = depth
    return tuple(
        Protrusion(part.number, surface, deep[i, surface])
        for i, part in enumerate(parts.parts)
        for surface in surfaces
        if deep.get((i, surface), -math.inf) > tolerance_mm
    )


def _tried_points(part: Part) -> tuple[Points, Points]:
    """Return a part's corners, and the points along its edges (corners among them), in the room."""
    faces = ((part.outline, 0.0), (part.face_b(), part.thickness_mm))
    corners = [(u, v, -depth) for outline, depth in faces for u, v in outline]
    along = [(u, v, -depth) for outline, depth in faces for u, v in points_along(outline, _SAMPLE_MM)]
    frame = part.frame
    axes, origin = np.array((frame.u, frame.v, frame.out_of_face)), np.array(frame.origin)
    return np.array(corners) @ axes + origin, np.array(along) @ axes + origin


def _depths_mm(room: Room, surface: SurfaceName, groups: list[Points]) -> list[float]:
    """Return for each group how deep its deepest point lies behind a surface, below 0 when all are clear of it. [mm]"""
    if not groups:
        return []
    first, second, along = _AXES[surface]
    points = np.concatenate(groups)
    outward = 1.0 if surface in {"back", "right", "slope", "ceiling"} else -1.0
    # The surface itself is enough here: how surely it is known is the design's business.
    deep = outward * (points[:, along] - room.fields[surface].values(points[:, first], points[:, second]))
    starts = np.cumsum([0, *(len(group) for group in groups[:-1])])
    return [float(depth) for depth in np.maximum.reduceat(deep, starts)]
