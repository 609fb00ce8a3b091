"""Boards: how near the money of generated jobs comes to its bound, how it grows, and whether the checker can be fooled.

    python bench/boards.py [lengths] [ripped] [growth] [checker] [--jobs N] [--first N] [--seconds N] [--json FILE]

Time is that of the processor. `lengths` and `ripped` are jobs of up to 60 pieces from `cutting_halves/own_boards.py`.
Without options a few quick jobs are run; the full tables are made with `--jobs 40 --seconds 10`.
"""

from __future__ import annotations

import argparse
import json
import statistics
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "tests"))

from cutting_halves.own_boards import OwnBoards, length_job, ripped_job  # noqa: E402

from corrupted_boards import accepted  # noqa: E402
from nookwright.solvers.pack_boards import BoardsPlan, boards_plans  # noqa: E402

SIZES = (10, 20, 50, 100, 200, 500, 1000)
AT_ONCE_S = 0.3


def main() -> None:
    """Run what is asked and print a table of each."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("tables", nargs="*", default=["lengths", "ripped", "checker"])
    parser.add_argument("--jobs", type=int, default=3, help="jobs of each kind; plans the checker is shown")
    parser.add_argument("--first", type=int, default=0, help="number of the first job; another one gives other jobs")
    parser.add_argument("--seconds", type=float, default=2.0, help="time for each job")
    parser.add_argument("--json", type=Path, default=None, help="file to write one line a job to")
    asked = parser.parse_args()
    if asked.tables != ["checker"]:
        load_loops()
    rows: list[dict[str, object]] = []
    for table in asked.tables:
        if table == "checker":
            checked(asked.jobs)
        elif table == "growth":
            rows += growth(asked.seconds)
        else:
            numbers = range(asked.first, asked.first + asked.jobs)
            rows += jobs(length_job if table == "lengths" else ripped_job, numbers, asked.seconds)
    if asked.json:
        asked.json.write_text("".join(json.dumps(row) + "\n" for row in rows), encoding="utf-8")


def load_loops() -> None:
    """Compile the searches, or load what was compiled before, on jobs that go through all of their loops."""
    for job in (length_job(0), ripped_job(0), ripped_job(6)):
        start = time.process_time()
        for _ in boards_plans(
            job.pieces,
            boards=job.boards,
            kerf=job.kerf,
            time_left=lambda: 20 - (time.process_time() - start),  # noqa: B023
        ):
            pass


def told(line: str) -> None:
    """Print a line at once."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


def jobs(made: Callable[[int], OwnBoards], numbers: Sequence[int], seconds: float) -> list[dict[str, object]]:
    """Return and print the jobs of one kind, and how near they come to their bounds."""
    rows = [row_of(made(number), seconds) for number in numbers]
    gaps = [float(str(row["gap_pct"])) for row in rows]
    firsts = [float(str(row["first_s"])) for row in rows]
    told(
        f"{len(rows)} jobs: gap median {statistics.median(gaps):.2f} %, greatest {max(gaps):.2f} %, "
        f"{sum(bool(row['proven']) for row in rows)} proven best; first plan after {max(firsts):.2f} s at the most"
    )
    return rows


def growth(seconds: float) -> list[dict[str, object]]:
    """Return and print jobs of 10 to 1,000 pieces of both kinds."""
    return [
        row_of(made(7, pieces), seconds)
        for made in (length_job, ripped_job)
        for pieces in SIZES
    ]  # fmt: skip


def row_of(job: OwnBoards, seconds: float) -> dict[str, object]:
    """Search one job, check every board of it, and return and print what came of it."""
    start = time.process_time()
    found = boards_plans(
        job.pieces, boards=job.boards, kerf=job.kerf, time_left=lambda: seconds - (time.process_time() - start)
    )
    plans = [(time.process_time() - start, plan) for plan in found]
    (first_s, first), (last_s, last) = plans[0], plans[-1]
    expect_cuttable(job, last)
    gap = 0.0 if last.cost == last.least_cost else 100 * (last.cost - last.least_cost) / max(1, last.least_cost)
    row: dict[str, object] = {
        "name": job.name, "pieces": len(job.pieces), "first": first.cost, "first_s": round(first_s, 3),
        "value": last.cost, "bound": last.least_cost, "gap_pct": round(gap, 3),
        "proven": last.cost == last.least_cost, "seconds": round(last_s, 2),
    }  # fmt: skip
    told("  ".join(f"{key} {value}" for key, value in row.items()))
    return row


def expect_cuttable(job: OwnBoards, plan: BoardsPlan) -> None:
    """End the run if a plan cannot be cut or its cost is not what its boards cost."""
    held = sorted(i for one in plan.boards for lane in one.lanes for i in lane)
    good = held == list(range(len(job.pieces))) and plan.cost == sum(job.boards[one.stock].price for one in plan.boards)
    for one in plan.boards:
        board = job.boards[one.stock]
        across = sum(max(job.pieces[i][1] for i in lane) + job.kerf for lane in one.lanes) - job.kerf
        along = max(sum(job.pieces[i][0] + job.kerf for i in lane) - job.kerf for lane in one.lanes)
        good = good and across <= board.width and along <= board.length
    for stock, board in enumerate(job.boards):
        good = good and (board.most is None or sum(one.stock == stock for one in plan.boards) <= board.most)
    if not good:
        message = f"{job.name}: the plan cannot be cut"
        raise SystemExit(message)


def checked(count: int) -> None:
    """Print how many spoilt plans the checker let pass: 200 for each whole one."""
    passed = accepted(range(count), 200)
    told(f"{200 * count} spoilt plans, {len(passed)} accepted")
    for each in passed:
        told(f"  {each}")


if __name__ == "__main__":
    main()
