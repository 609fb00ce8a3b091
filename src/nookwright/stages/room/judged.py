"""Every reading judged: what the room says of it, the smallest slip that would be found, and what a suspect does."""

from __future__ import annotations

import math
from collections.abc import Callable

from nookwright.basics.measured import Measured
from nookwright.solvers.adjust import Adjustment
from nookwright.solvers.chance import normal_quantile
from nookwright.stages.inputs.survey import Reading, Survey
from nookwright.stages.room.network import Network, Solution, reading_row
from nookwright.stages.room.room import Derived, Effect, LeftOut, ReadingFit, Slip
from nookwright.stages.room.slip_kinds import likely_kinds, swapped_with
from nookwright.stages.room.slips import Hunt
from nookwright.stages.survey.spoken import told, unit_of, value_of

FINDABLE_SDS = normal_quantile(0.9995) + normal_quantile(0.80)
"""A slip of so many standard deviations is found four times in five, by a test that cries wolf once in a thousand.

Source: [adjustment] smallest findable error. Status: computed.
"""

LEAST_REDUNDANCY = 1e-4
"""A reading checked less than this is checked by nothing. Common practice, no source."""

MOST_EFFECTS = 3

WithoutThese = Callable[[frozenset[int]], tuple[Derived, ...]]
"""Gives what the room is judged by with some readings set aside."""


def reading_fits(network: Network, kept: Solution, found: Hunt, without: WithoutThese) -> tuple[ReadingFit, ...]:
    """Return each reading beside what the room says of it, in the order typed.

    Args:
        network: the network.
        kept: it adjusted with every reading in.
        found: the suspects.
        without: gives what the room is judged by with some readings set aside.

    Returns:
        The fits.
    """
    slips = _slips(network, found, without) if found.suspects else {}
    adjustment, fits = kept.adjustment, dict[int, ReadingFit]()
    values, sds = kept.values, kept.sds
    for row, place in enumerate(kept.places):
        reading = network.survey.readings[place]
        share = float(adjustment.shares[row])
        fits[place] = ReadingFit(
            text=told(reading),
            unit=unit_of(reading),
            read=float(values[row]),
            adjusted=float(values[row] + adjustment.residuals[row]),
            sd=float(sds[row]),
            redundancy=float(adjustment.redundancy[row]),
            w=float(adjustment.w[row]),
            suspect=place in slips,
            findable=FINDABLE_SDS * float(sds[row]) / math.sqrt(share) if share > LEAST_REDUNDANCY else None,
            slip=slips.get(place),
        )
    return tuple(fits[place] for place in sorted(fits))


def left_out(survey: Survey, network: Network, adjustment: Adjustment) -> tuple[LeftOut, ...]:
    """Return every reading the user left out, beside what the room says of it.

    Args:
        survey: the field book.
        network: of the readings that count.
        adjustment: of that network.

    Returns:
        The readings left out, in the order typed.
    """
    found = []
    for reading in survey.readings:
        if not reading.use:
            says = _says(network, reading, adjustment)
            found.append(LeftOut(text=told(reading), unit=unit_of(reading), read=value_of(reading), says=says))
    return tuple(found)


def suspicion(network: Network, place: int, found: Hunt) -> str:
    """Return a suspect in a few words: what was read, and what the others say."""
    reading = network.survey.readings[place]
    says = _says(network, reading, found.without.adjustment)
    others = "" if says is None else f", the others say {says.value:.0f}"
    return f"{told(reading)} ({value_of(reading):g} {unit_of(reading)}{others})"


def _says(network: Network, reading: Reading, adjustment: Adjustment) -> Measured | None:
    """Return what an adjustment without a reading says of it, with the reading's own spread added."""
    row = reading_row(network, reading, adjustment.state)
    if row is None:
        return None
    residual, derivatives, sd = row
    spread = math.sqrt(sd**2 + float(derivatives @ adjustment.covariance @ derivatives))
    return Measured(value=value_of(reading) + residual, sd=spread)


def _slips(network: Network, found: Hunt, without: WithoutThese) -> dict[int, Slip]:
    """Return what is known of each suspect."""
    readings = network.survey.readings
    suspects = frozenset(found.suspects)
    settled = without(suspects)
    slips: dict[int, Slip] = {}
    for place, or_else in found.suspects.items():
        says = _says(network, readings[place], found.without.adjustment)
        if says is None:
            continue
        error = Measured(value=value_of(readings[place]) - says.value, sd=says.sd)
        partner = swapped_with(readings[place], says, readings)
        if place in found.exchanged:
            partner = readings[found.exchanged[place]]
        swapped = () if partner is None else (f"changed places with {told(partner)}",)
        slips[place] = Slip(
            error=error,
            likely=(*swapped, *likely_kinds(readings[place], error, network.survey.units)),
            or_else=tuple(told(readings[other]) for other in or_else),
            effects=_effects(without(suspects - {place}), settled),
        )
    return slips


def _effects(spoiled: tuple[Derived, ...], settled: tuple[Derived, ...]) -> tuple[Effect, ...]:
    """Return the figures that a reading changes most, by their own spread."""
    after = {one.name: one for one in settled}
    effects = [
        Effect(name=one.name, unit=one.unit, with_it=one.measured, without_it=after[one.name].measured)
        for one in spoiled
        if one.name in after
    ]
    effects.sort(key=lambda each: -abs(each.with_it.value - each.without_it.value) / each.without_it.sd)
    return tuple(effects[:MOST_EFFECTS])
