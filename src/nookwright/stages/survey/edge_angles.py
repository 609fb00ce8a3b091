"""Angles between two surfaces, square to the edge they meet in, as observations: a wall and a slope, two slopes."""

from __future__ import annotations

import numpy as np

from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.solvers.whitened import Made
from nookwright.stages.inputs.survey import EdgeReading, SurfaceName, Survey
from nookwright.stages.survey.shape import Shape
from nookwright.stages.survey.tools import bevel_sd_deg
from nookwright.stages.survey.unknowns import Unknowns


def observe_edge_angles(readings: list[EdgeReading], survey: Survey, unknowns: Unknowns, start: Vector) -> Made:
    """An angle is what is left of a straight one between the directions in which two surfaces face the room."""
    pairs = [[(unknowns.surface(surface), surface) for surface in reading.surfaces] for reading in readings]
    columns = np.array([[at + order for at, _ in pair for order in (1, 2)] for pair in pairs])
    values = np.array([reading.angle_deg for reading in readings])
    sds = np.array([bevel_sd_deg(reading.sd_deg or survey.tools.bevel_deg, survey.tools) for reading in readings])

    def evaluate(state: Vector) -> tuple[Vector, Matrix]:
        computed, jacobian = np.zeros(len(readings)), np.zeros((len(readings), 4))
        for row, ((first_at, first), (second_at, second)) in enumerate(pairs):
            one, one_rows = _facing(state[first_at : first_at + 3], first, unknowns.shape)
            other, other_rows = _facing(state[second_at : second_at + 3], second, unknowns.shape)
            cosine = -float(one @ other)
            computed[row] = np.degrees(np.arccos(cosine))
            steep = np.degrees(1 / np.sqrt(1 - cosine**2))
            jacobian[row, :2], jacobian[row, 2:] = steep * (one_rows @ other), steep * (other_rows @ one)
        return computed - values, jacobian

    return columns, evaluate, values, sds


def _facing(plane: Vector, surface: SurfaceName, shape: Shape) -> tuple[Vector, Matrix]:
    """Return the direction of length 1 in which a surface faces the room, and its derivatives by the two tilts."""
    across, p, q = shape.axes(surface)
    sign = shape.into_room(surface)
    facing = np.zeros(3)
    facing[across], facing[p], facing[q] = sign, -sign * plane[1], -sign * plane[2]
    length = float(np.sqrt(facing @ facing))
    unit = facing / length
    rows = np.zeros((2, 3))
    rows[0, p], rows[1, q] = -sign, -sign
    return unit, (rows - np.outer(rows @ unit, unit)) / length
