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
from numpy.typing import NDArray

from nookwright.solvers.kernels.compiled import compiled, in_place
from nookwright.solvers.kernels.cutting_trees import Whole
from nookwright.solvers.kernels.guillotine_values import ROWS, WORDS, Grid, Small, shortest_part

Words = NDArray[np.uint64]
_MOST_PAIRS, _MOST_TO_LIST = 100_000_000, 300_000_000
"""Pairs of blocks looked at before a search is given up, about a second for the first; more where all are listed."""
_MOST_PARTS = 200


class Offer(NamedTuple):
    """What can stand on a sheet of a size.

    Args:
        size: length and width of the sheet.
        length, width, part: every way that a part can lie.
        value, wanted, area: of each part.
        richest: the parts, most value for their area first.
        word, shift: where a word of a block keeps how many there are of each part.
        mask: the greatest number that can be kept there.
        guard, bias: bits of each word that are set when, with the bias added, there are more of a part than wanted.
    """

    size: Whole
    length: Whole
    width: Whole
    part: Whole
    value: Whole
    wanted: Whole
    area: Whole
    richest: Whole
    word: Whole
    shift: Words
    mask: Words
    guard: Words
    bias: Words


class Blocks(NamedTuple):
    """Room for blocks: their sizes, value, most value of a sheet that holds each (0: dropped), and parts in them.

    `words` keeps the numbers of several parts in one word. `alike` and `first` list blocks whose parts may be the same.
    """

    length: Whole
    width: Whole
    value: Whole
    reach: Whole
    words: Words
    alike: Whole
    first: Whole


class Around(NamedTuple):
    """What can be cut, at most, around a block: by its points, and the points of every length and width."""

    value: Whole
    along: Whole
    across: Whole


@compiled
def values_around(grid: Grid, table: Small, around: Small) -> None:
    """Set what can be cut, at most, from the rest of a sheet around a block of every size.

    Rows of lengths near to each other are filled together, as those of the table are.

    Args:
        grid: the points.
        table: what can be cut from every size; so little that no sheet is worth 2^30.
        around: to be set, by point along and point across.
    """
    longs, wides = table.shape
    rests = np.zeros((wides, wides), np.int32)
    for k in range(wides):
        for j in range(k):
            rests[k, j] = grid.at_or_below_across[grid.across[k] - grid.across[j]]
    shortest = shortest_part(grid)
    together, beside = np.zeros((wides, ROWS), np.int32), np.zeros((wides, ROWS), np.int32)
    end = longs
    while end > 0:
        begin = end
        while begin > 0 and end - begin < ROWS and grid.along[end - 1] - grid.along[begin - 1] < shortest:
            begin -= 1
            row = around[begin]
            row[:] = 0
            for k in range(end, longs):
                rest, longer = table[grid.at_or_below_along[grid.along[k] - grid.along[begin]]], around[k]
                for j in range(wides):
                    row[j] = max(row[j], np.int32(longer[j] + rest[j]))
            for j in range(wides):
                together[j, end - 1 - begin], beside[j, end - 1 - begin] = row[j], table[begin, j]
        padded = -(-(end - begin) // WORDS) * WORDS
        for k in range(wides - 1, -1, -1):
            wider, rest_k = together[k], rests[k]
            for b in range(1, end - begin):
                wider[b] = max(wider[b], wider[b - 1])
            for j in range(k):
                here, side = together[j], beside[rest_k[j]]
                for b in range(padded):
                    here[b] = max(here[b], np.int32(wider[b] + side[b]))
            for b in range(end - begin):
                around[end - 1 - b, k] = wider[b]
        end = begin


@in_place
def worth_of_rest(offer: Offer, words: Words, room: int) -> int:
    """Return the most value that the parts not yet taken can have in an area, pieces of parts allowed."""
    value = 0
    for part in offer.richest:
        taken = np.int64((words[offer.word[part]] >> offer.shift[part]) & offer.mask[part])
        left = offer.wanted[part] - taken
        area = left * offer.area[part]
        if area > room:
            return value + int(offer.value[part] * (room / offer.area[part])) + 1
        value += left * offer.value[part]
        room -= area
    return value


@in_place
def reach_of(offer: Offer, around: Around, l: int, w: int, value: int, words: Words, above: int) -> int:
    """Return the most that a sheet holding a block can be worth; 0 when that is not above a limit."""
    reach = value + around.value[around.along[l], around.across[w]]
    if reach > above:
        reach = min(reach, value + worth_of_rest(offer, words, offer.size[0] * offer.size[1] - l * w))
    return reach if reach > above else 0


@in_place
def kept(blocks: Blocks, many: int, l: int, w: int, value: int, reach: int, words: Words) -> int:
    """Keep a block unless a smaller one holds the same; return how many there are now, -1 when there is no room."""
    key = np.uint64(1469598103934665603)
    for word in words:
        key = (key ^ word ^ (word >> np.uint64(32))) * np.uint64(1099511628211)
    slot = np.int64((key >> np.uint64(20)) % np.uint64(blocks.first.size))
    at = blocks.first[slot]
    while at >= 0:
        if blocks.value[at] == value and blocks.reach[at] > 0 and same(blocks.words[at], words):
            if blocks.length[at] <= l and blocks.width[at] <= w:
                return many
            if l <= blocks.length[at] and w <= blocks.width[at]:
                blocks.reach[at] = 0
        at = blocks.alike[at]
    if many == blocks.length.size:
        return -1
    blocks.length[many], blocks.width[many], blocks.value[many], blocks.reach[many] = l, w, value, reach
    for k in range(words.size):
        blocks.words[many, k] = words[k]
    blocks.alike[many] = blocks.first[slot]
    blocks.first[slot] = many
    return many + 1


@in_place
def same(some: Words, others: Words) -> bool:
    """Return whether two blocks hold the same parts."""
    alike = True
    for k in range(others.size):
        alike = alike and some[k] == others[k]
    return alike


@compiled
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
            blocks.words[many] = blocks.words[at]
            many += 1
    blocks.first[:] = -1
    return many


@in_place
def set_pieces(offer: Offer, words: Words, pieces: Whole) -> None:
    """Set how many there are of each part."""
    for part in range(pieces.size):
        pieces[part] = (words[offer.word[part]] >> offer.shift[part]) & offer.mask[part]


@compiled
def parts_alone(offer: Offer, around: Around, blocks: Blocks, above: int, pieces: Whole) -> tuple[int, int]:
    """Make a block of every part as it can lie; return how many there are, and the best value now."""
    words = np.zeros(offer.guard.size, np.uint64)
    best, many = above, 0
    for way in range(offer.part.size):
        part = offer.part[way]
        if offer.wanted[part] == 0:
            continue
        words[:] = np.uint64(0)
        words[offer.word[part]] = np.uint64(1) << offer.shift[part]
        l, w, value = offer.length[way], offer.width[way], offer.value[part]
        if value > best:
            best = value
            set_pieces(offer, words, pieces)
        reach = reach_of(offer, around, l, w, value, words, above)
        if reach:
            many = kept(blocks, many, l, w, value, reach, words)
    blocks.first[:] = -1
    return many, best


@in_place
def joined(blocks: Blocks, a: int, b: int, across: int) -> tuple[int, int]:
    """Return the size of two blocks side by side along the sheet's length, or its width."""
    if across:
        return max(blocks.length[a], blocks.length[b]), blocks.width[a] + blocks.width[b]
    return blocks.length[a] + blocks.length[b], max(blocks.width[a], blocks.width[b])


@compiled
def most_valuable(
    offer: Offer, around: Around, blocks: Blocks, above: int, most: int, every: bool, pieces: Whole
) -> tuple[int, bool, int]:
    """Look for a pattern worth more than a limit, or for every one.

    Args:
        offer: the sheet and the parts; only those worth something.
        around: what can stand around a block of every size.
        blocks: room to work in; `first` filled with -1.
        above: the limit.
        most: blocks of each number of parts that are kept; 0 for all.
        every: whether the limit stays when a pattern is found, so that blocks hold every pattern worth more.
        pieces: set to the pattern's parts, if one is found.

    Returns:
        The value of the best pattern found, else the limit; whether no other is worth more; and the number of blocks.
    """
    many_words = offer.guard.size
    words, biased = np.zeros(many_words, np.uint64), np.zeros(many_words, np.uint64)
    ends = np.zeros(_MOST_PARTS + 1, np.int64)
    many, best = parts_alone(offer, around, blocks, above, pieces)
    if every:
        best = above
    ends[1] = many
    level, newest, pairs, whole = 1, 1, 0, True
    sheet_l, sheet_w = offer.size[0], offer.size[1]
    while level < _MOST_PARTS and level < 2 * newest:
        level += 1
        begin = many
        for fewer in range(1, level // 2 + 1):
            for a in range(ends[fewer - 1], ends[fewer]):
                if blocks.reach[a] <= best:
                    continue
                room_l, room_w = sheet_l - blocks.length[a], sheet_w - blocks.width[a]
                for k in range(many_words):
                    biased[k] = blocks.words[a, k] + offer.bias[k]
                for b in range(max(ends[level - fewer - 1], a), ends[level - fewer]):
                    beside, above_it = blocks.length[b] <= room_l, blocks.width[b] <= room_w
                    if not (beside or above_it) or blocks.reach[b] <= best:
                        continue
                    too_many = np.uint64(0)
                    for k in range(many_words):
                        too_many |= (biased[k] + blocks.words[b, k]) & offer.guard[k]
                    if too_many != 0:
                        continue
                    value = blocks.value[a] + blocks.value[b]
                    for across in range(2):
                        if not (above_it if across else beside):
                            continue
                        l, w = joined(blocks, a, b, across)
                        if value + around.value[around.along[l], around.across[w]] <= best:
                            continue
                        for k in range(many_words):
                            words[k] = blocks.words[a, k] + blocks.words[b, k]
                        if value > best and not every:
                            best = value
                            set_pieces(offer, words, pieces)
                        reach = reach_of(offer, around, l, w, value, words, best)
                        if reach:
                            many = kept(blocks, many, l, w, value, reach, words)
                            if many < 0:
                                return best, False, 0
                pairs += ends[level - fewer] - ends[level - fewer - 1]
                if pairs > (_MOST_TO_LIST if every else _MOST_PAIRS):
                    return best, False, 0
        whole = whole and not (most and many - begin > most)
        many = thinned(blocks, begin, many, best, most)
        ends[level] = many
        if many > begin:
            newest = level
    return best, whole and level < _MOST_PARTS, many
