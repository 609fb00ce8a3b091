"""Face trim: strips that cover edges and the gaps to walls, slope and ceiling."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from nookwright.geometry.frame import Point2
from nookwright.geometry.plane import Line, clipped_below, clipped_between, line_above, line_below, spaced
from nookwright.stages.design.boxes import TierBoxes
from nookwright.stages.design.design import Box, Rake, ScribedEdge, Strip
from nookwright.stages.design.rails import ceiling_at
from nookwright.stages.design.setting import Setting
from nookwright.stages.design.tops import STEP_MM, scribed_edge
from nookwright.stages.inputs.brief import Trim
from nookwright.stages.inputs.shop import BoardStock
from nookwright.stages.inputs.survey import SurfaceName
from nookwright.stages.room.room import Room


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """What a plumb strip covers: faces of the upright(s) behind it, and its own edges. [mm]"""

    face_left_mm: float
    face_right_mm: float
    left_mm: float
    right_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """The face of a tier: its strips, and where openings for doors are left between them. [mm]

    Args:
        covers: the plumb strips.
        rail_mm: how far the top strip reaches down from the box's top.
    """

    strips: tuple[Strip, ...]
    covers: tuple[Cover, ...]
    rail_mm: float


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
    made.extend(_mid_rails(boxes, covers))
    strips = tuple(replace(strip, y_back_mm=y, stock=stock, letter="S") for strip in made)
    return Face(strips=strips, covers=covers, rail_mm=trim.rail_mm)


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
    x_range = (boxes[0].x0_mm, boxes[-1].x1_mm)
    raked = any(box.rake for box in boxes)
    rake = line_below(_heights(room, "slope", x_range, y)) if raked else None
    tops = [box.level_top_mm for box in boxes if box.level_top_mm is not None]
    level = min(tops) if tops else None
    if level is not None and _meets_ceiling(room, level, x_range, y, lidded):
        level = min(z for _, z in _heights(room, "ceiling", x_range, y))
    return Upper(rake=rake, level_mm=level)


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
    t = box.bought.side_mm if box.bought else box.board.thickness_mm
    meets = tier.reach.left if left else tier.reach.right
    line: Line = (outside, 0.0)
    edge: ScribedEdge | None = None
    if meets is not None:
        top = max(box.z1_left_mm, box.z1_right_mm)
        zs = spaced(box.z0_mm, top, STEP_MM)
        want: Literal["least", "greatest"] = "greatest" if left else "least"
        places = [(z, setting.room.governing(side, (y - STRIP_MM, y), (z, z), want)) for z in zs]
        line = (line_above if left else line_below)([(z, here.value) for z, here in places])
        edge = scribed_edge(side, line, places, setting.brief.allowances)
    outer = [line[0] + line[1] * z for z in (box.z0_mm, upper.at(outside))]
    innermost = max(outer) if left else min(outer)
    inner = (
        max((outside + inward * (t - trim.reveal_mm)) * inward, (innermost + inward * trim.rail_mm) * inward) * inward
    )
    top_outer = upper.at(outer[1])
    corners = ((outer[0], box.z0_mm), (inner, box.z0_mm), (inner, upper.at(inner)), (outer[1], top_outer))
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


def _centre_covers(boxes: tuple[Box, ...], trim: Trim) -> tuple[Cover, ...]:
    """Return the covers over doubled sides and dividers, left to right."""
    pairs: list[tuple[float, float]] = []
    for box in boxes:
        t = box.bought.side_mm if box.bought else box.board.thickness_mm
        if box is not boxes[0]:
            before = pairs.pop()
            pairs.append((before[0], box.x0_mm + t))
        pairs.extend((u.x_mm, u.x_mm + u.thickness_mm) for u in box.uprights if u.kind == "divider")
        pairs.append((box.x1_mm - t, box.x1_mm))
    covers: list[Cover] = []
    for x0, x1 in pairs[:-1]:
        width = max(trim.centre_mm, x1 - x0 - 2 * trim.reveal_mm)
        middle = (x0 + x1) / 2
        covers.append(Cover(face_left_mm=x0, face_right_mm=x1, left_mm=middle - width / 2, right_mm=middle + width / 2))
    return tuple(covers)


def _lower_edge(box: Box, trim_mm: float, x: float) -> float:
    """Return the lower edge of the top strip at x, covering the box's top and more. [mm]"""
    level = box.level_top_mm - trim_mm if box.level_top_mm is not None else None
    raked = box.rake.lowered(trim_mm).at(x) if box.rake else None
    return min(h for h in (level, raked) if h is not None)


def _top_rails(
    boxes: tuple[Box, ...], upper: Upper, x_range: tuple[float, float], lidded: bool, setting: Setting
) -> list[Strip]:
    """Return the strips under slope and ceiling, between the end strips; they meet plumb where both occur."""
    x0, x1 = x_range
    y = min(box.y_front_mm for box in boxes)
    rail_mm = setting.brief.trim.rail_mm if setting.brief.trim else 0.0
    raked = next((box for box in boxes if box.rake), None)
    level = next((box for box in boxes if box.level_top_mm is not None), None)
    kink = _kink(upper)
    strips: list[Strip] = []
    if raked is not None and raked.rake is not None and upper.rake is not None:
        ends = (x0, x1) if level is None else ((x0, min(kink, x1)) if upper.rake[1] > 0 else (max(kink, x0), x1))
        strips.append(_raked_rail(raked.rake.lowered(rail_mm), upper.rake, ends, y, setting))
    if level is not None and level.level_top_mm is not None and upper.level_mm is not None:
        ends = (x0, x1)
        if raked is not None and upper.rake is not None:
            ends = (max(kink, x0), x1) if upper.rake[1] > 0 else (x0, min(kink, x1))
        strips.append(_level_rail((level.level_top_mm - rail_mm, upper.level_mm), ends, y, lidded, setting))
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
    """Return the strips over doubled sides and dividers."""
    strips: list[Strip] = []
    for cover in covers:
        middle = (cover.left_mm + cover.right_mm) / 2
        box = next(b for b in boxes if b.x0_mm - 1 <= middle <= b.x1_mm + 1)
        divider = next(
            (u for u in box.uprights if u.kind == "divider" and abs(u.x_mm - cover.face_left_mm) < 0.01), None
        )
        foot = divider.z0_mm if divider else box.z0_mm + box.board.thickness_mm
        lowered = [_lower_edge(box, trim.rail_mm, x) for x in (cover.left_mm, cover.right_mm)]
        if divider and divider.z1_left_mm < ceiling_at(box, divider.x_mm) - 1.0:
            lowered = [divider.z1_left_mm, divider.z1_right_mm]
        outline = (
            (cover.left_mm, foot),
            (cover.right_mm, foot),
            (cover.right_mm, lowered[1]),
            (cover.left_mm, lowered[0]),
        )
        strips.append(_strip("centre strip", outline, 1))
    return strips


def _mid_rails(boxes: tuple[Box, ...], covers: tuple[Cover, ...]) -> list[Strip]:
    """Return the strips over the boards between rows that run square from upright to upright."""
    strips: list[Strip] = []
    for box in boxes:
        for shelf in box.shelves:
            if shelf.fixing != "row" or shelf.cut_left or shelf.cut_right:
                continue
            x0, x1 = clear_between(covers, shelf.x0_mm, shelf.x1_mm)
            z0, z1 = shelf.z_mm, shelf.z_mm + shelf.thickness_mm
            strips.append(_strip("middle strip", ((x0, z0), (x1, z0), (x1, z1), (x0, z1)), 0))
    return strips


def clear_between(covers: tuple[Cover, ...], x0: float, x1: float) -> tuple[float, float]:
    """Return the clear space between the strips beside two facing upright faces. [mm]"""
    left = next((c.right_mm for c in covers if abs(c.face_right_mm - x0) < 0.05), x0)
    right = next((c.left_mm for c in covers if abs(c.face_left_mm - x1) < 0.05), x1)
    return max(left, x0), min(right, x1)


def clear_opening(face: Face, box: Box, outline: tuple[Point2, ...]) -> tuple[Point2, ...]:
    """Return an opening as the strips leave it, counter-clockwise; empty when they close it. [mm]"""
    xs = [x for x, _ in outline]
    x0, x1 = clear_between(face.covers, min(xs), max(xs))
    cut = clipped_between(outline, x0, x1)
    if cut and box.rake is not None:
        lowered = box.rake.lowered(face.rail_mm)
        cut = clipped_below(cut, (lowered.height_at_0_mm, lowered.slope))
    if cut and box.level_top_mm is not None:
        cut = clipped_below(cut, (box.level_top_mm - face.rail_mm, 0.0))
    return cut
