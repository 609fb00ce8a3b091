"""Tapes between two surfaces, plumb planes and angles of slopes against simulated rooms: what they save, and that they stay honest."""

from __future__ import annotations

import dataclasses

import numpy as np

from nookwright.stages.inputs.survey import PlumbReading, Survey
from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.survey.field_lists import field_list
from simulated_edges import edge_angle, offsets, span
from simulated_rooms import Person, SimulatedRoom, Waviness, field_book, simulated_room
from simulated_truth import Truth

ROOMS = 10


def measured(kind: str, seed: int) -> tuple[SimulatedRoom, Person, Survey]:
    """Return a room of 1 to 4 mm waviness, who measures it, and the field sheet's readings."""
    todo = field_list(kind)
    room = simulated_room(kind, seed, wavy=Waviness((1.0, 2.0, 3.0, 4.0)[seed % 4]), heights_mm=todo.heights_mm)
    person = Person(room)
    return room, person, field_book(person, [(one.tool, *one.of) for one in todo.readings])[0]


def test_a_clear_width_taken_where_it_is_wanted_makes_it_surer() -> None:
    """By a quarter and more half way up between the marked heights' ends, 200 mm out; the truth stays within."""
    shares, sizes = [], []
    for seed in range(ROOMS):
        room, person, survey = measured("alcove", 600 + seed)
        more = dataclasses.replace(survey, readings=(*survey.readings, span(person, "left", "right", "BL2", 200.0)))
        before, after = (reconcile(one).between("left", "right", -200.0, 900.0) for one in (survey, more))
        shares.append(after.sd / before.sd)
        true = Truth(room, survey).gap("left", "right", (-200.0, 900.0))
        sizes.append(abs(after.value - true) / after.sd)
    assert np.mean(shares) < 0.75
    assert np.mean(np.array(sizes) < 1.96) >= 0.8
    assert max(sizes) < 3.5


def test_a_clear_height_under_a_slope_is_plumb_and_knows_where_it_was_taken() -> None:
    """A slope of 35 degrees turns 3 mm beside the place into 2 mm of height; the truth stays within."""
    sizes = []
    for seed in range(ROOMS):
        room, person, survey = measured("corner-under-slope", 700 + seed)
        taken = (span(person, "floor", "slope", "BL0", 250.0), span(person, "floor", "slope", "BR0", 250.0))
        found = reconcile(dataclasses.replace(survey, readings=(*survey.readings, *taken)))
        for fit in found.fits[-2:]:
            assert fit.text in ("tape floor - slope at BL0, 250 mm out", "tape floor - slope at BR0, 250 mm out")
            assert fit.sd > 1.5
        for x in (100.0, 900.0):
            height = found.between("floor", "slope", x, -250.0)
            sizes.append(abs(height.value - Truth(room, survey).gap("floor", "slope", (x, -250.0))) / height.sd)
    assert np.mean(np.array(sizes) < 1.96) >= 0.85
    assert max(sizes) < 3.5


def test_offsets_tell_a_lean_as_plumb_lines_do() -> None:
    """In place of the sheet's plumb readings: leans still fixed, within 5 mm/m at two standard deviations, and true."""
    sizes = []
    for seed in range(ROOMS):
        room, person, survey = measured("alcove", 800 + seed)
        kept = [reading for reading in survey.readings if not isinstance(reading, PlumbReading)]
        told = [
            *offsets(person, "left", ("BL1", "BL2", "BL3")),
            *offsets(person, "right", ("BR1", "BR2", "BR3")),
            *offsets(person, "back", ("BL1", "BL3", "BR1", "BR3")),
        ]
        book = dataclasses.replace(survey, readings=(*kept, *told))
        true = Truth(room, book).values("spots")
        for one in reconcile(book).derived:
            if one.name.endswith("lean"):
                assert one.fixed
                assert one.measured.sd < 2.5
                sizes.append(abs(one.measured.value - true[one.name]) / one.measured.sd)
    assert len(sizes) == 3 * ROOMS
    assert np.mean(np.array(sizes) < 1.96) >= 0.85
    assert max(sizes) < 4


def test_an_angle_between_a_wall_and_a_slope_tells_the_pitch() -> None:
    """Beside the sheet's readings: it agrees with them, and the pitch stays true."""
    sizes = []
    for seed in range(ROOMS):
        room, person, survey = measured("corner-under-slope", 900 + seed)
        angle = edge_angle(person, "left", "slope", "BLS")
        book = dataclasses.replace(survey, readings=(*survey.readings, angle))
        found = reconcile(book)
        assert found.fits[-1].text == "bevel left - slope"
        assert abs(found.fits[-1].adjusted - found.fits[-1].read) < 4 * found.fits[-1].sd
        pitch = next(one for one in found.derived if one.name == "slope pitch")
        sizes.append(abs(pitch.measured.value - Truth(room, book).values("spots")["slope pitch"]) / pitch.measured.sd)
    assert np.mean(np.array(sizes) < 1.96) >= 0.8
    assert max(sizes) < 3.5
