"""A network's observations once for all: what stays the same however wavy the walls, whichever readings count."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.solvers.whitened import Block, Evaluate
from nookwright.stages.inputs.survey import SurfaceName, Survey, Tools
from nookwright.stages.room.beliefs import Belief, belief_block, square_block, waviness
from nookwright.stages.room.strays import Touched, own_variances, places_of, touched_on
from nookwright.stages.survey.readings import Observed, observe
from nookwright.stages.survey.scan_pose import scan_block
from nookwright.stages.survey.unknowns import Unknowns

VAGUER = 10.0
"""How many times vaguer the vague beliefs are made where they must not decide anything."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SurfaceRows:
    """A surface's strays turned into independent ones: what near places share, and how they differ.

    The variance of each is 1 and `scaled` times the waviness squared.

    Args:
        touched: the places touched on it.
        shared: covariance of what the strays share, at a waviness of 1 mm.
        own: variance of what each strays on its own account. [mm2]
        turn: what the strays are multiplied by.
        scaled: how the variances grow with the waviness squared. [1/mm2]
    """

    touched: Touched
    shared: Matrix
    own: Vector
    turn: Matrix
    scaled: Vector

    def evaluate(self, state: Vector) -> tuple[Vector, Matrix]:
        """Return the turned strays at a state, with derivatives by the surface's own unknowns."""
        return self.touched.strays(state, self.turn)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Rows:
    """Everything read and believed, as independent observations.

    The variance of each is `fixed` and `scaled` times the waviness squared; those of surfaces stand apart.

    Args:
        columns: the unknowns each depends on.
        evaluate: gives residuals and derivatives by these.
        fixed, scaled: parts of the variances.
        vague: whether each is a belief only there to settle what nothing was read about.
        places: of the first rows, the readings: which reading of the survey each is.
        values: of these: what was read.
        surfaces: how each surface strays from its plane.
    """

    columns: NDArray[np.intp]
    evaluate: Evaluate
    fixed: Vector
    scaled: Vector
    vague: NDArray[np.bool_]
    places: NDArray[np.intp]
    values: Vector
    surfaces: tuple[SurfaceRows, ...]

    @property
    def read(self) -> list[tuple[int, float]]:
        """Of each reading: which one of the survey it is, and what was read."""
        return list(zip(self.places.tolist(), self.values.tolist(), strict=True))

    @property
    def doubtful(self) -> Vector:
        """The fixed parts of the variances with every vague belief made vaguer: it decides nothing then."""
        return np.where(self.vague, VAGUER**2, 1.0) * self.fixed

    def sds(self, waviness_mm: float) -> Vector:
        """Return the standard deviations on surfaces so wavy."""
        found: Vector = np.sqrt(self.fixed + waviness_mm**2 * self.scaled)
        return found

    def blocks(self, sds: Vector, kept: NDArray[np.intp], waviness_mm: float) -> list[Block]:
        """Return the observations for an adjustment.

        Args:
            sds: a standard deviation a row.
            kept: the rows that count.
            waviness_mm: how wavy surfaces are. [mm]
        """
        whole = len(kept) == len(self.columns)

        def evaluate(state: Vector) -> tuple[Vector, Matrix]:
            residuals, jacobian = self.evaluate(state)
            return residuals[kept], jacobian[kept]

        rows = Block(evaluate=self.evaluate if whole else evaluate, columns=self.columns[kept], sd=sds[kept])
        return [
            rows,
            *(
                Block(
                    evaluate=surface.evaluate,
                    columns=surface.touched.columns,
                    sd=np.sqrt(1 + waviness_mm**2 * surface.scaled),
                )
                for surface in self.surfaces
            ),
        ]


def rows_of(survey: Survey, unknowns: Unknowns, start: Vector, beliefs: Sequence[Belief]) -> Rows:
    """Return everything read and believed of a room.

    Args:
        survey: the field book; all its readings count.
        unknowns: what they speak of.
        start: their first guess.
        beliefs: what is believed apart from the readings.

    Returns:
        Readings, beliefs, squareness of tapes held square, spots picked in scans, in that order; and the surfaces.
    """
    flat = _observed(survey, unknowns, start, 0.0)
    square = square_block(survey, unknowns)
    others = [*([square] if square else []), *(scan_block(scan, unknowns) for scan in unknowns.scans)]
    blocks = [*(one.block for one in flat), belief_block(beliefs), *others]
    variances = [np.square(block.sd) for block in blocks if block.sd is not None]
    fixed = np.concatenate(variances)
    read, believed = sum(len(one.sds) for one in flat), [belief.vague for belief in beliefs]
    return Rows(
        columns=_side_by_side([block.columns for block in blocks]),
        evaluate=_together(blocks, [len(each) for each in variances]),
        fixed=fixed,
        scaled=_grown(survey, unknowns, start, fixed, read),
        vague=np.concatenate([np.zeros(read, bool), believed, np.zeros(len(fixed) - read - len(believed), bool)]),
        places=np.array([place for one in flat for place in one.places], dtype=np.intp),
        values=np.concatenate([np.empty(0), *(one.values for one in flat)]),
        surfaces=tuple(_surface_rows(surface, unknowns, start, survey.tools) for surface in unknowns.surfaces),
    )


def retooled(rows: Rows, survey: Survey, unknowns: Unknowns, start: Vector, beliefs: Sequence[Belief]) -> Rows:
    """Return the same rows had the readings been taken with other tools.

    Args:
        rows: the rows.
        survey: the field book with those tools.
        unknowns, start: as the rows were made with.
        beliefs: what is then believed apart from the readings.
    """
    sds = [one.sds for one in _observed(survey, unknowns, start, 0.0)]
    sds.append(np.array([belief.sd for belief in beliefs]))
    told = np.square(np.concatenate(sds))
    fixed = np.concatenate([told, rows.fixed[len(told) :]])
    return replace(rows, fixed=fixed, scaled=_grown(survey, unknowns, start, fixed, len(rows.places)))


def _grown(survey: Survey, unknowns: Unknowns, start: Vector, fixed: Vector, read: int) -> Vector:
    """Return by how much a millimetre of waviness makes the variances grow: only those of readings do."""
    wavy = [np.square(one.sds) for one in _observed(survey, unknowns, start, 1.0)]
    found = np.zeros(len(fixed))
    found[:read] = np.concatenate([np.empty(0), *wavy]) - fixed[:read]
    return found


def _observed(survey: Survey, unknowns: Unknowns, start: Vector, waviness_mm: float) -> tuple[Observed, ...]:
    """Return the readings on surfaces so wavy."""
    tools = replace(survey.tools, waviness_mm=waviness_mm)
    return observe(replace(survey, tools=tools), unknowns, start)


def _surface_rows(surface: SurfaceName, unknowns: Unknowns, start: Vector, tools: Tools) -> SurfaceRows:
    """Return a surface's strays as multiples of what each strays on its own account, turned until independent."""
    own = own_variances(surface, unknowns)
    shared = waviness(places_of(start, surface, unknowns), None, replace(tools, waviness_mm=1.0))
    even = 1 / np.sqrt(own)
    sizes, turn = np.linalg.eigh(even[:, None] * shared * even)
    return SurfaceRows(
        touched=touched_on(surface, unknowns),
        shared=shared,
        own=own,
        turn=turn.T * even,
        scaled=np.maximum(sizes, 0.0),
    )


def _side_by_side(columns: list[NDArray[np.intp]]) -> NDArray[np.intp]:
    """Return the unknowns of all rows in one table; rows that depend on fewer name their first one again."""
    width = max(each.shape[1] for each in columns)
    return np.concatenate([np.hstack([each, np.repeat(each[:, :1], width - each.shape[1], 1)]) for each in columns])


def _together(blocks: list[Block], counts: list[int]) -> Evaluate:
    """Return what evaluates blocks one after the other into one table."""
    width = max(block.columns.shape[1] for block in blocks)
    ends = np.cumsum(counts)
    places = [slice(end - count, end) for end, count in zip(ends.tolist(), counts, strict=True)]
    whole = int(ends[-1])

    def evaluate(state: Vector) -> tuple[Vector, Matrix]:
        residuals, jacobian = np.empty(whole), np.zeros((whole, width))
        for block, rows in zip(blocks, places, strict=True):
            residuals[rows], its = block.evaluate(state)
            jacobian[rows, : its.shape[1]] = its
        return residuals, jacobian

    return evaluate
