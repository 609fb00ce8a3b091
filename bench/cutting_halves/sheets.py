"""Runs the long search for sheets on one instance and lets the independent checker judge what it found."""

from __future__ import annotations

import time
from itertools import islice
from typing import Any

from nookwright.solvers.bounds import least_sheets
from nookwright.solvers.guillotine import Laid, Wanted, sheet_faults
from nookwright.solvers.pack_sheets import Rectangle, Region
from nookwright.solvers.refit_sheets import SheetKind, SheetsFound, refitted
from nookwright.solvers.sheet_trees import tree_of


def solve_sheets(instance: dict[str, Any], rotate: bool, seconds: float) -> tuple[int, int]:
    """Return the cost found within the time, checked, and the bound; one kind of sheet costs 1."""
    parts = [
        Rectangle(length=item[0], width=item[1], turnable=rotate) for item in instance["items"] for _ in range(item[2])
    ]
    kinds = kinds_of(instance)
    end = time.perf_counter() + seconds
    bound = bound_of(parts, kinds)
    found = None
    for found in refitted(parts, kinds, kerf=0, enough=bound):  # noqa: B007
        if time.perf_counter() > end:
            break
    if found is None:
        return 0, 0
    return checked_cost(instance["name"], parts, kinds, found), bound


def load_loops() -> None:
    """Compile the search, or load what was compiled before, on a plan that is known not to be proven at once."""
    parts = [Rectangle(length=50, width=40)] * 9
    for _ in islice(refitted(parts, [SheetKind(length=100, width=100, price=1)], kerf=0), 2):
        pass


def kinds_of(instance: dict[str, Any]) -> list[SheetKind]:
    """Return the kinds of sheet of an instance: priced where there are several."""
    bins = instance["bins"]
    if len(bins) == 1:
        return [SheetKind(length=bins[0][0], width=bins[0][1], price=1)]
    return [SheetKind(length=one[0], width=one[1], price=one[2] if len(one) > 2 else one[0] * one[1]) for one in bins]


def bound_of(parts: list[Rectangle], kinds: list[SheetKind]) -> int:
    """Return a cost that no plan can go below: by sheets of one kind, or by the cheapest area."""
    if len(kinds) == 1:
        return least_sheets(parts, length=kinds[0].length, width=kinds[0].width, kerf=0).least * kinds[0].price
    area = sum(part.length * part.width for part in parts)
    return min(-(-area * kind.price // (kind.length * kind.width)) for kind in kinds)


def checked_cost(name: str, parts: list[Rectangle], kinds: list[SheetKind], found: SheetsFound) -> int:
    """Return the cost added up from the plan's sheets, each checked on its own; every part must be on one of them."""
    faults: list[str] = []
    on_sheets: list[str] = []
    for number, (kind, stack) in enumerate(found.sheets):
        length, width = kinds[kind].length, kinds[kind].width
        laid = lying(tree_of(stack, parts, length=length, width=width, kerf=0), number)
        on_sheets += [piece.part for piece in laid]
        wanted = {
            piece.part: Wanted(
                length=parts[int(piece.part)].length,
                width=parts[int(piece.part)].width,
                turnable=parts[int(piece.part)].turnable,
            )
            for piece in laid
        }
        faults += sheet_faults(wanted, laid, length=length, width=width, trim=0, kerf=0)
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
