"""What `nookwright survey` prints before the room is measured: where the field sheet is, and what it will tell."""

from __future__ import annotations

import math
import sys
from textwrap import wrap
from typing import TYPE_CHECKING

from nookwright.basics.lengths import RATE_UNITS, Marks, show_fine, show_rate

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.jobs import FieldSheet
    from nookwright.stages.room.forecast import Spread

WIDE = 100
"""Widest line printed."""

ROUND_MIN = 5
"""Minutes are told in steps of so many."""


def say_field_sheet(sheet: FieldSheet, folder: Path) -> None:
    """Print where the sheet is, how long its readings take, and how surely they will settle the room."""
    found, marks = sheet.forecast, sheet.marks
    minutes = ROUND_MIN * math.ceil(found.minutes / ROUND_MIN)
    said = sys.stdout.write
    if sheet.missing == sheet.readings:
        said("Nothing is read yet.\n")
    said(f"Field sheet to take to the room: {sheet.file}, {sheet.pages} pages\n")
    said(f"  {sheet.readings} readings, about {minutes} minutes with the marking; alone the first time, twice that\n")
    said("  They will tell, in 19 rooms of 20 to within:\n")
    spreads = (*found.spreads, *found.furniture)
    width = max(len(one.what) for one in spreads)
    for one in spreads:
        said(f"    {one.what:<{width}}  +- {spread(one, marks)}\n")
    twice = [number for number, again in enumerate(found.twice, start=1) if again]
    if twice:
        seldom = f"  Hardly anything checks {_listed(twice)}: the sheet has a second box for a second look."
        said("\n".join(wrap(seldom, WIDE, subsequent_indent="    ")) + "\n")
    said(f"Write the readings into room.yaml, its lines have the same numbers; then: nookwright survey {folder}\n")


def say_missing(folder: Path, missing: int, named: int) -> None:
    """Print on stderr what to do about readings that are still missing."""
    sys.stderr.write(
        f"{named - missing} of {named} readings are in. Take the rest, or take their lines out of room.yaml:\n"
        "the room is worked out once nothing it names is blank.\n"
        f"To print the field sheet again: nookwright survey {folder} --sheet\n"
    )


def spread(one: Spread, marks: Marks) -> str:
    """Return twice the standard deviation, with its unit."""
    if one.unit == "mm/m":
        return f"{show_rate(2 * one.sd, marks.units)} {RATE_UNITS[marks.units]}"
    return show_fine(2 * one.sd, marks) if one.unit == "mm" else f"{2 * one.sd:.1f} {one.unit}"


def _listed(numbers: list[int]) -> str:
    """Return `reading 5`, or `readings 5, 6 and 24`."""
    if len(numbers) == 1:
        return f"reading {numbers[0]}"
    return f"readings {', '.join(map(str, numbers[:-1]))} and {numbers[-1]}"
