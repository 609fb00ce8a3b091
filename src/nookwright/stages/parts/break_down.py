"""Design -> PartList: every board to cut, numbered, and every joint between boards."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

from nookwright.stages.design.design import Box, Design
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.shop import Shop
from nookwright.stages.parts.box_parts import Made, box_parts
from nookwright.stages.parts.edging import with_edging
from nookwright.stages.parts.fitted_parts import door_part, platform_parts, skirting_part, strip_part, top_part
from nookwright.stages.parts.grain import grain_kept
from nookwright.stages.parts.joinery import DOWN_SPACING_MM, GLUE, face_to_face, joined
from nookwright.stages.parts.numbering import Numbers
from nookwright.stages.parts.outlets import OutletPlace, comes_through, outlet_places
from nookwright.stages.parts.part import CutOut, Fastening, JointMade, Part, PartList
from nookwright.stages.room.room import Room
from nookwright.trade import fastener_choice as choice


def break_down(design: Design, brief: Brief, room: Room, shop: Shop) -> PartList:
    """Break the design down into boards and joints.

    Args:
        design: everything at its place.
        brief: the job's joints and widths.
        room: places of the outlets.
        shop: saw and screw lengths.

    Returns:
        Parts in the order of their numbers' letters: platform, boxes, tops, strips, doors, skirting; and joints.

    Raises:
        InvalidInputError: if the brief speaks of a part that there is not, or matches parts that cannot be.
    """
    numbers = Numbers()
    parts: list[Part] = []
    joints: list[JointMade] = []
    if design.platform is not None:
        made_parts, made_joints = platform_parts(design.platform, shop, numbers)
        parts.extend(made_parts)
        joints.extend(made_joints)
    boxes = [box_parts(box, design, shop, numbers) for box in design.boxes]
    places = outlet_places(design, room)
    for made in boxes:
        parts.extend(_with_holes(part, places) for part in made.parts)
        joints.extend(made.joints)
    tops = [top_part(top, numbers) for top in design.tops]
    parts.extend(tops)
    joints.extend(_between_boxes(boxes, shop))
    joints.extend(_down(boxes, parts, tops, shop))
    joints.extend(_end_to_end(tops))
    strips = [strip_part(strip, numbers) for strip in design.strips]
    joints.extend(_strips_nailed(strips, boxes, shop))
    parts.extend(strips)
    parts.extend(door_part(door, numbers) for door in design.doors)
    skirting = [skirting_part(piece, numbers) for piece in design.skirting]
    parts.extend(skirting)
    joints.extend(_skirting_nailed(skirting, parts, shop))
    kept, matched = grain_kept(with_edging(parts, brief, shop), brief, shop)
    return PartList(parts=kept, joints=tuple(joints), matched=matched)


def _with_holes(part: Part, places: tuple[OutletPlace, ...]) -> Part:
    """Return a back with the holes for the outlets behind it; other boards as they are."""
    holes = []
    for place in places:
        if not comes_through(place, part):
            continue
        width, height = place.hole_mm
        u = place.z_mm - height / 2 - part.frame.origin[2]
        v = part.frame.origin[0] - (place.x_mm + width / 2)
        holes.append(CutOut(u_mm=u, v_mm=v, width_mm=height, height_mm=width, purpose=f"outlet: {place.outlet.name}"))
    return replace(part, cutouts=tuple(holes)) if holes else part


def _between_boxes(boxes: list[Made], shop: Shop) -> list[JointMade]:
    """Return neighbouring sides screwed together, four screws a pair."""
    joints: list[JointMade] = []
    for left, right in pairwise(boxes):
        same_tier = abs(left.box.x1_mm - right.box.x0_mm) < 0.5 and abs(left.box.z0_mm - right.box.z0_mm) < 0.5
        if not same_tier or not left.parts or not right.parts:
            continue
        held = next(part for part in left.parts if part.role == "side" and "right hand" in part.notes)
        holder = next(part for part in right.parts if part.role == "side" and "left hand" in part.notes)
        joints.append(face_to_face(held, holder, 4, shop))
    return joints


def _down(boxes: list[Made], parts: list[Part], tops: list[Part], shop: Shop) -> list[JointMade]:
    """Return every box screwed down to what it stands on, and every top screwed up from below."""
    rails = [part for part in parts if part.role == "platform rail"]
    joints: list[JointMade] = []
    for made in boxes:
        bottom = next((part for part in made.parts if part.role == "bottom"), None)
        if bottom is None:
            continue
        for holder in _underneath(made.box, boxes, rails, tops):
            length = _shared_mm(bottom, holder)
            joints.append(
                joined(bottom, holder, "butt and screws", length, shop, deep=False, spacing_mm=DOWN_SPACING_MM)
            )
    for top in tops:
        foot = top.frame.origin[2] - top.thickness_mm
        for made in boxes:
            lid = next((part for part in made.parts if part.role == "top"), None)
            if lid is not None and abs(lid.frame.origin[2] - foot) < 0.5 and _shared_mm(lid, top) > LEAST_SHARED_MM:
                joints.append(_top_fixing(lid, top, shop))
    return [_glueless(joint) for joint in joints]


def _underneath(box: Box, boxes: list[Made], rails: list[Part], tops: list[Part]) -> list[Part]:
    """Return what a box's bottom is screwed to: platform rails, the top it stands on, or the boxes below."""
    on_rails = [
        rail for rail in rails if abs(rail.frame.origin[2] + rail.blank_mm[1] - box.z0_mm) < 0.5 and _overlap(rail, box)
    ]
    if on_rails:
        return on_rails
    on_tops = [top for top in tops if abs(top.frame.origin[2] - box.z0_mm) < 0.5 and _overlap(top, box)]
    if on_tops:
        return on_tops
    lids = [part for made in boxes for part in made.parts if part.role == "top"]
    return [lid for lid in lids if abs(lid.frame.origin[2] - box.z0_mm) < 0.5 and _overlap(lid, box)]


LEAST_SHARED_MM = 40.0
"""Boards that lie over each other for less than this, left to right, are not screwed together. Our choice."""


def _overlap(lower: Part, box: Box) -> bool:
    """Return whether a lid or top lies under a box far enough to be screwed to."""
    x0, x1 = _along_wall(lower)
    return min(x1, box.x1_mm) - max(x0, box.x0_mm) > LEAST_SHARED_MM


def _along_wall(part: Part) -> tuple[float, float]:
    """Return from where to where a board reaches, left to right. [mm]"""
    xs = [part.frame.to_room(u, v)[0] for u, v in part.outline]
    return min(xs), max(xs)


def _shared_mm(one: Part, other: Part) -> float:
    """Return for how far two boards lie over each other, left to right. [mm]"""
    (a0, a1), (b0, b1) = _along_wall(one), _along_wall(other)
    return min(a1, b1) - max(a0, b0)


def _end_to_end(tops: list[Part]) -> list[JointMade]:
    """Return the joints between pieces of one top: glued over a loose tongue; boxes below leave no room for screws."""
    joints: list[JointMade] = []
    for left, right in pairwise(tops):
        level = abs(left.frame.origin[2] - right.frame.origin[2]) < 0.5
        if level and abs(_along_wall(left)[1] - _along_wall(right)[0]) < 0.5:
            long = left.blank_mm[1]
            joints.append(
                JointMade(
                    held=left.number, holder=right.number, joint="butt and screws", length_mm=long, fastenings=(GLUE,)
                )
            )
    return joints


def _top_fixing(lid: Part, top: Part, shop: Shop) -> JointMade:
    """Return a top held by screws from below, through slots where it is solid wood."""
    screw = choice.wood_screw(held_mm=lid.thickness_mm, base_mm=top.thickness_mm, lengths_mm=shop.screw_lengths_mm)
    slots = " through slots along the depth, so that solid wood can move" if top.pieces > 1 else ""
    length = _shared_mm(lid, top)
    row = choice.row_of_fasteners(joint_mm=length, spacing_mm=DOWN_SPACING_MM, end_mm=choice.SCREW_END_MM)
    fastening = Fastening(
        kind="wood screw",
        length_mm=screw.length_mm,
        count=2 * row.count,
        spacing_mm=row.spacing_mm,
        end_mm=row.end_mm,
        reason=f"front and rear row from below{slots}; {screw.reason}",
    )
    return JointMade(
        held=lid.number, holder=top.number, joint="butt and screws", length_mm=length, fastenings=(fastening,)
    )


def _glueless(joint: JointMade) -> JointMade:
    """Return the joint without glue: boxes come out again, and tops move."""
    return replace(joint, fastenings=tuple(f for f in joint.fastenings if f.kind != "glue"))


def _strips_nailed(strips: list[Part], boxes: list[Made], shop: Shop) -> list[JointMade]:
    """Return every strip glued and nailed to the edges behind it; on a bought cabinet, to its own frame."""
    joints: list[JointMade] = []
    boards = [
        p for m in boxes for p in m.parts if p.role in {"side", "divider", "bottom", "top", "raked board", "shelf"}
    ]
    for strip in strips:
        middle = _middle(strip)
        holder = min(boards, key=lambda board: _distance(board, middle), default=None)
        if holder is not None:
            joints.append(joined(strip, holder, "butt and brads", strip.blank_mm[0], shop, deep=False))
    return joints


def _skirting_nailed(skirting: list[Part], parts: list[Part], shop: Shop) -> list[JointMade]:
    """Return the returned skirting nailed to the platform's front rail, without glue."""
    rail = next((part for part in parts if part.role == "platform rail"), None)
    if rail is None:
        return []
    return [_glueless(joined(piece, rail, "butt and brads", piece.blank_mm[0], shop, deep=False)) for piece in skirting]


def _middle(part: Part) -> tuple[float, float]:
    """Return the middle of a board in elevation (x, z). [mm]"""
    points = [part.frame.to_room(u, v) for u, v in part.outline]
    return sum(p[0] for p in points) / len(points), sum(p[2] for p in points) / len(points)


def _distance(part: Part, at: tuple[float, float]) -> float:
    """Return how far a place lies outside a board's extent in elevation. [mm]"""
    points = [part.frame.to_room(u, v, depth) for u, v in part.outline for depth in (0.0, part.thickness_mm)]
    xs, zs = [p[0] for p in points], [p[2] for p in points]
    dx = max(min(xs) - at[0], 0.0, at[0] - max(xs))
    dz = max(min(zs) - at[1], 0.0, at[1] - max(zs))
    return math.hypot(dx, dz)
