"""Offsets of a wall from a plumb line or an upright laser plane, as observations."""

from __future__ import annotations

import math

import numpy as np

from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.solvers.whitened import Made
from nookwright.stages.inputs.survey import OffsetReading, Survey
from nookwright.stages.survey.unknowns import Unknowns, plane_names


def observe_offsets(readings: list[OffsetReading], survey: Survey, unknowns: Unknowns, start: Vector) -> Made:
    """An offset is how far the plumb plane stands off the wall's foot, turned and leaning a little, less the wall."""
    # the wall's foot is the line that its plane draws on the level through the origin
    set_ups = [[unknowns.set_up(name) for name in plane_names(reading)] for reading in readings]
    spots = [unknowns.spot(reading.spot) for reading in readings]
    columns = np.array(
        [
            (*names, *(spot + axis for axis in range(3)), *(unknowns.surface(reading.wall) + i for i in range(2)))
            for reading, spot, names in zip(readings, spots, set_ups, strict=True)
        ]
    )
    values = np.array([reading.offset_mm for reading in readings])
    sds = np.array([reading.sd_mm or survey.tools.reading_mm for reading in readings])

    def evaluate(state: Vector) -> tuple[Vector, Matrix]:
        computed, jacobian = np.zeros(len(readings)), np.zeros((len(readings), 8))
        for row, (reading, spot, (stand_off, turn, lean)) in enumerate(zip(readings, spots, set_ups, strict=True)):
            across, along, _ = unknowns.shape.axes(reading.wall)
            into, plane = unknowns.shape.into_room(reading.wall), unknowns.surface(reading.wall)
            w, p, z = state[spot + across], state[spot + along], state[spot + 2]
            offset, yaw = state[plane], state[plane + 1]
            norm = math.sqrt(1 + yaw**2)
            off = into * (w - offset - yaw * p)
            computed[row] = state[stand_off] + (state[turn] * p + state[lean] * z) / 1000 - off / norm
            jacobian[row, :3] = 1.0, p / 1000, z / 1000
            jacobian[row, 3 + across] = -into / norm
            jacobian[row, 3 + along] = state[turn] / 1000 + into * yaw / norm
            jacobian[row, 5] = state[lean] / 1000
            jacobian[row, 6:] = into / norm, into * p / norm + off * yaw / norm**3
        return computed - values, jacobian

    return columns, evaluate, values, sds
