"""The least number of sheets or lengths that any plan at all could use: to judge ours by.

A dual feasible function changes sizes so that whatever fits in one capacity still does; a bound on the changed sizes
then holds for the real ones. Changing length and width with two such functions bounds rectangles on sheets.
All arithmetic is in whole numbers, so no bound is ever rounded up by mistake.

Source:
    Fekete and Schepers, Mathematical Programming 91, 2001; Carlier, Clautiaux, Moukrim, Computers and Operations
    Research 34, 2007; Martello and Toth, Knapsack Problems, 1990, section 8.3 (L2). Status: recalled; every bound is
    compared with published best values in the tests.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.pack_sheets import Rectangle

Reason = Literal["area", "large pieces", "nothing"]
_Whole = NDArray[np.int64]
_MOST_FUNCTIONS = 60
"""Functions tried in each direction: enough to find the published bounds, quick enough for every plan."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """No plan uses fewer than `least`; `reason` names the bound that says so."""

    least: int
    reason: Reason


def least_sheets(rectangles: Sequence[Rectangle], *, length: int, width: int, kerf: int) -> Bound:
    """Return a number of sheets that no plan can go below, whatever the cuts.

    Args:
        rectangles: what is to be placed; each must fit on an empty sheet.
        length, width: usable size of a sheet.
        kerf: width of a cut.

    Returns:
        The strongest of the area bound and the bounds by large pieces.
    """
    if not rectangles:
        return Bound(least=0, reason="nothing")
    sheet_l, sheet_w = length + kerf, width + kerf
    sizes = [(part.length + kerf, part.width + kerf, part.turnable) for part in rectangles]
    by_area = -(-sum(l * w for l, w, _ in sizes) // (sheet_l * sheet_w))
    by_pieces = _by_functions(sizes, sheet_l, sheet_w)
    if by_pieces > by_area:
        return Bound(least=by_pieces, reason="large pieces")
    return Bound(least=by_area, reason="area")


def least_lengths(pieces: Sequence[int], capacity: int) -> int:
    """Return the bound L2 on equal lengths of stock: large pieces that cannot share, and what is left beside them.

    Args:
        pieces: sizes, kerf included; none above the capacity.
        capacity: what one length holds, one kerf included.

    Returns:
        A number of lengths that no plan can go below.
    """
    best = 0
    for limit in sorted({0, *(size for size in pieces if 2 * size <= capacity)}):
        lone = [size for size in pieces if size > capacity - limit]
        large = [size for size in pieces if 2 * size > capacity and size <= capacity - limit]
        small = [size for size in pieces if 2 * size <= capacity and size >= limit]
        beyond = sum(small) - (len(large) * capacity - sum(large))
        best = max(best, len(lone) + len(large) + max(0, -(-beyond // capacity)))
    return best


def _by_functions(sizes: Sequence[tuple[int, int, bool]], sheet_l: int, sheet_w: int) -> int:
    """Return the best bound over all pairs of functions, one for the length and one for the width."""
    sides_l, sides_w = [size[0] for size in sizes], [size[1] for size in sizes]
    free = np.array([size[2] for size in sizes])
    for_length = _functions(sheet_l, [*sides_l, *(w for _, w, turn in sizes if turn)])
    for_width = _functions(sheet_w, [*sides_w, *(l for l, _, turn in sizes if turn)])
    straight_l, straight_w = _table(for_length, sheet_l, sides_l), _table(for_width, sheet_w, sides_w)
    totals = np.outer(_totals(for_length, sheet_l), _totals(for_width, sheet_w))
    if not free.any():
        return _largest(straight_l @ straight_w.T, totals)
    turned_l, turned_w = _table(for_length, sheet_l, sides_w), _table(for_width, sheet_w, sides_l)
    straight = straight_l[:, None, :] * straight_w[None, :, :]
    turned = turned_l[:, None, :] * turned_w[None, :, :]
    # A turnable piece counts for no more than the lesser of its two ways to lie, as far as it fits that way.
    lies_straight = np.array([l <= sheet_l and w <= sheet_w for l, w, _ in sizes])
    lies_turned = np.array([turn and w <= sheet_l and l <= sheet_w for l, w, turn in sizes])
    lesser = np.where(
        lies_straight & lies_turned, np.minimum(straight, turned), np.where(lies_straight, straight, turned)
    )
    best = _largest(lesser.sum(axis=2), totals)
    if sheet_l == sheet_w and free.all():
        # On a square sheet a plan and its mirror image together hold every piece both ways: half of that sum holds too.
        best = max(best, _largest((straight + turned).sum(axis=2), 2 * totals))
    return best


def _largest(sums: _Whole, totals: _Whole) -> int:
    return int((-(-sums // totals)).max())


# A function is a kind and its parameter: ("cut", limit), ("steps", step), ("shares", k).
_Function = tuple[Literal["cut", "steps", "shares"], int]


def _functions(capacity: int, sides: Sequence[int]) -> list[_Function]:
    """Return the functions worth trying for these sizes, the plain one first, evenly thinned when too many."""
    halves = sorted(
        {s for s in sides if 2 * s <= capacity} | {capacity - s for s in sides if 0 < capacity - s <= capacity // 2}
    )
    steps = sorted({*halves, *(s for s in (capacity // n + 1 for n in range(2, 12)) if 2 * s <= capacity)})
    listed: list[_Function] = [("cut", limit) for limit in halves] + [("steps", step) for step in steps if step > 0]
    room = _MOST_FUNCTIONS - 12
    if len(listed) > room:
        listed = [listed[i * len(listed) // room] for i in range(room)]
    return [("cut", 0), *(("shares", k) for k in range(1, 12)), *listed]


def _totals(functions: Sequence[_Function], capacity: int) -> _Whole:
    return np.array([_changed(function, capacity, capacity) for function in functions], dtype=np.int64)


def _table(functions: Sequence[_Function], capacity: int, sides: Sequence[int]) -> _Whole:
    return np.array([[_changed(f, capacity, min(side, capacity)) for side in sides] for f in functions], dtype=np.int64)


def _changed(function: _Function, capacity: int, size: int) -> int:
    """Return a size as the function changes it; the capacity's own value is the changed capacity."""
    kind, parameter = function
    if kind == "cut":  # u: small ones count nothing, very large ones count full
        if size > capacity - parameter:
            return capacity
        return size if size >= parameter else 0
    if kind == "steps":  # whole steps, from below for the small ones and from above for the large ones
        if 2 * size > capacity:
            return 2 * (capacity // parameter - (capacity - size) // parameter)
        return capacity // parameter if 2 * size == capacity else 2 * (size // parameter)
    share, rest = divmod((parameter + 1) * size, capacity)  # shares of 1/k
    return size * parameter if rest == 0 else share * capacity
