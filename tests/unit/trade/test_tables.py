"""The packaged tables."""

from __future__ import annotations

from importlib.resources import files

import pytest

from nookwright.trade._tables import rows, rows_by
from nookwright.trade.sources import SOURCES

TABLES = sorted(path.name.removesuffix(".csv") for path in (files("nookwright.trade") / "tables").iterdir())


@pytest.mark.parametrize("name", ["lumber", "plywood"])
def test_every_row_names_its_source(name: str) -> None:
    """And the source stands in the list."""
    known = {source.key for source in SOURCES}
    assert {row["source"] for row in rows(name)} <= known


@pytest.mark.parametrize("name", TABLES)
def test_every_table_is_whole(name: str) -> None:
    """No row is short of a column or has one too many."""
    for row in rows(name):
        assert None not in row
        assert None not in row.values()


def test_rows_are_found_by_key() -> None:
    """The heading `key` names each row once."""
    assert rows_by("lumber")["2x4"]["width_inch"] == "3 1/2"
