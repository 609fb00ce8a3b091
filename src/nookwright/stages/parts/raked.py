"""Raked boxes: lengths, bevels and places of the boards that meet a sloping board.

A box is seen from the front: x right, z up. The UPPER face of its raked board follows the line `Rake`. Its ends are
cut plumb, so at the low end the board's underside is the longer face, and at the high end the upper face is: between
the two faces every plumb cut shifts by t tan(pitch) along the slope.

An end is `over` its upright when the board runs to the upright's outer face and the upright stops at the
underside; it is `between` when the board stops at the upright's inner face and the upright runs up to the line.

Bevels follow `part.Edge`: saw tilt from square, above 0 where face B is the larger.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from nookwright.geometry.frame import Frame, Point2
from nookwright.geometry.plane import moved_edges
from nookwright.stages.design.design import Rake, Shelf, Upright
from nookwright.stages.inputs.brief import RakeEnd
from nookwright.stages.inputs.survey import Side
from nookwright.stages.parts.part import SQUARE, Edge

FRONT, REAR = Edge(meets="front"), Edge(meets="back")
"""The edges of an upright that lie to the room and to the wall; which is which decides its hand."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """A board without its name: what `Part` needs of its form and place.

    Args:
        outline: corners of face A, counter-clockwise. [mm]
        edges: one per outline side.
        frame: where face A stands in the room.
    """

    outline: tuple[Point2, ...]
    edges: tuple[Edge, ...]
    frame: Frame


@dataclass(frozen=True, slots=True, kw_only=True)
class RakedBoard:
    """A raked board's sizes along the slope. Its face A is the upper face.

    Args:
        x_left_mm, x_right_mm: where its upper face ends. [mm]
        length_upper_mm, length_lower_mm: length of the upper and of the lower face along the slope. [mm]
        long_point_mm: from its outermost point to its outermost point along the slope: the blank's length. [mm]
        short_point_mm: the length that both faces share; below 0 for a board shorter than its cuts. [mm]
        bevel_low_rad, bevel_high_rad: saw tilt of its ends from square.
        rises_right: whether its high end is the right one.
    """

    x_left_mm: float
    x_right_mm: float
    length_upper_mm: float
    length_lower_mm: float
    long_point_mm: float
    short_point_mm: float
    bevel_low_rad: float
    bevel_high_rad: float
    rises_right: bool


def raked_board(
    *,
    rake: Rake,
    x0_mm: float,
    x1_mm: float,
    side_mm: float,
    board_mm: float,
    low: RakeEnd,
    high: RakeEnd,
    level_top_mm: float | None = None,
) -> RakedBoard:
    r"""Return the sizes of a box's raked board.

    A plumb end tilts by the pitch: $b_{low} = +\theta$, $b_{high} = -\theta$ with the upper face as face A. Where
    the board meets a level top, both ends of the mitre tilt by half the pitch, upper face longer: $b = -\theta/2$.

    Args:
        rake: the line of its upper face.
        x0_mm: outer face of the left side. [mm]
        x1_mm: outer face of the right side. [mm]
        side_mm: thickness of the sides. [mm]
        board_mm: thickness of the raked board, and of the level top. [mm]
        low: how it meets the short side.
        high: how it meets the tall side.
        level_top_mm: height of the level top's upper face; then `high` does not count. [mm]

    Returns:
        Lengths and bevels.
    """
    rises_right = rake.slope > 0.0
    low_in = side_mm if low == "between" else 0.0
    high_in = side_mm if high == "between" else 0.0
    x_low = x0_mm + low_in if rises_right else x1_mm - low_in
    x_high = x1_mm - high_in if rises_right else x0_mm + high_in
    bevel_low, bevel_high = rake.pitch_rad, -rake.pitch_rad
    if level_top_mm is not None:
        x_high = x_at(rake, level_top_mm)
        bevel_high = -rake.pitch_rad / 2.0
    upper = abs(x_high - x_low) / math.cos(rake.pitch_rad)
    shifts = [board_mm * math.tan(bevel_low), board_mm * math.tan(bevel_high)]
    return RakedBoard(
        x_left_mm=min(x_low, x_high),
        x_right_mm=max(x_low, x_high),
        length_upper_mm=upper,
        length_lower_mm=upper + sum(shifts),
        long_point_mm=upper + sum(max(0.0, shift) for shift in shifts),
        short_point_mm=upper + sum(min(0.0, shift) for shift in shifts),
        bevel_low_rad=bevel_low,
        bevel_high_rad=bevel_high,
        rises_right=rises_right,
    )


def x_at(rake: Rake, z_mm: float) -> float:
    """Return where a rake line has a height, in mm."""
    return (z_mm - rake.height_at_0_mm) / rake.slope


def raked_board_shape(*, board: RakedBoard, rake: Rake, y_front_mm: float, y_back_mm: float) -> Shape:
    """Return a raked board's form: face A up, u from left to right along the slope, v into the wall.

    Args:
        board: its sizes.
        rake: the line of its upper face.
        y_front_mm: its front edge. [mm]
        y_back_mm: its rear edge. [mm]

    Returns:
        Outline with edges front, right end, back, left end.
    """
    cos, sin = math.cos(rake.pitch_rad), math.copysign(math.sin(rake.pitch_rad), rake.slope)
    low, high = Edge(bevel_rad=board.bevel_low_rad), Edge(bevel_rad=board.bevel_high_rad)
    left, right = (low, high) if board.rises_right else (high, low)
    return Shape(
        outline=_rectangle(board.length_upper_mm, y_back_mm - y_front_mm),
        edges=(SQUARE, right, SQUARE, left),
        frame=Frame(
            origin=(board.x_left_mm, y_front_mm, rake.at(board.x_left_mm)), u=(cos, 0.0, sin), v=(0.0, 1.0, 0.0)
        ),
    )


def level_top_shape(
    *, rake: Rake, level_top_mm: float, board_mm: float, x_end_mm: float, y_front_mm: float, y_back_mm: float
) -> Shape:
    """Return the level top that a raked board meets in a mitre; the mitre halves the angle between them.

    Args:
        rake: the line of the raked board's upper face.
        level_top_mm: height of the top's upper face. [mm]
        board_mm: thickness of both boards; a mitre needs them equal. [mm]
        x_end_mm: where its square end is, on the tall side. [mm]
        y_front_mm: its front edge. [mm]
        y_back_mm: its rear edge. [mm]

    Returns:
        Outline with edges front, right end, back, left end; face A is the upper face.

    Raises:
        ValueError: if the mitre takes the whole of the board.
    """
    x_mitre = x_at(rake, level_top_mm)
    length = (x_end_mm - x_mitre) if rake.slope > 0.0 else (x_mitre - x_end_mm)
    if length <= board_mm * math.tan(rake.pitch_rad / 2.0):
        message = f"no level top is left beyond the mitre at x = {x_mitre:.1f} mm"
        raise ValueError(message)
    mitre = Edge(bevel_rad=-rake.pitch_rad / 2.0, meets="raked board")
    left, right = (mitre, SQUARE) if rake.slope > 0.0 else (SQUARE, mitre)
    return Shape(
        outline=_rectangle(length, y_back_mm - y_front_mm),
        edges=(SQUARE, right, SQUARE, left),
        frame=Frame(origin=(min(x_mitre, x_end_mm), y_front_mm, level_top_mm), u=(1.0, 0.0, 0.0), v=(0.0, 1.0, 0.0)),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class UprightTop:
    """The top of an upright under a rake.

    Args:
        z_left_mm, z_right_mm: its height in the room at its left and at its right face. [mm]
        bevel_rad: saw tilt from square with the LEFT face as face A; the other sign with the right one.
    """

    z_left_mm: float
    z_right_mm: float
    bevel_rad: float


def upright_top(
    *,
    rake: Rake,
    meets: RakeEnd,
    board_mm: float,
    x_mm: float,
    thickness_mm: float,
    level_top_mm: float | None = None,
) -> UprightTop:
    """Return where an upright ends at the top: under the raked board, or flush with its upper face.

    Args:
        rake: the line of the raked board's upper face.
        meets: `over` when the raked board lies on it (every divider), `between` when it stops against it.
        board_mm: thickness of the raked board and of the level top. [mm]
        x_mm: the upright's left face. [mm]
        thickness_mm: its thickness. [mm]
        level_top_mm: height of the level top's upper face, if the box has one. [mm]

    Returns:
        Heights in the room, and the bevel. An upright right under the mitre keeps below both boards.
    """
    line = rake.lowered(board_mm) if meets == "over" else rake
    z_left, z_right = line.at(x_mm), line.at(x_mm + thickness_mm)
    if level_top_mm is not None:
        ceiling = level_top_mm - (board_mm if meets == "over" else 0.0)
        z_left, z_right = min(z_left, ceiling), min(z_right, ceiling)
    return UprightTop(z_left_mm=z_left, z_right_mm=z_right, bevel_rad=math.atan2(z_right - z_left, thickness_mm))


def upright_shape(*, upright: Upright, face_a: Side, y_front_mm: float, y_back_mm: float) -> Shape:
    """Return a side or divider: u up (the grain stands), face A its left or right face.

    Args:
        upright: where it stands and how high it is at each face.
        face_a: which of its faces is drawn: the outer one of a side.
        y_front_mm: its front edge. [mm]
        y_back_mm: its rear edge. [mm]

    Returns:
        Outline with edge 1 the top and edge 3 the foot. Edge 0 is the front when `face_a` is left, and the rear
        when it is right; edge 2 the other.
    """
    on_left = face_a == "left"
    z_a, z_b = upright.z1_left_mm, upright.z1_right_mm
    if not on_left:
        z_a, z_b = z_b, z_a
    bevel = math.atan2(z_b - z_a, upright.thickness_mm)
    top = SQUARE if abs(bevel) < 1e-9 else Edge(bevel_rad=bevel)
    first, third = (FRONT, REAR) if on_left else (REAR, FRONT)
    origin_x = upright.x_mm if on_left else upright.x_mm + upright.thickness_mm
    return Shape(
        outline=_rectangle(z_a - upright.z0_mm, y_back_mm - y_front_mm),
        edges=(first, top, third, SQUARE),
        frame=Frame(
            origin=(origin_x, y_front_mm if on_left else y_back_mm, upright.z0_mm),
            u=(0.0, 0.0, 1.0),
            v=(0.0, 1.0, 0.0) if on_left else (0.0, -1.0, 0.0),
        ),
    )


def shelf_shape(*, shelf: Shelf, pitch_rad: float, y_front_mm: float) -> Shape:
    r"""Return a level shelf; an end that runs into the rake is cut to the raked board's underside.

    The saw tilts by $90° - \theta$ from square there; the shelf's underside is the longer face by t / tan(pitch).
    Where the raked board meets the end only above the underside, the whole end is still cut at that tilt from the
    upright's face: the top then stands a little clear of the raked board, and never fouls it.

    Args:
        shelf: its ends at its underside, its height and depth.
        pitch_rad: pitch of the rake; not used for square ends. [rad]
        y_front_mm: its front edge, set back as it is. [mm]

    Returns:
        Outline with edges front, right end, back, left end; face A is the upper face.

    Raises:
        ValueError: if nothing is left of its upper face.
    """
    shorter = shelf.thickness_mm / math.tan(pitch_rad) if shelf.cut_left or shelf.cut_right else 0.0
    x_left = shelf.x0_mm + (shorter if shelf.cut_left else 0.0)
    x_right = shelf.x1_mm - (shorter if shelf.cut_right else 0.0)
    if x_right <= x_left:
        message = f"nothing is left of the upper face of the shelf at z = {shelf.z_mm:.1f} mm"
        raise ValueError(message)
    cut = Edge(bevel_rad=math.pi / 2.0 - pitch_rad, meets="raked board")
    return Shape(
        outline=_rectangle(x_right - x_left, shelf.depth_mm),
        edges=(SQUARE, cut if shelf.cut_right else SQUARE, SQUARE, cut if shelf.cut_left else SQUARE),
        frame=Frame(origin=(x_left, y_front_mm, shelf.z_mm + shelf.thickness_mm), u=(1.0, 0.0, 0.0), v=(0.0, 1.0, 0.0)),
    )


def panel_shape(
    *, outline: tuple[Point2, ...], y_face_mm: float, grain_up: bool = True, inset_mm: float = 0.0
) -> Shape:
    """Return a board that stands facing the room, such as a back: face A is seen from the room.

    Args:
        outline: corners in elevation (x, z), counter-clockwise. [mm]
        y_face_mm: where its seen face is; its thickness runs from there into the wall. [mm]
        grain_up: whether its grain stands upright; else it runs to the right.
        inset_mm: how far every edge stays inside the outline. [mm]

    Returns:
        Outline in the same order of corners, from its lower left corner (lower right when the grain stands).
    """
    corners = moved_edges(outline, tuple(-inset_mm for _ in outline)) if inset_mm else outline
    x0, x1 = min(x for x, _ in corners), max(x for x, _ in corners)
    z0 = min(z for _, z in corners)
    edges = tuple(SQUARE for _ in corners)
    if grain_up:
        frame = Frame(origin=(x1, y_face_mm, z0), u=(0.0, 0.0, 1.0), v=(-1.0, 0.0, 0.0))
        return Shape(outline=tuple((z - z0, x1 - x) for x, z in corners), edges=edges, frame=frame)
    frame = Frame(origin=(x0, y_face_mm, z0), u=(1.0, 0.0, 0.0), v=(0.0, 0.0, 1.0))
    return Shape(outline=tuple((x - x0, z - z0) for x, z in corners), edges=edges, frame=frame)


def facing_shape(*, outline: tuple[Point2, ...], long_edge: int, y_face_mm: float) -> Shape:
    """Return a board that faces the room with its grain along one side of its outline, pointing right or up.

    Args:
        outline: corners in elevation (x, z), counter-clockwise. [mm]
        long_edge: index of the outline side that runs along the grain.
        y_face_mm: where its seen face is. [mm]

    Returns:
        Outline in the same order of corners.
    """
    (xa, za), (xb, zb) = outline[long_edge], outline[(long_edge + 1) % len(outline)]
    length = math.hypot(xb - xa, zb - za)
    cos, sin = (xb - xa) / length, (zb - za) / length
    if sin < -0.7 or (abs(sin) <= 0.7 and cos < 0):
        cos, sin = -cos, -sin
    us = [x * cos + z * sin for x, z in outline]
    vs = [-x * sin + z * cos for x, z in outline]
    u0, v0 = min(us), min(vs)
    origin = (u0 * cos - v0 * sin, y_face_mm, u0 * sin + v0 * cos)
    return Shape(
        outline=tuple((u - u0, v - v0) for u, v in zip(us, vs, strict=True)),
        edges=tuple(SQUARE for _ in outline),
        frame=Frame(origin=origin, u=(cos, 0.0, sin), v=(-sin, 0.0, cos)),
    )


def _rectangle(length_mm: float, width_mm: float) -> tuple[Point2, ...]:
    """Return a rectangle's corners, counter-clockwise from the lower left, in mm."""
    return ((0.0, 0.0), (length_mm, 0.0), (length_mm, width_mm), (0.0, width_mm))
