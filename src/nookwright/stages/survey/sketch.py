"""A rough room straight from the typed readings: where the adjustment starts, and what the readings lack."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from statistics import median

import numpy as np

from nookwright.basics.problems import Inspection
from nookwright.solvers.linear_fit import Vector
from nookwright.stages.inputs.survey import LevelReading, PitchReading, SpanReading, SurfaceName, Survey, TapeReading
from nookwright.stages.survey.kinds import shape_in
from nookwright.stages.survey.rough_plan import RoughPlan, Run, rough_plan
from nookwright.stages.survey.shape import PlanLine, Shape, Slope
from nookwright.stages.survey.sight import in_sight
from nookwright.stages.survey.spots import Spot
from nookwright.stages.survey.unknowns import Unknowns, end_name

_SMALL_MM = 1.0  # a length shorter than its own rise is taken as this

LEAST_RISE_SHARE = 0.3
"""Heights of a slope tell its rise when they are this share of its nominal reach apart. Common practice, no source."""


@dataclass(slots=True)
class _Draft:
    """What is known so far."""

    survey: Survey
    unknowns: Unknowns
    shape: Shape
    tapes: tuple[TapeReading, ...]
    plan: RoughPlan
    heights: dict[str, float] = field(default_factory=dict)
    slopes: dict[SurfaceName, tuple[float, float, float]] = field(default_factory=dict)

    def spot(self, name: str) -> Spot:
        return next(spot for spot in self.unknowns.spots if spot.name == name)

    def level_run(self, tape: TapeReading) -> float | None:
        """Return the level part of a tape between two spots of known height."""
        if self.shape.may_have(tape.end):
            return tape.length_mm
        if tape.start not in self.heights or tape.end not in self.heights:
            return None
        return _leg(tape.length_mm, self.heights[tape.end] - self.heights[tape.start])


def sketch(survey: Survey, unknowns: Unknowns) -> Vector:
    """Return a first guess of every unknown from the readings as they were typed.

    Args:
        survey: a field book that `examine` found good.
        unknowns: its unknowns.

    Returns:
        The state to start the adjustment from.

    Raises:
        InvalidInputError: if a width, a depth, or the height of the slope or ceiling cannot be had from the readings.
    """
    shape = shape_in(survey)
    tapes = tuple(sorted((r for r in survey.readings if isinstance(r, TapeReading)), key=lambda r: (r.start, r.end)))
    draft = _Draft(survey=survey, unknowns=unknowns, shape=shape, tapes=tapes, plan=rough_plan(shape, ()))
    inspection = Inspection()
    if not tapes:
        inspection.expect(
            False,
            "readings",
            "no tape",
            "tapes along the walls" if shape.closed else "tapes across the back wall and along the sides",
            f"A room has no size without a tape: start with {_first_tape(shape)}.",
        )
        inspection.finish()
    _find_heights(draft)
    _find_plan(draft)
    _find_slopes(draft)
    if _open_lines(draft):  # tapes along a slope's face give the plan once its heights are known
        _find_plan(draft)
        _find_slopes(draft)
    _expect_enough(draft, inspection)
    inspection.finish()
    return _state(draft)


def _find_heights(draft: _Draft) -> None:
    """Find heights: marked ones as marked, then the level's, then those of upright tapes."""
    survey = draft.survey
    named = draft.unknowns.spots[: draft.unknowns.named]
    for spot in named:
        if spot.level.isdigit():
            draft.heights[spot.name] = 0.0 if spot.level == "0" else survey.heights_mm[int(spot.level) - 1]
    levels = {r.spot: r.above_mm for r in survey.readings if isinstance(r, LevelReading)}
    lines = [draft.heights[name] - above for name, above in sorted(levels.items()) if name in draft.heights]
    if draft.unknowns.datum in levels:
        lines = [-levels[draft.unknowns.datum]]
    if lines:
        draft.heights.update({name: median(lines) + above for name, above in levels.items()})
    for tape in draft.tapes:
        _climb(draft, tape)
    tops = [draft.heights[spot.name] for spot in named if "ceiling" in spot.surfaces and spot.name in draft.heights]
    for spot in named:
        if "ceiling" in spot.surfaces and tops:
            draft.heights.setdefault(spot.name, median(tops))


def _climb(draft: _Draft, tape: TapeReading) -> None:
    """Take heights from a tape straight up a column, or square to the floor or ceiling."""
    if tape.end == "floor":
        draft.heights.setdefault(tape.start, tape.length_mm)
    elif tape.end == "ceiling" and tape.start in draft.heights:
        for spot in draft.unknowns.spots:
            if "ceiling" in spot.surfaces:
                draft.heights.setdefault(spot.name, draft.heights[tape.start] + tape.length_mm)
    elif draft.spot(tape.start).column == draft.spot(end_name(tape, draft.survey)).column:
        for low, high in ((tape.start, tape.end), (tape.end, tape.start)):
            if low in draft.heights:
                draft.heights.setdefault(high, draft.heights[low] + tape.length_mm)


def _find_plan(draft: _Draft) -> None:
    """Find the plan from the level runs of tapes between columns, and from columns square to walls."""
    runs = []
    for tape in draft.tapes:
        start, end = draft.spot(tape.start).column, draft.spot(end_name(tape, draft.survey)).column
        run = draft.level_run(tape)
        wall = tape.end if tape.end in draft.shape.walls else None
        if run is not None and (wall or (start != end and not draft.shape.may_have(tape.end))):
            runs.append(Run(start=start.name, end=end.name, wall=wall, length_mm=run))
    for span in draft.survey.readings:
        if isinstance(span, SpanReading) and span.first in draft.shape.walls:
            near = draft.shape.walls[span.first].ends[0]
            runs.append(Run(start=near, end=near, wall=span.second, length_mm=span.length_mm))
    draft.plan = rough_plan(draft.shape, runs)


def _open_lines(draft: _Draft) -> list[tuple[PlanLine, str]]:
    """Return the lines of the plan whose lengths nothing tells, each with a named spot whose place hangs on it."""
    shape, found, sizes = draft.shape, list[tuple[PlanLine, str]](), set[str]()
    named = draft.unknowns.spots[: draft.unknowns.named]
    used = {spot.column.name: spot.name for spot in reversed(named)}
    for line in shape.lines:
        here = [name for name in line.columns if name in used]
        needed = set(line.columns) == set(shape.frame) or (here and _hangs(draft, line, used))
        if needed and line.size not in sizes and draft.plan.is_open(shape, *line.columns):
            sizes.add(line.size)
            found.append((line, used.get(line.columns[1], "")))
    return found


def _hangs(draft: _Draft, line: PlanLine, used: dict[str, str]) -> bool:
    """Return whether the place of a named column hangs on a line: it is the line's far end, and open."""
    far = line.columns[1]
    return far in used and draft.plan.is_open(draft.shape, draft.shape.frame[0], far)


def _leg(long_mm: float, other_mm: float) -> float:
    """Return the other short side of a right-angled triangle. [mm]"""
    return math.sqrt(max(long_mm**2 - other_mm**2, _SMALL_MM))


def _find_slopes(draft: _Draft) -> None:
    """Find each slope's plane z = d + a x + b y from the heights of spots on it and its pitch."""
    for slope in draft.shape.slopes.values():
        if slope.name in draft.unknowns.surfaces:
            _find_slope(draft, slope)


def _find_slope(draft: _Draft, slope: Slope) -> None:
    on_it = [spot for spot in draft.unknowns.spots if slope.name in spot.surfaces and spot.level != "foot"]
    reach = {spot.name: float(np.dot(slope.rise, draft.plan.places[spot.column.name])) for spot in on_it}
    known = [(reach[spot.name], draft.heights[spot.name]) for spot in on_it if spot.name in draft.heights]
    if not known:
        return
    readings = draft.survey.readings
    pitches = [r.pitch_deg for r in readings if isinstance(r, PitchReading) and r.surface == slope.name]
    tilt = _rise_of(known, _nominal_reach(draft, slope))
    if tilt is None:
        if not (slope.rises and pitches):
            return
        tilt = slope.rises * math.tan(math.radians(median(pitches)))
    offset = median([z - tilt * at for at, z in known])
    draft.slopes[slope.name] = (offset, tilt * slope.rise[0], tilt * slope.rise[1])
    for spot in on_it:
        draft.heights.setdefault(spot.name, offset + tilt * reach[spot.name])


def _nominal_reach(draft: _Draft, slope: Slope) -> float:
    """Return how far apart its two ends stand, along its rise. [mm]"""
    first, second = (np.dot(slope.rise, draft.plan.places[name]) for name in slope.ends)
    return abs(float(second - first))


def _rise_of(known: list[tuple[float, float]], reach: float) -> float | None:
    """Return the rise per millimetre between the lower and the upper half of the heights; None when they tell none."""
    least, most = min(at for at, _ in known), max(at for at, _ in known)
    if most - least < max(LEAST_RISE_SHARE * reach, _SMALL_MM):
        return None
    near, far = ([pair for pair in known if (pair[0] < (least + most) / 2) == is_near] for is_near in (True, False))
    apart = median([at for at, _ in far]) - median([at for at, _ in near])
    return (median([z for _, z in far]) - median([z for _, z in near])) / apart


def _expect_enough(draft: _Draft, inspection: Inspection) -> None:
    shape, surfaces = draft.shape, draft.unknowns.surfaces
    named = draft.unknowns.spots[: draft.unknowns.named]
    first, second = shape.frame
    inspection.expect(
        any(spot.column.name == second for spot in named),
        "readings",
        f"no spot at the {shape.columns[second].told} ({second})",
        "the back wall to be tied at both ends",
        f"Tape {_tape_to(shape, second)}.",
    )
    for line, spot in _open_lines(draft):
        near, far = _seen(shape, line)
        level = "0" if set(line.columns) == set(shape.frame) else spot[len(far) :]
        inspection.expect(
            False,
            "readings",
            f"no tape that gives {line.size}",
            line.asked.format(spot=spot),
            f"Tape {near}{level} - {far}{level}.",
        )
    on_ceiling = (spot for spot in draft.unknowns.spots if "ceiling" in spot.surfaces)
    found = bool(_spans_up(draft)) or any(spot.name in draft.heights for spot in on_ceiling)
    inspection.expect(
        "ceiling" not in surfaces or found,
        "readings",
        "no height of the ceiling",
        "a level reading or an upright tape to it",
        f"Tape {shape.origin} - {first}T.",
    )
    letters = {surface: letter for letter, surface in shape.tops.items()}
    for slope in shape.slopes.values():
        one, other = slope.ends
        letter = letters[slope.name]
        inspection.expect(
            slope.name not in surfaces or slope.name in draft.slopes,
            "readings",
            f"too little about the {slope.name}",
            f"its height at the {shape.columns[one].told} and at the {shape.columns[other].told}",
            f"Tape {one}0 - {one}{letter} and {other}0 - {other}{letter}, or read both with the level.",
        )


def _first_tape(shape: Shape) -> str:
    """Return the tape to begin with: along the frame where nothing stands between, else the first of the plan."""
    ends = shape.frame if in_sight(shape, *shape.frame) else shape.lines[0].columns
    return f"{ends[0]}0 - {ends[1]}0"


def _tape_to(shape: Shape, column: str) -> str:
    """Return a tape that ties a column: from the frame's other end, or from one it sees."""
    if in_sight(shape, *shape.frame):
        return f"{shape.frame[0]}0 - {column}0"
    beside = next(line.columns for line in shape.lines if column in line.columns and in_sight(shape, *line.columns))
    return f"{beside[0]}0 - {beside[1]}0"


def _seen(shape: Shape, line: PlanLine) -> tuple[str, str]:
    """Return the ends of a line, or of another that gives the same size where something stands between them."""
    alike = [one.columns for one in shape.lines if one.size == line.size and in_sight(shape, *one.columns)]
    return line.columns if in_sight(shape, *line.columns) or not alike else alike[0]


def _state(draft: _Draft) -> Vector:
    unknowns = draft.unknowns
    state = np.zeros(unknowns.count)
    for spot in unknowns.spots[: unknowns.named]:
        at = unknowns.spot(spot.name)
        state[at : at + 3] = (*draft.plan.places[spot.column.name], draft.heights.get(spot.name, 0.0))
    planes = {"ceiling": (_ceiling_height(draft), 0.0, 0.0), **draft.slopes}
    for surface in unknowns.surfaces:
        at = unknowns.surface(surface)
        plane = _wall_plane(draft, surface) if surface in draft.shape.walls else planes.get(surface, (0.0, 0.0, 0.0))
        state[at : at + 3] = plane
    _set_feet(draft, state)
    for one in unknowns.set_ups:
        state[unknowns.set_up(one.name)] = one.about
    levels = [r for r in draft.survey.readings if isinstance(r, LevelReading)]
    if levels:
        heights = [state[unknowns.spot(r.spot) + 2] - r.above_mm for r in levels]
        state[unknowns.line_height] = median(heights)
    return state


def _wall_plane(draft: _Draft, surface: SurfaceName) -> tuple[float, float, float]:
    """Return a wall of nominal direction, upright, through the middle of its ends."""
    wall = draft.shape.walls[surface]
    across, along, _ = wall.axes
    ends = [draft.plan.places[name] for name in wall.ends]
    return sum(end[across] - wall.tilt * end[along] for end in ends) / 2, wall.tilt, 0.0


def _ceiling_height(draft: _Draft) -> float:
    touching = [spot.name for spot in draft.unknowns.spots if "ceiling" in spot.surfaces]
    heights = [draft.heights[name] for name in touching if name in draft.heights] + _spans_up(draft)
    return median(heights) if heights else 0.0


def _spans_up(draft: _Draft) -> list[float]:
    """Return the clear heights from floor to ceiling that were taped. [mm]"""
    spans = [one for one in draft.survey.readings if isinstance(one, SpanReading)]
    return [span.length_mm for span in spans if {span.first, span.second} == {"floor", "ceiling"}]


def _set_feet(draft: _Draft, state: Vector) -> None:
    """Put the feet of tapes held square to a surface where a tape of that length would reach it."""
    unknowns = draft.unknowns
    for tape in draft.tapes:
        if not draft.shape.may_have(tape.end):
            continue
        (surface,) = draft.spot(end_name(tape, draft.survey)).surfaces
        across, p, q = draft.shape.axes(surface)
        start, foot = unknowns.spot(tape.start), unknowns.spot(end_name(tape, draft.survey))
        plane = unknowns.surface(surface)
        tilts = state[plane + 1 : plane + 3]
        step = -draft.shape.into_room(surface) * tape.length_mm / math.sqrt(1 + float(tilts @ tilts))
        state[foot : foot + 3] = state[start : start + 3]
        state[foot + across] += step
        state[foot + p] -= step * tilts[0]
        state[foot + q] -= step * tilts[1]
