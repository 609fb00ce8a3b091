"""The sizes of a part that a sawyer reads and sets: long point, short point, width, and its blank, in whole marks."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from nookwright.basics.lengths import Marks, Way, on_mark_mm
from nookwright.geometry.frame import Point2
from nookwright.geometry.plane import moved_edges
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


def _ends(outline: tuple[Point2, ...]) -> tuple[list[int], list[int]]:
    """Return which edges are right ends and left ends; the others run along the grain."""
    rights: list[int] = []
    lefts: list[int] = []
    for i, (u1, v1) in enumerate(outline):
        u2, v2 = outline[(i + 1) % len(outline)]
        if abs(v2 - v1) > ALONG_SLOPE * abs(u2 - u1):
            (rights if v2 > v1 else lefts).append(i)
    return rights, lefts


def as_printed(part: Part, marks: Marks) -> tuple[Part, Way]:
    """Return the finished part as its printed figures make it, and which way its other figures are rounded.

    Its length at the long point and its width lie on the marks that the parts list prints; every edge keeps its
    direction, so a saw set to the angles printed cuts it; its left end and its lower edge stay. What is measured on it
    is what comes off the saw, and so goes to the nearest mark. Parts that do not have four corners stay as they are.

    Args:
        part: the part.
        marks: the marks the sawyer sets. [mm or inch]
    """
    way, (rights, lefts) = way_of(part), _ends(part.outline)
    if len(part.outline) != 4 or len(rights) != 1 or len(lefts) != 1:
        return part, way
    end, finished = rights[0], sizes(part)
    moves = [0.0] * 4
    moves[(end + 1) % 4] = on_mark_mm(finished.width_mm, marks, way=way) - finished.width_mm
    wider = replace(part, outline=moved_edges(part.outline, tuple(moves)))
    (u1, v1), (u2, v2) = part.outline[end], part.outline[(end + 1) % 4]
    longer_mm = on_mark_mm(finished.long_mm, marks, way=way) - sizes(wider).long_mm
    moves[end] = longer_mm * (v2 - v1) / math.hypot(u2 - u1, v2 - v1)
    return replace(part, outline=moved_edges(part.outline, tuple(moves))), "nearest"


def as_sawn(part: Part, marks: Marks) -> Part:
    """Return the part as printed, with all that is left on: scribed edges reach as far as those of the true part.

    Args:
        part: the part.
        marks: the marks the sawyer sets. [mm or inch]
    """
    printed, _ = as_printed(part, marks)
    true, shown = sizes(part), sizes(printed)
    rights, lefts = _ends(part.outline)
    edges = list(part.edges)
    for across, lost_mm in ((True, true.long_mm - shown.long_mm), (False, true.width_mm - shown.width_mm)):
        scribed = [i for i, edge in enumerate(edges) if edge.scribe_mm and (i in (*rights, *lefts)) is across]
        for i in scribed:
            (u1, v1), (u2, v2) = part.outline[i], part.outline[(i + 1) % len(edges)]
            square = abs(v2 - v1 if across else u2 - u1) / math.hypot(u2 - u1, v2 - v1)
            scribe_mm = edges[i].scribe_mm + lost_mm * square / len(scribed)
            edges[i] = replace(edges[i], scribe_mm=max(0.0, scribe_mm))
    return replace(printed, edges=tuple(edges))


def cut_size_mm(part: Part, marks: Marks) -> tuple[float, float]:
    """Return the length along the grain and the width that a part's blank is cut to, each on a mark.

    Where nothing is left on, it is the finished size as the parts list has it. Where bevels, mitres or scribing still
    take something off, the blank may be too large but never too small.

    Args:
        part: the part.
        marks: the marks the sawyer sets. [mm or inch]
    """
    finished, blank, sawn = sizes(part), part.blank_mm, as_sawn(part, marks).blank_mm

    def on_mark(place: int, size: float) -> float:
        if blank[place] - size > SAME_MM:
            return on_mark_mm(max(blank[place], sawn[place]), marks, way="up")
        return on_mark_mm(size, marks, way=way_of(part))

    return on_mark(0, finished.long_mm), on_mark(1, finished.width_mm)
