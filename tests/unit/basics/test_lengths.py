"""Lengths as people write and read them."""

from __future__ import annotations

import math

import pytest

from nookwright.basics.lengths import (
    Marks,
    UnreadableTextError,
    read_angle,
    read_length,
    read_pair,
    show,
)

HALF_MM = Marks(units="mm", resolution=0.5)
SIXTEENTHS = Marks(units="inch", resolution=1 / 16)

# 33 5/8 in = 269/8 x 25.4 = 854.075; 2 ft 9-5/8 in is the same; 2 ft 9 in = 33 x 25.4 = 838.2; 9 ft = 2743.2
READ = [
    ("854", "mm", 854.0),
    ("854 mm", "inch", 854.0),
    ("854mm", "mm", 854.0),
    ("85.4 cm", "mm", 854.0),
    ("85,4 cm", "mm", 854.0),
    ("0.854 m", "mm", 854.0),
    ("0,854 m", "mm", 854.0),
    ("1.184", "mm", 1.184),
    ('33 5/8"', "mm", 854.075),
    ('33-5/8"', "mm", 854.075),
    ("33 5/8 in", "mm", 854.075),
    ("33 5/8 inch", "mm", 854.075),
    ("33 5/8", "inch", 854.075),
    ("33-5/8", "inch", 854.075),
    ("2' 9-5/8\"", "mm", 854.075),
    ("2' 9 5/8\"", "mm", 854.075),
    ("2'9-5/8\"", "mm", 854.075),
    ("2'-9-5/8\"", "mm", 854.075),
    ("2 ft 9 5/8 in", "mm", 854.075),
    ("2 feet 9 5/8 inches", "mm", 854.075),
    ("2' 9\"", "mm", 838.2),
    ("9'", "mm", 2743.2),
    ("9 ft", "mm", 2743.2),
    ("2.5'", "mm", 762.0),
    ("33⅝″", "mm", 854.075),
    ("2′ 9⅝″", "mm", 854.075),
    ("2’ 9 5/8”", "mm", 854.075),
    ("33½", "inch", 850.9),
    ("½", "inch", 12.7),
    ('33.625"', "mm", 854.075),
    ("33.625", "inch", 854.075),
    ("+4", "mm", 4.0),
    ("-3", "mm", -3.0),
    ("−3", "mm", -3.0),
    ('-3/16"', "mm", -4.7625),
    ("-1/16", "inch", -1.5875),
    ("-39 3/8", "inch", -1000.125),
]


@pytest.mark.parametrize(("text", "unit", "mm"), READ)
def test_a_length_is_read_exactly(text: str, unit: str, mm: float) -> None:
    """Inches are exact: no error is left over from 25.4."""
    assert read_length(text, unit=unit) == mm  # type: ignore[arg-type]


SUCH_AS = 'a length such as 854, 854 mm, 85.4 cm, 33 5/8" or 2\' 9-5/8"'
REFUSED = [
    ("", "mm", f'found ""; expected {SUCH_AS}.'),
    ("tall", "mm", f'found "tall"; expected {SUCH_AS}.'),
    ("33 5/8/2", "mm", f'found "33 5/8/2"; expected {SUCH_AS}.'),
    ("1e3", "mm", f'found "1e3"; expected {SUCH_AS}.'),
    ("--4", "mm", f'found "--4"; expected {SUCH_AS}.'),
    ("5.5.2", "mm", f'found "5.5.2"; expected {SUCH_AS}. There is one decimal point too many.'),
    (
        "3 4",
        "inch",
        f'found "3 4"; expected {SUCH_AS}. Two numbers stand side by side; is a stroke, a point or a mark missing?',
    ),
    ('33.5 5/8"', "mm", f'found `33.5 5/8"`; expected {SUCH_AS}.'),
    (
        "33 5/8",
        "mm",
        'found "33 5/8"; expected a length in mm, or an inch mark after the fraction. '
        'Numbers without a mark are mm in this file; write 33 5/8" if inches are meant.',
    ),
    ("1,184", "mm", 'found "1,184"; expected 1184 or 1.184. A comma before three digits can be read two ways.'),
    ("2' 14\"", "mm", "found `2' 14\"`; expected less than 12 inches after the feet."),
    (
        "2' 9",
        "mm",
        'found "2\' 9"; expected an inch mark after the inches. Write 2\' 9" if inches are meant.',
    ),
    ("2.5' 3\"", "mm", "found `2.5' 3\"`; expected a whole number of feet before the inches."),
    ('33 5/7"', "mm", 'found `33 5/7"`; expected a fraction in halves, quarters, eighths, 16ths, 32nds or 64ths.'),
    (
        '33 8/4"',
        "mm",
        'found `33 8/4"`; expected a fraction above 0 and below 1. Is a digit missing or a stroke misplaced?',
    ),
    (
        '335/8"',
        "mm",
        'found `335/8"`; expected a fraction above 0 and below 1. Is a digit missing or a stroke misplaced?',
    ),
]


@pytest.mark.parametrize(("text", "unit", "sentence"), REFUSED)
def test_what_is_no_length_is_refused_with_what_would_be_right(text: str, unit: str, sentence: str) -> None:
    """Nothing that can be read two ways is guessed at."""
    with pytest.raises(UnreadableTextError) as caught:
        read_length(text, unit=unit)  # type: ignore[arg-type]
    assert str(caught.value) == sentence


@pytest.mark.parametrize("text", ["74 x 86", "74x86", "74 × 86", "74 by 86", "74 mm x 86 mm"])
def test_two_lengths_with_x_between_them_are_a_size(text: str) -> None:
    """Width and height keep their order."""
    assert read_pair(text, unit="mm") == (74, 86)


def test_a_size_needs_both_its_lengths() -> None:
    """One length, or three, is no size."""
    for text in ("74", "74 x 86 x 2"):
        with pytest.raises(UnreadableTextError) as caught:
            read_pair(text, unit="mm")
        assert str(caught.value) == f'found "{text}"; expected two lengths with x between them, such as 74 x 86.'


@pytest.mark.parametrize("text", ["40.1", "40,1", "40.1°", "40.1 deg", "40.1 degrees"])
def test_an_angle_is_read_in_degrees(text: str) -> None:
    """With or without its sign."""
    assert read_angle(text) == 40.1


def test_a_rise_in_a_run_is_an_angle() -> None:
    """7 in 12 is 30.256 deg (carpenter's square tables: 30.26); 3 in 4 is the 3-4-5 triangle's 36.87."""
    assert read_angle("7 in 12") == pytest.approx(30.2564, abs=1e-4)
    assert read_angle("3 in 4") == pytest.approx(math.degrees(math.acos(4 / 5)))
    assert read_angle("8 1/2 in 12") == pytest.approx(math.degrees(math.atan(17 / 24)))


def test_what_is_no_angle_is_refused() -> None:
    """A run of nothing has no angle."""
    with pytest.raises(UnreadableTextError) as caught:
        read_angle("7 in 0")
    assert str(caught.value) == 'found "7 in 0"; expected a rise in a run above 0, such as 7 in 12.'
    with pytest.raises(UnreadableTextError) as caught:
        read_angle("steep")
    sentence = "expected an angle in degrees such as 40.1, or a rise in a run such as 7 in 12."
    assert str(caught.value) == f'found "steep"; {sentence}'


@pytest.mark.parametrize(
    ("mm", "marks", "way", "shown"),
    [
        (854.3, HALF_MM, "nearest", "854.5"),
        (854.2, HALF_MM, "nearest", "854"),
        (854.25, HALF_MM, "nearest", "854.5"),
        (854.4, HALF_MM, "down", "854"),
        (854.1, HALF_MM, "up", "854.5"),
        (854.1, SIXTEENTHS, "down", "33 5/8"),
        (854.1, SIXTEENTHS, "up", "33 11/16"),
        (838.2, SIXTEENTHS, "nearest", "33"),
        (15.875, SIXTEENTHS, "nearest", "5/8"),
        (0.2, SIXTEENTHS, "nearest", "0"),
        (-4.7625, SIXTEENTHS, "nearest", "-3/16"),
        (-4.8, HALF_MM, "down", "-5"),
        (12345.5, HALF_MM, "nearest", "12345.5"),
    ],
)
def test_a_length_is_shown_at_the_marks_people_read(mm: float, marks: Marks, way: str, shown: str) -> None:
    """To the nearest mark, or the safe way."""
    assert show(mm, marks, way=way) == shown  # type: ignore[arg-type]


def test_the_unit_is_said_when_asked_for() -> None:
    """Tables say it once in their heading, sentences after each length."""
    assert show(854.5, HALF_MM, with_unit=True) == "854.5 mm"
    assert show(854.075, SIXTEENTHS, with_unit=True) == '33 5/8"'


def test_feet_and_inches_are_shown_when_asked_for() -> None:
    """Short lengths stay in inches."""
    assert show(854.075, SIXTEENTHS, feet=True) == "2' 9-5/8\""
    assert show(914.4, SIXTEENTHS, feet=True) == "3' 0\""
    assert show(15.875, SIXTEENTHS, feet=True) == '5/8"'
    assert show(-854.075, SIXTEENTHS, feet=True) == "-2' 9-5/8\""


def test_float_noise_never_moves_a_length_by_a_mark() -> None:
    """0.1 + 0.2 is a hair above 0.3, and 3 x 25.4 may be a hair off 76.2."""
    noise = 1e-9
    for exact in (0.5, 854.0, 1184.5):
        assert show(exact + noise, HALF_MM, way="up") == show(exact - noise, HALF_MM, way="down") == f"{exact:g}"
    for sixteenths in (1, 7, 538):
        exact = sixteenths * 25.4 / 16
        assert show(exact + noise, SIXTEENTHS, way="up") == show(exact, SIXTEENTHS)
        assert show(exact - noise, SIXTEENTHS, way="down") == show(exact, SIXTEENTHS)


def test_rounding_goes_the_way_it_says() -> None:
    """854.2 lies between the half millimetres 854 and 854.5."""
    assert [show(854.2, HALF_MM, way=way) for way in ("down", "nearest", "up")] == ["854", "854", "854.5"]


@pytest.mark.parametrize("text", ["9" * 400, f"{'9' * 400} mm", f"1/{'9' * 5000}", f"{'9' * 5000}'", f"1.{'9' * 5000}"])
def test_more_digits_than_a_number_can_hold_are_no_length(text: str) -> None:
    """A key that stuck is refused like any other slip, not with a crash."""
    with pytest.raises(UnreadableTextError):
        read_length(text, unit="mm")
    with pytest.raises(UnreadableTextError):
        read_angle(text)
