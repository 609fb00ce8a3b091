"""From the field book to the room: one adjustment of all readings, with what it says of each."""

from __future__ import annotations

import numpy as np

from nookwright.basics.problems import Inspection, InvalidInputError, Problem, Where
from nookwright.solvers.adjust import Adjustment, Block, adjust, covariance_with
from nookwright.solvers.chance import chi_square_quantile, wrong_rows
from nookwright.solvers.linear_fit import Vector
from nookwright.stages.inputs.survey import (
    BevelReading,
    LevelReading,
    PitchReading,
    PlumbReading,
    Reading,
    Survey,
    TapeReading,
)
from nookwright.stages.room.beliefs import Belief, belief_block, beliefs_of, square_block, waviness_block
from nookwright.stages.room.derived import Adjusted, derive
from nookwright.stages.room.height_field import height_field
from nookwright.stages.room.room import Derived, GlobalTest, ReadingFit, Room, SpotFix
from nookwright.stages.survey.examine import examine
from nookwright.stages.survey.readings import Observed, observe
from nookwright.stages.survey.sketch import sketch
from nookwright.stages.survey.spots import ORIGIN
from nookwright.stages.survey.unknowns import Unknowns, unknowns_of

FALSE_ALARM = 0.05
"""Chance that a good field book is told to hold a slip, and that its readings disagree as a whole."""

LEAST_CORNER_DEG = 45.0
MOST_LEAN_MM_PER_M = 100.0
"""Beyond these the readings hold a slip that nothing else checks. Common practice, no source."""

MOST_ITERATIONS = 400
STANDSTILL = 1e-8
"""A usual room settles in 6 steps; four sides without a diagonal give way like a hinge and take a hundred."""


def reconcile(survey: Survey) -> Room:
    """Work out the room that agrees best with all readings at once, and how sure it is.

    Args:
        survey: the field book.

    Returns:
        The room. Readings that are probably slips are marked, not left out.

    Raises:
        InvalidInputError: if the field book cannot be worked with; carries every problem at once.
    """
    examine(survey)
    unknowns = unknowns_of(survey)
    start = sketch(survey, unknowns)
    observed = observe(survey, unknowns, start)
    beliefs = beliefs_of(survey, unknowns, start)
    adjustment = adjust(
        start=start,
        blocks=_blocks(survey, unknowns, start, observed, beliefs),
        held=_held(unknowns),
        most_iterations=MOST_ITERATIONS,
        standstill=STANDSTILL,
    )
    _expect_settled(adjustment, survey, observed)
    weights = _looser(adjustment, observed, beliefs)
    fields = {surface: height_field(surface, unknowns, adjustment.state, survey.tools) for surface in unknowns.surfaces}
    adjusted = Adjusted(
        survey=survey,
        unknowns=unknowns,
        state=adjustment.state,
        covariance=adjustment.covariance,
        loose=covariance_with(adjustment, weights),
        fields=fields,
    )
    derived = derive(adjusted)
    _expect_plausible(derived)
    return Room(
        survey=survey,
        surfaces=unknowns.surfaces,
        spots=_spot_fixes(adjusted),
        fits=_fits(survey, adjustment, observed),
        derived=derived,
        global_test=_global_test(adjustment, weights),
        fields=fields,
        covariance=adjustment.covariance,
    )


def _blocks(
    survey: Survey,
    unknowns: Unknowns,
    start: Vector,
    observed: tuple[Observed, ...],
    beliefs: tuple[Belief, ...],
) -> list[Block]:
    """Return all observations: readings first, then beliefs, then what the surfaces are like."""
    surfaces = [waviness_block(surface, unknowns, start, survey.tools) for surface in unknowns.surfaces]
    square = square_block(survey, unknowns)
    return [
        *(one.block for one in observed),
        belief_block(beliefs, unknowns.count),
        *([square] if square else []),
        *surfaces,
    ]


def _held(unknowns: Unknowns) -> list[int]:
    """Hold the frame: the origin in place, and the back wall's other end straight along x."""
    origin = unknowns.spot(ORIGIN)
    first_right = next(spot for spot in unknowns.spots if spot.column.name == "BR" and spot.level != "foot")
    return [origin, origin + 1, origin + 2, unknowns.spot(first_right.name) + 1]


def _looser(adjustment: Adjustment, observed: tuple[Observed, ...], beliefs: tuple[Belief, ...]) -> Vector:
    """Return the weights that make every vague belief ten times vaguer."""
    weights = np.ones(len(adjustment.residuals))
    first = sum(len(one.places) for one in observed)
    for row, belief in enumerate(beliefs, first):
        if belief.vague:
            weights[row] = 0.1
    return weights


def _spot_fixes(adjusted: Adjusted) -> tuple[SpotFix, ...]:
    sds = np.sqrt(np.diag(adjusted.covariance))
    fixes = []
    for spot in adjusted.unknowns.spots[: adjusted.unknowns.named]:
        at = adjusted.unknowns.spot(spot.name)
        x, y, z = (float(value) for value in adjusted.state[at : at + 3])
        sx, sy, sz = (float(value) for value in sds[at : at + 3])
        fixes.append(SpotFix(name=spot.name, xyz=(x, y, z), sd=(sx, sy, sz)))
    return tuple(fixes)


def _fits(survey: Survey, adjustment: Adjustment, observed: tuple[Observed, ...]) -> tuple[ReadingFit, ...]:
    """Return each reading beside what the room says of it, in the order typed."""
    count = sum(len(one.places) for one in observed)
    suspects = set(wrong_rows(adjustment, range(count), chance=FALSE_ALARM))
    fits: dict[int, ReadingFit] = {}
    row = 0
    for one in observed:
        for place, value, sd in zip(one.places, one.values, one.sds, strict=True):
            reading = survey.readings[place]
            fits[place] = ReadingFit(
                text=told(reading),
                unit="deg" if isinstance(reading, (BevelReading, PitchReading)) else "mm",
                read=float(value),
                adjusted=float(value + adjustment.residuals[row]),
                sd=float(sd),
                redundancy=float(adjustment.redundancy[row]),
                w=float(adjustment.w[row]),
                suspect=row in suspects,
            )
            row += 1
    return tuple(fits[place] for place in sorted(fits))


def told(reading: Reading) -> str:
    """Return a reading as a person would say it, without its value."""
    match reading:
        case TapeReading():
            return f"tape {reading.start} - {reading.end}"
        case LevelReading():
            return f"level {reading.spot}"
        case PlumbReading():
            return f"plumb {reading.wall} {reading.first} - {reading.second}"
        case BevelReading():
            return f"bevel {reading.walls[0]} - {reading.walls[1]} at level {reading.level}"
        case PitchReading():
            return "pitch"


def _global_test(adjustment: Adjustment, weights: Vector) -> GlobalTest:
    """Test what is left over in everything but the vague beliefs, which hardly anything could contradict."""
    counted = weights == 1
    statistic = float(np.sum(adjustment.whitened_residuals[counted] ** 2))
    dof = round(float(np.sum(np.diag(adjustment.projector)[counted])))
    limit = chi_square_quantile(probability=1 - FALSE_ALARM, dof=dof) if dof else 0.0
    return GlobalTest(statistic=statistic, limit=limit, dof=dof, passed=not dof or statistic <= limit)


def _expect_plausible(derived: tuple[Derived, ...]) -> None:
    """Refuse a room that fits the readings but that nobody would stand in: a slip with nothing to check it."""
    inspection = Inspection()
    for one in derived:
        value = one.measured.value
        if one.name.startswith("back") and "corner" in one.name:
            inspection.expect(
                LEAST_CORNER_DEG <= value <= 180 - LEAST_CORNER_DEG,
                "readings",
                f"readings that give a {one.name} of {value:.0f} deg",
                f"a corner of {LEAST_CORNER_DEG:g} to {180 - LEAST_CORNER_DEG:g} deg",
                "Read the tapes that meet there again, the diagonals first.",
            )
        elif one.name.endswith("lean"):
            inspection.expect(
                abs(value) <= MOST_LEAN_MM_PER_M,
                "readings",
                f"readings that give a {one.name} of {value:.0f} mm/m",
                f"a wall within {MOST_LEAN_MM_PER_M:g} mm/m of plumb",
                "Plumb that wall again, and read again the tapes that end on it.",
            )
    inspection.finish()


def _expect_settled(adjustment: Adjustment, survey: Survey, observed: tuple[Observed, ...]) -> None:
    """Refuse readings so contradictory that no room fits them; name the worst."""
    if adjustment.converged:
        return
    places = [place for one in observed for place in one.places]
    worst = places[int(np.argmax(np.abs(adjustment.w[: len(places)])))]
    reading = survey.readings[worst]
    raise InvalidInputError(
        (
            Problem(
                where=reading.where if str(reading.where) else Where(path=f"readings[{worst}]"),
                found="readings that no room fits",
                expected="readings that agree",
                hint=f"Read {told(reading)} again: it disagrees most.",
            ),
        )
    )
