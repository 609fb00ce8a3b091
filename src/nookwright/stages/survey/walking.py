"""In which order to take readings: one tool after the other, each on the shortest way round.

The hook of a tape lies at one end while the person reads at the other. As long as the next tape starts from the same
end the hook stays; else the person walks there and hooks it anew. A tape that slants is hooked at its lower end, where
a foot or a weight holds it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
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
"""Stands for the level of tapes from one slope to another; it sorts behind every level's name."""

MOST_KEPT = 300
"""So many of the shortest ways are followed on after each reading. Computed: five times as many make no field sheet's
way shorter by more than 0.3 m."""


@dataclass(frozen=True, slots=True)
class _Trail:
    """Readings taken so far, the shortest way found."""

    walked_mm: float
    taken: tuple[ToTake, ...] = ()
    hooks: tuple[str, ...] = ()


_SET_OUT: dict[Way, _Trail] = {("", START): _Trail(0.0)}


def walking_order(readings: Sequence[ToTake], columns: Mapping[str, Place]) -> tuple[ToTake, ...]:
    """Return the readings in the order with the least walking.

    They are grouped by tool and, tapes, by the level of their hook; within a group the shortest of many orders is
    taken. What is read a second time comes after all else of its tool, so that it is a look of its own.

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
        trails = _through(trails, tuple(one for _, one in group), places)
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
    """Return what readings taken in one go share, tool and for tapes the level; it sorts them in order of work.

    A tape that rises from a floor or a marked height belongs to that: its hook is where theirs are.
    """
    if one.tool != "tape":
        return TOOLS.index(one.tool), ""
    levels = [level for column, level in (apart(spot, columns) for spot in one.of) if column]
    marked = [level for level in levels if level.isdigit()]
    lowest = min(marked, key=int) if marked else levels[0] if len(set(levels)) == 1 else SLANTING
    return TOOLS.index(one.tool), lowest


def slants(one: ToTake, columns: Iterable[str]) -> bool:
    """Return whether a tape runs from one level to another."""
    levels = {level for column, level in (apart(spot, columns) for spot in one.of) if column}
    return one.tool == "tape" and len(levels) > 1


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


def _through(trails: dict[Way, _Trail], group: tuple[ToTake, ...], places: Mapping[str, Place]) -> dict[Way, _Trail]:
    """Return short trails through a group of readings taken in any order: Held and Karp's method, the longest dropped.

    The shortest trail to every set of readings and place is kept, of these the shortest `MOST_KEPT` of each length.
    """
    kept: dict[tuple[int, Way], _Trail] = {(0, way): trail for way, trail in trails.items()}
    for _ in group:
        found: dict[tuple[int, Way], _Trail] = {}
        for (taken, way), trail in kept.items():
            for place, one in enumerate(group):
                if not taken >> place & 1:
                    for there, longer in _after({way: trail}, one, places).items():
                        key = (taken | 1 << place, there)
                        if key not in found or longer.walked_mm < found[key].walked_mm - SLACK_MM:
                            found[key] = longer
        kept = dict(sorted(found.items(), key=lambda each: each[1].walked_mm)[:MOST_KEPT])
    return {way: trail for (_, way), trail in kept.items()}


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
