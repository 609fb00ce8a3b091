"""How long a week of jobs takes: worked out by one process and by two, then laid out together.

    python bench/week.py [--jobs 2 4 8 16]

Every job is a copy of one example. The share of the time that two workers save is what a distributed run can save,
job by job; laying out together is done once, by one process.
"""

from __future__ import annotations

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # two workers on two cores; set before numpy is loaded

import argparse
import shutil
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from nookwright import jobs, week_folders
from nookwright.plan import Plan
from nookwright.week import week

ROOT = Path(__file__).resolve().parents[1]
EXAMPLE = "landing-linen"


def seconds(work: Callable[[], object]) -> float:
    """Return how long something takes. [s]"""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def plans_by(workers: int, folders: list[Path]) -> list[Plan]:
    """Return the jobs' plans, worked out by so many processes."""
    with week_folders.workers(workers) as executor:
        return list(executor.map(jobs.plan_job, folders) if executor else map(jobs.plan_job, folders))


def main() -> None:
    """Print the table."""
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    arguments.add_argument("--jobs", type=int, nargs="+", default=[2, 4, 8, 16])
    asked = arguments.parse_args()
    sys.stdout.write("jobs  parts  one process  two processes  ratio  laid out together  saved\n")
    with tempfile.TemporaryDirectory() as place:
        shutil.copytree(ROOT / "examples", Path(place) / "examples", ignore=shutil.ignore_patterns("out"))
        folders = [Path(place) / "examples" / f"job-{number}" for number in range(max(asked.jobs))]
        for folder in folders:
            shutil.copytree(Path(place) / "examples" / EXAMPLE, folder)
        jobs.plan_job(folders[0])
        for count in asked.jobs:
            some = folders[:count]
            one, two = (seconds(lambda workers=workers, some=some: plans_by(workers, some)) for workers in (1, 2))
            plans = plans_by(1, some)
            start = time.perf_counter()
            made = week(plans)
            together = time.perf_counter() - start
            sys.stdout.write(
                f"{count:4}  {len(made.parts.parts):5}  {one:9.2f} s  {two:11.2f} s  {one / two:5.2f}"
                f"  {together:15.2f} s  {made.saved} {made.buying.currency}\n"
            )


if __name__ == "__main__":
    main()
