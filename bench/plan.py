"""How long planning takes, beside a plain numpy matrix multiply of fixed size in the same run.

    python bench/plan.py [--runs N] [JOB_FOLDER ...]

Prints, for each example: reading, planning (warm) and the whole book from a cold start in a process of its own,
each as median seconds and as a multiple of one 1000 x 1000 matrix multiply on this machine.
"""

from __future__ import annotations

import argparse
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from shutil import copytree

import numpy as np

from nookwright.files.job_folder import read_job
from nookwright.plan import plan

ROOT = Path(__file__).parents[1]
SIZE = 1000


def median_s(work: Callable[[], object], runs: int) -> float:
    """Return the median wall time of some work. [s]"""
    taken = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return statistics.median(taken)


def multiply() -> Callable[[], object]:
    """Return the yardstick: one matrix multiply of fixed size."""
    left = np.linspace(0.0, 1.0, SIZE * SIZE).reshape(SIZE, SIZE)
    return lambda: left @ left


def cold_s(folder: Path) -> float:
    """Return the wall time of `nookwright plan` in a process of its own, book included. [s]"""
    with tempfile.TemporaryDirectory() as place:
        copy = Path(place) / "jobs"
        copytree(folder.parent, copy)
        start = time.perf_counter()
        subprocess.run(
            [sys.executable, "-m", "nookwright", "plan", str(copy / folder.name)], check=False, capture_output=True
        )
        return time.perf_counter() - start


def main() -> None:
    """Print the table."""
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("folders", nargs="*", type=Path)
    arguments.add_argument("--runs", type=int, default=5)
    asked = arguments.parse_args()
    folders = asked.folders or sorted(each.parent for each in (ROOT / "examples").glob("*/brief.yaml"))
    yardstick = median_s(multiply(), asked.runs)
    sys.stdout.write(f"matrix multiply {SIZE} x {SIZE}: {yardstick:.4f} s\n")
    for folder in folders:
        job = read_job(folder)

        def work(job=job):
            return plan(job.survey, job.brief, job.shop, job.facts)

        work()
        warm, cold = median_s(work, asked.runs), cold_s(folder)
        sys.stdout.write(
            f"{folder.name:20} plan warm {warm:.3f} s = {warm / yardstick:.1f} multiplies,"
            f" cold with book {cold:.2f} s = {cold / yardstick:.1f} multiplies\n"
        )


if __name__ == "__main__":
    main()
