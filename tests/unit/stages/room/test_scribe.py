"""The gap under a straight edge: by hand where the wall is known, and how honest its band is where it is not."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest

from nookwright.stages.inputs.survey import GapReading
from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.room.room import Room
from nookwright.stages.room.scribe import scribe_profile
from nookwright.stages.survey.field_lists import field_list
from simulated_edges import lay, resting_gaps
from simulated_rooms import Person, SimulatedRoom, Waviness, field_book, simulated_room
from simulated_truth import Truth

HEIGHTS = np.arange(150.0, 1951.0, 150.0)
STEPS = range(0, 1801, 300)


def rooms(seed: int, waviness_mm: float) -> tuple[SimulatedRoom, Room, Room]:
    """Return an alcove, and it surveyed without and with a straightedge up both side walls at the back."""
    todo = field_list("alcove")
    room = simulated_room("alcove", seed, wavy=Waviness(waviness_mm), heights_mm=todo.heights_mm)
    person = Person(room)
    survey, _ = field_book(person, [(one.tool, *one.of) for one in todo.readings])
    gaps: list[GapReading] = [*lay(person, "left", "BL1", "up", STEPS), *lay(person, "right", "BR1", "up", STEPS)]
    more = dataclasses.replace(survey, readings=(*survey.readings, *gaps))
    return room, reconcile(survey), reconcile(more)


def test_gaps_make_the_width_between_marked_heights_surer_and_stay_honest() -> None:
    """By at least a sixth in the mean of 8 rooms, as 2.28 to 1.84 mm is in the survey notes; still 0.93 and more covered.

    With 32 values that go together by fours, 0.95 can come out at 0.85.
    """
    shares, sizes = [], []
    for seed in range(8):
        room, before, after = rooms(40 + seed, (1.0, 2.0, 3.0, 4.0)[seed % 4])
        for z in (450.0, 700.0, 1350.0, 1600.0):
            width = after.between("left", "right", 0.0, z)
            shares.append(width.sd / before.between("left", "right", 0.0, z).sd)
            true = Truth(room, after.survey).gap("left", "right", (0.0, z))
            sizes.append(abs(width.value - true) / width.sd)
        assert not any(fit.suspect and fit.text.startswith("gap") for fit in after.fits)
    assert np.mean(shares) < 5 / 6
    assert np.mean(np.array(sizes) < 1.96) >= 0.85
    assert max(sizes) < 4


def test_the_band_holds_the_true_gap() -> None:
    """Of a straightedge laid anywhere beside the measured line: 13 places on two lines in each of 8 rooms, 0.90 and more of them."""
    held = []
    for seed in range(8):
        room, _, after = rooms(80 + seed, (1.0, 3.0)[seed % 2])
        for y in (0.0, -250.0):
            found = scribe_profile(after, "left", [(y, z) for z in HEIGHTS])
            wall = room.surface_at("left", 0, np.column_stack([np.full(len(HEIGHTS), y), HEIGHTS]))
            true = resting_gaps(HEIGHTS, wall)
            held += [a.low_mm - 1e-6 <= b <= a.high_mm + 1e-6 for a, b in zip(found, true, strict=True)]
    assert np.mean(held) >= 0.9


def test_a_straightedge_makes_the_scribed_line_surer() -> None:
    """The band along the line it was laid on is narrower in the mean by a quarter or more."""
    _, before, after = rooms(3, 3.0)
    line = [(0.0, z) for z in HEIGHTS]
    bands = [[one.high_mm - one.low_mm for one in scribe_profile(room, "left", line)] for room in (before, after)]
    assert np.mean(bands[1]) < 0.75 * np.mean(bands[0])


def test_an_edge_held_true_leaves_the_lean_as_a_gap() -> None:
    """A wall that leans away by 20 mm in 1800 mm leaves 20 mm at its top; an edge that rests on it leaves nearly none."""
    todo = field_list("alcove")
    room = simulated_room("alcove", 5, wavy=Waviness(0.2, grain_mm=0.1), heights_mm=todo.heights_mm)
    found = reconcile(field_book(Person(room), [(one.tool, *one.of) for one in todo.readings])[0])
    line = [(0.0, z) for z in HEIGHTS]
    wall = room.surface_at("left", 0, np.column_stack([np.zeros(len(HEIGHTS)), HEIGHTS]))
    true = wall.max() - wall
    held, resting = (scribe_profile(found, "left", line, lie=lie) for lie in ("true", "rests"))
    for one, gap in zip(held, true, strict=True):
        assert one.gap.value == pytest.approx(gap, abs=4 * one.gap.sd + 0.5)
    assert max(one.gap.value for one in held) > 5 * max(one.gap.value for one in resting)
    assert all(one.gap.value >= 0 for one in (*held, *resting))


def test_the_same_room_gives_the_same_profile() -> None:
    """The draws are the same each time; places are counted along the line."""
    _, _, after = rooms(7, 2.0)
    line = [(-y, 900.0) for y in range(0, 401, 100)]
    assert scribe_profile(after, "right", line) == scribe_profile(after, "right", line)
    assert [one.at_mm for one in scribe_profile(after, "right", line)] == pytest.approx(
        [0, 100, 200, 300, 400], rel=1e-3
    )


def test_a_line_needs_two_places() -> None:
    """One place has no straight."""
    _, _, after = rooms(7, 2.0)
    with pytest.raises(ValueError, match="a line has two places or more"):
        scribe_profile(after, "left", [(0.0, 900.0)])
