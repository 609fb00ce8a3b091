"""Spot names: what each stands for, which surfaces it lies on, and the nearest right name to a wrong one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches

from nookwright.stages.inputs.survey import (
    BevelReading,
    EdgeReading,
    GapReading,
    LevelReading,
    OffsetReading,
    PitchReading,
    PlumbReading,
    Reading,
    ScaleReading,
    SpanReading,
    SurfaceName,
    Survey,
    TapeReading,
)
from nookwright.stages.survey.kinds import shape_in
from nookwright.stages.survey.lines import WAYS
from nookwright.stages.survey.shape import Column, Shape


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A named spot.

    Args:
        name: column and level, for example `BL0`, or start and surface for the foot of a square tape.
        column: the column it stands on.
        level: `0` on the floor, `1`, `2`... at the marked heights, `S` on the slope, `T` on the ceiling.
        surfaces: the surfaces it lies on.
    """

    name: str
    column: Column
    level: str
    surfaces: tuple[SurfaceName, ...]


def spot_names(shape: Shape, marked_heights: int) -> tuple[str, ...]:
    """Return every spot name that such a room can have, in order."""
    levels = [str(level) for level in range(marked_heights + 1)] + list(shape.tops)
    return tuple(
        column + level
        for column in shape.columns
        for level in levels
        if _surfaces_at(shape, shape.columns[column], level)
    )


def is_spot(column: str, level: str, shape: Shape, marked_heights: int) -> bool:
    """Return whether a column and a level make one of `spot_names`."""
    if column not in shape.columns or (level not in shape.tops and not _is_marked(level, marked_heights)):
        return False
    return bool(_surfaces_at(shape, shape.columns[column], level))


def _is_marked(level: str, marked_heights: int) -> bool:
    """Return whether a level is the floor or one of so many marks, written plainly."""
    return level.isascii() and level.isdigit() and str(int(level)) == level and int(level) <= marked_heights


def spot_called(name: str, shape: Shape) -> Spot:
    """Return the spot of this name, which must be one of `spot_names`."""
    named, level = shape.taken_apart(name)
    column = shape.columns[named]
    return Spot(name=name, column=column, level=level, surfaces=_surfaces_at(shape, column, level))


def nearest_name(name: str, names: tuple[str, ...]) -> str:
    """Return the right name most like a wrong one; empty when none is like it."""
    tidy = "".join(name.split()).upper()
    tidy = tidy[:2] + tidy[2:].replace("O", "0")  # the letter for the figure
    if tidy in names:
        return tidy
    if tidy[1::-1] + tidy[2:] in names:  # LB1 for BL1
        return tidy[1::-1] + tidy[2:]
    return next(iter(get_close_matches(tidy, names, n=1, cutoff=0.6)), "")


def spots_named_by(reading: Reading) -> tuple[str, ...]:
    """Return the names a reading mentions, wrong ones too; a tape's far end may be a surface."""
    match reading:
        case TapeReading():
            return (reading.start, reading.end)
        case LevelReading() | OffsetReading():
            return (reading.spot,)
        case SpanReading():
            return (reading.start,)
        case PlumbReading():
            return (reading.first, reading.second)
        case BevelReading() | PitchReading() | EdgeReading() | ScaleReading():
            return ()
        case GapReading():
            ends = (reading.line.start, reading.line.towards)
            return ends if reading.line.towards not in WAYS else ends[:1]


def spots_read_across(surface: SurfaceName, readings: Iterable[Reading], shape: Shape) -> set[str]:
    """Return the names of spots whose place square to a surface some reading tells, those not on it too."""
    wall = surface in shape.walls
    found: set[str] = set()
    for reading in readings:
        match reading:
            case LevelReading():
                tells = not wall
            case PlumbReading() | OffsetReading():
                tells = reading.wall == surface
            case TapeReading():
                tells = not reading.rough and (wall or _rises(reading, shape))
            case _:
                tells = False
        if tells:
            found.update(spots_named_by(reading))
    return found


def _rises(tape: TapeReading, shape: Shape) -> bool:
    """Return whether a tape runs from one level to another, or to a surface."""
    return shape.may_have(tape.end) or shape.taken_apart(tape.start)[1] != shape.taken_apart(tape.end)[1]


def surfaces_named_by(reading: Reading) -> tuple[SurfaceName, ...]:
    """Return the surfaces a reading mentions beside its spots, wrong ones too; a tape's end is not among them."""
    match reading:
        case GapReading():
            return (reading.line.surface,)
        case SpanReading():
            return (reading.first, reading.second)
        case EdgeReading():
            return reading.surfaces
        case _:
            return ()


def names_used(survey: Survey) -> set[str]:
    """Return every name of a spot or surface that readings and scans mention."""
    read = {name for reading in survey.readings for name in spots_named_by(reading)}
    return read | {spot.name for scan in survey.scans for spot in scan.spots}


def surfaces_present(survey: Survey) -> tuple[SurfaceName, ...]:
    """Return the room's surfaces: the kind's own, and the optional ones that a reading touches."""
    shape = shape_in(survey)
    named = names_used(survey)
    places = (shape.taken_apart(name) for name in named)
    touched = {shape.tops[level] for column, level in places if column and level in shape.tops}
    laid = {surface for reading in survey.readings for surface in surfaces_named_by(reading)}
    return shape.surfaces + tuple(surface for surface in shape.optional if surface in touched | named | laid)


def spots_used(survey: Survey) -> tuple[Spot, ...]:
    """Return the spots the readings mention, and the origin, sorted by name."""
    shape = shape_in(survey)
    names = {name for name in names_used(survey) if not shape.may_have(name)}
    return tuple(spot_called(name, shape) for name in sorted(names | {shape.origin}))


def _surfaces_at(shape: Shape, column: Column, level: str) -> tuple[SurfaceName, ...]:
    if level == "0":
        return (*column.walls, "floor")
    if level in shape.tops:
        return (*column.walls, shape.tops[level])
    return column.walls
