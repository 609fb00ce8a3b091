"""Worktops: the straight-edged outline nearest to the walls, and what to leave on each edge for scribing."""

from __future__ import annotations

from collections.abc import Sequence

from nookwright.basics.measured import Measured
from nookwright.geometry.frame import Point2
from nookwright.geometry.plane import Line, line_above, line_below, spaced
from nookwright.stages.design.design import Box, FittedTop, ScribedEdge
from nookwright.stages.design.openings import Reach
from nookwright.stages.design.setting import Setting
from nookwright.stages.inputs.brief import Allowances, Top
from nookwright.stages.inputs.survey import SurfaceName
from nookwright.trade.scribing import scribe_allowance

STEP_MM = 100.0
"""Spacing of the places at which a scribed edge is looked at."""


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
    back_line, back = _back_edge(setting, x_range, z)
    left_line, left = _side_edge(setting, "left", reach.left, x_range[0] - top.overhang_mm, (y_front, y_back), z)
    right_line, right = _side_edge(setting, "right", reach.right, x_range[1] + top.overhang_mm, (y_front, y_back), z)
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
