"""Runs the sheet or board search on a file of instances: one line of JSON each, to judge it by published values.

    python bench/cutting.py --instances FILE --rotate no --seconds 2 --json out.jsonl

A file's lines are `{"name", "items": [[width, height, copies]...], "bins": [[width, height]...]}` for sheets, or
`{"name", "items": [[size, copies]...], "capacity"}` for lengths. Only the first bin of an instance is used.
"""

from __future__ import annotations

import argparse
import json
import sys
import time
from pathlib import Path
from typing import Any

from nookwright.solvers.bounds import least_lengths, least_sheets
from nookwright.solvers.guillotine import Laid, Wanted, sheet_faults
from nookwright.solvers.pack_lengths import Length, pack_lengths
from nookwright.solvers.pack_sheets import Rectangle, Region, packings, trees

ROUNDS_A_STEP = 300


def main() -> None:
    """Read the instances, solve each within the time given, write one line each."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--instances", type=Path, required=True, help="file of instances, one JSON object a line")
    parser.add_argument("--rotate", choices=("no", "yes"), default="no", help="whether rectangles may be turned")
    parser.add_argument("--seconds", type=float, default=1.0, help="time for each instance")
    parser.add_argument("--json", type=Path, default=None, help="file to write; standard output when left out")
    options = parser.parse_args()
    out = options.json.open("w", encoding="utf-8") if options.json else sys.stdout
    for line in options.instances.read_text(encoding="utf-8").splitlines():
        instance = json.loads(line)
        start = time.perf_counter()
        if "capacity" in instance:
            value, bound = solve_lengths(instance, options.seconds)
        else:
            value, bound = solve_sheets(instance, options.rotate == "yes", options.seconds)
        result = {
            "file": options.instances.name, "name": instance["name"], "value": value, "bound": bound,
            "proven": value == bound, "seconds": round(time.perf_counter() - start, 3),
        }  # fmt: skip
        out.write(json.dumps(result) + "\n")
        out.flush()


def solve_sheets(instance: dict[str, Any], rotate: bool, seconds: float) -> tuple[int, int]:
    """Return the number of sheets found within the time, checked, and the bound."""
    length, width = instance["bins"][0][:2]
    rectangles = [
        Rectangle(length=item[0], width=item[1], turnable=rotate) for item in instance["items"] for _ in range(item[2])
    ]
    end = time.perf_counter() + seconds
    bound = least_sheets(rectangles, length=length, width=width, kerf=0).least
    best = None
    for packing in packings(rectangles, length=length, width=width, kerf=0, enough=bound):
        best = packing
        if time.perf_counter() > end:
            break
    if best is None:
        return 0, bound
    sheets = trees(best, rectangles, length=length, width=width, kerf=0)
    laid = [piece for number, sheet in enumerate(sheets) for piece in lying(sheet, number)]
    wanted = {
        str(i): Wanted(length=part.length, width=part.width, turnable=rotate) for i, part in enumerate(rectangles)
    }
    faults = sheet_faults(wanted, laid, length=length, width=width, trim=0, kerf=0)
    if faults:
        raise SystemExit("\n".join(faults))
    return len(sheets), bound


def lying(region: Region, sheet: int) -> list[Laid]:
    """Return the rectangles of one cutting tree as they lie."""
    if region.low is not None and region.high is not None:
        return lying(region.low, sheet) + lying(region.high, sheet)
    if region.part is None:
        return []
    return [Laid(part=str(region.part), sheet=sheet, x=region.x, y=region.y, length=region.length, width=region.width)]


def solve_lengths(instance: dict[str, Any], seconds: float) -> tuple[int, int]:
    """Return the number of lengths found, with more rounds as long as the time lasts, and the bound."""
    pieces = [size for size, copies in instance["items"] for _ in range(copies)]
    capacity = instance["capacity"]
    end = time.perf_counter() + seconds
    bound = least_lengths(pieces, capacity)
    rounds = ROUNDS_A_STEP
    while True:
        plan = pack_lengths(pieces, stocks=[Length(size=capacity, price=1)], kerf=0, tries=rounds)
        bound = max(bound, plan.least_cost)
        if plan.cost == bound or time.perf_counter() > end:
            break
        rounds *= 2
    filled = sorted(i for one in plan.filled for i in one.pieces)
    if filled != list(range(len(pieces))) or any(sum(pieces[i] for i in one.pieces) > capacity for one in plan.filled):
        message = f"{instance['name']}: the plan for lengths cannot be cut"
        raise SystemExit(message)
    return len(plan.filled), bound


if __name__ == "__main__":
    main()
