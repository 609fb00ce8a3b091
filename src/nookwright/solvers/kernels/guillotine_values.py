"""The most valuable pattern that cuts right through can make of a sheet, by dynamic programming, compiled.

Source:
    Gilmore and Gomory, Operations Research 14, 1966. Status: recalled; compared with published values in the tests.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.kernels.compiled import compiled, in_place
from nookwright.solvers.kernels.cutting_trees import Whole

Small = NDArray[np.int32]
ROWS, WORDS = 64, 8
"""Rows of a table that are filled together at most, and numbers that a processor adds at once."""


class Grid(NamedTuple):
    """Where on a sheet a cut can make sense, and which points the sides of the parts are.

    Args:
        along, across: points from 0 to the sheet's size, rising: the sums of the parts' sides.
        at_or_below_along, at_or_below_across: for every distance the last point that is not beyond it.
        length, width: for each way that each part can lie, the points of its sides.
        part: the part that lies so.
    """

    along: Whole
    across: Whole
    at_or_below_along: Whole
    at_or_below_across: Whole
    length: Whole
    width: Whole
    part: Whole


@in_place
def lay_parts(grid: Grid, value: Small, table: Small) -> None:
    """Set the value of every part at its own size, and 0 at every other."""
    table[:] = 0
    for i in range(grid.part.size):
        here = table[grid.length[i], grid.width[i]]
        table[grid.length[i], grid.width[i]] = max(here, value[grid.part[i]])


@in_place
def shortest_part(grid: Grid) -> int:
    """Return the shortest length at which a part can lie."""
    shortest = grid.along[-1] + 1
    for i in grid.length:
        shortest = min(shortest, grid.along[i])
    return shortest


@compiled
def greatest_values(grid: Grid, value: Small, table: Small) -> int:
    """Set the greatest total value of parts cut from every size of rectangle.

    Rows of lengths so near to each other that no part fits between them are filled together: cuts across the length
    need only rows well before them, and cuts along it are looked at for all of these rows at once.

    Args:
        grid: the points, and the ways that the parts can lie.
        value: of one piece of each part, which may be cut as often as it fits; so small that no sheet is worth 2^31.
        table: by point along and point across.

    Returns:
        The value of the whole sheet.
    """
    longs, wides = table.shape
    lay_parts(grid, value, table)
    halves = np.searchsorted(grid.across, grid.across // 2, side="right")
    rests = np.zeros((wides, wides // 2 + 1), np.int32)
    for j in range(1, wides):
        halves[j] = min(halves[j], j, wides // 2 + 1)
        for k in range(1, halves[j]):
            rests[j, k] = grid.at_or_below_across[grid.across[j] - grid.across[k]]
    shortest = shortest_part(grid)
    shortest_at = np.searchsorted(grid.along, shortest)
    together = np.zeros((wides, ROWS), np.int32)
    begin = 1
    while begin < longs:
        end = begin
        while end < longs and end - begin < ROWS and grid.along[end] - grid.along[begin] < shortest:
            row = table[end]
            for k in range(shortest_at, end):
                if 2 * grid.along[k] > grid.along[end]:
                    break
                low, high = table[k], table[grid.at_or_below_along[grid.along[end] - grid.along[k]]]
                for j in range(wides):
                    row[j] = max(row[j], np.int32(low[j] + high[j]))
            for j in range(wides):
                together[j, end - begin] = max(row[j], table[begin - 1, j])
            end += 1
        padded = -(-(end - begin) // WORDS) * WORDS
        for j in range(1, wides):
            here, narrower, rest = together[j], together[j - 1], rests[j]
            for b in range(1, end - begin):
                here[b] = max(here[b], here[b - 1])
            for b in range(padded):
                here[b] = max(here[b], narrower[b])
            for k in range(1, halves[j]):
                some, others = together[k], together[rest[k]]
                for b in range(padded):
                    here[b] = max(here[b], np.int32(some[b] + others[b]))
            for b in range(end - begin):
                table[begin + b, j] = here[b]
        begin = end
    return int(table[longs - 1, wides - 1])


@compiled
def pieces_of_greatest(grid: Grid, value: Whole, table: Whole, pieces: Whole, i: int, j: int) -> None:
    """Add the pieces of a pattern that has the greatest value for a size, by its point along and point across."""
    stack = np.empty((grid.along.size + grid.across.size + 2, 2), np.int64)
    stack[0, 0], stack[0, 1] = i, j
    waiting = 1
    while waiting:
        waiting -= 1
        i, j = stack[waiting, 0], stack[waiting, 1]
        best = table[i, j]
        if best == 0:
            continue
        if table[i - 1, j] == best:
            stack[waiting, 0], stack[waiting, 1] = i - 1, j
            waiting += 1
            continue
        if table[i, j - 1] == best:
            stack[waiting, 0], stack[waiting, 1] = i, j - 1
            waiting += 1
            continue
        if counted(grid, value, i, j, best, pieces):
            continue
        a, b, along = cut_at(grid, table, i, j, best)
        stack[waiting, 0], stack[waiting, 1] = (a if along else i), (j if along else a)
        stack[waiting + 1, 0], stack[waiting + 1, 1] = (b if along else i), (j if along else b)
        waiting += 2


@in_place
def counted(grid: Grid, value: Whole, i: int, j: int, best: int, pieces: Whole) -> bool:
    """Count the part that just fills a size and is worth as much as can be; whether there is one."""
    for k in range(grid.part.size):
        if grid.length[k] == i and grid.width[k] == j and value[grid.part[k]] == best:
            pieces[grid.part[k]] += 1
            return True
    return False


@in_place
def cut_at(grid: Grid, table: Whole, i: int, j: int, best: int) -> tuple[int, int, bool]:
    """Return the two points that a best cut of this size leaves, and whether it parts the length."""
    for k in range(1, i):
        rest = grid.at_or_below_along[grid.along[i] - grid.along[k]]
        if table[k, j] + table[rest, j] == best:
            return k, rest, True
    for k in range(1, j):
        rest = grid.at_or_below_across[grid.across[j] - grid.across[k]]
        if table[i, k] + table[i, rest] == best:
            return k, rest, False
    return 0, 0, True


@in_place
def values_by_first_cut(grid: Grid, table: Whole, worth: Whole) -> None:
    """Set the greatest value of the whole sheet for each first cut: at the points along, then those across."""
    longs, wides = grid.along.size, grid.across.size
    for k in range(longs):
        rest = grid.at_or_below_along[grid.along[-1] - grid.along[k]]
        worth[k] = table[k, wides - 1] + table[rest, wides - 1]
    for k in range(wides):
        rest = grid.at_or_below_across[grid.across[-1] - grid.across[k]]
        worth[longs + k] = table[longs - 1, k] + table[longs - 1, rest]
