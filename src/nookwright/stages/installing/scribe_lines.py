"""How deep each scribed edge has to be cut, place by place, where the wall it meets was looked at closely."""

from __future__ import annotations

import math

import numpy as np

from nookwright.basics.lengths import Units
from nookwright.geometry.frame import Point3
from nookwright.stages.installing.install_plan import ScribeLine
from nookwright.stages.parts.part import Part, PartList
from nookwright.stages.room.room import Room
from nookwright.stages.room.scribe import scribe_profile

STATION_MM: dict[Units, float] = {"mm": 100.0, "inch": 101.6}
"""Spacing of the places at which an edge is told: a round figure, 4 in. Source: [trade-practice]. Status: common
practice. [mm]"""

NEAR_MM = 250.0
"""A place touched this near to an edge tells of the wall there: half the length over which plaster waves alike. [mm]
Common practice, no source."""

LEAST_NEAR = 4
"""So many places along a line tell more than a straight line. Computed."""

FROM = ("the left end", "the front end", "the foot")
"""Which end of an edge its places count from, when it runs along x, y or z."""


def scribe_lines(parts: PartList, room: Room, units: Units) -> tuple[ScribeLine, ...]:
    """Return the gaps under every edge that is scribed to a surface whose shape there is known.

    Args:
        parts: every board; its scribed edges say what they meet.
        room: the room, with what was read along its surfaces.
        units: those people read.

    Returns:
        The edges in the order of the parts; those along which hardly anything was read are left out.
    """
    step = STATION_MM[units]
    found = (
        _line(part, i, room, step) for part in parts.parts for i, edge in enumerate(part.edges) if edge.scribe_mm > 0
    )
    return tuple(line for line in found if line is not None)


def _line(part: Part, i: int, room: Room, step_mm: float) -> ScribeLine | None:
    """Return the gaps under one edge; None where too little was read near it."""
    edge, surface = part.edges[i], part.edges[i].meets.removesuffix(" wall")
    if not room.has(surface):
        return None
    ends = [part.frame.to_room(*part.outline[(i + step) % len(part.outline)]) for step in (0, 1)]
    along = max(range(3), key=lambda axis: abs(ends[1][axis] - ends[0][axis]))
    start, end = sorted(ends, key=lambda place: place[along])
    if _near(room, surface, start, end) < LEAST_NEAR:
        return None
    _, p, q = room.fields[surface].axes
    length = math.dist(start, end)
    shares = [at / length for at in _stations(length, step_mm)]
    line = [(_between(start, end, share, p), _between(start, end, share, q)) for share in shares]
    profile = scribe_profile(room, surface, line)
    return ScribeLine(
        part=part.number,
        name=part.name,
        edge=i,
        meets=room.told(surface),
        start=FROM[along],
        allowance_mm=edge.scribe_mm,
        gaps=profile,
    )


def _stations(length_mm: float, step_mm: float) -> list[float]:
    """Return the places along an edge: every step, and its end. [mm]"""
    whole = math.floor(length_mm / step_mm + 1e-9)
    found = [step_mm * i for i in range(whole + 1)]
    return found if length_mm - found[-1] < 1.0 and len(found) > 1 else [*found, length_mm]


def _between(start: Point3, end: Point3, share: float, axis: int) -> float:
    return start[axis] + share * (end[axis] - start[axis])


def _near(room: Room, surface: str, start: Point3, end: Point3) -> int:
    """Return how many places that a straightedge, a strip or a scan touched on a surface lie near an edge."""
    low, high = np.array(start), np.array(end)
    way = high - low
    points = room.stations(surface)
    if not len(points):
        return 0
    shares = np.clip((points - low) @ way / float(way @ way), 0.0, 1.0)
    away = np.linalg.norm(points - (low + shares[:, None] * way), axis=1)
    return int(np.count_nonzero(away <= NEAR_MM))
