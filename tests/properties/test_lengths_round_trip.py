"""What holds for every length that is shown and read back."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from nookwright.basics.lengths import NOISE_MM, Marks, read_length, show

lengths = st.floats(min_value=-20_000, max_value=20_000, allow_nan=False)
marks = st.sampled_from(
    [
        Marks(units="mm", resolution=0.5),
        Marks(units="mm", resolution=1),
        Marks(units="inch", resolution=1 / 16),
        Marks(units="inch", resolution=1 / 32),
    ]
)


@given(mm=lengths, marks=marks, feet=st.booleans(), with_unit=st.booleans())
def test_what_was_shown_reads_as_the_nearest_mark(mm: float, marks: Marks, feet: bool, with_unit: bool) -> None:
    """Whatever the form: a whole number of marks, half a mark away at most."""
    read = read_length(show(mm, marks, feet=feet, with_unit=with_unit), unit=marks.units)
    assert abs(read - mm) <= float(marks.step_mm) / 2 + 2 * NOISE_MM
    count = read / float(marks.step_mm)
    assert abs(count - round(count)) < 1e-6


@given(mm=lengths, marks=marks)
def test_a_length_lies_between_its_marks(mm: float, marks: Marks) -> None:
    """Down never exceeds it, up never falls short, and they are at most one mark apart."""
    down, up = (read_length(show(mm, marks, way=way), unit=marks.units) for way in ("down", "up"))
    assert down <= mm + 2 * NOISE_MM
    assert up >= mm - 2 * NOISE_MM
    assert -1e-9 <= up - down <= float(marks.step_mm) + 1e-9


@given(mm=lengths, marks=marks)
def test_a_rounded_length_stays_where_it_is(mm: float, marks: Marks) -> None:
    """Shown again it reads the same, whichever way it is rounded."""
    once = show(mm, marks)
    read = read_length(once, unit=marks.units)
    assert show(read, marks) == show(read, marks, way="down") == show(read, marks, way="up") == once


@given(eighths=st.integers(0, 7), whole=st.integers(0, 200), feet=st.integers(1, 40))
def test_every_way_of_writing_inches_agrees(eighths: int, whole: int, feet: int) -> None:
    """A stroke, a decimal point, feet and unicode fractions name the same length."""
    decimal = read_length(f'{whole + eighths / 8}"', unit="mm")
    sign = ["", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞"][eighths]
    assert read_length(f"{whole}{sign}″", unit="mm") == decimal
    if eighths:
        assert read_length(f'{whole} {eighths}/8"', unit="mm") == decimal
    in_feet = f"{feet}' {whole % 12}{sign}\""
    assert abs(read_length(in_feet, unit="mm") - (feet * 12 + whole % 12 + eighths / 8) * 25.4) < 1e-9
