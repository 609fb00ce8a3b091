"""Every citation in the code resolves, and every source is cited."""

from __future__ import annotations

import re
from pathlib import Path

from nookwright.trade._tables import rows
from nookwright.trade.sources import SOURCES, source
from nookwright.trade.woods import wood, wood_keys

KEYS = {each.key for each in SOURCES}
CITED_IN_BRACKETS = re.compile(r"\[([a-z][a-z0-9]*(?:-[a-z0-9]+)+|nds|statics)\]")


def _cited(repository: Path) -> set[str]:
    """Return every key cited in docstrings and findings of the package, the list itself left out."""
    cited: set[str] = set()
    for path in sorted((repository / "src" / "nookwright").rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        if path.name == "sources.py" and path.parent.name == "trade":
            continue
        if path.parent.name == "trade" or "Source:" in text:
            cited.update(CITED_IN_BRACKETS.findall(text))
        for group in re.findall(r"source_keys\s*=\s*\(([^()]*)\)", text):
            cited.update(re.findall(r'"([a-z0-9-]+)"', group))
    return cited


def test_every_key_cited_resolves(repository: Path) -> None:
    """A citation names a source in the list."""
    assert _cited(repository) - KEYS == set()


def test_every_source_is_cited(repository: Path) -> None:
    """A source that nothing rests on is not listed."""
    assert KEYS - _cited(repository) == set()


def test_every_source_named_in_a_table_resolves() -> None:
    """Tables name a source on every row."""
    named = {
        row[column]
        for table in ("woods", "lumber", "plywood")
        for row in rows(table)
        for column in row
        if column == "source" or column.endswith("_source")
    }
    assert named - KEYS - {""} == set()


def test_keys_stand_once_and_every_source_is_described() -> None:
    """Title and place are never empty."""
    assert len(KEYS) == len(SOURCES)
    assert all(each.title and each.place for each in SOURCES)
    assert source("nds").status == "read"


def test_a_figure_is_never_better_known_than_its_source() -> None:
    """What is marked read comes from a source that was read, in every row of the table of woods."""
    for key in wood_keys():
        found = wood(key)
        figures = (found.along_n_mm2, found.strength_n_mm2, found.creep, found.tangential, found.radial, found.gravity)
        for figure in figures:
            if figure is not None and figure.status == "read":
                assert source(figure.source).status == "read", (key, figure)
