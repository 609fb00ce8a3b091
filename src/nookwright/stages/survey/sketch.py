"""A rough room straight from the typed readings: where the adjustment starts, and what the readings lack."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from statistics import median

import numpy as np

from nookwright.basics.problems import Inspection
from nookwright.solvers.linear_fit import Vector
from nookwright.stages.inputs.survey import LevelReading, PitchReading, SurfaceName, Survey, TapeReading
from nookwright.stages.survey.kinds import AXES, INTO_ROOM, Shape, shape_of
from nookwright.stages.survey.spots import ORIGIN, Spot
from nookwright.stages.survey.unknowns import Unknowns, end_name

_SMALL_MM = 1.0  # a length shorter than its own rise is taken as this


@dataclass(slots=True)
class _Draft:
    """What is known so far."""

    survey: Survey
    unknowns: Unknowns
    shape: Shape
    tapes: tuple[TapeReading, ...]
    heights: dict[str, float] = field(default_factory=dict)
    width_mm: float | None = None
    depths_mm: dict[str, float] = field(default_factory=dict)
    slope: tuple[float, float, float] | None = None

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
    shape = shape_of(survey.kind, survey.corner)
    tapes = tuple(sorted((r for r in survey.readings if isinstance(r, TapeReading)), key=lambda r: (r.start, r.end)))
    draft = _Draft(survey=survey, unknowns=unknowns, shape=shape, tapes=tapes)
    inspection = Inspection()
    if not tapes:
        inspection.expect(
            False,
            "readings",
            "no tape",
            "tapes across the back wall and along the sides",
            "A room has no size without a tape: start with BL0 - BR0.",
        )
        inspection.finish()
    _find_heights(draft)
    _find_plan(draft)
    _find_slope(draft)
    if draft.width_mm is None:  # tapes along the slope's face give the width once its heights are known
        _find_plan(draft)
        _find_slope(draft)
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
    if ORIGIN in levels:
        lines = [-levels[ORIGIN]]
    if lines:
        draft.heights.update({name: median(lines) + above for name, above in levels.items()})
    for tape in draft.tapes:
        _climb(draft, tape)
    tops = [draft.heights[spot.name] for spot in named if spot.level == "T" and spot.name in draft.heights]
    for spot in named:
        if spot.level == "T" and tops:
            draft.heights.setdefault(spot.name, median(tops))


def _climb(draft: _Draft, tape: TapeReading) -> None:
    """Take heights from a tape straight up a column, or square to the floor or ceiling."""
    if tape.end == "floor":
        draft.heights.setdefault(tape.start, tape.length_mm)
    elif tape.end == "ceiling" and tape.start in draft.heights:
        for spot in draft.unknowns.spots:
            if "ceiling" in spot.surfaces:
                draft.heights.setdefault(spot.name, draft.heights[tape.start] + tape.length_mm)
    elif tape.start[:2] == tape.end[:2]:
        for low, high in ((tape.start, tape.end), (tape.end, tape.start)):
            if low in draft.heights:
                draft.heights.setdefault(high, draft.heights[low] + tape.length_mm)


def _find_plan(draft: _Draft) -> None:
    """Find the width and each side's depth; diagonals serve where nothing better was read."""
    runs: dict[str, list[float]] = {"width": [], "left": [], "right": [], "diagonal": []}
    for tape in draft.tapes:
        run, tells = draft.level_run(tape), _tells(draft, tape)
        if run is not None and tells:
            runs[tells].append(run)
    depths = runs["left"] + runs["right"]
    if runs["width"]:
        draft.width_mm = median(runs["width"])
    elif depths and runs["diagonal"]:
        draft.width_mm = median([_leg(run, median(depths)) for run in runs["diagonal"]])
    slanted = [_leg(run, draft.width_mm) for run in runs["diagonal"]] if draft.width_mm is not None else []
    for side in ("left", "right"):
        found = runs[side] or depths or slanted
        if found:
            draft.depths_mm[side] = median(found)


def _tells(draft: _Draft, tape: TapeReading) -> str:
    """Return what a tape tells of the plan: `width`, the depth on one side, `diagonal`, or nothing."""
    start = draft.spot(tape.start).column
    if draft.shape.may_have(tape.end):
        if tape.end in ("left", "right"):
            return "width" if tape.end != start.side else ""
        return start.side if tape.end == "back" and start.front else ""
    end = draft.spot(tape.end).column
    if start.front == end.front:
        return "width" if start.side != end.side else ""
    return start.side if start.side == end.side else "diagonal"


def _leg(long_mm: float, other_mm: float) -> float:
    """Return the other short side of a right-angled triangle. [mm]"""
    return math.sqrt(max(long_mm**2 - other_mm**2, _SMALL_MM))


def _find_slope(draft: _Draft) -> None:
    """Find the slope's plane z = d + a x + b y from the heights of spots on it and its pitch."""
    if "slope" not in draft.unknowns.surfaces:
        return
    known = [(spot, _plan_of(draft, spot)) for spot in draft.unknowns.spots if spot.level == "S"]
    rows = [(x, y, draft.heights[spot.name]) for spot, (x, y) in known if spot.name in draft.heights]
    if not rows:
        return
    pitches = [r.pitch_deg for r in draft.survey.readings if isinstance(r, PitchReading)]
    left = [z for x, _, z in rows if x < (draft.width_mm or math.inf) / 2]
    right = [z for x, _, z in rows if x >= (draft.width_mm or math.inf) / 2]
    if left and right:
        sign = 1.0 if median(right) >= median(left) else -1.0
    elif draft.shape.low_side is not None and pitches:
        sign = 1.0 if draft.shape.low_side == "left" else -1.0
    else:
        return
    tilt = sign * math.tan(math.radians(median(pitches))) if pitches else 0.0
    if left and right and draft.width_mm:
        tilt = (median(right) - median(left)) / draft.width_mm
    offset = median([z - tilt * x for x, _, z in rows])
    draft.slope = (offset, tilt, 0.0)
    for spot, (x, _) in known:
        draft.heights.setdefault(spot.name, offset + tilt * x)


def _plan_of(draft: _Draft, spot: Spot) -> tuple[float, float]:
    """Return a spot's rough x and y."""
    x = (draft.width_mm or 0.0) if spot.column.side == "right" else 0.0
    return x, -draft.depths_mm.get(spot.column.side, 0.0) if spot.column.front else 0.0


def _expect_enough(draft: _Draft, inspection: Inspection) -> None:
    named = draft.unknowns.spots[: draft.unknowns.named]
    front = next((spot for spot in named if spot.column.front), None)
    surfaces = draft.unknowns.surfaces
    ceiling_found = any("ceiling" in s.surfaces and s.name in draft.heights for s in draft.unknowns.spots)
    for holds, found, expected, hint in (
        (
            any(spot.column.name == "BR" for spot in named),
            "no spot at the back right (BR)",
            "the back wall to be tied at both ends",
            "Tape BL0 - BR0.",
        ),
        (draft.width_mm is not None, "no tape that gives a width", "a tape from left to right", "Tape BL0 - BR0."),
        (
            front is None or bool(draft.depths_mm),
            "no tape that gives a depth",
            f"a tape from the back to the front, as {front.name if front else ''} is in front",
            f"Tape B{front.name[1:] if front else ''} - {front.name if front else ''}.",
        ),
        (
            "ceiling" not in surfaces or ceiling_found,
            "no height of the ceiling",
            "a level reading or an upright tape to it",
            "Tape BL0 - BLT.",
        ),
        (
            "slope" not in surfaces or draft.slope is not None,
            "too little about the slope",
            "its height at the back left and at the back right",
            "Tape BL0 - BLS and BR0 - BRS, or read both with the level.",
        ),
    ):
        inspection.expect(holds, "readings", found, expected, hint)


def _state(draft: _Draft) -> Vector:
    unknowns = draft.unknowns
    state = np.zeros(unknowns.count)
    for spot in unknowns.spots[: unknowns.named]:
        at = unknowns.spot(spot.name)
        state[at : at + 3] = (*_plan_of(draft, spot), draft.heights.get(spot.name, 0.0))
    offsets: dict[SurfaceName, Iterable[float]] = {
        "right": (draft.width_mm or 0.0, 0.0, 0.0),
        "ceiling": (_ceiling_height(draft), 0.0, 0.0),
        "slope": draft.slope or (0.0, 0.0, 0.0),
    }
    for surface in unknowns.surfaces:
        at = unknowns.surface(surface)
        state[at : at + 3] = tuple(offsets.get(surface, (0.0, 0.0, 0.0)))
    _set_feet(draft, state)
    levels = [r for r in draft.survey.readings if isinstance(r, LevelReading)]
    if levels:
        heights = [state[unknowns.spot(r.spot) + 2] - r.above_mm for r in levels]
        state[unknowns.line_height] = median(heights)
    return state


def _ceiling_height(draft: _Draft) -> float:
    touching = [spot.name for spot in draft.unknowns.spots if "ceiling" in spot.surfaces]
    heights = [draft.heights[name] for name in touching if name in draft.heights]
    return median(heights) if heights else 0.0


def _set_feet(draft: _Draft, state: Vector) -> None:
    """Put the feet of tapes held square to a surface where a tape of that length would reach it."""
    unknowns = draft.unknowns
    for tape in draft.tapes:
        if not draft.shape.may_have(tape.end):
            continue
        (surface,) = draft.spot(end_name(tape, draft.survey)).surfaces
        across, p, q = AXES[surface]
        start, foot = unknowns.spot(tape.start), unknowns.spot(end_name(tape, draft.survey))
        plane = unknowns.surface(surface)
        tilts = state[plane + 1 : plane + 3]
        step = -INTO_ROOM[surface] * tape.length_mm / math.sqrt(1 + float(tilts @ tilts))
        state[foot : foot + 3] = state[start : start + 3]
        state[foot + across] += step
        state[foot + p] -= step * tilts[0]
        state[foot + q] -= step * tilts[1]
