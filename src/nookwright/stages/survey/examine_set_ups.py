"""Whether readings taken along surfaces can be worked with: straightedges, plumb planes, tapes between two surfaces."""

from __future__ import annotations

from nookwright.basics.lengths import show_limit, show_read
from nookwright.basics.problems import Inspection, Where
from nookwright.stages.inputs.survey import EdgeReading, GapReading, Line, OffsetReading, SpanReading, Survey
from nookwright.stages.survey.lines import WAYS, ways_along
from nookwright.stages.survey.shape import Shape
from nookwright.stages.survey.spoken import told_line
from nookwright.stages.survey.spots import is_spot, nearest_name, spot_called, spot_names

LONGEST_TAPE_MM = 20_000.0
FARTHEST_GAP_MM = 150.0
FARTHEST_OFFSET_MM = 5_000.0
"""Readings beyond these are slips, not rooms. [mm] Common practice, no source."""

MOST_TURN_DEG = 20.0
"""Walls further from parallel than this have no one clear width between them. [deg] Common practice, no source."""

LEAST_EDGE_DEG = 20.0
"""No two surfaces of a room meet more sharply, or more nearly straight. [deg] Common practice, no source."""

LEAST_GAPS = 3
"""A straightedge rests as it pleases: two gaps only say how it lies."""


def examine_spot(name: str, survey: Survey, shape: Shape, inspection: Inspection, where: Where) -> bool:
    """Note a wrong spot name.

    Args:
        name: as typed.
        survey: the field book.
        shape: the room's kind.
        inspection: takes the problem.
        where: where it stands.

    Returns:
        Whether it is right.
    """
    column, level = shape.taken_apart(name)
    last = len(survey.heights_mm)
    if is_spot(column, level, shape, last):
        return True
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
    nearest = nearest_name(name, spot_names(shape, last))
    hint = f"Did you mean {nearest}?" if nearest else f"The columns are {', '.join(shape.columns)}."
    expected = f"a spot of this room, such as {shape.origin} or {shape.frame[1]}1"
    inspection.expect(False, "", f'spot "{name}"', expected, hint, where)
    return False


def examine_along(
    reading: EdgeReading | GapReading | SpanReading | OffsetReading,
    survey: Survey,
    shape: Shape,
    inspection: Inspection,
    where: Where,
) -> None:
    """Note what is wrong with a reading taken along surfaces.

    Args:
        reading: the reading.
        survey: the field book.
        shape: the room's kind.
        inspection: takes the problems.
        where: where the reading stands.
    """
    match reading:
        case EdgeReading():
            _examine_edge(reading, shape, inspection, where)
        case GapReading():
            _examine_gap(reading, survey, shape, inspection, where)
        case SpanReading():
            _examine_span(reading, survey, shape, inspection, where)
        case OffsetReading():
            _examine_offset(reading, survey, shape, inspection, where)


def _examine_gap(reading: GapReading, survey: Survey, shape: Shape, inspection: Inspection, where: Where) -> None:
    """Note what is wrong with a gap under a straightedge."""
    line = reading.line
    if not shape.may_have(line.surface):
        known = ", ".join((*shape.surfaces, *shape.optional))
        inspection.expect(
            False, "", f"a straightedge on the {line.surface}", f"a surface of this room: {known}", where=where
        )
        return
    ends = (line.start,) if line.towards in WAYS else (line.start, line.towards)
    for name in ends:
        if examine_spot(name, survey, shape, inspection, where):
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
    far = show_limit(LONGEST_TAPE_MM, survey.units)
    for value, least, most, expected in (
        (reading.gap_mm, 0.0, FARTHEST_GAP_MM, f"a gap of 0 to {show_limit(FARTHEST_GAP_MM, survey.units)}"),
        (reading.at_mm, 0.0, LONGEST_TAPE_MM, f"a distance of 0 to {far} along the edge"),
        (line.aside_mm, 0.0, LONGEST_TAPE_MM, f"a distance of 0 to {far} beside the spot"),
    ):
        inspection.expect(least <= value <= most, "", show_read(value, survey.units), expected, where=where)


def _examine_span(reading: SpanReading, survey: Survey, shape: Shape, inspection: Inspection, where: Where) -> None:
    """Note what is wrong with a tape between two surfaces."""
    surfaces, far = (reading.first, reading.second), show_limit(LONGEST_TAPE_MM, survey.units)
    found = f"a tape from the {reading.first} to the {reading.second}"
    for surface in surfaces:
        if not shape.may_have(surface):
            known = ", ".join((*shape.surfaces, *shape.optional))
            inspection.expect(False, "", found, f"surfaces of this room: {known}", where=where)
            return
    across = shape.axes(reading.first)[0]
    inspection.expect(_face_each_other(surfaces, shape), "", found, "two surfaces that face each other", where=where)
    examine_spot(reading.start, survey, shape, inspection, where)
    along = reading.aside_mm == 0 or WAYS[reading.aside][0] != across
    way = f"a tape {reading.aside} of its spot, from the {reading.first} to the {reading.second}"
    inspection.expect(along, "", way, "a way that runs along both surfaces", where=where)
    good = 0 <= reading.aside_mm <= LONGEST_TAPE_MM
    inspection.expect(
        good, "", show_read(reading.aside_mm, survey.units), f"a distance of 0 to {far} beside the spot", where=where
    )
    covered = reading.over is None or across != 2
    inspection.expect(covered, "", found, "two walls, when its ends touched skirting or studs", where=where)
    good = 0 < reading.length_mm <= LONGEST_TAPE_MM
    inspection.expect(
        good,
        "",
        show_read(reading.length_mm, survey.units),
        f"a length above {show_read(0.0, survey.units)} and up to {far}",
        where=where,
    )


def _examine_edge(reading: EdgeReading, shape: Shape, inspection: Inspection, where: Where) -> None:
    """Note what is wrong with the angle between two surfaces."""
    first, second = reading.surfaces
    found = f"a bevel between the {first} and the {second}"
    if not (shape.may_have(first) and shape.may_have(second)):
        known = ", ".join((*shape.surfaces, *shape.optional))
        inspection.expect(False, "", found, f"surfaces of this room: {known}", where=where)
        return
    if first in shape.walls and second in shape.walls:
        expected = f"two walls with the level they were read at, such as `{first}/{second} at 1`"
        inspection.expect(False, "", found, expected, where=where)
        return
    apart = first != second and not _face_each_other(reading.surfaces, shape)
    inspection.expect(apart, "", found, "two surfaces that meet in an edge", where=where)
    good = LEAST_EDGE_DEG <= reading.angle_deg <= 180 - LEAST_EDGE_DEG
    inspection.expect(good, "", f"{reading.angle_deg:g} deg", "20 to 160 deg inside the room", where=where)


def _face_each_other(surfaces: tuple[str, str], shape: Shape) -> bool:
    """Return whether a tape can be pulled straight from one surface to the other."""
    first, second = surfaces
    if shape.axes(first) != shape.axes(second) or shape.into_room(first) == shape.into_room(second):
        return False
    turns = [shape.walls[surface].facing_deg for surface in surfaces if surface in shape.walls]
    return not turns or abs(abs(turns[0] - turns[1]) - 180) < MOST_TURN_DEG


def _examine_offset(reading: OffsetReading, survey: Survey, shape: Shape, inspection: Inspection, where: Where) -> None:
    """Note what is wrong with an offset from a plumb line or laser plane."""
    walls = [surface for surface in shape.surfaces if surface in shape.walls]
    found = f"a plumb line before the {reading.wall}"
    inspection.expect(reading.wall in walls, "", found, f"a wall of this room: {' or '.join(walls)}", where=where)
    if examine_spot(reading.spot, survey, shape, inspection, where) and reading.wall in walls:
        expected = f"a spot on the {shape.told(reading.wall)}"
        on_it = reading.wall in spot_called(reading.spot, shape).surfaces
        inspection.expect(on_it, "", f'spot "{reading.spot}"', expected, where=where)
    good = 0 <= reading.offset_mm <= FARTHEST_OFFSET_MM
    inspection.expect(
        good,
        "",
        show_read(reading.offset_mm, survey.units),
        f"an offset of 0 to {show_limit(FARTHEST_OFFSET_MM, survey.units)}",
        where=where,
    )


def examine_set_ups(survey: Survey, inspection: Inspection) -> None:
    """Expect enough readings of each set-up to say more than how it stands.

    Args:
        survey: the field book.
        inspection: takes the problems.
    """
    layings: dict[tuple[Line, int], list[GapReading]] = {}
    planes: dict[tuple[str, int], list[OffsetReading]] = {}
    for reading in survey.readings:
        if isinstance(reading, GapReading):
            layings.setdefault((reading.line, reading.set_up), []).append(reading)
        elif isinstance(reading, OffsetReading):
            planes.setdefault((reading.wall, reading.set_up), []).append(reading)
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
    for (wall, _), offsets in planes.items():
        inspection.expect(
            len({offset.spot for offset in offsets}) >= 2,
            "",
            f"one spot beside the plumb line before the {wall}",
            "offsets of two spots or more, at different heights",
            "One offset only says where the line hangs.",
            offsets[0].where,
        )
