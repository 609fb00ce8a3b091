"""In which order to take readings: one tool after the other, each on the shortest way round.

The hook of a tape lies at one end while the person reads at the other. As long as the next tape starts from the same
end the hook stays; else the person walks there and hooks it anew. A tape that slants is hooked at its lower end, where
a foot or a weight holds it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from operator import itemgetter

from nookwright.stages.survey.field_lists import ToTake

Place = tuple[float, float]
Way = tuple[str, str]
"""Where a tape's hook lies, and where the person stands: both columns; the hook is empty while the tape is put away."""

TOOLS = ("level", "tape", "plumb", "bevel", "slope")
"""The order of the tools: the level stands still while the spots are marked, so its readings come first."""

START = "start"
"""Where the person stands first, beside the tools."""

SLACK_MM = 1e-6

SLANTING = "slanting"
"""Stands for the level of tapes between two levels; it sorts behind every level's name."""

MOST_WEIGHED = 10
"""The time to weigh every order of so many readings at once is still short; it doubles with each one more."""


@dataclass(frozen=True, slots=True)
class _Trail:
    """Readings taken so far, the shortest way found."""

    walked_mm: float
    taken: tuple[ToTake, ...] = ()
    hooks: tuple[str, ...] = ()


_SET_OUT: dict[Way, _Trail] = {("", START): _Trail(0.0)}


def walking_order(readings: Sequence[ToTake], columns: Mapping[str, Place]) -> tuple[ToTake, ...]:
    """Return the readings in the order with the least walking.

    They are grouped by tool and, tapes, by the level they lie at; within a group every order is weighed. What is read
    a second time comes after all else of its tool, so that it is a look of its own.

    Args:
        readings: what to read.
        columns: where each column stands on plan. [mm]

    Returns:
        The same readings.
    """
    places = {**columns, START: _start(columns)}
    trails = _SET_OUT
    turns = [tuple(other.of for other in readings[:place]).count(one.of) for place, one in enumerate(readings)]
    keyed = [
        ((station(one, columns)[0], turn, station(one, columns)[1]), one)
        for one, turn in zip(readings, turns, strict=True)
    ]
    for _, group in groupby(sorted(keyed, key=itemgetter(0)), key=itemgetter(0)):
        for portion in _portions([one for _, one in group]):
            trails = _through(trails, portion, places)
    return min(trails.values(), key=lambda trail: trail.walked_mm).taken


def walked_mm(readings: Sequence[ToTake], columns: Mapping[str, Place]) -> float:
    """Return how far one walks to take readings in the order given; each change of tool leads past the tools.

    Args:
        readings: what to read, in order.
        columns: where each column stands on plan. [mm]

    Returns:
        The length of the way on plan, from beside the tools to the last reading. [mm]
    """
    return _best(readings, columns).walked_mm


def hook_ends(readings: Sequence[ToTake], columns: Mapping[str, Place]) -> tuple[str, ...]:
    """Return at which column the tape's hook lies for each reading, for the least walking in the order given.

    Args:
        readings: what to read, in order.
        columns: where each column stands on plan. [mm]

    Returns:
        A column for each tape between two spots; empty for everything else.
    """
    return _best(readings, columns).hooks


def station(one: ToTake, columns: Iterable[str]) -> tuple[int, str]:
    """Return what readings taken in one go share, tool and for tapes the level; it sorts them in order of work."""
    if one.tool != "tape":
        return TOOLS.index(one.tool), ""
    places = [apart(spot, columns) for spot in one.of]
    levels = {level for column, level in places if column}
    return TOOLS.index(one.tool), SLANTING if len(levels) > 1 else places[0][1]


def apart(spot: str, columns: Iterable[str]) -> tuple[str, str]:
    """Return a spot's column and level; the column is empty when none is called so."""
    column = max((name for name in columns if spot.startswith(name)), key=len, default="")
    return column, spot[len(column) :]


def columns_of(one: ToTake, columns: Iterable[str]) -> tuple[str, ...]:
    """Return the columns a reading touches: two for a tape between spots, none for an angle."""
    spots = one.of[1:2] if one.tool == "plumb" else one.of if one.tool in ("tape", "level") else ()
    return tuple(found for found in (apart(spot, columns)[0] for spot in spots) if found)


def _best(readings: Sequence[ToTake], columns: Mapping[str, Place]) -> _Trail:
    places = {**columns, START: _start(columns)}
    trails = _SET_OUT
    for one in readings:
        trails = _after(trails, one, places)
    return min(trails.values(), key=lambda trail: trail.walked_mm)


def _start(columns: Mapping[str, Place]) -> Place:
    """Return where the tools lie: before the middle of the front."""
    xs, ys = zip(*columns.values(), strict=True)
    return ((min(xs) + max(xs)) / 2, min(ys) - 500.0)


def _portions(group: list[ToTake]) -> Iterator[tuple[ToTake, ...]]:
    """Give a group whole, or, where too many orders would have to be weighed, by what its readings are for."""
    if len(group) <= MOST_WEIGHED:
        yield tuple(group)
        return
    for _, portion in groupby(group, key=lambda one: one.purpose):
        yield tuple(portion)


def _through(trails: dict[Way, _Trail], group: tuple[ToTake, ...], places: Mapping[str, Place]) -> dict[Way, _Trail]:
    """Return the shortest trails through a group of readings taken in any order (Held and Karp's method)."""
    layers: dict[int, dict[Way, _Trail]] = {0: trails}
    whole = (1 << len(group)) - 1
    for taken in range(whole):
        for place, one in enumerate(group):
            if not taken >> place & 1:
                found = layers.setdefault(taken | 1 << place, {})
                for way, trail in _after(layers[taken], one, places).items():
                    if way not in found or trail.walked_mm < found[way].walked_mm - SLACK_MM:
                        found[way] = trail
    return layers[whole]


def _after(trails: dict[Way, _Trail], one: ToTake, places: Mapping[str, Place]) -> dict[Way, _Trail]:
    """Return the shortest trails that end with a reading."""
    found: dict[Way, _Trail] = {}
    for (hook, here), trail in trails.items():
        changes = bool(trail.taken) and trail.taken[-1].tool != one.tool
        past = math.dist(places[here], places[START]) if changes else 0.0
        for way, walked in _ways(one, "" if changes else hook, START if changes else here, places):
            length = trail.walked_mm + past + walked
            if way not in found or length < found[way].walked_mm - SLACK_MM:
                found[way] = _Trail(length, (*trail.taken, one), (*trail.hooks, way[0]))
    return found


def _holds(one: ToTake, known: tuple[str, ...], places: Mapping[str, Place]) -> tuple[tuple[str, ...], ...]:
    """Return where the hook may lie and where one may read: a slanting tape is hooked at its lower end."""
    first, second = (apart(spot, places)[1] for spot in one.of)
    if first == second or not (first.isdigit() or second.isdigit()):
        return known, known[::-1]
    lower_first = first.isdigit() and (not second.isdigit() or int(first) < int(second))
    return (known,) if lower_first else (known[::-1],)


def _ways(one: ToTake, hook: str, here: str, places: Mapping[str, Place]) -> list[tuple[Way, float]]:
    """Return the ways to take a reading, each with what one walks for it. [mm]"""
    known = columns_of(one, places)
    if len(known) < 2:
        there = known[0] if known else here
        return [(("", there), math.dist(places[here], places[there]))]
    found = []
    for held, read in _holds(one, known, places):
        to_hook = 0.0 if held == hook else math.dist(places[here], places[held])
        start = here if held == hook else held
        found.append(((held, read), to_hook + math.dist(places[start], places[read])))
    return found
