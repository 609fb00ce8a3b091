"""The tables of the most that can be cut from every size of piece, for each kind of sheet; copies are not counted."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.sheet_grids import PartKind, grid_of
from nookwright.solvers.stock_counts import Worth

if TYPE_CHECKING:
    from nookwright.solvers.kernels.guillotine_values import Grid

_Whole = NDArray[np.int64]
_Rich = tuple[int, int, _Whole]
_PARTS_A_PATTERN = 20
"""One more pattern for every so many different parts is looked for in a table."""

_BITS = 29
"""Binary digits of a sheet's worth in the table of steps."""


class SheetTables:
    """Room for the tables; filled anew for every set of values of the parts."""

    def __init__(self, parts: Sequence[PartKind], sizes: Sequence[tuple[int, int]], points: int) -> None:
        """Choose the points.

        Args:
            parts: the parts, kerfs included.
            sizes: of the kinds of sheet, kerfs included.
            points: most points in each direction.
        """
        self._sizes = list(sizes)
        self._largest_first = sorted(range(len(sizes)), key=lambda j: -sizes[j][0] * sizes[j][1])
        self._grids = [grid_of(parts, length, width, points) for length, width in sizes]
        self.lost = frozenset(part for _, lost in self._grids for part in lost)
        self.exact = all(
            grid.along[-1] == length and grid.across[-1] == width
            for (grid, _), (length, width) in zip(self._grids, sizes, strict=True)
        )
        self._tables = [np.zeros((grid.along.size, grid.across.size), dtype=np.int64) for grid, _ in self._grids]
        self._rounded: dict[int, _Whole] = {}

    def of(self, kind: int) -> tuple[Grid, _Whole]:
        """Return the points of a kind of sheet, and its table as it was filled last."""
        return self._grids[kind][0], self._tables[kind]

    def richest(self, values: _Whole, kind: int) -> tuple[int, _Whole]:
        """Fill the table of a kind of sheet; return a worth that no pattern exceeds, and pieces of a pattern."""
        from nookwright.solvers.kernels.guillotine_values import greatest_values, pieces_of_greatest

        grid, table = self.of(kind)
        # The loops hold few digits: values are rounded up to them, by about one in ten million.
        digits = _digits_to_drop(grid, values)
        few = -(-values >> digits).astype(np.int32)
        small = np.empty(table.shape, dtype=np.int32)
        greatest_values(grid, few, small)
        table[:] = small
        table <<= digits
        rounded = few.astype(np.int64) << digits
        top = int(table[-1, -1])
        self._rounded[kind] = rounded
        pieces = np.zeros(len(values), dtype=np.int64)
        pieces_of_greatest(grid, rounded, table, pieces, grid.along.size - 1, grid.across.size - 1)
        return top, pieces

    def worth(self, values: _Whole, wanted: _Whole, prices: Sequence[int] | None = None) -> tuple[Worth, list[_Rich]]:
        """Return the greatest worth of each kind of sheet; with patterns, each with its kind, its worth and its pieces.

        A pattern of greatest worth comes first; where there are many parts, others follow that begin with another cut.
        With the prices of the kinds, one that is no bargain by the table of a larger kind gets the worth that this
        tells, and no table of its own.
        """
        tops = [0] * len(self._grids)
        found: list[_Rich] = []
        filled: list[int] = []
        for kind in self._largest_first if prices else range(len(tops)):
            if prices and (top := self._no_bargain(kind, filled, tops, prices)):
                tops[kind] = top
                continue
            tops[kind], pieces = self.richest(values, kind)
            filled.append(kind)
            found.append((kind, tops[kind], pieces))
            found += self._next_richest(kind, len(values) // _PARTS_A_PATTERN)
        return Worth(parts=int(values @ wanted), tops=tuple(tops)), found

    def _no_bargain(self, kind: int, filled: Sequence[int], tops: Sequence[int], prices: Sequence[int]) -> int:
        """Return what a kind is worth at most by tables filled, if another is worth more for its price; else 0."""
        length, width = self._sizes[kind]
        least = 0
        for larger in filled:
            full_l, full_w = self._sizes[larger]
            if length <= full_l and width <= full_w:
                grid, table = self.of(larger)
                # Parts are rounded down on the larger sheet's steps, so what they add up to is rounded down too.
                i = grid.at_or_below_along[length * int(grid.along[-1]) // full_l]
                j = grid.at_or_below_across[width * int(grid.across[-1]) // full_w]
                top = max(1, int(table[i, j]))
                least = min(least, top) if least else top
        dearer = any(least * prices[other] < tops[other] * prices[kind] for other in filled)
        return least if least and dearer else 0

    def _next_richest(self, kind: int, most: int) -> list[_Rich]:
        """Return patterns worth most by their first cuts, in the table as it was filled last."""
        from nookwright.solvers.kernels.guillotine_values import pieces_of_greatest, values_by_first_cut

        if not most:
            return []
        grid, table = self.of(kind)
        values = self._rounded[kind]
        longs, wides = grid.along.size, grid.across.size
        by_cut = np.zeros(longs + wides, dtype=np.int64)
        values_by_first_cut(grid, table, by_cut)
        found: dict[bytes, _Rich] = {}
        for cut in np.argsort(-by_cut, kind="stable")[: 2 * most].tolist():
            pieces = np.zeros(len(values), dtype=np.int64)
            if cut < longs:
                rest = int(grid.at_or_below_along[grid.along[-1] - grid.along[cut]])
                both = [(cut, wides - 1), (rest, wides - 1)]
            else:
                rest = int(grid.at_or_below_across[grid.across[-1] - grid.across[cut - longs]])
                both = [(longs - 1, cut - longs), (longs - 1, rest)]
            for i, j in both:
                pieces_of_greatest(grid, values, table, pieces, i, j)
            found[pieces.tobytes()] = (kind, int(by_cut[cut]), pieces)
        return list(found.values())[:most]


def _digits_to_drop(grid: Grid, values: _Whole) -> int:
    """Return how many binary digits of the values must go so that no sheet is worth 2^31, by the densest part."""
    sheet = float(grid.along[-1]) * float(grid.across[-1])
    dense = values[grid.part] / np.maximum(grid.along[grid.length] * grid.across[grid.width], 1)
    most = sheet * float(dense.max(initial=0.0)) + sheet
    return max(0, int(np.ceil(np.log2(max(most, 1.0)))) - _BITS)
