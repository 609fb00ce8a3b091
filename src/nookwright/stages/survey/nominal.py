"""A usual room of each kind, straight and square: where its spots would be, and what would be read there exactly."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from nookwright.stages.inputs.survey import (
    BevelReading,
    LevelReading,
    PitchReading,
    PlumbReading,
    Reading,
    RoomKind,
    Side,
    SurfaceName,
    Survey,
    TapeReading,
)
from nookwright.stages.survey.kinds import AXES, shape_of
from nookwright.stages.survey.walking import apart

Place = tuple[float, float, float]
Top = tuple[float, float]
"""A top surface: its height at x = 0, and its rise towards +x for each millimetre. [mm, mm/mm]"""

LEVEL_LINE_MM = 1000.0
"""Height of the level line above the floor where no top is lower: at the chest. [mm] Common practice, no source."""

LINE_SHARE = 0.6
"""Under a low top the level line stands at this share of its height, so that every top lies above it.
Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Usual:
    """Usual sizes of a kind of room. Common practice, no source.

    Args:
        width_mm, depth_mm: along the back wall, and out to the front spots. [mm]
        top_mm: height of its ceiling, or of its slope at the low side. [mm]
        pitch_deg: of its slope; 0 for a ceiling. [deg]
    """

    width_mm: float
    depth_mm: float
    top_mm: float
    pitch_deg: float = 0.0


USUAL: dict[RoomKind, Usual] = {
    "alcove": Usual(width_mm=1200.0, depth_mm=500.0, top_mm=2400.0),
    "corner-under-slope": Usual(width_mm=1850.0, depth_mm=600.0, top_mm=800.0, pitch_deg=38.0),
    "under-stair": Usual(width_mm=2050.0, depth_mm=800.0, top_mm=430.0, pitch_deg=40.0),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class NominalRoom:
    """A room of a kind with nothing crooked in it.

    Args:
        kind, corner: as in the survey.
        heights_mm: heights of the marked levels. [mm]
        columns: where each column stands on plan. [mm]
        tops: its top surfaces by the letter of their level.
        line_mm: height of the level line above the floor. [mm]
    """

    kind: RoomKind
    corner: Side
    heights_mm: tuple[float, ...]
    columns: dict[str, tuple[float, float]]
    tops: dict[str, Top]
    line_mm: float

    def place(self, spot: str) -> Place:
        """Return where a spot is. [mm]"""
        x, y = self.columns[apart(spot, self.columns)[0]]
        return (x, y, self.height_of(spot))

    def height_of(self, spot: str) -> float:
        """Return how high a spot is above the floor. [mm]"""
        column, level = apart(spot, self.columns)
        if level in self.tops:
            height, rise = self.tops[level]
            return height + rise * self.columns[column][0]
        return 0.0 if level == "0" else self.heights_mm[int(level) - 1]

    def wall_at(self, surface: SurfaceName) -> float:
        """Return where a wall is along its own axis. [mm]"""
        axis = AXES[surface][0]
        shape = shape_of(self.kind, self.corner)
        return next(self.columns[name][axis] for name, column in shape.columns.items() if surface in column.walls)


def nominal_room(
    kind: RoomKind,
    corner: Side,
    heights_mm: tuple[float, ...],
    *,
    width_mm: float | None = None,
    depth_mm: float | None = None,
) -> NominalRoom:
    """Return a usual room of a kind.

    Args:
        kind: the room's kind.
        corner: the side of the slope's wall, or of the stair's low end.
        heights_mm: heights of the marked levels. [mm]
        width_mm, depth_mm: in place of the usual ones. [mm]

    Returns:
        The room.
    """
    usual = USUAL[kind]
    width, depth = width_mm or usual.width_mm, depth_mm or usual.depth_mm
    shape = shape_of(kind, corner)
    columns = {
        name: (width if column.side == "right" else 0.0, -depth if column.front else 0.0)
        for name, column in shape.columns.items()
    }
    rise = math.tan(math.radians(usual.pitch_deg)) * (1 if corner == "left" else -1)
    at_left = usual.top_mm if rise >= 0 else usual.top_mm - rise * width
    letter = "S" if "S" in shape.tops else "T"
    return NominalRoom(
        kind=kind,
        corner=corner,
        heights_mm=heights_mm,
        columns=columns,
        tops={letter: (at_left, rise)},
        line_mm=min(LEVEL_LINE_MM, LINE_SHARE * usual.top_mm),
    )


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
            return replace(reading, length_mm=_length(reading, room))
        case LevelReading():
            return replace(reading, above_mm=room.height_of(reading.spot) - room.line_mm)
        case PlumbReading():
            return replace(reading, into_room_mm=0.0)
        case BevelReading():
            return replace(reading, angle_deg=90.0)
        case PitchReading():
            return replace(reading, pitch_deg=math.degrees(math.atan(abs(room.tops["S"][1]))))


def _length(tape: TapeReading, room: NominalRoom) -> float:
    start = room.place(tape.start)
    shape = shape_of(room.kind, room.corner)
    surface = next((name for name in shape.surfaces + shape.optional if name == tape.end), None)
    if surface is None:
        return math.dist(start, room.place(tape.end))
    if surface == "floor":
        return start[2]
    letter = next((letter for letter, top in shape.tops.items() if top == surface), None)
    if letter is None:
        return abs(start[AXES[surface][0]] - room.wall_at(surface))
    height, rise = room.tops[letter]
    return (height + rise * start[0] - start[2]) / math.hypot(1.0, rise)
