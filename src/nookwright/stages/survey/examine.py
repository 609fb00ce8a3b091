"""Whether the field book can be worked with; every problem is told at once."""

from __future__ import annotations

import math

from nookwright.basics.problems import Inspection, Where
from nookwright.stages.inputs.survey import (
    BevelReading,
    GapReading,
    LevelReading,
    Line,
    PitchReading,
    PlumbReading,
    Reading,
    Survey,
    TapeReading,
)
from nookwright.stages.survey.kinds import shape_in
from nookwright.stages.survey.lines import WAYS, ways_along
from nookwright.stages.survey.shape import Shape
from nookwright.stages.survey.spoken import told_line
from nookwright.stages.survey.spots import nearest_name, spot_called, spot_names

LONGEST_TAPE_MM = 20_000.0
FARTHEST_LEVEL_MM = 5_000.0
FARTHEST_PLUMB_MM = 500.0
FARTHEST_GAP_MM = 150.0
"""Readings beyond these are slips, not rooms. [mm] Common practice, no source."""

LEAST_GAPS = 3
"""A straightedge rests as it pleases: two gaps only say how it lies."""

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
    _examine_heights(survey, inspection)
    shape = shape_in(survey)
    for place, reading in enumerate(survey.readings):
        where = reading.where if str(reading.where) else Where(path=f"readings[{place}]")
        sd = reading.sd_deg if isinstance(reading, (BevelReading, PitchReading)) else reading.sd_mm
        good = sd is None or (sd >= LEAST_SD and math.isfinite(sd))
        inspection.expect(good, "", sd, f"a standard deviation of at least {LEAST_SD:g}", where=where)
        _examine_one(reading, survey, shape, inspection, where)
    _examine_layings(survey, inspection)
    inspection.finish()


def _examine_heights(survey: Survey, inspection: Inspection) -> None:
    below = 0.0
    for place, height in enumerate(survey.heights_mm):
        inspection.expect(
            below < height <= LONGEST_TAPE_MM,
            f"heights[{place}]",
            f"{height:g} mm",
            f"a height above {below:g} mm and up to 20 m",
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
            _examine_spot(reading.spot, survey, shape, inspection, where)
            inspection.expect(
                abs(reading.above_mm) <= FARTHEST_LEVEL_MM,
                "",
                f"{reading.above_mm:g} mm",
                "a spot within 5 m of the level line",
                where=where,
            )
        case PlumbReading():
            _examine_plumb(reading, survey, shape, inspection, where)
        case BevelReading():
            _examine_bevel(reading, survey, shape, inspection, where)
        case PitchReading():
            _examine_pitch(reading, shape, inspection, where)
        case GapReading():
            _examine_gap(reading, survey, shape, inspection, where)


def _examine_spot(name: str, survey: Survey, shape: Shape, inspection: Inspection, where: Where) -> bool:
    """Note a wrong spot name; return whether it is right."""
    names = spot_names(shape, len(survey.heights_mm))
    if name in names:
        return True
    column, level = shape.taken_apart(name)
    last = len(survey.heights_mm)
    if column and level.isdigit() and int(level) > last:
        marked = f"a level from 0 to {last}" if last else "level 0, as no heights are listed"
        inspection.expect(
            False, "", f'spot "{name}"', marked, "Add its height to the list of heights, or mend the name.", where
        )
        return False
    if column and (level.isdigit() or level in shape.tops):
        inspection.expect(
            False,
            "",
            f'spot "{name}"',
            "a spot on a wall, the floor, the slope or the ceiling",
            f"No wall stands at {column} in this room.",
            where,
        )
        return False
    nearest = nearest_name(name, names)
    hint = f"Did you mean {nearest}?" if nearest else f"The columns are {', '.join(shape.columns)}."
    expected = f"a spot of this room, such as {shape.origin} or {shape.frame[1]}1"
    inspection.expect(False, "", f'spot "{name}"', expected, hint, where)
    return False


def _examine_tape(reading: TapeReading, survey: Survey, shape: Shape, inspection: Inspection, where: Where) -> None:
    start_good = _examine_spot(reading.start, survey, shape, inspection, where)
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
        _examine_spot(reading.end, survey, shape, inspection, where)
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
        f"{reading.length_mm:g} mm",
        "a length above 0 mm and up to 20 m",
        "Check the unit the file is written in." if reading.length_mm > LONGEST_TAPE_MM else "",
        where,
    )


def _examine_plumb(reading: PlumbReading, survey: Survey, shape: Shape, inspection: Inspection, where: Where) -> None:
    walls = [surface for surface in shape.surfaces if surface in shape.walls]
    has_wall = reading.wall in walls
    inspection.expect(
        has_wall, "", f"a plumb line on the {reading.wall}", f"a wall of this room: {' or '.join(walls)}", where=where
    )
    for name in (reading.first, reading.second):
        if _examine_spot(name, survey, shape, inspection, where) and has_wall:
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
        f"{reading.into_room_mm:g} mm",
        "an offset between -500 and 500 mm",
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
        0 <= reading.pitch_deg <= 89,
        "",
        f"{reading.pitch_deg:g} deg",
        "0 to 89 deg from level",
        "Was it read from plumb? Then take it from 90.",
        where,
    )


def _examine_gap(reading: GapReading, survey: Survey, shape: Shape, inspection: Inspection, where: Where) -> None:
    line = reading.line
    if not shape.may_have(line.surface):
        known = ", ".join((*shape.surfaces, *shape.optional))
        inspection.expect(
            False, "", f"a straightedge on the {line.surface}", f"a surface of this room: {known}", where=where
        )
        return
    ends = (line.start,) if line.towards in WAYS else (line.start, line.towards)
    for name in ends:
        if _examine_spot(name, survey, shape, inspection, where):
            inspection.expect(
                line.surface in spot_called(name, shape).surfaces,
                "",
                f'spot "{name}"',
                f"a spot on the {line.surface}",
                where=where,
            )
    ways = ways_along(line.surface, shape)
    for way in (line.towards, line.aside if line.aside_mm else ""):
        inspection.expect(
            way not in WAYS or way in ways,
            "",
            f"a straightedge {way} on the {line.surface}",
            f"another spot, or one of {', '.join(ways)}",
            where=where,
        )
    found = f"a straightedge from {line.start} to {line.towards}"
    inspection.expect(line.start != line.towards, "", found, "two different spots", where=where)
    for value, least, most, expected in (
        (reading.gap_mm, 0.0, FARTHEST_GAP_MM, f"a gap of 0 to {FARTHEST_GAP_MM:g} mm"),
        (reading.at_mm, 0.0, LONGEST_TAPE_MM, "a distance of 0 to 20 m along the edge"),
        (line.aside_mm, 0.0, LONGEST_TAPE_MM, "a distance of 0 to 20 m beside the spot"),
    ):
        inspection.expect(least <= value <= most, "", f"{value:g} mm", expected, where=where)


def _examine_layings(survey: Survey, inspection: Inspection) -> None:
    """Expect enough gaps under each laying of a straightedge."""
    layings: dict[tuple[Line, int], list[GapReading]] = {}
    for reading in survey.readings:
        if isinstance(reading, GapReading):
            layings.setdefault((reading.line, reading.set_up), []).append(reading)
    for (line, _), gaps in layings.items():
        places = len({gap.at_mm for gap in gaps})
        inspection.expect(
            places >= LEAST_GAPS,
            "",
            f"{places} place{'s' if places > 1 else ''} along the edge {told_line(line)}",
            f"gaps at {LEAST_GAPS} places or more",
            "The edge lies as it pleases: two gaps only say how.",
            gaps[0].where,
        )
