"""What a field sheet asks, in its order: as a list, as a field book still blank, and as a line for each reading."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from nookwright.stages.inputs.survey import (
    BevelReading,
    EdgeReading,
    GapReading,
    LevelReading,
    OffsetReading,
    PitchReading,
    PlumbReading,
    RoomKind,
    ScaleReading,
    Side,
    SpanReading,
    Survey,
    TapeReading,
)
from nookwright.stages.survey.field_lists import FieldList, ToTake, field_list
from nookwright.stages.survey.free_plan import FREE_PLAN, L_ROOM
from nookwright.stages.survey.kind_table import kind_shape
from nookwright.stages.survey.walking import walking_order


@cache
def sheet_list(kind: RoomKind, corner: Side = "left") -> FieldList:
    """Return what to mark and read in a kind of room, in the order with the least walking.

    Args:
        kind: the room's kind.
        corner: the side of the slope's wall, or of the stair's low end.

    Returns:
        The kind's field list in the order of the field sheet.
    """
    found = field_list(kind, corner)
    columns = {name: column.place for name, column in kind_shape(kind, corner).columns.items()}
    return replace(found, readings=walking_order(found.readings, columns))


ANY_MM, ANY_DEG = 1.0, 60.0
"""Values of readings that were not taken yet. They stand for nothing."""


def blank_survey(kind: RoomKind, corner: Side = "left") -> Survey:
    """Return the field book of a kind of room before anything is read.

    Args:
        kind: the room's kind.
        corner: the side of the slope's wall, or of the stair's low end.

    Returns:
        A reading for each line of the kind's field list in the order of the sheet; their values mean nothing.
    """
    found = sheet_list(kind, corner)
    readings = tuple(_blank(one) for one in found.readings)
    plan = L_ROOM if kind == FREE_PLAN else ()
    return Survey(kind=kind, corner=corner, heights_mm=found.heights_mm, readings=readings, plan=plan)


SpotReading = TapeReading | LevelReading | PlumbReading | BevelReading | PitchReading
"""What a field sheet has boxes for: everything but edges, straightedges, plumb planes and tapes between surfaces."""


def asked(reading: SpotReading, purpose: str = "") -> ToTake:
    """Return what a reading reads, as a line of a field list.

    Args:
        reading: the reading.
        purpose: what it is for.

    Returns:
        The line.
    """
    match reading:
        case TapeReading():
            return ToTake(tool="tape", of=(reading.start, reading.end), purpose=purpose)
        case LevelReading():
            return ToTake(tool="level", of=(reading.spot,), purpose=purpose)
        case PlumbReading():
            return ToTake(tool="plumb", of=(reading.wall, reading.first, reading.second), purpose=purpose)
        case BevelReading():
            side = next((wall for wall in reading.walls if wall != "back"), "back")
            return ToTake(tool="bevel", of=(side, reading.level), purpose=purpose)
        case PitchReading():
            return ToTake(tool="slope", of=(), purpose=purpose)


def spot_readings(survey: Survey) -> tuple[SpotReading, ...]:
    """Return what a field sheet has boxes for, in order; several values on one line of a file are one reading."""
    found: list[SpotReading] = []
    for one in survey.readings:
        again = bool(found) and one.where.line > 0 and one.where.line == found[-1].where.line
        if isinstance(one, EdgeReading | GapReading | SpanReading | OffsetReading | ScaleReading):
            continue
        if not (again and asked(one) == asked(found[-1])):
            found.append(one)
    return tuple(found)


def _blank(one: ToTake) -> SpotReading:
    if one.tool == "tape":
        return TapeReading(start=one.of[0], end=one.of[1], length_mm=ANY_MM)
    if one.tool == "level":
        return LevelReading(spot=one.of[0], above_mm=ANY_MM)
    if one.tool == "plumb":
        return PlumbReading(wall=one.of[0], first=one.of[1], second=one.of[2], into_room_mm=ANY_MM)
    if one.tool == "bevel":
        return BevelReading(walls=("back", one.of[0]), level=one.of[1], angle_deg=ANY_DEG)
    return PitchReading(pitch_deg=ANY_DEG)
