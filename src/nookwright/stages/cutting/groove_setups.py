"""Housings and rebates by the set-up they are cut with: one width and depth, then one distance after the other."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Literal

from nookwright.stages.parts.part import Groove, Part, PartList

_SAME_MM = 0.05
"""Sizes that differ by less are one setting."""

_STOPPED_MM = 0.5

Edge = Literal["left end", "lower edge", "slanting"]
"""The edge of face A's drawing that a distance is taken from; a slanting groove is marked out by hand."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GrooveCut:
    """One housing or rebate to cut.

    Args:
        part: number of the part.
        face: the face it is in.
        receives: what goes into it.
        stopped: whether it ends inside the board.
    """

    part: str
    face: Literal["A", "B"]
    receives: str
    stopped: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class GrooveSetup:
    """Grooves cut at one setting of cutter and fence.

    Args:
        width_mm, depth_mm: of the groove. [mm]
        edge: which edge of the part's drawing lies at the fence.
        from_edge_mm: from that edge, allowances on it included, to the groove's near side. [mm]
        cuts: what is cut at this setting.
    """

    width_mm: float
    depth_mm: float
    edge: Edge
    from_edge_mm: float
    cuts: tuple[GrooveCut, ...]


def groove_setups(parts: PartList) -> tuple[GrooveSetup, ...]:
    """Return every housing and rebate of a job, grouped so that each setting is made once.

    Args:
        parts: every part.

    Returns:
        Set-ups by width and depth of the cutter, then by edge and distance of the fence.
    """
    found = sorted(_all_cuts(parts), key=lambda one: (one[0], one[1].part, one[1].face, one[1].receives))
    return tuple(
        GrooveSetup(
            width_mm=width, depth_mm=depth, edge=edge, from_edge_mm=distance, cuts=tuple(cut for _, cut in group)
        )
        for (width, depth, edge, distance), group in groupby(found, key=lambda one: one[0])
    )


def _all_cuts(parts: PartList) -> Iterator[tuple[tuple[float, float, Edge, float], GrooveCut]]:
    for part in parts.parts:
        for groove in part.grooves:
            edge, distance = _from_edge(groove, part)
            setting = (round(groove.width_mm, 1), round(groove.depth_mm, 1), edge, round(distance, 1))
            stopped = _is_stopped(groove, edge, part)
            yield setting, GrooveCut(part=part.number, face=groove.face, receives=groove.receives, stopped=stopped)


def _is_stopped(groove: Groove, edge: Edge, part: Part) -> bool:
    """Whether a groove ends inside the board; one that slants is told on its own drawing."""
    if edge == "slanting":
        return False
    axis = 1 if edge == "left end" else 0
    across = [corner[axis] for corner in part.outline]
    ends = sorted((groove.start[axis], groove.end[axis]))
    return ends[0] > min(across) + _STOPPED_MM or ends[1] < max(across) - _STOPPED_MM


def _from_edge(groove: Groove, part: Part) -> tuple[Edge, float]:
    """Return the edge that a groove runs along, and how far its near side lies from it on the blank."""
    (u0, v0), (u1, v1) = groove.start, groove.end
    corners = part.blank_corners()
    if abs(u1 - u0) < _SAME_MM:
        return "left end", max(0.0, u0 - groove.width_mm / 2 - min(u for u, _ in corners))
    if abs(v1 - v0) < _SAME_MM:
        return "lower edge", max(0.0, v0 - groove.width_mm / 2 - min(v for _, v in corners))
    return "slanting", 0.0
