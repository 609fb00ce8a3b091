"""The most valuable pattern that takes no part more often than there is of it: blocks set side by side, compiled.

A block is a part, or two blocks that one cut parts. Blocks are made from few parts upwards; one that cannot belong to a
pattern worth enough is dropped, and so is one that holds what a smaller block holds. What can stand around a block is
worth at most what tables say that count no copies, and at most what the parts not in it are worth by area.

Source:
    Viswanathan and Bagchi, Operations Research 41, 1993: blocks built up and judged by what may surround them.
    Status: recalled.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

from nookwright.solvers.kernels.cutting_trees import Whole
from nookwright.solvers.kernels.guillotine_values import Grid

Few = NDArray[np.int16]
_PAIRS_A_BLOCK = 2000
"""Pairs looked at for every block there is room for, before a search is given up."""
_MOST_PARTS = 200


class Offer(NamedTuple):
    """What can stand on a sheet of a size.

    Args:
        size: length and width of the sheet.
        length, width, part: every way that a part can lie.
        value, wanted, area: of each part.
        richest: the parts, most value for their area first.
    """

    size: Whole
    length: Whole
    width: Whole
    part: Whole
    value: Whole
    wanted: Whole
    area: Whole
    richest: Whole


class Blocks(NamedTuple):
    """Room for blocks: their sizes, value, most value of a sheet that holds each (0: dropped), and parts in them.

    `alike` and `first` list blocks whose parts may be the same.
    """

    length: Whole
    width: Whole
    value: Whole
    reach: Whole
    counts: Few
    alike: Whole
    first: Whole


@njit(cache=True)
def values_around(grid: Grid, table: Whole, around: Whole) -> None:
    """Set what can be cut, at most, from the rest of a sheet around a block of every size."""
    longs, wides = grid.along.size, grid.across.size
    for i in range(longs - 1, -1, -1):
        for j in range(wides - 1, -1, -1):
            best = 0
            if i + 1 < longs:
                best = around[i + 1, j]
            if j + 1 < wides:
                best = max(best, around[i, j + 1])
            for k in range(i + 1, longs):
                beside = grid.at_or_below_along[grid.along[k] - grid.along[i]]
                best = max(best, around[k, j] + table[beside, j])
            for k in range(j + 1, wides):
                beside = grid.at_or_below_across[grid.across[k] - grid.across[j]]
                best = max(best, around[i, k] + table[i, beside])
            around[i, j] = best


@njit(cache=True)
def worth_of_rest(offer: Offer, counts: Whole, room: int) -> int:
    """Return the most value that the parts not yet taken can have in an area, pieces of parts allowed."""
    value = 0
    for part in offer.richest:
        left = offer.wanted[part] - counts[part]
        area = left * offer.area[part]
        if area > room:
            return value + int(offer.value[part] * (room / offer.area[part])) + 1
        value += left * offer.value[part]
        room -= area
    return value


@njit(cache=True)
def reach_of(offer: Offer, grid: Grid, around: Whole, l: int, w: int, value: int, counts: Whole, above: int) -> int:
    """Return the most that a sheet holding a block can be worth; 0 when that is not above a limit."""
    along = grid.at_or_below_along[l * grid.along[-1] // offer.size[0]]
    across = grid.at_or_below_across[w * grid.across[-1] // offer.size[1]]
    reach = value + around[along, across]
    if reach > above:
        reach = min(reach, value + worth_of_rest(offer, counts, offer.size[0] * offer.size[1] - l * w))
    return reach if reach > above else 0


@njit(cache=True)
def kept(blocks: Blocks, many: int, l: int, w: int, value: int, reach: int, counts: Whole) -> int:
    """Keep a block unless a smaller one holds the same; return how many there are now, -1 when there is no room."""
    key = np.uint64(1469598103934665603)
    for count in counts:
        key = (key ^ np.uint64(count)) * np.uint64(1099511628211)
    slot = np.int64((key >> np.uint64(20)) % np.uint64(blocks.first.size))
    at = blocks.first[slot]
    while at >= 0:
        if blocks.value[at] == value and blocks.reach[at] > 0 and same(blocks.counts[at], counts):
            if blocks.length[at] <= l and blocks.width[at] <= w:
                return many
            if l <= blocks.length[at] and w <= blocks.width[at]:
                blocks.reach[at] = 0
        at = blocks.alike[at]
    if many == blocks.length.size:
        return -1
    blocks.length[many], blocks.width[many], blocks.value[many], blocks.reach[many] = l, w, value, reach
    for part in range(counts.size):
        blocks.counts[many, part] = counts[part]
    blocks.alike[many] = blocks.first[slot]
    blocks.first[slot] = many
    return many + 1


@njit(cache=True)
def same(few: Few, counts: Whole) -> bool:
    """Return whether two lists of numbers are the same."""
    alike = True
    for part in range(counts.size):
        alike = alike and few[part] == counts[part]
    return alike


@njit(cache=True)
def together(offer: Offer, blocks: Blocks, a: int, b: int, counts: Whole) -> bool:
    """Set the parts of two blocks together; return whether there are as many of each."""
    for part in range(counts.size):
        count = blocks.counts[a, part] + blocks.counts[b, part]
        if count > offer.wanted[part]:
            return False
        counts[part] = count
    return True


@njit(cache=True)
def thinned(blocks: Blocks, begin: int, end: int, above: int, most: int) -> int:
    """Close the gaps that dropped blocks left among the newest; keep only those worth most for their area.

    Args:
        blocks: all blocks.
        begin, end: the newest ones.
        above: a block that reaches no more is dropped.
        most: how many may stay; 0 for any number.

    Returns:
        The end of those that stay.
    """
    dense = blocks.value[begin:end] / (blocks.length[begin:end] * blocks.width[begin:end])
    dense[blocks.reach[begin:end] <= above] = -1.0
    least = 0.0
    if most and end - begin > most:
        least = max(0.0, np.sort(dense)[end - begin - most])
    many = begin
    for at in range(begin, end):
        if dense[at - begin] >= least:
            blocks.length[many], blocks.width[many] = blocks.length[at], blocks.width[at]
            blocks.value[many], blocks.reach[many] = blocks.value[at], blocks.reach[at]
            blocks.counts[many] = blocks.counts[at]
            many += 1
    blocks.first[:] = -1
    return many


@njit(cache=True)
def parts_alone(offer: Offer, grid: Grid, around: Whole, blocks: Blocks, above: int, pieces: Whole) -> tuple[int, int]:
    """Make a block of every part as it can lie; return how many there are, and the best value now."""
    counts = np.zeros(offer.value.size, np.int64)
    best, many = above, 0
    for way in range(offer.part.size):
        part = offer.part[way]
        counts[:] = 0
        counts[part] = 1
        l, w, value = offer.length[way], offer.width[way], offer.value[part]
        if value > best:
            best = value
            pieces[:] = counts
        reach = reach_of(offer, grid, around, l, w, value, counts, above)
        if reach:
            many = kept(blocks, many, l, w, value, reach, counts)
    blocks.first[:] = -1
    return many, best


@njit(cache=True)
def most_valuable(
    offer: Offer, grid: Grid, around: Whole, blocks: Blocks, above: int, most: int, pieces: Whole
) -> tuple[int, bool]:
    """Look for a pattern worth more than a limit.

    Args:
        offer: the sheet and the parts; only those worth something.
        grid, around: what can stand around a block of every size.
        blocks: room to work in; `first` filled with -1.
        above: the limit.
        most: blocks of each number of parts that are kept; 0 for all.
        pieces: set to the pattern's parts, if one is found.

    Returns:
        The value of the best pattern found, else the limit; and whether no other is worth more.
    """
    counts = np.zeros(offer.value.size, np.int64)
    ends = np.zeros(_MOST_PARTS + 1, np.int64)
    many, best = parts_alone(offer, grid, around, blocks, above, pieces)
    ends[1] = many
    level, newest, pairs, whole = 1, 1, 0, True
    while level < _MOST_PARTS and level < 2 * newest:
        level += 1
        begin = many
        for fewer in range(1, level // 2 + 1):
            for a in range(ends[fewer - 1], ends[fewer]):
                if blocks.reach[a] <= best:
                    continue
                for b in range(max(ends[level - fewer - 1], a), ends[level - fewer]):
                    if blocks.reach[b] <= best:
                        continue
                    value = blocks.value[a] + blocks.value[b]
                    for across in range(2):
                        l, w = blocks.length[a], blocks.width[a]
                        if across:
                            l, w = max(l, blocks.length[b]), w + blocks.width[b]
                        else:
                            l, w = l + blocks.length[b], max(w, blocks.width[b])
                        if l > offer.size[0] or w > offer.size[1]:
                            continue
                        along = grid.at_or_below_along[l * grid.along[-1] // offer.size[0]]
                        aside = grid.at_or_below_across[w * grid.across[-1] // offer.size[1]]
                        if value + around[along, aside] <= best:
                            continue
                        if not together(offer, blocks, a, b, counts):
                            break
                        if value > best:
                            best = value
                            pieces[:] = counts
                        reach = reach_of(offer, grid, around, l, w, value, counts, best)
                        if reach:
                            many = kept(blocks, many, l, w, value, reach, counts)
                            if many < 0:
                                return best, False
                pairs += ends[level - fewer] - ends[level - fewer - 1]
                if pairs > _PAIRS_A_BLOCK * blocks.length.size:
                    return best, False
        whole = whole and not (most and many - begin > most)
        many = thinned(blocks, begin, many, best, most)
        ends[level] = many
        if many > begin:
            newest = level
    return best, whole and level < _MOST_PARTS
