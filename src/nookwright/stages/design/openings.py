"""The space that can be used: how far left, right, back and up a plumb box may reach."""

from __future__ import annotations

import math
from dataclasses import dataclass

from nookwright.basics.measured import Measured
from nookwright.geometry.plane import line_below, spaced
from nookwright.stages.design.design import Fit, Rake
from nookwright.stages.inputs.brief import Allowances, Brief
from nookwright.stages.inputs.survey import SurfaceName
from nookwright.stages.room.room import Room

VENTILATED_GAP_MM = 50.0
"""Gap left behind furniture on a cold outside wall. Source: [trade-practice], advice page on damp."""

SAMPLE_MM = 150.0
"""Spacing of the places at which surfaces are looked at. Waviness is correlated over about 500 mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """How far a plumb box may reach sideways at some heights and depths. [mm]

    Args:
        x0_mm, x1_mm: its left and right ends, clearances taken off.
        left, right: the surface there; None at an end the brief chose.
        space: clear width between the governing places, with its spread.
    """

    x0_mm: float
    x1_mm: float
    left: SurfaceName | None
    right: SurfaceName | None
    space: Measured


def clearance(sd_mm: float, allowances: Allowances) -> float:
    """Return the play left beside a wall known to `sd_mm`: never less than the least gap. [mm]"""
    return max(allowances.least_gap_mm, allowances.sds * sd_mm)


def chance_of_fit(space: Measured, size_mm: float) -> float:
    """Return the probability that a space of that spread is at least `size_mm` wide."""
    if space.sd <= 0:
        return 1.0 if space.value >= size_mm else 0.0
    return 0.5 * (1.0 + math.erf((space.value - size_mm) / (space.sd * math.sqrt(2.0))))


def fit_of(what: str, space: Measured, size_mm: float) -> Fit:
    """Return how surely a thing of that size goes into that space."""
    return Fit(what=what, space=space, size_mm=size_mm, chance=chance_of_fit(space, size_mm))


def back_line(room: Room, brief: Brief, z_range: tuple[float, float]) -> Measured:
    """Return y of the furniture's rear: just clear of the back wall's proudest place. [mm]

    On an outside wall the ventilated gap is kept as well.
    """
    x_range = run_ends(room, brief)
    proud = room.governing("back", x_range, z_range, "least")
    gap = VENTILATED_GAP_MM if room.survey.wall.outside else 0.0
    return proud.shifted(-brief.allowances.sds * proud.sd - gap)


def run_ends(room: Room, brief: Brief) -> tuple[float, float]:
    """Return the run's rough ends along the back wall: what the brief says, else the corner spots. [mm]"""
    xs = {column: [spot.xyz[0] for spot in room.beside if room.column(spot.name) == column] for column in room.ends}
    left, right = room.ends
    every = [*xs[left], *xs[right]]
    start = max(xs[left]) if room.is_nose(left) and xs[left] else min(every)
    end = min(xs[right]) if room.is_nose(right) and xs[right] else max(every)
    return (
        brief.start_mm if brief.start_mm is not None else start,
        brief.end_mm if brief.end_mm is not None else end,
    )


ROOM_DEPTH_MM = 1000.0
"""A side wall of a whole room that is longer than this does not make an alcove: furniture is turned in front of it.
Common practice, no source."""


def mouth_line(room: Room) -> float:
    """Return y of the alcove's mouth: the foremost spot beside the furniture. [mm]"""
    deepest = -ROOM_DEPTH_MM if room.closed else -math.inf
    return min(spot.xyz[1] for spot in room.beside if spot.xyz[1] >= deepest)


def reach(room: Room, brief: Brief, y_range: tuple[float, float], z_range: tuple[float, float]) -> Reach:
    """Return how far a plumb box may reach sideways between these depths and heights.

    Between two walls the box is pushed straight in, so every width from the mouth inward counts.
    """
    between_walls = brief.start_mm is None and brief.end_mm is None and room.has("left") and room.has("right")
    if between_walls:
        y_range = (min(y_range[0], mouth_line(room)), y_range[1])
    rough = run_ends(room, brief)
    left, low = _end(room, "left", brief.start_mm, rough[0], y_range, z_range)
    right, high = _end(room, "right", brief.end_mm, rough[1], y_range, z_range)
    x0 = low.value + (clearance(low.sd, brief.allowances) if left else 0.0)
    x1 = high.value - (clearance(high.sd, brief.allowances) if right else 0.0)
    space = Measured(value=high.value - low.value, sd=math.hypot(low.sd, high.sd))
    return Reach(x0_mm=x0, x1_mm=x1, left=left, right=right, space=space)


def _end(
    room: Room,
    side: SurfaceName,
    chosen_mm: float | None,
    rough_mm: float,
    y_range: tuple[float, float],
    z_range: tuple[float, float],
) -> tuple[SurfaceName | None, Measured]:
    """Return the surface and place of one end of the run; no surface where the end is chosen or open."""
    if chosen_mm is not None or not room.has(side):
        return None, Measured(value=rough_mm, sd=0.0)
    return side, room.governing(side, y_range, z_range, "greatest" if side == "left" else "least")


def rake_line(room: Room, brief: Brief, x_range: tuple[float, float], y_range: tuple[float, float]) -> Rake | None:
    """Return the straight line a raked box keeps below; None in a room without a slope.

    The lowest of the slope over the box's whole depth counts at each x; the line has the slope's own pitch there,
    touches its lowest place and is lowered by the clearance.
    """
    if not room.has("slope"):
        return None
    lowest: list[tuple[float, float]] = []
    sd = 0.0
    for x in spaced(*x_range, SAMPLE_MM):
        here = [room.at("slope", x, y) for y in spaced(*y_range, SAMPLE_MM)]
        lowest.append((x, min(m.value for m in here)))
        sd = max(sd, *(m.sd for m in here))
    height, slope = line_below(lowest)
    line = Rake(height_at_0_mm=height, slope=slope)
    return line.lowered(clearance(sd / math.hypot(1.0, slope), brief.allowances))


TALLEST_MM = 2700.0
"""Height looked at in a room without a surveyed slope or ceiling. Common practice, no source."""


def highest(room: Room, x_range: tuple[float, float]) -> float:
    """Return the greatest height that furniture along the back wall could run up to. [mm]"""
    lids: tuple[SurfaceName, ...] = ("slope", "ceiling")
    heights = [max(room.at(name, x, 0.0).value for x in x_range) for name in lids if room.has(name)]
    return min(heights, default=TALLEST_MM)


def level_limit(room: Room, brief: Brief, x_range: tuple[float, float], y_range: tuple[float, float]) -> float:
    """Return the greatest height of a box under the ceiling, less the gap for lifting in; inf without one. [mm]"""
    if not room.has("ceiling"):
        return math.inf
    low = room.governing("ceiling", x_range, y_range, "least")
    return low.lower(brief.allowances.sds) - brief.allowances.top_gap_mm
