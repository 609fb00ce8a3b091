"""Projections shared by room and furniture pages: the room's edges, boards cut by a plane or seen from the front."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from nookwright.drawings.clearance import Taken, touching
from nookwright.drawings.lettering import text_corners
from nookwright.drawings.page import Fill, Items, Pen, Shape, Text
from nookwright.drawings.view import View
from nookwright.geometry.frame import Point2
from nookwright.geometry.plane import spaced
from nookwright.geometry.solid import section
from nookwright.stages.inputs.survey import SurfaceName
from nookwright.stages.parts.part import Part
from nookwright.stages.parts.solids import solid_of
from nookwright.stages.room.room import Room

STEP_MM = 50.0
"""Spacing of the places at which a room edge is drawn; walls wave more slowly. Our choice. [mm]"""

BAND_MM = 3.5
"""Width of the hatched band beside a room edge, on paper. Our choice. [mm]"""

ALIKE_DEG = 20.0
"""An edge nearer than this to the hatching's own direction would not read as hatched. Our choice. [deg]"""

OPEN_TOP_MM = 150.0
"""How far walls are drawn above what stands there when no ceiling was surveyed. Our choice. [mm]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """The room's edges where a plane cuts it, each from left to right or from bottom to top. [mm]

    Args:
        lower: the floor in elevation; empty in plan.
        left, right: side walls in elevation and plan, the floor's end upward or from the front inward.
        upper: slope and ceiling in elevation, the back wall in plan; empty when there is none.
    """

    lower: tuple[Point2, ...]
    left: tuple[Point2, ...]
    right: tuple[Point2, ...]
    upper: tuple[Point2, ...]

    def edges(self) -> tuple[tuple[Point2, ...], ...]:
        """Return its edges joined into chains that run with the room on their left, the wall on their right."""
        around = (self.left[::-1], self.lower, self.right, self.upper[::-1])
        chains: list[list[Point2]] = []
        for edge in around:
            if not edge:
                continue
            if chains and math.dist(chains[-1][-1], edge[0]) < 1.0:
                chains[-1].extend(edge[1:])
            else:
                chains.append(list(edge))
        return tuple(tuple(chain) for chain in chains)

    def corners(self) -> tuple[Point2, Point2]:
        """Return the lower left and upper right corner of the rectangle round it. [mm]"""
        return around(point for edge in (self.lower, self.left, self.right, self.upper) for point in edge)


def around(points: Iterable[Point2]) -> tuple[Point2, Point2]:
    """Return the lower left and upper right corner of the rectangle round points. [mm]"""
    xs, ys = zip(*points, strict=True)
    return (min(xs), min(ys)), (max(xs), max(ys))


def roof(room: Room, x_mm: float, y_mm: float) -> float:
    """Return the height of slope or ceiling, whichever is lower; inf where neither was surveyed. [mm]"""
    names: tuple[SurfaceName, ...] = ("slope", "ceiling")
    return min((room.at(name, x_mm, y_mm).value for name in names if room.has(name)), default=math.inf)


def elevation_section(room: Room, y_mm: float, x_range: tuple[float, float], top_mm: float) -> Section:
    """Return the room cut by an upright plane square to the way one looks at the back wall.

    Args:
        room: the room.
        y_mm: the plane. [mm]
        x_range: where an end without a wall is drawn to. [mm]
        top_mm: where walls end when no ceiling was surveyed. [mm]

    Returns:
        Floor, side walls, and slope and ceiling.
    """
    left, right = (_side(room, name, y_mm, top_mm) for name in ("left", "right"))
    x0 = left[0][0] if left else x_range[0]
    x1 = right[0][0] if right else x_range[1]
    lower = tuple((x, room.at("floor", x, y_mm).value) for x in spaced(x0, x1, STEP_MM))
    upper: tuple[Point2, ...] = ()
    if room.has("slope") or room.has("ceiling"):
        u0 = left[-1][0] if left else x0
        u1 = right[-1][0] if right else x1
        heights = ((x, roof(room, x, y_mm)) for x in spaced(u0, u1, STEP_MM / 2))
        upper = tuple((x, z) for x, z in heights if z > room.at("floor", x, y_mm).value)
    return Section(lower=lower, left=left, right=right, upper=upper)


def _side(room: Room, name: Literal["left", "right"], y: float, top: float) -> tuple[Point2, ...]:
    """Return a side wall from the floor up to the slope, the ceiling or a chosen height."""
    if not room.has(name):
        return ()
    x_foot = room.at(name, y, 0.0).value
    foot = room.at("floor", x_foot, y).value
    head = min(top, roof(room, x_foot, y))
    head = min(top, roof(room, room.at(name, y, head).value, y))
    return tuple((room.at(name, y, z).value, z) for z in spaced(foot, head, STEP_MM))


def plan_section(room: Room, z_mm: float, x_range: tuple[float, float], front_mm: float) -> Section:
    """Return the room cut by a level plane.

    Args:
        room: the room.
        z_mm: the plane. [mm]
        x_range: where an end without a wall is drawn to. [mm]
        front_mm: how far to the front side walls are drawn. [mm]

    Returns:
        The side walls and the back wall.
    """
    left, right = (_beside(room, name, z_mm, front_mm) for name in ("left", "right"))
    x0 = left[-1][0] if left else x_range[0]
    x1 = right[-1][0] if right else x_range[1]
    upper = tuple((x, room.at("back", x, z_mm).value) for x in spaced(x0, x1, STEP_MM))
    return Section(lower=(), left=left, right=right, upper=upper)


def _beside(room: Room, name: Literal["left", "right"], z: float, front: float) -> tuple[Point2, ...]:
    """Return a side wall from the front up to the back wall."""
    if not room.has(name):
        return ()
    back = room.at("back", room.at(name, 0.0, z).value, z).value
    front = max(front, _ends_at(room, name))
    return tuple((room.at(name, y, z).value, y) for y in spaced(front, back, STEP_MM))


def _ends_at(room: Room, side: Literal["left", "right"]) -> float:
    """Return y of the outside corner at which a side wall ends; far in front when it ends at none. [mm]"""
    column = room.front_of(side)
    nose = room.is_nose(column)
    return max((s.xyz[1] for s in room.spots if nose and room.column(s.name) == column), default=-math.inf)


def walls(view: View, edges: Iterable[Sequence[Point2]], taken: Taken) -> Items:
    """Return room edges as wide lines with a hatched band on the wall's side, and keep words off the bands.

    Args:
        view: how the model comes onto paper.
        edges: chains that run with the room on their left. [mm]
        taken: what stands on the paper.
    """
    items: list[Shape] = []
    chains = tuple(edges)
    fill: Fill = "counter-hatch" if any(_runs_like_hatching(view.all_at(edge)) for edge in chains) else "hatch"
    for edge in chains:
        inner = view.all_at(edge)
        outer = _beside_on_paper(inner, BAND_MM)
        items.append(Shape(points=(*inner, *outer[::-1]), pen=None, fill=fill))
        items.append(Shape(points=inner, closed=False, pen="wide"))
        taken.words.extend((inner[i], inner[i + 1], outer[i + 1], outer[i]) for i in range(len(inner) - 1))
    return tuple(items)


def _runs_like_hatching(points: Sequence[Point2]) -> bool:
    """Return whether a run of points on paper has a length that rises to the right about as steeply as hatching."""
    alike = 0.0
    for (x0, y0), (x1, y1) in pairwise(points):
        rise_deg = math.degrees(math.atan2(y0 - y1, x1 - x0)) % 180.0
        if abs(rise_deg - 45.0) < ALIKE_DEG:
            alike += math.dist((x0, y0), (x1, y1))
    return alike > 2 * BAND_MM


def _beside_on_paper(points: Sequence[Point2], off: float) -> tuple[Point2, ...]:
    """Return the line that keeps a distance on the right-hand side of a run of points on paper, corners mitred."""
    normals: list[Point2] = []
    for (x0, y0), (x1, y1) in pairwise(points):
        length = math.hypot(x1 - x0, y1 - y0) or 1.0
        # On paper y runs down, so the right of the way (dx, dy) is (-dy, dx).
        normals.append(((y0 - y1) / length, (x1 - x0) / length))
    moved: list[Point2] = []
    for i, (x, y) in enumerate(points):
        (ax, ay), (bx, by) = normals[max(i - 1, 0)], normals[min(i, len(normals) - 1)]
        share = off / max(0.3, 1.0 + ax * bx + ay * by)
        moved.append((x + (ax + bx) * share, y + (ay + by) * share))
    return tuple(moved)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """A board cut by a plane: the outlines in the plane's two coordinates. [mm]"""

    part: Part
    outlines: tuple[tuple[Point2, ...], ...]

    @property
    def middle(self) -> Point2:
        """The middle of its first outline. [mm]"""
        return middle(self.outlines[0])


def middle(outline: Sequence[Point2]) -> Point2:
    """Return the mean of an outline's corners. [mm]"""
    return sum(x for x, _ in outline) / len(outline), sum(y for _, y in outline) / len(outline)


def boards_cut(parts: Iterable[Part], axis: Literal["x", "y", "z"], at_mm: float) -> tuple[Cut, ...]:
    """Return the boards that a plane square to an axis cuts, in their own order."""
    cuts = (Cut(part=part, outlines=section(solid_of(part), axis=axis, at_mm=at_mm)) for part in parts)
    return tuple(cut for cut in cuts if cut.outlines)


def draw_cuts(view: View, cuts: Iterable[Cut], *, pen: Pen = "wide", fill: Fill = "white") -> Items:
    """Return cut boards as filled outlines."""
    return tuple(view.polygon(outline, pen=pen, fill=fill) for cut in cuts for outline in cut.outlines)


def seen_from_front(part: Part) -> tuple[Point2, ...]:
    """Return a board's outline in elevation (x, z): its face where that looks to the room, else its extent. [mm]"""
    if abs(part.frame.out_of_face[1]) > 0.99:
        return tuple((x, z) for x, _, z in (part.frame.to_room(u, v) for u, v in part.outline))
    (x0, _, z0), (x1, _, z1) = solid_of(part).bounds
    return ((x0, z0), (x1, z0), (x1, z1), (x0, z1))


def placed_words(candidates: Sequence[Text], taken: Taken) -> Items:
    """Return words at the first free place, or nothing when there is none."""
    for text in candidates:
        if taken.free(text_corners(text)):
            taken.note((text,))
            return (text,)
    return ()


def covered(point: Point2, outlines: Iterable[Sequence[Point2]]) -> bool:
    """Return whether a point lies in any of the convex outlines."""
    return any(touching((point, point), outline) for outline in outlines)
