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
from nookwright.stages.survey.kinds import shape_in
from nookwright.stages.survey.shape import Shape
from nookwright.stages.survey.sight import in_sight
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
    shape = shape_in(survey)
    names = [
        name
        for name in spot_names(shape, len(survey.heights_mm))
        if set(spot_called(name, shape).surfaces) <= set(surfaces)
    ]
    levelled = any(isinstance(reading, LevelReading) for reading in survey.readings)
    spots = [(name, *shape.taken_apart(name)) for name in names]
    makers = (_tapes(spots, shape), _uprights(spots, shape), _plumbs(spots, shape))
    found = [each for maker in makers for each in maker]
    found += _angles_and_levels(spots, shape, levelled=levelled)
    return tuple(Candidate(reading=reading, minutes=minutes) for reading, minutes in found)


_Named = tuple[str, str, str]
"""A spot with its column and its level."""


def _tapes(spots: list[_Named], shape: Shape) -> Iterator[tuple[Reading, float]]:
    """Give tapes between spots of one level that see each other."""
    sides = {frozenset(line.columns) for line in shape.lines}
    seen = {pair: in_sight(shape, *pair) for pair in combinations(shape.columns, 2)}
    for (first, here, level), (second, there, other) in combinations(spots, 2):
        if level == other and seen[here, there]:
            minutes = TAPE_MINUTES if {here, there} in sides else DIAGONAL_MINUTES
            yield TapeReading(start=first, end=second, length_mm=1000.0), minutes


def _uprights(spots: list[_Named], shape: Shape) -> Iterator[tuple[Reading, float]]:
    """Give tapes straight up from the floor."""
    feet = {column for _, column, level in spots if level == "0"}
    for name, column, level in spots:
        if level in shape.tops and column in feet:
            yield TapeReading(start=f"{column}0", end=name, length_mm=1000.0), TAPE_MINUTES


def _plumbs(spots: list[_Named], shape: Shape) -> Iterator[tuple[Reading, float]]:
    """Give plumb lines from a marked spot of a column to one above it, on each wall it touches."""
    for (first, column, low), (second, other, _) in combinations(spots, 2):
        if column == other and low.isdigit():
            for wall in (wall for wall in shape.surfaces if wall in shape.columns[column].walls):
                yield PlumbReading(wall=wall, first=first, second=second, into_room_mm=0.0), PLUMB_MINUTES


def _angles_and_levels(spots: list[_Named], shape: Shape, *, levelled: bool) -> Iterator[tuple[Reading, float]]:
    for name, _, level in spots:
        if level == "0" or not level.isdigit():
            yield LevelReading(spot=name, above_mm=0.0), LEVEL_MINUTES if levelled else SET_UP_MINUTES
    for corner in shape.corners:
        angle = shape.nominal_deg(corner)
        yield (
            BevelReading(walls=corner.walls, level="1", angle_deg=angle if angle < 180 else 360 - angle),
            BEVEL_MINUTES,
        )
    for slope in shape.slopes:
        yield PitchReading(pitch_deg=45.0, surface=slope), PITCH_MINUTES
