"""Readings as a person says them: what was read, its value and its unit."""

from __future__ import annotations

from typing import Literal

from nookwright.stages.inputs.survey import BevelReading, LevelReading, PitchReading, PlumbReading, Reading, TapeReading


def told(reading: Reading) -> str:
    """Return a reading as a person would say it, without its value."""
    match reading:
        case TapeReading():
            return f"tape {reading.start} - {reading.end}"
        case LevelReading():
            return f"level {reading.spot}"
        case PlumbReading():
            return f"plumb {reading.wall} {reading.first} - {reading.second}"
        case BevelReading():
            return f"bevel {reading.walls[0]} - {reading.walls[1]} at level {reading.level}"
        case PitchReading():
            return "pitch"


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
