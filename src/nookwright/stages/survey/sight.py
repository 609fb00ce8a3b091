"""Whether a tape can be pulled straight from one column of a room to another, past no corner that stands in between."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import cache

from nookwright.stages.survey.shape import Shape

Place = tuple[float, float]

STEPS = 24
TOUCH_MM = 15.0
"""A place this near to a wall counts as in front of it: a tape may lie along a wall. [mm]
Common practice, no source."""

FAR_MM = 20_000.0


def in_sight(shape: Shape, first: str, second: str) -> bool:
    """Return whether one column sees another in the nominal plan.

    Args:
        shape: the room's kind.
        first, second: names of columns.

    Returns:
        Whether every place between them lies in the room.
    """
    return _clear(tuple(_ring(shape)), shape.columns[first].place, shape.columns[second].place)


@cache
def _clear(ring: tuple[Place, ...], first: Place, second: Place) -> bool:
    """Return whether every place between two lies within an outline; asked often for the same few columns."""
    (x1, y1), (x2, y2) = first, second
    shares = (step / STEPS for step in range(1, STEPS))
    return all(inside((x1 + share * (x2 - x1), y1 + share * (y2 - y1)), ring) for share in shares)


def _ring(shape: Shape) -> Iterator[Place]:
    """Give the plan's outline; an open front reaches far out."""
    places = [shape.columns[name].place for name in shape.outline]
    yield from places
    if not shape.closed:
        yield places[-1][0] + FAR_MM, -FAR_MM
        yield places[0][0] - FAR_MM, -FAR_MM


def inside(place: Place, ring: tuple[Place, ...]) -> bool:
    """Return whether a place lies within a closed outline, or nearly on it. [mm]"""
    crossings = False
    for (x1, y1), (x2, y2) in zip(ring, (*ring[1:], ring[0]), strict=True):
        if _distance(place, (x1, y1), (x2, y2)) <= TOUCH_MM:
            return True
        if (y1 > place[1]) != (y2 > place[1]) and place[0] < x1 + (place[1] - y1) * (x2 - x1) / (y2 - y1):
            crossings = not crossings
    return crossings


def _distance(place: Place, start: Place, end: Place) -> float:
    """Return how far a place is from a straight piece of the outline. [mm]"""
    along_x, along_y = end[0] - start[0], end[1] - start[1]
    length = along_x**2 + along_y**2
    share = ((place[0] - start[0]) * along_x + (place[1] - start[1]) * along_y) / length if length else 0.0
    share = min(max(share, 0.0), 1.0)
    return math.hypot(place[0] - start[0] - share * along_x, place[1] - start[1] - share * along_y)
