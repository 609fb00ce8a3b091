"""The kinds of slip people make, and which of them an error looks like."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from nookwright.basics.lengths import Units, UnreadableTextError, read_angle, read_length
from nookwright.basics.measured import Measured
from nookwright.stages.inputs.survey import (
    BevelReading,
    EdgeReading,
    LevelReading,
    PitchReading,
    PlumbReading,
    Reading,
    ScaleReading,
    SpanReading,
    TapeReading,
)
from nookwright.stages.survey.shape import across
from nookwright.stages.survey.spoken import told, value_of

NEAR_SDS = 2.5
"""An error so many standard deviations from a kind of slip may still be that slip. Common practice, no source."""

LEAST_SIZE_SDS = 3.0
"""A smaller error could be anything. Common practice, no source."""

MUCH_LIKELIER = 5.0
"""A kind so many times less likely than the best one is not mentioned. Common practice, no source."""

MOST_NAMED = 2

INCH_MM = 25.4

STEPS_MM = (
    ("10 mm", 10.0),
    ("half an inch", INCH_MM / 2),
    ("an inch", INCH_MM),
    ("2 inches", 2 * INCH_MM),
    ("50 mm", 50.0),
    ("100 mm", 100.0),
    ("200 mm", 200.0),
    ("a foot", 12 * INCH_MM),
    ("a metre", 1000.0),
)
"""Steps of a tape that people misread by. [mm] Common practice, no source."""

CASE_MM = (75.0, 8.0)
"""Length of a tape's case, left out or counted twice, and how much cases differ. [mm] Common practice, no source."""

STEPS_DEG = (("1 degree", 1.0), ("5 degrees", 5.0), ("10 degrees", 10.0))
"""Steps of a protractor that people misread by. [deg] Common practice, no source."""

FIGURES_SHARE = 0.5
"""Figures change places about half as often as a step is misread. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Kind:
    """A kind of slip: in words, the error it makes, how much that varies, and how usual it is beside the others."""

    words: str
    error: float
    sd: float = 0.0
    share: float = 1.0


def likely_kinds(reading: Reading, error: Measured, units: Units) -> tuple[str, ...]:
    """Return the kinds of slip that an error looks like.

    Args:
        reading: as typed.
        error: what was read less what is right. [mm or deg]
        units: what the file is written in.

    Returns:
        At most two, the likelier first; none when the error looks like nothing known.
    """
    if abs(error.value) < LEAST_SIZE_SDS * error.sd:
        return ()
    weights: dict[str, float] = {}
    for kind in _kinds(reading, units):
        sd = math.hypot(error.sd, kind.sd)
        off = (error.value - kind.error) / sd
        if abs(off) <= NEAR_SDS:
            weight = kind.share * math.exp(-(off**2) / 2) / sd
            weights[kind.words] = max(weight, weights.get(kind.words, 0.0))
    best = max(weights.values(), default=0.0)
    ranked = sorted((words for words in weights if weights[words] * MUCH_LIKELIER > best), key=lambda w: -weights[w])
    return tuple(ranked[:MOST_NAMED])


def swapped_with(reading: Reading, says: Measured, readings: Sequence[Reading]) -> Reading | None:
    """Return the same reading of the other side, if what is right for this one was typed there.

    Args:
        reading: the suspect.
        says: what is right for it. [mm or deg]
        readings: the whole field book.

    Returns:
        The other reading; None when the two did not change places.
    """
    for other in readings:
        mine_too = _signature(other) == _signature(
            reading
        )  # a width is its own mirror image: read twice, not exchanged
        if mine_too or _signature(other) != _mirrored(_signature(reading)):
            continue
        typed, mine = value_of(other), value_of(reading)
        if abs(typed - says.value) <= NEAR_SDS * says.sd and abs(typed - mine) > NEAR_SDS * says.sd:
            return other
    return None


def mirrored_pairs(readings: Sequence[Reading]) -> tuple[tuple[int, int], ...]:
    """Return the places of readings that are each other's on the two sides: they are easily exchanged."""
    places = {_signature(reading): place for place, reading in enumerate(readings)}
    found = []
    for signature, place in places.items():
        other = places.get(_mirrored(signature))
        if other is not None and place < other and value_of(readings[place]) != value_of(readings[other]):
            found.append((place, other))
    return tuple(found)


def _kinds(reading: Reading, units: Units) -> Iterator[_Kind]:
    """Give every kind of slip that can be made with a reading; nobody reads a scan's scale, so it has none."""
    if isinstance(reading, ScaleReading):
        return
    angle = isinstance(reading, (BevelReading, EdgeReading, PitchReading))
    for words, size in STEPS_DEG if angle else STEPS_MM:
        yield _Kind(words=words, error=size)
        yield _Kind(words=words, error=-size)
    value = value_of(reading)
    match reading:
        case TapeReading(rough=False) | SpanReading():
            for sign in (1, -1):
                words = "the tape's case counted twice" if sign > 0 else "the tape's case left out"
                yield _Kind(words=words, error=sign * CASE_MM[0], sd=CASE_MM[1])
        case LevelReading() | PlumbReading():
            yield _Kind(words="plus and minus mistaken", error=2 * value)
        case BevelReading() | EdgeReading():
            yield _Kind(words="the bevel read from its back", error=2 * value - 180)
        case PitchReading():
            yield _Kind(words="read from plumb, not from level", error=2 * value - 90)
    for right in _figures_swapped(reading.typed or f"{value:.0f}", units, angle=angle):
        yield _Kind(words=f"figures swapped ({right[0]})", error=value - right[1], share=FIGURES_SHARE)


def _figures_swapped(typed: str, units: Units, *, angle: bool) -> Iterator[tuple[str, float]]:
    """Give every text with two neighbouring figures swapped that still reads as a length or an angle."""
    for i in range(len(typed) - 1):
        first, second = typed[i], typed[i + 1]
        if not (first.isdigit() and second.isdigit()) or first == second:
            continue
        text = typed[:i] + second + first + typed[i + 2 :]
        try:
            yield text, read_angle(text) if angle else read_length(text, unit=units)
        except UnreadableTextError:
            continue


def _signature(reading: Reading) -> tuple[str, ...]:
    """Return what was read, as words: the kind of tool and the names, those of a tape's two ends in either order."""
    kind, *names = [word for word in told(reading).replace(",", "").split() if word != "-"]
    return (kind, *(sorted(names) if kind in _EITHER_ORDER else names))


_EITHER_ORDER = ("tape", "rough", "bevel")


def _mirrored(signature: tuple[str, ...]) -> tuple[str, ...]:
    """Return the same words for the other side of the room."""
    kind, *names = signature
    other = [across(name) for name in names]
    return (kind, *(sorted(other) if kind in _EITHER_ORDER else other))
