"""Face trim: strips that cover edges and the gaps to walls, slope and ceiling."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from nookwright.geometry.frame import Point2
from nookwright.geometry.plane import Line, clipped_below, clipped_between, line_above, line_below, spaced
from nookwright.stages.design.boxes import TierBoxes
from nookwright.stages.design.design import Box, Rake, ScribedEdge, Strip, Upright
from nookwright.stages.design.rails import ceiling_at
from nookwright.stages.design.setting import Setting
from nookwright.stages.design.tops import STEP_MM, scribed_edge
from nookwright.stages.inputs.brief import Trim
from nookwright.stages.inputs.shop import BoardStock
from nookwright.stages.inputs.survey import SurfaceName
from nookwright.stages.room.room import Room


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """What a plumb strip covers: faces of the upright(s) behind it, and its own edges. [mm]

    Args:
        face_left_mm, face_right_mm: outermost faces of what lies behind it.
        left_mm, right_mm: its own edges.
        divider: the divider behind it; None over sides of boxes.
    """

    face_left_mm: float
    face_right_mm: float
    left_mm: float
    right_mm: float
    divider: Upright | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """The face of a tier: its strips, and where openings for doors are left between them. [mm]

    Args:
        covers: the plumb strips.
        raked, level: lower edges of the top strips, as lines z over x; None where there is none.
    """

    strips: tuple[Strip, ...]
    covers: tuple[Cover, ...]
    raked: Line | None
    level: Line | None


def trimmed(tier: TierBoxes, setting: Setting, trim: Trim, stock: BoardStock, lidded: bool) -> Face:
    """Return the strips of a tier's face.

    Args:
        tier: the tier's boxes.
        setting: the job.
        trim: widths and reveals wished.
        stock: what strips are ripped from.
        lidded: whether a worktop lies on the tier, so that nothing above it needs scribing.
    """
    boxes, room = tier.boxes, setting.room
    y = min(box.y_front_mm for box in boxes)
    upper = _upper_edges(boxes, room, y, lidded)
    left, left_cover = _end_strip(tier, setting, trim, "left", upper)
    right, right_cover = _end_strip(tier, setting, trim, "right", upper)
    centres = _centre_covers(boxes, trim)
    x_range = (left_cover.right_mm, right_cover.left_mm)
    made = [left, right, *_top_rails(boxes, upper, x_range, lidded, setting), _bottom_rail(boxes, x_range)]
    made.extend(_centre_strips(boxes, centres, trim))
    covers = (left_cover, *centres, right_cover)
    made.extend(_mid_rails(boxes, covers, trim.rail_mm))
    strips = tuple(replace(strip, y_back_mm=y, stock=stock, letter="S") for strip in made)
    raked = next((box.rake.lowered(trim.rail_mm) for box in boxes if box.rake), None)
    levels = [box.level_top_mm for box in boxes if box.level_top_mm is not None]
    return Face(
        strips=strips,
        covers=covers,
        raked=(raked.height_at_0_mm, raked.slope) if raked else None,
        level=(min(levels) - trim.rail_mm, 0.0) if levels else None,
    )


def _strip(
    name: str, outline: tuple[Point2, ...], long_edge: int, scribed: tuple[int, ScribedEdge] | None = None
) -> Strip:
    """Return a strip whose place and stock are filled in when the face is complete."""
    none = BoardStock(key="", name="", wood="", thickness_mm=0.0, width_mm=0.0, lengths=())
    return Strip(
        name=name, letter="S", outline=outline, long_edge=long_edge, scribed=scribed, y_back_mm=0.0, stock=none
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Upper:
    """What the face ends at above: the slope's line in the strips' plane, and a level line. [mm]"""

    rake: Line | None
    level_mm: float | None

    def at(self, x_mm: float) -> float:
        """Return its height at x. [mm]"""
        heights = [
            h for h in (self.level_mm, self.rake[0] + self.rake[1] * x_mm if self.rake else None) if h is not None
        ]
        return min(heights)


def _upper_edges(boxes: tuple[Box, ...], room: Room, y: float, lidded: bool) -> Upper:
    """Return the upper edge of the face: just below the slope and the ceiling, or the boxes' own level top."""
    x_range = (boxes[0].x0_mm - BEYOND_MM, boxes[-1].x1_mm + BEYOND_MM)
    rake = line_below(_heights(room, "slope", x_range, y)) if room.has("slope") else None
    tops = [box.level_top_mm for box in boxes if box.level_top_mm is not None]
    level = min(tops) if tops else None
    if level is not None and _meets_ceiling(room, level, x_range, y, lidded):
        level = min(z for _, z in _heights(room, "ceiling", x_range, y))
    return Upper(rake=rake, level_mm=level)


BEYOND_MM = 50.0
"""How far beyond the boxes the slope is looked at: end strips reach to the walls. Common practice, no source."""

SHORTEST_STRIP_MM = 20.0
"""A strip shorter than this is left out. Common practice, no source."""

WIDEST_FILLER_MM = 120.0
"""A wall further from the box than this is not reached by its end strip. Common practice, no source."""

STRIP_MM = 20.0
"""Depth in front of the boxes over which a strip must clear its wall: its own thickness. Common practice, no source."""

CEILING_REACH_MM = 80.0
"""A level top nearer to the ceiling than this is trimmed up to it. Common practice, no source."""


def _meets_ceiling(room: Room, level: float, x_range: tuple[float, float], y: float, lidded: bool) -> bool:
    """Return whether a level top is so near the ceiling that its strip goes up to it."""
    if lidded or not room.has("ceiling"):
        return False
    return min(z for _, z in _heights(room, "ceiling", x_range, y)) - level < CEILING_REACH_MM


def _heights(room: Room, surface: SurfaceName, x_range: tuple[float, float], y: float) -> list[Point2]:
    """Return the heights of slope or ceiling along the face. [mm]"""
    xs = spaced(*x_range, STEP_MM)
    return [(x, here.value) for x, here in zip(xs, room.profile(surface, tuple((x, y) for x in xs)), strict=True)]


def _end_strip(tier: TierBoxes, setting: Setting, trim: Trim, side: SurfaceName, upper: Upper) -> tuple[Strip, Cover]:
    """Return the strip at one end: scribed to its wall, or flush with a seen end."""
    left = side == "left"
    box = tier.boxes[0] if left else tier.boxes[-1]
    y = min(b.y_front_mm for b in tier.boxes)
    outside = box.x0_mm if left else box.x1_mm
    inward = 1.0 if left else -1.0
    t = _side_mm(box)
    line: Line = (outside, 0.0)
    edge: ScribedEdge | None = None
    if _wall_beside(tier, setting.room, side, y, upper):
        top = box.z1_left_mm if left else box.z1_right_mm
        zs = spaced(box.z0_mm, top, STEP_MM)
        want: Literal["least", "greatest"] = "greatest" if left else "least"
        places = [(z, setting.room.governing(side, (y - STRIP_MM, y), (z, z), want)) for z in zs]
        line = (line_above if left else line_below)([(z, here.value) for z, here in places])
        edge = scribed_edge(side, line, places, setting.brief.allowances)
    head = _corner(line, upper, outside)
    outer = [line[0] + line[1] * box.z0_mm, head[0]]
    innermost = max(outer) if left else min(outer)
    wished = max((outside + inward * (t - trim.reveal_mm)) * inward, (innermost + inward * trim.rail_mm) * inward)
    inner = min(wished, _middle_beside(box, side) * inward) * inward
    corners = ((outer[0], box.z0_mm), (inner, box.z0_mm), (inner, upper.at(inner)), head)
    outline = corners if left else tuple(reversed(corners))
    strip = _strip(f"{side} end strip", outline, 1, (3, edge) if edge else None)
    face = outside + inward * t
    cover = Cover(
        face_left_mm=min(outside, face),
        face_right_mm=max(outside, face),
        left_mm=min(*outer, inner),
        right_mm=max(*outer, inner),
    )
    return strip, cover


def _middle_beside(box: Box, side: SurfaceName) -> float:
    """Return the middle of the space beside a box's outer side: no end strip closes more than half of it. [mm]"""
    t = _side_mm(box)
    dividers = [u for u in box.uprights if u.kind == "divider"]
    if side == "left":
        return (box.x0_mm + t + min([u.x_mm for u in dividers], default=box.x1_mm - t)) / 2
    return (box.x1_mm - t + max([u.x_mm + u.thickness_mm for u in dividers], default=box.x0_mm + t)) / 2


def _wall_beside(tier: TierBoxes, room: Room, side: SurfaceName, y: float, upper: Upper) -> bool:
    """Return whether a wall stands near enough beside a tier's end to be scribed to, and below the slope."""
    left = side == "left"
    if (tier.reach.left if left else tier.reach.right) is None:
        return False
    box = tier.boxes[0] if left else tier.boxes[-1]
    wall = room.at(side, y, box.z0_mm).value
    near = abs(wall - (box.x0_mm if left else box.x1_mm)) <= WIDEST_FILLER_MM
    return near and upper.at(wall) - box.z0_mm >= SHORTEST_STRIP_MM


def _corner(line: Line, upper: Upper, start_x: float) -> Point2:
    """Return where a strip's outer edge, x over z, meets the upper edge of the face. [mm]"""
    x = start_x
    for _ in range(CORNER_STEPS):
        x = line[0] + line[1] * upper.at(x)
    return x, upper.at(x)


CORNER_STEPS = 8
"""A wall leans by hundredths, so each step leaves a tenth of the error or less."""


def _centre_covers(boxes: tuple[Box, ...], trim: Trim) -> tuple[Cover, ...]:
    """Return the covers over doubled sides and dividers, as wide as wished where the spaces beside them allow."""
    behind: list[Cover] = []
    for left, right in pairwise(boxes):
        faces = left.x1_mm - _side_mm(left), right.x0_mm + _side_mm(right)
        behind.append(Cover(face_left_mm=faces[0], face_right_mm=faces[1], left_mm=faces[0], right_mm=faces[1]))
    for divider in (u for box in boxes for u in box.uprights if u.kind == "divider"):
        x0, x1 = divider.x_mm, divider.x_mm + divider.thickness_mm
        behind.append(Cover(face_left_mm=x0, face_right_mm=x1, left_mm=x0, right_mm=x1, divider=divider))
    behind.sort(key=lambda cover: cover.face_left_mm)
    inner = boxes[0].x0_mm + _side_mm(boxes[0]), boxes[-1].x1_mm - _side_mm(boxes[-1])
    return tuple(_widened(cover, behind, inner, trim) for cover in behind)


def _side_mm(box: Box) -> float:
    """Return the thickness of a box's sides. [mm]"""
    return box.bought.side_mm if box.bought else box.board.thickness_mm


def _widened(cover: Cover, others: list[Cover], inner: tuple[float, float], trim: Trim) -> Cover:
    """Return a cover at its wished width, but closing no more than half of the narrower space beside it."""
    x0, x1 = cover.face_left_mm, cover.face_right_mm
    level = [other for other in others if _share_a_level(cover, other)]
    left = max([inner[0], *(o.face_right_mm for o in level if o.face_right_mm <= x0 + 0.05)])
    right = min([inner[1], *(o.face_left_mm for o in level if o.face_left_mm >= x1 - 0.05)])
    wished = max(trim.centre_mm, x1 - x0 - 2 * trim.reveal_mm)
    width = min(wished, x1 - x0 + 0.5 * min(x0 - left, right - x1))
    middle = (x0 + x1) / 2
    return replace(cover, left_mm=middle - width / 2, right_mm=middle + width / 2)


def _share_a_level(first: Cover, second: Cover) -> bool:
    """Return whether two covers stand beside each other somewhere: sides of boxes stand beside all."""
    a, b = first.divider, second.divider
    if a is None or b is None:
        return True
    return a.z0_mm < max(b.z1_left_mm, b.z1_right_mm) and b.z0_mm < max(a.z1_left_mm, a.z1_right_mm)


def _lower_edge(boxes: tuple[Box, ...], trim_mm: float, x: float) -> float:
    """Return the lower edge of a tier's top strips at x: they cover the boxes' tops and more. [mm]"""
    level = min((box.level_top_mm for box in boxes if box.level_top_mm is not None), default=math.inf)
    raked = next((box.rake for box in boxes if box.rake), None)
    return min(level - trim_mm, raked.lowered(trim_mm).at(x) if raked else math.inf)


def _top_rails(
    boxes: tuple[Box, ...], upper: Upper, x_range: tuple[float, float], lidded: bool, setting: Setting
) -> list[Strip]:
    """Return the strips under slope and ceiling, between the end strips; they meet plumb where both occur."""
    x0, x1 = x_range
    y = min(box.y_front_mm for box in boxes)
    rail_mm = setting.brief.trim.rail_mm if setting.brief.trim else 0.0
    raked = next((box for box in boxes if box.rake), None)
    levels = [box.level_top_mm for box in boxes if box.level_top_mm is not None]
    kink = _kink(upper)
    strips: list[Strip] = []
    if raked is not None and raked.rake is not None and upper.rake is not None:
        ends = (x0, x1) if not levels else ((x0, min(kink, x1)) if upper.rake[1] > 0 else (max(kink, x0), x1))
        if ends[1] - ends[0] >= SHORTEST_STRIP_MM:
            strips.append(_raked_rail(raked.rake.lowered(rail_mm), upper.rake, ends, y, setting))
    if levels and upper.level_mm is not None:
        ends = (x0, x1)
        if raked is not None and upper.rake is not None:
            ends = (max(kink, x0), x1) if upper.rake[1] > 0 else (x0, min(kink, x1))
        if ends[1] - ends[0] >= SHORTEST_STRIP_MM:
            strips.append(_level_rail((min(levels) - rail_mm, upper.level_mm), ends, y, lidded, setting))
    return strips


def _kink(upper: Upper) -> float:
    """Return x where the face turns from slope to level; 0 when it does not. [mm]"""
    if upper.rake is None or upper.level_mm is None:
        return 0.0
    return (upper.level_mm - upper.rake[0]) / upper.rake[1]


def _raked_rail(lower: Rake, above: Line, ends: tuple[float, float], y: float, setting: Setting) -> Strip:
    """Return the strip that follows the slope, scribed to it along its upper edge."""
    xs = spaced(*ends, STEP_MM)
    places = list(zip(xs, setting.room.profile("slope", tuple((x, y) for x in xs)), strict=True))
    edge = scribed_edge("slope", above, places, setting.brief.allowances)
    outline = (
        (ends[0], lower.at(ends[0])),
        (ends[1], lower.at(ends[1])),
        (ends[1], above[0] + above[1] * ends[1]),
        (ends[0], above[0] + above[1] * ends[0]),
    )
    return _strip("raked strip", outline, 0, (2, edge))


def _level_rail(
    heights: tuple[float, float], ends: tuple[float, float], y: float, lidded: bool, setting: Setting
) -> Strip:
    """Return the level top strip, scribed to the ceiling where it reaches it."""
    lower, level = heights
    room = setting.room
    outline = ((ends[0], lower), (ends[1], lower), (ends[1], level), (ends[0], level))
    if lidded or not room.has("ceiling"):
        return _strip("top strip", outline, 0)
    xs = spaced(*ends, STEP_MM)
    places = list(zip(xs, room.profile("ceiling", tuple((x, y) for x in xs)), strict=True))
    if min(here.value for _, here in places) - level > 1.0:
        return _strip("top strip", outline, 0)
    return _strip("top strip", outline, 0, (2, scribed_edge("ceiling", (level, 0.0), places, setting.brief.allowances)))


def _bottom_rail(boxes: tuple[Box, ...], x_range: tuple[float, float]) -> Strip:
    """Return the strip over the edges of the bottoms, flush with their upper faces."""
    x0, x1 = x_range
    z0, t = boxes[0].z0_mm, boxes[0].board.thickness_mm
    return _strip("bottom strip", ((x0, z0), (x1, z0), (x1, z0 + t), (x0, z0 + t)), 0)


def _centre_strips(boxes: tuple[Box, ...], covers: tuple[Cover, ...], trim: Trim) -> list[Strip]:
    """Return the strips over doubled sides and dividers, up to the board or the strip above."""
    strips: list[Strip] = []
    for cover in covers:
        middle = (cover.left_mm + cover.right_mm) / 2
        box = next(b for b in boxes if b.x0_mm - 1 <= middle <= b.x1_mm + 1)
        foot = cover.divider.z0_mm if cover.divider else box.z0_mm + box.board.thickness_mm
        heads = [_lower_edge(boxes, trim.rail_mm, x) for x in (cover.left_mm, cover.right_mm)]
        if cover.divider is not None:
            own = min(cover.divider.z1_left_mm, cover.divider.z1_right_mm)
            if own < min(ceiling_at(box, x) for x in (cover.face_left_mm, cover.face_right_mm)) - 1.0:
                heads = [min(head, own) for head in heads]
        if min(heads) - foot < SHORTEST_STRIP_MM:
            continue
        outline = ((cover.left_mm, foot), (cover.right_mm, foot), (cover.right_mm, heads[1]), (cover.left_mm, heads[0]))
        strips.append(_strip("centre strip", outline, 1))
    return strips


def _mid_rails(boxes: tuple[Box, ...], covers: tuple[Cover, ...], rail_mm: float) -> list[Strip]:
    """Return the strips over row boards that run from upright to upright, clear of the top strips."""
    strips: list[Strip] = []
    for box in boxes:
        for shelf in box.shelves:
            if shelf.fixing != "row" or shelf.cut_left or shelf.cut_right:
                continue
            x0, x1 = clear_between(covers, shelf.x0_mm, shelf.x1_mm)
            z0, z1 = shelf.z_mm, shelf.z_mm + shelf.thickness_mm
            if min(_lower_edge(boxes, rail_mm, x) for x in (x0, x1)) < z1 or x1 - x0 < SHORTEST_STRIP_MM:
                continue
            strips.append(_strip("middle strip", ((x0, z0), (x1, z0), (x1, z1), (x0, z1)), 0))
    return strips


def clear_between(covers: tuple[Cover, ...], x0: float, x1: float) -> tuple[float, float]:
    """Return the clear space between the strips beside two facing upright faces. [mm]"""
    left = next((c.right_mm for c in covers if abs(c.face_right_mm - x0) < 0.05), x0)
    right = next((c.left_mm for c in covers if abs(c.face_left_mm - x1) < 0.05), x1)
    return max(left, x0), min(right, x1)


def clear_opening(face: Face, outline: tuple[Point2, ...]) -> tuple[Point2, ...]:
    """Return an opening as the strips leave it, counter-clockwise; empty when they close it. [mm]"""
    xs = [x for x, _ in outline]
    cut = clipped_between(outline, *clear_between(face.covers, min(xs), max(xs)))
    for line in (face.raked, face.level):
        if cut and line is not None:
            cut = clipped_below(cut, line)
    return cut
