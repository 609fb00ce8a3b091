"""The readings that could be taken in a room, with how long each takes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from nookwright.stages.inputs.survey import (
    BevelReading,
    LevelReading,
    PitchReading,
    PlumbReading,
    Reading,
    SurfaceName,
    Survey,
    TapeReading,
)
from nookwright.stages.survey.kinds import WALLS, Shape, shape_of
from nookwright.stages.survey.spots import spot_called, spot_names

TAPE_MINUTES, DIAGONAL_MINUTES, LEVEL_MINUTES = 0.4, 0.5, 0.3
PLUMB_MINUTES, BEVEL_MINUTES, PITCH_MINUTES = 0.6, 0.5, 0.4
NEW_MARK_MINUTES, SET_UP_MINUTES = 0.3, 1.0
"""Minutes that readings take; a spot not marked yet, and a level not set up yet, cost more.
Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A reading that could be taken, with how long it takes. [min]"""

    reading: Reading
    minutes: float


def candidates(survey: Survey, surfaces: tuple[SurfaceName, ...]) -> tuple[Candidate, ...]:
    """Return every sensible reading of a room: widths, depths, diagonals, uprights, levels, plumb lines, angles.

    Args:
        survey: the field book, with every height at which something could be read.
        surfaces: the surfaces the room has.

    Returns:
        The readings, those taken already included: they can be repeated.
    """
    shape = shape_of(survey.kind, survey.corner)
    names = [
        name
        for name in spot_names(shape, len(survey.heights_mm))
        if set(spot_called(name, shape).surfaces) <= set(surfaces)
    ]
    levelled = any(isinstance(reading, LevelReading) for reading in survey.readings)
    return tuple(
        Candidate(reading=reading, minutes=minutes)
        for maker in (_tapes, _uprights, _plumbs)
        for reading, minutes in maker(names, shape, surfaces)
    ) + tuple(
        Candidate(reading=reading, minutes=minutes)
        for reading, minutes in _angles_and_levels(names, survey, surfaces, levelled=levelled)
    )


def _tapes(names: list[str], shape: Shape, surfaces: tuple[SurfaceName, ...]) -> Iterator[tuple[Reading, float]]:
    """Give tapes between spots of one level."""
    for first, second in combinations(names, 2):
        if first[2:] == second[2:]:
            across = first[0] != second[0] and first[1] != second[1]
            yield (
                TapeReading(start=first, end=second, length_mm=1000.0),
                DIAGONAL_MINUTES if across else TAPE_MINUTES,
            )


def _uprights(names: list[str], shape: Shape, surfaces: tuple[SurfaceName, ...]) -> Iterator[tuple[Reading, float]]:
    """Give tapes straight up from the floor."""
    for name in names:
        if name[2:] in shape.tops and f"{name[:2]}0" in names:
            yield TapeReading(start=f"{name[:2]}0", end=name, length_mm=1000.0), TAPE_MINUTES


def _plumbs(names: list[str], shape: Shape, surfaces: tuple[SurfaceName, ...]) -> Iterator[tuple[Reading, float]]:
    """Give plumb lines between two marked spots of a column, on each wall it touches."""
    for first, second in combinations([name for name in names if name[2:].isdigit()], 2):
        if first[:2] == second[:2]:
            for wall in WALLS:
                if wall in spot_called(first, shape).surfaces and wall in spot_called(second, shape).surfaces:
                    yield PlumbReading(wall=wall, first=first, second=second, into_room_mm=0.0), PLUMB_MINUTES


def _angles_and_levels(
    names: list[str], survey: Survey, surfaces: tuple[SurfaceName, ...], *, levelled: bool
) -> Iterator[tuple[Reading, float]]:
    for name in names:
        if name[2:] == "0" or not name[2:].isdigit():
            yield LevelReading(spot=name, above_mm=0.0), LEVEL_MINUTES if levelled else SET_UP_MINUTES
    for side in ("left", "right"):
        if side in surfaces:
            yield BevelReading(walls=("back", side), level="1", angle_deg=90.0), BEVEL_MINUTES
    if "slope" in surfaces:
        yield PitchReading(pitch_deg=45.0), PITCH_MINUTES
