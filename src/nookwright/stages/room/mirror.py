"""Mirror images: a column that tapes alone hold may stand on either side of the line it was taped from."""

from __future__ import annotations

import math
from collections import defaultdict

import numpy as np

from nookwright.basics.lengths import Marks, show
from nookwright.solvers.linear_fit import Vector
from nookwright.stages.inputs.survey import BevelReading, Survey, TapeReading
from nookwright.stages.survey.shape import Shape
from nookwright.stages.survey.unknowns import Unknowns

Place = Vector | tuple[float, float]

IN_LINE_MM = 30.0
"""Columns this near to one line are taken to stand on it: from there both images look the same. [mm]
Common practice, no source."""

MATTERS_MM = 20.0
"""A column nearer to the line than this may be taken for either image. [mm] Common practice, no source."""

SETTLED_SHARE = 0.15
"""The nominal plan settles the side of a column that it puts further from the line than this share of its length.
Common practice, no source: 9 degrees at a corner in the middle."""


def mirror_doubts(survey: Survey, unknowns: Unknowns, state: Vector) -> tuple[str, ...]:
    """Return a sentence for each column whose side neither the readings nor the kind of room settles.

    Args:
        survey: the field book.
        unknowns: its unknowns.
        state: them adjusted.

    Returns:
        What may be the other way round, and what would settle it.
    """
    shape = unknowns.shape
    ties = _ties(survey, shape)
    places = _places(unknowns, state)
    found = []
    for name in sorted(ties.keys() & places.keys() - set(shape.frame)):
        others = sorted(other for other in ties[name] if other in places)
        line = _line(others, places)
        if line is None or _bevelled(name, survey, shape):
            continue
        first, second = line
        off = abs(_offset(places[name], places[first], places[second]))
        nominal = {column: shape.columns[column].place for column in (name, first, second)}
        nominal_off = abs(_offset(nominal[name], nominal[first], nominal[second]))
        if off > MATTERS_MM and nominal_off < SETTLED_SHARE * math.dist(nominal[first], nominal[second]):
            found.append(_said((name, first, second), _size(off, survey), shape, places))
    return tuple(found)


def _size(off_mm: float, survey: Survey) -> str:
    """Return a distance in the units of the field book: nobody marks by it."""
    return show(off_mm, Marks(units=survey.units, resolution=1.0 if survey.units == "mm" else 1 / 16), with_unit=True)


def _said(names: tuple[str, str, str], off: str, shape: Shape, places: dict[str, Vector]) -> str:
    name, first, second = names
    third = next((other for other in shape.columns if other not in (name, first, second) and other in places), "")
    tape = f"tape {name}0 - {third}0" if third else "tape it from a third column"
    return (
        f"{name} may stand {off} on either side of the line from {first} to {second}: the tapes fit both. "
        f"To settle it, {tape}, or read the bevel there."
    )


def _ties(survey: Survey, shape: Shape) -> dict[str, set[str]]:
    """Return which columns each column was taped from."""
    ties: dict[str, set[str]] = defaultdict(set)
    for reading in survey.readings:
        if isinstance(reading, TapeReading) and not shape.may_have(reading.end):
            first, second = (shape.taken_apart(spot)[0] for spot in (reading.start, reading.end))
            if first != second:
                ties[first].add(second)
                ties[second].add(first)
    return ties


def _places(unknowns: Unknowns, state: Vector) -> dict[str, Vector]:
    """Return where each named column stands in plan, by its lowest spot. [mm]"""
    found: dict[str, Vector] = {}
    for spot in unknowns.spots[: unknowns.named]:
        at = unknowns.spot(spot.name)
        found.setdefault(spot.column.name, state[at : at + 2])
    return found


def _line(names: list[str], places: dict[str, Vector]) -> tuple[str, str] | None:
    """Return the two furthest apart of columns that stand on one line; None when they do not."""
    if len(names) < 2:
        return None
    pairs = [(one, other) for i, one in enumerate(names) for other in names[i + 1 :]]
    first, second = max(pairs, key=lambda pair: float(np.linalg.norm(places[pair[0]] - places[pair[1]])))
    off = max(abs(_offset(places[name], places[first], places[second])) for name in names)
    return (first, second) if off <= IN_LINE_MM else None


def _offset(place: Place, start: Place, end: Place) -> float:
    """Return how far a place is to the left of a line. [mm]"""
    along, beside = np.subtract(end, start), np.subtract(place, start)
    return float(along[0] * beside[1] - along[1] * beside[0]) / max(float(np.hypot(*along)), 1.0)


def _bevelled(name: str, survey: Survey, shape: Shape) -> bool:
    """Return whether a bevel was read at a column's corner or at either end of its walls."""
    walls = shape.columns[name].walls
    return any(isinstance(r, BevelReading) and any(wall in walls for wall in r.walls) for r in survey.readings)
