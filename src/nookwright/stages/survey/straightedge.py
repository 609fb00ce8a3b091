"""Gaps under a straightedge as observations: how a surface strays from the straight, however the edge lies."""

from __future__ import annotations

import numpy as np

from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.solvers.whitened import Made
from nookwright.stages.inputs.survey import GapReading, Survey
from nookwright.stages.survey.unknowns import Station, Unknowns, edge_names


def observe_gaps(readings: list[GapReading], survey: Survey, unknowns: Unknowns, start: Vector) -> Made:
    """A gap is the edge's stand-off and turn less how far the surface strays into the room there."""
    stations, set_ups = unknowns.station_places, unknowns.set_up_places
    places = [stations[Station(line=reading.line, at_mm=reading.at_mm)] for reading in readings]
    edges = [tuple(set_ups[name] for name in edge_names(reading)) for reading in readings]
    columns = np.column_stack([places, edges])
    values = np.array([reading.gap_mm for reading in readings])
    jacobian = np.array(
        [(-unknowns.shape.into_room(reading.line.surface), 1.0, reading.at_mm / 1000) for reading in readings]
    )
    sds = np.array([reading.sd_mm or survey.tools.gap_mm for reading in readings])

    def evaluate(state: Vector) -> tuple[Vector, Matrix]:
        return np.einsum("ij,ij->i", jacobian, state[columns]) - values, jacobian

    return columns, evaluate, values, sds
