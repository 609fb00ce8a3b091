"""Rings: a number in a ring on the board it names, or beside it, or beside a mark, with a line that leads to it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from nookwright.drawings.clearance import Taken, touching
from nookwright.drawings.dimensions import RING_TEXT_MM, ring
from nookwright.drawings.lettering import width_mm
from nookwright.drawings.page import Circle, Item, Items, Line
from nookwright.drawings.pages.outlines import around, covered, middle
from nookwright.drawings.view import View
from nookwright.geometry.frame import Point2

_TURNS = tuple(
    math.radians(turn) for turn in (0, 180, 90, 270, 45, 135, 225, 315, 22, 158, 202, 338, 68, 112, 248, 292)
)

_SLANTS = tuple(math.radians(turn) for turn in (45, 315, 135, 225, 0, 180))
_REACHES = (7.0, 9.5, 12.0, 15.0, 19.0, 24.0, 30.0, 37.0, 45.0, 55.0, 65.0)
"""Lengths of leader tried, on paper. Our choice. [mm]"""


def tag(
    view: View, number: str, outline: Sequence[Point2], taken: Taken, before: Iterable[Sequence[Point2]] = ()
) -> Items:
    """Return a ring with a part number: inside its outline when there is room, else beside it with a leader.

    Args:
        view: how the model comes onto paper.
        number: the part number.
        outline: the board as drawn. [mm]
        taken: what stands on the paper; the ring is added.
        before: boards in front of it, which a leader must not seem to point at. [mm]
    """
    hidden = tuple(before)
    places = [place for place in _places_on(outline) if not covered(place, hidden)]
    spots = [view.at(place) for place in places] or [view.at(middle(outline))]
    for target in spots:
        if _clear(target, number, taken):
            return _noted(ring(target, number), taken)
    for reach in _REACHES:
        for target in spots:
            for turn in _TURNS:
                centre = _away(target, reach, turn)
                if _clear(centre, number, taken) and taken.clear_of_words(Line(start=target, end=centre)):
                    return _led_ring(target, centre, number, taken)
    return _noted(ring(spots[0], number), taken)


def _led_ring(target: Point2, centre: Point2, number: str, taken: Taken) -> Items:
    """Return a ring, the line from it to what it names, and a dot there."""
    share = 1.0 - _ring_radius(number) / math.dist(target, centre)
    edge = (target[0] + (centre[0] - target[0]) * share, target[1] + (centre[1] - target[1]) * share)
    # The dot is too small to keep words off; the leader is kept as a line.
    taken.lines.append((target, centre))
    dot = Circle(centre=target, radius=0.6, fill="grey")
    return (Line(start=target, end=edge), dot, *_noted(ring(centre, number), taken))


_ALONG = (0.5, 0.3, 0.7, 0.15, 0.85, 0.4, 0.6, 0.22, 0.78, 0.07, 0.93)


def _places_on(outline: Sequence[Point2]) -> list[Point2]:
    """Return places on a board where its number or its leader may stand, the middle first. [mm]"""
    low, high = around(outline)
    shares = [(0.5, 0.5), (0.5, 0.3), (0.5, 0.7), *((x, 0.5) for x in _ALONG[1:]), *((0.5, z) for z in _ALONG[3:])]
    places = [(low[0] + (high[0] - low[0]) * x, low[1] + (high[1] - low[1]) * z) for x, z in shares]
    if len(outline) == 4:
        # A board along a rake fills little of its extent: its own middle line, the longer of the two, is tried as well.
        middles = [middle((outline[i], outline[(i + 1) % 4])) for i in range(4)]
        start, end = max((middles[::2], middles[1::2]), key=lambda ends: math.dist(*ends))
        places += [(start[0] + (end[0] - start[0]) * t, start[1] + (end[1] - start[1]) * t) for t in _ALONG]
    return [place for place in places if _within(place, outline)]


def _within(point: Point2, outline: Sequence[Point2]) -> bool:
    """Return whether a point lies in an outline."""
    inside = False
    for i, (x1, y1) in enumerate(outline):
        x2, y2 = outline[(i + 1) % len(outline)]
        if (y1 <= point[1]) != (y2 <= point[1]) and x1 + (point[1] - y1) / (y2 - y1) * (x2 - x1) > point[0]:
            inside = not inside
    return inside


def _ring_radius(number: str) -> float:
    """Return the radius of a part number's ring on paper, as `dimensions.ring` draws it. [mm]"""
    return max(RING_TEXT_MM * 1.1, width_mm(number, RING_TEXT_MM, bold=True) / 2 + 1.0)


def _clear(centre: Point2, number: str, taken: Taken) -> bool:
    """Return whether a ring stands clear of words and lines."""
    radius = _ring_radius(number)
    octagon = tuple(
        (centre[0] + radius * 1.05 * math.cos(turn), centre[1] + radius * 1.05 * math.sin(turn))
        for turn in (math.radians(22.5 + 45 * i) for i in range(8))
    )
    return taken.free(octagon)


def _noted(items: Items, taken: Taken) -> Items:
    """Return the items, noted as taken."""
    taken.note(items)
    return items


CROSS_MM = 2.0
"""Half the width of a cross. Our choice. [mm on paper]"""

BESIDE_MM = (7.0, 8.5)
"""How far from its cross a ring stands that needs no leader. Our choice. [mm on paper]"""


def crosses(marked: Sequence[tuple[Point2, str]], taken: Taken) -> Items:
    """Return a cross at each place with its ringed number beside it, led to it where it could seem another's.

    A ring needs no leader where nothing is drawn between it and its cross, and no other cross is near to it.

    Args:
        marked: places and their numbers. [mm on paper]
        taken: what stands on the paper; crosses and rings are added.
    """
    items: list[Item] = []
    for (x, y), _ in marked:
        items.append(Line(start=(x - CROSS_MM, y), end=(x + CROSS_MM, y), pen="wide"))
        items.append(Line(start=(x, y - CROSS_MM), end=(x, y + CROSS_MM), pen="wide"))
    taken.note(items)
    for place, number in marked:
        others = [other for other, _ in marked if other != place]
        items.extend(_beside(place, number, others, taken) or _led_from(place, number, taken))
    return tuple(items)


def _beside(place: Point2, number: str, others: Sequence[Point2], taken: Taken) -> Items:
    """Return a ring close to its cross that no one takes for another's; nothing where there is no such place."""
    for reach in BESIDE_MM:
        for turn in _SLANTS:
            centre = _away(place, reach, turn)
            edge = _away(place, 1.5 * CROSS_MM, turn)
            if (
                _clear(centre, number, taken)
                and not any(touching((edge, centre), line) for line in taken.lines)
                and all(math.dist(centre, other) > 1.5 * reach for other in others)
            ):
                return _noted(ring(centre, number), taken)
    return ()


def _led_from(place: Point2, number: str, taken: Taken) -> Items:
    """Return a ring at the first free place round its cross, and the line between them."""
    for reach in _REACHES:
        for turn in (*_SLANTS, *_TURNS):
            centre, start = _away(place, reach, turn), _away(place, 0.8 * CROSS_MM, turn)
            if _clear(centre, number, taken) and taken.clear_of_words(Line(start=start, end=centre)):
                line = Line(start=start, end=_away(place, reach - _ring_radius(number), turn))
                return _noted((line, *ring(centre, number)), taken)
    return _noted(ring(place, number), taken)


def _away(place: Point2, reach: float, turn: float) -> Point2:
    """Return the place so far away, counter-clockwise from the right as one sees it. [mm on paper]"""
    return (place[0] + reach * math.cos(turn), place[1] - reach * math.sin(turn))
