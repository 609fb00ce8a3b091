"""The hunt for slips: found, named, told apart from wavy walls, shown with and without, left out by the user only."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest

from nookwright.stages.inputs.survey import LevelReading, Reading, Survey, TapeReading, Tools
from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.room.room import ReadingFit, Room
from nookwright.stages.room.slip_kinds import mirrored_pairs
from rooms_for_tests import Reader, alcove_readings, crooked_alcove, survey_of


def alcove(seed: int = 11, waviness_mm: float = 2.0, tools: Tools | None = None, turns: int = 1) -> Survey:
    """Return the field book of an alcove; with two turns every reading is taken twice."""
    rng = np.random.default_rng(seed)
    reader = Reader(crooked_alcove(rng, waviness_mm=waviness_mm), rng, tools or Tools())
    book = survey_of(reader, alcove_readings)
    more = tuple(reading for _ in range(turns - 1) for reading in alcove_readings(reader))
    return dataclasses.replace(book, readings=(*book.readings, *more))


def spoiled(survey: Survey, **by_mm: float) -> Survey:
    """Return the survey with slips in tapes, given as BL2_BR2=25.4; the first such tape is spoiled."""
    readings: list[Reading] = list(survey.readings)
    for name, slip in by_mm.items():
        place = next(i for i, r in enumerate(readings) if isinstance(r, TapeReading) and f"{r.start}_{r.end}" == name)
        tape = readings[place]
        assert isinstance(tape, TapeReading)
        readings[place] = dataclasses.replace(tape, length_mm=tape.length_mm + slip)
    return dataclasses.replace(survey, readings=tuple(readings))


def suspects(room: Room) -> dict[str, ReadingFit]:
    """Return the suspects by what they are called."""
    return {fit.text: fit for fit in room.fits if fit.suspect}


def test_a_clean_field_book_holds_no_slip() -> None:
    """And every reading says how small a slip of it would be found."""
    room = reconcile(alcove())
    assert suspects(room) == {}
    assert all(fit.slip is None for fit in room.fits)
    width = next(fit for fit in room.fits if fit.text == "tape BL2 - BR2")
    assert width.findable is not None
    assert 5 < width.findable < 25


def test_the_smallest_findable_error_is_the_factor_times_the_spread_of_the_error() -> None:
    """By hand: 4.132 s / sqrt(r) for an independent reading. Source of the factor: z(.9995) + z(.80) (computed)."""
    for fit in reconcile(alcove()).fits:
        if fit.findable is not None and fit.redundancy > 0.001:
            assert fit.findable == pytest.approx(4.1322 * fit.sd / np.sqrt(fit.redundancy), rel=1e-4)


def test_an_inch_is_named_with_its_size_and_what_it_does() -> None:
    """25.4 mm too much on a width: the error lies within its spread, and the width is told with and without."""
    survey = alcove()
    clean = reconcile(survey)
    (fit,) = suspects(reconcile(spoiled(survey, BL2_BR2=25.4))).values()
    assert fit.text == "tape BL2 - BR2"
    assert fit.slip is not None
    assert abs(fit.slip.error.value - 25.4) < 3 * fit.slip.error.sd
    assert fit.slip.likely[0] == "an inch"
    effect = fit.slip.effects[0]
    assert effect.name == "width at the back at level 2"
    true = next(d.measured.value for d in clean.derived if d.name == effect.name)
    assert effect.without_it.value == pytest.approx(true, abs=2.5 * effect.without_it.sd)
    assert effect.with_it.value > true + 5


def test_nothing_is_thrown_away_until_the_user_says_so() -> None:
    """The room keeps the suspect and the test of the whole fails; left out by the user, it is listed and all is well."""
    survey = spoiled(alcove(), BL2_BR2=100.0)
    room = reconcile(survey)
    assert len(room.fits) == len(survey.readings)
    assert not room.global_test.passed
    width = next(d.measured.value for d in room.derived if d.name == "width at the back at level 2")
    place = next(i for i, fit in enumerate(room.fits) if fit.suspect)
    readings = list(survey.readings)
    readings[place] = dataclasses.replace(readings[place], use=False)
    without = reconcile(dataclasses.replace(survey, readings=tuple(readings)))
    assert len(without.fits) == len(survey.readings) - 1
    (out,) = without.left_out
    assert (out.text, out.unit) == ("tape BL2 - BR2", "mm")
    assert out.says is not None
    assert out.read - out.says.value == pytest.approx(100, abs=3 * out.says.sd)
    assert without.global_test.passed
    effect = next(e for e in room.fits[place].slip.effects if e.name == "width at the back at level 2")  # type: ignore[union-attr]
    assert effect.with_it.value == pytest.approx(width)
    now = next(d.measured.value for d in without.derived if d.name == "width at the back at level 2")
    assert effect.without_it.value == pytest.approx(now, abs=0.3)


def test_a_reading_left_out_of_which_the_room_knows_nothing_is_still_listed() -> None:
    """The only reading of the ceiling, left out, leaves nothing to compare it with; of a marked spot, its wall does."""
    survey = alcove()
    floor_up = tuple(r for r in survey.readings if not (isinstance(r, LevelReading) and r.spot.endswith("T")))
    extra = LevelReading(spot="FRT", above_mm=1400, use=False)
    room = reconcile(dataclasses.replace(survey, readings=(*floor_up, extra)))
    (out,) = room.left_out
    assert (out.text, out.read, out.says) == ("level FRT", 1400, None)
    (out,) = reconcile(dataclasses.replace(survey, readings=(*survey.readings, extra))).left_out
    assert out.says is not None
    assert out.says.sd > 10


def test_two_slips_are_found_one_after_the_other() -> None:
    """100 mm too much at the back, 2 inches too little at the front, each with its own name and effect."""
    room = reconcile(spoiled(alcove(3), BL1_BR1=100.0, FL3_FR3=-50.8))
    found = suspects(room)
    assert found.keys() == {"tape BL1 - BR1", "tape FL3 - FR3"}
    likely = {text: fit.slip.likely[0] for text, fit in found.items() if fit.slip}
    assert likely == {"tape BL1 - BR1": "100 mm", "tape FL3 - FR3": "2 inches"}


def test_when_two_readings_check_only_each_other_both_are_named() -> None:
    """One spot levelled twice, 60 mm apart, and nothing else says its height: either may be wrong."""
    survey = alcove()
    first = next(r for r in survey.readings if isinstance(r, LevelReading) and r.spot == "BLT")
    again = dataclasses.replace(first, above_mm=first.above_mm + 60)
    room = reconcile(dataclasses.replace(survey, readings=(*survey.readings, again)))
    (fit,) = suspects(room).values()
    assert fit.text == "level BLT"
    assert fit.slip is not None
    assert fit.slip.or_else == ("level BLT",)


def test_a_slip_so_great_that_it_bends_the_room_is_still_found_alone() -> None:
    """A foot too much on a diagonal."""
    found = suspects(reconcile(spoiled(alcove(5), BL1_FR1=304.8)))
    assert found.keys() == {"tape BL1 - FR1"}


def test_a_room_bent_beyond_belief_is_refused_with_the_suspect_named() -> None:
    """The corner it gives is none; the refusal says what was read and what the others say."""
    from nookwright.basics.problems import InvalidInputError

    with pytest.raises(InvalidInputError, match=r"Read again: tape BL1 - BR1 \(\d+ mm, the others say \d+\)"):
        reconcile(spoiled(alcove(5), BL1_BR1=2500.0))


def test_walls_wavier_than_assumed_are_not_called_slips() -> None:
    """Twelve rooms of 5 mm waviness, declared 2: the waviness found grows, and a reading is blamed once at most."""
    rooms = [reconcile(alcove(seed, waviness_mm=5.0)) for seed in range(12)]
    assert sum(bool(suspects(room)) for room in rooms) <= 1
    assert np.median([room.waviness_mm for room in rooms]) > 3.2


def test_one_bad_reading_is_not_called_a_wavy_wall() -> None:
    """The waviness found with an inch too much in one tape is that of the clean field book, nearly."""
    for seed in range(4):
        survey = alcove(seed)
        clean, bad = reconcile(survey), reconcile(spoiled(survey, FL2_FR2=50.8))
        assert bad.waviness_mm == pytest.approx(clean.waviness_mm, rel=0.35)


def test_smooth_walls_are_recognised() -> None:
    """Six rooms of 0.3 mm waviness, declared 2."""
    assert np.median([reconcile(alcove(seed, waviness_mm=0.3)).waviness_mm for seed in range(6)]) < 1.4


def test_few_spots_leave_the_waviness_open() -> None:
    """One tape says nothing of it: the mean of an eighth to eight times the declared 2 mm counts, each as likely.

    By hand: 2^-3 to 2^3 add up to 15.875, the steps between to sqrt 2 * 7.875 = 11.14; 2 mm * 27.01 / 13 = 4.16 mm.
    """
    tape = TapeReading(start="BL0", end="BR0", length_mm=1000)
    room = reconcile(Survey(kind="alcove", corner="left", heights_mm=(), readings=(tape,)))
    assert room.waviness_mm == pytest.approx(4.16, rel=0.02)


def test_a_waviness_known_for_certain_is_kept() -> None:
    """The user fixes it in the file."""
    room = reconcile(alcove(1, waviness_mm=5.0, tools=Tools(waviness_mm=1.5, waviness_fixed=True)))
    assert room.waviness_mm == pytest.approx(1.5)


def test_two_readings_written_where_the_other_belongs_are_both_named() -> None:
    """The two diagonals of a skewed figure, exchanged: neither alone explains the rest, the exchange does."""
    survey, one, two = next(
        (survey, one, two)
        for survey in map(alcove, range(30))
        for one, two in mirrored_pairs(survey.readings)
        if isinstance(survey.readings[one], TapeReading)
        and survey.readings[one].start[1] != survey.readings[one].end[1]  # type: ignore[union-attr]
        and abs(length_of(survey, one) - length_of(survey, two)) > 20
    )
    first, second = length_of(survey, one), length_of(survey, two)
    readings = list(survey.readings)
    for place, length in ((one, second), (two, first)):
        readings[place] = dataclasses.replace(readings[place], length_mm=length)  # type: ignore[call-arg]
    fits = reconcile(dataclasses.replace(survey, readings=tuple(readings))).fits
    assert {i for i, fit in enumerate(fits) if fit.suspect} == {one, two}
    for place, other in ((one, two), (two, one)):
        slip = fits[place].slip
        assert slip is not None
        assert slip.likely[0] == f"changed places with {fits[other].text}"


def length_of(survey: Survey, place: int) -> float:
    """Return the length of a tape."""
    tape = survey.readings[place]
    assert isinstance(tape, TapeReading)
    return tape.length_mm
