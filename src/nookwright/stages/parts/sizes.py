"""The sizes of a part that a sawyer reads and sets: long point, short point, width, and its blank, in whole marks."""

from __future__ import annotations

import math
from dataclasses import dataclass

from nookwright.basics.lengths import Marks, Way, on_mark_mm
from nookwright.geometry.frame import Point2
from nookwright.stages.parts.part import Part, Role

_COVERS: frozenset[Role] = frozenset({"worktop", "strip", "skirting"})

SAME_MM = 0.05
"""Sizes nearer than this are one size: no saw tells them apart. Common practice, no source."""

ALONG_SLOPE = 0.2
"""An edge that strays less than this from the grain, rise over run, is a long edge and not an end. Our choice."""


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


def cut_size_mm(part: Part, marks: Marks) -> tuple[float, float]:
    """Return the length along the grain and the width that a part's blank is cut to, each on a mark.

    Where nothing is left on, it is the finished size as the parts list has it. Where bevels, mitres or scribing still
    take something off, the blank may be too large but never too small.

    Args:
        part: the part.
        marks: the marks the sawyer sets. [mm or inch]
    """
    finished, (length, width) = sizes(part), part.blank_mm

    def on_mark(blank: float, size: float) -> float:
        return on_mark_mm(blank, marks, way="up" if blank - size > SAME_MM else way_of(part))

    return on_mark(length, finished.long_mm), on_mark(width, finished.width_mm)
