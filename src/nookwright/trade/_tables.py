"""The one reader of the packaged tables in `trade/tables`."""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files

Row = dict[str, str]


@cache
def rows(name: str) -> tuple[Row, ...]:
    """Return every row of a table, in file order; lines that start with `#` are remarks.

    Args:
        name: the table's file name without `.csv`, for example `lumber`.

    Returns:
        One dictionary a row, keyed by the heading; callers must not change them.
    """
    text = files("nookwright.trade").joinpath("tables", f"{name}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(line for line in text.splitlines() if line and not line.startswith("#")))


@cache
def rows_by(name: str, heading: str = "key") -> dict[str, Row]:
    """Return the rows of a table by one of its columns, which must name each row once."""
    found = {row[heading]: row for row in rows(name)}
    assert len(found) == len(rows(name)), f"{name}.csv: a {heading} stands twice"  # noqa: S101  a fault of ours
    return found
