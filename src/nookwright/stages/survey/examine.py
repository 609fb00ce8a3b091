"""Whether the field book can be worked with; every problem is told at once."""

from __future__ import annotations

import math
from difflib import get_close_matches

from nookwright.basics.lengths import show_limit, show_read
from nookwright.basics.problems import Inspection, Where
from nookwright.stages.inputs.survey import (
    BevelReading,
    LevelReading,
    PitchReading,
    PlumbReading,
    Reading,
    ScaleReading,
    Survey,
    TapeReading,
)
from nookwright.stages.survey.examine_scans import examine_scans
from nookwright.stages.survey.examine_set_ups import (
    LONGEST_TAPE_MM,
    examine_along,
    examine_set_ups,
    examine_spot,
)
from nookwright.stages.survey.free_plan import FREE_PLAN, closes_by_deg
from nookwright.stages.survey.kinds import shape_in
from nookwright.stages.survey.shape import Shape
from nookwright.stages.survey.spoken import spread_of
from nookwright.stages.survey.spots import spot_called

FARTHEST_LEVEL_MM = 5_000.0
FARTHEST_PLUMB_MM = 500.0
HIGHEST_FLOOR_MM = 300.0
"""Readings beyond these are slips, not rooms. [mm] Common practice, no source."""

LEAST_CORNERS = 3
CLOSES_WITHIN_DEG = 30.0
"""Rough angles add up to those of a closed plan within this. [deg] Common practice, no source."""

LEAST_SD = 0.01
"""No tool reads a room more closely, and a closer one would drown the others in rounding. [mm, mm/m or deg]
Common practice, no source."""


def examine(survey: Survey) -> None:
    """Check the readings one by one: names, heights and sizes.

    Whether they suffice for a room is another question, answered by `sketch`.

    Args:
        survey: the field book.

    Raises:
        InvalidInputError: with every problem found.
    """
    inspection = Inspection()
    shape = examine_each(survey, inspection)
    examine_set_ups(survey, inspection)
    examine_scans(survey, shape, inspection)
    inspection.finish()


def examine_each(survey: Survey, inspection: Inspection) -> Shape:
    """Check the readings and outlets one by one, apart from what several of them tell together.

    Args:
        survey: the field book.
        inspection: takes the problems.

    Returns:
        The shape of its room.

    Raises:
        InvalidInputError: if the room's corners cannot be those of one: every name hangs on them.
    """
    _examine_plan(survey, inspection)
    inspection.finish()
    _examine_heights(survey, inspection)
    shape = shape_in(survey)
    for place, reading in enumerate(survey.readings):
        where = reading.where if str(reading.where) else Where(path=f"readings[{place}]")
        sd = spread_of(reading)
        good = sd is None or (sd >= LEAST_SD and math.isfinite(sd))
        inspection.expect(good, "", sd, f"a standard deviation of at least {LEAST_SD:g}", where=where)
        _examine_one(reading, survey, shape, inspection, where)
    _examine_outlets(survey, shape, inspection)
    return shape


def _examine_outlets(survey: Survey, shape: Shape, inspection: Inspection) -> None:
    """Expect every outlet on a wall of the room, at a mark there is."""
    walls, last = tuple(shape.walls), len(survey.heights_mm)
    for outlet in survey.outlets:
        near = next(iter(get_close_matches(outlet.wall, walls, n=1, cutoff=0.6)), "")
        inspection.expect(
            outlet.wall in walls,
            "",
            f'wall "{outlet.wall}"',
            f"a wall of this room: {', '.join(walls)}",
            f"Did you mean {near}?" if near else "",
            where=outlet.where,
        )
        marked = f"a level from 1 to {last}" if last else "no mark, as no heights are listed"
        good = outlet.mark is None or 1 <= outlet.mark <= last
        inspection.expect(good, "", f"mark {outlet.mark}", marked, where=outlet.where)


def _examine_plan(survey: Survey, inspection: Inspection) -> None:
    """Expect corners that make a closed room."""
    if survey.kind != FREE_PLAN:
        inspection.expect(not survey.plan, "corners", "corners", "none in a room of this kind")
        return
    names = [corner.name for corner in survey.plan]
    inspection.expect(
        len(names) >= LEAST_CORNERS,
        "corners",
        f"{len(names)} corners",
        "three or more, in order round the room, left to right as you face the walls",
    )
    for name in names:
        good = len(name) == 1 and name.isalpha() and name.isupper() and name not in "ST" and names.count(name) == 1
        inspection.expect(good, "corners", f'corner "{name}"', "one capital letter, not S or T, each once")
    off = closes_by_deg(survey.plan)
    inspection.expect(
        len(names) < LEAST_CORNERS or abs(off) <= CLOSES_WITHIN_DEG,
        "corners",
        f"angles that add up to {off + 180 * (len(names) - 2):.0f} deg",
        f"about {180 * (len(names) - 2)} deg, as a room of {len(names)} corners has",
        "An outside corner counts more than 180; is one left out?",
    )


def _examine_heights(survey: Survey, inspection: Inspection) -> None:
    below = 0.0
    for place, height in enumerate(survey.heights_mm):
        inspection.expect(
            below < height <= LONGEST_TAPE_MM,
            f"heights[{place}]",
            show_read(height, survey.units),
            f"a height above {show_read(below, survey.units)} and up to {show_limit(LONGEST_TAPE_MM, survey.units)}",
            "List the marked heights from the floor up.",
        )
        below = max(below, height)
    for name, value in (
        ("reading_mm", survey.tools.reading_mm),
        ("level_mm_per_m", survey.tools.level_mm_per_m),
        ("plumb_mm_per_m", 0.5 if survey.tools.plumb_mm_per_m is None else survey.tools.plumb_mm_per_m),
        ("bevel_deg", survey.tools.bevel_deg),
        ("gap_mm", survey.tools.gap_mm),
        ("waviness_mm", survey.tools.waviness_mm),
    ):
        good = value >= LEAST_SD and math.isfinite(value)
        inspection.expect(good, f"tools.{name}", value, f"a precision of at least {LEAST_SD:g}")


def _examine_one(reading: Reading, survey: Survey, shape: Shape, inspection: Inspection, where: Where) -> None:
    match reading:
        case TapeReading():
            _examine_tape(reading, survey, shape, inspection, where)
        case LevelReading():
            _examine_level(reading, survey, shape, inspection, where)
        case PlumbReading():
            _examine_plumb(reading, survey, shape, inspection, where)
        case BevelReading():
            _examine_bevel(reading, survey, shape, inspection, where)
        case PitchReading():
            _examine_pitch(reading, shape, inspection, where)
        case ScaleReading():
            pass  # its spread is all there is to it
        case _:
            examine_along(reading, survey, shape, inspection, where)


def _examine_tape(reading: TapeReading, survey: Survey, shape: Shape, inspection: Inspection, where: Where) -> None:
    start_good = examine_spot(reading.start, survey, shape, inspection, where)
    if shape.may_have(reading.end):
        touching = start_good and reading.end in spot_called(reading.start, shape).surfaces
        inspection.expect(
            not touching,
            "",
            f"a tape from {reading.start} to the {reading.end}",
            "a surface that the tape's start does not lie on",
            where=where,
        )
    else:
        examine_spot(reading.end, survey, shape, inspection, where)
    inspection.expect(
        reading.start != reading.end,
        "",
        f"a tape from {reading.start} to {reading.end}",
        "two different spots",
        where=where,
    )
    inspection.expect(
        0 < reading.length_mm <= LONGEST_TAPE_MM,
        "",
        show_read(reading.length_mm, survey.units),
        f"a length above {show_read(0.0, survey.units)} and up to {show_limit(LONGEST_TAPE_MM, survey.units)}",
        "Check the unit the file is written in." if reading.length_mm > LONGEST_TAPE_MM else "",
        where,
    )


def _examine_level(reading: LevelReading, survey: Survey, shape: Shape, inspection: Inspection, where: Where) -> None:
    known = examine_spot(reading.spot, survey, shape, inspection, where)
    inspection.expect(
        abs(reading.above_mm) <= FARTHEST_LEVEL_MM,
        "",
        show_read(reading.above_mm, survey.units),
        f"a spot within {show_limit(FARTHEST_LEVEL_MM, survey.units)} of the level line",
        where=where,
    )
    under = not known or "floor" not in spot_called(reading.spot, shape).surfaces
    inspection.expect(
        under or not HIGHEST_FLOOR_MM < reading.above_mm <= FARTHEST_LEVEL_MM,
        "",
        f"a floor spot {show_read(reading.above_mm, survey.units)} above the level line",
        "one below it",
        "Write it with a minus.",
        where,
    )


def _examine_plumb(reading: PlumbReading, survey: Survey, shape: Shape, inspection: Inspection, where: Where) -> None:
    walls = [surface for surface in shape.surfaces if surface in shape.walls]
    has_wall = reading.wall in walls
    inspection.expect(
        has_wall, "", f"a plumb line on the {reading.wall}", f"a wall of this room: {' or '.join(walls)}", where=where
    )
    for name in (reading.first, reading.second):
        if examine_spot(name, survey, shape, inspection, where) and has_wall:
            inspection.expect(
                reading.wall in spot_called(name, shape).surfaces,
                "",
                f'spot "{name}"',
                f"a spot on the {shape.told(reading.wall)}",
                where=where,
            )
    inspection.expect(
        shape.taken_apart(reading.first)[1] != shape.taken_apart(reading.second)[1],
        "",
        f"a plumb line from {reading.first} to {reading.second}",
        "two spots at different heights",
        where=where,
    )
    inspection.expect(
        abs(reading.into_room_mm) <= FARTHEST_PLUMB_MM,
        "",
        show_read(reading.into_room_mm, survey.units),
        f"an offset of at most {show_limit(FARTHEST_PLUMB_MM, survey.units)} either way",
        where=where,
    )


def _examine_bevel(reading: BevelReading, survey: Survey, shape: Shape, inspection: Inspection, where: Where) -> None:
    inspection.expect(
        shape.corner_between(reading.walls) is not None,
        "",
        f"a corner of {reading.walls[0]} and {reading.walls[1]}",
        _corners_there(shape),
        where=where,
    )
    levels = [str(level) for level in range(len(survey.heights_mm) + 1)]
    inspection.expect(
        reading.level in levels or reading.level in shape.tops,
        "",
        f'level "{reading.level}"',
        f"a level from 0 to {levels[-1]}",
        where=where,
    )
    inspection.expect(
        30 <= reading.angle_deg <= 150,
        "",
        f"{reading.angle_deg:g} deg",
        "30 to 150 deg for an inside corner",
        "Was the bevel read from its back?",
        where,
    )


def _corners_there(shape: Shape) -> str:
    """Return in words which walls meet: beside one back wall only its neighbours need naming."""
    pairs = [corner.walls for corner in shape.corners]
    if all("back" in pair for pair in pairs):
        return f"the back wall and {' or '.join(wall for pair in pairs for wall in pair if wall != 'back')}"
    return f"two walls that meet: {', '.join('/'.join(pair) for pair in pairs)}"


def _examine_pitch(reading: PitchReading, shape: Shape, inspection: Inspection, where: Where) -> None:
    hint = f"{shape.called[0].upper()}{shape.called[1:]} has none."
    inspection.expect(bool(shape.slopes), "", "a pitch", "a room with a slope", hint, where)
    inspection.expect(
        not shape.slopes or reading.surface in shape.slopes,
        "",
        f"a pitch of the {reading.surface}",
        f"one of the {' or '.join(shape.slopes)}",
        where=where,
    )
    inspection.expect(
        0 <= reading.pitch_deg <= 89,
        "",
        f"{reading.pitch_deg:g} deg",
        "0 to 89 deg from level",
        "Was it read from plumb? Then take it from 90.",
        where,
    )
