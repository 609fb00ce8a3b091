"""What a slip of an inch comes to when the person in the room takes the readings that the tool asks for."""

from __future__ import annotations

import dataclasses

from nookwright.basics.problems import InvalidInputError
from nookwright.stages.inputs.survey import Survey
from nookwright.stages.room.advice import next_readings
from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.room.room import Room
from simulated_rooms import Person, ToTake, as_taken

TURNS = 2
AT_ONCE = 3
"""The tool names three readings at a time; six are two turns."""


@dataclasses.dataclass(frozen=True)
class Named:
    """When a planted slip was named.

    Args:
        found: whether any reading was suspected at once, or the field book refused.
        after: whether the reading that holds the slip is the worst suspect: at once, and after each turn.
        asked: how many readings were taken besides.
    """

    found: bool
    after: tuple[bool, ...]
    asked: int


def named(survey: Survey, place: int, person: Person) -> Named:
    """Return when a slip is named by a person who takes what the tool asks for, as long as suspects share suspicion.

    Args:
        survey: a field book with one slip.
        place: the reading that holds it.
        person: who takes the readings asked for, as badly as the others.
    """
    room = _room(survey)
    found, after, asked = room is None or bool(_suspects(room)), [_is_named(room, place)], 0
    for turn in range(TURNS):
        wanted = _asked(room)
        if wanted:
            more = tuple(person.take(one, 100 + turn) for one in wanted)
            survey, asked = dataclasses.replace(survey, readings=(*survey.readings, *more)), asked + len(more)
            room = _room(survey)
        after.append(_is_named(room, place))
    return Named(found, tuple(after), asked)


def _room(survey: Survey) -> Room | None:
    try:
        return reconcile(survey)
    except InvalidInputError:
        return None


def _suspects(room: Room) -> list[int]:
    return [place for place, fit in enumerate(room.fits) if fit.suspect]


def _is_named(room: Room | None, place: int) -> bool:
    if room is None:
        return False
    first = max(_suspects(room), key=lambda one: abs(room.fits[one].w), default=None)
    return first == place


def _asked(room: Room | None) -> list[ToTake]:
    """Return the readings asked for because of suspects, as the simulator takes them; none once it is settled."""
    if room is None or not any(fit.slip is not None and fit.slip.or_else for fit in room.fits):
        return []
    wanted = next_readings(room, None, AT_ONCE)
    return [as_taken(one.text) for one in wanted if one.tells or not one.saves]
