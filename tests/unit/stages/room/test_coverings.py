"""Tapes over the skirting and to bare studs: the sum that is seen, told apart only where something else tells it."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
import pytest

from nookwright.stages.inputs.survey import Covering, Reading, Skirting, Survey, TapeReading, WallBuild
from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.room.room import Derived, Room
from nookwright.stages.survey.coverings import ends_moved
from nookwright.stages.survey.field_lists import field_list
from nookwright.stages.survey.kind_table import kind_shape
from simulated_edges import covered_tape, span
from simulated_rooms import Person, SimulatedRoom, Waviness, field_book, simulated_room
from simulated_truth import Truth

FLOOR_TAPES = (("BL0", "BR0"), ("BL0", "FL0"), ("BR0", "FR0"), ("BL0", "FR0"))


def book(seed: int, thickness_mm: float, *, over: Covering = "skirting", above: bool) -> tuple[SimulatedRoom, Survey]:
    """Return an alcove taped over its skirting at the floor, with or without the usual readings above it."""
    todo = field_list("alcove")
    room = simulated_room("alcove", seed, wavy=Waviness((1.0, 2.0, 3.0)[seed % 3]), heights_mm=todo.heights_mm)
    person = Person(room)
    survey, _ = field_book(person, [(one.tool, *one.of) for one in todo.readings])
    kept: list[Reading] = [one for one in survey.readings if above or not isinstance(one, TapeReading)]
    kept += [covered_tape(person, start, end, thickness_mm, over) for start, end in FLOOR_TAPES]
    return room, dataclasses.replace(survey, readings=tuple(kept))


def thickness(room: Room, name: str = "skirting thickness") -> Derived:
    """Return what is said of the skirting or board."""
    return next(one for one in room.derived if one.name == name)


def test_each_end_is_moved_square_to_the_walls_it_stands_at() -> None:
    """By hand: across an alcove both ends, to the back wall one, out along a side wall only the back one."""
    shape = kind_shape("alcove")

    def moved(start: str, end: str, over: Covering = "skirting") -> list[float]:
        return ends_moved(TapeReading(start=start, end=end, length_mm=900, over=over), shape).round(9).tolist()

    assert moved("BL0", "BR0") == [-2, 0, 0]
    assert moved("BL0", "BR0", "studs") == [2, 0, 0]
    assert moved("BL0", "FL0") == [0, 1, 0]
    assert moved("FL0", "back") == [-1, -1, 0]
    assert moved("BL0", "FR0") == [-2, 1, 0]


def test_a_thickness_told_apart_by_readings_above_it_is_true() -> None:
    """Widths, diagonals and plumb lines above tell the walls' distance at the floor, and so the skirting."""
    sizes = []
    for seed in range(12):
        room, survey = book(seed, 12.0 + seed, above=True)
        found = reconcile(survey)
        one = thickness(found)
        assert one.fixed
        assert one.measured.sd < 2.5
        sizes.append((one.measured.value - 12.0 - seed) / one.measured.sd)
        true = Truth(room, survey).values("spots")["width at the back at the floor"]
        width = next(each for each in found.derived if each.name == "width at the back at the floor")
        sizes.append((width.measured.value - true) / width.measured.sd)
    assert np.mean(np.abs(sizes) < 1.96) >= 0.85
    assert np.max(np.abs(sizes)) < 3.5


def test_where_only_the_sum_is_seen_that_is_said() -> None:
    """And the width is as unsure as twice the guess of the thickness: 2 x 6 mm; the sum itself is sure."""
    _, survey = book(5, 15.0, above=False)
    found = reconcile(survey)
    one = thickness(found)
    assert not one.fixed
    assert one.measured.sd == pytest.approx(6, abs=0.3)
    assert one.advice == (
        "The skirting thickness is not told apart from the room's width: the readings only see their sum; "
        "measure its thickness at an end, or tape the same width just above it."
    )
    width = next(each for each in found.derived if each.name == "width at the back at the floor")
    assert not width.fixed
    assert width.measured.sd == pytest.approx(12, abs=1)


def test_a_thickness_typed_makes_the_width_sure() -> None:
    """A skirting of 15 mm, 0.5 mm either way: both are fixed; the readings add nothing to the thickness."""
    room, survey = book(5, 15.0, above=False)
    survey = dataclasses.replace(survey, skirting=Skirting(height_mm=90, thickness_mm=15, thickness_sd_mm=0.5))
    found = reconcile(survey)
    one = thickness(found)
    assert (one.fixed, one.advice, one.measured.sd) == (True, "", pytest.approx(0.5, abs=0.02))
    assert one.measured.value == pytest.approx(15, abs=0.1)
    width = next(each for each in found.derived if each.name == "width at the back at the floor")
    true = Truth(room, survey).values("spots")["width at the back at the floor"]
    assert width.fixed
    assert width.measured.value == pytest.approx(true, abs=3 * width.measured.sd)


def test_a_clear_width_over_the_skirting_sees_it_twice() -> None:
    """One tape between the side walls' skirtings at the floor, all else above it: their thickness, to 2 mm."""
    room, survey = book(8, 17.0, above=True)
    taken = span(Person(room), "left", "right", "BL0", 200.0)
    over = dataclasses.replace(taken, length_mm=taken.length_mm - 2 * 17.0, over="skirting")
    kept = [one for one in survey.readings if not (isinstance(one, TapeReading) and one.over)]
    one = thickness(reconcile(dataclasses.replace(survey, readings=(*kept, over))))
    assert one.fixed
    assert abs(one.measured.value - 17) < 3 * one.measured.sd
    assert one.measured.sd < 2.5


def test_a_board_is_seen_from_the_studs() -> None:
    """Tapes to bare studs are longer by two boards; what was typed of the board counts when it was typed."""
    _, survey = book(7, 12.5, over="studs", above=True)
    found = thickness(reconcile(survey), "board thickness")
    assert abs(found.measured.value - 12.5) < 3 * found.measured.sd
    assert found.measured.sd < 2.5
    typed = dataclasses.replace(survey, wall=WallBuild(board_mm=12.5, board_sd_mm=0.3))
    assert thickness(reconcile(typed), "board thickness").measured.sd < 0.3


def test_a_tape_over_the_skirting_is_said_so() -> None:
    """Among the readings, as it was typed."""
    _, survey = book(5, 15.0, above=True)
    fits = reconcile(survey).fits
    assert [fit.text for fit in fits[-4:]] == [f"tape {a} - {b} over skirting" for a, b in FLOOR_TAPES]
    assert all(math.isfinite(fit.adjusted) for fit in fits)
