"""How precise each reading is, worked by hand."""

from __future__ import annotations

import math

import pytest

from nookwright.stages.inputs.survey import Tools
from nookwright.stages.survey.tools import bevel_sd_deg, likeness, pitch_sd_deg, plumb_sd_mm, tape_sd_mm


@pytest.mark.parametrize(("tape", "greatest"), [("I", 0.1 + 0.1 * 3), ("II", 0.3 + 0.2 * 3), ("III", 0.6 + 0.4 * 3)])
def test_a_tape_of_2100_counts_as_three_metres(tape: str, greatest: float) -> None:
    """By hand: a + b L with L rounded up to 3 m is the greatest error, two standard deviations."""
    tools = Tools(tape=tape, reading_mm=0.7)  # type: ignore[arg-type]
    assert tape_sd_mm(2100, tools) == pytest.approx(math.hypot(greatest / 2, 0.7))


def test_a_plumb_line_is_read_and_the_level_errs_with_height() -> None:
    """By hand: 0.7 mm of reading and 0.5 mm/m over 2 m = 1 mm."""
    assert plumb_sd_mm(-2000, Tools(reading_mm=0.7, level_mm_per_m=0.5)) == pytest.approx(math.hypot(0.7, 1.0))


def test_waviness_is_alike_nearby_and_not_far_off() -> None:
    """By hand: at one range the law is (1 + sqrt 3) exp(-sqrt 3) = 0.4834."""
    assert likeness(0) == 1
    assert likeness(500) == pytest.approx(0.4834, abs=5e-5)
    assert likeness(10_000) < 1e-12


def test_wavy_walls_spoil_an_angle() -> None:
    """By hand: 2 mm, 300 mm blade: likeness 0.7213, turn 2 sqrt(2 x 0.2787) / 300 rad = 0.2852 deg, two walls 0.4033."""
    assert bevel_sd_deg(0.2, Tools(waviness_mm=2.0)) == pytest.approx(math.hypot(0.2, 0.4033), abs=2e-4)
    assert pitch_sd_deg(0.2, Tools(waviness_mm=1e-9)) == pytest.approx(0.2)
