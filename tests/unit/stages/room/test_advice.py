"""What to measure next: sensible, first things first, and as good as it promised once it is measured."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
import pytest

from nookwright.stages.inputs.brief import Brief, Cases, Unit
from nookwright.stages.inputs.survey import (
    BevelReading,
    LevelReading,
    PlumbReading,
    Reading,
    RoomKind,
    Survey,
    TapeReading,
)
from nookwright.stages.room.advice import NextReading, next_readings
from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.room.room import Room
from nookwright.stages.room.wanted import wanted
from nookwright.stages.survey.field_lists import field_list
from nookwright.stages.survey.kind_table import SHAPES
from rooms_for_tests import (
    Reader,
    alcove_readings,
    crooked_alcove,
    crooked_slope,
    crooked_stair,
    slope_readings,
    stair_readings,
    survey_of,
)
from simulated_rooms import Person, SimulatedRoom, Slip, as_taken, field_book, simulated_room

KINDS: tuple[RoomKind, ...] = tuple(SHAPES)
BASE = Cases(name="base", height_mm=900, depth_mm=450, units=(Unit(name="one"),), board="ply")
UPPER = dataclasses.replace(BASE, name="upper", height_mm=1000, depth_mm=300)
BRIEF = Brief(title="Alcove", units="mm", resolution=1, tiers=(BASE, UPPER))


def alcove(seed: int = 11) -> tuple[Reader, Survey]:
    """Return an alcove with the one who measures it, and the usual field book."""
    rng = np.random.default_rng(seed)
    reader = Reader(crooked_alcove(rng), rng)
    return reader, survey_of(reader, alcove_readings)


def without(survey: Survey, unwanted: type[Reading] | tuple[type[Reading], ...], *names: str) -> Survey:
    """Return the survey without some kinds of reading, or those of them that touch some spots."""
    kept = tuple(
        reading
        for reading in survey.readings
        if not (isinstance(reading, unwanted) and (not names or any(name in repr(reading) for name in names)))
    )
    return dataclasses.replace(survey, readings=kept)


def taken(reader: Reader, text: str) -> Reading:
    """Take the reading that an advice asks for."""
    tool, *words = text.split()
    match tool:
        case "tape":
            return reader.tape(words[0], words[2])
        case "level":
            return reader.level(words[0])
        case "plumb":
            return reader.plumb(words[0], words[1], words[3])
        case "bevel":
            return reader.bevel(words[2], words[5])
        case _:
            return reader.pitch()


def test_at_most_three_readings_that_each_save_something() -> None:
    """None costs nothing, none saves nothing."""
    _, survey = alcove()
    advice = next_readings(reconcile(survey), BRIEF)
    assert 1 <= len(advice) <= 3
    for one in advice:
        assert one.minutes > 0
        assert one.before_mm is None or one.after_mm < one.before_mm
        assert one.saves.startswith("the ")


def test_a_corner_that_is_not_fixed_comes_first() -> None:
    """Four sides and no diagonal: a diagonal or the bevel is the first thing to take, and it fixes the corner."""
    reader, survey = alcove()
    kept = tuple(
        reading
        for reading in survey.readings
        if not (
            isinstance(reading, TapeReading)
            and reading.start[0] != reading.end[0]
            and reading.start[1] != reading.end[1]
        )
    )
    hinge = dataclasses.replace(survey, readings=kept)
    room = reconcile(hinge)
    assert not next(d for d in room.derived if d.name == "back left corner").fixed
    first = next_readings(room, BRIEF)[0]
    assert first.before_mm is None
    assert "corner" in first.saves
    names = first.text.split()
    assert names[0] == "bevel" or (names[1][0] != names[3][0] and names[1][1] != names[3][1])
    fixed = reconcile(dataclasses.replace(hinge, readings=(*kept, taken(reader, first.text))))
    assert next(d for d in fixed.derived if d.name == "back left corner").fixed


def test_leans_that_are_not_fixed_come_before_what_is_only_unsure() -> None:
    """No plumb line, widths at one height: plumb lines, widths at other heights and bevels fix the rest."""
    _, survey = alcove()
    bare = without(without(survey, PlumbReading), TapeReading, "2'", "3'")
    advice = next_readings(reconcile(bare), BRIEF, 6)
    assert advice[0].before_mm is None
    opened = [one.before_mm is None for one in advice]
    assert opened == sorted(opened, reverse=True)


def test_a_suspect_is_read_again_before_anything_else() -> None:
    """A tape an inch off."""
    _, survey = alcove()
    readings = [
        dataclasses.replace(r, length_mm=r.length_mm + 25.4)
        if isinstance(r, TapeReading) and (r.start, r.end) == ("BL1", "BR1")
        else r
        for r in survey.readings
    ]
    advice = next_readings(reconcile(dataclasses.replace(survey, readings=tuple(readings))), BRIEF)
    assert (advice[0].text, advice[0].again, advice[0].saves) == ("tape BL1 - BR1", True, "")
    assert len(advice) > 1


def aims_of(room: Room, brief: Brief) -> list[tuple[str, float]]:
    """Return what the furniture needs to know, with its standard deviation in the room as it is."""
    spot = room.spot("BR1")
    assert spot is not None
    aims = wanted(brief, room.fields, spot.xyz[0])
    return [(aim.words, math.sqrt(aim.row @ room.covariance @ aim.row + aim.own_variance)) for aim in aims]


@pytest.mark.parametrize("seed", range(4))
def test_a_reading_taken_keeps_the_promise(seed: int) -> None:
    """Once the first reading advised is taken, what it was to make surer is as sure as promised, within a tenth.

    The waviness is held, so that only the new reading changes anything.
    """
    reader, survey = alcove(seed)
    survey = dataclasses.replace(survey, tools=dataclasses.replace(survey.tools, waviness_fixed=True))
    survey = without(survey, TapeReading, "BR1', end='FL1", "BL3', end='FR3", "BR3', end='FL3")
    brief = dataclasses.replace(BRIEF, tiers=(BASE,))
    room = reconcile(survey)
    first = next(one for one in next_readings(room, brief, 1))
    assert first.mark_mm is None
    assert first.before_mm is not None
    again = reconcile(dataclasses.replace(survey, readings=(*survey.readings, taken(reader, first.text))))
    before, after = aims_of(room, brief), aims_of(again, brief)
    aim = min(
        (i for i, (words, _) in enumerate(before) if words == first.saves),
        key=lambda i: abs(before[i][1] - first.before_mm) + abs(after[i][1] - first.after_mm),  # type: ignore[operator]
    )
    assert before[aim][1] == pytest.approx(first.before_mm, rel=0.1)
    assert after[aim][1] == pytest.approx(first.after_mm, rel=0.1)


@pytest.mark.parametrize(("make", "take"), [(crooked_slope, slope_readings), (crooked_stair, stair_readings)])
def test_rooms_with_a_slope_get_advice_too(make: object, take: object) -> None:
    """About the height under the slope among other things."""
    rng = np.random.default_rng(2)
    room = reconcile(survey_of(Reader(make(rng), rng), take))  # type: ignore[operator, arg-type]
    brief = dataclasses.replace(BRIEF, tiers=(dataclasses.replace(BASE, height_mm=None),))
    advice = next_readings(room, brief, 12)
    assert any("height over base" in one.saves for one in advice)


def test_the_cheaper_of_two_readings_that_tell_the_same_is_advised() -> None:
    """All the advice of a field book with no level yet counts the minutes of setting one up."""
    _, survey = alcove()
    bare = without(survey, LevelReading)
    advice: tuple[NextReading, ...] = next_readings(reconcile(bare), BRIEF, 6)
    assert all(one.minutes >= 1.0 for one in advice if one.text.startswith("level"))
    assert any("floor" in one.saves for one in advice)
    assert not any(isinstance(reading, BevelReading) for reading in survey.readings)
    assert all(math.isfinite(one.after_mm) for one in advice)


@pytest.mark.parametrize("seed", range(4))
def test_no_mark_is_asked_for_at_the_ceiling_or_above_a_slope(seed: int) -> None:
    """Furniture up to the top: the spots on the slope serve there, nobody marks a wall where there is none."""
    rng = np.random.default_rng(seed)
    reader = Reader(crooked_slope(rng), rng)
    room = reconcile(survey_of(reader, slope_readings))
    tall = dataclasses.replace(BASE, height_mm=None)
    asked = next_readings(room, Brief(title="Slope", units="mm", resolution=1, tiers=(tall,)), count=8)
    assert asked
    for one in asked:
        if one.mark_mm is not None:
            column = one.text.split()[1][:2] if one.text.startswith("tape") else one.text.split()[2][:2]
            x, y, _ = next(spot.xyz for spot in room.spots if spot.name.startswith(column))
            assert one.mark_mm < room.at("slope", x, y).value - 90


def test_a_suspect_is_asked_for_once() -> None:
    """To be read again because it looks like a slip, and not once more for what it would save."""
    _, survey = alcove()
    spoilt = tuple(
        dataclasses.replace(one, length_mm=one.length_mm + 25.4)
        if isinstance(one, TapeReading) and (one.start, one.end) == ("BL2", "BR2")
        else one
        for one in survey.readings
    )
    room = reconcile(dataclasses.replace(survey, readings=spoilt))
    asked = [one.text for one in next_readings(room, BRIEF, 6)]
    assert asked[0] == "tape BL2 - BR2"
    assert len(asked) == len(set(asked))


def listed(kind: RoomKind, seed: int, slip: Slip | None = None) -> tuple[SimulatedRoom, Survey, int | None]:
    """Return a simulated room of any kind with the readings of its field sheet."""
    found = field_list(kind)
    room = simulated_room(kind, seed, heights_mm=found.heights_mm)
    return room, *field_book(Person(room), [(one.tool, *one.of) for one in found.readings], slip)


def place_for(kind: RoomKind) -> str:
    """Return a place in a kind of room where furniture can stand."""
    return next(place.name for place in SHAPES[kind].places if not place.refused)


@pytest.mark.parametrize("furnished", [True, False])
@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_room_gets_advice_that_can_be_taken(kind: RoomKind, furnished: bool) -> None:
    """For furniture and for the room alone: up to three readings of spots that are there, each making something surer.

    Taken, they are accepted, and the first makes what it was for no less sure.
    """
    room, survey, _ = listed(kind, 4)
    brief = dataclasses.replace(BRIEF, place=place_for(kind), tiers=(BASE,)) if furnished else None
    before = reconcile(survey)
    asked = next_readings(before, brief)
    assert 2 <= len(asked) <= 3
    assert all(one.before_mm is None or one.after_mm < one.before_mm for one in asked)
    marks = tuple(dict.fromkeys(one.mark_mm for one in asked if one.mark_mm is not None))
    room.heights_mm = (*room.heights_mm, *marks)
    taken_now = tuple(Person(room).take(as_taken(one.text), 50) for one in asked)
    heights = (*survey.heights_mm, *marks)
    after = reconcile(dataclasses.replace(survey, heights_mm=heights, readings=(*survey.readings, *taken_now)))
    name = asked[0].saves.removeprefix("the ")
    spreads = [[one.measured.sd for one in each.derived if one.name == name] for each in (before, after)]
    if all(spreads):
        assert spreads[1][0] < 1.05 * spreads[0][0]


@pytest.mark.parametrize("kind", KINDS)
def test_rival_suspects_are_told_apart_by_what_is_asked_for(kind: RoomKind) -> None:
    """An inch in a tape: where several tapes may be it, at most three readings more name the right one, nearly always.

    They are asked for before anything else, and none of them twice.
    """
    rivals = settled = 0
    for seed in range(8):
        room, survey, place = listed(kind, 700 + seed, Slip(25.4))
        found = reconcile(survey)
        if not any(fit.slip is not None and fit.slip.or_else for fit in found.fits):
            continue
        asked = next_readings(found, None)
        telling = [one for one in asked if one.tells]
        assert telling == list(asked[: len(telling)])
        assert 1 <= len(telling) == len({one.text for one in telling}) <= 3
        more = tuple(Person(room).take(as_taken(one.text), 50) for one in telling)
        again = reconcile(dataclasses.replace(survey, readings=(*survey.readings, *more)))
        suspects = [i for i, fit in enumerate(again.fits) if fit.suspect]
        rivals += 1
        settled += max(suspects, key=lambda i: abs(again.fits[i].w), default=None) == place
    assert settled >= rivals - 1
    assert rivals >= 5 or kind != "twin-alcoves"
