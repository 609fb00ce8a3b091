"""A rough plan: where the columns of a room stand, from tapes as typed and the nominal shape of its kind.

Every kind is treated alike. The plan that agrees best with the tapes' level runs is sought, beginning at the nominal
one; where tapes leave something open, walls and sight lines keep their nominal directions, which also settles which
of two mirror images it is. A tape far off counts little, so that one slip does not bend the plan.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

import numpy as np

from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.stages.inputs.survey import SurfaceName
from nookwright.stages.survey.shape import Shape

TAPE_SD_MM = 5.0
"""How closely a run agrees with the plan: walls lean, so tapes at different heights differ. [mm] Common practice, no
source."""

TURN_SD = 0.09
"""How far a line of the plan strays from its nominal direction: 5 degrees, as a tangent. Common practice, no source."""

SIZE_SD_TIMES = 20.0
"""A length is nominal within so many times itself: this only keeps open ones from running away."""

OPEN_SD_TIMES = 0.25
"""A length less sure than this share of its nominal size is open. Common practice, no source."""

FAR_SDS = 2.0
ROUNDS = 30
SETTLED_MM = 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """A level run between two columns, or from a column square to a wall. [mm]"""

    start: str
    end: str
    wall: SurfaceName | None
    length_mm: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class RoughPlan:
    """A rough plan.

    Args:
        places: x and y of every column. [mm]
        covariance: of all x and y, in the order of the columns.
        columns: their names in that order.
    """

    places: dict[str, tuple[float, float]]
    covariance: Matrix
    columns: tuple[str, ...]

    def sd_between(self, first: str, second: str) -> float:
        """Return the standard deviation of the distance of two columns. [mm]"""
        (x1, y1), (x2, y2) = self.places[first], self.places[second]
        along = np.array([x2 - x1, y2 - y1])
        row = np.zeros(2 * len(self.columns))
        for name, sign in ((first, -1.0), (second, 1.0)):
            at = 2 * self.columns.index(name)
            row[at : at + 2] = sign * along / max(float(np.hypot(*along)), 1.0)
        return float(np.sqrt(row @ self.covariance @ row))

    def is_open(self, shape: Shape, first: str, second: str) -> bool:
        """Return whether the distance of two columns is open."""
        (x1, y1), (x2, y2) = shape.columns[first].place, shape.columns[second].place
        return self.sd_between(first, second) > OPEN_SD_TIMES * float(np.hypot(x2 - x1, y2 - y1))


def rough_plan(shape: Shape, runs: Sequence[Run]) -> RoughPlan:
    """Return the plan that fits the runs, as near to the nominal one as they leave it.

    Args:
        shape: the room's kind.
        runs: level runs of tapes.

    Returns:
        The plan, its frame that of the room: the origin's column at 0, 0 and the x axis through the frame's other end.
    """
    names = tuple(shape.columns)
    index = {name: 2 * place for place, name in enumerate(names)}
    state = np.array([part for name in names for part in shape.columns[name].place])
    state = _scale(shape, runs) * (state - np.tile(shape.columns[shape.frame[0]].place, len(names)))
    held = [index[shape.frame[0]], index[shape.frame[0]] + 1, index[shape.frame[1]] + 1]
    free = np.setdiff1d(np.arange(len(state)), held)
    belief, believed, belief_sds = _nominal_rows(shape, index, state)
    sides = {frozenset(line.columns) for line in shape.lines}
    straight = [run for run in runs if run.wall or frozenset((run.start, run.end)) in sides]
    for used in (straight, list(runs)):
        for _ in range(ROUNDS):
            off, rows = _run_rows(shape, index, state, used)
            sds = TAPE_SD_MM * np.sqrt(np.maximum(np.abs(off) / (FAR_SDS * TAPE_SD_MM), 1.0))
            design = np.concatenate([belief / belief_sds[:, None], rows / sds[:, None]])[:, free]
            wrong = np.concatenate([(belief @ state - believed) / belief_sds, off / sds])
            normal = design.T @ design
            step = np.linalg.solve(normal, design.T @ wrong)
            state[free] -= step
            if float(np.abs(step).max()) < SETTLED_MM:
                break
    covariance = np.zeros((len(state), len(state)))
    covariance[np.ix_(free, free)] = np.linalg.inv(normal)
    places = {name: (float(state[at]), float(state[at + 1])) for name, at in index.items()}
    return RoughPlan(places=places, covariance=covariance, columns=names)


def _scale(shape: Shape, runs: Sequence[Run]) -> float:
    """Return how many times larger than the nominal plan the room is."""
    shares = []
    for run in runs:
        if run.wall is None:
            (x1, y1), (x2, y2) = shape.columns[run.start].place, shape.columns[run.end].place
            shares.append(run.length_mm / float(np.hypot(x2 - x1, y2 - y1)))
    return median(shares) if shares else 1.0


def _nominal_rows(shape: Shape, index: dict[str, int], state: Vector) -> tuple[Matrix, Vector, Vector]:
    """Return what is believed of the lines: their directions, and vaguely their lengths."""
    rows, values, sds = [], [], []
    for line in shape.lines:
        first, second = (index[name] for name in line.columns)
        along = state[second : second + 2] - state[first : first + 2]
        length = float(np.hypot(*along))
        way = along / length
        for part, value, sd in (
            (np.array([-way[1], way[0]]), 0.0, TURN_SD * length),
            (way, length, SIZE_SD_TIMES * length),
        ):
            row = np.zeros(len(state))
            row[second : second + 2], row[first : first + 2] = part, -part
            rows.append(row)
            values.append(value)
            sds.append(sd)
    return np.array(rows), np.array(values), np.array(sds)


def _run_rows(shape: Shape, index: dict[str, int], state: Vector, runs: Sequence[Run]) -> tuple[Vector, Matrix]:
    """Return how much longer each run is in the plan than it was read, with derivatives."""
    off, rows = np.zeros(len(runs)), np.zeros((len(runs), len(state)))
    for number, run in enumerate(runs):
        start = index[run.start]
        if run.wall is not None:
            way = np.array(shape.walls[run.wall].facing)
            rows[number, start : start + 2] = way
            for end in (index[name] for name in shape.walls[run.wall].ends):
                rows[number, end : end + 2] -= way / 2
            off[number] = float(rows[number] @ state) - run.length_mm
        else:
            end = index[run.end]
            along = state[end : end + 2] - state[start : start + 2]
            length = max(float(np.hypot(*along)), 1.0)
            rows[number, end : end + 2], rows[number, start : start + 2] = along / length, -along / length
            off[number] = length - run.length_mm
    return off, rows
