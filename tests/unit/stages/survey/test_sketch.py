"""The rough room the adjustment starts from, and what is refused as too little."""

from __future__ import annotations

import pytest

from nookwright.basics.problems import InvalidInputError
from nookwright.stages.inputs.survey import LevelReading, PitchReading, Reading, RoomKind, Side, Survey, TapeReading
from nookwright.stages.survey.sketch import sketch
from nookwright.stages.survey.unknowns import unknowns_of


def tape(start: str, end: str, length_mm: float) -> TapeReading:
    """Return a tape reading."""
    return TapeReading(start=start, end=end, length_mm=length_mm)


def placed(
    *readings: Reading, kind: RoomKind = "alcove", corner: Side = "left", **spots: tuple[float, float, float]
) -> None:
    """Check where the sketch puts spots, to a millimetre."""
    survey = Survey(kind=kind, corner=corner, heights_mm=(300, 900), readings=readings)
    unknowns = unknowns_of(survey)
    state = sketch(survey, unknowns)
    for name, place in spots.items():
        at = unknowns.spot(name)
        assert state[at : at + 3] == pytest.approx(place, abs=1)


def test_straight_tapes_give_width_and_depth() -> None:
    """By hand."""
    placed(tape("BL1", "BR1", 1200), tape("BL1", "FL1", 500), BR1=(1200, 0, 300), FL1=(0, -500, 300))


def test_a_diagonal_gives_the_missing_depth_or_width() -> None:
    """By hand: 3-4-5 triangles."""
    placed(tape("BL1", "BR1", 1200), tape("BL1", "FR1", 1500), FR1=(1200, -900, 300))
    placed(tape("BR1", "FR1", 900), tape("BL1", "FR1", 1500), FR1=(1200, -900, 300), BR1=(1200, 0, 300))


def test_a_tape_square_to_a_wall_gives_a_width() -> None:
    """Its foot stands on that wall."""
    survey_spots = {"BL1 to right": (1200.0, 0.0, 300.0)}
    placed(tape("BL1", "right", 1200), tape("BR1", "left", 1200), **survey_spots)


def test_the_level_gives_heights_and_the_slope_its_rise() -> None:
    """By hand: line 1000 above BL0; slope at 500 left and 1700 right."""
    placed(
        LevelReading(spot="BL0", above_mm=-1000),
        LevelReading(spot="BLS", above_mm=-500),
        LevelReading(spot="BRS", above_mm=700),
        tape("BL0", "BR0", 1200),
        kind="corner-under-slope",
        BLS=(0, 0, 500),
        BRS=(1200, 0, 1700),
    )


def test_under_a_stair_one_height_and_the_pitch_suffice() -> None:
    """By hand: 45 degrees rising from the low end at the right; the width comes from the soffit's tape."""
    placed(
        tape("BR0", "BRS", 400),
        PitchReading(pitch_deg=45),
        tape("BL0", "BR0", 1000),
        tape("BLS", "BRS", 1000 * 2**0.5),
        kind="under-stair",
        corner="right",
        BLS=(0, 0, 1400),
    )


def test_upright_tapes_give_the_heights_of_the_tops() -> None:
    """By hand: up a column from a mark, square to the ceiling, square to the floor; depth square to the back wall."""
    width = tape("BL1", "BR1", 1200)
    placed(width, tape("BLT", "BL1", 2100), tape("BRT", "BR1", 2110), BLT=(0, 0, 2400), BRT=(1200, 0, 2410))
    placed(width, tape("BL1", "ceiling", 2100), tape("BLT", "BRT", 1200), BRT=(1200, 0, 2400))
    placed(width, tape("BLT", "floor", 2390), tape("FL1", "back", 700), BLT=(0, 0, 2390), FL1=(0, -700, 300))


def refused(*readings: Reading, kind: RoomKind = "alcove") -> list[str]:
    """Return the lines of the refusal."""
    survey = Survey(kind=kind, corner="left", heights_mm=(300, 900), readings=readings)
    with pytest.raises(InvalidInputError) as caught:
        sketch(survey, unknowns_of(survey))
    return str(caught.value).splitlines()


def test_no_tape_is_refused() -> None:
    """A level and a bevel give no size."""
    assert refused(LevelReading(spot="BR0", above_mm=3)) == [
        "readings: found no tape; expected tapes across the back wall and along the sides. "
        "A room has no size without a tape: start with BL0 - BR0."
    ]


def test_everything_missing_is_told_at_once() -> None:
    """No back right, no width, no ceiling height; the depth is there."""
    assert refused(tape("BL0", "FL0", 500), tape("FL0", "FLT", 2400), tape("BL0", "BL1", 300)) == [
        "readings: found no spot at the back right (BR); expected the back wall to be tied at both ends. "
        "Tape BL0 - BR0.",
        "readings: found no tape that gives a width; expected a tape from left to right. Tape BL0 - BR0.",
    ]


def test_a_front_spot_without_a_depth_is_refused() -> None:
    """Two widths do not say how far out the front is."""
    assert refused(tape("BL1", "BR1", 1200), tape("FL1", "FR1", 1200)) == [
        "readings: found no tape that gives a depth; expected a tape from the back to the front, as FL1 is in front. "
        "Tape BL1 - FL1."
    ]


def test_a_ceiling_or_slope_without_a_height_is_refused() -> None:
    """A level tape along them says nothing of their height; a pitch alone does not say which way it rises."""
    assert refused(tape("BL1", "BR1", 1200), tape("BLT", "BRT", 1200)) == [
        "readings: found no height of the ceiling; expected a level reading or an upright tape to it. Tape BL0 - BLT."
    ]
    wanted = (
        "readings: found too little about the slope; expected its height at the back left and at the back right. "
        "Tape BL0 - BLS and BR0 - BRS, or read both with the level."
    )
    assert refused(tape("BL1", "BR1", 1200), kind="corner-under-slope") == [wanted]
    assert refused(
        tape("BL1", "BR1", 1200), tape("BL0", "BLS", 500), PitchReading(pitch_deg=40), kind="corner-under-slope"
    ) == [wanted]
