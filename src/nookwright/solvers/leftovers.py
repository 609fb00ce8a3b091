"""The largest leftover in one piece, once the money is settled: the same sheets, with one of them cut ever smaller."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from nookwright.solvers.pack_sheets import Rectangle
from nookwright.solvers.refit_sheets import SheetKind, SheetsFound, trial_on
from nookwright.solvers.sheet_trees import sizes_of

_STEPS = 40
"""Steps that each try gets."""
_CLOSE = 0.01
"""The search ends when the bound is within this share of the sheet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LargestLeftover:
    """A plan, the area of the largest piece that is left over across a whole sheet, and an area none can exceed."""

    found: SheetsFound
    area: int
    most: int


def larger_leftovers(
    rectangles: Sequence[Rectangle], kinds: Sequence[SheetKind], found: SheetsFound, *, kerf: int, deepest: int = 0
) -> Iterator[LargestLeftover]:
    """Yield plans on the same sheets, the largest leftover so far after every step; ends when little more is possible.

    Args:
        rectangles, kinds, kerf, deepest: as the plan was searched with.
        found: the plan; its cost stays.
    """
    used = Counter(kind for kind, _ in found.sheets)
    sizes = {kind: (kinds[kind].length + kerf, kinds[kind].width + kerf) for kind in used}
    filled = sum((part.length + kerf) * (part.width + kerf) for part in rectangles)
    free = sum(n * sizes[kind][0] * sizes[kind][1] for kind, n in used.items()) - filled
    area = _largest(rectangles, kinds, found, kerf)
    most = min(free, max(l * w for l, w in sizes.values()))
    yield LargestLeftover(found=found, area=area, most=most)
    upper = most
    for kind in sorted(used, key=lambda kind: -sizes[kind][0] * sizes[kind][1])[:2]:
        length, width = sizes[kind]
        upper = min(free, length * width)
        while upper - area > _CLOSE * length * width:
            wanted = (area + upper) // 2
            better: SheetsFound | None = None
            for smaller in _cut_off(kinds[kind], wanted, kerf):
                for attempt in _fitted(rectangles, [*kinds, smaller], used, kind, kerf, deepest):
                    better = attempt
                    yield LargestLeftover(found=found, area=area, most=most)
                if better:
                    break
            if better:
                found, area = better, _largest(rectangles, kinds, better, kerf)
            else:
                upper = wanted
            yield LargestLeftover(found=found, area=area, most=most)


def _cut_off(kind: SheetKind, area: int, kerf: int) -> list[SheetKind]:
    """Return what is left of a sheet when an area is cut off its length, and off its width."""
    length, width = kind.length - -(-area // (kind.width + kerf)), kind.width - -(-area // (kind.length + kerf))
    shorter, narrower = replace(kind, length=length), replace(kind, width=width)
    return [one for one in (shorter, narrower) if one.length > 0 and one.width > 0]


def _fitted(
    rectangles: Sequence[Rectangle],
    kinds: Sequence[SheetKind],
    used: Counter[int],
    kind: int,
    kerf: int,
    deepest: int,
) -> Iterator[SheetsFound | None]:
    """Yield None step after step, at last the plan if one was found; the last kind stands for one of `kind`."""
    counts = [used[j] - (j == kind) for j in range(len(kinds) - 1)] + [1]
    trial = trial_on(rectangles, kinds, counts, kerf=kerf, deepest=deepest)
    for _ in range(_STEPS):
        if trial.complete:
            sheets = tuple((kind if j == len(kinds) - 1 else j, stack) for j, stack in trial.found.sheets)
            yield SheetsFound(cost=sum(kinds[j].price for j, _ in sheets), sheets=sheets)
            return
        trial.step()
        yield None


def _largest(rectangles: Sequence[Rectangle], kinds: Sequence[SheetKind], found: SheetsFound, kerf: int) -> int:
    """Return the area of the largest strip that is free across a whole sheet."""
    size = sizes_of(rectangles, kerf)
    best = 0
    for kind, stack in found.sheets:
        l, w = size(stack)
        length, width = kinds[kind].length + kerf, kinds[kind].width + kerf
        best = max(best, (length - l) * width, length * (width - w))
    return best
