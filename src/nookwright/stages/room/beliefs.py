"""What is believed of a room before any reading: walls are nearly plane, spots stand about where they are said to."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.solvers.whitened import Block
from nookwright.stages.inputs.survey import LevelReading, SurfaceName, Survey, TapeReading, Tools
from nookwright.stages.survey.kinds import shape_in
from nookwright.stages.survey.spots import Spot
from nookwright.stages.survey.tools import (
    ALIGNED_SD_MM,
    MARK_SD_MM,
    SQUARE_SD_MM,
    TAPE_ZERO_SD_MM,
    WAVE_MM,
    tape_stretch_sd,
)
from nookwright.stages.survey.unknowns import Unknowns, foot_name

YAW_SD = math.tan(math.radians(5))
"""A wall's turn in plan from square before anything is read, one standard deviation. Common practice, no source."""

LEAN_SD = 0.03
"""A wall's lean, and a floor's or ceiling's fall, likewise: 30 mm/m. Common practice, no source."""

SLOPE_SD = 0.5
"""A slope's rise beyond the first guess, likewise: 500 mm/m. Common practice, no source."""

OFFSET_SD_MM = 1000.0
"""A surface's place beyond the first guess, likewise. [mm] Common practice, no source."""

SKETCH_SD_MM = 50.0
"""A front spot's place beyond the first guess, likewise. [mm] Common practice, no source."""

LINE_SD_MM = 3000.0
"""The level line's height beyond the first guess, likewise. [mm] Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Belief:
    """One soft value: a sum of unknowns is about so much.

    Args:
        terms: places of the unknowns with their factors.
        value: what their sum should be.
        sd: its standard deviation.
        vague: whether it is only there to settle what nothing was read about.
    """

    terms: tuple[tuple[int, float], ...]
    value: float
    sd: float
    vague: bool


def beliefs_of(survey: Survey, unknowns: Unknowns, start: Vector) -> tuple[Belief, ...]:
    """Return everything believed of the unknowns apart from the readings.

    Args:
        survey: the field book.
        unknowns: the unknowns.
        start: their first guess.

    Returns:
        The beliefs, surfaces first.
    """
    found = [belief for surface in unknowns.surfaces for belief in _of_surface(surface, unknowns, start)]
    found += [_about(unknowns.line_tilt + axis, 0.0, survey.tools.level_mm_per_m) for axis in (0, 1)]
    found.append(_about(unknowns.line_height, start[unknowns.line_height], LINE_SD_MM, vague=True))
    found.append(_about(unknowns.tape_stretch, 0.0, tape_stretch_sd(survey.tools)))
    found.append(_about(unknowns.tape_zero, 0.0, TAPE_ZERO_SD_MM))
    found += [_about(unknowns.set_up(one.name), one.about, one.sd, vague=one.vague) for one in unknowns.set_ups]
    levelled = {reading.spot for reading in survey.readings if isinstance(reading, LevelReading)}
    trusted = levelled if unknowns.datum in levelled else frozenset[str]()
    lowest: dict[str, Spot] = {}
    for spot in unknowns.spots[: unknowns.named]:
        found += _of_spot(spot, lowest.get(spot.column.name), unknowns, start, marked=spot.name not in trusted)
        lowest.setdefault(spot.column.name, spot)
    return tuple(found)


def belief_block(beliefs: Sequence[Belief]) -> Block:
    """Return the beliefs as one block of observations."""
    width = max(len(belief.terms) for belief in beliefs)
    columns = np.array([[at for at, _ in _padded(belief, width)] for belief in beliefs])
    jacobian = np.array([[factor for _, factor in _padded(belief, width)] for belief in beliefs])
    values = np.array([belief.value for belief in beliefs])

    def evaluate(state: Vector) -> tuple[Vector, Matrix]:
        return np.einsum("ij,ij->i", jacobian, state[columns]) - values, jacobian

    return Block(evaluate=evaluate, columns=columns, sd=np.array([belief.sd for belief in beliefs]))


def _padded(belief: Belief, width: int) -> list[tuple[int, float]]:
    """Return a belief's terms, with nothing of its first unknown added until they are so many."""
    return [*belief.terms, *[(belief.terms[0][0], 0.0)] * (width - len(belief.terms))]


def square_block(survey: Survey, unknowns: Unknowns) -> Block | None:
    """Return the squareness of tapes held against a surface: the foot lies square below the start, nearly."""
    shape = shape_in(survey)
    tapes = {
        foot_name(reading): reading
        for reading in survey.readings
        if isinstance(reading, TapeReading) and shape.may_have(reading.end)
    }
    if not tapes:
        return None
    rows: list[tuple[int, int, int, int, int]] = []
    for name in sorted(tapes):
        surface = next(surface for surface in unknowns.surfaces if surface == tapes[name].end)
        across, *along = shape.axes(surface)
        start, foot = unknowns.spot(tapes[name].start), unknowns.spot(name)
        for order, axis in enumerate(along):
            tilt_at = unknowns.surface(surface) + 1 + order
            rows.append((start + axis, foot + axis, start + across, foot + across, tilt_at))
    columns = np.array(rows)
    a, b, c, d, tilts = columns.T
    ones = np.ones(len(rows))

    def evaluate(state: Vector) -> tuple[Vector, Matrix]:
        tilt, out = state[tilts], state[d] - state[c]
        return state[b] - state[a] + tilt * out, np.column_stack([-ones, ones, -tilt, tilt, out])

    return Block(evaluate=evaluate, columns=columns, sd=np.full(len(rows), SQUARE_SD_MM))


def waviness(points: Matrix, others: Matrix | None, tools: Tools) -> Matrix:
    """Return the covariance of a surface's waviness between places: Matern-3/2 of their distance. [mm2]

    Args:
        points: places, one a row. [mm]
        others: other places; None for the same ones.
        tools: how wavy plaster is.

    Returns:
        Covariances, a row for each point, a column for each other place.

    Source:
        The Matern covariance of order 3/2, see `tools.likeness`. Status: recalled.
    """
    apart = points[:, None, :] - (points if others is None else others)[None, :, :]
    reach = math.sqrt(3) / WAVE_MM * np.sqrt(np.einsum("ijk,ijk->ij", apart, apart))
    covariance: Matrix = tools.waviness_mm**2 * (1 + reach) * np.exp(-reach)
    return covariance


def _about(place: int, value: float, sd: float, *, vague: bool = False) -> Belief:
    return Belief(terms=((place, 1.0),), value=float(value), sd=sd, vague=vague)


def _of_surface(surface: SurfaceName, unknowns: Unknowns, start: Vector) -> list[Belief]:
    at = unknowns.surface(surface)
    shape = unknowns.shape
    first, second = (0.0, LEAN_SD), (0.0, LEAN_SD)
    if surface in shape.walls:
        wall = shape.walls[surface]
        stretch = 1 + wall.tilt**2  # a wall askew to its axis runs away from it faster as it turns
        first, second = (wall.tilt, YAW_SD * stretch), (0.0, LEAN_SD * math.sqrt(stretch))
    elif surface in shape.slopes:
        rises, level = (start[at + 1], SLOPE_SD), (0.0, YAW_SD)
        first, second = (rises, level) if shape.slopes[surface].rise[0] else (level, (start[at + 2], SLOPE_SD))
    return [
        _about(at, start[at], OFFSET_SD_MM, vague=True),
        _about(at + 1, *first, vague=True),
        _about(at + 2, *second, vague=True),
    ]


def _of_spot(spot: Spot, lowest: Spot | None, unknowns: Unknowns, start: Vector, *, marked: bool) -> list[Belief]:
    """Return where a spot stands: aligned with the lowest one of its column, and at its marked height."""
    at = unknowns.spot(spot.name)
    found: list[Belief] = []
    for way in spot.column.free:
        terms = tuple((at + axis, part) for axis, part in enumerate(way) if part)
        if lowest is None:
            value = float(np.dot(way, start[at : at + 2]))
            found.append(Belief(terms=terms, value=value, sd=SKETCH_SD_MM, vague=True))
        else:
            beside = unknowns.spot(lowest.name)
            terms += tuple((beside + axis, -part) for axis, part in enumerate(way) if part)
            found.append(Belief(terms=terms, value=0.0, sd=ALIGNED_SD_MM, vague=False))
    if not spot.level.isdigit():
        found.append(_about(at + 2, start[at + 2], OFFSET_SD_MM, vague=True))
    elif spot.level != "0":
        sd = MARK_SD_MM if marked else OFFSET_SD_MM
        found.append(_about(at + 2, start[at + 2], sd, vague=not marked))
    return found
