"""The points of a sheet where cuts can make sense: sums of part sides, measured in steps where there are too many.

Steps make every part a little smaller than it is, and the sheet not smaller: what can be cut in truth can be cut on the
steps too, so a value that no pattern on the steps exceeds holds for the real sheet.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from nookwright.solvers.kernels.guillotine_values import Grid


@dataclass(frozen=True, slots=True, kw_only=True)
class PartKind:
    """Parts that are all alike: size with one kerf in it, whether they may turn, and how many are wanted."""

    length: int
    width: int
    turnable: bool
    wanted: int


def ways_on(kinds: Sequence[PartKind], length: int, width: int) -> list[tuple[int, int, int]]:
    """Return every way that a part can lie on a sheet: its length, its width, and which part it is."""
    ways = []
    for i, kind in enumerate(kinds):
        if kind.length <= length and kind.width <= width:
            ways.append((kind.length, kind.width, i))
        if kind.turnable and kind.length != kind.width and kind.width <= length and kind.length <= width:
            ways.append((kind.width, kind.length, i))
    return ways


def grid_of(kinds: Sequence[PartKind], length: int, width: int, points: int) -> tuple[Grid, frozenset[int]]:
    """Return the grid of a sheet.

    Args:
        kinds: the parts.
        length, width: of the sheet, one kerf included. [any unit]
        points: most points in each direction; where more make sense, sides are measured in steps.

    Returns:
        The grid, and the parts too small for its steps: a proof must leave them out.
    """
    from nookwright.solvers.kernels.guillotine_values import Grid

    ways = ways_on(kinds, length, width)
    wanted = [kinds[part].wanted for _, _, part in ways]
    along, steps_l = _axis(length, [l for l, _, _ in ways], wanted, points)
    across, steps_w = _axis(width, [w for _, w, _ in ways], wanted, points)
    lost = frozenset(part for (_, _, part), l, w in zip(ways, steps_l, steps_w, strict=True) if l == 0 or w == 0)
    kept = [i for i, (_, _, part) in enumerate(ways) if part not in lost]
    below_l, below_w = _at_or_below(along), _at_or_below(across)

    def whole(numbers: Sequence[int]) -> NDArray[np.int64]:
        return np.array(numbers, dtype=np.int64)

    grid = Grid(
        along=whole(along), across=whole(across), at_or_below_along=below_l, at_or_below_across=below_w,
        length=below_l[whole([steps_l[i] for i in kept])], width=below_w[whole([steps_w[i] for i in kept])],
        part=whole([ways[i][2] for i in kept]),
    )  # fmt: skip
    return grid, lost


def _axis(size: int, sides: Sequence[int], wanted: Sequence[int], most: int) -> tuple[list[int], list[int]]:
    """Return the sums of sides in one direction, and the sides of the parts, in steps if there are too many sums."""
    points = _sums(size, sides, wanted)
    if len(points) <= most:
        return points, list(sides)
    worth = [n * side for n, side in zip(wanted, sides, strict=True)]

    def kept(steps: int) -> float:
        """How much of the sides is left when each is rounded down to whole steps."""
        return sum(each * (side * steps // size) / side for each, side in zip(worth, sides, strict=True)) / steps

    steps = max(range(most // 2, most), key=kept)
    rounded = [side * steps // size for side in sides]
    return _sums(steps, rounded, wanted), rounded


def _sums(size: int, sides: Sequence[int], wanted: Sequence[int]) -> list[int]:
    """Return every sum up to a size that a row of the parts can have, and the size itself."""
    full = (1 << (size + 1)) - 1
    reached = 1
    for side, count in zip(sides, wanted, strict=True):
        for _ in range(min(count, size // side) if side else 0):
            more = (reached | (reached << side)) & full
            if more == reached:
                break
            reached = more
    bits = bin(reached)[:1:-1]
    sums = [i for i, bit in enumerate(bits) if bit == "1"]
    return sums if sums[-1] == size else [*sums, size]


def _at_or_below(points: Sequence[int]) -> NDArray[np.int64]:
    """Return for every distance the last point that is not beyond it."""
    return np.searchsorted(np.array(points), np.arange(points[-1] + 1), side="right").astype(np.int64) - 1
