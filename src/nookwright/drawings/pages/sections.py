"""Cuts through the furniture: seen from above at each tier, and from the side, with the gaps to the walls."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from nookwright.basics.lengths import Marks, show
from nookwright.drawings.clearance import Taken
from nookwright.drawings.dimensions import Chain, chain
from nookwright.drawings.page import Item, Items, Text
from nookwright.drawings.pages.canvas import OFF_MM, canvas
from nookwright.drawings.pages.outlines import (
    BAND_MM,
    OPEN_TOP_MM,
    STEP_MM,
    around,
    boards_cut,
    draw_cuts,
    placed_words,
    plan_section,
    roof,
    walls,
)
from nookwright.drawings.sheet import Draft, Issue
from nookwright.drawings.view import View
from nookwright.geometry.frame import Point2
from nookwright.geometry.plane import spaced
from nookwright.stages.design.design import Box, Design
from nookwright.stages.parts.part import Part, PartList
from nookwright.stages.room.room import Room

FRONT_MM = 150.0
"""How far the floor is drawn in front of the furniture. Our choice. [mm]"""

BESIDE_MM = 150.0
"""How far the back wall is drawn beyond an open end. Our choice. [mm]"""


def section_pages(design: Design, parts: PartList, room: Room, issue: Issue) -> tuple[Draft, ...]:
    """Return one cut seen from above for each tier, and one from the side through all of them.

    Args:
        design: everything at its place.
        parts: every board.
        room: the room it stands in.
        issue: units and paper.
    """
    tiers = sorted({round(box.z0_mm, 2) for box in design.boxes})
    plans = tuple(_plan(design, parts, room, issue, tier) for tier in tiers)
    return (*plans, _side(design, parts, room, issue))


def _plan(design: Design, parts: PartList, room: Room, issue: Issue, tier_mm: float) -> Draft:
    """Return a level cut through the boxes of one tier, low enough to meet every one of them."""
    boxes = [box for box in design.boxes if abs(box.z0_mm - tier_mm) < 0.1]
    z = tier_mm + 0.6 * min(min(box.z1_left_mm, box.z1_right_mm) - tier_mm for box in boxes)
    front = min(box.y_front_mm for box in boxes) - FRONT_MM
    behind = plan_section(room, z, (boxes[0].x0_mm - BESIDE_MM, boxes[-1].x1_mm + BESIDE_MM), front)
    low, high = behind.corners()
    sheet = canvas((low[0], front), high, issue, sides_mm=26.0, below_mm=26.0, above_mm=BAND_MM + 4)
    view, taken = sheet.view, Taken()
    items: list[Item] = list(walls(view, behind.edges(), taken))
    items.extend(_bought_outlines(view, boxes))
    items.extend(draw_cuts(view, boards_cut(parts.parts, "z", z)))
    taken.note(items)
    y = min(box.y_front_mm for box in boxes)
    left = [room.at("left", y, z).value] if behind.left else []
    right = [room.at("right", y, z).value] if behind.right else []
    xs = [*left, boxes[0].x0_mm, *(box.x1_mm for box in boxes), *right]
    items.extend(_row(view, [(x, front) for x in xs], issue.marks, taken, upright=False))
    items.extend(
        _row(view, [(boxes[-1].x1_mm, at) for at in _depths(boxes, parts, room, z)], issue.marks, taken, upright=True)
    )
    items.extend(_box_names(view, boxes, taken))
    height = show(z, issue.marks, with_unit=True)
    name = f"Seen from above, cut {height} above {room.datum}"
    return Draft(name=name, items=tuple(items), scale=view.scale, landscape=sheet.landscape)


def _bought_outlines(view: View, boxes: Sequence[Box]) -> Items:
    """Return bought cabinets as outlines in plan."""
    return tuple(
        view.polygon(
            (
                (box.x0_mm, box.y_front_mm),
                (box.x1_mm, box.y_front_mm),
                (box.x1_mm, box.y_back_mm),
                (box.x0_mm, box.y_back_mm),
            ),
            pen="wide",
            fill="white",
        )
        for box in boxes
        if box.bought is not None
    )


def _depths(boxes: Sequence[Box], parts: PartList, room: Room, z: float) -> list[float]:
    """Return y of what follows each other from the room to the wall: face, box front, box rear, wall. [mm]"""
    box = boxes[-1]
    faces = [cut for cut in boards_cut(_fronts(parts), "z", z) if cut.middle[0] > box.x0_mm]
    front = min((y for cut in faces for outline in cut.outlines for _, y in outline), default=box.y_front_mm)
    wall = room.at("back", box.x1_mm, z).value
    chained = [front, box.y_front_mm, box.y_back_mm, wall]
    return [y for i, y in enumerate(chained) if i == 0 or y - chained[i - 1] > 0.3]


def _fronts(parts: PartList) -> list[Part]:
    """Return the strips and doors."""
    return [part for part in parts.parts if part.role in {"strip", "door"}]


def _box_names(view: View, boxes: Sequence[Box], taken: Taken) -> Items:
    """Return each box's letter and name in its middle."""
    items: list[Item] = []
    for box in boxes:
        spots = [
            view.at((box.x0_mm + across * (box.x1_mm - box.x0_mm), box.y_front_mm + deep * box.depth_mm))
            for across in (0.5, 0.27, 0.73)
            for deep in (0.5, 0.35, 0.65)
        ]
        full = f"{box.letter}: {box.name}"
        words = [
            Text(at=spot, text=text, anchor="middle", bold=True, height_mm=height)
            for text, height in ((full, 3.5), (full, 2.5), (box.letter, 3.5))
            for spot in spots
        ]
        items.extend(placed_words(words, taken))
    return tuple(items)


def _row(view: View, points: Sequence[Point2], marks: Marks, taken: Taken, *, upright: bool) -> Items:
    """Return one chain of sizes below a plan, or to its right, with the overall size."""
    along = [point[1] if upright else point[0] for point in points]
    labels = tuple(show(b - a, marks) for a, b in pairwise(along))
    (_, low), (right, _) = around(view.all_at(points))
    lowest = max(low, *(y for _, y in view.all_at(points)))
    line_at = right + OFF_MM + 6.0 if upright else lowest + OFF_MM
    return chain(
        Chain(
            direction="upright" if upright else "level",
            points=view.all_at(points),
            labels=labels,
            line_at=line_at,
            overall=show(along[-1] - along[0], marks) if len(labels) > 1 else "",
        ),
        taken,
    )


def _side(design: Design, parts: PartList, room: Room, issue: Issue) -> Draft:
    """Return an upright cut from front to back, where it meets a box of every tier."""
    x = _cut_x(design)
    cut_boxes = [box for box in design.boxes if box.x0_mm < x < box.x1_mm]
    front = min(box.y_front_mm for box in design.boxes) - FRONT_MM
    top = max(max(box.z1_left_mm, box.z1_right_mm) for box in cut_boxes) + OPEN_TOP_MM
    edge = _room_from_the_side(room, x, front, top)
    low, high = around(edge)
    sheet = canvas(low, high, issue, sides_mm=28.0, below_mm=26.0, above_mm=BAND_MM + 4)
    view, taken = sheet.view, Taken()
    items: list[Item] = list(walls(view, (edge,), taken))
    items.extend(_bought_from_the_side(view, cut_boxes))
    items.extend(draw_cuts(view, boards_cut(parts.parts, "x", x)))
    taken.note(items)
    items.extend(_depth_chains(view, cut_boxes, parts, room, x, issue.marks, taken))
    items.extend(_height_chain(view, design, cut_boxes, room, x, issue.marks, taken))
    place = show(x, issue.marks, with_unit=True)
    name = f"Seen from the left, cut {place} right of {room.origin}"
    return Draft(name=name, items=tuple(items), scale=view.scale, landscape=sheet.landscape)


def _cut_x(design: Design) -> float:
    """Return where a cut meets boxes of every tier: a little off the middle of what they share. [mm]"""
    tiers = sorted({round(box.z0_mm, 2) for box in design.boxes})
    best, most = design.boxes[0].x0_mm + 100.0, -1
    for box in design.boxes:
        x = box.x0_mm + 0.62 * (box.x1_mm - box.x0_mm)
        met = len({round(b.z0_mm, 2) for b in design.boxes if b.x0_mm < x < b.x1_mm and b.bought is None})
        clear = not any(u.x_mm - 20 < x < u.x_mm + u.thickness_mm + 20 for b in design.boxes for u in b.uprights)
        if clear and met > most:
            best, most = x, met
        if most == len(tiers):
            break
    return best


def _room_from_the_side(room: Room, x: float, front: float, top: float) -> tuple[Point2, ...]:
    """Return floor, back wall, and slope or ceiling as one line in (y, z), the room on its left."""
    wall_foot = room.at("back", x, 0.0).value
    floor = [(y, room.at("floor", x, y).value) for y in spaced(front, wall_foot, STEP_MM)]
    head = min(top, roof(room, x, wall_foot))
    wall = [(room.at("back", x, z).value, z) for z in spaced(floor[-1][1], head, STEP_MM)]
    lid = [(y, roof(room, x, y)) for y in spaced(wall[-1][0], front, STEP_MM)] if roof(room, x, wall_foot) < top else []
    return (*floor, *wall[1:], *lid[1:])


def _bought_from_the_side(view: View, boxes: Sequence[Box]) -> Items:
    """Return bought cabinets as outlines from the side."""
    return tuple(
        view.polygon(
            (
                (box.y_front_mm, box.z0_mm),
                (box.y_back_mm, box.z0_mm),
                (box.y_back_mm, box.z1_left_mm),
                (box.y_front_mm, box.z1_left_mm),
            ),
            pen="wide",
            fill="white",
        )
        for box in boxes
        if box.bought is not None
    )


def _depth_chains(
    view: View, boxes: Sequence[Box], parts: PartList, room: Room, x: float, marks: Marks, taken: Taken
) -> Items:
    """Return the chain of depths of the lowest box below the floor, and of the highest one above it."""
    items: list[Item] = []
    for box, below in ((boxes[0], True), (boxes[-1], False)):
        if not below and len(boxes) == 1:
            continue
        z = box.z0_mm + 0.5 * (min(box.z1_left_mm, box.z1_right_mm) - box.z0_mm)
        faces = [cut for cut in boards_cut(_fronts(parts), "x", x) if _between(cut.outlines[0], box)]
        front = min((y for cut in faces for y, _ in cut.outlines[0]), default=box.y_front_mm)
        back_mm = box.back.thickness_mm if box.back else 0.0
        chained = [front, box.y_front_mm, box.y_back_mm - back_mm, box.y_back_mm, room.at("back", x, z).value]
        ys = [y for i, y in enumerate(chained) if i == 0 or y - chained[i - 1] > 0.3]
        labels = tuple(show(b - a, marks) for a, b in pairwise(ys))
        at_z = box.z0_mm if below else z
        line_at = view.at((0.0, 0.0))[1] + BAND_MM + OFF_MM if below else view.at((0.0, z))[1]
        items.extend(
            chain(
                Chain(
                    direction="level",
                    points=view.all_at([(y, at_z) for y in ys]),
                    labels=labels,
                    line_at=line_at,
                    overall=show(ys[-1] - ys[0], marks) if below else "",
                ),
                taken,
            )
        )
    return tuple(items)


def _between(outline: Sequence[Point2], box: Box) -> bool:
    """Return whether an outline (y, z) lies at the height of a box."""
    _, z = around(outline)[0]
    return box.z0_mm - 5.0 <= z < max(box.z1_left_mm, box.z1_right_mm)


def _height_chain(
    view: View, design: Design, boxes: Sequence[Box], room: Room, x: float, marks: Marks, taken: Taken
) -> Items:
    """Return the chain of heights left of the furniture: floor, platform, each box's foot and top."""
    front = min(box.y_front_mm for box in boxes)
    zs = [room.at("floor", x, front).value]
    if design.platform is not None:
        zs.append(design.platform.z1_mm)
    for box in boxes:
        share = (x - box.x0_mm) / (box.x1_mm - box.x0_mm)
        level = box.level_top_mm if box.level_top_mm is not None else float("inf")
        top = min(level, box.rake.at(x)) if box.rake else box.z1_left_mm + share * (box.z1_right_mm - box.z1_left_mm)
        zs += [box.z0_mm, top]
    rising = [z for i, z in enumerate(zs) if i == 0 or z - max(zs[:i]) > 0.5]
    edge = view.at((front - FRONT_MM, 0.0))[0]
    return chain(
        Chain(
            direction="upright",
            points=view.all_at([(front, z) for z in rising]),
            labels=tuple(show(b - a, marks) for a, b in pairwise(rising)),
            line_at=edge - 4.0,
            overall=show(rising[-1] - rising[0], marks) if len(rising) > 2 else "",
            outward=-1,
        ),
        taken,
    )
