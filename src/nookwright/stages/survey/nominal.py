"""A usual room of each kind, straight and square: where its spots would be, and what would be read there exactly."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from nookwright.stages.inputs.survey import (
    BevelReading,
    EdgeReading,
    GapReading,
    LevelReading,
    OffsetReading,
    PitchReading,
    PlumbReading,
    Reading,
    RoomKind,
    ScaleReading,
    Side,
    SpanReading,
    SurfaceName,
    Survey,
    TapeReading,
)
from nookwright.stages.survey.coverings import BOARD_MM, SKIRTING_MM, ends_moved
from nookwright.stages.survey.kinds import shape_in
from nookwright.stages.survey.lines import WAYS
from nookwright.stages.survey.shape import Shape
from nookwright.stages.survey.spoken import with_value

Plane = tuple[float, float, float]
"""A surface overhead: its height at x = y = 0, and its rises along x and y. [mm, mm/mm]"""

CEILING_MM = 2400.0
"""Height of a usual ceiling. [mm] Common practice, no source."""

SLOPES: dict[RoomKind, tuple[float, float]] = {"under-stair": (430.0, 40.0)}
USUAL_SLOPE = (800.0, 38.0)
"""Height of a slope at its low side, and its pitch; those of a kind where they differ. [mm, deg]
Common practice, no source."""

ANY_OFFSET_MM = 60.0
"""Offset of a plumb plane from a nominal wall; any will do. [mm]"""

LEVEL_LINE_MM = 1000.0
"""Height of the level line above the floor where nothing overhead is lower: the chest. [mm]
Common practice, no source."""

FOUR_CORNERS = ("BL", "BR", "FL", "FR")
"""The columns of a plan that may be as wide and deep as its furniture."""

LINE_SHARE = 0.6
"""Under a low slope the level line stands at this share of its height, so that all of it lies above the line.
Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NominalRoom:
    """A room of a kind with nothing crooked in it.

    Args:
        shape: its walls and columns.
        heights_mm: heights of the marked levels. [mm]
        columns: where each column stands on plan. [mm]
        overhead: slopes and ceiling.
        line_mm: height of the level line above the floor. [mm]
    """

    shape: Shape
    heights_mm: tuple[float, ...]
    columns: dict[str, tuple[float, float]]
    overhead: dict[SurfaceName, Plane]
    line_mm: float

    def place(self, spot: str) -> tuple[float, float, float]:
        """Return where a spot is. [mm]"""
        x, y = self.columns[self.shape.taken_apart(spot)[0]]
        return (x, y, self.height_of(spot))

    def height_of(self, spot: str) -> float:
        """Return how high a spot is above the floor. [mm]"""
        column, level = self.shape.taken_apart(spot)
        if level in self.shape.tops:
            return self.under(self.shape.tops[level], column)
        return 0.0 if level == "0" else self.heights_mm[int(level) - 1]

    def at(self, surface: SurfaceName, place: Sequence[float]) -> float:
        """Return where a surface is along its own axis, beside a place. [mm]"""
        if surface in self.overhead:
            height, along_x, along_y = self.overhead[surface]
            return height + along_x * place[0] + along_y * place[1]
        if surface not in self.shape.walls:
            return 0.0
        wall = self.shape.walls[surface]
        across, along, _ = wall.axes
        end = self.columns[wall.ends[0]]
        return end[across] + wall.tilt * (place[along] - end[along])

    def facing(self, surface: SurfaceName) -> tuple[float, float, float]:
        """Return the direction of length 1 in which a surface faces the room."""
        if surface in self.shape.walls:
            return (*self.shape.walls[surface].facing, 0.0)
        _, along_x, along_y = self.overhead.get(surface, (0.0, 0.0, 0.0))
        length = math.sqrt(1 + along_x**2 + along_y**2)
        sign = self.shape.into_room(surface) / length
        return -sign * along_x, -sign * along_y, sign

    def under(self, surface: SurfaceName, column: str) -> float:
        """Return how high a surface overhead is at a column. [mm]"""
        height, along_x, along_y = self.overhead[surface]
        x, y = self.columns[column]
        return height + along_x * x + along_y * y

    def headroom(self, column: str) -> float:
        """Return how high the lowest surface overhead is at a column. [mm]"""
        return min(self.under(surface, column) for surface in self.overhead)


def nominal_room(survey: Survey, *, width_mm: float | None = None, depth_mm: float | None = None) -> NominalRoom:
    """Return the usual room of a field book's kind.

    Args:
        survey: says which kind, and which heights are marked.
        width_mm, depth_mm: in place of the usual ones, in a plan of four columns whose walls run straight or square
            to the back. [mm]

    Returns:
        The room.
    """
    shape = shape_in(survey)
    columns = {name: column.place for name, column in shape.columns.items()}
    if len(columns) == len(FOUR_CORNERS) and all(wall.tilt == 0 for wall in shape.walls.values()):
        wide = columns[shape.frame[1]][0] - columns[shape.frame[0]][0]
        deep = -min(y for _, y in columns.values())
        across, out = (width_mm or wide) / wide, (depth_mm or deep) / deep
        columns = {name: (across * x, out * y) for name, (x, y) in columns.items()}
    overhead = _overhead(shape, survey.corner, columns)
    room = NominalRoom(
        shape=shape, heights_mm=survey.heights_mm, columns=columns, overhead=overhead, line_mm=LEVEL_LINE_MM
    )
    lowest = min(room.headroom(column) for column in columns)
    return replace(room, line_mm=min(LEVEL_LINE_MM, LINE_SHARE * lowest))


def _overhead(shape: Shape, corner: Side, columns: dict[str, tuple[float, float]]) -> dict[SurfaceName, Plane]:
    """Return the slopes, or where there are none the ceiling."""
    if not shape.slopes:
        return {"ceiling": (CEILING_MM, 0.0, 0.0)}
    low, pitch = SLOPES.get(shape.kind, USUAL_SLOPE)
    found: dict[SurfaceName, Plane] = {}
    for name, slope in shape.slopes.items():
        way = slope.rises or (1 if corner == "left" else -1)  # a slope that may rise either way is low at the corner
        rise = tuple(way * math.tan(math.radians(pitch)) * part for part in slope.rise)
        least = min(rise[0] * x + rise[1] * y for x, y in columns.values())
        found[name] = (low - least, rise[0], rise[1])
    return found


def read_exactly(survey: Survey, room: NominalRoom) -> Survey:
    """Return the field book with every reading as it would be in a nominal room, without any error.

    Args:
        survey: says what is read.
        room: where.

    Returns:
        The same readings with other values.
    """
    return replace(survey, readings=tuple(_exact(reading, room) for reading in survey.readings))


def _exact(reading: Reading, room: NominalRoom) -> Reading:
    match reading:
        case TapeReading():
            value = _length(reading, room) + _covered(reading, room)
        case LevelReading():
            value = room.height_of(reading.spot) - room.line_mm
        case SpanReading():
            value = _span_length(reading, room)
        case OffsetReading():
            value = ANY_OFFSET_MM
        case EdgeReading():
            value = _edge_angle(reading, room)
        case BevelReading():
            value = _angle(reading, room)
        case PitchReading():
            _, along_x, along_y = next(iter(room.overhead.values()))
            value = math.degrees(math.atan(math.hypot(along_x, along_y)))
        case PlumbReading() | GapReading():
            value = 0.0
        case ScaleReading():
            value = reading.mm_per_m
    return with_value(reading, value)


def _length(tape: TapeReading, room: NominalRoom) -> float:
    start = room.place(tape.start)
    if not room.shape.may_have(tape.end):
        return math.dist(start, room.place(tape.end))
    if tape.end in room.overhead:
        height, along_x, along_y = room.overhead[tape.end]
        above = height + along_x * start[0] + along_y * start[1] - start[2]
        return abs(above) / math.sqrt(1 + along_x**2 + along_y**2)
    if tape.end not in room.shape.walls:
        return start[2]
    wall = room.shape.walls[tape.end]
    x, y = room.columns[wall.ends[0]]
    return abs((start[0] - x) * wall.facing[0] + (start[1] - y) * wall.facing[1])


def _covered(tape: TapeReading, room: NominalRoom) -> float:
    """Return what skirting or board of a usual thickness adds to a tape. [mm]"""
    if tape.over is None:
        return 0.0
    usual = {"skirting": SKIRTING_MM, "studs": BOARD_MM}[tape.over]
    moved = ends_moved(tape, room.shape)
    if room.shape.may_have(tape.end):
        return -usual * math.hypot(*moved)
    start, end = room.place(tape.start), room.place(tape.end)
    along = sum(float(push) * (there - here) for push, here, there in zip(moved, start, end, strict=True))
    return usual * along / math.dist(start, end)


def _edge_angle(edge: EdgeReading, room: NominalRoom) -> float:
    first, second = (room.facing(surface) for surface in edge.surfaces)
    cosine = -sum(one * other for one, other in zip(first, second, strict=True))
    return math.degrees(math.acos(cosine))


def _span_length(span: SpanReading, room: NominalRoom) -> float:
    axis, sign = WAYS[span.aside]
    place = list(room.place(span.start))
    place[axis] += sign * span.aside_mm
    covered = {"skirting": -2 * SKIRTING_MM, "studs": 2 * BOARD_MM, None: 0.0}[span.over]
    return abs(room.at(span.second, place) - room.at(span.first, place)) + covered


def _angle(bevel: BevelReading, room: NominalRoom) -> float:
    """Return the angle between two walls inside the room; 90 where the kind has no such corner. [deg]"""
    for corner in room.shape.corners:
        if set(corner.walls) == set(bevel.walls):
            x, y = room.columns[corner.column]
            one, other = (math.atan2(room.columns[arm][1] - y, room.columns[arm][0] - x) for arm in corner.arms)
            turn = math.degrees(abs(one - other)) % 360
            return min(turn, 360 - turn)
    return 90.0
