"""Everything but the boxes becomes boards: tops, platform, strips, doors and skirting."""

from __future__ import annotations

import math
from dataclasses import replace

from nookwright.geometry.frame import Frame
from nookwright.stages.design.design import Door, FittedPlatform, FittedTop, SkirtingReturn, Strip
from nookwright.stages.inputs.shop import BoardStock, SheetStock, Shop
from nookwright.stages.parts.joinery import face_to_face, joined
from nookwright.stages.parts.numbering import Numbers
from nookwright.stages.parts.part import SQUARE, Edge, JointMade, Part, Role
from nookwright.stages.parts.raked import Shape, facing_shape, panel_shape

PLINTH = "platform"
"""Module name of the platform's parts."""

FRAME_SCREWS = 4
"""Screws that hold two frames of a platform together, end to end. Common practice, no source."""


def _part(shape: Shape, stock: SheetStock | BoardStock, *, number: str, name: str, role: Role, module: str) -> Part:
    """Return a plain board of that shape; faces, pieces and notes are set by the caller."""
    return Part(
        number=number,
        name=name,
        role=role,
        module=module,
        stock=stock.key,
        wood=stock.wood,
        thickness_mm=stock.thickness_mm,
        outline=shape.outline,
        edges=shape.edges,
        frame=shape.frame,
    )


def _rectangle(length_mm: float, width_mm: float, frame: Frame) -> Shape:
    """Return a plain rectangle standing at a frame."""
    corners = ((0.0, 0.0), (length_mm, 0.0), (length_mm, width_mm), (0.0, width_mm))
    return Shape(outline=corners, edges=(SQUARE, SQUARE, SQUARE, SQUARE), frame=frame)


def top_part(top: FittedTop, numbers: Numbers) -> Part:
    """Return a worktop as one board, or as boards glued edge to edge when its stock is a board."""
    x0, y0 = min(x for x, _ in top.outline), min(y for _, y in top.outline)
    frame = Frame(origin=(x0, y0, top.z_mm + top.thickness_mm), u=(1.0, 0.0, 0.0), v=(0.0, 1.0, 0.0))
    edges = tuple(
        SQUARE if edge is None else Edge(scribe_mm=edge.allowance_mm, meets=f"{edge.meets} wall") for edge in top.edges
    )
    shape = Shape(outline=tuple((x - x0, y - y0) for x, y in top.outline), edges=edges, frame=frame)
    number = numbers.next(top.letter)
    plain = _part(shape, top.stock, number=number, name=top.name, role="worktop", module=top.name)
    if not isinstance(top.stock, BoardStock):
        return plain
    pieces = math.ceil(plain.blank_mm[1] / top.stock.straight_width_mm - 1e-9)
    note = f"glued up from {pieces} boards, then cut; leave it free to move across the grain"
    return replace(plain, pieces=pieces, notes=(note,))


def platform_parts(platform: FittedPlatform, shop: Shop, numbers: Numbers) -> tuple[list[Part], list[JointMade]]:
    """Return the platform's rails and bearers, screwed through the rails; its frames screwed together at their ends."""
    height, t = platform.z1_mm - platform.z0_mm, platform.rail_mm
    frames = platform.frames_x_mm
    parts: list[Part] = []
    for name, y in (("front rail", platform.y_front_mm), ("back rail", platform.y_back_mm - t)):
        for i, (x0, x1) in enumerate(frames):
            frame = Frame(origin=(x0, y, platform.z0_mm), u=(1.0, 0.0, 0.0), v=(0.0, 0.0, 1.0))
            said = name if len(frames) == 1 else f"{name}, piece {i + 1} of {len(frames)}"
            rail = _part(
                _rectangle(x1 - x0, height, frame), platform.stock, number=numbers.next("P"), name=said,
                role="platform rail", module=PLINTH,
            )  # fmt: skip
            parts.append(replace(rail, faces_painted=0))
    rails = tuple(parts)
    joints: list[JointMade] = []
    clear = platform.y_back_mm - platform.y_front_mm - 2 * t
    before: Part | None = None
    for x in platform.bearers_x_mm:
        frame = Frame(origin=(x + t, platform.y_front_mm + t, platform.z0_mm), u=(0.0, 1.0, 0.0), v=(0.0, 0.0, 1.0))
        shape = _rectangle(clear, height, frame)
        plain = _part(
            shape, platform.stock, number=numbers.next("P"), name="cross bearer", role="platform bearer", module=PLINTH
        )
        bearer = replace(plain, faces_painted=0)
        parts.append(bearer)
        mine = [rail for rail in rails if rail.frame.origin[0] <= x + t / 2 <= rail.frame.origin[0] + rail.blank_mm[0]]
        joints.extend(joined(bearer, rail, "butt and screws", height, shop, deep=True) for rail in mine)
        if before is not None and abs(before.frame.origin[0] - x) < 0.5:
            joints.append(face_to_face(before, bearer, FRAME_SCREWS, shop))
        before = bearer
    return parts, joints


def strip_part(strip: Strip, numbers: Numbers) -> Part:
    """Return a face strip: face A to the room, grain along its long edge."""
    shape = facing_shape(
        outline=strip.outline, long_edge=strip.long_edge, y_face_mm=strip.y_back_mm - strip.stock.thickness_mm
    )
    notes: tuple[str, ...] = ()
    if strip.scribed is not None:
        side, edge = strip.scribed
        edges = list(shape.edges)
        edges[side] = Edge(scribe_mm=edge.allowance_mm, meets=edge.meets)
        shape = Shape(outline=shape.outline, edges=tuple(edges), frame=shape.frame)
        notes = (f"scribe to the {edge.meets}; back-bevel 3 to 10 deg behind the line",)
    number = numbers.next(strip.letter)
    part = _part(shape, strip.stock, number=number, name=strip.name, role="strip", module="face trim")
    return replace(part, faces_painted=1, notes=notes)


def door_part(door: Door, numbers: Numbers) -> Part:
    """Return a door leaf, grain upright."""
    shape = panel_shape(outline=door.outline, y_face_mm=door.y_back_mm - door.stock.thickness_mm)
    note = "check against the built opening before cutting"
    number = numbers.next(door.letter)
    part = _part(shape, door.stock, number=number, name=door.name, role="door", module="doors")
    return replace(part, notes=(note,))


def skirting_part(piece: SkirtingReturn, numbers: Numbers) -> Part:
    """Return a length of the room's own skirting; its stock key is `room skirting`, cut from what was taken off."""
    (x0, y0), (x1, y1) = piece.start, piece.end
    length = math.hypot(x1 - x0, y1 - y0)
    u = ((x1 - x0) / length, (y1 - y0) / length, 0.0)
    out = (u[1], -u[0])
    t = piece.thickness_mm
    left = Edge(bevel_rad=-math.pi / 4, meets="outside corner") if piece.miter_start else Edge(meets="wall")
    right = Edge(bevel_rad=-math.pi / 4, meets="outside corner") if piece.miter_end else Edge(meets="wall")
    start = t if piece.miter_start else 0.0
    full = length + start + (t if piece.miter_end else 0.0)
    frame = Frame(
        origin=(x0 + out[0] * t - u[0] * start, y0 + out[1] * t - u[1] * start, piece.z0_mm), u=u, v=(0.0, 0.0, 1.0)
    )
    corners = ((0.0, 0.0), (full, 0.0), (full, piece.height_mm), (0.0, piece.height_mm))
    shape = Shape(outline=corners, edges=(Edge(meets="floor"), right, SQUARE, left), frame=frame)
    note = "cut from the skirting taken off; its lower edge follows the floor"
    return Part(
        number=numbers.next(piece.letter),
        name=piece.name,
        role="skirting",
        module="skirting",
        stock="room skirting",
        wood="pine",
        thickness_mm=t,
        outline=shape.outline,
        edges=shape.edges,
        frame=shape.frame,
        faces_painted=1,
        notes=(note,),
    )
