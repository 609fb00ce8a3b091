"""What to measure next: the readings that save most of the spread that matters, for the time they take."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from nookwright.solvers.next_observation import Choice, Prospects, choose
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.survey import SurfaceName
from nookwright.stages.room.candidates import Candidate
from nookwright.stages.room.height_field import HeightField
from nookwright.stages.room.outlook import Outlook, mark_of, new_marks, offers_of, outlook_of, seen, width_of
from nookwright.stages.room.rival_slips import rival_places, telling_offers
from nookwright.stages.room.room import ReadingFit, Room
from nookwright.stages.room.standing import fields_met, place_in, seen_from
from nookwright.stages.room.wanted import Wanted, heights_wanted, wanted, wanted_of_room
from nookwright.stages.survey.shape import Place
from nookwright.stages.survey.spoken import told

OPEN_SD_MM = 15.0
"""A length less sure than this, one standard deviation, is open. [mm] Common practice, no source."""

LOOKED_AT = 2
"""So many times as many readings are weighed as are asked for: some are not worth the walk."""

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
        tells: the suspects among which it finds the slip; empty when it is for something else.
    """

    text: str
    again: bool
    mark_mm: float | None
    saves: str
    before_mm: float | None
    after_mm: float
    minutes: float
    tells: tuple[str, ...] = ()


def next_readings(room: Room, brief: Brief | None, count: int = 3) -> tuple[NextReading, ...]:
    """Return the readings to take next for a brief's furniture, or for the room itself.

    Suspects come first: where several readings may be the slip, those come that tell which one it is; else it is read
    again. Then come the readings that take most off the variances of what the furniture needs, for the time they
    take; what is not fixed at all outweighs everything else by itself. Where no furniture can be fitted, or none is
    asked for yet, the room's own corners, leans, widths and heights count.

    Args:
        room: the room.
        brief: what is wanted; None while that is not told.
        count: how many.

    Returns:
        At most so many readings, in order.
    """
    rivals = {places[0]: places for places in rival_places(room)}
    near = outlook_of(room, (), ()) if rivals else None
    again = _for_suspects(room, rivals, near, count)
    if len(again) == count:
        return again
    suspects = {place for place, fit in enumerate(room.fits) if fit.suspect}
    asked = {one.text for one in again} | {room.fits[place].text for place in suspects}
    place = place_in(room.unknowns.shape, brief) if brief else None
    if place is not None and (there := seen_from(room, place)).unknowns is not room.unknowns:
        room, near = there, None
    heights = heights_wanted(brief, _met(room.fields, place), width_of(room)) if brief and place else ()
    marked = new_marks(heights, room.survey.heights_mm)
    outlook = outlook_of(room, heights, suspects) if near is None or marked else near.without(suspects)
    offers = tuple(one for one in offers_of(room, outlook) if told(one.reading) not in asked)
    aims = wanted(brief, _met(outlook.fields, place), outlook.width_mm) if brief and place else ()
    aims = aims or wanted_of_room(outlook.adjusted)
    if not offers or not aims:
        return again
    prospects = _prospects(outlook, offers, aims)
    found = [_said(choice, offers, aims, room, outlook) for choice in choose(prospects, LOOKED_AT * count)]
    return (*again, *(one for one in found if _worth_it(one)))[:count]


def _for_suspects(
    room: Room, rivals: dict[int, tuple[int, ...]], near: Outlook | None, count: int
) -> tuple[NextReading, ...]:
    """Return what to read because of suspects: each again, or where several share the suspicion what tells which."""
    found: list[NextReading] = []
    suspects = [place for place, fit in enumerate(room.fits) if fit.suspect]
    for place in suspects:
        told_apart = _telling(room, near, rivals[place], suspects, count) if near and place in rivals else ()
        found.extend(told_apart or (_again(room.fits[place]),))
    return tuple({one.text: one for one in reversed(found)}.values())[::-1][:count]


def _again(fit: ReadingFit) -> NextReading:
    return NextReading(text=fit.text, again=True, mark_mm=None, saves="", before_mm=None, after_mm=fit.sd, minutes=0.5)


def _telling(
    room: Room, near: Outlook, rivals: Sequence[int], suspects: Sequence[int], count: int
) -> tuple[NextReading, ...]:
    """Return the readings that tell which of several suspects is the slip."""
    outlook = near.without(set(suspects) - set(rivals))
    chosen = telling_offers(room, outlook, rivals, offers_of(room, outlook), count)
    texts = {fit.text for fit in room.fits}
    return tuple(
        NextReading(
            text=told(one.reading),
            again=told(one.reading) in texts,
            mark_mm=None,
            saves="",
            before_mm=None,
            after_mm=0.0,
            minutes=one.minutes,
            tells=tuple(room.fits[place].text for place in rivals),
        )
        for one in chosen
    )


def _worth_it(one: NextReading) -> bool:
    return one.before_mm is None or one.after_mm < (1 - WORTH_SAYING) * one.before_mm


def _met(fields: dict[SurfaceName, HeightField], place: Place | None) -> dict[SurfaceName, HeightField]:
    """Return surfaces by what they are to the furniture, once it is settled where that stands."""
    return fields_met(fields, place) if place else fields


def _prospects(outlook: Outlook, offers: Sequence[Candidate], aims: Sequence[Wanted]) -> Prospects:
    asked = seen([one.reading for one in offers], outlook)
    aimed = np.array([aim.row for aim in aims])
    spread = asked.rows @ outlook.covariance
    return Prospects(
        cross=aimed @ spread.T,
        among=spread @ asked.rows.T,
        noise=asked.noise,
        variances=np.einsum("ij,ij->i", aimed @ outlook.covariance, aimed) + [aim.own_variance for aim in aims],
        weights=np.ones(len(aims)),
        costs=np.array([one.minutes for one in offers]),
    )


def _said(
    choice: Choice, offers: Sequence[Candidate], aims: Sequence[Wanted], room: Room, outlook: Outlook
) -> NextReading:
    """Return a choice in words, with what it saves most."""
    offer = offers[choice.row]
    best = int(np.argmax(choice.before - choice.after))
    before, after = math.sqrt(choice.before[best]), math.sqrt(choice.after[best])
    mark = mark_of(offer.reading, room.unknowns.shape)
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
