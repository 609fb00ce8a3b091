"""The README says only what is so."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
DOCUMENTS = [ROOT / "README.md", ROOT / "CONTRIBUTING.md", *sorted((ROOT / "docs").rglob("*.md"))]


def test_every_make_target_it_names_exists() -> None:
    """Nobody types a command that is not there."""
    targets = set(re.findall(r"^(\w+):", (ROOT / "Makefile").read_text(encoding="utf-8"), re.MULTILINE))
    named = {
        target
        for document in DOCUMENTS
        for target in re.findall(r"(?:`|^)make (\w+)", document.read_text(encoding="utf-8"), re.MULTILINE)
    }
    assert {"demo", "test"} <= named
    assert named <= targets


def test_every_link_to_a_file_leads_somewhere() -> None:
    """A link inside the repository points at a file that is there."""
    broken = [
        f"{document.relative_to(ROOT)}: {target}"
        for document in DOCUMENTS
        for target in re.findall(r"\]\(([^)#:]+)(?:#[^)]*)?\)", document.read_text(encoding="utf-8"))
        if not (document.parent / target).exists()
    ]
    assert broken == []
