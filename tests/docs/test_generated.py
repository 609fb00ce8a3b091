"""Documents made from the code agree with the code."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def test_the_generated_documents_are_current() -> None:
    """`make docs` would change nothing."""
    command = [sys.executable, "tools/make_docs.py", "--check"]
    run = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stdout + run.stderr
