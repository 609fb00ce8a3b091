"""How honest the survey is, and how fast, on simulated rooms that share nothing with the adjustment.

    python bench/survey.py [--rooms N] [--workers 2] [--json FILE] [coverage slips classes retakes worse ...]

Prints: how often 95 % intervals hold the truth, by quantity, room kind and waviness; alarms on clean field books;
slips found and named, by size, by class and after the readings then asked for; what worse tools do to the spreads;
processor times and their growth with the unknowns; what garbled field books do.
Seeds are fixed: the same command prints the same figures, times apart.
"""

from __future__ import annotations

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # two workers on two cores; set before numpy is loaded

import argparse
import json
import statistics
import sys
import time
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import asdict, dataclass, replace
from multiprocessing import Pool
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "tests"))

from survey_retakes import named  # noqa: E402
from survey_slips import CLASSES, fate_of, summed  # noqa: E402
from survey_times import growth, times  # noqa: E402
from survey_worse import worse  # noqa: E402

from garbled_books import garbled  # noqa: E402
from nookwright.basics.problems import InvalidInputError  # noqa: E402
from nookwright.stages.inputs.survey import RoomKind, Side, Survey  # noqa: E402
from nookwright.stages.room.reconcile import reconcile  # noqa: E402
from nookwright.stages.room.room import Room  # noqa: E402
from nookwright.stages.survey.field_lists import field_list  # noqa: E402
from nookwright.stages.survey.kind_table import SHAPES  # noqa: E402
from simulated_rooms import LAYOUTS, Person, Slip, ToTake, Waviness, field_book, simulated_room  # noqa: E402
from simulated_truth import Truth  # noqa: E402

KINDS: tuple[RoomKind, ...] = tuple(LAYOUTS)
GAPS = {
    "alcove": ("left", "right"),
    "bay": ("left", "right"),
    "twin-alcoves": ("left", "left cheek"),
    "free-plan": ("FA", "BC"),
    "corner-two-slopes": ("floor", "left slope"),
}
"""Two surfaces whose distance is asked for at places nobody measured; floor and slope in other kinds."""
WAVINESS_MM = (0.7, 1.0, 2.0, 3.0, 4.0)
SLIPS_MM = (0.0, 5.0, 10.0, 12.7, 25.4, 100.0, 304.8)
REACH = 1.959964
"""Standard deviations to either side that hold 95 %."""

Misses = dict[str, list[tuple[float, float]]]


@dataclass(frozen=True)
class Task:
    """One simulated room to survey."""

    kind: RoomKind
    corner: Side
    seed: int
    waviness_mm: float
    slip_mm: float = 0.0
    inches: bool = False
    belly_mm: float = 0.0
    step_mm: float = 0.0


@dataclass(frozen=True)
class Outcome:
    """What became of it: misses as (error, standard deviation) by quantity, and what was said of the readings."""

    task: Task
    misses: Misses
    passed: bool
    found: bool
    named: bool
    refused: bool
    seconds: float


def to_take(kind: RoomKind, corner: Side) -> tuple[ToTake, ...]:
    """Return the field sheet's readings as the simulator takes them."""
    return tuple(
        ("pitch",) if one.tool == "slope" else (one.tool, *one.of) for one in field_list(kind, corner).readings
    )


def quantity_of(name: str) -> str | None:
    """Return the column of the table that a derived value belongs to."""
    if "corner" in name or "nose" in name:
        return "corner, chord" if " at " in name else "corner, mean"
    if name.startswith("length of"):
        return "width"
    for part, quantity in (("lean", "lean"), ("width", "width"), ("floor fall", "floor fall"), ("pitch", "pitch")):
        if part in name:
            return quantity
    return None


def misses_of(room: Room, truth: Truth) -> Misses:
    """Return the errors of everything the readings fix, and of widths or heights at places nobody measured."""
    found: Misses = defaultdict(list)
    true = truth.values("spots")
    for one in room.derived:
        quantity = quantity_of(one.name)
        if quantity and one.fixed and one.name in true:
            found[quantity].append((one.measured.value - true[one.name], one.measured.sd))
    where = truth.room
    chance = where.chance("places")
    for _ in range(3):
        out, across = -chance.uniform(0.1, 0.9) * where.depth_mm, chance.uniform(0.1, 0.9) * where.width_mm
        low, high = GAPS.get(where.kind, ("floor", "slope"))
        if where.corner == "right" and low == "floor":
            high = high.replace("left", "right")
        if where.kind == "twin-alcoves":
            out *= 0.75
        elif where.kind == "free-plan":
            out *= 0.5
        place = (across, out) if low == "floor" else (out, chance.uniform(150, 1800))
        gap = room.between(low, high, *place)
        found["anywhere"].append((gap.value - truth.gap(low, high, place), gap.sd))
    return dict(found)


def survey_of(task: Task) -> tuple[Survey, int | None, Truth]:
    """Return the field book of a task, the place of its planted slip, and the truth."""
    wavy = Waviness(size_mm=task.waviness_mm, belly_mm=task.belly_mm, step_mm=task.step_mm)
    heights = field_list(task.kind, task.corner).heights_mm
    true = simulated_room(task.kind, task.seed, corner=task.corner, wavy=wavy, heights_mm=heights)
    slip = Slip(size_mm=task.slip_mm) if task.slip_mm else None
    survey, place = field_book(Person(true, inches=task.inches), to_take(task.kind, task.corner), slip)
    return survey, place, Truth(true, survey)


def outcome_of(task: Task) -> Outcome:
    """Survey one simulated room."""
    survey, place, truth = survey_of(task)
    start = time.perf_counter()
    try:
        room = reconcile(survey)
    except InvalidInputError as refusal:
        named = place is not None and f"readings[{place}]" in str(refusal)
        return Outcome(task, {}, False, True, named, True, time.perf_counter() - start)
    seconds = time.perf_counter() - start
    suspects = [i for i, fit in enumerate(room.fits) if fit.suspect]
    named = bool(suspects) and max(suspects, key=lambda i: abs(room.fits[i].w)) == place
    misses = {} if task.slip_mm else misses_of(room, truth)
    return Outcome(task, misses, room.global_test.passed, bool(suspects), named, False, seconds)


Map = Callable[[Sequence[Task]], Iterable[Outcome]]


def told(line: str) -> None:
    """Print a line at once."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


def share(values: Iterable[bool]) -> float:
    """Return how many of them are true, 0 to 1."""
    return float(np.mean(list(values)))


def coverage_tasks(kind: RoomKind, size: float, rooms: int) -> list[Task]:
    """Return the clean rooms of one row of the coverage table: none of them is in any other row."""
    first = 2_000_000 + 10_000 * (KINDS.index(kind) * len(WAVINESS_MM) + WAVINESS_MM.index(size))
    return [Task(kind, ("left", "right")[i % 2], first + i, size, inches=i % 4 == 3) for i in range(rooms)]


def coverage(each: Map, rooms: int, kinds: Sequence[RoomKind] = KINDS) -> list[dict[str, object]]:
    """Return and print coverage, spread and alarms by kind and waviness."""
    told("coverage of 95 % intervals (root mean square of error / sd; median sd) | alarms, global test refused, ms")
    table: list[dict[str, object]] = []
    for kind in kinds:
        for size in WAVINESS_MM:
            outcomes = list(each(coverage_tasks(kind, size, rooms)))
            quantities = sorted({name for one in outcomes for name in one.misses})
            row: dict[str, object] = {"kind": kind, "waviness_mm": size, "rooms": rooms}
            cells = []
            for name in quantities:
                pairs = np.array([pair for one in outcomes for pair in one.misses.get(name, ())])
                sizes = np.abs(pairs[:, 0]) / pairs[:, 1]
                covered, rms = float(np.mean(sizes < REACH)), float(np.sqrt(np.mean(sizes**2)))
                sd = float(np.median(pairs[:, 1]))
                row[name] = {"coverage": covered, "rms": rms, "median_sd": sd, "values": len(sizes)}
                cells.append(f"{name} {covered:.3f} ({rms:.2f}; {sd:.2f})")
            row["alarms"] = share(one.found for one in outcomes)
            row["global_test_refused"] = share(not one.passed for one in outcomes)
            row["median_ms"] = 1000 * statistics.median(one.seconds for one in outcomes)
            tail = f"{row['alarms']:.3f} {row['global_test_refused']:.3f} {row['median_ms']:.0f}"
            told(f"{kind:18} {size:3g} mm  " + "  ".join(cells) + f" | {tail}")
            table.append(row)
    return table


def slips(each: Map, rooms: int, kinds: Sequence[RoomKind] = KINDS) -> list[dict[str, object]]:
    """Return and print how often a slip in a random tape is found, and the right reading named."""
    told("slips in one random tape: found / right reading named first")
    table: list[dict[str, object]] = []
    for kind in kinds:
        for waviness in (1.0, 2.0, 3.0):
            cells, row = [], {"kind": kind, "waviness_mm": waviness, "rooms": rooms}
            for size in SLIPS_MM:
                tasks = [
                    Task(kind, ("left", "right")[i % 2], 100_000 + i, waviness, slip_mm=size) for i in range(rooms)
                ]
                outcomes = list(each(tasks))
                found, named = share(one.found for one in outcomes), share(one.named for one in outcomes)
                row[f"{size:g}"] = {"found": found, "named": named}
                cells.append(f"{size:g} mm {found:.3f}/{named:.3f}" if size else f"none {found:.3f}")
            told(f"{kind:18} {waviness:g} mm walls  " + "  ".join(cells))
            table.append(row)
    return table


def classes(rooms: int, kinds: Sequence[RoomKind] = KINDS) -> list[dict[str, object]]:
    """Return and print what becomes of slips of every class, in walls of 2 mm."""
    told("slips by class: books | found, right reading first, each found, all found, class named, wrongly suspected")
    table: list[dict[str, object]] = []
    for kind in kinds:
        for name, plant in CLASSES.items():
            fates = []
            for i in range(rooms):
                survey, _, _ = survey_of(Task(kind, ("left", "right")[i % 2], 400_000 + i, 2.0))
                planted = plant(survey, np.random.default_rng([i, 7]))
                if planted is not None:
                    fates.append(fate_of(*planted))
            row = summed(fates)
            told(f"{kind:18} {name:25} {len(fates):4d} | " + " ".join(f"{value:.3f}" for value in row.values()))
            table.append({"kind": kind, "class": name, "books": len(fates), **row})
    return table


def retakes(rooms: int, kinds: Sequence[RoomKind] = KINDS) -> list[dict[str, object]]:
    """Return and print when an inch in a random tape is named: at once, and once what is asked for is taken."""
    told("an inch: readings of the sheet | found; named at once, after 3, after 6 more at most; more taken | alarms")
    table: list[dict[str, object]] = []
    both = [(kind, doubtful) for kind in kinds for doubtful in (False, True)[: 1 + bool(field_list(kind).in_doubt)]]
    for kind, doubtful in both:
        fates, alarms = [], []
        corners = [one for one in SHAPES[kind].corners if doubtful and one.column in field_list(kind).in_doubt]
        bevels = [("bevel", *corner.walls, "1") for corner in corners]
        for i in range(rooms):
            task = Task(kind, ("left", "right")[i % 2], 400_000 + i, 2.0)
            survey, _, truth = survey_of(task)
            more = tuple(Person(truth.room).take(bevel, 0) for bevel in bevels)
            survey = replace(survey, readings=(*survey.readings, *more))
            alarms.append(any(fit.suspect for fit in reconcile(survey).fits))
            planted = CLASSES["an inch"](survey, np.random.default_rng([i, 7]))
            if planted is not None:
                fates.append(named(planted[0], next(iter(planted[1])), Person(truth.room)))
        row = {
            "kind": kind,
            "books": len(fates),
            "readings": len(field_list(kind).readings) + len(bevels),
            "found": share(one.found for one in fates),
            "named": [share(one.after[turn] for one in fates) for turn in range(len(fates[0].after))],
            "asked": float(np.mean([one.asked for one in fates])),
            "alarms": share(alarms),
        }
        at_once, three, six = row["named"]
        told(
            f"{kind:18} {row['readings']} | {row['found']:.3f}; {at_once:.3f} {three:.3f} {six:.3f}; "
            f"{row['asked']:.2f} | {row['alarms']:.3f}"
        )
        table.append(row)
    return table


def worse_tools(rooms: int, kinds: Sequence[RoomKind] = KINDS) -> list[dict[str, object]]:
    """Return and print what worse tools do to the spreads, in walls of 0.7 to 4 mm, with and without a slip."""
    told("worse tools: pairs of rooms, suspects that passed, spreads compared | least share of the spread before")
    table: list[dict[str, object]] = []
    for kind in kinds:
        tasks = (
            Task(kind, ("left", "right")[i % 2], 500_000 + i, WAVINESS_MM[i % 5], slip_mm=(0.0, 6.0, 12.0, 25.4)[i % 4])
            for i in range(rooms)
        )
        found = worse(survey_of(task)[0] for task in tasks)
        told(f"{kind:18} {found.pairs:5d} {found.passed:4d} {found.spreads:7d} | {found.least:.12f}")
        table.append({"kind": kind, **asdict(found)})
    return table


def timing(kinds: Sequence[RoomKind] = KINDS) -> dict[str, object]:
    """Return and print processor times of one core: by kind and slip, and as unknowns grow."""
    told("processor time, ms: unknowns | one solve, whole adjustment, advice | adjustment and advice at most")
    books = (
        (kind, f"{slip:g} mm slip" if slip else "clean", survey_of(Task(kind, "left", seed, 2.0, slip_mm=slip))[0])
        for kind in kinds
        for slip in (0.0, 25.4, 304.8)
        for seed in range(5)
    )
    rows = times(books)
    for row in rows:
        told(
            f"{row['kind']:18} {row['slip']:14} {row['unknowns']:4d} | {row['solve_ms']:.1f} {row['room_ms']:.0f} "
            f"{row['advice_ms']:.0f} | {row['all_at_most_ms']:.0f}"
        )
    steps, power = growth()
    for step in steps:
        told("{unknowns:5.0f} unknowns {readings:4.0f} readings {solve_ms:7.0f} {room_ms:7.0f}".format(**step))
    told(f"the whole adjustment grows with the power {power:.2f} of the unknowns")
    return {"times": rows, "growth": steps, "power": power}


def garbled_outcome(seed: int) -> str:
    """Return what became of a garbled field book: adjusted, refused, or the bug it met."""
    kind = KINDS[seed % len(KINDS)]
    survey, _, _ = survey_of(Task(kind, ("left", "right")[seed // 3 % 2], seed % 60, 2.0))
    survey = garbled(survey, np.random.default_rng(seed))
    try:
        room = reconcile(survey)
    except InvalidInputError:
        return "refused"
    except Exception as bug:  # the bench counts bugs of every kind
        return f"{type(bug).__name__}: {bug} (seed {seed})"
    whole = len(room.fits) == len(survey.readings)
    finite = all(np.isfinite(one.measured.value) and np.isfinite(one.measured.sd) for one in room.derived)
    return "adjusted" if whole and finite else f"lost a reading or a value (seed {seed})"


def fuzzed(books: int, workers: int) -> dict[str, object]:
    """Return and print what became of garbled field books."""
    with Pool(workers) as pool:
        fates = pool.map(garbled_outcome, range(books), chunksize=20)
    counted: dict[str, int] = defaultdict(int)
    for fate in fates:
        counted[fate.split(" (seed")[0]] += 1
    for fate, number in sorted(counted.items(), key=lambda pair: -pair[1]):
        example = next(one for one in fates if one.startswith(fate))
        told(f"garbled {number:6d}  {example}")
    return dict(counted)


def main() -> None:
    """Print the tables asked for."""
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    arguments.add_argument(
        "tables", nargs="*", default=["coverage", "slips", "classes", "retakes", "worse", "times", "garbled"]
    )
    arguments.add_argument("--rooms", type=int, default=500)
    arguments.add_argument("--kinds", nargs="*", default=KINDS, choices=KINDS)
    arguments.add_argument("--books", type=int, default=10_000)
    arguments.add_argument("--workers", type=int, default=1)
    arguments.add_argument("--json", type=Path)
    asked = arguments.parse_args()
    tables: dict[str, object] = {}
    with Pool(asked.workers) as pool:
        each: Map = lambda tasks: pool.imap(outcome_of, tasks, chunksize=10)  # noqa: E731
        if "coverage" in asked.tables:
            tables["coverage"] = coverage(each, asked.rooms, asked.kinds)
        if "slips" in asked.tables:
            tables["slips"] = slips(each, asked.rooms, asked.kinds)
    if "classes" in asked.tables:
        tables["classes"] = classes(asked.rooms, asked.kinds)
    if "retakes" in asked.tables:
        tables["retakes"] = retakes(asked.rooms, asked.kinds)
    if "worse" in asked.tables:
        tables["worse"] = worse_tools(asked.rooms, asked.kinds)
    if "times" in asked.tables:
        tables["times"] = timing(asked.kinds)
    if "garbled" in asked.tables:
        tables["garbled"] = fuzzed(asked.books, asked.workers)
    if asked.json:
        asked.json.write_text(json.dumps(tables, indent=2), encoding="utf-8")


if __name__ == "__main__":
    main()
