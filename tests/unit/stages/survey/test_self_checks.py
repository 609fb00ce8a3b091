"""Self-checks: they hold in any crooked room that is read without a slip, and a gross slip breaks one."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nookwright.stages.inputs.survey import PlumbReading, Survey, TapeReading
from nookwright.stages.survey.asked import blank_survey, sheet_list
from nookwright.stages.survey.nominal import nominal_room
from nookwright.stages.survey.self_checks import SelfCheck, self_checks
from simulated_rooms import Person, field_book, simulated_room

KINDS = ("alcove", "corner-under-slope", "under-stair")


def checks_of(kind: str) -> tuple[SelfCheck, ...]:
    """Return the checks of a kind's field sheet."""
    survey = blank_survey(kind)
    return self_checks(survey, nominal_room(survey))


def off_mm(check: SelfCheck, survey: Survey) -> float:
    """Return by how much a check fails to hold in a field book."""
    values = []
    for number in check.numbers:
        reading = survey.readings[number - 1]
        assert isinstance(reading, TapeReading | PlumbReading)
        values.append(reading.length_mm if isinstance(reading, TapeReading) else reading.into_room_mm)
    if check.kind == "opposite":
        return abs(values[0] - values[1])
    if check.kind == "lean":
        return abs(values[0] - (values[1] - values[2] - values[3]))
    return abs(sum(v * v for v in values[:2]) - sum(v * v for v in values[2:]))


def filled(kind: str, seed: int) -> Survey:
    """Return a field sheet filled in, in a crooked room."""
    found = sheet_list(kind)
    room = simulated_room(kind, seed, heights_mm=found.heights_mm)
    return field_book(Person(room), [(one.tool, *one.of) for one in found.readings])[0]


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_has_a_check_of_its_figures(kind: str) -> None:
    """The squares over the diagonals of each closed figure, and its opposite sides."""
    kinds = [check.kind for check in checks_of(kind)]
    assert kinds.count("squares") == (2 if kind == "alcove" else 1)
    assert kinds.count("opposite") == 2 * kinds.count("squares")
    assert kinds.count("lean") == (kind == "alcove")


@pytest.mark.parametrize("kind", KINDS)
def test_in_rooms_without_a_slip_nearly_all_hold(kind: str) -> None:
    """Forty crooked rooms; those of tapes and plumb lines at 3 standard deviations, opposite sides at 2 degrees."""
    checks = checks_of(kind)
    held = [off_mm(check, filled(kind, seed)) <= check.within_mm for seed in range(40) for check in checks]
    assert sum(held) / len(held) >= 0.93


@pytest.mark.parametrize("kind", KINDS)
def test_a_gross_slip_in_any_side_or_diagonal_breaks_one(kind: str) -> None:
    """A decimetre in each tape of each closed figure, one after the other."""
    checks = checks_of(kind)
    survey = filled(kind, 3)
    for number in {number for check in checks if check.kind == "squares" for number in check.numbers}:
        readings = list(survey.readings)
        tape = readings[number - 1]
        assert isinstance(tape, TapeReading)
        readings[number - 1] = replace(tape, length_mm=tape.length_mm + 100.0)
        spoiled = replace(survey, readings=tuple(readings))
        assert any(off_mm(check, spoiled) > check.within_mm for check in checks if number in check.numbers)
