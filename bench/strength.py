"""Random beams, frames and composite sections against independent packages; the time an example's checks take.

    python bench/strength.py [--beams N] [--frames N] [--sections N] [--runs N]

Prints the greatest disagreement of N random beams and frames (moves over the greatest move, reactions over the
load) and of N composite sections, as bars and where sectionproperties is installed as areas, then for each example the
median processor time of all its checks with everything before them already worked out.
"""

from __future__ import annotations

import argparse
import importlib.util
import statistics
import sys
import time
from pathlib import Path

from nookwright.files.job_folder import read_job
from nookwright.plan import plan
from nookwright.stages.checks.check import check

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests"))

import random_beams  # noqa: E402
import random_frames  # noqa: E402


def main() -> None:
    """Print both tables."""
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("--beams", type=int, default=500)
    arguments.add_argument("--frames", type=int, default=500)
    arguments.add_argument("--sections", type=int, default=500)
    arguments.add_argument("--runs", type=int, default=7)
    asked = arguments.parse_args()
    _told("beams", [random_beams.disagreement(random_beams.random_beam(seed)) for seed in range(asked.beams)])
    _told("frames", [random_frames.disagreement(random_frames.random_frame(seed)) for seed in range(asked.frames)])
    sections = [random_frames.random_section(seed) for seed in range(asked.sections)]
    _told("sections, as bars", [random_frames.bars_disagreement(each) for each in sections])
    if importlib.util.find_spec("sectionproperties"):
        _told("sections, as areas", [random_frames.section_disagreement(each) for each in sections])
    for folder in sorted(each.parent for each in (ROOT / "examples").glob("*/brief.yaml")):
        job = read_job(folder)
        made = plan(job.survey, job.brief, job.shop, job.facts)
        taken = []
        for _ in range(asked.runs):
            start = time.process_time()
            check(made.design, made.parts, made.installing, made.room, made.brief, made.shop, made.facts)
            taken.append(time.process_time() - start)
        milliseconds = 1000 * statistics.median(taken)
        sys.stdout.write(f"{folder.name:20} {len(made.findings)} findings, all checks warm {milliseconds:.1f} ms\n")


def _told(what: str, found: list[float]) -> None:
    """Print the worst and the middle of what was found."""
    if found:
        worst = max(found)
        sys.stdout.write(
            f"{len(found)} random {what}: worst {100 * worst:.2g} % (number {found.index(worst)}), "
            f"median {100 * statistics.median(found):.2g} %\n"
        )


if __name__ == "__main__":
    main()
