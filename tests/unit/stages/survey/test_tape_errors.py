"""A tape's own stretch and zero error, the same in all its readings."""

from __future__ import annotations

import numpy as np
import pytest

from nookwright.stages.inputs.survey import Survey, TapeReading
from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.survey.tape_errors import as_read
from nookwright.stages.survey.unknowns import unknowns_of

SQUARE = {("BL1", "BR1"): 3000.0, ("BL1", "FL1"): 4000.0, ("BR1", "FL1"): 5000.0}


def survey_of(factor: float) -> Survey:
    """Return a field book of a right-angled triangle, all of it read on one tape that is so many times too long."""
    tapes = tuple(TapeReading(start=a, end=b, length_mm=factor * size) for (a, b), size in SQUARE.items())
    return Survey(kind="alcove", corner="left", heights_mm=(900.0,), readings=tapes)


def test_a_tape_reads_its_stretch_and_its_zero_error_on_top() -> None:
    """By hand: 2000 mm on a tape that reads 0.5 mm/m and 2 mm too much is 2000 + 1 + 2; a derivative grows by 1.0005."""
    unknowns = unknowns_of(survey_of(1.0))
    state = np.zeros(unknowns.count)
    state[unknowns.tape_stretch], state[unknowns.tape_zero] = 0.5, 2.0
    read, derivatives = as_read(np.array([2000.0]), np.ones((1, 1)), state, unknowns)
    assert read == pytest.approx([2003.0])
    assert derivatives[0] == pytest.approx([1.0005, 2.0, 1.0])


def test_a_stretched_tape_turns_no_corner() -> None:
    """A 3-4-5 triangle is square on whatever tape: one of 0.2 mm/m too much gives the same angle."""
    corners = [
        next(one.measured for one in reconcile(survey_of(factor)).derived if one.name == "back left corner at level 1")
        for factor in (1.0, 1.0002)
    ]
    assert corners[0].value == pytest.approx(90.0, abs=0.01)
    assert corners[1].value == pytest.approx(corners[0].value, abs=0.001)
