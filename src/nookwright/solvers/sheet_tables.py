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


class SheetTables:
    """Room for the tables; filled anew for every set of values of the parts."""

    def __init__(self, parts: Sequence[PartKind], sizes: Sequence[tuple[int, int]], points: int) -> None:
        """Choose the points.

        Args:
            parts: the parts, kerfs included.
            sizes: of the kinds of sheet, kerfs included.
            points: most points in each direction.
        """
        self._grids = [grid_of(parts, length, width, points) for length, width in sizes]
        self.lost = frozenset(part for _, lost in self._grids for part in lost)
        self.exact = all(
            grid.along[-1] == length and grid.across[-1] == width
            for (grid, _), (length, width) in zip(self._grids, sizes, strict=True)
        )
        self._tables = [
            (np.zeros((g.along.size, g.across.size), np.int64), np.zeros((g.across.size, g.along.size), np.int64))
            for g, _ in self._grids
        ]

    def of(self, kind: int) -> tuple[Grid, _Whole]:
        """Return the points of a kind of sheet, and its table as it was filled last."""
        return self._grids[kind][0], self._tables[kind][0]

    def richest(self, values: _Whole, kind: int) -> tuple[int, _Whole]:
        """Fill the table of a kind of sheet; return the greatest worth, and the pieces of a pattern that has it."""
        from nookwright.solvers.kernels.guillotine_values import greatest_values, pieces_of_greatest

        grid = self._grids[kind][0]
        table, turned = self._tables[kind]
        top = int(greatest_values(grid, values, table, turned))
        pieces = np.zeros(len(values), dtype=np.int64)
        pieces_of_greatest(grid, values, table, pieces)
        return top, pieces

    def worth(self, values: _Whole, wanted: _Whole) -> tuple[Worth, list[_Whole]]:
        """Return the greatest worth of each kind of sheet, and the pieces of a pattern that has it."""
        found = [self.richest(values, kind) for kind in range(len(self._grids))]
        tops = tuple(top for top, _ in found)
        return Worth(parts=int(values @ wanted), tops=tops), [pieces for _, pieces in found]
