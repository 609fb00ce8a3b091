"""Slips of every class planted in simulated field books: found, the right reading named, the class named."""

from __future__ import annotations

import dataclasses
from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from nookwright.basics.problems import InvalidInputError
from nookwright.stages.inputs.survey import Reading, Survey, TapeReading
from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.room.room import Room
from nookwright.stages.survey.spoken import told

Chance = np.random.Generator
Planted = tuple[Survey, dict[int, str]]
"""A field book, and the slips in it: places of readings with a word of the class they should be named as."""

LEAST_SWAP_MM = 9.0
"""Readings exchanged, or figures swapped, that differ by less than this are no slip that matters. [mm]"""


@dataclass(frozen=True)
class Fate:
    """What became of planted slips.

    Args:
        found: whether any reading was suspected, or the field book refused.
        readings: for each planted slip, whether its reading was suspected.
        first: whether the most suspect reading is a planted one.
        named: for each planted slip found, whether its class was named, in the first place or the second.
        wrong: how many readings without a slip were suspected.
    """

    found: bool
    readings: tuple[bool, ...]
    first: bool
    named: tuple[bool, ...]
    wrong: int


def with_tape(survey: Survey, place: int, length_mm: float) -> Survey:
    """Return the field book with another length of one tape."""
    readings: list[Reading] = list(survey.readings)
    readings[place] = dataclasses.replace(tapes(survey)[place], length_mm=length_mm)
    return dataclasses.replace(survey, readings=tuple(readings))


def tapes(survey: Survey) -> dict[int, TapeReading]:
    """Return the tape readings by their place."""
    return {i: reading for i, reading in enumerate(survey.readings) if isinstance(reading, TapeReading)}


def off(size_mm: float, words: str, varies_mm: float = 0.0) -> Callable[[Survey, Chance], Planted]:
    """Return who writes one random tape so much too long or too short."""

    def plant(survey: Survey, chance: Chance) -> Planted:
        place = int(chance.choice(list(tapes(survey))))
        length = tapes(survey)[place].length_mm
        size = (size_mm + chance.normal(0, varies_mm)) * float(chance.choice((-1.0, 1.0)))
        return with_tape(survey, place, length + (abs(size) if length + size < 50 else size)), {place: words}

    return plant


def figures(survey: Survey, chance: Chance) -> Planted:
    """Swap two neighbouring figures of one random tape."""
    ways = []
    for place, tape in tapes(survey).items():
        text = f"{tape.length_mm:.0f}"
        for i in range(1, len(text) - 1):  # the first figure is hardly ever swapped
            swapped = float(text[:i] + text[i + 1] + text[i] + text[i + 2 :])
            if abs(swapped - tape.length_mm) >= LEAST_SWAP_MM:
                ways.append((place, swapped))
    place, swapped = ways[int(chance.integers(len(ways)))]
    return with_tape(survey, place, swapped), {place: "figures swapped"}


def exchanged(survey: Survey, chance: Chance) -> Planted | None:
    """Write a tape of the left where that of the right belongs, and the other way about; None where all are alike."""
    swap = {"L": "R", "R": "L"}
    found = {frozenset((tape.start, tape.end)): place for place, tape in tapes(survey).items()}
    ways = []
    for ends, place in found.items():
        other = found.get(frozenset(end[0] + swap.get(end[1:2], "") + end[2:] for end in ends))
        if other is not None and other > place:
            one, two = tapes(survey)[place].length_mm, tapes(survey)[other].length_mm
            if abs(one - two) >= LEAST_SWAP_MM:
                ways.append((place, one, other, two))
    if not ways:
        return None
    place, one, other, two = ways[int(chance.integers(len(ways)))]
    return with_tape(with_tape(survey, place, two), other, one), dict.fromkeys((place, other), "changed places")


def several(count: int) -> Callable[[Survey, Chance], Planted]:
    """Return who writes so many random tapes an inch, 100 mm or a foot off."""

    def plant(survey: Survey, chance: Chance) -> Planted:
        planted: dict[int, str] = {}
        for place in chance.choice(list(tapes(survey)), count, replace=False).tolist():
            size, words = ((25.4, "an inch"), (100.0, "100 mm"), (304.8, "a foot"))[int(chance.integers(3))]
            length = tapes(survey)[place].length_mm
            sign = float(chance.choice((-1.0, 1.0))) if length > size + 50 else 1.0
            survey, planted[place] = with_tape(survey, place, length + sign * size), words
        return survey, planted

    return plant


CLASSES: dict[str, Callable[[Survey, Chance], Planted | None]] = {
    "10 mm": off(10.0, "10 mm"),
    "an inch": off(25.4, "an inch"),
    "100 mm": off(100.0, "100 mm"),
    "a foot": off(304.8, "a foot"),
    "figures swapped": figures,
    "wrong tape end": off(75.0, "the tape's case", 5.0),
    "left and right exchanged": exchanged,
    "two at once": several(2),
    "three at once": several(3),
}


def fate_of(survey: Survey, planted: dict[int, str]) -> Fate:
    """Return what the survey says of a field book with slips."""
    try:
        room = reconcile(survey)
    except InvalidInputError as refusal:
        names = {place: (f"readings[{place}]", told(survey.readings[place])) for place in planted}
        said = tuple(any(name in str(refusal) for name in names[place]) for place in planted)
        return Fate(True, said, any(said), (), 0)
    suspects = {place for place, fit in enumerate(room.fits) if fit.suspect}
    first = max(suspects, key=lambda place: abs(room.fits[place].w), default=None)
    named = tuple(is_named(room, place, words) for place, words in planted.items() if place in suspects)
    readings = tuple(place in suspects for place in planted)
    return Fate(bool(suspects), readings, first in planted, named, len(suspects - planted.keys()))


def is_named(room: Room, place: int, words: str) -> bool:
    """Return whether a slip's class is among the likely ones told."""
    slip = room.fits[place].slip
    return slip is not None and any(words in likely for likely in slip.likely)


def summed(fates: list[Fate]) -> dict[str, float]:
    """Return the shares of a table's row."""
    counts: dict[str, list[float]] = defaultdict(list)
    for fate in fates:
        counts["found"].append(fate.found)
        counts["named_first"].append(fate.first)
        counts["each_found"].extend(fate.readings)
        counts["all_found"].append(all(fate.readings))
        counts["class_named"].extend(fate.named)
        counts["wrongly_suspected"].append(fate.wrong)
    return {name: float(np.mean(values)) if values else 0.0 for name, values in counts.items()}
