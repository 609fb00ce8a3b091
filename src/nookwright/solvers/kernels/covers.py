"""Whether sheets of listed patterns hold all parts: every way to choose the patterns is tried, compiled.

A part with fewest patterns left that hold it is covered first, by each of them in turn; a pattern tried is not tried
again beside the later ones. What a sheet wastes, by values of the parts, is counted off what all may waste together.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.kernels.compiled import in_place
from nookwright.solvers.kernels.cutting_trees import Whole

Numbers = NDArray[np.int16]
FOUND, NONE, OPEN = 1, 0, -1


class Cover(NamedTuple):
    """The patterns, and how far the search among them has come: a row for every sheet chosen so far.

    Args:
        kind, counts, holds: kind of sheet of each pattern, how many it holds of each part, and whether any.
        value: of each part.
        patterns, waste, number: patterns that may still be chosen, what each would waste, and how many they are.
        at, part: which of them is tried next, and the part that it must hold.
        need, left, slack: parts still needed, sheets left of each kind, and what all of them may waste.
        held: how many of the patterns hold each part.
        fewer: parts of which fewer are needed once a pattern is chosen.
        now: the row that the search is at; below 0 when all has been tried.
    """

    kind: Whole
    counts: Numbers
    holds: Numbers
    value: Whole
    patterns: Whole
    waste: Whole
    number: Whole
    at: Whole
    part: Whole
    need: Whole
    left: Whole
    slack: Whole
    held: Numbers
    fewer: Whole
    now: Whole


def cover_of(kind: Whole, counts: Numbers, value: Whole, tops: Whole, wanted: Whole, sheets: Whole) -> Cover:
    """Return the search before its first step.

    Args:
        kind, counts: kind of sheet of each pattern, and how many it holds of each part.
        value: of each part.
        tops: for each kind of sheet a worth that no pattern exceeds.
        wanted: of each part.
        sheets: how many there are of each kind.
    """
    rows, many = int(sheets.sum()) + 2, len(kind)
    waste = tops[kind] - np.minimum(counts, wanted) @ value
    slack = int(sheets @ tops - value @ wanted)
    first = np.flatnonzero((sheets[kind] > 0) & (waste <= slack))

    def numbers(*shape: int) -> Whole:
        return np.zeros(shape, dtype=np.int64)

    cover = Cover(
        kind=kind, counts=counts, holds=(counts > 0).astype(np.int16), value=value,
        patterns=numbers(rows, many), waste=numbers(rows, many), number=numbers(rows), at=numbers(rows),
        part=numbers(rows), need=numbers(rows, len(value)), left=numbers(rows, len(sheets)), slack=numbers(rows),
        held=np.zeros(len(value), dtype=np.int16), fewer=numbers(len(value)),
        now=np.array([0 if slack >= 0 else -1], dtype=np.int64),
    )  # fmt: skip
    cover.patterns[0, : len(first)], cover.waste[0, : len(first)], cover.number[0] = first, waste[first], len(first)
    cover.need[0], cover.left[0], cover.slack[0] = wanted, sheets, slack
    cover.held[:] = cover.holds[first].sum(axis=0)
    cover.part[0] = scarcest(cover, 0)
    return cover


@in_place
def scarcest(cover: Cover, row: int) -> int:
    """Return the part still needed that fewest of the patterns hold; -1 when none is needed."""
    best = -1
    for part in range(cover.value.size):
        if cover.need[row, part] > 0 and (best < 0 or cover.held[part] < cover.held[best]):
            best = part
    return best


@in_place
def covered(cover: Cover, most_looks: int) -> int:
    """Look further for patterns that hold all parts together.

    Args:
        cover: the search, which goes on where it stopped.
        most_looks: so often may a part of a pattern be looked at before it stops.

    Returns:
        FOUND, NONE when there are no such patterns, OPEN when it stopped before all was tried.
    """
    looks = 0
    while cover.now[0] >= 0:
        row = cover.now[0]
        part = cover.part[row]
        if part < 0:
            return FOUND
        if looks > most_looks:
            return OPEN
        i = cover.at[row]
        while i < cover.number[row] and cover.counts[cover.patterns[row, i], part] == 0:
            i += 1
        cover.at[row] = i + 1
        if i == cover.number[row]:
            cover.now[0] -= 1
            continue
        looks += choose(cover, row, i)
        if cover.part[row + 1] < 0 or cover.held[cover.part[row + 1]] > 0:
            cover.now[0] = row + 1
    return NONE


@in_place
def choose(cover: Cover, row: int, i: int) -> int:
    """Choose a pattern of a row; set in the next row what is then needed and may be chosen; return the looks taken."""
    chosen, deeper, part = cover.patterns[row, i], row + 1, cover.part[row]
    for kind in range(cover.left.shape[1]):
        cover.left[deeper, kind] = cover.left[row, kind]
    cover.left[deeper, cover.kind[chosen]] -= 1
    slack = cover.slack[row] - cover.waste[row, i]
    changes = 0
    for k in range(cover.value.size):
        cover.need[deeper, k] = max(0, cover.need[row, k] - cover.counts[chosen, k])
        if cover.need[deeper, k] < cover.need[row, k]:
            cover.fewer[changes] = k
            changes += 1
        cover.held[k] = 0
    number = looks = 0
    for other in range(cover.number[row]):
        p, waste = cover.patterns[row, other], cover.waste[row, other]
        if waste > slack or cover.left[deeper, cover.kind[p]] == 0 or (other < i and cover.counts[p, part] > 0):
            continue
        for c in range(changes):
            k = cover.fewer[c]
            count = np.int64(cover.counts[p, k])
            waste += cover.value[k] * (min(count, cover.need[row, k]) - min(count, cover.need[deeper, k]))
        looks += changes
        if waste <= slack:
            cover.patterns[deeper, number], cover.waste[deeper, number] = p, waste
            number += 1
            for k in range(cover.value.size):
                cover.held[k] += cover.holds[p, k]
    cover.number[deeper], cover.at[deeper], cover.slack[deeper] = number, 0, slack
    cover.part[deeper] = scarcest(cover, deeper)
    return looks + cover.number[row]
