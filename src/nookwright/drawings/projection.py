"""Projection: a part as one sees it in the room, from the front."""

from __future__ import annotations

from collections.abc import Sequence

from nookwright.geometry.frame import Point2, Point3
from nookwright.stages.parts.part import Part


def corners_in_room(part: Part) -> tuple[Point3, ...]:
    """Return the corners of both faces in the room frame. [mm]"""
    near = tuple(part.frame.to_room(u, v) for u, v in part.outline)
    return near + tuple(part.frame.to_room(u, v, part.thickness_mm) for u, v in part.face_b())


def from_front(part: Part) -> tuple[Point2, ...]:
    """Return the part's outline in elevation (x, z), counter-clockwise; hollows are bridged. [mm]"""
    return hull([(x, z) for x, _, z in corners_in_room(part)])


def hull(points: Sequence[Point2]) -> tuple[Point2, ...]:
    """Return the convex outline of points, counter-clockwise from the lowest x.

    Lower and upper chains, each turning left only.
    """
    ordered = sorted(set(points))
    if len(ordered) < 3:
        return tuple(ordered)
    lower, upper = _chain(ordered), _chain(ordered[::-1])
    return tuple(lower[:-1] + upper[:-1])


def _chain(ordered: Sequence[Point2]) -> list[Point2]:
    kept: list[Point2] = []
    for x, y in ordered:
        while len(kept) > 1:
            (x1, y1), (x2, y2) = kept[-2], kept[-1]
            if (x2 - x1) * (y - y1) - (y2 - y1) * (x - x1) > 1e-9:
                break
            kept.pop()
        kept.append((x, y))
    return kept
