"""The lines of a field sheet to write on: each reading with its number, its spots, and boxes for a pencil."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from nookwright.basics.lengths import Marks, Units, show
from nookwright.drawings.lettering import NOTES_MM, true_fractions, width_mm
from nookwright.drawings.page import Area, Circle, Item, Items, Shape, Text
from nookwright.stages.inputs.survey import LevelReading, PlumbReading, Survey
from nookwright.stages.room.forecast import Forecast
from nookwright.stages.survey.asked import SpotReading, asked, spot_readings
from nookwright.stages.survey.field_lists import ToTake, field_list
from nookwright.stages.survey.kinds import shape_in
from nookwright.stages.survey.shape import Shape as RoomShape
from nookwright.stages.survey.walking import SLANTING, TOOLS, apart, hook_ends, slants, station

HEAD_MM, NOTE_MM = 7.2, 3.8
"""Height of the heading over the lines of one station, and of a note under that. Our choice."""

BETWEEN_MM = 1.8
"""From the box of one line to the next. Our choice."""

BOX_MM, SECOND_MM, HIGH_MM = 29.0, 15.0, 7.0
"""Boxes that a pencil fills in a hurry. Our choice."""

MINUS = "\u2212"


@dataclass(frozen=True, slots=True, kw_only=True)
class ToWrite:
    """One reading to write down.

    Args:
        number: its place in the room file, from 1.
        reading: the reading.
        level: the level of the spot or spots it reads.
        purpose: what it is for; may be empty.
        hook: the column where the tape's hook lies; empty for other tools.
        on: the surface that a level or a plumb line reads, in words; empty for other tools.
        twice: whether it is worth reading twice.
    """

    number: int
    reading: SpotReading
    level: str
    purpose: str
    hook: str
    on: str
    twice: bool


Station = tuple[str, str, tuple[ToWrite, ...]]
"""Readings taken in one go: a heading, a note on how, the readings."""


def stations(survey: Survey, found: Forecast, marks: Marks) -> tuple[Station, ...]:
    """Return the readings in the order of the room file, parted where tool or level change.

    Args:
        survey: the field book, still blank.
        found: what it will tell.
        marks: the reader's units.

    Returns:
        The stations in order.
    """
    readings = spot_readings(survey)
    lines = [asked(reading) for reading in readings]
    purposes = _purposes(lines, field_list(survey.kind, survey.corner).readings)
    hooks = hook_ends(lines, found.room.columns)
    parts: list[tuple[tuple[int, str], list[ToWrite]]] = []
    for place, (line, reading) in enumerate(zip(lines, readings, strict=True)):
        one = ToWrite(
            number=place + 1,
            reading=reading,
            level=apart(line.of[0], found.room.columns)[1] if line.tool in ("level", "tape") else "",
            purpose=purposes[place],
            hook=hooks[place],
            on=_surface_of(reading, found.room.shape),
            twice=found.twice[place],
        )
        where = station(line, found.room.columns)
        if not parts or parts[-1][0] != where:
            parts.append((where, []))
        parts[-1][1].append(one)
    found_parts: list[Station] = []
    for where, ones in parts:
        rising = any(slants(asked(one.reading), found.room.columns) for one in ones)
        heading, note = _headed(*where, survey, marks, rising=rising)
        said = any(note == other for _, other, _ in found_parts)
        found_parts.append((heading, "" if said else note, tuple(ones)))
    return tuple(found_parts)


def _purposes(lines: Sequence[ToTake], listed: Sequence[ToTake]) -> list[str]:
    """Return what each line is for; a reading listed twice has a purpose of its own each time."""
    left = list(listed)
    found = []
    for line in lines:
        one = next((one for one in left if one.text == line.text), None)
        found.append(one.purpose if one else "")
        if one:
            left.remove(one)
    return found


def _surface_of(reading: SpotReading, shape: RoomShape) -> str:
    """Return the surface that a level or a plumb line reads."""
    if isinstance(reading, PlumbReading):
        return shape.told(reading.wall)
    if isinstance(reading, LevelReading):
        level = shape.taken_apart(reading.spot)[1]
        return "floor" if level == "0" else shape.tops.get(level, "")
    return ""


def height_of(parts: Sequence[Station], row_mm: float) -> float:
    """Return how much paper stations take one above the other, with lines of a height. [mm]"""
    return sum(_head_mm(note) + row_mm * len(ones) for _, note, ones in parts)


def _head_mm(note: str) -> float:
    return HEAD_MM + (NOTE_MM if note else 0.0)


def in_two(parts: Sequence[Station], row_mm: float) -> tuple[tuple[Station, ...], tuple[Station, ...]]:
    """Return the stations in two columns as equal as can be; one may go on in the second column.

    Args:
        parts: the stations in order.
        row_mm: height of a line. [mm]

    Returns:
        Both columns.
    """
    ways = [_parted(parts, count) for count in range(1, 1 + sum(len(ones) for _, _, ones in parts))]
    return min(ways, key=lambda way: max(height_of(column, row_mm) for column in way))


def _parted(parts: Sequence[Station], count: int) -> tuple[tuple[Station, ...], tuple[Station, ...]]:
    """Return the stations parted after so many lines."""
    left: list[Station] = []
    right: list[Station] = []
    for heading, note, ones in parts:
        here, rest = ones[:count], ones[count:]
        count -= len(here)
        if here:
            left.append((heading, note, here))
        if rest:
            right.append((f"{heading}, on" if here else heading, "" if here else note, rest))
    return tuple(left), tuple(right)


def lay_station(part: Station, area: Area, row_mm: float, units: Units) -> Items:
    """Return a station's heading and lines at the top of an area.

    Args:
        part: the station.
        area: the paper it may take.
        row_mm: height of a line. [mm]
        units: what lengths are written in.
    """
    heading, note, ones = part
    items: list[Item] = [Text(at=(area.x, area.y + 4.8), text=true_fractions(heading), height_mm=3.5, bold=True)]
    if note:
        items.append(Text(at=(area.x, area.y + 9.0), text=true_fractions(note), height_mm=NOTES_MM))
    for i, one in enumerate(ones):
        line = area.inset(top=_head_mm(note) + i * row_mm)
        items.extend(_line(one, replace(line, height=row_mm - BETWEEN_MM), units))
    return tuple(items)


_HEADS = {
    "level": ("Level: from the spot to the level line", "the tape's end on the spot, held plumb; read at the line"),
    "plumb": ("Plumb: gap below less gap above", "from the line to the wall; below 0 where it is wider above"),
    "bevel": ("Bevel, into the corner", "the angle inside the room, in degrees"),
    "slope": ("Slope", "its angle from level along the back wall, in degrees"),
}
"""Headings of the tools but the tape, and how they are read."""


def _headed(tool: int, level: str, survey: Survey, marks: Marks, *, rising: bool) -> tuple[str, str]:
    """Return a station's heading, and how its readings are taken; rising are tapes that leave their level."""
    if TOOLS[tool] == "tape" and level == SLANTING:
        return "Tape from slope to slope", "pulled tight from mark to mark"
    if TOOLS[tool] == "tape":
        if rising:
            at = _at_level(level, survey, marks, on="from", at="from")
            return f"Tape {at}", "from mark to mark; where it rises, hook at the lower one"
        return f"Tape {_at_level(level, survey, marks)}", "pulled tight from mark to mark"
    return _HEADS[TOOLS[tool]]


def _at_level(level: str, survey: Survey, marks: Marks, *, on: str = "on", at: str = "at") -> str:
    tops = shape_in(survey).tops
    if level == "0":
        return f"{on} the floor"
    if level.isdigit() and int(level) <= len(survey.heights_mm):
        return f"{at} level {level}, {show(survey.heights_mm[int(level) - 1], marks, with_unit=True)} up"
    return f"along the {tops[level]}" if level in tops else f"{at} level {level}"


def _line(one: ToWrite, area: Area, units: Units) -> Items:
    """Return one reading's line: number in a ring, spots, boxes."""
    y = area.y + area.height / 2
    line = asked(one.reading)
    spots = " – ".join(line.of[-2:]) if line.tool in ("plumb", "tape") else line.text
    items: list[Item] = [
        Circle(centre=(area.x + 3.4, y), radius=3.2),
        Text(at=(area.x + 3.4, y + 1.25), text=str(one.number), height_mm=NOTES_MM, anchor="middle", bold=True),
        Text(at=(area.x + 8.2, y + 0.2), text=spots, height_mm=3.5, bold=True),
    ]
    boxes = _boxes(one, area, units)
    left = min(x for item in boxes if isinstance(item, Shape) for x, _ in item.points)
    note = _note(one, left - area.x - 9.2)
    if note:
        items.append(Text(at=(area.x + 8.2, y + 3.9), text=note, height_mm=NOTES_MM))
    return (*items, *boxes)


def _note(one: ToWrite, limit_mm: float) -> str:
    """Return what helps with a reading, in as few words as fit."""
    if one.hook:
        told = f"hook at {one.hook}; {one.purpose.partition(',')[0]}"
        return told if one.purpose and width_mm(told, NOTES_MM) <= limit_mm else f"hook at {one.hook}"
    if isinstance(one.reading, LevelReading):
        return one.on
    if one.on:
        told = f"{one.on}, twice"
        return told if one.twice and width_mm(told, NOTES_MM) <= limit_mm else one.on
    return ""


def _boxes(one: ToWrite, area: Area, units: Units) -> Items:
    """Return the boxes of a line, from the right: the value, and where it is worth it a second reading or two gaps."""
    top, right, high = area.y, area.right, area.height
    unit = "deg" if asked(one.reading).tool in ("bevel", "slope") else "in" if units == "inch" else "mm"
    if isinstance(one.reading, PlumbReading):
        return _gaps(right, top, high, unit)
    sign = ""
    if isinstance(one.reading, LevelReading):
        sign = MINUS if one.level == "0" else "+"
    x = right - BOX_MM
    items: list[Item] = []
    if one.twice:
        items.extend(box(right - SECOND_MM, top, SECOND_MM, unit="again", high=high))
        x -= SECOND_MM + 1.5
    items.extend(box(x, top, BOX_MM, unit=unit, sign=sign, high=high))
    return tuple(items)


def _gaps(right: float, top: float, high: float, unit: str) -> Items:
    """Return the boxes of a plumb reading: gap below, gap above, and their difference."""
    value, gap = 19.0, 13.0
    x = right - value
    items: list[Item] = [*box(x, top, value, unit=unit, high=high)]
    items.append(Text(at=(x - 2.0, top + high / 2 + 1.5), text="=", height_mm=3.5, anchor="middle"))
    items.extend(box(x - 4.0 - gap, top, gap, unit="above", high=high))
    items.append(Text(at=(x - 6.0 - gap, top + high / 2 + 1.5), text=MINUS, height_mm=3.5, anchor="middle"))
    items.extend(box(x - 8.0 - 2 * gap, top, gap, unit="below", high=high))
    return tuple(items)


def box(x: float, top: float, width: float, *, unit: str = "", sign: str = "", high: float = HIGH_MM) -> Items:
    """Return a box to write in, its unit small in its lower right corner and its sign at the left.

    Args:
        x, top: its upper left corner. [mm]
        width, high: its size. [mm]
        unit: what is written in it.
        sign: printed before what is written.
    """
    outline = Shape(points=((x, top), (x + width, top), (x + width, top + high), (x, top + high)))
    items: list[Item] = [outline]
    if unit:
        items.append(
            Text(at=(x + width - 0.9, top + high - 1.0), text=unit, height_mm=NOTES_MM, anchor="end", ink="grey")
        )
    if sign:
        items.append(Text(at=(x + 1.4, top + high / 2 + 1.7), text=sign, height_mm=3.5, bold=True))
    return tuple(items)


def labelled_box(words: str, x: float, top: float, width: float, *, unit: str = "") -> tuple[Items, float]:
    """Return words with a box behind them, and where the next may begin. [mm]"""
    start = x + width_mm(words, 3.5) + 2.0
    items = (Text(at=(x, top + 5.0), text=words, height_mm=3.5), *box(start, top, width, unit=unit, high=7.0))
    return items, start + width + 4.0
