"""Which kind of slip an error looks like."""

from __future__ import annotations

import pytest

from nookwright.basics.lengths import Units
from nookwright.basics.measured import Measured
from nookwright.stages.inputs.survey import BevelReading, LevelReading, PitchReading, PlumbReading, Reading, TapeReading
from nookwright.stages.room.slip_kinds import likely_kinds, swapped_with

TAPE = TapeReading(start="BL1", end="BR1", length_mm=1184, typed="1184")


def kinds(reading: Reading, error: float, sd: float = 1.0, units: Units = "mm") -> tuple[str, ...]:
    """Return the kinds of an error."""
    return likely_kinds(reading, Measured(value=error, sd=sd), units)


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (25.9, "an inch"),
        (-24.8, "an inch"),
        (305.5, "a foot"),
        (-99.0, "100 mm"),
        (1000.5, "a metre"),
        (36.4, "figures swapped (1148)"),  # 1184 typed, 1148 right
        (-630.0, "figures swapped (1814)"),
        (-79.0, "the tape's case left out"),
        (69.0, "the tape's case counted twice"),
    ],
)
def test_an_error_is_named_by_the_slip_it_looks_like(error: float, words: str) -> None:
    """By hand, from the figures typed and the tape's own steps."""
    assert kinds(TAPE, error)[0] == words


def test_two_kinds_that_look_alike_are_both_named() -> None:
    """11.4 mm with a spread of 1.5 lies between ten millimetres and half an inch."""
    assert set(kinds(TAPE, 11.4, 1.5)) == {"10 mm", "half an inch"}


def test_an_error_like_none_known_gets_no_name() -> None:
    """Nor does one that is hardly larger than its own spread."""
    assert kinds(TAPE, 437.0) == ()
    assert kinds(TAPE, 25.4, 12.0) == ()


def test_figures_are_swapped_as_they_were_typed() -> None:
    """By hand: 64 typed in inches for 46 is 18 inches too much; in millimetres 18 mm."""
    inches = TapeReading(start="BL1", end="BR1", length_mm=64 * 25.4, typed="64")
    assert kinds(inches, 18 * 25.4, units="inch") == ("figures swapped (46)",)
    assert kinds(TapeReading(start="BL1", end="BR1", length_mm=64, typed="64"), 18.0) == ("figures swapped (46)",)


def test_signs_and_backs_and_complements_have_their_own_names() -> None:
    """By hand: what was read less what is right is twice the value; for angles, from 180 or 90."""
    plumb = PlumbReading(wall="left", first="BL0", second="BL2", into_room_mm=8)
    assert "plus and minus mistaken" in kinds(plumb, 16.3)
    level = LevelReading(spot="BL0", above_mm=-43)
    assert kinds(level, -86.5)[0] == "plus and minus mistaken"
    bevel = BevelReading(walls=("back", "left"), level="1", angle_deg=87, typed="87")
    assert kinds(bevel, -6.1, 0.3) == ("the bevel read from its back",)
    pitch = PitchReading(pitch_deg=52, typed="52")
    assert kinds(pitch, 14.1, 0.3) == ("read from plumb, not from level",)


def test_two_sides_typed_the_wrong_way_round_are_recognised() -> None:
    """The left depth holds what the right one should: 640 and 602."""
    left = TapeReading(start="BL1", end="FL1", length_mm=640)
    right = TapeReading(start="FR1", end="BR1", length_mm=602)
    other = TapeReading(start="BL1", end="BR1", length_mm=602)
    assert swapped_with(left, Measured(value=603, sd=2), (left, right, other)) is right
    assert swapped_with(left, Measured(value=620, sd=2), (left, right, other)) is None
    assert swapped_with(left, Measured(value=640, sd=2), (left, dataclass_like(right, 640))) is None


def test_a_width_read_twice_is_not_exchanged_with_itself() -> None:
    """BL0 - BR0 mirrored is BL0 - BR0: what the second reading says is right is no sign that the two changed places."""
    first = TapeReading(start="BL0", end="BR0", length_mm=1822)
    again = TapeReading(start="BL0", end="BR0", length_mm=1840)
    assert swapped_with(again, Measured(value=1822, sd=2), (first, again)) is None


def dataclass_like(tape: TapeReading, length_mm: float) -> TapeReading:
    """Return the same tape with another length."""
    return TapeReading(start=tape.start, end=tape.end, length_mm=length_mm)
