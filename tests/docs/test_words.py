"""The glossary names everything the stages pass on."""

from __future__ import annotations

import ast
import re
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SOURCE = ROOT / "src" / "nookwright"
RESULTS = {"room", "design", "part", "install_plan", "cutting_plan", "finish_plan", "buy_list"}
ENTRY = re.compile(r"^\| `(\w+)` \|", re.MULTILINE)


def dataclasses_in(path: Path) -> set[str]:
    """Return the names of a module's public dataclasses."""
    return {
        node.name
        for node in parsed(path).body
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_")
        if any("dataclass" in ast.unparse(decorator) for decorator in node.decorator_list)
    }


@cache
def parsed(path: Path) -> ast.Module:
    """Return a module of the package, read once."""
    return ast.parse(path.read_text(encoding="utf-8"))


@cache
def imported_from(stage: str) -> set[str]:
    """Return the names that modules outside a stage's own package import from it."""
    own = SOURCE / "stages" / stage
    return {
        alias.name
        for path in SOURCE.rglob("*.py")
        if own not in path.parents
        for node in ast.walk(parsed(path))
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith(f"nookwright.stages.{stage}")
        for alias in node.names
    }


def handed_on() -> set[str]:
    """Return the dataclasses that stages pass on: all of a results module, and whatever others import by name."""
    names: set[str] = set()
    for folder in (SOURCE / "stages").iterdir():
        for path in folder.glob("*.py"):
            found = dataclasses_in(path)
            whole = folder.name == "inputs" or path.stem in RESULTS
            names |= found if whole else found & imported_from(folder.name)
    return names


def entries() -> list[str]:
    """Return the code names that have an entry in docs/words.md."""
    return ENTRY.findall((ROOT / "docs" / "words.md").read_text(encoding="utf-8"))


def test_the_results_modules_are_found() -> None:
    """Every stage's result is looked at under the name it has today."""
    assert {path.stem for path in (SOURCE / "stages").rglob("*.py")} >= RESULTS


def test_everything_a_stage_hands_on_has_an_entry() -> None:
    """A thing without an entry has no agreed word."""
    assert handed_on() - set(entries()) == set()


def test_every_entry_is_a_thing_in_the_code() -> None:
    """A word whose thing is gone leaves the glossary."""
    everything = {
        node.name for path in SOURCE.rglob("*.py") for node in ast.walk(parsed(path)) if isinstance(node, ast.ClassDef)
    }
    assert set(entries()) - everything == set()


def test_no_word_has_two_entries() -> None:
    """One thing, one word, one place to look it up."""
    names = entries()
    assert sorted(names) == sorted(set(names))
