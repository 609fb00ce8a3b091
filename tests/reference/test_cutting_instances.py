"""The cutting searches beside published instances and their best known values.

Sheets: J. O. Berkey and P. Y. Wang, Two-dimensional finite bin-packing algorithms, J. Opl. Res. Soc. 38, 1987
(classes 1 to 6), as re-encoded in an MIT-licensed collection with the best known 3-stage guillotine values (read). A
best known value is a number of sheets somebody reached with 3-stage guillotine cuts, so ours may be lower (free
guillotine cuts), and no bound of ours may be above it.

Lengths: E. Falkenauer, J. Heuristics 2, 1996, and A. Scholl, R. Klein, C. Juergens, Computers and Operations Research
24, 1997, with proven optima as published with the bin packing library (read).
"""

from __future__ import annotations

import json
from itertools import islice
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from nookwright.solvers.bounds import least_lengths, least_sheets
from nookwright.solvers.cheapest_sheets import cheapest_sheets
from nookwright.solvers.counted_proofs import most_counted
from nookwright.solvers.kernels.guillotine_values import greatest_values, pieces_of_greatest
from nookwright.solvers.pack_lengths import Length, pack_lengths
from nookwright.solvers.pack_sheets import Rectangle, pack_sheets
from nookwright.solvers.refit_sheets import SheetKind
from nookwright.solvers.sheet_grids import PartKind, grid_of
from nookwright.solvers.sheet_tables import SheetTables

CLASS_01_20_1 = (
    (5, 9), (4, 2), (10, 6), (5, 7), (6, 3), (10, 7), (1, 5), (3, 5), (6, 9), (2, 4),
    (6, 7), (7, 2), (8, 3), (4, 10), (4, 5), (10, 3), (8, 3), (7, 8), (8, 3), (8, 7),
)  # fmt: skip
"""Berkey and Wang, class 1, 20 rectangles, instance 1, on sheets of 10 x 10: best known 8."""

N1C1W1_A = (
    99, 99, 96, 96, 92, 92, 91, 88, 87, 86, 85, 76, 74, 72, 69, 67, 67, 62, 61, 56, 52, 51, 49, 46, 44,
    42, 40, 40, 33, 33, 30, 30, 29, 28, 28, 27, 25, 24, 23, 22, 21, 20, 17, 14, 13, 11, 10, 7, 7, 3,
)  # fmt: skip
"""Scholl, Klein, Juergens, set 1, instance N1C1W1_A, capacity 100: optimum 25."""

SHEET_NAMES = tuple(f"Class_{group:02d}.2bp_{size}_1" for group in range(1, 7) for size in (20, 60))


def instances(folder: Path, file: str) -> list[dict[str, Any]]:
    """Read one file of instances, or skip."""
    path = folder / "cutting" / file
    if not path.is_file():
        pytest.skip(f"no instances at {path}")
    return [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]


def test_class_1_instance_1_reaches_the_best_known_and_proves_it() -> None:
    """8 sheets, and no plan with 7: our bound says so."""
    parts = [Rectangle(length=l, width=w) for l, w in CLASS_01_20_1]
    bound = least_sheets(parts, length=10, width=10, kerf=0).least
    assert bound == len(pack_sheets(parts, length=10, width=10, kerf=0, enough=bound)) == 8


def test_n1c1w1_a_reaches_its_optimum_and_proves_it() -> None:
    """25 lengths."""
    plan = pack_lengths(N1C1W1_A, stocks=[Length(size=100, price=1)], kerf=0)
    assert len(N1C1W1_A) == 50
    assert least_lengths(N1C1W1_A, 100) == plan.cost == plan.least_cost == 25


@pytest.mark.parametrize("rotated", [False, True])
def test_berkey_wang_sheets_are_within_one_of_the_best_known(reference_folder: Path, rotated: bool) -> None:
    """The first instance of each class at 20 and 60 rectangles: ours <= best known + 1, our bound <= both."""
    key = "guillotine_3stage_rotated_ub" if rotated else "guillotine_3stage_oriented_ub"
    known = {one["name"]: one for one in instances(reference_folder, "2d/bwmv_berkey1987.jsonl")}
    for name in SHEET_NAMES:
        one = known[name]
        length, width = one["bins"][0]
        parts = [Rectangle(length=l, width=w, turnable=rotated) for l, w, copies in one["items"] for _ in range(copies)]
        bound = least_sheets(parts, length=length, width=width, kerf=0).least
        used = len(pack_sheets(parts, length=length, width=width, kerf=0, enough=bound))
        assert bound <= one["bk"][key], name
        assert bound <= used <= one["bk"][key] + 1, name


@pytest.mark.parametrize("rotated", [False, True])
def test_no_bound_is_above_any_published_plan(reference_folder: Path, rotated: bool) -> None:
    """Every tenth of the 350 shared instances: a bound above a plan that somebody made would be wrong."""
    every = [
        one
        for file in ("2d/bwmv_berkey1987.jsonl", "2d/bwmv_martello1998.jsonl")
        for one in instances(reference_folder, file)
    ][::10]
    for one in every:
        length, width = one["bins"][0]
        parts = [Rectangle(length=l, width=w, turnable=rotated) for l, w, copies in one["items"] for _ in range(copies)]
        bound = least_sheets(parts, length=length, width=width, kerf=0).least
        best = min(value for key, value in one["bk"].items() if ("rotated" in key) == rotated)
        assert bound <= best, one["name"]


@pytest.mark.parametrize("file", ["1d/falkenauer_u.jsonl", "1d/scholl1.jsonl", "1d/scholl2.jsonl"])
def test_lengths_are_within_one_of_the_optimum(reference_folder: Path, file: str) -> None:
    """The first eight instances of at most 130 pieces: never below the optimum, at most one above it."""
    small = [one for one in instances(reference_folder, file) if sum(copies for _, copies in one["items"]) <= 130]
    assert len(small) >= 8
    for one in small[:8]:
        pieces = [size for size, copies in one["items"] for _ in range(copies)]
        plan = pack_lengths(pieces, stocks=[Length(size=one["capacity"], price=1)], kerf=0)
        assert one["lb"] == one["ub"], one["name"]
        assert plan.least_cost <= one["ub"] <= plan.cost <= one["ub"] + 1, one["name"]


GCUT = {1: 56460, 2: 60536, 4: 61698, 5: 246000, 7: 242567, 8: 246633}
"""Greatest values of six of the gcut problems, pieces cut as often as they fit. J. E. Beasley, Algorithms for unconstrained
two-dimensional guillotine cutting, J. Opl. Res. Soc. 36, 1985; status: recalled, and found the same by another program."""


@pytest.mark.parametrize("number", sorted(GCUT))
def test_the_greatest_value_of_a_sheet_is_the_published_one(reference_folder: Path, number: int) -> None:
    """Values are areas, no piece turns."""
    problem = next(
        each for each in instances(reference_folder, "2d/beasley1985.jsonl") if each["name"] == f"gcut{number}"
    )
    parts = [PartKind(length=l, width=w, turnable=False, wanted=999) for l, w, *_ in problem["items"]]
    length, width = problem["bins"][0][:2]
    grid, lost = grid_of(parts, length, width, 1001)
    assert not lost
    assert grid.along[-1] == length
    values = np.array([part.length * part.width for part in parts], dtype=np.int64)
    table = np.zeros((len(grid.along), len(grid.across)), dtype=np.int32)
    assert greatest_values(grid, values.astype(np.int32), table) == GCUT[number]
    pieces = np.zeros(len(parts), dtype=np.int64)
    whole = table.astype(np.int64)
    pieces_of_greatest(grid, values, whole, pieces, len(grid.along) - 1, len(grid.across) - 1)
    assert pieces @ values == GCUT[number]


@pytest.mark.parametrize("name", ["Class_01.2bp_60_1", "Class_03.2bp_20_7"])
def test_the_long_search_proves_what_large_pieces_do_not(reference_folder: Path, name: str) -> None:
    """The best known number of sheets is reached, and proven by values of parts where the quick bound is one less."""
    problem = next(each for each in instances(reference_folder, "2d/bwmv_berkey1987.jsonl") if each["name"] == name)
    parts = [Rectangle(length=l, width=w) for l, w, copies in problem["items"] for _ in range(copies)]
    length, width = problem["bins"][0][:2]
    best = problem["bk"]["guillotine_3stage_oriented_ub"]
    assert least_sheets(parts, length=length, width=width, kerf=0).least == best - 1
    kinds = [SheetKind(length=length, width=width, price=1)]
    *_, state = islice(cheapest_sheets(parts, kinds, kerf=0), 3000)
    assert state.found.cost == state.least == best


COUNTED = {"OF1": 2737, "OF2": 2690, "W": 2721}
"""Greatest values where each piece is cut only as often as it is wanted, any cuts right through. Wang, Operations
Research 31, 1983; Oliveira and Ferreira, EJOR 44, 1990; status: recalled."""


@pytest.mark.parametrize("name", sorted(COUNTED))
def test_the_greatest_value_with_copies_counted_is_the_published_one(reference_folder: Path, name: str) -> None:
    """Values are areas, no piece turns; patterns of three stages are worth no more."""
    every = [*instances(reference_folder, "2d/oliveira1990.jsonl"), *instances(reference_folder, "2d/wang1983.jsonl")]
    problem = next(each for each in every if each["name"] == name)
    parts = [PartKind(length=l, width=w, turnable=False, wanted=copies) for l, w, copies, *_ in problem["items"]]
    size = (problem["bins"][0][0], problem["bins"][0][1])
    values = np.array([part.length * part.width for part in parts], dtype=np.int64)
    value, pieces = most_counted(parts, size, SheetTables(parts, [size], 1001), values)
    assert value == int(values @ pieces) == COUNTED[name]
    assert value >= problem["bk"]["knapsack_3stage_homogeneous_oriented"]
