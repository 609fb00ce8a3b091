"""What is wrong with a field book, word for word."""

from __future__ import annotations

import pytest

from nookwright.basics.problems import InvalidInputError, Where
from nookwright.stages.inputs.survey import (
    BevelReading,
    EdgeReading,
    GapReading,
    LevelReading,
    Line,
    OffsetReading,
    Outlet,
    PitchReading,
    PlumbReading,
    Reading,
    RoomKind,
    SpanReading,
    Survey,
    TapeReading,
    Tools,
)
from nookwright.stages.survey.examine import examine


def complaints(*readings: Reading, kind: RoomKind = "alcove", heights: tuple[float, ...] = (300, 900)) -> list[str]:
    """Return the lines of the refusal."""
    with pytest.raises(InvalidInputError) as caught:
        examine(Survey(kind=kind, corner="left", heights_mm=heights, readings=readings))
    return str(caught.value).splitlines()


def test_good_readings_pass() -> None:
    """Nothing to say."""
    readings: tuple[Reading, ...] = (
        TapeReading(start="BL0", end="BR2", length_mm=1200),
        TapeReading(start="BL1", end="right", length_mm=1200),
        LevelReading(spot="BLT", above_mm=1300),
        PlumbReading(wall="left", first="BL0", second="BL2", into_room_mm=-12),
        BevelReading(walls=("right", "back"), level="2", angle_deg=88.5),
    )
    examine(Survey(kind="alcove", corner="left", heights_mm=(300, 900), readings=readings))


@pytest.mark.parametrize(
    ("reading", "message"),
    [
        (
            TapeReading(start="bl1", end="BR1", length_mm=1200),
            'readings[0]: found spot "bl1"; expected a spot of this room, such as BL0 or BR1. Did you mean BL1?',
        ),
        (
            TapeReading(start="ZZ", end="BR1", length_mm=1200),
            'readings[0]: found spot "ZZ"; expected a spot of this room, such as BL0 or BR1. '
            "The columns are BL, BR, FL, FR.",
        ),
        (
            TapeReading(start="BL3", end="BR2", length_mm=1200),
            'readings[0]: found spot "BL3"; expected a level from 0 to 2. '
            "Add its height to the list of heights, or mend the name.",
        ),
        (
            TapeReading(start="BL1", end="BL1", length_mm=1200),
            "readings[0]: found a tape from BL1 to BL1; expected two different spots.",
        ),
        (
            TapeReading(start="BL1", end="left", length_mm=1200),
            "readings[0]: found a tape from BL1 to the left; expected a surface that the tape's start does not lie on.",
        ),
        (
            TapeReading(start="BL1", end="BR1", length_mm=0),
            "readings[0]: found 0 mm; expected a length above 0 mm and up to 20 m.",
        ),
        (
            TapeReading(start="BL1", end="BR1", length_mm=30480, where=Where(file="room.yaml", line=12)),
            "room.yaml:12: found 30480 mm; expected a length above 0 mm and up to 20 m. "
            "Check the unit the file is written in.",
        ),
        (
            TapeReading(start="BL1", end="BR1", length_mm=900, sd_mm=0),
            "readings[0]: found 0; expected a standard deviation of at least 0.01.",
        ),
        (
            LevelReading(spot="BL0", above_mm=-9000),
            "readings[0]: found -9000 mm; expected a spot within 5 m of the level line.",
        ),
        (
            LevelReading(spot="FR0", above_mm=1003),
            "readings[0]: found a floor spot 1003 mm above the level line; expected one below it. Write it with a minus.",
        ),
        (
            PlumbReading(wall="floor", first="BL0", second="BL1", into_room_mm=3),
            "readings[0]: found a plumb line on the floor; expected a wall of this room: back or left or right.",
        ),
        (
            PlumbReading(wall="left", first="BR0", second="BL1", into_room_mm=3),
            'readings[0]: found spot "BR0"; expected a spot on the left wall.',
        ),
        (
            PlumbReading(wall="left", first="BL1", second="FL1", into_room_mm=3),
            "readings[0]: found a plumb line from BL1 to FL1; expected two spots at different heights.",
        ),
        (
            PlumbReading(wall="left", first="BL0", second="BL1", into_room_mm=700),
            "readings[0]: found 700 mm; expected an offset of at most 500 mm either way.",
        ),
        (
            BevelReading(walls=("back", "left"), level="1", angle_deg=187),
            "readings[0]: found 187 deg; expected 30 to 150 deg for an inside corner. "
            "Was the bevel read from its back?",
        ),
        (
            BevelReading(walls=("left", "right"), level="1", angle_deg=90),
            "readings[0]: found a corner of left and right; expected the back wall and left or right.",
        ),
        (
            BevelReading(walls=("left", "back"), level="7", angle_deg=90),
            'readings[0]: found level "7"; expected a level from 0 to 2.',
        ),
        (
            PitchReading(pitch_deg=40),
            "readings[0]: found a pitch; expected a room with a slope. An alcove has none.",
        ),
    ],
)
def test_each_slip_of_the_pen_is_told(reading: Reading, message: str) -> None:
    """One reading, one problem, one sentence."""
    assert complaints(reading) == [message]


def test_a_pitch_stays_below_upright() -> None:
    """A pitch read from plumb is a common slip."""
    assert complaints(PitchReading(pitch_deg=95), kind="under-stair") == [
        "readings[0]: found 95 deg; expected 0 to 89 deg from level. Was it read from plumb? Then take it from 90."
    ]


def test_a_spot_in_mid_air_is_told() -> None:
    """The front right of a left corner has no wall."""
    assert complaints(LevelReading(spot="FR1", above_mm=0), kind="corner-under-slope") == [
        'readings[0]: found spot "FR1"; expected a spot on a wall, the floor, the slope or the ceiling. '
        "No wall stands at FR in this room."
    ]


def test_a_level_without_any_listed_height_is_told() -> None:
    """Only level 0 exists then."""
    assert complaints(LevelReading(spot="BL1", above_mm=0), heights=()) == [
        'readings[0]: found spot "BL1"; expected level 0, as no heights are listed. '
        "Add its height to the list of heights, or mend the name."
    ]


def test_heights_rise_and_tools_have_a_precision() -> None:
    """All problems at once."""
    survey = Survey(
        kind="alcove", corner="left", heights_mm=(900, 300), readings=(), tools=Tools(waviness_mm=0, bevel_deg=-1)
    )
    with pytest.raises(InvalidInputError) as caught:
        examine(survey)
    assert str(caught.value).splitlines() == [
        "heights[1]: found 300 mm; expected a height above 900 mm and up to 20 m. "
        "List the marked heights from the floor up.",
        "tools.bevel_deg: found -1; expected a precision of at least 0.01.",
        "tools.waviness_mm: found 0; expected a precision of at least 0.01.",
    ]


def edge(surface: str, start: str, towards: str, *gaps_mm: float, aside: str = "") -> tuple[GapReading, ...]:
    """Return gaps every 200 mm under a straightedge."""
    line = Line(surface=surface, start=start, towards=towards)  # type: ignore[arg-type]
    if aside:
        line = Line(surface=surface, start=start, towards=towards, aside_mm=99, aside=aside)  # type: ignore[arg-type]
    return tuple(GapReading(line=line, at_mm=200.0 * i, gap_mm=gap) for i, gap in enumerate(gaps_mm))


@pytest.mark.parametrize(
    ("gaps", "message"),
    [
        (
            edge("slope", "BL0", "up", 0, 1, 0)[:1],
            "a straightedge on the slope; expected a surface of this room: floor, back, left, right, ceiling.",
        ),
        (edge("floor", "BL1", "out", 0, 1, 0)[:1], 'spot "BL1"; expected a spot on the floor.'),
        (
            edge("floor", "BL0", "up", 0, 1, 0)[:1],
            "a straightedge up on the floor; expected another spot, or one of right, left, back, out.",
        ),
        (
            edge("left", "BL0", "up", 0, 1, 0, aside="right")[:1],
            "a straightedge right on the left; expected another spot, or one of back, out, up, down.",
        ),
        (edge("left", "BL0", "BL0", 0, 1)[:1], "a straightedge from BL0 to BL0; expected two different spots."),
        (edge("left", "BL0", "up", 200)[:1], "200 mm; expected a gap of 0 to 150 mm."),
    ],
)
def test_a_wrong_straightedge_is_refused(gaps: tuple[GapReading, ...], message: str) -> None:
    """With what would be right."""
    assert f"readings[0]: found {message}" in complaints(*gaps)


def test_two_gaps_only_say_how_the_edge_lies() -> None:
    """Three places are the least; one place read three times is one."""
    line = edge("left", "BL0", "up", 0, 2)
    expected = (
        "found 2 places along the edge left BL0 up; expected gaps at 3 places or more. "
        "The edge lies as it pleases: two gaps only say how."
    )
    assert complaints(*line) == [expected]
    assert complaints(*line, line[1]) == [expected]


@pytest.mark.parametrize(
    ("reading", "message"),
    [
        (
            SpanReading(first="left", second="slope", start="BL1", length_mm=900),
            "a tape from the left to the slope; expected surfaces of this room: floor, back, left, right, ceiling.",
        ),
        (
            SpanReading(first="left", second="back", start="BL1", length_mm=900),
            "a tape from the left to the back; expected two surfaces that face each other.",
        ),
        (
            SpanReading(first="left", second="right", start="BL7", length_mm=900),
            'spot "BL7"; expected a level from 0 to 2. Add its height to the list of heights, or mend the name.',
        ),
        (
            SpanReading(first="left", second="right", start="BL1", length_mm=900, aside_mm=50, aside="right"),
            "a tape right of its spot, from the left to the right; expected a way that runs along both surfaces.",
        ),
        (
            SpanReading(first="left", second="right", start="BL1", length_mm=0),
            "0 mm; expected a length above 0 mm and up to 20 m.",
        ),
        (
            SpanReading(first="floor", second="ceiling", start="BL1", length_mm=2400, over="skirting"),
            "a tape from the floor to the ceiling; expected two walls, when its ends touched skirting or studs.",
        ),
        (
            EdgeReading(surfaces=("left", "slope"), angle_deg=130),
            "a bevel between the left and the slope; expected surfaces of this room: "
            "floor, back, left, right, ceiling.",
        ),
        (
            EdgeReading(surfaces=("left", "back"), angle_deg=90),
            "a bevel between the left and the back; expected two walls with the level they were read at, "
            "such as `left/back at 1`.",
        ),
        (
            EdgeReading(surfaces=("floor", "ceiling"), angle_deg=90),
            "a bevel between the floor and the ceiling; expected two surfaces that meet in an edge.",
        ),
        (EdgeReading(surfaces=("left", "floor"), angle_deg=5), "5 deg; expected 20 to 160 deg inside the room."),
        (
            OffsetReading(wall="slope", spot="BL1", offset_mm=9),
            "a plumb line before the slope; expected a wall of this room: back or left or right.",
        ),
        (
            OffsetReading(wall="right", spot="BL1", offset_mm=9),
            'spot "BL1"; expected a spot on the right wall.',
        ),
        (
            OffsetReading(wall="left", spot="BL1", offset_mm=-9),
            "-9 mm; expected an offset of 0 to 5 m.",
        ),
        (
            OffsetReading(wall="left", spot="BL1", offset_mm=9),
            "one spot beside the plumb line before the left; expected offsets of two spots or more, "
            "at different heights. One offset only says where the line hangs.",
        ),
    ],
)
def test_a_wrong_span_or_offset_is_refused(reading: Reading, message: str) -> None:
    """With what would be right."""
    assert any(line.endswith(f"found {message}") for line in complaints(reading))


def test_a_bay_has_no_clear_width_between_its_slanting_walls() -> None:
    """They stand at a right angle to each other."""
    reading = SpanReading(first="left", second="right", start="BL1", length_mm=900)
    expected = "readings[0]: found a tape from the left to the right; expected two surfaces that face each other."
    assert expected in complaints(reading, kind="bay")


def test_an_outlet_hangs_from_a_mark_that_is_there() -> None:
    """Marks are counted from the lowest."""
    outlet = Outlet(
        name="socket", wall="back", side="left", from_side_mm=400, above_floor_mm=300, mark=3, where=Where(path="outlets[1]"),
        box_width_mm=74, box_height_mm=74, plate_width_mm=86, plate_height_mm=86,
    )  # fmt: skip
    with pytest.raises(InvalidInputError) as caught:
        examine(Survey(kind="alcove", corner="left", heights_mm=(300, 900), readings=(), outlets=(outlet,)))
    assert str(caught.value) == "outlets[1]: found mark 3; expected a level from 1 to 2."
