"""Sizes of one part: rows beside its outline, running sizes from the foot, and the room they take on paper."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from nookwright.basics.lengths import Marks, Way, show
from nookwright.drawings.clearance import Taken
from nookwright.drawings.dimensions import Chain, chain, running
from nookwright.drawings.lettering import true_fractions, width_mm
from nookwright.drawings.page import Item, Items
from nookwright.drawings.view import View
from nookwright.geometry.frame import Point2
from nookwright.stages.parts.part import Groove, Part
from nookwright.stages.parts.sizes import SAME_MM, as_printed

FIGURE_MM = 5.0
"""Height of the figures of a cut size. Common practice, no source."""

_RUN_MM = 12.0
"""From a part to the figures of its running sizes. [mm]"""

_TOP_MM = 12.0
"""Room over a part for its grain arrow and its number, where no size stands there. [mm]"""

_SIDE_MM = 10.0
"""Room beside a part where no size stands. [mm]"""

_ROW_MM = 11.0
"""From a part to its first dimension line. [mm]"""

_NEXT_ROW_MM = 12.0
_OVER_ROW_MM = 8.0
"""Room a dimension line's words take beyond it. [mm]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Margins:
    """Room kept about a part for its dimension rows. [mm]"""

    left: float
    right: float
    top: float
    below: float


def margins(part: Part, marks: Marks) -> Margins:
    """Return the room that the rows of `part_dimensions` take."""
    sides = {"below": _TOP_MM, "above": _TOP_MM, "left": _SIDE_MM, "right": _SIDE_MM}
    printed, way = as_printed(part, marks)
    for row in _rows(printed, marks):
        deep = _ROW_MM + _OVER_ROW_MM + (_NEXT_ROW_MM if row.whole and len(row.values) > 2 else 0.0)
        sides[row.side] = max(sides[row.side], deep)
    places = _running_places(printed, way, marks)
    if places:
        sides["below"] = _RUN_MM + max(width_mm(label, FIGURE_MM) for _, label in places) + 2.0
    return Margins(left=sides["left"], right=sides["right"], top=sides["above"], below=sides["below"])


def extent(part: Part) -> tuple[Point2, Point2]:
    """Return the lower left and upper right corners of everything drawn of the part. [mm]"""
    corners = part.blank_corners()
    us, vs = [u for u, _ in corners], [v for _, v in corners]
    return (min(us), min(vs)), (max(us), max(vs))


def groove_outline(groove: Groove) -> tuple[Point2, Point2, Point2, Point2]:
    """Return the four corners of a groove on its face. [mm]"""
    (u0, v0), (u1, v1) = groove.start, groove.end
    length = math.hypot(u1 - u0, v1 - v0)
    nu, nv = -(v1 - v0) / length * groove.width_mm / 2, (u1 - u0) / length * groove.width_mm / 2
    return ((u0 - nu, v0 - nv), (u1 - nu, v1 - nv), (u1 + nu, v1 + nv), (u0 + nu, v0 + nv))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """A row of sizes beside the part: the places measured between, and whether the whole stands one row further out."""

    side: Literal["below", "above", "left", "right"]
    values: tuple[float, ...]
    whole: bool


def _rows(part: Part, marks: Marks) -> list[_Row]:
    """Return length below and above, width left and right, holes from the part's own left and bottom.

    A groove is placed by its nearer edge; its width stands in the notes. No size is said twice, and none that would
    read 0.
    """
    apart = max(SAME_MM, float(marks.step_mm) / 2)
    u0, v0 = min(u for u, _ in part.outline), min(v for _, v in part.outline)
    u1, v1 = max(u for u, _ in part.outline), max(v for _, v in part.outline)
    holes_u, holes_v = _holes(part)
    below = _distinct([*(u for u, v in part.outline if v <= (v0 + v1) / 2), u0, u1, *holes_u], apart)
    above = _distinct([u for u, v in part.outline if v >= (v0 + v1) / 2], apart)
    lefts = _distinct([*(v for u, v in part.outline if u <= (u0 + u1) / 2), v0, v1, *holes_v], apart)
    rights = _distinct([v for u, v in part.outline if u >= (u0 + u1) / 2], apart)
    rows = [_Row(side="left", values=tuple(lefts), whole=True)]
    if not _from_foot(part):
        rows.append(_Row(side="below", values=tuple(below), whole=True))
    if above not in (below, [u0, u1]):
        whole = above[0] > u0 + SAME_MM or above[-1] < u1 - SAME_MM
        rows.append(_Row(side="above", values=tuple(above), whole=whole))
    if rights not in (lefts, [v0, v1]):
        whole = rights[0] > v0 + SAME_MM or rights[-1] < v1 - SAME_MM
        rows.append(_Row(side="right", values=tuple(rights), whole=whole))
    return rows


def part_dimensions(part: Part, view: View, marks: Marks, taken: Taken) -> Items:
    """Return every row of sizes, running sizes from the foot first."""
    printed, way = as_printed(part, marks)
    (u0, v0), (u1, v1) = _box_of(printed.outline)
    low, high = extent(part)
    (left, bottom), (right, top) = view.at(low), view.at(high)
    at = {"below": (v0, bottom + _ROW_MM), "above": (v1, top - _ROW_MM + 2.0),
          "left": (u0, left - _ROW_MM), "right": (u1, right + _ROW_MM)}  # fmt: skip
    items: list[Item] = list(_running(part, view, marks, taken))
    for row in _rows(printed, marks):
        other, line_at = at[row.side]
        level = row.side in ("below", "above")
        points = [(value, other) if level else (other, value) for value in row.values]
        overall = show(row.values[-1] - row.values[0], marks, way=way) if row.whole and len(row.values) > 2 else ""
        dims = Chain(
            direction="level" if level else "upright", points=view.all_at(points),
            labels=_labels(row.values, marks, way), line_at=line_at, row_mm=_NEXT_ROW_MM, height_mm=FIGURE_MM,
            overall=overall, outward=1 if row.side in ("below", "right") else -1,
        )  # fmt: skip
        items.extend(chain(dims, taken))
    return tuple(items)


def _box_of(outline: Sequence[Point2]) -> tuple[Point2, Point2]:
    """Return the lower left and upper right corners about an outline. [mm]"""
    us, vs = [u for u, _ in outline], [v for _, v in outline]
    return (min(us), min(vs)), (max(us), max(vs))


def _from_foot(part: Part) -> bool:
    """Whether its sizes along the grain run from one end: pins and housings of one shelf must agree left and right."""
    across = any(abs(groove.start[0] - groove.end[0]) < SAME_MM for groove in part.grooves)
    return bool(part.pin_holes) or across


def _running_places(part: Part, way: Way, marks: Marks) -> list[tuple[float, str]]:
    """Return the places measured from the foot with their labels: the size, and for what is worked in, its face."""
    if not _from_foot(part):
        return []
    (u0, v0), (u1, v1) = _box_of(part.outline)
    faces: dict[float, str] = {}
    for pins in part.pin_holes:
        faces[pins.u_mm] = "".join(sorted({*faces.get(pins.u_mm, ""), pins.face}))
    for groove in part.grooves:
        if abs(groove.start[0] - groove.end[0]) < SAME_MM:
            near = min(u for u, _ in groove_outline(groove))
            faces[near] = "".join(sorted({*faces.get(near, ""), groove.face}))
    cut_u = [u for hole in part.cutouts for u in (hole.u_mm, hole.u_mm + hole.width_mm)]
    corners = [u for u, v in part.outline if v <= (v0 + v1) / 2]
    for u in (*cut_u, *corners):
        faces.setdefault(u, "")
    places = [(u0, "0")]
    for u in _distinct([*faces, u1], SAME_MM):
        if u > u0 + SAME_MM:
            whole = u >= u1 - SAME_MM
            size = show(u - u0, marks, way=way if whole else "nearest")
            places.append((u, true_fractions(f"{size} {faces.get(u, '')}".strip())))
    return places


def _running(part: Part, view: View, marks: Marks, taken: Taken) -> Items:
    """Return running sizes along the part's lower edge, read from the right, a dot at the end they start from."""
    places = [(view.at((u, 0.0))[0], label) for u, label in _running_places(*as_printed(part, marks), marks)]
    if not places:
        return ()
    edge, bottom = view.at(_box_of(part.outline)[0])[1], view.at(extent(part)[0])[1]
    return running(places, edge + 1.5, bottom + _RUN_MM, FIGURE_MM, taken)


def _holes(part: Part) -> tuple[list[float], list[float]]:
    """Return where cut-outs and grooves lie along the part and across it. [mm]"""
    along = [u for hole in part.cutouts for u in (hole.u_mm, hole.u_mm + hole.width_mm)]
    across = [v for hole in part.cutouts for v in (hole.v_mm, hole.v_mm + hole.height_mm)]
    for groove in part.grooves:
        corners = groove_outline(groove)
        if abs(groove.start[0] - groove.end[0]) < SAME_MM:
            along.append(min(u for u, _ in corners))
        elif abs(groove.start[1] - groove.end[1]) < SAME_MM:
            across.append(min(v for _, v in corners))
    return along, across


def _distinct(values: Sequence[float], apart_mm: float) -> list[float]:
    """Return the values in rising order, those too near to tell apart once; the outermost always stay."""
    first, *others = sorted(values)
    kept = [first]
    for value in others:
        if value - kept[-1] > apart_mm:
            kept.append(value)
    if len(kept) > 1 and others[-1] > kept[-1]:
        kept[-1] = others[-1]
    return kept


def _labels(values: Sequence[float], marks: Marks, way: Way) -> tuple[str, ...]:
    """Return the sizes between values: a whole size rounded the safe way, sections of it to the nearest mark."""
    rounded: Way = way if len(values) == 2 else "nearest"
    return tuple(show(b - a, marks, way=rounded) for a, b in pairwise(values))
