"""Every module stays small, says what it is for, and keeps to its floor."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
MODULES = sorted((ROOT / "src" / "nookwright").rglob("*.py"))
NAMES = [str(path.relative_to(ROOT / "src")) for path in MODULES]
MOST_LINES = 500
ON_PAPER = {"drawings", "export", "pages"}  # the page model says once that all of it is millimetres on paper


def test_the_modules_are_found() -> None:
    """The checks below look at something."""
    assert any(path.name == "plan.py" for path in MODULES)


@pytest.mark.parametrize("path", MODULES, ids=NAMES)
def test_a_module_is_at_most_500_lines(path: Path) -> None:
    """A longer one is split."""
    assert len(path.read_text(encoding="utf-8").splitlines()) <= MOST_LINES


@pytest.mark.parametrize("path", MODULES, ids=NAMES)
def test_a_module_says_in_one_line_what_it_is_for(path: Path) -> None:
    """The first docstring line is the module's entry on the map."""
    docstring = ast.get_docstring(ast.parse(path.read_text(encoding="utf-8")))
    assert docstring, "no module docstring"
    first, *rest = docstring.splitlines()
    assert first.endswith((".", "?")), "the first line is a whole sentence"
    assert not rest or not rest[0], "the first line stands alone"


def test_the_import_contracts_hold() -> None:
    """Floors import downward and stages in one direction (see pyproject.toml)."""
    command = [str(Path(sys.executable).parent / "lint-imports"), "--no-cache"]
    run = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stdout + run.stderr


@pytest.mark.parametrize("path", [path for path in MODULES if path.parts[-2] not in ON_PAPER])
def test_a_dataclass_field_that_is_a_length_says_its_unit(path: Path) -> None:
    """A field named for a length ends in its unit, so that nobody adds metres to millimetres."""
    lengths = ("width", "height", "depth", "length", "thickness", "overhang", "spacing", "kerf", "gap")
    unitless = [
        f"{node.name}.{field.target.id}"
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.ClassDef)
        for field in node.body
        if isinstance(field, ast.AnnAssign) and isinstance(field.target, ast.Name)
        if ast.unparse(field.annotation) in {"float", "float | None"} and field.target.id.endswith(lengths)
    ]
    assert unitless == []
