"""The example jobs in copies, and what planning them writes."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from nookwright.plan import Plan

JOBS = ("alcove-records", "hall-stair", "landing-linen")


@dataclass(frozen=True)
class Run:
    """One example as the command planned it.

    Args:
        folder: the copy of the job folder, with its `out`.
        exit_code: what the command returned.
        plan: the same job planned without writing.
    """

    folder: Path
    exit_code: int
    plan: Plan

    @property
    def files(self) -> dict[str, bytes]:
        """What was written, by path within `out`."""
        return written(self.folder)


Runs = Callable[[str], Run]
"""Gives the run of an example by its name."""


def written(folder: Path) -> dict[str, bytes]:
    """Return every file of a job's `out`, by path within it."""
    out = folder / "out"
    return {path.relative_to(out).as_posix(): path.read_bytes() for path in sorted(out.rglob("*")) if path.is_file()}


def copied(repository: Path, place: Path) -> Path:
    """Copy the examples without what was made of them."""
    shutil.copytree(repository / "examples", place, ignore=shutil.ignore_patterns("out"))
    return place
