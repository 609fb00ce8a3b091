"""Readings as a person says them: what was read, its value and its unit."""

from __future__ import annotations

from typing import Literal

from nookwright.stages.inputs.survey import (
    BevelReading,
    GapReading,
    LevelReading,
    Line,
    PitchReading,
    PlumbReading,
    Reading,
    TapeReading,
)
from nookwright.stages.survey.lines import WAYS


def told(reading: Reading) -> str:
    """Return a reading as a person would say it, without its value."""
    match reading:
        case TapeReading():
            return f"{'rough' if reading.rough else 'tape'} {reading.start} - {reading.end}"
        case LevelReading():
            return f"level {reading.spot}"
        case PlumbReading():
            return f"plumb {reading.wall} {reading.first} - {reading.second}"
        case BevelReading():
            return f"bevel {reading.walls[0]} - {reading.walls[1]} at level {reading.level}"
        case PitchReading():
            return "pitch" if reading.surface == "slope" else f"pitch {reading.surface}"
        case GapReading():
            comma = "," if reading.line.aside_mm else ""
            at = reading.at_typed or f"{reading.at_mm:g} mm"
            return f"gap {told_line(reading.line)}{comma} at {at}{_laid_again(reading.set_up)}"


def _laid_again(times: int) -> str:
    if times == 1:
        return ""
    return ", edge laid a second time" if times == 2 else f", edge laid for the {times}. time"


def told_line(line: Line) -> str:
    """Return a line on a surface as the field book names it."""
    beside = f", {line.aside_mm:g} mm {line.aside}" if line.aside_mm else ""
    to = line.towards if line.towards in WAYS else f"- {line.towards}"
    return f"{line.surface} {line.start} {to}{beside}"


def unit_of(reading: Reading) -> Literal["mm", "deg"]:
    """Return the unit a reading is kept in."""
    return "deg" if isinstance(reading, (BevelReading, PitchReading)) else "mm"


def value_of(reading: Reading) -> float:
    """Return what was read. [mm or deg]"""
    match reading:
        case TapeReading():
            return reading.length_mm
        case LevelReading():
            return reading.above_mm
        case PlumbReading():
            return reading.into_room_mm
        case BevelReading():
            return reading.angle_deg
        case PitchReading():
            return reading.pitch_deg
        case GapReading():
            return reading.gap_mm
