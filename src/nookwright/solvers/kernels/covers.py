"""Whether sheets of listed patterns hold all parts: every way to choose the patterns is tried, compiled.

A part with fewest patterns left that hold it is covered first, by each of them in turn; a pattern tried is not tried
again beside the later ones. What a sheet wastes, by values of the parts, is counted off what all may waste together.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.kernels.compiled import compiled, in_place
from nookwright.solvers.kernels.cutting_trees import Whole

Numbers = NDArray[np.int16]
FOUND, NONE, UNKNOWN = 1, 0, -1


@in_place
def wasted(counts: Numbers, value: Whole, need: Whole, top: int) -> int:
    """Return by how much the parts of a pattern that are still needed are worth less than the most a sheet can hold."""
    waste = top
    for part in range(need.size):
        waste -= value[part] * min(np.int64(counts[part]), need[part])
    return waste


@in_place
def scarcest(patterns: Whole, counts: Numbers, need: Whole, held: Whole) -> int:
    """Return the part still needed that fewest of these patterns hold; -1 when none is needed."""
    held[:] = 0
    for p in patterns:
        for part in range(need.size):
            held[part] += counts[p, part] > 0
    best = -1
    for part in range(need.size):
        if need[part] > 0 and (best < 0 or held[part] < held[best]):
            best = part
    return best


@compiled
def covered(
    kind: Whole, counts: Numbers, value: Whole, tops: Whole, wanted: Whole, sheets: Whole, most_looks: int
) -> int:
    """Look for patterns that hold all parts together.

    Args:
        kind, counts: kind of sheet of each pattern, and how many it holds of each part.
        value: of each part.
        tops: for each kind of sheet a worth that no pattern exceeds.
        wanted: of each part.
        sheets: how many there are of each kind.
        most_looks: so often may a part of a pattern be looked at before the search is given up.

    Returns:
        FOUND, NONE when there are no such patterns, UNKNOWN when given up.
    """
    deepest, many = sheets.sum() + 1, kind.size
    open_ones = np.empty((deepest + 1, many), np.int64)
    number, at, part = np.zeros(deepest + 1, np.int64), np.zeros(deepest + 1, np.int64), np.zeros(deepest + 1, np.int64)
    need = np.zeros((deepest + 1, value.size), np.int64)
    left = np.zeros((deepest + 1, sheets.size), np.int64)
    slack = np.zeros(deepest + 1, np.int64)
    held = np.zeros(value.size, np.int64)
    need[0], left[0] = wanted, sheets
    slack[0] = (sheets * tops).sum() - (value * wanted).sum()
    if slack[0] < 0:
        return NONE
    for p in range(many):
        if sheets[kind[p]] > 0 and wasted(counts[p], value, wanted, tops[kind[p]]) <= slack[0]:
            open_ones[0, number[0]] = p
            number[0] += 1
    part[0] = scarcest(open_ones[0, : number[0]], counts, need[0], held)
    depth = looks = 0
    while depth >= 0:
        if part[depth] < 0:
            return FOUND
        i = at[depth]
        while i < number[depth] and counts[open_ones[depth, i], part[depth]] == 0:
            i += 1
        at[depth] = i + 1
        if i >= number[depth]:
            depth -= 1
            continue
        looks += number[depth] * value.size
        if looks > most_looks:
            return UNKNOWN
        chosen, deeper = open_ones[depth, i], depth + 1
        left[deeper] = left[depth]
        left[deeper, kind[chosen]] -= 1
        slack[deeper] = slack[depth] - wasted(counts[chosen], value, need[depth], tops[kind[chosen]])
        for k in range(value.size):
            need[deeper, k] = max(0, need[depth, k] - counts[chosen, k])
        number[deeper] = at[deeper] = 0
        for other in range(number[depth]):
            p = open_ones[depth, other]
            if left[deeper, kind[p]] == 0 or (other < i and counts[p, part[depth]] > 0):
                continue
            if wasted(counts[p], value, need[deeper], tops[kind[p]]) <= slack[deeper]:
                open_ones[deeper, number[deeper]] = p
                number[deeper] += 1
        part[deeper] = scarcest(open_ones[deeper, : number[deeper]], counts, need[deeper], held)
        if part[deeper] < 0 or held[part[deeper]] > 0:
            depth = deeper
    return NONE
