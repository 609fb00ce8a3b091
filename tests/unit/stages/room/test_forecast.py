"""The forecast before any reading: it tells what surveys of crooked rooms then tell, and which readings need a second look."""

from __future__ import annotations

import statistics
from dataclasses import replace

import pytest

from nookwright.stages.inputs.survey import Tools
from nookwright.stages.room.forecast import forecast, minutes_for
from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.survey.asked import blank_survey, sheet_list
from simulated_rooms import Person, field_book, simulated_room

KINDS = ("alcove", "corner-under-slope", "under-stair")
NAMES = {"corner angles": "corner", "how far walls lean": "lean", "widths": "width", "pitch of the slope": "pitch"}


@pytest.mark.parametrize("kind", KINDS)
def test_the_forecast_is_what_surveys_of_crooked_rooms_tell(kind: str) -> None:
    """Its greatest spread of each kind lies within a third of the median of eight rooms read with the sheet."""
    found = {one.what: one.sd for one in forecast(blank_survey(kind)).spreads}
    listed = sheet_list(kind)
    takes = [(one.tool, *one.of) for one in listed.readings]
    told: dict[str, list[float]] = {}
    for seed in range(8):
        room = simulated_room(kind, seed, heights_mm=listed.heights_mm)
        book, _ = field_book(Person(room, tools=Tools(waviness_fixed=True)), takes)
        for words, part in NAMES.items():
            sds = [one.measured.sd for one in reconcile(book).derived if part in one.name]
            if sds:
                told.setdefault(words, []).append(max(sds))
    assert set(told) <= set(found)
    for words, sds in told.items():
        assert found[words] == pytest.approx(statistics.median(sds), rel=0.35)


@pytest.mark.parametrize("kind", KINDS)
def test_a_worse_tape_never_forecasts_a_smaller_spread(kind: str) -> None:
    """Nor a greater slip found."""
    survey = blank_survey(kind)
    good = forecast(survey)
    bad = forecast(replace(survey, tools=Tools(tape="III", reading_mm=2.0)))
    for here, there in zip(good.spreads, bad.spreads, strict=True):
        assert there.sd >= here.sd - 1e-9
    for one, other in zip(good.findable, bad.findable, strict=True):
        assert one is None or other is None or other >= one - 1e-9


def test_ceiling_heights_that_nothing_checks_are_to_be_read_twice() -> None:
    """Three points carry a ceiling, and nothing else tells of it."""
    survey = blank_survey("alcove")
    twice = forecast(survey).twice
    spots = {getattr(one, "spot", "") for one, again in zip(survey.readings, twice, strict=True) if again}
    assert spots == {"BLT", "BRT", "FLT"}


def test_the_values_of_readings_do_not_count() -> None:
    """The forecast is of what is read, not of what was found."""
    survey = blank_survey("under-stair")
    other = replace(survey, readings=tuple(reversed(survey.readings)))
    sds = {one.what: one.sd for one in forecast(survey).spreads}
    assert {one.what: one.sd for one in forecast(other).spreads} == pytest.approx(sds)


def test_minutes_count_marks_and_readings() -> None:
    """By hand, 0.4 a tape and 0.3 a mark: two tapes between three spots take 1.7 minutes."""
    book = blank_survey("alcove")
    tapes = [
        one for one in book.readings if {getattr(one, "start", ""), getattr(one, "end", "")} <= {"BL1", "BR1", "FR1"}
    ]
    two = [one for one in tapes if hasattr(one, "start")][:2]
    assert minutes_for(two) == pytest.approx(2 * 0.4 + 3 * 0.3)
