"""From the field book to the room: one adjustment of all readings, with what it says of each."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from nookwright.basics.lengths import RATE_UNITS, show_rate
from nookwright.basics.measured import Measured
from nookwright.basics.problems import Inspection, InvalidInputError, Problem, Where
from nookwright.solvers.adjust import Adjustment, covariance_with
from nookwright.solvers.chance import chi_square_quantile
from nookwright.solvers.linear_fit import Vector
from nookwright.stages.inputs.survey import Survey
from nookwright.stages.room.derived import Adjusted, derive
from nookwright.stages.room.height_field import height_field
from nookwright.stages.room.judged import left_out, reading_fits, suspicion
from nookwright.stages.room.mirror import mirror_doubts
from nookwright.stages.room.network import STANDING, THOROUGH, Network, Solution, network_of, solve
from nookwright.stages.room.outlet_fixes import outlet_fixes, settled
from nookwright.stages.room.room import Derived, GlobalTest, Room, SpotFix
from nookwright.stages.room.rows import VAGUER
from nookwright.stages.room.slips import Hunt, hunt
from nookwright.stages.room.studs import stud_fixes
from nookwright.stages.survey.examine import examine
from nookwright.stages.survey.spoken import told

FALSE_ALARM = 0.05
"""Chance that the readings of a good field book are told to disagree as a whole."""

CORNER_OFF_DEG = 45.0
MOST_LEAN_MM_PER_M = 100.0
"""A corner or wall further than these from its nominal angle, or from plumb, tells of a slip that nothing else checks.
Common practice, no source."""


def reconcile(survey: Survey) -> Room:
    """Work out the room that agrees best with all readings at once, and how sure it is.

    Surfaces are taken to be as wavy as the readings show once suspects are set aside; then everything the user did
    not leave out is adjusted together.

    Args:
        survey: the field book.

    Returns:
        The room. Readings that are probably slips are marked, not left out.

    Raises:
        InvalidInputError: if the field book cannot be worked with; carries every problem at once.
    """
    examine(survey)
    network = network_of(survey)
    found = hunt(network)
    kept = found.without
    if found.suspects:
        kept = solve(network, found.waviness.at_spots_mm, (), found.careful, effort=THOROUGH)
    _expect_settled(kept, network, found)
    adjusted = adjusted_room(network, kept, found.waviness.between_mm)
    spread = _as_sure(network, found)
    derived = _with_spreads(derive(adjusted), derive(spread))
    _expect_plausible(derived, network, found)

    def without(aside: frozenset[int]) -> tuple[Derived, ...]:
        return _derived_without(network, found, aside) if aside else derived

    room = Room(
        survey=survey,
        surfaces=network.unknowns.surfaces,
        spots=spot_fixes(replace(adjusted, covariance=spread.covariance)),
        fits=reading_fits(network, kept, found, without),
        derived=derived,
        global_test=_global_test(kept.adjustment, _looser(network, kept)),
        waviness_mm=found.waviness.at_spots_mm,
        doubts=mirror_doubts(network.survey, network.unknowns, adjusted.state),
        left_out=left_out(survey, network, kept.adjustment),
        unknowns=network.unknowns,
        state=adjusted.state,
        fields={name: replace(each, about=spread.fields[name]) for name, each in adjusted.fields.items()},
        covariance=spread.covariance,
    )
    return _with_findings_behind(room)


def _with_findings_behind(room: Room) -> Room:
    """Return the room with its studs and outlets at the places that all found of them agrees on."""
    fixes = outlet_fixes(room)
    studs = stud_fixes(room.survey.wall)
    wall = replace(room.survey.wall, stud_centres_mm=tuple(stud.centre.value for stud in studs))
    outlets = tuple(settled(outlet, fixes) for outlet in room.survey.outlets)
    return replace(room, survey=replace(room.survey, wall=wall, outlets=outlets), studs=studs, outlets=fixes)


def adjusted_room(network: Network, solution: Solution, between_mm: float) -> Adjusted:
    """Return a solved network as the room that quantities are derived from, so wavy where no spot tells. [mm]"""
    tools = replace(network.survey.tools, waviness_mm=between_mm)
    adjustment, unknowns = solution.adjustment, network.unknowns
    return Adjusted(
        survey=network.survey,
        unknowns=unknowns,
        state=adjustment.state,
        covariance=adjustment.covariance,
        loose=covariance_with(adjustment, _looser(network, solution)),
        fields={surface: height_field(surface, unknowns, adjustment.state, tools) for surface in unknowns.surfaces},
    )


def _as_sure(network: Network, found: Hunt) -> Adjusted:
    """Return the room that tells how sure everything is: all readings count, about where careful ones would put it.

    Where that is hangs on no declared tool. About one and the same room a worse tool makes no spread smaller, whatever
    a suspect that it lets pass then does to the room.
    """
    about = solve(network, found.waviness.at_spots_mm, (), found.careful, effort=STANDING)
    return adjusted_room(network, about, found.waviness.between_mm)


def _with_spreads(derived: tuple[Derived, ...], spreads: tuple[Derived, ...]) -> tuple[Derived, ...]:
    """Return what a room is judged by, as sure as it is by the second of two lists of the same quantities."""
    return tuple(
        replace(spread, name=one.name, measured=Measured(value=one.measured.value, sd=spread.measured.sd))
        for one, spread in zip(derived, spreads, strict=True)
    )


def _derived_without(network: Network, found: Hunt, aside: frozenset[int]) -> tuple[Derived, ...]:
    """Return what the room is judged by with some readings set aside."""
    solution = found.without
    if aside != found.suspects.keys():
        solution = solve(network, found.waviness.at_spots_mm, aside, solution.adjustment.state, effort=THOROUGH)
    return derive(adjusted_room(network, solution, found.waviness.between_mm))


def _looser(network: Network, solution: Solution) -> Vector:
    """Return the weights that make every vague belief ten times vaguer."""
    weights = np.ones(len(solution.adjustment.residuals))
    vague = np.flatnonzero(network.rows.vague) - len(network.rows.places) + len(solution.places)
    weights[vague] = 1 / VAGUER
    return weights


def spot_fixes(adjusted: Adjusted) -> tuple[SpotFix, ...]:
    """Return where every named spot is, with its spread."""
    sds = np.sqrt(np.diag(adjusted.covariance))
    fixes = []
    for spot in adjusted.unknowns.spots[: adjusted.unknowns.named]:
        at = adjusted.unknowns.spot(spot.name)
        x, y, z = (float(value) for value in adjusted.state[at : at + 3])
        sx, sy, sz = (float(value) for value in sds[at : at + 3])
        fixes.append(SpotFix(name=spot.name, xyz=(x, y, z), sd=(sx, sy, sz)))
    return tuple(fixes)


def _global_test(adjustment: Adjustment, weights: Vector) -> GlobalTest:
    """Test what is left over in everything but the vague beliefs, which hardly anything could contradict."""
    counted = weights == 1
    statistic = float(np.sum(adjustment.whitened_residuals[counted] ** 2))
    dof = round(float(np.sum(adjustment.shares[counted])))
    limit = chi_square_quantile(probability=1 - FALSE_ALARM, dof=dof) if dof else 0.0
    return GlobalTest(statistic=statistic, limit=limit, dof=dof, passed=not dof or statistic <= limit)


def _expect_plausible(derived: tuple[Derived, ...], network: Network, found: Hunt) -> None:
    """Refuse a room that fits the readings but that nobody would stand in."""
    inspection = Inspection()
    hint, shape = _suspected(network, found), network.unknowns.shape
    for one in derived:
        value = one.measured.value
        corner = next((each for each in shape.corners if one.name.startswith(each.name)), None)
        if corner is not None:
            least, most = (shape.nominal_deg(corner) + sign * CORNER_OFF_DEG for sign in (-1, 1))
            inspection.expect(
                least <= value <= most,
                "readings",
                f"readings that give a {one.name} of {value:.0f} deg",
                f"a corner of {least:g} to {most:g} deg",
                hint or "Read the tapes that meet there again, the diagonals first.",
            )
        elif one.name.endswith("lean"):
            inspection.expect(
                abs(value) <= MOST_LEAN_MM_PER_M,
                "readings",
                f"readings that give a {one.name} of {_rate(value, network)}",
                f"a wall within {_rate(MOST_LEAN_MM_PER_M, network)} of plumb",
                hint or "Plumb that wall again, and read again the tapes that end on it.",
            )
    inspection.finish()


def _rate(mm_per_m: float, network: Network) -> str:
    """Return a lean in the units of the field book."""
    units = network.survey.units
    return f"{mm_per_m:.0f} mm/m" if units == "mm" else f"{show_rate(mm_per_m, units)} {RATE_UNITS[units]}"


def _expect_settled(solution: Solution, network: Network, found: Hunt) -> None:
    """Refuse readings so contradictory that no room fits them; name the worst."""
    if solution.adjustment.converged:
        return
    worst = solution.places[int(np.argmax(np.abs(solution.adjustment.w[: len(solution.places)])))]
    settled = found.without.adjustment.converged
    worst = next(iter(found.suspects), worst) if settled else worst
    reading = network.survey.readings[worst]
    raise InvalidInputError(
        (
            Problem(
                where=reading.where if str(reading.where) else Where(path=f"readings[{worst}]"),
                found="readings that no room fits",
                expected="readings that agree",
                hint=_suspected(network, found) if settled else f"Read {told(reading)} again: it disagrees most.",
            ),
        )
    )


def _suspected(network: Network, found: Hunt) -> str:
    """Return which readings to take again, and what the others say; empty when none is suspected."""
    said = [suspicion(network, place, found) for place in found.suspects]
    return f"Read again: {'; '.join(said)}." if said else ""
