"""Where a part that is too long for its stock is split: over an upright, divider or bearer that is joined to it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from nookwright.basics.lengths import Marks, show
from nookwright.geometry.frame import Point3, dot
from nookwright.stages.cutting.cutting_plan import TooLarge
from nookwright.stages.parts.part import Part, PartList, Role

_STANDS_ACROSS_MM = 120.0
"""What is joined to the part takes no more of its length than this: it stands across it. Our choice."""
_BOTH_ENDS_MM = 15.0
"""Least width that an end needs to be screwed to. Common practice, no source."""
_MOST_PIECES = 6
_OF_A_BOX: tuple[Role, ...] = ("bottom", "top")
"""A box longer than its sheets is better made as two."""


_UNDER_MM = 30.0
"""What carries a worktop reaches this near to its underside: a box's lid lies between. Our choice."""
_TOGETHER_MM = 2.0
"""Uprights of neighbouring boxes this near to each other carry a joint as one. Our choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Crossing:
    """What stands across a part: where its middle comes along it, how wide it is there, and what it is. [mm]"""

    said: str
    at_mm: float
    wide_mm: float


def with_split_lines(misfits: Sequence[TooLarge], parts: PartList, marks: Marks) -> tuple[TooLarge, ...]:
    """Return parts that are too long for their stock with the places where they are best split.

    Parts beside each other are split over different uprights or bearers where there are several.

    Args:
        misfits: the parts; `gives_mm` is the length their stock gives.
        parts: every part, and how they are joined.
        marks: units and steps in which cures are told.

    Returns:
        The same with split places and a cure that names what the joints lie on; unchanged where it is not too long,
        or where nothing stands across it at places that make its pieces short enough.
    """
    used: set[str] = set()
    found: list[TooLarge] = []
    for misfit in misfits:
        part = parts.part(misfit.part)
        crossings = _crossings(part, parts) if misfit.gives_mm else []
        fresh = [one for one in crossings if one.said not in used]
        if part.role == "platform rail":  # front and back are split at one place: each frame gets a bearer there
            fresh = crossings
        chosen: list[_Crossing] = []
        for among in ([one for one in fresh if one.wide_mm >= 2 * _BOTH_ENDS_MM], fresh, crossings):
            chosen = chosen or _chosen(part.blank_mm[0], misfit.gives_mm, among)
        used.update(one.said for one in chosen)
        told = _split(misfit, part, chosen, marks) if chosen else misfit
        if misfit.gives_mm and part.role in _OF_A_BOX:
            told = replace(told, cure=f"make two boxes of it, by one more under `units` in brief.yaml; or {told.cure}")
        found.append(told)
    return tuple(found)


def _split(misfit: TooLarge, part: Part, chosen: Sequence[_Crossing], marks: Marks) -> TooLarge:
    """Return a part with the cure that names where it is split and what the joints lie on."""
    places = [round(one.at_mm, 1) for one in chosen]
    ends = [0.0, *places, misfit.length_mm]
    pieces = [show(b - a, marks, with_unit=True) for a, b in pairwise(ends)]
    over = ", and ".join(
        f"{show(place, marks, with_unit=True)} from the left end of its drawing, over {one.said}"
        for place, one in zip(places, chosen, strict=True)
    )
    least = min(one.wide_mm / 2 for one in chosen)
    batten = "" if least >= _BOTH_ENDS_MM else "; glue a batten beside it, so that both ends can be screwed"
    cure = f"split it {over}: pieces of {' and '.join(pieces)}{batten}"
    if part.role == "platform rail":
        own = ", ".join(show(place, marks) for place in places)
        frames = f"make the platform of {len(pieces)} frames end to end"
        cure = f"{frames}: `split: [{own}]` at platform in brief.yaml; rails of {' and '.join(pieces)}"
    if part.role == "worktop":
        # The brief counts from the top's own end, without what is left on there for scribing.
        left_on = min(u for u, _ in part.outline) - min(u for u, _ in part.blank_corners())
        own = ", ".join(show(place - left_on, marks) for place in places)
        cure += f"; `split: [{own}]` at {part.module} in brief.yaml does it"
    return replace(misfit, cure=cure, split_mm=tuple(places))


def _chosen(length_mm: float, gives_mm: float, crossings: Sequence[_Crossing]) -> list[_Crossing]:
    """Return where to split, with as few pieces as can be, two as alike as can be; nothing where no places will do."""
    halves = [one for one in crossings if max(one.at_mm, length_mm - one.at_mm) <= gives_mm]
    if halves:
        return [min(halves, key=lambda one: abs(2 * one.at_mm - length_mm))]
    chosen: list[_Crossing] = []
    start = 0.0
    while length_mm - start > gives_mm and len(chosen) < _MOST_PIECES:
        reachable = [one for one in crossings if start < one.at_mm <= start + gives_mm]
        if not reachable:
            return []
        chosen.append(max(reachable, key=lambda one: one.at_mm))
        start = chosen[-1].at_mm
    return chosen


def _crossings(part: Part, parts: PartList) -> list[_Crossing]:
    """Return what stands across a part's length, from its left end on: what is joined to it, or carries a worktop."""
    joined = {joint.holder if joint.held == part.number else joint.held for joint in parts.joints if part.number in (
        joint.held, joint.holder)}  # fmt: skip
    others = [other for other in parts.parts if other.number in joined]
    if part.role == "worktop":
        others = _carrying(part, {other.module for other in others}, parts)
    start = min(u for u, _ in part.blank_corners())
    found: list[_Crossing] = []
    for other in others:
        along = [_along(part, point) for point in _points(other)]
        middle, wide = (min(along) + max(along)) / 2 - start, max(along) - min(along)
        if wide <= _STANDS_ACROSS_MM:
            found.append(_Crossing(said=f"{other.name} {other.number}", at_mm=middle, wide_mm=wide))
    return _together(sorted(found, key=lambda one: one.at_mm))


def _carrying(top: Part, modules: set[str], parts: PartList) -> list[Part]:
    """Return the uprights that a worktop lies on: those of the boxes it is screwed to that reach up to it."""
    under = min(z for _, _, z in _points(top))
    uprights = [one for one in parts.parts if one.module in modules and one.role in ("side", "divider")]
    return [one for one in uprights if abs(max(z for _, _, z in _points(one)) - under) <= _UNDER_MM]


def _together(crossings: Sequence[_Crossing]) -> list[_Crossing]:
    """Return the crossings, those that stand against each other as one, the joint between them."""
    kept: list[_Crossing] = []
    for one in crossings:
        before = kept[-1] if kept else None
        if before and one.at_mm - one.wide_mm / 2 - (before.at_mm + before.wide_mm / 2) <= _TOGETHER_MM:
            low, high = before.at_mm - before.wide_mm / 2, one.at_mm + one.wide_mm / 2
            said = f"{before.said} and {one.said}"
            kept[-1] = _Crossing(said=said, at_mm=(low + high) / 2, wide_mm=high - low)
        else:
            kept.append(one)
    return kept


def _points(part: Part) -> list[Point3]:
    return [part.frame.to_room(u, v, depth) for u, v in part.outline for depth in (0.0, part.thickness_mm)]


def _along(part: Part, point: Point3) -> float:
    """Return how far along a part's length a point in the room comes. [mm]"""
    return dot(point, part.frame.u) - dot(part.frame.origin, part.frame.u)
