"""Runs the long search for sheets on one instance and lets the independent checker judge what it found."""

from __future__ import annotations

import time
from itertools import islice
from typing import Any

import numpy as np

from cutting_halves.own_jobs import KERF, large_job, own_job
from nookwright.solvers.cheapest_sheets import cheapest_sheets
from nookwright.solvers.counted_proofs import CountedProofs
from nookwright.solvers.guillotine import Laid, Wanted, sheet_faults
from nookwright.solvers.listed_proofs import ListedProof
from nookwright.solvers.pack_sheets import Rectangle, Region
from nookwright.solvers.refit_sheets import Refit, SheetKind, SheetsFound
from nookwright.solvers.sheet_grids import PartKind
from nookwright.solvers.sheet_tables import SheetTables
from nookwright.solvers.sheet_trees import tree_of


def solve_sheets(instance: dict[str, Any], rotate: bool, seconds: float) -> tuple[int, int]:
    """Return the cost found within the time, checked, and the bound; one kind of sheet costs 1.

    The time is that of the processor, so that a busy machine does not change what is found.
    """
    parts = [
        Rectangle(length=item[0], width=item[1], turnable=rotate) for item in instance["items"] for _ in range(item[2])
    ]
    kinds = kinds_of(instance)
    end = time.process_time() + seconds
    state = None
    for state in cheapest_sheets(parts, kinds, kerf=0):  # noqa: B007
        if time.process_time() > end:
            break
    if state is None:
        return 0, 0
    return checked_cost(instance["name"], parts, kinds, state.found), state.least


def solve_own(number: int, parts: int | None, seconds: float) -> tuple[str, int, int, float]:
    """Return name, money, bound and seconds until the first plan of a job made by its number; every plan is checked.

    With a number of parts asked for, so many are taken from several jobs put together.
    """
    job = own_job(number) if parts is None else large_job(number, parts)
    start = time.process_time()
    first, state = 0.0, None
    for state in cheapest_sheets(job.parts, job.kinds, kerf=KERF):  # noqa: B007
        first = first or time.process_time() - start
        if time.process_time() - start > seconds:
            break
    if state is None:
        return job.name, 0, 0, first
    return job.name, checked_cost(job.name, job.parts, job.kinds, state.found, KERF), state.least, first


def load_loops() -> None:
    """Compile the search, or load what was compiled before, on plans that are known not to be proven at once."""
    parts = [Rectangle(length=40 + i, width=30 + i, turnable=i > 6) for i in range(12)]
    kinds = [SheetKind(length=100, width=100, price=7), SheetKind(length=60, width=60, price=2)]
    for _ in islice(cheapest_sheets(parts, kinds, kerf=0), 300):
        pass
    alike = [Rectangle(length=30 + 7 * i % 37, width=25 + 11 * i % 41, turnable=i % 2 == 0) for i in range(40)]
    refit = Refit(alike, kinds[:1], kerf=0)
    refit.step()
    search = refit.pattern_search()
    for _ in range(100):
        search.step()
    few, tiny = ([PartKind(length=size, width=size, turnable=False, wanted=many)] for size, many in ((40, 4), (1, 100)))
    for _ in ListedProof(CountedProofs(few, [(100, 100)], SheetTables(few, [(100, 100)], 200)), (1,)).steps():
        pass
    SheetTables(tiny, [(100, 100)], 200).richest(np.ones(1, dtype=np.int64), 0)


def kinds_of(instance: dict[str, Any]) -> list[SheetKind]:
    """Return the kinds of sheet of an instance: priced where there are several."""
    bins = instance["bins"]
    if len(bins) == 1:
        return [SheetKind(length=bins[0][0], width=bins[0][1], price=1)]
    return [SheetKind(length=one[0], width=one[1], price=one[2] if len(one) > 2 else one[0] * one[1]) for one in bins]


def checked_cost(name: str, parts: list[Rectangle], kinds: list[SheetKind], found: SheetsFound, kerf: int = 0) -> int:
    """Return the cost added up from the plan's sheets, each checked on its own; every part must be on one of them."""
    faults: list[str] = []
    on_sheets: list[str] = []
    for number, (kind, stack) in enumerate(found.sheets):
        length, width = kinds[kind].length, kinds[kind].width
        laid = lying(tree_of(stack, parts, length=length, width=width, kerf=kerf), number)
        on_sheets += [piece.part for piece in laid]
        wanted = {
            piece.part: Wanted(
                length=parts[int(piece.part)].length,
                width=parts[int(piece.part)].width,
                turnable=parts[int(piece.part)].turnable,
            )
            for piece in laid
        }
        faults += sheet_faults(wanted, laid, length=length, width=width, trim=0, kerf=kerf)
    if sorted(on_sheets) != sorted(str(i) for i in range(len(parts))):
        faults.append("not every part lies on one sheet")
    if faults:
        message = f"{name}: the plan cannot be cut: " + "; ".join(faults)
        raise SystemExit(message)
    return sum(kinds[kind].price for kind, _ in found.sheets)


def lying(region: Region, sheet: int) -> list[Laid]:
    """Return the rectangles of one cutting tree as they lie."""
    if region.low is not None and region.high is not None:
        return lying(region.low, sheet) + lying(region.high, sheet)
    if region.part is None:
        return []
    return [Laid(part=str(region.part), sheet=sheet, x=region.x, y=region.y, length=region.length, width=region.width)]
