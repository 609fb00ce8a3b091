"""What readings will tell before any is taken: the spread of what matters, and the smallest slip that would show."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from nookwright.stages.inputs.brief import Brief, Cases
from nookwright.stages.inputs.survey import (
    BevelReading,
    EdgeReading,
    GapReading,
    LevelReading,
    OffsetReading,
    PitchReading,
    PlumbReading,
    Reading,
    ScaleReading,
    SpanReading,
    Survey,
    TapeReading,
)
from nookwright.stages.room.candidates import (
    BEVEL_MINUTES,
    LEVEL_MINUTES,
    NEW_MARK_MINUTES,
    PITCH_MINUTES,
    PLUMB_MINUTES,
    SET_UP_MINUTES,
    TAPE_MINUTES,
)
from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.room.room import Derived, Room
from nookwright.stages.room.standing import as_met, place_in, seen_from
from nookwright.stages.room.wanted import wanted
from nookwright.stages.survey.nominal import NominalRoom, nominal_room, read_exactly
from nookwright.stages.survey.spots import spots_named_by

GAP_MINUTES = 0.1
"""Minutes that one gap under a straightedge takes once that is laid. Common practice, no source."""

READ_TWICE_MM = 25.0
"""A reading in which an inch would not show is worth reading twice. [mm] Common practice, no source."""

LEAST_DEPTH_MM, LEAST_WIDTH_MM = 200.0, 300.0
"""Furniture smaller than this does not set where the spots stand. [mm] Common practice, no source."""

SpreadUnit = Literal["mm", "deg", "mm/m"]

KINDS: tuple[tuple[str, str, SpreadUnit], ...] = (
    ("corner", "corner angles", "deg"),
    ("lean", "how far walls lean", "mm/m"),
    ("width", "widths", "mm"),
    ("floor fall", "how the floor falls", "mm/m"),
    ("floor, highest", "highest less lowest of the floor", "mm"),
    ("pitch", "pitch of the slope", "deg"),
    ("height at", "heights under the slope or ceiling", "mm"),
)
"""What is told of a room: the part of a derived value's name, in plain words, and its unit."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """How surely something will be known.

    Args:
        what: in plain words.
        unit: of `sd`.
        sd: the greatest standard deviation among the values of that kind.
    """

    what: str
    unit: SpreadUnit
    sd: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Forecast:
    """What a field book's readings will tell, once taken.

    Args:
        room: the nominal room they were forecast in.
        spreads: of what the room is judged by.
        furniture: of what the furniture in the brief needs; empty without a brief.
        findable: for each reading the smallest slip that would be found, in its own unit; None when nothing checks it.
        minutes: how long marking and reading take. [min]
    """

    room: NominalRoom
    spreads: tuple[Spread, ...]
    furniture: tuple[Spread, ...]
    findable: tuple[float | None, ...]
    minutes: float

    @property
    def twice(self) -> tuple[bool, ...]:
        """Of each reading: whether it is worth reading twice, because hardly anything else checks it."""
        return tuple(size is None or size > READ_TWICE_MM for size in self.findable)


def forecast(survey: Survey, brief: Brief | None = None) -> Forecast:
    """Work out how surely readings will settle a room before any is taken.

    They are taken without error in a usual room of the kind, as wide and deep as the furniture asks, and adjusted: the
    spreads depend on what is read and with which tools, hardly on what is found.

    Args:
        survey: the field book; the values of its readings do not count.
        brief: the furniture wanted, when it is known.

    Returns:
        The forecast.

    Raises:
        InvalidInputError: if the readings cannot be worked with, or would not settle the room's shape.
    """
    nominal = _nominal(survey, brief)
    exact = read_exactly(replace(survey, tools=replace(survey.tools, waviness_fixed=True)), nominal)
    room = reconcile(replace(exact, readings=tuple(replace(reading, use=True) for reading in exact.readings)))
    return Forecast(
        room=nominal,
        spreads=_spreads(room.derived),
        furniture=_furniture(room, brief) if brief else (),
        findable=tuple(fit.findable for fit in room.fits),
        minutes=minutes_for(survey.readings),
    )


def minutes_for(readings: Sequence[Reading]) -> float:
    """Return how long it takes to mark the spots and take the readings. [min]"""
    spots = {name for reading in readings for name in spots_named_by(reading)}
    level = SET_UP_MINUTES if any(isinstance(reading, LevelReading) for reading in readings) else 0.0
    return level + NEW_MARK_MINUTES * len(spots) + sum(_minutes(reading) for reading in readings)


def _minutes(reading: Reading) -> float:  # noqa: PLR0911  one for each kind of reading
    match reading:
        case TapeReading() | SpanReading() | OffsetReading():
            return TAPE_MINUTES
        case LevelReading():
            return LEVEL_MINUTES
        case PlumbReading():
            return PLUMB_MINUTES
        case GapReading():
            return GAP_MINUTES
        case BevelReading() | EdgeReading():
            return BEVEL_MINUTES
        case PitchReading():
            return PITCH_MINUTES
        case ScaleReading():
            return 0.0


def _nominal(survey: Survey, brief: Brief | None) -> NominalRoom:
    """Return the usual room, as wide and deep as the furniture asks."""
    width = depth = None
    if brief is not None:
        depths = [tier.depth_mm for tier in brief.tiers if isinstance(tier, Cases)]
        depth = max((size for size in depths if size > LEAST_DEPTH_MM), default=None)
        end = brief.end_mm if brief.end_mm is not None else 0.0
        width = end if end > LEAST_WIDTH_MM else None
    return nominal_room(survey, width_mm=width, depth_mm=depth)


def _spreads(derived: Sequence[Derived]) -> tuple[Spread, ...]:
    """Return the greatest spread of each kind of value that the readings fix."""
    found: list[Spread] = []
    for part, words, unit in KINDS:
        sds = [one.measured.sd for one in derived if part in one.name and one.unit == unit and one.fixed]
        if sds:
            found.append(Spread(what=words, unit=unit, sd=max(sds)))
    return tuple(found)


def _furniture(room: Room, brief: Brief) -> tuple[Spread, ...]:
    """Return the greatest spread of each thing that the furniture needs to know, over all its tiers."""
    place = place_in(room.unknowns.shape, brief)
    if place is not None:
        room = as_met(seen_from(room, place), place)
    right = max(spot.xyz[0] for spot in room.beside)
    found: dict[str, float] = {}
    for aim in wanted(brief, room.fields, right):
        variance = float(aim.row @ room.covariance @ aim.row) + aim.own_variance
        words = _of_any_tier(aim.words, brief)
        found[words] = max(found.get(words, 0.0), math.sqrt(variance))
    return tuple(Spread(what=words, unit="mm", sd=sd) for words, sd in found.items())


def _of_any_tier(words: str, brief: Brief) -> str:
    """Return what is wanted with the furniture in place of the tier: `the width of the furniture`."""
    for tier in brief.tiers:
        if isinstance(tier, Cases) and words.endswith(f" {tier.name}"):
            return f"{words.removesuffix(tier.name)}the furniture"
    return words
