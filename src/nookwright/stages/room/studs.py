"""Where the studs of the back wall stand: edges and centres found, the usual spacing, one answer with its spread."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np

from nookwright.basics.measured import Measured
from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.stages.inputs.survey import StudReading, WallBuild
from nookwright.stages.room.behind_wall import ODD_SDS, StudFix

FOUND_SD_MM = 3.0
"""How well a stud's edge or centre is found through the board, one standard deviation. [mm]
Common practice, no source."""

WIDTH_SD_MM = 1.0
"""How far a stud's width differs from the one given, likewise. [mm] Common practice, no source."""

SPACED_SD_MM = 6.0
"""How well studs are set to their spacing, likewise. [mm] Common practice, no source."""

OFF_SPACING_MM = 40.0
"""A stud further than this from its place in the spacing stands where it was needed, not where it was due. [mm]
Common practice, no source."""


def stud_fixes(wall: WallBuild) -> tuple[StudFix, ...]:
    """Return the studs from what was found of them.

    Every edge is half a stud's width from its centre; where a spacing is given, neighbours are a whole number of
    spacings apart, nearly. All that is settled by least squares at once.

    Args:
        wall: what was found; centres given outright stay where they are.

    Returns:
        The studs from left to right.
    """
    readings = [reading for reading in wall.stud_readings if reading.use]
    if not readings:
        return tuple(
            StudFix(number=i, centre=Measured(value=centre, sd=FOUND_SD_MM))
            for i, centre in enumerate(wall.stud_centres_mm, start=1)
        )
    numbers = sorted({reading.stud for reading in readings})
    rows = [_seen(reading, numbers.index(reading.stud), wall, len(numbers)) for reading in readings]
    rows.append((np.append(np.zeros(len(numbers)), 1.0), wall.stud_width_mm, WIDTH_SD_MM))
    rough = _solved(rows)[0]
    wide = [_odd_width([reading for reading in readings if reading.stud == number], wall) for number in numbers]
    if wall.stud_spacing_mm is not None:
        rows += _spaced(rough, [i for i, odd in enumerate(wide) if odd is None], wall.stud_spacing_mm)
    values, covariance = _solved(rows)
    return tuple(
        StudFix(
            number=i + 1,
            centre=Measured(value=float(values[i]), sd=math.sqrt(float(covariance[i, i]))),
            wide_mm=wide[i],
        )
        for i in range(len(numbers))
    )


_Row = tuple[Vector, float, float]


def _seen(reading: StudReading, place: int, wall: WallBuild, count: int) -> _Row:
    """Return a reading as factors of the centres and the width, what was read, and its standard deviation."""
    factors = np.zeros(count + 1)
    factors[place] = 1.0
    factors[-1] = {"left edge": -0.5, "right edge": 0.5, "centre": 0.0}[reading.part]
    return factors, reading.from_left_mm, reading.sd_mm or FOUND_SD_MM


def _spaced(centres: Vector, sound: list[int], spacing: float) -> list[_Row]:
    """Return that neighbours are a whole number of spacings apart, where they nearly are; odd studs are passed over."""
    rows: list[_Row] = []
    for left, right in pairwise(sound):
        apart = max(1, round(float(centres[right] - centres[left]) / spacing)) * spacing
        if abs(float(centres[right] - centres[left]) - apart) <= OFF_SPACING_MM:
            factors = np.zeros(len(centres))
            factors[left], factors[right] = -1.0, 1.0
            rows.append((factors, apart, SPACED_SD_MM))
    return rows


def _solved(rows: list[_Row]) -> tuple[Vector, Matrix]:
    weighted = np.array([factors / sd for factors, _, sd in rows])
    values = np.array([value / sd for _, value, sd in rows])
    covariance = np.linalg.inv(weighted.T @ weighted)
    return covariance @ (weighted.T @ values), covariance


def _odd_width(readings: list[StudReading], wall: WallBuild) -> float | None:
    """Return how far apart a stud's two edges were found, when that is not its width. [mm]"""
    edges = {reading.part: reading for reading in readings}
    if not {"left edge", "right edge"} <= edges.keys():
        return None
    left, right = edges["left edge"], edges["right edge"]
    wide = right.from_left_mm - left.from_left_mm
    sd = math.hypot(left.sd_mm or FOUND_SD_MM, right.sd_mm or FOUND_SD_MM, WIDTH_SD_MM)
    return wide if abs(wide - wall.stud_width_mm) > ODD_SDS * sd else None
