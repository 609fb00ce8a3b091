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

ALONG_SLOPE = 0.2
"""An edge that strays less than this from the grain, rise over run, is a long edge and not an end. Our choice."""

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
    """Return the part's sizes: lengths of the edges that run along its grain, on both faces."""
    lengths: list[tuple[float, str]] = []
    widths: list[float] = []
    for face, outline in (("A", part.outline), ("B", part.face_b())):
        lengths.extend((length, face) for length in _along_grain(outline))
        widths.append(max(v for _, v in outline) - min(v for _, v in outline))
    longest, face = max(lengths, key=lambda one: (round(one[0], 6), one[1] == "A"))
    return Sizes(long_mm=longest, short_mm=min(length for length, _ in lengths), long_on=face, width_mm=max(widths))


def _along_grain(outline: tuple[Point2, ...]) -> list[float]:
    """Return the lengths of an outline's edges that run along its grain; its whole length when none does. [mm]"""
    lengths: list[float] = []
    for i, (u1, v1) in enumerate(outline):
        u2, v2 = outline[(i + 1) % len(outline)]
        if abs(v2 - v1) <= ALONG_SLOPE * abs(u2 - u1):
            lengths.append(math.hypot(u2 - u1, v2 - v1))
    us = [u for u, _ in outline]
    return lengths or [max(us) - min(us)]


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
    return part.plain and not any(edge.scribe_mm for edge in part.edges)


def alike(part: Part) -> tuple[object, ...]:
    """Return what two parts share when one drawing serves both: all but their numbers, places and neighbours."""

    def rounded(*values: float) -> tuple[float, ...]:
        return tuple(round(value, 2) + 0.0 for value in values)

    return (
        part.name,
        part.stock,
        part.pieces,
        part.notes,
        tuple(rounded(*corner) for corner in part.outline),
        tuple((*rounded(math.degrees(edge.bevel_rad), edge.scribe_mm), edge.meets) for edge in part.edges),
        tuple((*rounded(h.u_mm, h.v_mm, h.width_mm, h.height_mm), h.purpose) for h in part.cutouts),
        tuple((g.face, *rounded(*g.start, *g.end, g.width_mm, g.depth_mm)) for g in part.grooves),
        tuple((h.face, *rounded(h.u_mm, *h.v_mm, h.diameter_mm)) for h in part.pin_holes),
    )


def degrees(angle_deg: float) -> str:
    """Return an angle to a tenth of a degree, `square` when the saw cannot tell it from square."""
    return "square" if abs(angle_deg) < SQUARE_DEG else f"{abs(angle_deg):.1f}°"


def turned(angle_deg: float) -> bool:
    """Return whether the saw must be turned off square for it."""
    return abs(angle_deg) >= SQUARE_DEG
