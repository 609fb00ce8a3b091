"""Tests of mixing patterns: plans that hold every part once, the same every time, and one that refitting does not find."""

from __future__ import annotations

import json
from itertools import pairwise
from pathlib import Path

import pytest

from nookwright.solvers.guillotine import Laid, Wanted, sheet_faults
from nookwright.solvers.pack_sheets import Rectangle, Region
from nookwright.solvers.refit_sheets import Refit, SheetKind, SheetsFound
from nookwright.solvers.sheet_trees import tree_of

SIDE = 100
KERF = 3
STEPS = 300


def pieces_cut_up(sheets: int) -> list[Rectangle]:
    """Parts that fill so many sheets without waste: each sheet is cut into four strips, each strip into two."""
    parts: list[Rectangle] = []
    for s in range(sheets):
        cuts = [0, 19 + s, 46 + s, 71 + s // 2, SIDE + KERF]
        for row, (low, high) in enumerate(pairwise(cuts)):
            across = 31 + (7 * row + 5 * s) % 29
            width = high - low - KERF
            parts += [
                Rectangle(length=across - KERF, width=width, turnable=True),
                Rectangle(length=SIDE - across, width=width, turnable=True),
            ]
    return parts


def lying(region: Region) -> list[Laid]:
    """Return the parts of a cutting tree as they lie."""
    if region.low is not None and region.high is not None:
        return lying(region.low) + lying(region.high)
    if region.part is None:
        return []
    return [Laid(part=str(region.part), sheet=0, x=region.x, y=region.y, length=region.length, width=region.width)]


def faults(parts: list[Rectangle], found: SheetsFound) -> list[str]:
    """Return what the independent checker says of every sheet, and which parts are not on just one."""
    said: list[str] = []
    seen: list[int] = []
    for _, stack in found.sheets:
        laid = lying(tree_of(stack, parts, length=SIDE, width=SIDE, kerf=KERF))
        on_it = [int(each.part) for each in laid]
        wanted = {
            str(i): Wanted(length=parts[i].length, width=parts[i].width, turnable=parts[i].turnable) for i in on_it
        }
        said += sheet_faults(wanted, laid, length=SIDE, width=SIDE, trim=0, kerf=KERF)
        seen += on_it
    return said if sorted(seen) == list(range(len(parts))) else [*said, "not every part once"]


def test_a_plan_without_waste_is_found_and_passes_the_checker() -> None:
    """Five sheets cut up without waste; the plan by plain orders needs more, and mixing alone finds five again."""
    parts = pieces_cut_up(5)
    refit = Refit(parts, [SheetKind(length=SIDE, width=SIDE, price=5)], kerf=KERF)
    first = refit.best.cost
    assert first > 25
    search = refit.pattern_search()
    for _ in range(STEPS):
        search.step()
        if search.complete:
            refit.adopt(search)
            assert not faults(parts, refit.best)
            break
    assert refit.best.cost == 25


def test_the_same_steps_lead_to_the_same_plan() -> None:
    """Two searches, step for step."""
    parts = pieces_cut_up(4)
    found = []
    for _ in range(2):
        refit = Refit(parts, [SheetKind(length=SIDE, width=SIDE, price=1)], kerf=KERF)
        search, steps = refit.pattern_search(), 0
        while not search.complete and steps < STEPS:
            search.step()
            steps += 1
        refit.adopt(search)
        found.append((steps, refit.best))
    assert found[0] == found[1]
    assert found[0][1].cost == 4


def test_mixing_never_makes_a_plan_dearer_and_never_claims_one_that_is_not_whole() -> None:
    """Four sheets cannot hold what fills five: nothing is ever complete, and the plan stays as it was."""
    parts = pieces_cut_up(5)
    refit = Refit(parts, [SheetKind(length=SIDE, width=SIDE, price=1)], kerf=KERF)
    before = refit.best
    search = refit.pattern_search()
    search.aim(4)
    for _ in range(12):
        search.step()
        refit.adopt(search)
    assert not search.complete
    assert refit.best == before


def test_a_published_instance_that_refitting_does_not_solve(reference_folder: Path) -> None:
    """Martello and Vigo, class 7, 40 rectangles that may turn, instance 4: best known 12.

    S. Martello and D. Vigo, Exact solution of the two-dimensional finite bin packing problem, Management Science 44,
    1998, as re-encoded in an MIT-licensed collection with the best known 3-stage value (read).
    """
    path = reference_folder / "cutting" / "2d" / "bwmv_martello1998.jsonl"
    if not path.is_file():
        pytest.skip(f"no instances at {path}")
    every = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]
    one = next(each for each in every if each["name"] == "Class_07.2bp_40_4")
    parts = [Rectangle(length=l, width=w, turnable=True) for l, w, copies in one["items"] for _ in range(copies)]
    kinds = [SheetKind(length=one["bins"][0][0], width=one["bins"][0][1], price=1)]
    refit = Refit(parts, kinds, kerf=0)
    for _ in range(60):
        refit.step()
    assert refit.best.cost == 13
    search = refit.pattern_search()
    for _ in range(STEPS):
        search.step()
    refit.adopt(search)
    assert refit.best.cost == one["bk"]["guillotine_3stage_rotated_ub"] == 12
