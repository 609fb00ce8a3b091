"""What a field book leaves open is said, and what would fix it; what it fixes is not called open."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest

from nookwright.basics.problems import InvalidInputError
from nookwright.stages.inputs.survey import BevelReading, LevelReading, PlumbReading, Survey, TapeReading
from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.room.room import Derived, Room
from rooms_for_tests import Reader, alcove_readings, crooked_alcove, mirrored, survey_of


def alcove(seed: int = 11) -> Survey:
    """Return the usual field book of an alcove."""
    rng = np.random.default_rng(seed)
    return survey_of(Reader(crooked_alcove(rng), rng), alcove_readings)


def of(room: Room, name: str) -> Derived:
    """Return the derived value of that name."""
    return next(one for one in room.derived if one.name == name)


def keep(survey: Survey, *kinds: type) -> Survey:
    """Return the survey with some kinds of reading only."""
    return dataclasses.replace(survey, readings=tuple(r for r in survey.readings if isinstance(r, kinds)))


def without_diagonals(survey: Survey) -> Survey:
    """Return the survey without the tapes from corner to corner."""
    kept = tuple(
        r for r in survey.readings
        if not (isinstance(r, TapeReading) and r.start[0] != r.end[0] and r.start[1] != r.end[1])
    )  # fmt: skip
    return dataclasses.replace(survey, readings=kept)


def at_one_height(survey: Survey) -> Survey:
    """Return the survey with tapes at level 1 only, and no plumb line."""
    kept = tuple(
        r for r in survey.readings
        if isinstance(r, LevelReading) or (isinstance(r, TapeReading) and r.start[2] == "1" and r.end[2] == "1")
    )  # fmt: skip
    return dataclasses.replace(survey, readings=kept)


def test_four_sides_without_a_diagonal_are_a_hinge() -> None:
    """Corner not fixed, widths fixed; any one diagonal, or a bevel, fixes the corner."""
    survey = without_diagonals(alcove())
    room = reconcile(survey)
    for side, diagonal in (("left", "BR0 - FL0"), ("right", "BL0 - FR0")):
        corner = of(room, f"back {side} corner")
        assert not corner.fixed
        assert corner.advice == (
            f"The back {side} corner is not fixed by what was measured; measure the floor diagonal {diagonal}."
        )
    assert of(room, "width at the back at level 1").fixed
    bevel = BevelReading(walls=("back", "left"), level="1", angle_deg=of(room, "back left corner").measured.value)
    assert of(reconcile(dataclasses.replace(survey, readings=(*survey.readings, bevel))), "back left corner").fixed


def test_without_level_or_plumb_lean_and_fall_are_open_but_corners_and_widths_are_not() -> None:
    """Tapes only, at several heights: nothing says which way is down."""
    room = reconcile(keep(alcove(), TapeReading))
    for name, what in (
        ("floor fall to the right", "read BL0, BR0, FL0 and FR0 with the level"),
        ("left wall lean", "plumb it from BL0 to BL3"),
    ):
        assert not of(room, name).fixed
        assert of(room, name).advice == f"The {name} is not fixed by what was measured; {what}."
    assert of(room, "back left corner").fixed
    assert of(room, "width at the back at level 2").fixed


def test_at_one_height_only_the_leans_are_open_and_so_are_widths_elsewhere() -> None:
    """The width is known where it was taped; two metres up it may be anything that a leaning wall allows."""
    room = reconcile(at_one_height(alcove()))
    for wall in ("left", "right", "back"):
        assert not of(room, f"{wall} wall lean").fixed
    assert of(room, "width at the back at level 1").fixed
    assert of(room, "back left corner").fixed
    near, far = (room.between("left", "right", -300.0, height).sd for height in (300.0, 1900.0))
    assert near < 5  # one height says little of how wavy the walls are
    assert far > 30


def test_angles_without_a_tape_have_no_size() -> None:
    """Bevels, plumb lines and levels: refused, with the tape to begin with."""
    survey = keep(alcove(), PlumbReading, LevelReading)
    bevel = BevelReading(walls=("back", "left"), level="1", angle_deg=90)
    with pytest.raises(InvalidInputError) as caught:
        reconcile(dataclasses.replace(survey, readings=(*survey.readings, bevel)))
    assert str(caught.value) == (
        "readings: found no tape; expected tapes across the back wall and along the sides. "
        "A room has no size without a tape: start with BL0 - BR0."
    )


def test_a_wall_known_along_one_line_only_may_turn_about_it() -> None:
    """The left wall is read at its back edge only: its corner is open, the right one is not."""
    survey = alcove()
    kept = tuple(
        r for r in survey.readings if isinstance(r, LevelReading) or "FL" not in f"{r}"
    )  # the floor's front left corner still has its height
    room = reconcile(dataclasses.replace(survey, readings=kept))
    assert not of(room, "back left corner").fixed
    assert of(room, "back right corner").fixed


@pytest.mark.parametrize("seed", range(5))
def test_tapes_alone_never_give_the_mirror_image(seed: int) -> None:
    """Right is right of left, the front is in front, and the mirrored field book gives the mirrored corners."""
    survey = keep(alcove(seed), TapeReading)
    room, other = reconcile(survey), reconcile(mirrored(survey))
    for level in ("1", "3"):
        places = {name: room.spot(name + level) for name in ("BL", "BR", "FL", "FR")}
        xyz = {name: spot.xyz for name, spot in places.items() if spot is not None}
        assert xyz["BR"][0] > 500 + xyz["BL"][0]
        assert xyz["FL"][1] < xyz["BL"][1] - 200
        assert xyz["FR"][1] < xyz["BR"][1] - 200
    here, there = of(room, "back left corner at level 1"), of(other, "back right corner at level 1")
    assert there.measured.value == pytest.approx(here.measured.value, abs=0.05)


def test_nothing_is_called_open_that_the_usual_readings_fix() -> None:
    """Ten rooms, the usual list: every figure is fixed but those of the ceiling, of which the front is never read."""
    for seed in range(10):
        room = reconcile(alcove(seed))
        assert {one.name for one in room.derived if not one.fixed and "ceiling" not in one.name} == set()
