"""Readings as a person says them: what was read, its value and its unit."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, Literal

from nookwright.stages.inputs.survey import (
    BevelReading,
    Covering,
    EdgeReading,
    GapReading,
    LevelReading,
    Line,
    OffsetReading,
    PitchReading,
    PlumbReading,
    Reading,
    ScaleReading,
    SpanReading,
    TapeReading,
)
from nookwright.stages.survey.lines import WAYS

_OVER: dict[Covering | None, str] = {"skirting": " over skirting", "studs": " to studs", None: ""}


def told(reading: Reading) -> str:
    """Return a reading as a person would say it, without its value."""
    match reading:
        case TapeReading():
            return f"{'rough' if reading.rough else 'tape'} {reading.start} - {reading.end}{_OVER[reading.over]}"
        case LevelReading():
            return f"level {reading.spot}"
        case PlumbReading():
            return f"plumb {reading.wall} {reading.first} - {reading.second}"
        case BevelReading():
            return f"bevel {reading.walls[0]} - {reading.walls[1]} at level {reading.level}"
        case PitchReading():
            return "pitch" if reading.surface == "slope" else f"{reading.surface} pitch"
        case _:
            return _told_of_surfaces(reading)


def _told_of_surfaces(reading: EdgeReading | GapReading | SpanReading | OffsetReading | ScaleReading) -> str:
    match reading:
        case EdgeReading():
            return f"bevel {reading.surfaces[0]} - {reading.surfaces[1]}"
        case GapReading():
            comma = "," if reading.line.aside_mm else ""
            at = reading.at_typed or f"{reading.at_mm:g} mm"
            return f"gap {told_line(reading.line)}{comma} at {at}{_laid_again(reading.set_up)}"
        case SpanReading():
            beside = (
                f", {reading.aside_typed or f'{reading.aside_mm:g} mm'} {reading.aside}" if reading.aside_mm else ""
            )
            return f"tape {reading.first} - {reading.second} at {reading.start}{beside}{_OVER[reading.over]}"
        case OffsetReading():
            again = f", set-up {reading.set_up}" if reading.set_up > 1 else ""
            return f"offset {reading.wall} {reading.spot}{again}"
        case ScaleReading():
            return f"scale of scan {reading.scan}"


def _laid_again(times: int) -> str:
    if times == 1:
        return ""
    return ", edge laid a second time" if times == 2 else f", edge laid for the {times}. time"


def told_line(line: Line) -> str:
    """Return a line on a surface as the field book names it."""
    beside = f", {line.aside_typed or f'{line.aside_mm:g} mm'} {line.aside}" if line.aside_mm else ""
    to = line.towards if line.towards in WAYS else f"- {line.towards}"
    return f"{line.surface} {line.start} {to}{beside}"


def unit_of(reading: Reading) -> Literal["mm", "deg", "mm/m"]:
    """Return the unit a reading is kept in."""
    if isinstance(reading, ScaleReading):
        return "mm/m"
    return "deg" if isinstance(reading, (BevelReading, EdgeReading, PitchReading)) else "mm"


def spread_of(reading: Reading) -> float | None:
    """Return the reading's own standard deviation; None when it has its tool's. [mm, deg or mm/m]"""
    match reading:
        case BevelReading() | EdgeReading() | PitchReading():
            return reading.sd_deg
        case ScaleReading():
            return reading.sd_mm_per_m
        case _:
            return reading.sd_mm


def value_of(reading: Reading) -> float:
    """Return what was read. [mm, deg or mm/m]"""
    return float(getattr(reading, VALUE_KEYS[type(reading)]))


VALUE_KEYS: dict[type[Reading], str] = {
    TapeReading: "length_mm",
    LevelReading: "above_mm",
    PlumbReading: "into_room_mm",
    BevelReading: "angle_deg",
    PitchReading: "pitch_deg",
    EdgeReading: "angle_deg",
    GapReading: "gap_mm",
    SpanReading: "length_mm",
    OffsetReading: "offset_mm",
    ScaleReading: "mm_per_m",
}
"""For each kind of reading, the name of what was read."""


def with_value(reading: Reading, value: float) -> Reading:
    """Return the same reading had this been read. [mm or deg]"""
    change: dict[str, Any] = {VALUE_KEYS[type(reading)]: value}
    return replace(reading, **change)
