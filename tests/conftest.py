"""What every test may use."""

from __future__ import annotations

import os
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # small systems, solved by several workers; before numpy is loaded
os.environ.setdefault("OMP_NUM_THREADS", "1")

import pytest
from hypothesis import settings

ROOT = Path(__file__).resolve().parents[1]

# Two slow cores shared with other work must not turn a right answer into a red test.
settings.register_profile("nookwright", deadline=None, derandomize=True, print_blob=True)
settings.load_profile("nookwright")


@pytest.fixture(scope="session")
def repository() -> Path:
    """Return the folder that holds src, tests and docs."""
    return ROOT


@pytest.fixture(scope="session")
def reference_folder() -> Path:
    """Return the folder of published reference values, or skip: it is not part of the repository."""
    folder = Path(os.environ.get("NOOKWRIGHT_REFERENCE", ROOT.parent / "shared" / "reference"))
    if not folder.is_dir():
        pytest.skip(f"no reference values at {folder}; set NOOKWRIGHT_REFERENCE to the folder that holds them")
    return folder
