"""From field book to room, on rooms whose truth is known by hand or from independent geometry."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest

from nookwright.basics.problems import InvalidInputError
from nookwright.stages.inputs.survey import (
    BevelReading,
    LevelReading,
    PlumbReading,
    Reading,
    Survey,
    TapeReading,
)
from nookwright.stages.room.network import Effort
from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.room.room import Derived, Room
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


def derived(room: Room, name: str) -> Derived:
    """Return the derived value of that name."""
    return next(one for one in room.derived if one.name == name)


def square_box() -> tuple[Reading, ...]:
    """Return exact readings of a box 1200 wide and 900 deep: diagonals 1500."""
    readings: list[Reading] = [LevelReading(spot=spot, above_mm=-1000) for spot in ("BL0", "BR0", "FL0", "FR0")]
    for level in ("1", "2"):
        for start, end, length in (
            ("BL", "BR", 1200), ("FL", "FR", 1200), ("BL", "FL", 900), ("BR", "FR", 900),
            ("BL", "FR", 1500), ("BR", "FL", 1500),
        ):  # fmt: skip
            readings.append(TapeReading(start=start + level, end=end + level, length_mm=length))
    for wall, column in (
        ("left", "BL"),
        ("left", "FL"),
        ("right", "BR"),
        ("right", "FR"),
        ("back", "BL"),
        ("back", "BR"),
    ):
        readings.append(PlumbReading(wall=wall, first=f"{column}1", second=f"{column}2", into_room_mm=0))
    return tuple(readings)


BOX = Survey(kind="alcove", corner="left", heights_mm=(300, 2000), readings=square_box())


def test_a_square_box_comes_out_square() -> None:
    """By hand: all corners 90 degrees, nothing leans or falls, every reading fits exactly."""
    room = reconcile(BOX)
    assert room.surfaces == ("floor", "back", "left", "right")
    spot = room.spot("FR2")
    assert spot is not None
    assert spot.xyz == pytest.approx((1200, -900, 2000), abs=1e-6)
    assert room.spot("FR9") is None
    assert derived(room, "back left corner").measured.value == pytest.approx(90, abs=1e-9)
    assert derived(room, "right wall lean").measured.value == pytest.approx(0, abs=1e-9)
    assert derived(room, "width at the front at level 2").measured.value == pytest.approx(1200, abs=1e-6)
    assert derived(room, "depth on the right at level 1").measured.value == pytest.approx(900, abs=1e-6)
    assert all(fit.adjusted == pytest.approx(fit.read, abs=1e-6) for fit in room.fits)
    assert room.global_test.statistic == pytest.approx(0, abs=1e-9)
    assert room.global_test.passed
    assert all(one.fixed for one in room.derived)


def test_fits_keep_the_order_typed_and_say_which_reading() -> None:
    """A person finds the reading again."""
    room = reconcile(BOX)
    assert [room.fits[i].text for i in (0, 4, 16)] == ["level BL0", "tape BL1 - BR1", "plumb left BL1 - BL2"]
    bevel = dataclasses.replace(
        BOX, readings=(*BOX.readings, BevelReading(walls=("back", "left"), level="1", angle_deg=90))
    )
    last = reconcile(bevel).fits[-1]
    assert (last.text, last.unit) == ("bevel back - left at level 1", "deg")


def test_a_square_tape_is_worth_a_width() -> None:
    """A tape from BL1 square to the right wall says what BL1 - BR1 says."""
    readings = tuple(
        TapeReading(start="BL1", end="right", length_mm=1207)
        if isinstance(reading, TapeReading) and (reading.start, reading.end) == ("BL1", "BR1")
        else reading
        for reading in BOX.readings
    )
    room = reconcile(dataclasses.replace(BOX, readings=readings))
    (fit,) = (fit for fit in room.fits if fit.text == "tape BL1 - right")
    assert fit.adjusted == pytest.approx(1203, abs=3)
    assert [spot.name for spot in room.spots] == sorted(spot.name for spot in room.spots)
    assert not any("right" in spot.name for spot in room.spots)


def test_a_slip_of_an_inch_is_flagged_and_named() -> None:
    """25.4 mm on one width of the usual 24 readings; the room itself keeps all readings."""
    rng = np.random.default_rng(11)
    survey = survey_of(Reader(crooked_alcove(rng), rng), alcove_readings)
    assert len(survey.readings) == 24
    place = next(
        i for i, r in enumerate(survey.readings) if isinstance(r, TapeReading) and (r.start, r.end) == ("BL2", "BR2")
    )
    assert not any(fit.suspect for fit in reconcile(survey).fits)
    spoiled = list(survey.readings)
    tape = spoiled[place]
    assert isinstance(tape, TapeReading)
    spoiled[place] = dataclasses.replace(tape, length_mm=tape.length_mm + 25.4)
    room = reconcile(dataclasses.replace(survey, readings=tuple(spoiled)))
    assert [fit.text for fit in room.fits if fit.suspect] == ["tape BL2 - BR2"]
    assert not room.global_test.passed


def test_four_sides_without_a_diagonal_do_not_fix_the_corner() -> None:
    """A rectangle of four tapes is a hinge; one diagonal stiffens it."""
    sides = tuple(r for r in BOX.readings if not isinstance(r, TapeReading) or r.length_mm != 1500)
    corner = derived(reconcile(dataclasses.replace(BOX, readings=sides)), "back left corner")
    assert not corner.fixed
    assert corner.measured.sd > 2
    assert corner.advice == (
        "The back left corner is not fixed by what was measured; measure the floor diagonal BR0 - FL0."
    )
    diagonal = TapeReading(start="BR1", end="FL1", length_mm=1500)
    corner = derived(reconcile(dataclasses.replace(BOX, readings=(*sides, diagonal))), "back left corner")
    assert corner.fixed
    assert corner.measured.sd < 0.5


def test_without_plumb_lines_the_lean_is_open() -> None:
    """Widths at one height and floor levels say nothing of how the left wall stands."""
    readings = tuple(
        r for r in BOX.readings
        if not isinstance(r, PlumbReading) and not (isinstance(r, TapeReading) and r.start.endswith("2"))
    )  # fmt: skip
    lean = derived(reconcile(dataclasses.replace(BOX, readings=readings)), "left wall lean")
    assert not lean.fixed
    assert lean.advice == "The left wall lean is not fixed by what was measured; plumb it from BL0 to BL2."


def test_without_levels_the_marks_hold_the_heights() -> None:
    """No level at all: the marked heights are trusted to about 1.5 mm."""
    readings = tuple(r for r in BOX.readings if not isinstance(r, LevelReading))
    spot = reconcile(dataclasses.replace(BOX, readings=readings)).spot("BR2")
    assert spot is not None
    assert spot.xyz[2] == pytest.approx(2000, abs=0.01)
    assert spot.sd[2] == pytest.approx(1.5, abs=0.3)


def test_readings_that_never_settle_are_refused_with_the_worst_one(monkeypatch: pytest.MonkeyPatch) -> None:
    """Given one step only, a room with a slip of a metre has not settled; the refusal names the reading."""
    once = Effort(iterations=1, standstill=1e-8)
    for module, effort in (
        ("slips", "FIRST_LOOK"),
        ("slips", "SEARCHING"),
        ("reconcile", "THOROUGH"),
        ("slips", "ROUGH"),
    ):
        monkeypatch.setattr(f"nookwright.stages.room.{module}.{effort}", once)
    for effort in ("SEARCHING", "THOROUGH"):
        monkeypatch.setattr(f"nookwright.stages.room.slips.{effort}", once)
    readings = tuple(
        dataclasses.replace(r, length_mm=2500)
        if isinstance(r, TapeReading) and r.end == "BR2" and r.start == "BL2"
        else r
        for r in BOX.readings
    )
    with pytest.raises(InvalidInputError) as caught:
        reconcile(dataclasses.replace(BOX, readings=readings))
    assert str(caught.value) == (
        "readings[10]: found readings that no room fits; expected readings that agree. "
        "Read tape BL2 - BR2 again: it disagrees most."
    )


def test_a_room_nobody_could_stand_in_is_refused() -> None:
    """Three tapes that nothing checks: by hand, sides 1000, 600 and 500 meet at 22 degrees, not near 90."""
    tapes = (("BL1", "BR1", 1000.0), ("BL1", "FR1", 500.0), ("BR1", "FR1", 600.0))
    readings = tuple(TapeReading(start=start, end=end, length_mm=length) for start, end, length in tapes)
    with pytest.raises(InvalidInputError) as caught:
        reconcile(Survey(kind="alcove", corner="left", heights_mm=(900,), readings=readings))
    lines = str(caught.value).splitlines()
    assert (
        "readings: found readings that give a back right corner at level 1 of 22 deg; expected a corner of 45 to 135 deg. "
        "Read the tapes that meet there again, the diagonals first."
    ) in lines
    assert any("wall lean" in line and "expected a wall within 100 mm/m of plumb. " in line for line in lines)


def test_a_floor_nobody_read_is_not_called_level() -> None:
    """One tape gives a width, and no more: the floor's fall is told to be open."""
    tape = TapeReading(start="BL0", end="BR0", length_mm=1000)
    room = reconcile(Survey(kind="alcove", corner="left", heights_mm=(), readings=(tape,)))
    assert derived(room, "width at the back at the floor").fixed
    assert not derived(room, "floor, highest less lowest").fixed
    assert not derived(room, "back left corner").fixed
    assert derived(room, "back left corner").measured.sd == pytest.approx(5, abs=0.2)
    assert room.dof == 0


def test_a_bad_field_book_is_refused_before_anything_is_worked_out() -> None:
    """The refusal of `examine` comes through."""
    with pytest.raises(InvalidInputError, match=r'^readings\[0\]: found spot "XX1"'):
        reconcile(dataclasses.replace(BOX, readings=(LevelReading(spot="XX1", above_mm=0),)))


@pytest.mark.parametrize("corner", ["left", "right"])
@pytest.mark.parametrize("low_at_corner", [True, False])
def test_a_slope_may_be_low_or_high_at_its_corner(corner: str, low_at_corner: bool) -> None:
    """The readings say which way it rises."""
    rng = np.random.default_rng(4)
    reader = Reader(crooked_slope(rng, corner=corner, low_at_corner=low_at_corner), rng)
    room = reconcile(survey_of(reader, slope_readings))
    pitch = derived(room, "slope pitch")
    assert pitch.fixed
    assert abs(pitch.measured.value - reader.pitch_deg()) < 4 * pitch.measured.sd
    left, right = (derived(room, f"slope height at the back {side}").measured.value for side in ("left", "right"))
    assert (left < right) == ((corner == "left") == low_at_corner)


@pytest.mark.parametrize("low_end", ["left", "right"])
def test_a_space_under_a_stair_has_a_wall_only_at_its_tall_end(low_end: str) -> None:
    """And its soffit comes down at the low end."""
    rng = np.random.default_rng(6)
    room = reconcile(survey_of(Reader(crooked_stair(rng, low_end=low_end), rng), stair_readings))
    assert room.has("left") == (low_end == "right")
    assert room.has("right") == (low_end == "left")
    left, right = (derived(room, f"slope height at the back {side}").measured.value for side in ("left", "right"))
    assert (left < right) == (low_end == "left")
