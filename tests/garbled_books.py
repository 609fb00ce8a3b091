"""Field books as careless people, broken files and mischief leave them: right books with things done to them."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable, Sequence

import numpy as np

from nookwright.stages.inputs.survey import (
    BevelReading,
    EdgeReading,
    GapReading,
    LevelReading,
    Line,
    OffsetReading,
    PitchReading,
    PlumbReading,
    Reading,
    RoomKind,
    SpanReading,
    Survey,
    TapeReading,
)

Chance = np.random.Generator
KINDS: tuple[RoomKind, ...] = ("alcove", "corner-under-slope", "under-stair")
NAMES = (
    *(column + level for column in ("BL", "BR", "FL", "FR") for level in ("0", "1", "2", "3", "S", "T")),
    *("back", "left", "right", "floor", "slope", "ceiling"),
    *("", "BL", "bl0", "BL99", "XX1", "back ", "BL-1", "ÄÖ1"),
)
ODD_VALUES = (0.0, -1.0, 1e-9, 1.0, 25.4, 500.0, 19_999.0, 1e9, -1e9, math.nan, math.inf, -math.inf)


def garbled(survey: Survey, chance: Chance) -> Survey:
    """Return a field book with one to four random things done to it.

    Args:
        survey: a right one.
        chance: where the randomness comes from.
    """
    for _ in range(int(chance.integers(1, 5))):
        survey = _DEEDS[int(chance.integers(len(_DEEDS)))](survey, chance)
    return survey


def _some(readings: Sequence[Reading], chance: Chance) -> int:
    return int(chance.integers(len(readings)))


def _pick(names: Sequence[str], chance: Chance) -> str:
    return names[int(chance.integers(len(names)))]


def _with(survey: Survey, readings: Sequence[Reading]) -> Survey:
    return dataclasses.replace(survey, readings=tuple(readings))


def _drop(survey: Survey, chance: Chance) -> Survey:
    keep = chance.uniform() < 0.5
    share = 0.9 if keep else chance.uniform(0, 1)
    return _with(survey, [one for one in survey.readings if chance.uniform() < share])


def _repeat(survey: Survey, chance: Chance) -> Survey:
    if not survey.readings:
        return survey
    return _with(survey, [*survey.readings, survey.readings[_some(survey.readings, chance)]])


def _shuffle(survey: Survey, chance: Chance) -> Survey:
    return _with(survey, [survey.readings[i] for i in chance.permutation(len(survey.readings))])


def _rename(survey: Survey, chance: Chance) -> Survey:
    if not survey.readings:
        return survey
    readings, place = list(survey.readings), _some(survey.readings, chance)
    keys = [
        key
        for key in ("start", "end", "spot", "first", "second", "wall", "level", "line")
        if hasattr(readings[place], key)
    ]
    if keys == ["line"]:
        key = _pick(("surface", "start", "towards"), chance)
        line = dataclasses.replace(readings[place].line, **{key: _pick((*NAMES, "up", "out"), chance)})
        readings[place] = dataclasses.replace(readings[place], line=line)
    elif keys:
        readings[place] = dataclasses.replace(readings[place], **{_pick(keys, chance): _pick(NAMES, chance)})
    return _with(survey, readings)


def _odd_value(survey: Survey, chance: Chance) -> Survey:
    if not survey.readings:
        return survey
    readings, place = list(survey.readings), _some(survey.readings, chance)
    keys = [key for key in _VALUES if hasattr(readings[place], key)]
    readings[place] = dataclasses.replace(
        readings[place], **{_pick(keys, chance): ODD_VALUES[int(chance.integers(len(ODD_VALUES)))]}
    )
    return _with(survey, readings)


def _slip(survey: Survey, chance: Chance) -> Survey:
    if not survey.readings:
        return survey
    readings, place = list(survey.readings), _some(survey.readings, chance)
    (key,) = [key for key in _READ if hasattr(readings[place], key)]
    value = getattr(readings[place], key)
    changes = (value + chance.normal(0, 300), value * 25.4, value / 25.4, value / 10, -value, value + 1000)
    readings[place] = dataclasses.replace(readings[place], **{key: float(changes[int(chance.integers(len(changes)))])})
    return _with(survey, readings)


def _any_reading(survey: Survey, chance: Chance) -> Survey:
    a, b, wall = (_pick(NAMES, chance) for _ in range(3))
    value = float(chance.uniform(-200, 3000))
    made: tuple[Reading, ...] = (
        TapeReading(start=a, end=b, length_mm=value),
        LevelReading(spot=a, above_mm=value),
        PlumbReading(wall=wall, first=a, second=b, into_room_mm=value / 10),  # type: ignore[arg-type]
        BevelReading(walls=("back", wall), level=a[2:], angle_deg=value / 20),  # type: ignore[arg-type]
        PitchReading(pitch_deg=value / 40),
        EdgeReading(surfaces=(wall, b), angle_deg=value / 20),
        TapeReading(start=a, end=b, length_mm=value, over="skirting"),
        SpanReading(first=wall, second=b, start=a, length_mm=value, aside_mm=value / 9),
        OffsetReading(wall=wall, spot=a, offset_mm=value / 9),
        GapReading(line=Line(surface=wall, start=a, towards=b), at_mm=value, gap_mm=value / 20),  # type: ignore[arg-type]
    )
    return _with(survey, [*survey.readings, made[int(chance.integers(len(made)))]])


def _heights(survey: Survey, chance: Chance) -> Survey:
    heights = [*survey.heights_mm, float(chance.choice([0.0, -5.0, 10.0, 899.0, 900.0, 2500.0, 1e6, math.nan]))]
    chosen = [heights[i] for i in chance.permutation(len(heights))][: int(chance.integers(0, len(heights) + 1))]
    rising = chance.uniform() < 0.7
    return dataclasses.replace(survey, heights_mm=tuple(sorted(chosen) if rising else chosen))


def _tools(survey: Survey, chance: Chance) -> Survey:
    key = _pick(("reading_mm", "level_mm_per_m", "bevel_deg", "gap_mm", "waviness_mm"), chance)
    value = float(chance.choice([0.0, -1.0, 1e-3, 0.1, 5.0, 50.0, math.nan, math.inf]))
    return dataclasses.replace(survey, tools=dataclasses.replace(survey.tools, **{key: value}))


def _kind(survey: Survey, chance: Chance) -> Survey:
    kind = KINDS[int(chance.integers(len(KINDS)))]
    return dataclasses.replace(survey, kind=kind, corner="right" if chance.uniform() < 0.5 else "left")


_READ = ("length_mm", "above_mm", "into_room_mm", "angle_deg", "pitch_deg", "gap_mm", "offset_mm")
_VALUES = (*_READ, "at_mm", "sd_mm", "sd_deg")
_DEEDS: tuple[Callable[[Survey, Chance], Survey], ...] = (
    _drop, _repeat, _shuffle, _rename, _odd_value, _slip, _any_reading, _heights, _tools, _kind,
)  # fmt: skip
