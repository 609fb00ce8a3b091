"""What can be reckoned in one's head or on a phone before leaving the room, so that a gross slip stays there."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

from nookwright.stages.inputs.survey import PlumbReading, Survey, TapeReading
from nookwright.stages.survey.nominal import NominalRoom
from nookwright.stages.survey.tools import plumb_sd_mm, tape_sd_mm

Kind = Literal["opposite", "squares", "lean"]

SDS = 3.0
"""Standard deviations that a good set of readings stays within."""

USUAL_TURN = math.tan(math.radians(2.0))
"""How far a wall of a usual crooked room turns from square on plan. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SelfCheck:
    """One thing to reckon on site.

    Args:
        kind: `opposite`: the first two readings are nearly equal; `squares`: the squares of the first two, the
            diagonals, add up to those of the other four; `lean`: the first is the second less the others.
        numbers: places of the readings in the field book, from 1.
        within_mm: how far it may be off; for `squares` in square millimetres. [mm or mm2]
    """

    kind: Kind
    numbers: tuple[int, ...]
    within_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Figure:
    """Four spots of one level with all their tapes: sides in order, then diagonals, as places in the field book."""

    sides: tuple[int, int, int, int]
    diagonals: tuple[int, int]


def self_checks(survey: Survey, room: NominalRoom) -> tuple[SelfCheck, ...]:
    """Return what to reckon on site.

    Args:
        survey: the field book, still blank.
        room: the nominal room, for sizes.

    Returns:
        Opposite sides, squares over both diagonals, and widths at two heights with the lean between them.
    """
    tapes = _tapes(survey, room)
    figures = [figure for level in sorted({key[0] for key in tapes}) for figure in _figures(level, tapes)]
    found = [check for figure in figures for check in _of_figure(figure, survey, room)]
    return (*found, *_leans(survey, room, tapes))


Tapes = dict[tuple[str, frozenset[str]], int]
"""The first tape of each pair of columns at a level: level and columns, place in the field book."""


def _tapes(survey: Survey, room: NominalRoom) -> Tapes:
    found: Tapes = {}
    for place, reading in enumerate(survey.readings):
        if isinstance(reading, TapeReading):
            (first, level), (second, other) = (room.shape.taken_apart(spot) for spot in (reading.start, reading.end))
            if first and second and level == other:
                found.setdefault((level, frozenset((first, second))), place)
    return found


def _figures(level: str, tapes: Tapes) -> list[_Figure]:
    """Return the figures of four spots whose every side and both diagonals are taped."""
    names = sorted({name for at, pair in tapes if at == level for name in pair})
    found = []
    for a, b, c, d in ((a, *rest) for a, *rest in combinations(names, 4)):
        for p, q, r in ((b, c, d), (b, d, c), (c, b, d)):
            around = [frozenset(pair) for pair in ((a, p), (p, q), (q, r), (r, a))]
            across = [frozenset(pair) for pair in ((a, q), (p, r))]
            if all((level, pair) in tapes for pair in around + across):
                s1, s2, s3, s4 = (tapes[level, pair] for pair in around)
                d1, d2 = (tapes[level, pair] for pair in across)
                found.append(_Figure(sides=(s1, s2, s3, s4), diagonals=(d1, d2)))
    return found


def _of_figure(figure: _Figure, survey: Survey, room: NominalRoom) -> list[SelfCheck]:
    """Return the checks of a figure whose diagonals are its longest lines, as they are when its corners go round."""
    length = {place: _length(survey, place, room) for place in (*figure.sides, *figure.diagonals)}
    if min(length[place] for place in figure.diagonals) <= max(length[place] for place in figure.sides):
        return []
    found = []
    for one, other, beside in ((0, 2, 1), (1, 3, 0)):
        pair = (figure.sides[one], figure.sides[other])
        turn = 2 * USUAL_TURN * length[figure.sides[beside]]
        if abs(length[pair[0]] - length[pair[1]]) < 1.0:
            found.append(SelfCheck(kind="opposite", numbers=_numbers(pair), within_mm=turn))
    spread = math.sqrt(sum((2 * size * tape_sd_mm(size, survey.tools)) ** 2 for size in length.values()))
    numbers = _numbers((*figure.diagonals, *figure.sides))
    return [*found, SelfCheck(kind="squares", numbers=numbers, within_mm=SDS * spread)]


def _leans(survey: Survey, room: NominalRoom, tapes: Tapes) -> list[SelfCheck]:
    """Return widths taped at two levels between facing walls that were plumbed from the one to the other."""
    plumbs = _plumbs(survey, room)
    found = []
    for span in room.shape.spans:
        if span.walls is None:
            continue
        for wall, column, low, high in plumbs:
            beyond = (span.walls[1], span.columns[1], low, high)
            at_low, at_high = (tapes.get((level, frozenset(span.columns))) for level in (low, high))
            if (wall, column) != (span.walls[0], span.columns[0]) or beyond not in plumbs:
                continue
            if at_low is not None and at_high is not None:
                pair = (plumbs[wall, column, low, high], plumbs[beyond])
                found.append(_lean((at_high, at_low, *pair), survey, room))
    return found


def _plumbs(survey: Survey, room: NominalRoom) -> dict[tuple[str, str, str, str], int]:
    """Return the plumb readings by wall, column, lower and upper level."""
    found: dict[tuple[str, str, str, str], int] = {}
    for place, reading in enumerate(survey.readings):
        if isinstance(reading, PlumbReading):
            column, low = room.shape.taken_apart(reading.first)
            found.setdefault((reading.wall, column, low, room.shape.taken_apart(reading.second)[1]), place)
    return found


def _lean(places: tuple[int, int, int, int], survey: Survey, room: NominalRoom) -> SelfCheck:
    _, low, one, _ = places
    width, reading, rise = _length(survey, low, room), survey.readings[one], 0.0
    if isinstance(reading, PlumbReading):
        rise = room.height_of(reading.second) - room.height_of(reading.first)
    spread = math.sqrt(2 * tape_sd_mm(width, survey.tools) ** 2 + 2 * plumb_sd_mm(rise, survey.tools) ** 2)
    return SelfCheck(kind="lean", numbers=_numbers(places), within_mm=SDS * spread)


def _length(survey: Survey, place: int, room: NominalRoom) -> float:
    reading = survey.readings[place]
    assert isinstance(reading, TapeReading)  # noqa: S101  only places of tapes are asked for
    return math.dist(room.place(reading.start), room.place(reading.end))


def _numbers(places: Sequence[int]) -> tuple[int, ...]:
    return tuple(place + 1 for place in places)
