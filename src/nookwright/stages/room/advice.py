"""What to measure next: the readings that save most of the spread that matters, for the time they take."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.solvers.next_observation import Choice, Prospects, choose
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.survey import (
    BevelReading,
    EdgeReading,
    GapReading,
    PitchReading,
    Reading,
    ScaleReading,
    SurfaceName,
    Survey,
    TapeReading,
)
from nookwright.stages.room.beliefs import beliefs_of
from nookwright.stages.room.candidates import NEW_MARK_MINUTES, Candidate, candidates
from nookwright.stages.room.height_field import HeightField, height_field
from nookwright.stages.room.network import Network, scaled_system
from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.room.room import Room
from nookwright.stages.room.standing import fields_met, laid_out, place_in
from nookwright.stages.room.wanted import Wanted, heights_wanted, wanted
from nookwright.stages.survey.readings import observe
from nookwright.stages.survey.shape import Column, Place, Shape
from nookwright.stages.survey.spoken import told
from nookwright.stages.survey.spots import Spot, spots_named_by
from nookwright.stages.survey.unknowns import Unknowns, unknowns_of

SAME_HEIGHT_MM = 60.0
"""A mark this near to a height serves for it. [mm] Common practice, no source."""

UNDER_TOP_MM = 100.0
"""A mark nearer than this under a slope or ceiling is not made: the spot on the slope or ceiling serves. [mm]
Common practice, no source."""

OPEN_SD_MM = 15.0
"""A length less sure than this, one standard deviation, is open. [mm] Common practice, no source."""

WORTH_SAYING = 0.05
"""A reading that takes less than this share off a spread is not worth the walk. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NextReading:
    """A reading to take next, and what it saves.

    Args:
        text: the reading as a person would say it.
        again: whether it was taken already.
        mark_mm: height of the new marks it needs, above the floor at `BL0`; None when it needs none. [mm]
        saves: what it makes surer; empty for a suspect, which is read again whatever it saves.
        before_mm, after_mm: standard deviation of that before and after it; `before_mm` is None when nothing read so
            far fixes it. [mm]
        minutes: how long it takes. [min]
    """

    text: str
    again: bool
    mark_mm: float | None
    saves: str
    before_mm: float | None
    after_mm: float
    minutes: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Outlook:
    """A room with every spot that could be read, as sure as it is now."""

    network: Network
    covariance: Matrix
    fields: dict[SurfaceName, HeightField]
    width_mm: float


def next_readings(room: Room, brief: Brief, count: int = 3) -> tuple[NextReading, ...]:
    """Return the readings to take next for a brief's furniture.

    Suspects come first: they are read again. Then come the readings that take most off the variances of what the
    furniture needs, for the time they take; what is not fixed at all outweighs everything else by itself.

    Args:
        room: the room.
        brief: what is wanted.
        count: how many.

    Returns:
        At most so many readings, in order.
    """
    suspects = [fit for fit in room.fits if fit.suspect]
    again = [
        NextReading(text=fit.text, again=True, mark_mm=None, saves="", before_mm=None, after_mm=fit.sd, minutes=0.5)
        for fit in suspects[:count]
    ]
    if len(again) == count:
        return tuple(again)
    place = place_in(room.unknowns.shape, brief)
    if place is not None and not place.own_names:
        room = reconcile(laid_out(room.survey, place))
    outlook = _outlook(room, brief, place)
    read_again = {fit.text for fit in suspects}
    offers = tuple(one for one in _offers(room, outlook) if told(one.reading) not in read_again)
    aims = wanted(brief, _met(outlook.fields, place), outlook.width_mm)
    if not offers or not aims:
        return tuple(again)
    prospects = _prospects(outlook, offers, aims)
    found = [_said(choice, offers, aims, room, outlook) for choice in choose(prospects, count - len(again))]
    return (*again, *(one for one in found if _worth_it(one)))


def _worth_it(one: NextReading) -> bool:
    return one.before_mm is None or one.after_mm < (1 - WORTH_SAYING) * one.before_mm


def _met(fields: dict[SurfaceName, HeightField], place: Place | None) -> dict[SurfaceName, HeightField]:
    """Return surfaces by what they are to the furniture, once it is settled where that stands."""
    return fields_met(fields, place) if place else fields


def _outlook(room: Room, brief: Brief, place: Place | None) -> _Outlook:
    """Return the room with its unknowns enlarged by every spot that could be read."""
    counted = room.survey.counted
    counted = replace(counted, tools=replace(counted.tools, waviness_mm=room.waviness_mm))
    small = room.unknowns
    right = next(spot for spot in small.spots if spot.column.name == small.shape.frame[1])
    width = float(room.state[small.spot(right.name)])
    marks = _new_marks(heights_wanted(brief, _met(room.fields, place), width), counted.heights_mm)
    survey = replace(counted, heights_mm=(*counted.heights_mm, *marks))
    whole = replace(survey, readings=(*counted.readings, *(one.reading for one in candidates(survey, room.surfaces))))
    large = unknowns_of(whole)
    state = _enlarged(room, small, large, survey, width)
    network = Network(survey=survey, unknowns=large, start=state, beliefs=beliefs_of(survey, large, state))
    suspects = {place for place, fit in enumerate(room.fits) if fit.suspect}
    system = scaled_system(network, state, suspects)
    weighted = system.jacobian / (system.fixed + room.waviness_mm**2 * system.scaled)[:, None]
    free = np.setdiff1d(np.arange(large.count), network.held)
    covariance = np.zeros((large.count, large.count))
    covariance[np.ix_(free, free)] = np.linalg.inv(weighted.T @ system.jacobian)
    fields = {surface: height_field(surface, large, state, survey.tools) for surface in room.surfaces}
    return _Outlook(network=network, covariance=covariance, fields=fields, width_mm=width)


def _new_marks(heights: Sequence[float], marked: Sequence[float]) -> tuple[float, ...]:
    """Return the heights that no mark serves yet. [mm]"""
    found: list[float] = []
    for height in heights:
        if all(abs(height - other) > SAME_HEIGHT_MM for other in (0.0, *marked, *found)):
            found.append(float(round(height)))
    return tuple(found)


def _enlarged(room: Room, small: Unknowns, large: Unknowns, survey: Survey, width: float) -> Vector:
    """Return the state with the new spots put where they would be marked."""
    state = large.carried_over(small, room.state)
    known = {spot.name for spot in small.spots}
    for spot in large.spots:
        at = large.spot(spot.name)
        if spot.name not in known:
            state[at : at + 3] = _where(spot, room, survey, width)
    return state


def _where(spot: Spot, room: Room, survey: Survey, width: float) -> Vector:
    """Return where a spot would be marked: in line with its column, on its surfaces."""
    shape = room.unknowns.shape
    beside = [np.array(one.xyz) for one in room.spots if shape.taken_apart(one.name)[0] == spot.column.name]
    place = beside[0].copy() if beside else np.array([*_in_plan(spot.column, room, width), 0.0])
    place[2] = survey.heights_mm[int(spot.level) - 1] if spot.level.isdigit() and spot.level != "0" else 0.0
    for _ in range(3):
        for surface in spot.surfaces:
            across, p, q = shape.axes(surface)
            place[across] = room.fields[surface].values(place[[p]], place[[q]])[0]
    return place


def _in_plan(column: Column, room: Room, width: float) -> tuple[float, float]:
    """Return where a column stands in plan: its nominal place, stretched to the width and depth read so far."""
    shape = room.unknowns.shape
    nominal = shape.columns[shape.frame[1]].place[0] - shape.columns[shape.frame[0]].place[0]
    known = ((shape.columns[shape.taken_apart(one.name)[0]].place[1], one.xyz[1]) for one in room.spots)
    shares = [out / planned for planned, out in known if planned]
    x, y = column.place
    return x * width / nominal, y * (float(np.mean(shares)) if shares else 1.0)


def _offers(room: Room, outlook: _Outlook) -> tuple[Candidate, ...]:
    """Return the readings on offer, tapes with their real lengths; marking new spots takes time."""
    survey, unknowns, state = outlook.network.survey, outlook.network.unknowns, outlook.network.start
    marked, too_high = len(room.survey.heights_mm), _too_high(room, outlook)
    offers = []
    for one in candidates(survey, room.surfaces):
        reading = one.reading
        if too_high.intersection(spots_named_by(reading)):
            continue
        if isinstance(reading, TapeReading):
            first, second = (state[unknowns.spot(name) :][:3] for name in (reading.start, reading.end))
            reading = replace(reading, length_mm=float(np.linalg.norm(second - first)))
        new = _mark_of(reading, unknowns.shape) > marked
        offers.append(Candidate(reading=reading, minutes=one.minutes + (NEW_MARK_MINUTES if new else 0.0)))
    return tuple(offers)


def _too_high(room: Room, outlook: _Outlook) -> set[str]:
    """Return the spots not marked yet that would stand right under a slope or ceiling, or above it."""
    unknowns, state = outlook.network.unknowns, outlook.network.start
    tops = [outlook.fields[top] for top in unknowns.shape.tops.values() if top in outlook.fields]
    known = {spot.name for spot in room.unknowns.spots}
    found = set[str]()
    for spot in unknowns.spots[: unknowns.named]:
        x, y, z = state[unknowns.spot(spot.name) :][:3]
        under = [float(top.values(np.array([x]), np.array([y]))[0]) for top in tops]
        if spot.level.isdigit() and spot.name not in known and any(z > top - UNDER_TOP_MM for top in under):
            found.add(spot.name)
    return found


def _mark_of(reading: Reading, shape: Shape) -> int:
    """Return the number of the highest mark a reading touches; 0 when it touches none."""
    match reading:
        case BevelReading() | PitchReading() | EdgeReading() | GapReading() | ScaleReading():
            return 0
        case _:
            names = [getattr(reading, key, "") for key in ("start", "end", "spot", "first", "second")]
            levels = [level for column, level in map(shape.taken_apart, names) if column and level.isdigit()]
            return max(map(int, levels), default=0)


def _prospects(outlook: _Outlook, offers: Sequence[Candidate], aims: Sequence[Wanted]) -> Prospects:
    network = outlook.network
    asked = replace(network.survey, readings=tuple(one.reading for one in offers))
    rows, noise = np.empty((len(offers), network.unknowns.count)), np.empty(len(offers))
    for one in observe(asked, network.unknowns, network.start):
        rows[list(one.places)] = one.block.evaluate(network.start)[1]
        noise[list(one.places)] = one.sds**2
    aimed = np.array([aim.row for aim in aims])
    spread = rows @ outlook.covariance
    return Prospects(
        cross=aimed @ spread.T,
        among=spread @ rows.T,
        noise=noise,
        variances=np.einsum("ij,jk,ik->i", aimed, outlook.covariance, aimed) + [aim.own_variance for aim in aims],
        weights=np.ones(len(aims)),
        costs=np.array([one.minutes for one in offers]),
    )


def _said(
    choice: Choice, offers: Sequence[Candidate], aims: Sequence[Wanted], room: Room, outlook: _Outlook
) -> NextReading:
    """Return a choice in words, with what it saves most."""
    offer = offers[choice.row]
    best = int(np.argmax(choice.before - choice.after))
    before, after = math.sqrt(choice.before[best]), math.sqrt(choice.after[best])
    mark = _mark_of(offer.reading, room.unknowns.shape)
    new = mark > len(room.survey.heights_mm)
    text = told(offer.reading)
    return NextReading(
        text=text,
        again=any(text == fit.text for fit in room.fits),
        mark_mm=outlook.network.survey.heights_mm[mark - 1] if new else None,
        saves=aims[best].words,
        before_mm=None if before > OPEN_SD_MM else before,
        after_mm=after,
        minutes=offer.minutes,
    )
