"""Structural Plywood, PS 1: least, greatest and label thickness by performance category.

Read in a trade association's table for unsanded, touch-sanded and overlaid panels at 9 % moisture (inches, three
decimals); not in the standard itself. Compared to the printed thousandth of an inch.
"""

from __future__ import annotations

import pytest

from nookwright.trade._tables import rows
from nookwright.trade.plywood import plywood_thickness

PUBLISHED = {
    "1/4": (0.219, 0.281, 0.225),
    "3/8": (0.344, 0.406, 0.354),
    "15/32": (0.438, 0.500, 0.451),
    "1/2": (0.469, 0.531, 0.483),
    "19/32": (0.563, 0.625, 0.578),
    "5/8": (0.594, 0.656, 0.609),
    "23/32": (0.688, 0.750, 0.703),
    "3/4": (0.719, 0.781, 0.734),
    "1": (0.950, 1.050, 0.970),
    "1-1/8": (1.069, 1.181, 1.091),
}


@pytest.mark.parametrize("nominal", PUBLISHED)
def test_plywood_has_its_thickness(nominal: str) -> None:
    """What is sold as 3/4 may measure 0.719 to 0.781 in."""
    found = plywood_thickness(nominal)
    assert found is not None
    inches = tuple(size / 25.4 for size in (found.least_mm, found.most_mm, found.label_mm))
    assert inches == pytest.approx(PUBLISHED[nominal], abs=0.0005)
    assert found.least_mm < found.label_mm < found.most_mm


def test_every_category_in_the_table_is_tested() -> None:
    """No thickness slips in unread."""
    assert {row["key"] for row in rows("plywood")} == set(PUBLISHED)


def test_an_unknown_category_has_no_thickness() -> None:
    """Nothing is guessed from the fraction; an inch mark does no harm."""
    assert plywood_thickness("7/8") is None
    assert plywood_thickness('3/4"') == plywood_thickness("3/4")
