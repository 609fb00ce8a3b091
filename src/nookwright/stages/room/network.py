"""The network of a survey: all that was read and believed, ready to be adjusted with any waviness and any readings."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from nookwright.basics.problems import InvalidInputError
from nookwright.solvers.adjust import Adjustment, Settled, adjust
from nookwright.solvers.adjust import settle as adjust_state
from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.solvers.shared_scale import Alike, ScaledSystem, Spent
from nookwright.solvers.whitened import spread_out, system_of
from nookwright.stages.inputs.survey import Reading, ScaleReading, Survey
from nookwright.stages.room.beliefs import Belief, beliefs_of
from nookwright.stages.room.rows import Rows, retooled, rows_of
from nookwright.stages.room.taken_out import taken_out
from nookwright.stages.survey.readings import observe
from nookwright.stages.survey.scan_pose import set_poses
from nookwright.stages.survey.scan_sketch import sketch_with_scans
from nookwright.stages.survey.unknowns import Unknowns, scale_name, unknowns_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Effort:
    """How far an adjustment is driven: the most steps it takes, and the change that counts as none."""

    iterations: int
    standstill: float


THOROUGH = Effort(iterations=150, standstill=1e-8)
"""A usual room settles in 6 steps; four sides without a diagonal give way like a hinge and take a hundred."""

SEARCHING = Effort(iterations=40, standstill=1e-4)
"""Enough to see which readings disagree; what has not settled by then disagrees."""

FIRST_LOOK = Effort(iterations=12, standstill=1e-4)
"""A room that has not settled by then holds a slip that bends it, or hinges: either way it is made to give way."""

ROUGH = Effort(iterations=20, standstill=1e-2)
"""Enough for a state that is only looked at once."""

STANDING = Effort(iterations=0, standstill=0.0)
"""The state stays as it is; how sure it is of everything there is all that is asked."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Network:
    """A survey with its unknowns and what is believed of them.

    Args:
        survey: the field book; all its readings count.
        unknowns: what the readings speak of.
        start: their first guess.
        beliefs: what is believed apart from the readings.
        rows: all that as observations.
    """

    survey: Survey
    unknowns: Unknowns
    start: Vector
    beliefs: tuple[Belief, ...]
    rows: Rows = field(repr=False)
    _spent: list[Spent] = field(repr=False, default_factory=list)

    @property
    def spent(self) -> Spent:
        """Which observations take which unknowns out; worked out when it is first asked for."""
        if not self._spent:
            self._spent.append(taken_out(self.rows, self.unknowns, self.start, self.held))
        return self._spent[0]

    @property
    def held(self) -> list[int]:
        """Unknowns that hold the frame: the origin in place, and the back wall's other end straight along x."""
        shape = self.unknowns.shape
        origin, datum = self.unknowns.spot(shape.origin), self.unknowns.spot(self.unknowns.datum)
        first_right = next(
            spot for spot in self.unknowns.spots if spot.column.name == shape.frame[1] and spot.level != "foot"
        )
        return [origin, origin + 1, datum + 2, self.unknowns.spot(first_right.name) + 1]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Solution:
    """A network adjusted with one waviness and some readings set aside.

    Args:
        adjustment: the adjustment; its first rows are the readings.
        places: of each of those rows: which reading of the survey it is.
        values: what was read.
        sds: its standard deviation.
    """

    adjustment: Adjustment
    places: tuple[int, ...]
    values: Vector
    sds: Vector


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Linear:
    """A network taken to be linear.

    Args:
        covariance: of the unknowns; zero for held ones.
        shift: what each wants to move by.
    """

    covariance: Matrix
    shift: Vector


def network_of(survey: Survey) -> Network:
    """Return the network of a survey.

    Spots that only left-out readings name keep their place in it where the others leave them one, so that the room
    can say what should have been read.

    Args:
        survey: a field book that `examine` found good.

    Returns:
        The network, of the readings that count.

    Raises:
        InvalidInputError: if the readings that count do not suffice for a first guess.
    """
    counted = survey.counted
    if len(counted.readings) < len(survey.readings):
        try:
            return _network(counted, unknowns_of(survey))
        except InvalidInputError:  # nothing else tells of a surface or a depth that a left-out reading names
            pass
    return _network(counted, unknowns_of(counted))


def network_about(survey: Survey, unknowns: Unknowns, start: Vector) -> Network:
    """Return the network of a field book whose unknowns and first guess are settled; all its readings count."""
    beliefs = beliefs_of(survey, unknowns, start)
    rows = rows_of(survey, unknowns, start, beliefs)
    return Network(survey=survey, unknowns=unknowns, start=start, beliefs=beliefs, rows=rows)


def with_tools_of(network: Network, survey: Survey) -> Network:
    """Return the same network had the readings been taken with the tools of another field book.

    Args:
        network: the network.
        survey: the same field book but for tools and the readings' own standard deviations.
    """
    beliefs = beliefs_of(survey, network.unknowns, network.start)
    rows = retooled(network.rows, survey, network.unknowns, network.start, beliefs)
    return replace(network, survey=survey, beliefs=beliefs, rows=rows)


def _network(counted: Survey, unknowns: Unknowns) -> Network:
    start = sketch_with_scans(counted, unknowns)
    set_poses(start, unknowns)
    return network_about(counted, unknowns, start)


def solve(
    network: Network, waviness_mm: float, aside: Collection[int] = (), state: Vector | None = None, *, effort: Effort
) -> Solution:
    """Adjust a network.

    Args:
        network: the network.
        waviness_mm: how wavy its surfaces are, one standard deviation. [mm]
        aside: readings that do not count, by their place in the survey.
        state: where to start; None for the first guess.
        effort: how far it is driven.

    Returns:
        The solution; it need not have converged.
    """
    rows = network.rows
    kept, sds = _kept(rows, aside), rows.sds(waviness_mm)
    adjustment = adjust(
        start=network.start if state is None else state,
        blocks=rows.blocks(sds, kept, waviness_mm),
        held=network.held,
        most_iterations=effort.iterations,
        standstill=effort.standstill,
    )
    read = kept[kept < len(rows.places)]
    return Solution(
        adjustment=adjustment, places=tuple(rows.places[read].tolist()), values=rows.values[read], sds=sds[read]
    )


def settle(
    network: Network,
    waviness_mm: float,
    aside: Collection[int] = (),
    state: Vector | None = None,
    *,
    effort: Effort,
    slack: Vector | None = None,
) -> Settled:
    """Adjust a network where only its state is asked for.

    Args:
        network: the network.
        waviness_mm: how wavy its surfaces are, one standard deviation. [mm]
        aside: readings that do not count, by their place in the survey.
        state: where to start; None for the first guess.
        effort: how far it is driven.
        slack: by how much each reading's standard deviation grows, in the order of `Rows.places`; None for not at all.

    Returns:
        The state; it need not have converged.
    """
    rows = network.rows
    sds = rows.sds(waviness_mm)
    if slack is not None:
        sds[: len(slack)] *= slack
    return adjust_state(
        start=network.start if state is None else state,
        blocks=rows.blocks(sds, _kept(rows, aside), waviness_mm),
        held=network.held,
        most_iterations=effort.iterations,
        standstill=effort.standstill,
    )


def _kept(rows: Rows, aside: Collection[int]) -> NDArray[np.intp]:
    """Return the rows that count."""
    left_out = np.flatnonzero(np.isin(rows.places, list(aside)))
    return np.delete(np.arange(len(rows.fixed)), left_out)


def scaled_system(network: Network, state: Vector, aside: Collection[int] = ()) -> ScaledSystem:
    """Return a network, linear about a state, with variances that grow with the waviness. [mm]

    What is only vaguely believed is believed ten times less: no reading is a slip because of it.

    Args:
        network: the network.
        state: where it is linear about.
        aside: readings that do not count, by their place in the survey.

    Returns:
        The system; its rows begin with the readings that count, in the order of `Solution.places`.
    """
    rows, count = network.rows, len(state)
    kept = _kept(rows, aside)
    residuals, jacobian = rows.evaluate(state)
    wavy = [surface.touched.strays(state, np.eye(len(surface.own))) for surface in rows.surfaces]
    strays = np.zeros((sum(len(off) for off, _ in wavy), count))
    alike, first = [], 0
    for surface, (off, own) in zip(rows.surfaces, wavy, strict=True):
        places = np.arange(first, first + len(off))
        strays[places[:, None], surface.touched.columns] = own
        alike.append(Alike(rows=len(kept) + places, covariance=surface.shared))
        first += len(off)
    free = np.setdiff1d(np.arange(count), network.held)
    spent = replace(network.spent, rows=network.spent.rows + len(kept) - len(rows.fixed))
    return ScaledSystem(
        residuals=np.concatenate([residuals[kept], *(off for off, _ in wavy)]),
        jacobian=np.concatenate([spread_out(jacobian[kept], rows.columns[kept], count), strays])[:, free],
        fixed=np.concatenate([rows.doubtful[kept], *(surface.own for surface in rows.surfaces)]),
        scaled=np.concatenate([rows.scaled[kept], np.zeros(first)]),
        alike=tuple(alike),
        spent=spent,
    )


def linear_about(network: Network, state: Vector, waviness_mm: float, aside: Collection[int] = ()) -> Linear:
    """Return a network, linear about a state; what is only vaguely believed is believed ten times less.

    Args:
        network: the network.
        state: the state.
        waviness_mm: how wavy its surfaces are, one standard deviation. [mm]
        aside: readings that do not count, by their place in the survey.

    Returns:
        How sure it is of each unknown, and where it would have it.
    """
    rows, count = network.rows, len(state)
    sds = np.sqrt(rows.doubtful + waviness_mm**2 * rows.scaled)
    system = system_of(rows.blocks(sds, _kept(rows, aside), waviness_mm), count, network.held)
    equations = system.at(state).equations()
    cofactors = np.linalg.inv(equations.matrix) / equations.scale / equations.scale[:, None]
    covariance, shift = np.zeros((count, count)), np.zeros(count)
    covariance[np.ix_(system.free, system.free)] = cofactors
    shift[system.free] = -cofactors @ (equations.gradient * equations.scale)
    return Linear(covariance=covariance, shift=shift)


def readings_off(network: Network, state: Vector) -> Vector:
    """Return how many of its own standard deviations each reading is off, in the order of `Rows.places`."""
    rows = network.rows
    read = len(rows.places)
    off: Vector = rows.evaluate(state)[0][:read] / rows.sds(network.survey.tools.waviness_mm)[:read]
    return off


def reading_row(network: Network, reading: Reading, state: Vector) -> tuple[float, Vector, float] | None:
    """Return a reading as one observation of a network it need not be part of.

    Args:
        network: the network.
        reading: the reading.
        state: where it is linear about.

    Returns:
        Residual (computed less read), its derivatives by the state, and the standard deviation; None when the
        network knows nothing of what was read.
    """
    survey = replace(network.survey, readings=(reading,))
    needed = unknowns_of(survey)
    known = {spot.name for spot in network.unknowns.spots}
    names = {spot.name for spot in needed.spots} - {needed.shape.origin, needed.shape.datum}
    if not (names <= known and set(needed.surfaces) <= set(network.unknowns.surfaces)):
        return None
    if not set(needed.stations) <= set(network.unknowns.stations):
        return None
    if isinstance(reading, ScaleReading) and scale_name(reading.scan) not in {
        one.name for one in network.unknowns.set_ups
    }:
        return None
    (one,) = observe(survey, network.unknowns, state)
    residuals, jacobian = one.block.evaluate(state)
    return float(residuals[0]), one.block.by_all(jacobian, len(state))[0], float(one.sds[0])
