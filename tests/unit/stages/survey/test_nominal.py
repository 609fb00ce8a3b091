"""Nominal rooms: spots where plane geometry puts them, and readings without error."""

from __future__ import annotations

import math

import pytest

from nookwright.stages.inputs.survey import BevelReading, LevelReading, PitchReading, PlumbReading, Survey, TapeReading
from nookwright.stages.survey.nominal import NominalRoom, nominal_room, read_exactly


def usual(kind: str, corner: str, *heights: float, **sizes: float) -> NominalRoom:
    """Return the usual room of a kind."""
    book = Survey(kind=kind, corner=corner, heights_mm=heights, readings=())  # type: ignore[arg-type]
    return nominal_room(book, **sizes)


def read(room: NominalRoom, kind: str, *readings: object) -> list[object]:
    """Return readings as they would be in a room."""
    book = Survey(kind=kind, corner="left", heights_mm=room.heights_mm, readings=tuple(readings))  # type: ignore[arg-type]
    return list(read_exactly(book, room).readings)


def test_an_alcove_is_a_box() -> None:
    """Widths, diagonals and heights by hand: 1000 wide, 750 deep, so the diagonal is 1250."""
    room = usual("alcove", "left", 150.0, width_mm=1000.0, depth_mm=750.0)
    assert room.place("FR1") == (1000.0, -750.0, 150.0)
    tape, level, plumb, bevel = read(
        room,
        "alcove",
        TapeReading(start="BL1", end="FR1", length_mm=1.0),
        LevelReading(spot="BLT", above_mm=1.0),
        PlumbReading(wall="left", first="BL0", second="BL1", into_room_mm=1.0),
        BevelReading(walls=("back", "left"), level="1", angle_deg=60.0),
    )
    assert tape.length_mm == pytest.approx(1250.0)  # type: ignore[attr-defined]
    assert level.above_mm == pytest.approx(2400.0 - 1000.0)  # type: ignore[attr-defined]
    assert plumb.into_room_mm == 0.0  # type: ignore[attr-defined]
    assert bevel.angle_deg == pytest.approx(90.0)  # type: ignore[attr-defined]


@pytest.mark.parametrize(("kind", "corner", "low"), [
    ("corner-under-slope", "left", "BL"), ("corner-under-slope", "right", "BR"),
    ("under-stair", "left", "BL"), ("under-stair", "right", "BR"),
])  # fmt: skip
def test_a_slope_is_low_at_its_corner(kind: str, corner: str, low: str) -> None:
    """And the level line passes under all of it; the pitch read along the wall is the slope's own."""
    room = usual(kind, corner, 150.0)
    heights = {column: room.height_of(f"{column}S") for column in room.columns}
    high = "BR" if low == "BL" else "BL"
    assert min(heights.values()) == pytest.approx(heights[low])
    assert room.line_mm < heights[low]
    run = abs(room.columns[high][0] - room.columns[low][0])
    (pitch,) = read(room, kind, PitchReading(pitch_deg=1.0))
    assert math.tan(math.radians(pitch.pitch_deg)) == pytest.approx((heights[high] - heights[low]) / run)  # type: ignore[attr-defined]


def test_a_tape_square_to_a_surface_is_its_distance() -> None:
    """To a wall, to the floor, and to a slope of pitch p: cos p of what is over the spot."""
    room = usual("corner-under-slope", "left", 500.0, width_mm=1800.0)
    to_wall, to_floor, to_slope = read(
        room,
        "corner-under-slope",
        TapeReading(start="BR1", end="left", length_mm=1.0),
        TapeReading(start="BR1", end="floor", length_mm=1.0),
        TapeReading(start="BL1", end="slope", length_mm=1.0),
    )
    assert to_wall.length_mm == pytest.approx(1800.0)  # type: ignore[attr-defined]
    assert to_floor.length_mm == pytest.approx(500.0)  # type: ignore[attr-defined]
    assert to_slope.length_mm == pytest.approx((800.0 - 500.0) * math.cos(math.radians(38.0)))  # type: ignore[attr-defined]


def test_a_bay_keeps_its_angles_whatever_the_furniture_asks() -> None:
    """Its side walls run at 45 degrees: a deeper front would turn them, so the plan is left as it is."""
    room = usual("bay", "left", 150.0, depth_mm=900.0)
    assert room.columns["FL"] == (-500.0, -500.0)
    (bevel,) = read(room, "bay", BevelReading(walls=("left", "back"), level="1", angle_deg=60.0))
    assert bevel.angle_deg == pytest.approx(135.0)  # type: ignore[attr-defined]
