"""What `nookwright survey` prints: the room, the readings that look like slips, and what to measure next."""

from __future__ import annotations

import math
import sys
from collections import Counter
from textwrap import wrap
from typing import TYPE_CHECKING, Literal

from nookwright.basics.lengths import RATE_UNITS, Marks, show, show_fine, show_rate
from nookwright.stages.survey.kinds import shape_in

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.basics.measured import Measured
    from nookwright.jobs import Surveyed
    from nookwright.stages.room.advice import NextReading
    from nookwright.stages.room.room import Derived, LeftOut, ReadingFit, Room, Slip

Unit = Literal["mm", "deg", "mm/m"]

WIDE = 100
"""Widest line printed."""

HARDLY_MM = 25.0
"""A reading in which an inch would not show is hardly checked. [mm] Common practice, no source."""


def say_room(surveyed: Surveyed) -> None:
    """Print what to look at first, what to measure next, then the room with each figure's spread."""
    room, marks = surveyed.room, surveyed.marks
    parts = (
        _suspects(room, marks),
        _open(room),
        _next(surveyed.next_readings, marks),
        _left_out(room.left_out, marks),
        _shape(room, marks),
        _behind_wall(room, marks),
        _scans(room),
        _readings(room, marks),
    )
    said = ["\n".join(map(_folded, lines)) for lines in map(tuple, parts) if lines]
    sys.stdout.write("\n\n".join(said) + "\n")


def _folded(line: str) -> str:
    """Return a line with what does not fit on the terminal below it, further in."""
    indent = " " * (len(line) - len(line.lstrip()) + 5)
    return line if len(line) <= WIDE else "\n".join(wrap(line, WIDE, subsequent_indent=indent))


def _shape(room: Room, marks: Marks) -> Iterator[str]:
    yield f"The room as measured, in {marks.units}; the spread is twice the standard deviation"
    levels = ", ".join(f"{i} at {show(height, marks)}" for i, height in enumerate(room.survey.heights_mm, start=1))
    if levels:
        yield f"  levels above the floor at {room.datum}: {levels}"
    width = max(len(each.name) for each in room.derived)
    for each in room.derived:
        yield f"  {each.name:<{width}}  {_derived(each, marks)}"
    given = show_fine(room.survey.tools.waviness_mm, marks)
    shown = "taken as certain" if room.survey.tools.waviness_fixed else f"as the readings show; {given} was given"
    yield f"  {'waviness of the surfaces':<{width}}  {show_fine(room.waviness_mm, marks)}, {shown}"


def _behind_wall(room: Room, marks: Marks) -> Iterator[str]:
    """Give studs that were found by their edges, and outlets measured from two references."""
    studs = room.studs if room.survey.wall.stud_readings else ()
    if studs or room.outlets:
        yield "Behind and in the back wall"
    for stud in studs:
        odd = ""
        if stud.wide_mm is not None:
            odd = f"; its edges are {show(stud.wide_mm, marks)} apart: two studs, or an edge found wrong"
        yield f"  centre of stud {stud.number} from the left end  {_short(stud.centre, 'mm', marks)}{odd}"
    for fix in room.outlets:
        pairs = (("from the wall's two ends", fix.along_off), ("from floor and mark", fix.above_off))
        said = [f"{where} {show(abs(off.value), marks)} apart" for where, off in pairs if off is not None]
        yield f"  {fix.name}: {', '.join(said)}{'; measure it again' if fix.disagrees else ''}"


def _derived(each: Derived, marks: Marks) -> str:
    """Return a figure with its spread, or that it is not fixed; inch readers know a pitch by its rise in 12."""
    if not each.fixed:
        return "not fixed"
    rise = ""
    if marks.units == "inch" and each.name.endswith("pitch"):
        rise = f", {12 * math.tan(math.radians(each.measured.value)):.1f} in 12"
    return figure(each.measured, each.unit, marks) + rise


def figure(measured: Measured, unit: Unit, marks: Marks) -> str:
    """Return a value with twice its standard deviation.

    Args:
        measured: the value.
        unit: its unit.
        marks: the reader's units.
    """
    if unit == "mm":
        spread = show(2 * measured.sd, marks, way="up")
        return f"{show(measured.value, marks):>10} +- {spread} {marks.units}"
    if unit == "mm/m":
        value, spread = (show_rate(each, marks.units) for each in (measured.value, 2 * measured.sd))
        return f"{value:>10} +- {spread} {RATE_UNITS[marks.units]}"
    return f"{measured.value + 0.0:10.1f} +- {2 * measured.sd:.1f} {unit}"


def _short(measured: Measured, unit: Unit, marks: Marks) -> str:
    """Return a value with its spread, without the spaces that columns need."""
    return figure(measured, unit, marks).strip()


def _read(value: float, unit: Unit, marks: Marks) -> str:
    if unit == "mm/m":
        return show_rate(value, marks.units)
    return show(value, marks) if unit == "mm" else f"{value:.1f}"


def _suspects(room: Room, marks: Marks) -> Iterator[str]:
    suspects = [place for place, fit in enumerate(room.fits) if fit.suspect]
    if suspects:
        yield "Readings that look like slips; measure them again. They still count: `use: no` leaves one out"
    elif room.global_test.passed:
        yield "Nothing looks like a slip"
    else:
        yield "No single reading looks like a slip, but all together they disagree more than their tools promise."
        yield "  Is the tape, the level or the plumb line worse than `tools` in room.yaml says?"
    counted = room.survey.counted.readings
    for place in suspects:
        fit, line = room.fits[place], counted[place].where.line
        there = f" (room.yaml, line {line})" if line else ""
        read = _read(fit.read, fit.unit, marks)
        if fit.slip is None:
            yield f"  {fit.text}{there}: read {read}, the others say {_read(fit.adjusted, fit.unit, marks)}"
        else:
            yield from _slip(fit, fit.slip, there, read, marks)


def _slip(fit: ReadingFit, slip: Slip, there: str, read: str, marks: Marks) -> Iterator[str]:
    says = slip.says(fit.read)
    way = "more" if slip.error.value > 0 else "less"
    off = _read(abs(slip.error.value), fit.unit, marks)
    yield f"  {fit.text}{there}: read {read}"
    yield f"    the others say {_short(says, fit.unit, marks)}: it is {off} {way} than they say"
    if slip.likely:
        yield f"    it looks like: {', or '.join(slip.likely)}"
    if slip.or_else:
        yield f"    or else it is: {', or '.join(slip.or_else)}"
    for effect in slip.effects:
        with_it, without = (_short(each, effect.unit, marks) for each in (effect.with_it, effect.without_it))
        yield f"    {effect.name}: {with_it} with it, {without} without it"


def _left_out(readings: tuple[LeftOut, ...], marks: Marks) -> Iterator[str]:
    if readings:
        yield "Left out by you"
    for each in readings:
        says = "the room says nothing of it"
        if each.says is not None:
            says = f"the room says {_short(each.says, each.unit, marks)}"
        yield f"  {each.text}: read {_read(each.read, each.unit, marks)}, {says}"


def _open(room: Room) -> Iterator[str]:
    if room.doubts:
        yield "May be the other way round"
    yield from (f"  {doubt}" for doubt in room.doubts)
    advice = sorted({each.advice for each in room.derived if not each.fixed and each.advice})
    if advice:
        yield "Not fixed by what was measured"
    for text in advice:
        yield f"  {text}"


def _scans(room: Room) -> Iterator[str]:
    """Give which surfaces each scan shows, and which it does not."""
    scans = [scan for scan in room.survey.scans if scan.use]
    told = shape_in(room.survey).told
    if scans:
        yield "What the scans show, in pieces of each surface"
    for scan in scans:
        pieces = Counter(patch.surface for patch in scan.patches)
        seen = ", ".join(f"{told(surface)} {pieces[surface]}" for surface in room.surfaces if surface in pieces)
        missing = ", ".join(told(surface) for surface in room.surfaces if surface not in pieces)
        yield f"  {scan.name}: {seen}" + (f"; nothing of the {missing}" if missing else "")


def _readings(room: Room, marks: Marks) -> Iterator[str]:
    """Give how great a slip would show in each tool's readings, and which readings hardly anything checks."""
    yield "How well the readings check each other: a slip of at least so much would show"
    sizes: dict[str, list[float]] = {}
    loose: list[str] = []
    for fit in room.fits:
        if fit.findable is None or (fit.unit == "mm" and fit.findable > HARDLY_MM):
            loose.append(fit.text)
        else:
            sizes.setdefault(fit.text.partition(" ")[0], []).append(fit.findable)
    width = max(map(len, (*sizes, "hardly checked")))
    for tool, found in sizes.items():
        unit = next(fit.unit for fit in room.fits if fit.text.partition(" ")[0] == tool)
        least, most = (
            show_fine(size, marks) if unit == "mm" else _short_size(size, unit, marks)
            for size in (min(found), max(found))
        )
        yield f"  {tool:<{width}}  {least}" + (f" to {most}, by reading" if least != most else "")
    if loose:
        yield from wrap(
            ", ".join(loose),
            WIDE,
            initial_indent=f"  {'hardly checked':<{width}}  ",
            subsequent_indent=" " * (width + 4),
        )
        yield f"  {'':<{width}}  a second look at these is all that would show a slip"


def _short_size(size: float, unit: Unit, marks: Marks) -> str:
    return f"{show_rate(size, marks.units)} {RATE_UNITS[marks.units]}" if unit == "mm/m" else f"{size:.1f} {unit}"


def _next(readings: tuple[NextReading, ...], marks: Marks) -> Iterator[str]:
    if readings:
        yield "Measure next"
    for number, each in enumerate(readings, start=1):
        again = " again" if each.again else ""
        mark = "" if each.mark_mm is None else f", marked new at {show(each.mark_mm, marks)} {marks.units}"
        yield f"  {number}. {each.text}{again}{mark}: {_saves(each, marks)} ({each.minutes:.1f} min)"


def _saves(each: NextReading, marks: Marks) -> str:
    """Return what a reading saves, as twice the standard deviation before and after it."""
    if each.tells:
        return f"tells which of {len(each.tells)} suspects is the slip"
    if not each.saves:
        return "it looks like a slip"
    after = show_fine(2 * each.after_mm, marks)
    if each.before_mm is None:
        return f"fixes {each.saves}, to +- {after}"
    return f"{each.saves} from +- {show_fine(2 * each.before_mm, marks)} to +- {after}"
