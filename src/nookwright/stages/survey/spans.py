"""Tapes from one surface straight to the one it faces, as observations: the clear width or height at a place."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.solvers.whitened import Made
from nookwright.stages.inputs.survey import SpanReading, Survey
from nookwright.stages.survey.coverings import INTO_ROOM, NAMES
from nookwright.stages.survey.lines import vector_of
from nookwright.stages.survey.tape_errors import as_read, with_tape_errors
from nookwright.stages.survey.tools import PLACED_SD_MM, tape_sd_mm
from nookwright.stages.survey.unknowns import Unknowns, span_stations


@dataclass(frozen=True, slots=True, kw_only=True)
class _Span:
    """One reading's places in the state: the spot it is taken at, both planes, the strays where the tape touches."""

    sign: int
    level: bool
    beside: tuple[float, float]
    at: tuple[int, int]
    planes: tuple[int, int]
    strays: tuple[int, int]
    covering: tuple[int, float] | None

    @property
    def columns(self) -> tuple[int, ...]:
        """The unknowns its length depends on: the spot, each plane with its stray, and the covering if there is one."""
        touched = (
            place
            for plane, stray in zip(self.planes, self.strays, strict=True)
            for place in (plane, plane + 1, plane + 2, stray)
        )
        return (*self.at, *touched, self.covering[0] if self.covering else self.strays[0])


def observe_spans(readings: list[SpanReading], survey: Survey, unknowns: Unknowns, start: Vector) -> Made:
    """A tape between two surfaces reads their distance, plumb or square to both in plan, with its own errors."""
    spans = [_span(reading, unknowns) for reading in readings]
    columns = with_tape_errors(np.array([span.columns for span in spans]), unknowns)
    values = np.array([reading.length_mm for reading in readings])
    sds = np.array(
        [
            reading.sd_mm or math.hypot(tape_sd_mm(reading.length_mm, survey.tools), _misplaced(span, start))
            for reading, span in zip(readings, spans, strict=True)
        ]
    )

    def evaluate(state: Vector) -> tuple[Vector, Matrix]:
        lengths, rows = zip(*(_length(span, state) for span in spans), strict=True)
        read, jacobian = as_read(np.array(lengths), np.array(rows), state, unknowns)
        return read - values, jacobian

    return columns, evaluate, values, sds


def _span(reading: SpanReading, unknowns: Unknowns) -> _Span:
    across, p, q = unknowns.shape.axes(reading.first)
    beside = reading.aside_mm * vector_of(reading.aside)
    spot = unknowns.spot(reading.start)
    first, second = (unknowns.station(station) for station in span_stations(reading, unknowns.shape))
    return _Span(
        sign=unknowns.shape.into_room(reading.first),
        level=across == 2,
        beside=(float(beside[p]), float(beside[q])),
        at=(spot + p, spot + q),
        planes=(unknowns.surface(reading.first), unknowns.surface(reading.second)),
        strays=(first, second),
        covering=(unknowns.set_up(NAMES[reading.over]), -2.0 * INTO_ROOM[reading.over]) if reading.over else None,
    )


def _misplaced(span: _Span, start: Vector) -> float:
    """Return what holding the tape a little beside its place does where one surface slopes, one standard deviation."""
    first, second = (start[plane + 1 : plane + 3] for plane in span.planes)
    return PLACED_SD_MM * float(np.linalg.norm(second - first))


def _length(span: _Span, state: Vector) -> tuple[float, Vector]:
    """Return a span's length with its derivatives by the unknowns it depends on. [mm]"""
    p, q = (state[at] + beside for at, beside in zip(span.at, span.beside, strict=True))
    row = np.zeros(len(span.columns))
    gap, turn = 0.0, 0.0
    for first, sign, plane, stray in zip((2, 6), (-span.sign, span.sign), span.planes, span.strays, strict=True):
        offset, a, b = state[plane : plane + 3]
        norm = math.sqrt(1 + a**2 + b**2)
        gap += sign * (offset + a * p + b * q + norm * state[stray])
        by_tilts = (sign * (p + state[stray] * a / norm), sign * (q + state[stray] * b / norm))
        row[first : first + 4] = sign, *by_tilts, sign * norm
        row[:2] += sign * a, sign * b
        turn += 0.0 if span.level else a / 2
    square = 1 / math.sqrt(1 + turn**2)
    row *= square
    if not span.level:
        row[[3, 7]] -= gap * turn * square**3 / 2
    length = gap * square
    if span.covering is not None:
        thickness, share = span.covering
        length += share * state[thickness]
        row[-1] = share
    return length, row
