"""The project's own table of check values (`checks.csv`), where it is at hand: no row of it is left out."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from published.formulas import compared, reason_not_computed
from published.rows import Row, numbers, published_rows

TOPICS = {
    "b-moisture": "moisture and movement",
    "c-fasteners": "fasteners",
    "d-loads": "loads and shelves",
    "e-stability": "stability",
    "i-beams": "beams and sections",
}
STATUSES = {"memory": "recalled", "verified": "read"}


@pytest.fixture(scope="module")
def check_rows(reference_folder: Path) -> list[Row]:
    """Return every row of the topics that we compute."""
    with (reference_folder / "checks.csv").open(encoding="utf-8", newline="") as file:
        lines = list(csv.DictReader(file))
    return [
        Row(
            topic=TOPICS[line["topic"]], quantity=line["quantity"], inputs=line["inputs"], value=line["value"],
            unit=line["unit"], source=line["source"], place=line["location"], status=STATUSES[line["status"]],
        )
        for line in lines
        if line["topic"] in TOPICS
    ]  # fmt: skip


def test_every_row_is_answered(check_rows: list[Row]) -> None:
    """By a formula that agrees, or by a reason why none can; rows that are new there are tried as well."""
    assert len(check_rows) > 200
    for row in check_rows:
        each = compared(row)
        assert each is not None or reason_not_computed(row), row
        assert each is None or each.agrees, (row, each.ours)


READ_SINCE = {
    "tipover restraint strength": "on a test laboratory's page",
    "EMC table row 70 F (21.1 C)": "on a wood dealer's page, which prints Table 4-2 from 30 to 130 F",
    "dowel bearing strength D>=1/4 in": "in two public programs, with its clause",
    "worked example, flat-grained white fir board": "in a page-by-page copy of the handbook, p. 13-18",
}
"""Figures that were recalled in the shared table and have been read since, and where."""


def test_our_copy_prints_the_same_numbers(check_rows: list[Row]) -> None:
    """Nothing was changed or lost in copying: same names, same numbers, recalled stays recalled."""
    ours = {
        (row.topic, row.quantity, tuple(numbers(row.inputs)), tuple(numbers(row.value))): row
        for row in published_rows()
    }
    for row in check_rows:
        copy = ours.get((row.topic, row.quantity, tuple(numbers(row.inputs)), tuple(numbers(row.value))))
        assert copy is not None, row
        assert row.quantity in READ_SINCE or (copy.status == "recalled") == (row.status == "recalled"), row
