"""The network of a survey: all that was read and believed, ready to be adjusted with any waviness and any readings."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace

import numpy as np

from nookwright.basics.problems import InvalidInputError
from nookwright.solvers.adjust import Adjustment, Block, adjust
from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.solvers.shared_scale import ScaledSystem
from nookwright.stages.inputs.survey import Reading, ScaleReading, SurfaceName, Survey, Tools
from nookwright.stages.room.beliefs import (
    Belief,
    belief_block,
    beliefs_of,
    square_block,
    waviness,
    waviness_block,
)
from nookwright.stages.room.strays import own_variances, places_of, strays_of
from nookwright.stages.survey.readings import Observed, observe
from nookwright.stages.survey.scan_pose import scan_block, set_poses
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

ROUGH = Effort(iterations=20, standstill=1e-2)
"""Enough for a state that is only looked at once."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Network:
    """A survey with its unknowns and what is believed of them.

    Args:
        survey: the field book; all its readings count.
        unknowns: what the readings speak of.
        start: their first guess.
        beliefs: what is believed apart from the readings.
    """

    survey: Survey
    unknowns: Unknowns
    start: Vector
    beliefs: tuple[Belief, ...]

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
        observed: the readings that counted, in the order of those rows.
        waviness_mm: how wavy surfaces were taken to be. [mm]
    """

    adjustment: Adjustment
    observed: tuple[Observed, ...]
    waviness_mm: float

    @property
    def places(self) -> tuple[int, ...]:
        """Of each reading's row: which reading of the survey it is."""
        return tuple(place for one in self.observed for place in one.places)


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


def _network(counted: Survey, unknowns: Unknowns) -> Network:
    start = sketch_with_scans(counted, unknowns)
    set_poses(start, unknowns)
    beliefs = beliefs_of(counted, unknowns, start)
    return Network(survey=counted, unknowns=unknowns, start=start, beliefs=beliefs)


def solve(
    network: Network,
    waviness_mm: float,
    aside: Collection[int] = (),
    state: Vector | None = None,
    *,
    effort: Effort,
    slack: Vector | None = None,
) -> Solution:
    """Adjust a network.

    Args:
        network: the network.
        waviness_mm: how wavy its surfaces are, one standard deviation. [mm]
        aside: readings that do not count, by their place in the survey.
        state: where to start; None for the first guess.
        effort: how far it is driven.
        slack: by how much each reading's standard deviation grows; None for not at all. Only with nothing aside.

    Returns:
        The solution; it need not have converged.
    """
    tools = replace(network.survey.tools, waviness_mm=waviness_mm)
    observed = _observed(network, tools, aside)
    if slack is not None:
        observed = _loosened(observed, slack)
    unknowns = network.unknowns
    surfaces = [waviness_block(surface, unknowns, network.start, tools) for surface in unknowns.surfaces]
    adjustment = adjust(
        start=network.start if state is None else state,
        blocks=[*(one.block for one in observed), *_believed(network), *surfaces],
        held=network.held,
        most_iterations=effort.iterations,
        standstill=effort.standstill,
    )
    return Solution(adjustment=adjustment, observed=observed, waviness_mm=waviness_mm)


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
    flat, wavy = (_observed(network, replace(network.survey.tools, waviness_mm=size), aside) for size in (0.0, 1.0))
    parts = [_part(one.block, state, other.sds**2 - one.sds**2) for one, other in zip(flat, wavy, strict=True)]
    parts += [_part(block, state) for block in _believed(replace(network, beliefs=_vaguer(network.beliefs)))]
    parts += [_surface_part(network, surface, state) for surface in network.unknowns.surfaces]
    residuals, jacobians, fixed, scaled = zip(*parts, strict=True)
    free = np.setdiff1d(np.arange(len(state)), network.held)
    return ScaledSystem(
        residuals=np.concatenate(residuals),
        jacobian=np.concatenate(jacobians)[:, free],
        fixed=np.concatenate(fixed),
        scaled=np.concatenate(scaled),
    )


_Part = tuple[Vector, Matrix, Vector, Vector]


def _part(block: Block, state: Vector, scaled: Vector | None = None) -> _Part:
    """Return independent observations with both parts of their variances."""
    residuals, jacobian = block.evaluate(state)
    sds = np.asarray(block.sd)
    return residuals, jacobian, sds**2, np.zeros_like(sds) if scaled is None else scaled


def _surface_part(network: Network, surface: SurfaceName, state: Vector) -> _Part:
    """Return a surface's strays turned into independent ones: what two near places share, and how they differ."""
    strays, jacobian = strays_of(state, surface, network.unknowns)
    points = places_of(network.start, surface, network.unknowns)
    sizes, turn = np.linalg.eigh(waviness(points, None, replace(network.survey.tools, waviness_mm=1.0)))
    return turn.T @ strays, turn.T @ jacobian, own_variances(surface, network.unknowns), np.maximum(sizes, 0.0)


def _vaguer(beliefs: tuple[Belief, ...]) -> tuple[Belief, ...]:
    """Return the beliefs with the vague ones ten times vaguer."""
    return tuple(replace(belief, sd=10 * belief.sd) if belief.vague else belief for belief in beliefs)


def _observed(network: Network, tools: Tools, aside: Collection[int]) -> tuple[Observed, ...]:
    """Return the readings that count."""
    observed = observe(replace(network.survey, tools=tools), network.unknowns, network.start)
    if not aside:
        return observed
    kept = [(one, [row for row, place in enumerate(one.places) if place not in aside]) for one in observed]
    return tuple(_only(one, rows) for one, rows in kept if rows)


def readings_off(network: Network, state: Vector) -> Vector:
    """Return how many of its own standard deviations each reading is off, in the order of `Solution.places`."""
    observed = _observed(network, network.survey.tools, ())
    return np.concatenate([one.block.evaluate(state)[0] / one.sds for one in observed])


def _loosened(observed: tuple[Observed, ...], slack: Vector) -> tuple[Observed, ...]:
    """Return the readings with greater standard deviations."""
    first, found = 0, []
    for one in observed:
        sds = one.sds * slack[first : first + len(one.sds)]
        found.append(replace(one, block=replace(one.block, sd=sds), sds=sds))
        first += len(sds)
    return tuple(found)


def _only(one: Observed, rows: list[int]) -> Observed:
    """Return some of the readings of one kind."""
    whole = one.block.evaluate

    def evaluate(state: Vector) -> tuple[Vector, Matrix]:
        residuals, jacobian = whole(state)
        return residuals[rows], jacobian[rows]

    sds = one.sds[rows]
    return Observed(
        block=Block(evaluate=evaluate, columns=one.block.columns, sd=sds),
        places=tuple(one.places[row] for row in rows),
        values=one.values[rows],
        sds=sds,
    )


def _believed(network: Network) -> list[Block]:
    """Return everything but readings and waviness: beliefs, squareness of tapes held square, spots picked in scans."""
    square = square_block(network.survey, network.unknowns)
    scans = [scan_block(scan, network.unknowns) for scan in network.unknowns.scans]
    return [belief_block(network.beliefs, network.unknowns.count), *([square] if square else []), *scans]


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
    return float(residuals[0]), jacobian[0], float(one.sds[0])
