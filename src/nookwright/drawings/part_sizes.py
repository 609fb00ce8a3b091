"""The sizes of a part that a sawyer reads: long point, short point, width, mitres and tilts, rounded the safe way."""

from __future__ import annotations

import math
from dataclasses import dataclass

from nookwright.basics.lengths import Way
from nookwright.geometry.frame import Point2
from nookwright.stages.parts.part import Part, Role

_COVERS: frozenset[Role] = frozenset({"worktop", "strip", "skirting"})

SAME_MM = 0.05
"""Sizes nearer than this are one size: no saw tells them apart. Common practice, no source."""

SQUARE_DEG = 0.05
"""A cut nearer to square than this is square; angles are printed to 0.1 degree. Common practice, no source."""


def way_of(part: Part) -> Way:
    """Return which way the part's sizes are rounded: down when it must enter a gap, up when it covers one."""
    return "up" if part.role in _COVERS else "down"


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """What a part measures, without scribe allowance. [mm]

    Args:
        long_mm, short_mm: length along the grain at its longest and its shortest edge, over both faces.
        long_on: face on which the longest edge lies.
        width_mm: greatest width across the grain, over both faces.
    """

    long_mm: float
    short_mm: float
    long_on: str
    width_mm: float


def sizes(part: Part) -> Sizes:
    """Return the part's sizes."""
    lengths: list[tuple[float, str]] = []
    widths: list[float] = []
    for face, outline in (("A", part.outline), ("B", part.face_b())):
        low, high = min(v for _, v in outline), max(v for _, v in outline)
        lengths.extend((chord(outline, v), face) for v in (low, high))
        widths.append(high - low)
    longest, face = max(lengths, key=lambda one: (round(one[0], 6), one[1] == "A"))
    return Sizes(long_mm=longest, short_mm=min(length for length, _ in lengths), long_on=face, width_mm=max(widths))


def chord(outline: tuple[Point2, ...], v_mm: float) -> float:
    """Return how long a convex outline is at one place across the grain. [mm]"""
    crossed: list[float] = []
    for i, (u1, v1) in enumerate(outline):
        u2, v2 = outline[(i + 1) % len(outline)]
        if abs(v1 - v_mm) < 1e-6:
            crossed.append(u1)
        if abs(v2 - v_mm) < 1e-6:
            crossed.append(u2)
        if min(v1, v2) < v_mm < max(v1, v2):
            crossed.append(u1 + (v_mm - v1) / (v2 - v1) * (u2 - u1))
    return max(crossed) - min(crossed) if crossed else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeCut:
    """How one edge is cut.

    Args:
        letter: its letter on the drawing.
        length_mm: on face A. [mm]
        mitre_deg: how far it lies from square to the grain, or from along it, whichever is nearer. [deg]
        tilt_deg: blade tilt from square; above 0 where face B is larger. [deg]
        scribe_mm: allowance left on. [mm]
        meets: what it meets.
    """

    letter: str
    length_mm: float
    mitre_deg: float
    tilt_deg: float
    scribe_mm: float
    meets: str


def edge_cuts(part: Part) -> tuple[EdgeCut, ...]:
    """Return how every edge is cut, lettered in the outline's order."""
    cuts: list[EdgeCut] = []
    for i, edge in enumerate(part.edges):
        (u1, v1), (u2, v2) = part.outline[i], part.outline[(i + 1) % len(part.outline)]
        direction = math.degrees(math.atan2(v2 - v1, u2 - u1)) % 90.0
        cuts.append(
            EdgeCut(
                letter=chr(ord("a") + i), length_mm=math.hypot(u2 - u1, v2 - v1),
                mitre_deg=min(direction, 90.0 - direction), tilt_deg=math.degrees(edge.bevel_rad),
                scribe_mm=edge.scribe_mm, meets=edge.meets,
            )
        )  # fmt: skip
    return tuple(cuts)


def plain(part: Part) -> bool:
    """Whether its sizes in the list say everything: a rectangle with nothing cut in it and nothing left on."""
    return part.rectangular and not part.cutouts and not part.grooves and not any(edge.scribe_mm for edge in part.edges)


def degrees(angle_deg: float) -> str:
    """Return an angle to a tenth of a degree, `square` when the saw cannot tell it from square."""
    return "square" if abs(angle_deg) < SQUARE_DEG else f"{abs(angle_deg):.1f}°"


def turned(angle_deg: float) -> bool:
    """Return whether the saw must be turned off square for it."""
    return abs(angle_deg) >= SQUARE_DEG
