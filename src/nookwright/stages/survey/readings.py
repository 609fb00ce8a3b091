"""Each kind of reading as observations of the unknowns, with analytic derivatives."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.solvers.whitened import Block, Made
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
from nookwright.stages.survey.coverings import NAMES, ends_moved
from nookwright.stages.survey.edge_angles import observe_edge_angles
from nookwright.stages.survey.plumb_offsets import observe_offsets
from nookwright.stages.survey.scan_pose import observe_scales
from nookwright.stages.survey.shape import Corner, Shape, Slope
from nookwright.stages.survey.spans import observe_spans
from nookwright.stages.survey.straightedge import observe_gaps
from nookwright.stages.survey.tape_errors import as_read, with_tape_errors
from nookwright.stages.survey.tools import bevel_sd_deg, pitch_sd_deg, plumb_sd_mm, tape_sd_mm
from nookwright.stages.survey.unknowns import Unknowns, end_name


@dataclass(frozen=True, slots=True, kw_only=True)
class Observed:
    """Readings of one kind as a block of observations.

    Args:
        block: for the adjustment.
        places: of each row: which reading of the survey it is.
        values: of each row: what was read.
        sds: of each row: its standard deviation.
    """

    block: Block
    places: tuple[int, ...]
    values: Vector
    sds: Vector


def observe(survey: Survey, unknowns: Unknowns, start: Vector) -> tuple[Observed, ...]:
    """Return all readings as observations, one block for each kind of tool that was used.

    Args:
        survey: the field book.
        unknowns: the unknowns the readings speak of.
        start: first guess of the unknowns: heights of plumb readings and the way the slope rises are taken from it.

    Returns:
        The observations.
    """
    kinds: list[tuple[type[Reading], Callable[..., Made]]] = [
        (TapeReading, _tapes),
        (LevelReading, _levels),
        (PlumbReading, _plumbs),
        (BevelReading, _bevels),
        (PitchReading, _pitches),
        (EdgeReading, observe_edge_angles),
        (GapReading, observe_gaps),
        (SpanReading, observe_spans),
        (OffsetReading, observe_offsets),
        (ScaleReading, observe_scales),
    ]
    found: list[Observed] = []
    for kind, make in kinds:
        places = tuple(i for i, reading in enumerate(survey.readings) if isinstance(reading, kind))
        if not places:
            continue
        columns, evaluate, values, sds = make([survey.readings[i] for i in places], survey, unknowns, start)
        block = Block(evaluate=evaluate, columns=columns, sd=sds)
        found.append(Observed(block=block, places=places, values=values, sds=sds))
    return tuple(found)


def corner_angle_deg(shape: Shape, corner: Corner, left_tilt: float, right_tilt: float) -> float:
    """Return the angle inside the room between two walls that meet, from how each stands in plan. [deg]

    Args:
        shape: the room's kind.
        corner: where they meet.
        left_tilt, right_tilt: change of each wall's own coordinate along the other one in plan, left wall first.
    """
    turns = [
        wall_turn(shape, wall) * (math.atan(tilt) - math.atan(shape.walls[wall].tilt))
        for wall, tilt in zip(corner.walls, (left_tilt, right_tilt), strict=True)
    ]
    return shape.nominal_deg(corner) + math.degrees(turns[1] - turns[0])


def wall_turn(shape: Shape, wall: SurfaceName) -> int:
    """Return which way a wall turns, seen from above, as its tilt grows: 1 against the clock, -1 with it."""
    return 1 if shape.axes(wall)[0] == 1 else -1


def _tapes(readings: list[TapeReading], survey: Survey, unknowns: Unknowns, start: Vector) -> Made:
    """A tape reads the distance of two spots, with its own errors."""
    first = np.array([unknowns.spot(reading.start) for reading in readings])[:, None] + np.arange(3)
    second = np.array([unknowns.spot(end_name(reading, survey)) for reading in readings])[:, None] + np.arange(3)
    values = np.array([reading.length_mm for reading in readings])
    sds = np.array([reading.sd_mm or tape_sd_mm(reading.length_mm, survey.tools) for reading in readings])
    covered = [(i, unknowns.set_up(NAMES[one.over])) for i, one in enumerate(readings) if one.over]
    moved = {i: ends_moved(readings[i], unknowns.shape) for i, _ in covered}
    thicknesses = first[:, 0].copy()
    for row, thickness in covered:
        thicknesses[row] = thickness
    columns = with_tape_errors(np.column_stack([second, first, thicknesses]), unknowns)

    def evaluate(state: Vector) -> tuple[Vector, Matrix]:
        along = state[second] - state[first]
        for row, thickness in covered:
            along[row] += state[thickness] * moved[row]
        lengths = np.sqrt(np.einsum("ij,ij->i", along, along))
        ways = along / lengths[:, None]
        by_thickness = np.zeros(len(values))
        for row, _ in covered:
            by_thickness[row] = ways[row] @ moved[row]
        read, jacobian = as_read(lengths, np.column_stack([ways, -ways, by_thickness]), state, unknowns)
        return read - values, jacobian

    return columns, evaluate, values, sds


def _levels(readings: list[LevelReading], survey: Survey, unknowns: Unknowns, start: Vector) -> Made:
    """A level reads how far a spot is above its line, which may be tilted a little."""
    spots = np.array([unknowns.spot(reading.spot) for reading in readings])
    line = np.tile([unknowns.line_tilt, unknowns.line_tilt + 1, unknowns.line_height], (len(readings), 1))
    columns = np.column_stack([spots[:, None] + np.arange(3), line])
    values = np.array([reading.above_mm for reading in readings])
    sds = np.array([reading.sd_mm or survey.tools.reading_mm for reading in readings])

    def evaluate(state: Vector) -> tuple[Vector, Matrix]:
        tilt = state[unknowns.line_tilt : unknowns.line_tilt + 2] / 1000
        x, y, z = state[spots], state[spots + 1], state[spots + 2]
        jacobian = np.empty(columns.shape)
        jacobian[:, 0], jacobian[:, 1], jacobian[:, 2] = tilt[0], tilt[1], 1.0
        jacobian[:, 3], jacobian[:, 4], jacobian[:, 5] = x / 1000, y / 1000, -1.0
        return z + tilt[0] * x + tilt[1] * y - state[unknowns.line_height] - values, jacobian

    return columns, evaluate, values, sds


def _plumbs(readings: list[PlumbReading], survey: Survey, unknowns: Unknowns, start: Vector) -> Made:
    """A plumb line reads how far one spot of a wall stands before another, level and square to the wall."""
    first = np.array([unknowns.spot(reading.first) for reading in readings])
    second = np.array([unknowns.spot(reading.second) for reading in readings])
    across = np.array([unknowns.shape.axes(reading.wall)[0] for reading in readings])
    along = np.array([unknowns.shape.axes(reading.wall)[1] for reading in readings])
    sign = np.array([unknowns.shape.into_room(reading.wall) for reading in readings])
    yaw_at = np.array([unknowns.surface(reading.wall) + 1 for reading in readings])
    values = np.array([reading.into_room_mm for reading in readings])
    sds = np.array(
        [
            reading.sd_mm or plumb_sd_mm(start[b + 2] - start[a + 2], survey.tools)
            for reading, a, b in zip(readings, first, second, strict=True)
        ]
    )
    columns = np.column_stack([second + across, first + across, second + along, first + along, yaw_at])

    def evaluate(state: Vector) -> tuple[Vector, Matrix]:
        yaw = state[yaw_at]
        norm = np.sqrt(1 + yaw**2)
        before, beside = state[second + across] - state[first + across], state[second + along] - state[first + along]
        computed = sign * (before - yaw * beside) / norm
        steep = sign / norm
        by_yaw = -steep * beside - computed * yaw / norm**2
        return computed - values, np.column_stack([steep, -steep, -steep * yaw, steep * yaw, by_yaw])

    return columns, evaluate, values, sds


def _bevels(readings: list[BevelReading], survey: Survey, unknowns: Unknowns, start: Vector) -> Made:
    """A bevel reads the angle between two walls that meet; at an outside corner, the one outside the room."""
    shape = unknowns.shape
    corners = [corner for corner in (shape.corner_between(reading.walls) for reading in readings) if corner]
    columns = np.array([[unknowns.surface(wall) + 1 for wall in corner.walls] for corner in corners])
    outside = np.array([shape.nominal_deg(corner) > 180 for corner in corners])
    sign = np.where(outside, -1.0, 1.0)
    turns = np.array([[wall_turn(shape, wall) for wall in corner.walls] for corner in corners]) * [-1.0, 1.0]
    nominal = np.array([[shape.walls[wall].tilt for wall in corner.walls] for corner in corners])
    angles = np.array([shape.nominal_deg(corner) for corner in corners])
    values = np.array([reading.angle_deg for reading in readings])
    sds = np.array([bevel_sd_deg(reading.sd_deg or survey.tools.bevel_deg, survey.tools) for reading in readings])

    def evaluate(state: Vector) -> tuple[Vector, Matrix]:
        tilts = state[columns]
        inside = angles + np.degrees((turns * (np.arctan(tilts) - np.arctan(nominal))).sum(axis=1))
        jacobian = sign[:, None] * turns * np.degrees(1 / (1 + tilts**2))
        return np.where(outside, 360 - inside, inside) - values, jacobian

    return columns, evaluate, values, sds


def _pitches(readings: list[PitchReading], survey: Survey, unknowns: Unknowns, start: Vector) -> Made:
    """A pitch is a slope's angle from level along or square to the back wall, above 0 whichever way it rises."""
    slopes = [unknowns.shape.slopes[reading.surface] for reading in readings]
    places, back = [unknowns.surface(slope.name) for slope in slopes], unknowns.surface("back")
    pairs = list(zip(slopes, places, strict=True))
    columns = np.array([(place + 1, place + 2, back + 1) for place in places])
    sign = np.array([1.0 if pitch_deg(start, slope, at, back)[0] >= 0 else -1.0 for slope, at in pairs])
    values = np.array([reading.pitch_deg for reading in readings])
    sds = np.array([pitch_sd_deg(reading.sd_deg or survey.tools.bevel_deg, survey.tools) for reading in readings])

    def evaluate(state: Vector) -> tuple[Vector, Matrix]:
        pitches, jacobian = zip(*(pitch_deg(state, slope, at, back) for slope, at in pairs), strict=True)
        return sign * np.array(pitches) - values, sign[:, None] * np.array(jacobian)

    return columns, evaluate, values, sds


def pitch_deg(state: Vector, slope: Slope, place: int, back: int) -> tuple[float, Vector]:
    """Return a slope's angle from level, above 0 as it rises its own way. [deg]

    Its derivatives come with it: by the slope's two tilts and the back wall's turn.

    Args:
        state: the unknowns.
        slope: the slope.
        place, back: places of the slope's and the back wall's offset in the state.
    """
    tilts, yaw = state[place + 1 : place + 3], state[back + 1]
    norm = math.sqrt(1 + yaw**2)
    way, across = np.array(slope.rise), np.array([-slope.rise[1], slope.rise[0]])
    rise = float(tilts @ (way + yaw * across)) / norm
    by_yaw = float(tilts @ across) / norm - rise * yaw / norm**2
    row = np.array([*(way + yaw * across) / norm, by_yaw])
    return math.degrees(math.atan(rise)), row * math.degrees(1 / (1 + rise**2))
