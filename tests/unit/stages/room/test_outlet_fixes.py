"""Outlets measured from two references: the disagreement shows, the place both agree on has a spread."""

from __future__ import annotations

import dataclasses
import math

import numpy as np

from nookwright.stages.checks.measuring import check_measuring
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.survey import Outlet
from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.room.room import Room
from nookwright.stages.survey.field_lists import field_list
from simulated_rooms import Person, SimulatedRoom, Waviness, field_book, simulated_room

PLATE = {"box_width_mm": 74.0, "box_height_mm": 74.0, "plate_width_mm": 86.0, "plate_height_mm": 86.0}


def socket(from_left: float, from_right: float | None, above: float, above_mark: float | None = None) -> Outlet:
    """Return a socket on the back wall."""
    mark = None if above_mark is None else 2
    return Outlet(
        name="socket",
        wall="back",
        side="left",
        from_side_mm=from_left,
        above_floor_mm=above,
        from_other_side_mm=from_right,
        mark=mark,
        above_mark_mm=above_mark or 0.0,
        **PLATE,
    )


def surveyed(seed: int, *outlets: Outlet) -> tuple[SimulatedRoom, Room]:
    """Return an alcove surveyed with outlets."""
    todo = field_list("alcove")
    room = simulated_room("alcove", seed, wavy=Waviness(2.0), heights_mm=todo.heights_mm)
    survey, _ = field_book(Person(room), [(one.tool, *one.of) for one in todo.readings])
    return room, reconcile(dataclasses.replace(survey, outlets=outlets))


def wall_length(seed: int, height: float) -> float:
    """Return the true length of the back wall at a height."""
    todo = field_list("alcove")
    room = simulated_room("alcove", seed, wavy=Waviness(2.0), heights_mm=todo.heights_mm)
    place = np.array([[0.0, height]])
    return float((room.surface_at("right", 0, place) - room.surface_at("left", 0, place))[0])


def test_two_ends_that_agree_are_weighed_by_how_sure_they_are() -> None:
    """The place lies between the two, nearer to the direct one, and is surer than either."""
    length = wall_length(4, 300.0)
    _, room = surveyed(4, socket(430.0, length - 433.0, 300.0))
    (fix,) = room.outlets
    assert fix.along is not None
    assert fix.along_off is not None
    assert not fix.disagrees
    assert 430 < fix.along.value < 433
    assert fix.along.sd < 1.5
    assert fix.along_off.sd > math.hypot(1.5, 1.5)
    (outlet,) = room.survey.outlets
    assert (outlet.from_side_mm, outlet.from_side_sd_mm) == (fix.along.value, fix.along.sd)
    assert outlet.above_floor_mm == 300


def test_floor_and_mark_are_compared_too() -> None:
    """A mark at 900: 598 below it is 302 above the floor at BL0."""
    _, room = surveyed(4, socket(0.0, None, 300.0, -598.0))
    (fix,) = room.outlets
    assert fix.above is not None
    assert fix.above_off is not None
    assert fix.along is None
    assert abs(fix.above_off.value - 2) < 3 * fix.above_off.sd
    least, most = sorted((300.0, 300.0 + fix.above_off.value))
    assert least < fix.above.value < most
    assert fix.above.sd < 1.5


def test_ends_that_contradict_each_other_are_shown_and_the_first_kept() -> None:
    """An inch between them: nothing is settled, and the checks fail it by name."""
    length = wall_length(4, 300.0)
    _, room = surveyed(4, socket(430.0, length - 430.0 - 25.4, 300.0))
    (fix,) = room.outlets
    assert fix.disagrees
    assert room.survey.outlets[0].from_side_mm == 430
    (finding,) = [
        one
        for one in check_measuring(room, Brief(title="", units="mm", resolution=0.5, tiers=()))
        if one.subject == "socket"
    ]
    assert finding.verdict == "fail"
    assert finding.summary.startswith("Its two places do not agree: from the two ends of the wall, 2")
    assert finding.remedy == "Measure it again from both before a hole is cut."


def test_an_outlet_measured_once_stays_as_it_was_typed() -> None:
    """There is nothing to compare it with."""
    once = socket(430.0, None, 300.0)
    _, room = surveyed(4, once)
    assert room.outlets == ()
    assert room.survey.outlets == (once,)


def test_good_measurements_seldom_disagree_and_the_place_is_true() -> None:
    """40 alcoves, 1.5 mm a distance: the agreed place within two deviations 0.9 of the time, an alarm once at most."""
    within, alarms = [], 0
    for seed in range(40):
        chance = np.random.default_rng(seed)
        length = wall_length(seed, 300.0)
        left, right = chance.normal((430.0, length - 430.0), 1.5)
        _, room = surveyed(seed, socket(float(left), float(right), 300.0))
        (fix,) = room.outlets
        assert fix.along is not None
        alarms += fix.disagrees
        within.append(abs(fix.along.value - 430) < 1.96 * fix.along.sd)
    assert np.mean(within) >= 0.9
    assert alarms <= 1
