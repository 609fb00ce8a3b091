"""Random beams against finite elements, and how long all checks of an example take.

    python bench/strength.py [--beams N] [--runs N]

Prints the greatest disagreement of N random beams (sinking over the greatest sinking, reactions over the load), then
for each example the median time of all its checks with everything before them already worked out.
"""

from __future__ import annotations

import argparse
import statistics
import sys
import time
from pathlib import Path

from nookwright.files.job_folder import read_job
from nookwright.plan import plan
from nookwright.stages.checks.check import check

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests"))

from random_beams import disagreement, random_beam  # noqa: E402


def main() -> None:
    """Print both tables."""
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("--beams", type=int, default=500)
    arguments.add_argument("--runs", type=int, default=7)
    asked = arguments.parse_args()
    found = sorted((disagreement(random_beam(seed)), seed) for seed in range(asked.beams))
    worst, seed = found[-1]
    middle = found[len(found) // 2][0]
    sys.stdout.write(
        f"{asked.beams} random beams: worst {100 * worst:.6f} % (number {seed}), median {100 * middle:.2g} %\n"
    )
    for folder in sorted(each.parent for each in (ROOT / "examples").glob("*/brief.yaml")):
        job = read_job(folder)
        made = plan(job.survey, job.brief, job.shop, job.facts)
        taken = []
        for _ in range(asked.runs):
            start = time.perf_counter()
            check(made.design, made.parts, made.installing, made.room, made.brief, made.shop, made.facts)
            taken.append(time.perf_counter() - start)
        milliseconds = 1000 * statistics.median(taken)
        sys.stdout.write(f"{folder.name:20} {len(made.findings)} findings, all checks warm {milliseconds:.1f} ms\n")


if __name__ == "__main__":
    main()
