"""How precise each reading is, worked by hand."""

from __future__ import annotations

import math

import pytest

from nookwright.stages.inputs.survey import TapeClass, Tools
from nookwright.stages.survey.tools import (
    LEVEL_GRADES_MM_PER_M,
    bevel_sd_deg,
    likeness,
    pitch_sd_deg,
    plumb_sd_mm,
    tape_sd_mm,
    tape_stretch_sd,
)


@pytest.mark.parametrize(
    ("tape", "length_mm", "greatest_mm"),
    [("I", 900, 0.2), ("II", 900, 0.5), ("III", 1000, 1.0), ("I", 2100, 0.4), ("II", 2100, 0.9), ("III", 2999, 1.8),
     ("II", 8000, 1.9)],
)  # fmt: skip
def test_a_tape_errs_by_its_class_and_whole_metres(tape: TapeClass, length_mm: float, greatest_mm: float) -> None:
    """Source: Directive 2014/32/EU, Annex MI-008, table of classes at 1, 3 and 8 m (read); two sd are the limit.

    Half of that variance is the tape's own stretch; the other half is what one reading adds.
    """
    tools = Tools(tape=tape, reading_mm=0.7)
    assert tape_sd_mm(length_mm, tools) == pytest.approx(math.hypot(math.sqrt(0.5) * greatest_mm / 2, 0.7))


@pytest.mark.parametrize(("tape", "mm_per_m"), [("I", 0.1), ("II", 0.2), ("III", 0.4)])
def test_a_tape_stretches_by_its_class(tape: TapeClass, mm_per_m: float) -> None:
    """The part of the same table that grows with length (read): half its variance, two sd being the limit."""
    assert tape_stretch_sd(Tools(tape=tape)) ** 2 == pytest.approx((mm_per_m / 2) ** 2 / 2)


def test_a_plumb_line_is_read_and_the_level_errs_with_height() -> None:
    """By hand: 0.7 mm of reading and 0.5 mm/m over 2 m = 1 mm."""
    assert plumb_sd_mm(-2000, Tools(reading_mm=0.7, level_mm_per_m=0.5)) == pytest.approx(math.hypot(0.7, 1.0))


def test_what_is_plumbed_with_another_tool_errs_like_that_one() -> None:
    """By hand: 0.3 mm/m over 2 m = 0.6 mm, whatever the level line was shot with."""
    assert plumb_sd_mm(2000, Tools(reading_mm=0.7, level_mm_per_m=0.5, plumb_mm_per_m=0.3)) == pytest.approx(
        math.hypot(0.7, 0.6)
    )


def test_levels_and_lasers_are_as_true_as_published() -> None:
    """Source: reference values, (j) framing and measuring tools: 0.5 mm/m = 0.0286 deg, laser 3 mm at 10 m (read)."""
    assert math.degrees(math.atan(LEVEL_GRADES_MM_PER_M["spirit"] / 1000)) == pytest.approx(0.0286, abs=5e-5)
    assert 10 * LEVEL_GRADES_MM_PER_M["laser"] == pytest.approx(3)


def test_waviness_is_alike_nearby_and_not_far_off() -> None:
    """By hand: at one range the law is (1 + sqrt 3) exp(-sqrt 3) = 0.4834."""
    assert likeness(0) == 1
    assert likeness(500) == pytest.approx(0.4834, abs=5e-5)
    assert likeness(10_000) < 1e-12


def test_wavy_walls_spoil_an_angle() -> None:
    """By hand: 2 mm over a 300 mm blade, likeness 0.7213: 2 sqrt(2 x 0.2787) / 300 rad = 0.2852 deg; two, 0.4033."""
    assert bevel_sd_deg(0.2, Tools(waviness_mm=2.0)) == pytest.approx(math.hypot(0.2, 0.4033), abs=2e-4)
    assert pitch_sd_deg(0.2, Tools(waviness_mm=1e-9)) == pytest.approx(0.2)
