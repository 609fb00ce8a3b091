"""No file names a place that exists on one machine only."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]

# Written in pieces, so that this file passes its own test.
FORBIDDEN = [
    "/" + "work/",
    "/" + "root/",
    "/" + "farm/",
    "/" + "tmp/" + "bash",
    "/" + "Users/",
    "C:" + "\\Users",
    "pypi" + ".org",
    "pythonhosted" + ".org",
    "registry.npmjs" + ".org",
    "index" + "-url http",
]
PATTERN = re.compile("|".join(re.escape(word) for word in FORBIDDEN))


def tracked_files() -> list[Path]:
    """Return the files under version control, and those about to be."""
    command = ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"]
    run = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    if run.returncode != 0:
        pytest.skip("not a git checkout: there is no list of tracked files")
    return [ROOT / name for name in run.stdout.split("\0") if name and (ROOT / name).is_file()]


def test_no_file_holds_a_machine_path_or_a_registry_address() -> None:
    """Whoever clones the project finds nothing that points at somebody's machine."""
    found = []
    for path in tracked_files():
        text = path.read_bytes().decode("utf-8", errors="ignore")
        found += [
            f"{path.relative_to(ROOT)}:{number}: {match.group()}"
            for number, line in enumerate(text.splitlines(), 1)
            if (match := PATTERN.search(line))
        ]
    assert found == []


@pytest.mark.parametrize("name", ["requirements-setup.lock", "requirements.lock", "requirements-dev.lock"])
def test_every_locked_package_has_a_hash_and_no_address(name: str) -> None:
    """The locks install with any registry, and only the very files they were made with."""
    text = (ROOT / name).read_text(encoding="utf-8")
    assert "://" not in text
    entries = re.split(r"\n(?=[A-Za-z0-9])", text.strip())
    assert all("--hash=sha256:" in entry for entry in entries)
