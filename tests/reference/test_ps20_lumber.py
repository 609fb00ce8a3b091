"""American Softwood Lumber Standard, PS 20: minimum dressed sizes of dry boards and dimension lumber.

Read in a grading agency's page (1x6, 2x4, 4x4) and in three secondary tables that agree on all of these; not in the
standard itself. Sizes are inches, exact by definition, so no tolerance is given but that of a float.
"""

from __future__ import annotations

import csv
import re
from fractions import Fraction
from pathlib import Path

import pytest

from nookwright.trade.lumber import dressed_size, nominal_names

PUBLISHED = {
    "1x2": ("3/4", "1-1/2"),
    "1x3": ("3/4", "2-1/2"),
    "1x4": ("3/4", "3-1/2"),
    "1x6": ("3/4", "5-1/2"),
    "1x8": ("3/4", "7-1/4"),
    "1x10": ("3/4", "9-1/4"),
    "1x12": ("3/4", "11-1/4"),
    "5/4x6": ("1", "5-1/2"),
    "2x2": ("1-1/2", "1-1/2"),
    "2x3": ("1-1/2", "2-1/2"),
    "2x4": ("1-1/2", "3-1/2"),
    "2x6": ("1-1/2", "5-1/2"),
    "2x8": ("1-1/2", "7-1/4"),
    "2x10": ("1-1/2", "9-1/4"),
    "2x12": ("1-1/2", "11-1/4"),
    "4x4": ("3-1/2", "3-1/2"),
}


def mm(inches: str) -> float:
    """Turn a published inch size into millimetres."""
    return float(sum(Fraction(piece) for piece in inches.split("-")) * Fraction(254, 10))


@pytest.mark.parametrize("nominal", PUBLISHED)
def test_lumber_has_its_dressed_size(nominal: str) -> None:
    """A 2x4 is 1-1/2 x 3-1/2 in, and so on."""
    size = dressed_size(nominal)
    assert size is not None
    assert (size.thickness_mm, size.width_mm) == (mm(PUBLISHED[nominal][0]), mm(PUBLISHED[nominal][1]))
    assert size.source == "ps-20"


def test_every_name_in_the_table_is_tested() -> None:
    """No size slips in unread."""
    assert set(nominal_names()) == set(PUBLISHED)


def test_an_unknown_name_has_no_size() -> None:
    """Nothing is guessed from the name."""
    assert dressed_size("3x7") is None


def test_the_reference_values_agree(reference_folder: Path) -> None:
    """The copy typed above is the copy that was read."""
    with (reference_folder / "checks.csv").open(encoding="utf-8") as table:
        rows = [row for row in csv.DictReader(table) if row["quantity"].startswith("dressed dry size of ")]
    read = {row["quantity"].removeprefix("dressed dry size of "): tuple(row["value"].split(" x ")) for row in rows}
    assert read == PUBLISHED
    assert all(re.fullmatch("verified", row["status"]) for row in rows)
