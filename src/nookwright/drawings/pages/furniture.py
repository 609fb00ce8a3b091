"""Furniture chapter: it stands in the crooked room; then its boxes without fronts, each box, and cuts through them."""

from __future__ import annotations

import math
from collections.abc import Iterable
from itertools import pairwise

from nookwright.basics.lengths import Marks, show
from nookwright.drawings.clearance import Taken
from nookwright.drawings.dimensions import Chain, chain
from nookwright.drawings.page import Item, Items, Pen, Text
from nookwright.drawings.pages.canvas import OFF_MM, canvas
from nookwright.drawings.pages.outlines import (
    BAND_MM,
    OPEN_TOP_MM,
    Section,
    around,
    boards_cut,
    draw_cuts,
    elevation_section,
    middle,
    placed_words,
    seen_from_front,
    walls,
)
from nookwright.drawings.pages.rings import tag
from nookwright.drawings.pages.sections import section_pages
from nookwright.drawings.sheet import Draft, Issue
from nookwright.drawings.view import View
from nookwright.geometry.frame import Point2
from nookwright.stages.design.design import Box, Design, Opening
from nookwright.stages.parts.part import Part, PartList
from nookwright.stages.room.room import Room

BESIDE_MM = 150.0
"""How far the room is drawn beyond an end of the furniture that no wall closes. Our choice. [mm]"""

SIDE_MM, BELOW_MM = 26.0, 28.0
"""Paper kept beside and below an elevation for its dimension lines. Our choice. [mm]"""


def pages(design: Design, parts: PartList, room: Room, issue: Issue) -> tuple[Draft, ...]:
    """Return the chapter's sheets.

    Args:
        design: everything at its place.
        parts: every board.
        room: the room it stands in.
        issue: units and paper.

    Returns:
        Front elevation; boxes without fronts; a sheet for each built box; cuts seen from above and from the side.
    """
    built = tuple(box for box in design.boxes if box.bought is None)
    return (
        _front(design, parts, room, issue),
        _boxes(design, parts, room, issue),
        *(_inside(box, parts, issue) for box in built),
        *section_pages(design, parts, room, issue),
    )


def _room_behind(design: Design, room: Room) -> Section:
    """Return the room cut in the plane of the furniture's foremost face."""
    y = min(box.y_front_mm for box in design.boxes)
    x0, x1 = min(box.x0_mm for box in design.boxes), max(box.x1_mm for box in design.boxes)
    top = max(max(box.z1_left_mm, box.z1_right_mm) for box in design.boxes)
    return elevation_section(room, y, (x0 - BESIDE_MM, x1 + BESIDE_MM), top + OPEN_TOP_MM)


def _front(design: Design, parts: PartList, room: Room, issue: Issue) -> Draft:
    """Return the furniture as one sees it, with the numbers of all that faces the room."""
    behind = _room_behind(design, room)
    sheet = canvas(*behind.corners(), issue, sides_mm=SIDE_MM, below_mm=BELOW_MM, above_mm=BAND_MM + 2)
    view, taken = sheet.view, Taken()
    items: list[Item] = list(walls(view, behind.edges(), taken))
    items.extend(_box_boards(view, design, parts, narrow=True))
    facing = _facing(parts, design)
    items.extend(view.polygon(seen_from_front(part), pen="wide", fill="white") for part in facing)
    items.extend(_opening_lines(view, design))
    taken.note(items)
    items.extend(_heights_and_widths(view, behind, design, room, issue.marks, taken))
    items.extend(_names(view, (box for box in design.boxes if box.bought is not None), taken, with_letter=False))
    for part in facing:
        items.extend(tag(view, part.number, seen_from_front(part), taken))
    return Draft(name="Front, in the room as measured", items=tuple(items), scale=view.scale, landscape=sheet.landscape)


def _facing(parts: PartList, design: Design) -> tuple[Part, ...]:
    """Return the boards one sees from the front, the farthest first."""
    front = min(design.boxes, key=lambda box: box.y_front_mm)
    seen = [
        part
        for part in parts.parts
        if part.role in {"strip", "door", "worktop"}
        or (part.role == "skirting" and abs(part.frame.u[0]) > 0.9)
        or (part.role == "platform rail" and part.frame.origin[1] < front.y_front_mm + front.depth_mm / 2)
    ]
    return tuple(sorted(seen, key=lambda part: -min(part.frame.to_room(u, v)[1] for u, v in part.outline)))


def _box_boards(view: View, design: Design, parts: PartList, *, narrow: bool) -> Items:
    """Return the boxes' boards cut half-way into each box, and bought cabinets as outlines."""
    items: list[Item] = []
    for box in design.boxes:
        pen: Pen = "narrow" if narrow else "wide"
        items.append(view.polygon(box.outline, pen="narrow", fill="white"))
        if box.bought is not None:
            t = box.bought.side_mm
            x0, x1, z0, z1 = box.x0_mm, box.x1_mm, box.z0_mm, box.z1_left_mm
            items.append(
                view.polygon(((x0 + t, z0 + t), (x1 - t, z0 + t), (x1 - t, z1 - t), (x0 + t, z1 - t)), pen="narrow")
            )
            continue
        own = [part for part in parts.parts if part.module == box.name]
        items.extend(draw_cuts(view, boards_cut(own, "y", box.y_front_mm + box.depth_mm / 2), pen=pen))
    return tuple(items)


def _opening_lines(view: View, design: Design) -> Items:
    """Return how doors open: dashed lines meet at the hinge side of a pair's leaves; sliding doors get an arrow."""
    items: list[Item] = []
    for opening in (o for box in design.boxes for o in box.openings if o.front is not None):
        (x0, z0), (x1, z1) = around(opening.outline)
        leaves = [
            around(door.outline)
            for door in design.doors
            if x0 - 30 < middle(door.outline)[0] < x1 + 30 and z0 - 30 < middle(door.outline)[1] < z1 + 30
        ]
        if opening.front is None or opening.front.leaves == "one" or len(leaves) != 2:
            continue
        for (low, high), hinge_left in zip(leaves, (True, False), strict=True):
            mid = (low[1] + high[1]) / 2
            if opening.front.leaves == "pair":
                hinge, free = (low[0], high[0]) if hinge_left else (high[0], low[0])
                items += [
                    view.line((free, low[1]), (hinge, mid), dash="dashed"),
                    view.line((free, high[1]), (hinge, mid), dash="dashed"),
                ]
            else:
                items.extend(_arrow(view, low, high, 1.0 if hinge_left else -1.0))
    return tuple(items)


def _arrow(view: View, low: Point2, high: Point2, way: float) -> Items:
    """Return a level arrow in a leaf, the way it slides."""
    x, z = (low[0] + high[0]) / 2, low[1] + (high[1] - low[1]) * 0.4
    tip, tail, barb = (x + way * 6 * view.scale, z), (x - way * 6 * view.scale, z), 2 * view.scale
    return (
        view.line(tail, tip),
        view.line(tip, (tip[0] - way * barb, z + barb / 2)),
        view.line(tip, (tip[0] - way * barb, z - barb / 2)),
    )


def _heights_and_widths(view: View, behind: Section, design: Design, room: Room, marks: Marks, taken: Taken) -> Items:
    """Return the chain of the lowest boxes' widths below, and the chains of heights at both ends."""
    low, high = behind.corners()
    foot = min(box.z0_mm for box in design.boxes)
    lowest = [box for box in design.boxes if box.z0_mm < foot + 1.0]
    xs = [lowest[0].x0_mm, *(box.x1_mm for box in lowest)]
    floor = view.at((0.0, low[1]))[1] + BAND_MM + OFF_MM
    at_foot = [view.at((x, _floor_line(behind, x))) for x in xs]
    widths = Chain(
        direction="level",
        points=tuple((x, y + BAND_MM) for x, y in at_foot),
        line_at=floor,
        labels=tuple(show(b - a, marks) for a, b in pairwise(xs)),
        overall=show(xs[-1] - xs[0], marks) if len(xs) > 2 else "",
    )
    items = list(chain(widths, taken))
    ends = (_end_heights(design, behind, left=True), _end_heights(design, behind, left=False))
    sizes = [[show(b - a, marks) for a, b in pairwise(zs)] for _, zs in ends]
    for i, (x, zs) in enumerate(ends):
        if i == 1 and sizes[0] == sizes[1]:
            continue
        left = i == 0
        edge = view.at((low[0] if left else high[0], 0.0))[0]
        items.extend(chain(Chain(
            direction="upright", points=tuple(view.at((x, z)) for z in zs), labels=tuple(sizes[i]),
            line_at=edge - BAND_MM - OFF_MM if left else edge + BAND_MM + OFF_MM,
            overall=show(zs[-1] - zs[0], marks) if len(zs) > 2 else "", outward=-1 if left else 1,
        ), taken))  # fmt: skip
    return tuple(items)


def _floor_line(behind: Section, x: float) -> float:
    """Return the height of the drawn floor at x. [mm]"""
    return min(behind.lower, key=lambda point: abs(point[0] - x))[1]


def _end_heights(design: Design, behind: Section, *, left: bool) -> tuple[float, tuple[float, ...]]:
    """Return x of one end of the furniture and the heights that follow each other there, from the floor up. [mm]"""
    pick = min if left else max
    x = pick(box.x0_mm if left else box.x1_mm for box in design.boxes)
    tiers = sorted({round(box.z0_mm, 3) for box in design.boxes})
    zs = [_floor_line(behind, x)]
    if design.platform is not None:
        zs.append(design.platform.z1_mm)
    for tier in tiers:
        boxes = [box for box in design.boxes if abs(box.z0_mm - tier) < 0.01]
        box = boxes[0] if left else boxes[-1]
        zs += [box.z0_mm, box.z1_left_mm if left else box.z1_right_mm]
    rising = [z for i, z in enumerate(zs) if i == 0 or z - max(zs[:i]) > 0.5]
    return x, tuple(rising)


def _names(view: View, boxes: Iterable[Box], taken: Taken, *, with_letter: bool) -> Items:
    """Return the boxes' names in their middles, with the letter of their part numbers."""
    items: list[Item] = []
    for box in boxes:
        low, high = around(box.outline)
        words = f"{box.letter}: {box.name}" if with_letter else box.name
        spots = [
            view.at((low[0] + (high[0] - low[0]) * sx, low[1] + (high[1] - low[1]) * sz))
            for sz in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)
            for sx in (0.5, 0.6, 0.4, 0.7, 0.3, 0.75)
        ]
        shown = [(words, 3.5), (words, 2.5), (box.letter, 3.5)] if with_letter else [(words, 3.5), (words, 2.5)]
        texts = [
            Text(at=at, text=text, anchor="middle", bold=True, height_mm=height)
            for text, height in shown
            for at in spots
        ]
        items.extend(placed_words(texts, taken))
    return tuple(items)


def _boxes(design: Design, parts: PartList, room: Room, issue: Issue) -> Draft:
    """Return the boxes in the room, fronts and strips off, with each box's outside size."""
    behind = _room_behind(design, room)
    sheet = canvas(*behind.corners(), issue, sides_mm=SIDE_MM, below_mm=BELOW_MM, above_mm=BAND_MM + 2)
    view, taken = sheet.view, Taken()
    items: list[Item] = list(walls(view, behind.edges(), taken))
    standing = [part for part in parts.parts if part.role in {"worktop", "platform rail"}]
    items.extend(_box_boards(view, design, parts, narrow=False))
    items.extend(view.polygon(seen_from_front(part), pen="wide", fill="white") for part in standing)
    taken.note(items)
    items.extend(_heights_and_widths(view, behind, design, room, issue.marks, taken))
    items.extend(_names(view, design.boxes, taken, with_letter=True))
    for part in standing:
        if part.name != "back rail":
            items.extend(tag(view, part.number, seen_from_front(part), taken))
    return Draft(name="Boxes, fronts and strips off", items=tuple(items), scale=view.scale, landscape=sheet.landscape)


def _inside(box: Box, parts: PartList, issue: Issue) -> Draft:
    """Return one box without its front: its boards with their numbers, and the clear sizes of its openings."""
    low, high = around(box.outline)
    sheet = canvas(low, high, issue, sides_mm=22.0, below_mm=24.0, above_mm=10.0)
    view, taken = sheet.view, Taken()
    own = [part for part in parts.parts if part.module == box.name]
    cuts = boards_cut([p for p in own if p.role != "fixing rail"], "y", box.y_front_mm + box.depth_mm / 2)
    behind = [part for part in own if part.role in {"back", "fixing rail"}]
    items: list[Item] = [view.polygon(seen_from_front(part), pen="narrow", ink="grey") for part in behind]
    items.extend(draw_cuts(view, cuts))
    taken.note(items)
    items.extend(_pitch(view, box, taken))
    items.extend(_outside_sizes(view, box, issue.marks, taken))
    for opening in box.openings:
        items.extend(_clear_heights(view, box, opening, issue.marks, taken))
    for cut in sorted(cuts, key=lambda one: one.part.role == "loose shelf"):
        items.extend(tag(view, cut.part.number, cut.outlines[0], taken))
    before = [outline for cut in cuts for outline in cut.outlines]
    for part in behind:
        items.extend(tag(view, part.number, seen_from_front(part), taken, before))
    name = f"Box {box.letter}, {box.name}: boards and clear sizes"
    return Draft(name=name, items=tuple(items), scale=view.scale, landscape=sheet.landscape)


def _outside_sizes(view: View, box: Box, marks: Marks, taken: Taken) -> Items:
    """Return the chain of clear widths below with the overall width, and the side heights."""
    low_z = box.z0_mm
    boards = [(round(u.x_mm, 3), round(u.x_mm + u.thickness_mm, 3)) for u in box.uprights]
    xs = sorted({round(box.x0_mm, 3), round(box.x1_mm, 3), *(face for faces in boards for face in faces)})
    foot = view.at((0.0, low_z))[1]
    items = list(chain(Chain(
        direction="level", points=tuple(view.at((x, low_z)) for x in xs), line_at=foot + OFF_MM,
        labels=tuple("" if pair in boards else show(pair[1] - pair[0], marks) for pair in pairwise(xs)),
        overall=show(box.x1_mm - box.x0_mm, marks),
    ), taken))  # fmt: skip
    for x, z1, out in ((box.x0_mm, box.z1_left_mm, -1), (box.x1_mm, box.z1_right_mm, 1)):
        if out == 1 and abs(box.z1_left_mm - box.z1_right_mm) < 0.05:
            continue
        edge = view.at((x, 0.0))[0]
        items.extend(chain(Chain(
            direction="upright", points=(view.at((x, low_z)), view.at((x, z1))), labels=(show(z1 - low_z, marks),),
            line_at=edge + out * OFF_MM,
        ), taken))  # fmt: skip
    return tuple(items)


def _pitch(view: View, box: Box, taken: Taken) -> Items:
    """Return the pitch of the raked board in words, above it on the side where nothing stands."""
    if box.rake is None:
        return ()
    rising = box.rake.slope > 0
    words = f"pitch {math.degrees(box.rake.pitch_rad):.1f}°"
    places: list[Text] = []
    for share in (0.35, 0.25, 0.45, 0.15, 0.55, 0.05):
        along = share if rising else 1.0 - share
        x = box.x0_mm + along * (box.x1_mm - box.x0_mm)
        px, py = view.at((x, box.rake.at(x)))
        places.extend(
            Text(at=(px + (-2.0 if rising else 2.0), py - up), text=words, anchor="end" if rising else "start")
            for up in (4.0, 7.0, 11.0, 16.0)
        )
    return placed_words(places, taken)


def _clear_heights(view: View, box: Box, opening: Opening, marks: Marks, taken: Taken) -> Items:
    """Return the heights from board to board at an opening's left face, and at its right one where they differ."""
    (x0, _), (x1, _) = around(opening.outline)
    items: list[Item] = []
    ends = (_levels_at(box, opening, x0, x1, left=True), _levels_at(box, opening, x0, x1, left=False))
    inset = 6.0 * view.scale
    for left, zs in zip((True, False), ends, strict=True):
        if not left and len(zs) == len(ends[0]) and abs(zs[-1] - ends[0][-1]) < 0.05:
            continue
        at = x0 + inset if left else x1 - inset
        if len(zs) > 1:
            x = x0 if left else x1
            labels = tuple(show(b - a, marks) if not _is_board(box, opening, a, b) else "" for a, b in pairwise(zs))
            heights = Chain(
                direction="upright",
                points=tuple(view.at((x, z)) for z in zs),
                labels=labels,
                line_at=view.at((at, 0.0))[0],
                outward=1 if left else -1,
            )
            items.extend(chain(heights, taken))
    return tuple(items)


def _levels_at(box: Box, opening: Opening, x0: float, x1: float, *, left: bool) -> tuple[float, ...]:
    """Return the heights of the boards' faces met going up one face of an opening. [mm]"""
    x = x0 if left else x1
    zs = [z for px, z in opening.outline if abs(px - x) < 0.5]
    levels = {round(min(zs), 3), round(max(zs), 3)}
    for shelf in box.shelves:
        cut = shelf.cut_left if left else shelf.cut_right
        if shelf.x0_mm < x1 - 1 and shelf.x1_mm > x0 + 1 and not cut and min(zs) < shelf.z_mm < max(zs):
            levels |= {round(shelf.z_mm, 3), round(shelf.z_mm + shelf.thickness_mm, 3)}
    return tuple(sorted(levels))


def _is_board(box: Box, opening: Opening, low: float, high: float) -> bool:
    """Return whether two heights are the faces of one shelf."""
    return any(
        abs(shelf.z_mm - low) < 0.01 and abs(shelf.z_mm + shelf.thickness_mm - high) < 0.01 for shelf in box.shelves
    )
