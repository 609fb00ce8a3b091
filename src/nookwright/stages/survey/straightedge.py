"""Gaps under a straightedge as observations: how a surface strays from the straight, however the edge lies."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.stages.inputs.survey import GapReading, Survey
from nookwright.stages.survey.unknowns import Station, Unknowns, edge_names


def observe_gaps(
    readings: list[GapReading], survey: Survey, unknowns: Unknowns, start: Vector
) -> tuple[Callable[[Vector], tuple[Vector, Matrix]], Vector, Vector]:
    """A gap is the edge's stand-off and turn less how far the surface strays into the room there."""
    stations, set_ups = unknowns.station_places, unknowns.set_up_places
    places = [stations[Station(line=reading.line, at_mm=reading.at_mm)] for reading in readings]
    edges = [tuple(set_ups[name] for name in edge_names(reading)) for reading in readings]
    values = np.array([reading.gap_mm for reading in readings])
    jacobian = np.zeros((len(readings), unknowns.count))
    for row, (reading, place, (stand_off, turn)) in enumerate(zip(readings, places, edges, strict=True)):
        jacobian[row, place] = -unknowns.shape.into_room(reading.line.surface)
        jacobian[row, stand_off], jacobian[row, turn] = 1.0, reading.at_mm / 1000
    sds = np.array([reading.sd_mm or survey.tools.gap_mm for reading in readings])

    def evaluate(state: Vector) -> tuple[Vector, Matrix]:
        return jacobian @ state - values, jacobian

    return evaluate, values, sds
