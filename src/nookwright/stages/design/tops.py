"""Worktops: the straight-edged outline nearest to the walls, and what to leave on each edge for scribing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from nookwright.basics.measured import Measured
from nookwright.geometry.frame import Point2
from nookwright.geometry.plane import Line, line_above, line_below, spaced
from nookwright.stages.design.design import Box, FittedTop, ScribedEdge
from nookwright.stages.design.openings import Reach, rake_line
from nookwright.stages.design.setting import Setting
from nookwright.stages.design.splits import split_at
from nookwright.stages.inputs.brief import Allowances, Top
from nookwright.stages.inputs.survey import SurfaceName
from nookwright.trade.scribing import scribe_allowance

STEP_MM = 100.0
"""Spacing of the places at which a scribed edge is looked at."""

LEAST_TOP_MM = 100.0
"""A top shorter than this under a slope is a mistake rather than a wish. Common practice, no source."""


def scribed_edge(
    meets: str, line: Line, places: Sequence[tuple[float, Measured]], allowances: Allowances
) -> ScribedEdge:
    """Return how a straight edge stands to the surface it meets.

    Args:
        meets: the surface's name.
        line: the edge, value over place.
        places: the surface itself at places along the edge. [mm]
        allowances: the job's allowances.
    """
    gaps = [abs(here.value - line[0] - line[1] * at) for at, here in places]
    sd = max(here.sd for _, here in places)
    allowance = scribe_allowance(
        least_gap_mm=min(gaps), greatest_gap_mm=max(gaps), sd_mm=sd, sds=allowances.sds, extra_mm=allowances.scribe_mm
    )
    return ScribedEdge(meets=meets, gap=(min(gaps), max(gaps)), sd_mm=sd, allowance_mm=allowance)


def lay_top(
    top: Top,
    *,
    below: tuple[Box, ...],
    reach: Reach,
    z_mm: float,
    setting: Setting,
    letter: str,
) -> FittedTop:
    """Return a worktop laid across the boxes below it.

    Args:
        top: the top as wished.
        below: the boxes it lies on.
        reach: how the tier below meets the walls.
        z_mm: its underside. [mm]
        setting: the job.
        letter: letter of its part number.
    """
    stock = setting.stock(top.board, "board", top.where)
    t = stock.thickness_mm
    z = z_mm + t / 2
    y_front = min(box.y_front_mm for box in below) - top.overhang_mm
    y_back = max(box.y_back_mm for box in below)
    x_range = (below[0].x0_mm, below[-1].x1_mm)
    free, left_meets, right_meets = _ends(setting, top, reach, x_range, (y_front, y_back), z_mm + t)
    back_line, back = _back_edge(setting, x_range, z)
    left_line, left = _side_edge(setting, "left", left_meets, free[0], (y_front, y_back), z)
    right_line, right = _side_edge(setting, "right", right_meets, free[1], (y_front, y_back), z)
    outline = (
        (left_line[0] + left_line[1] * y_front, y_front),
        (right_line[0] + right_line[1] * y_front, y_front),
        _crossing(back_line, right_line),
        _crossing(back_line, left_line),
    )
    return FittedTop(
        name=top.name,
        letter=letter,
        stock=stock,
        outline=outline,
        edges=(None, right, back, left),
        z_mm=z_mm,
        thickness_mm=t,
    )


def in_pieces(fitted: FittedTop, top: Top, setting: Setting) -> tuple[FittedTop, ...]:
    """Return a top as the pieces that the brief makes of it, from the left; as it is where it asks for none.

    Args:
        fitted: the whole top.
        top: the top as wished.
        setting: the job.
    """
    front_left, front_right, back_right, back_left = fitted.outline
    start = min(x for x, _ in fitted.outline)
    length = max(x for x, _ in fitted.outline) - start
    places = split_at(top.name, length, top.split_mm, setting, top.where)
    _, right, back, left = fitted.edges
    rise = (back_right[1] - back_left[1]) / (back_right[0] - back_left[0])
    cuts = [
        ((start + place, front_left[1]), (start + place, back_left[1] + rise * (start + place - back_left[0])))
        for place in places
    ]
    lines = [(front_left, back_left), *cuts, (front_right, back_right)]
    ends = [left, *(None for _ in cuts), right]
    count = len(cuts) + 1
    return tuple(
        replace(
            fitted,
            name=f"{fitted.name}, piece {i + 1} of {count}" if cuts else fitted.name,
            outline=(lines[i][0], lines[i + 1][0], lines[i + 1][1], lines[i][1]),
            edges=(None, ends[i + 1], back, ends[i]),
        )
        for i in range(count)
    )


def _ends(
    setting: Setting,
    top: Top,
    reach: Reach,
    x_range: tuple[float, float],
    y_range: tuple[float, float],
    z_mm: float,
) -> tuple[tuple[float, float], SurfaceName | None, SurfaceName | None]:
    """Return where a top's free ends are, and the walls it meets; it stops free where the slope comes down first."""
    ends = _kept_from_walls(setting, (x_range[0] - top.overhang_mm, x_range[1] + top.overhang_mm), y_range[0], z_mm)
    meets = [reach.left, reach.right]
    walls = [
        setting.room.at(side, y_range[0], z_mm).value if side else end for side, end in zip(meets, ends, strict=True)
    ]
    clear = _under_slope(setting, (walls[0], walls[1]), y_range, z_mm)
    setting.inspection.expect(
        clear[1] - clear[0] >= LEAST_TOP_MM,
        "height",
        f"{top.name} {setting.said(z_mm)} up, above the slope",
        "a tier below it that is low enough for the slope to pass over its top",
        where=top.where,
    )
    if clear[0] > walls[0]:
        ends[0], meets[0] = clear[0], None
    if clear[1] < walls[1]:
        ends[1], meets[1] = clear[1], None
    return (ends[0], ends[1]), meets[0], meets[1]


def _kept_from_walls(setting: Setting, ends: tuple[float, float], y_front_mm: float, z_mm: float) -> list[float]:
    """Return a top's overhanging ends, drawn in where a wall stands in their way. [mm]"""
    room = setting.room
    left, right = ends
    y_range = (y_front_mm, max(room.at("back", x, z_mm).value for x in ends))
    if room.has("left"):
        left = max(left, room.governing("left", y_range, (z_mm, z_mm), "greatest").value)
    if room.has("right"):
        right = min(right, room.governing("right", y_range, (z_mm, z_mm), "least").value)
    return [left, right]


def _under_slope(
    setting: Setting, x_range: tuple[float, float], y_range: tuple[float, float], z_mm: float
) -> tuple[float, float]:
    """Return how far left and right a level board at z stays below the slope; all the way without one. [mm]"""
    rake = rake_line(setting.room, setting.brief, x_range, y_range)
    if rake is None or min(rake.at(x) for x in x_range) >= z_mm or abs(rake.slope) < 1e-6:
        return x_range
    x = (z_mm - rake.height_at_0_mm) / rake.slope
    return (max(x, x_range[0]), x_range[1]) if rake.slope > 0 else (x_range[0], min(x, x_range[1]))


def _back_edge(setting: Setting, x_range: tuple[float, float], z: float) -> tuple[Line, ScribedEdge]:
    """Return the rear edge, y over x, just clear of the back wall."""
    xs = spaced(*x_range, STEP_MM)
    places = list(zip(xs, setting.room.profile("back", tuple((x, z) for x in xs)), strict=True))
    line = line_below([(x, here.value) for x, here in places])
    return line, scribed_edge("back", line, places, setting.brief.allowances)


def _side_edge(
    setting: Setting,
    side: SurfaceName,
    meets: SurfaceName | None,
    free_x_mm: float,
    y_range: tuple[float, float],
    z: float,
) -> tuple[Line, ScribedEdge | None]:
    """Return a side edge, x over y: along its wall, or square at a free end."""
    if meets is None:
        return (free_x_mm, 0.0), None
    ys = spaced(*y_range, STEP_MM)
    places = list(zip(ys, setting.room.profile(side, tuple((y, z) for y in ys)), strict=True))
    touching = line_above if side == "left" else line_below
    line = touching([(y, here.value) for y, here in places])
    return line, scribed_edge(side, line, places, setting.brief.allowances)


def _crossing(back: Line, side: Line) -> Point2:
    """Return where y = b0 + b1 x meets x = s0 + s1 y."""
    x = (side[0] + side[1] * back[0]) / (1.0 - side[1] * back[1])
    return x, back[0] + back[1] * x
