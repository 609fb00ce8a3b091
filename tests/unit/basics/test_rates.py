"""Leans, falls and limits as inch readers tell them."""

from __future__ import annotations

import pytest

from nookwright.basics.lengths import show_limit, show_rate, show_read


def test_a_lean_is_told_in_inches_a_foot() -> None:
    """10 mm in a metre is 0.12 in 12 inches: 10 / 1000 x 12."""
    assert show_rate(10.0, "mm") == "10.0"
    assert show_rate(10.0, "inch") == "0.120"
    assert show_rate(-0.0, "inch") == "0.000"


@pytest.mark.parametrize(
    ("mm", "units", "said"),
    [(412.5, "mm", "412.5 mm"), (412.75, "inch", '16 1/4"'), (float("inf"), "inch", "inf mm")],
)
def test_a_reading_is_told_in_the_units_of_its_file(mm: float, units: str, said: str) -> None:
    """412.75 mm are 16.25 in."""
    assert show_read(mm, units) == said  # type: ignore[arg-type]


def test_a_limit_is_told_in_round_words() -> None:
    """20 m are 65.6 ft, 150 mm 5.9 in."""
    assert [show_limit(mm, "mm") for mm in (20_000.0, 150.0)] == ["20 m", "150 mm"]
    assert [show_limit(mm, "inch") for mm in (20_000.0, 150.0)] == ["66 ft", '6"']
