"""Dimension lines: chains with an overall size, angles, and leaders to ringed part numbers.

Level dimensions read from below, upright ones from the right; text stands above its line. A size too long for its
space is moved to the first free place beside, above or below it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from nookwright.drawings.clearance import Taken
from nookwright.drawings.lettering import LINE_PITCH, reach_below_mm, text_corners, true_fractions, width_mm
from nookwright.drawings.page import Circle, Item, Items, Line, Shape, Text
from nookwright.geometry.frame import Point2

Direction = Literal["level", "upright"]

OFF_LINE_MM = 1.5
"""Clear space between a line and the words above it. Common practice, no source."""

TICK_MM = 1.4
"""Half the length of a building tick, along each axis. Common practice, no source."""

TIGHT_MM = 0.8
"""The same for the lowest reach of letters and lowered figures. Common practice, no source."""

BEYOND_MM = 2.0
"""How far an extension line passes the dimension line. Common practice, no source."""

FROM_OBJECT_MM = 1.5
"""Clear space between the thing measured and its extension line. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Chain:
    """Sizes in a row along one line, and the overall size one row further out.

    Args:
        direction: `level` measures along the paper's width, `upright` along its height.
        points: the points measured between, in order along the direction. [mm on paper]
        labels: one size between each two points; an empty one is left out.
        line_at: y of a level dimension line, or x of an upright one. [mm on paper]
        overall: the label of the whole, or empty for none.
        outward: +1 when the outer row lies at greater y (or x), -1 when it lies at smaller.
        row_mm: distance to the outer row. [mm]
        height_mm: height of the figures. [mm]
    """

    direction: Direction
    points: tuple[Point2, ...]
    labels: tuple[str, ...]
    line_at: float
    overall: str = ""
    outward: Literal[-1, 1] = 1
    row_mm: float = 9.0
    height_mm: float = 3.5


def chain(dims: Chain, taken: Taken) -> Items:
    """Return the lines and words of a chain; words avoid whatever is taken and are added to it."""
    rows = [(dims.line_at, dims.points, dims.labels)]
    if dims.overall:
        ends = (dims.points[0], dims.points[-1])
        rows.append((dims.line_at + dims.outward * dims.row_mm, ends, (dims.overall,)))
    lines: list[Item] = []
    for at, points, _ in rows:
        lines.extend(_row_lines(dims.direction, points, at))
    taken.note(lines)
    words: list[Item] = []
    for at, points, labels in rows:
        alongs = [_along(dims.direction, point) for point in points]
        # The longest spaces first: their sizes stay where they belong, and short ones find a place among them.
        for i in sorted(range(len(labels)), key=_shortness(alongs)):
            if labels[i]:
                words.extend(_placed(dims, points, i, at, true_fractions(labels[i]), taken))
    return tuple(lines + words)


def _shortness(alongs: Sequence[float]) -> Callable[[int], float]:
    """Return the sort key that puts the longest space first."""
    return lambda i: -abs(alongs[i + 1] - alongs[i])


def single(
    direction: Direction, ends: tuple[Point2, Point2], label: str, line_at: float, taken: Taken, height_mm: float = 3.5
) -> Items:
    """Return one dimension between two points."""
    return chain(Chain(direction=direction, points=ends, labels=(label,), line_at=line_at, height_mm=height_mm), taken)


def spread_out(places: Sequence[float], pitch_mm: float) -> list[float]:
    """Return the nearest places that lie a pitch apart, in the same order; crowded ones spread about their middle.

    Args:
        places: in rising order. [mm]
        pitch_mm: least distance from one to the next. [mm]

    Returns:
        As many places, in rising order. [mm]

    Example:
        >>> spread_out([0.0, 2.0, 50.0], 6.0)
        [-2.0, 4.0, 50.0]
    """
    groups: list[tuple[float, int]] = []
    for place in places:
        middle, count = place, 1
        while groups and groups[-1][0] + (groups[-1][1] + count) / 2 * pitch_mm > middle + 1e-9:
            before, number = groups.pop()
            middle, count = (before * number + middle * count) / (number + count), number + count
        groups.append((middle, count))
    return [middle + (i - (count - 1) / 2) * pitch_mm for middle, count in groups for i in range(count)]


RUN_PITCH_EMS = 1.5
"""Least distance between running sizes side by side, in heights of their figures. Our choice."""


def running(places: Sequence[tuple[float, str]], from_y: float, to_y: float, height_mm: float, taken: Taken) -> Items:
    """Return running sizes below a thing, read from the right: a line at each place, a dot where they start.

    Args:
        places: x of each with its size, the start first. [mm on paper]
        from_y: where the lines begin. [mm on paper]
        to_y: where the sizes begin. [mm on paper]
        height_mm: height of the figures. [mm]
        taken: what stands on the paper; all of it is added.
    """
    xs = [x for x, _ in places]
    knee = to_y - 5.0
    items: list[Item] = [Circle(centre=(xs[0], knee), radius=1.0)]
    for x, spread, (_, label) in zip(xs, spread_out(xs, RUN_PITCH_EMS * height_mm), places, strict=True):
        items.append(Line(start=(x, from_y), end=(x, knee)))
        items.append(Line(start=(x, knee), end=(spread, to_y - 1.0)))
        at = (spread + height_mm / 2, to_y)
        items.append(Text(at=at, text=label, height_mm=height_mm, anchor="end", angle_deg=90.0))
    taken.note(items)
    return tuple(items)


def off_line_mm(words: str, height_mm: float) -> float:
    """Return how far words stand above a line: more when lowered figures or tails reach below. [mm]"""
    reach = reach_below_mm(words, height_mm)
    return max(OFF_LINE_MM, TIGHT_MM + reach)


def _along(direction: Direction, point: Point2) -> float:
    return point[0] if direction == "level" else point[1]


def _across(direction: Direction, point: Point2) -> float:
    return point[1] if direction == "level" else point[0]


def _point(direction: Direction, along: float, across: float) -> Point2:
    return (along, across) if direction == "level" else (across, along)


def _row_lines(direction: Direction, points: Sequence[Point2], at: float) -> list[Item]:
    """Return the dimension line, its ticks and its extension lines."""
    alongs = [_along(direction, point) for point in points]
    lines: list[Item] = [
        Line(start=_point(direction, min(alongs), at), end=_point(direction, max(alongs), at)),
    ]
    for point in points:
        along, across = _along(direction, point), _across(direction, point)
        towards = 1.0 if at >= across else -1.0
        if abs(at - across) > FROM_OBJECT_MM:
            start = _point(direction, along, across + towards * FROM_OBJECT_MM)
            lines.append(Line(start=start, end=_point(direction, along, at + towards * BEYOND_MM)))
        x, y = _point(direction, along, at)
        lines.append(Line(start=(x - TICK_MM, y + TICK_MM), end=(x + TICK_MM, y - TICK_MM), pen="wide"))
    return lines


def _placed(dims: Chain, points: Sequence[Point2], index: int, at: float, label: str, taken: Taken) -> list[Item]:
    """Return the words of one size at the first free place, with a short leader when they had to move far."""
    first, last = sorted((_along(dims.direction, points[index]), _along(dims.direction, points[index + 1])))
    alongs = [_along(dims.direction, point) for point in points]
    ends = (first <= min(alongs) + 1e-9, last >= max(alongs) - 1e-9)
    candidates = _candidates(dims, (first, last), ends, at, label)
    free = (
        (text, line)
        for text, line in candidates
        if taken.free(text_corners(text)) and (line is None or taken.clear_of_words(line))
    )
    text, line = next(free, candidates[-1])
    items: list[Item] = [text] if line is None else [line, text]
    taken.note(items)
    return items


def _candidates(
    dims: Chain, space: tuple[float, float], ends: tuple[bool, bool], at: float, label: str
) -> list[tuple[Text, Line | None]]:
    """Return places for the words, best first, each with its leader or None.

    Above its line; beyond an end of the chain; then stepped away by rows and shifted sideways, with a leader.
    """
    direction, height = dims.direction, dims.height_mm
    first, last = space
    wide, middle = width_mm(label, height), (first + last) / 2
    above = at - off_line_mm(label, height)

    def words(along: float, across: float) -> Text:
        where = _point(direction, along, across)
        return Text(
            at=where, text=label, height_mm=height, anchor="middle", angle_deg=0.0 if direction == "level" else 90.0
        )

    places: list[tuple[Text, Line | None]] = []
    spare = last - first - wide - 1.0
    if spare >= 0.0:
        places += [(words(middle + share * spare, above), None) for share in (0.0, 0.25, -0.25, 0.45, -0.45)]
    beyond = wide / 2 + TICK_MM + 1.2
    if ends[1]:
        places.append((words(last + beyond, above), None))
    if ends[0]:
        places.append((words(first - beyond, above), None))
    for row in range(1, 9):
        away = BEYOND_MM + 1.2 + (row - 1) * height * LINE_PITCH
        for side in (dims.outward, -dims.outward):
            # Letters stand above the line they stand on, so going down (or right) needs their height as well.
            across = at + away + height if side > 0 else at - away
            near_edge = across - height - 0.5 if side > 0 else across + 0.3 * height + 0.5
            for shift in (0.0, 0.35, -0.35, 0.7, -0.7, 1.2, -1.2):
                along = middle + shift * wide
                line = Line(start=_point(direction, middle, at), end=_point(direction, along, near_edge))
                places.append((words(along, across), line))
    return places


@dataclass(frozen=True, slots=True, kw_only=True)
class Angle:
    """An angle between two directions from a corner. [mm on paper]

    Args:
        corner: where the legs meet.
        from_deg, to_deg: directions of the legs, counter-clockwise from the right as one sees it. [deg]
        label: the angle in words.
        radius: of the arc.
    """

    corner: Point2
    from_deg: float
    to_deg: float
    label: str
    radius: float = 9.0
    height_mm: float = 3.5


def angle(mark: Angle, taken: Taken) -> Items:
    """Return the arc and its label, beside the arc's middle at the first free distance."""
    steps = 16
    arc = [
        _around(mark.corner, mark.radius, mark.from_deg + (mark.to_deg - mark.from_deg) * i / steps)
        for i in range(steps + 1)
    ]
    shape = Shape(points=tuple(arc), closed=False)
    middle = (mark.from_deg + mark.to_deg) / 2
    wide = width_mm(mark.label, mark.height_mm)
    taken.note((shape,))
    candidates: list[Text] = []
    for out in (2.0, 4.0, 7.0, 11.0, 16.0):
        for turn in (0.0, 14.0, -14.0, 30.0, -30.0, 60.0, -60.0):
            x, y = _around(mark.corner, mark.radius + out, middle + turn)
            cos = math.cos(math.radians(middle + turn))
            sin = math.sin(math.radians(middle + turn))
            at = (x + cos * wide / 2, y - sin * mark.height_mm / 2 + mark.height_mm / 2)
            candidates.append(Text(at=at, text=mark.label, height_mm=mark.height_mm, anchor="middle"))
    text = candidates[taken.first_free(candidates)]
    taken.note((text,))
    return (shape, text)


def _around(centre: Point2, radius: float, direction_deg: float) -> Point2:
    """Return the point at a distance and direction, counter-clockwise as one sees it."""
    turn = math.radians(direction_deg)
    return (centre[0] + radius * math.cos(turn), centre[1] - radius * math.sin(turn))


RING_TEXT_MM = 3.5


def ring(centre: Point2, number: str, *, height_mm: float = RING_TEXT_MM) -> Items:
    """Return a part number in a ring; a long number makes the ring wider."""
    radius = max(height_mm * 1.1, width_mm(number, height_mm, bold=True) / 2 + 1.0)
    return (
        Circle(centre=centre, radius=radius, fill="white"),
        Text(at=(centre[0], centre[1] + height_mm / 2), text=number, height_mm=height_mm, anchor="middle", bold=True),
    )


def leader(target: Point2, places: Sequence[Point2], words: str, taken: Taken) -> Items:
    """Return a note at the first free place, a line from it to the target, and a dot there."""
    candidates = [
        Text(at=place, text=true_fractions(words), anchor="start" if place[0] >= target[0] else "end")
        for place in places
    ]
    text = candidates[taken.first_free(candidates)]
    side = -0.8 if text.anchor == "start" else 0.8
    elbow = (text.at[0] + side, text.at[1] - text.height_mm / 2)
    items: Items = (Line(start=target, end=elbow), Circle(centre=target, radius=0.6, fill="grey"), text)
    taken.note(items)
    return items
