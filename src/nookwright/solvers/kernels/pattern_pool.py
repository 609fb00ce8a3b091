"""A pool of cutting patterns with their trees, and rounds on one sheet that look for patterns worth more, compiled."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.kernels.compiled import compiled, in_place
from nookwright.solvers.kernels.cutting_trees import (
    NEVER,
    ROW,
    Chance,
    Forest,
    Job,
    Marks,
    Spot,
    Whole,
    below,
    best_spot,
    may_fit,
    measure,
    parents,
    put,
    thin,
)  # fmt: skip
from nookwright.solvers.kernels.refit import Bench, copy_tree, mark

Small = NDArray[np.int16]
Floats = NDArray[np.float64]
_WORD = 64
_MOST_SPREAD_PCT = 120
"""Most that a round's order of parts is shaken."""


class Pool(NamedTuple):
    """Patterns, no two with the same parts.

    `known`: how many there are; one number. `parts`: a bit for every part. `slots`: where a pattern is found by its
    parts. The rest are trees, as in a forest.
    """

    known: Whole
    parts: Chance
    slots: Whole
    nodes: Small
    across: Small
    depth: Small
    token: Small


class Sought(NamedTuple):
    """What patterns are looked for: the worth of each part, the worth from which on a pattern is kept, and the heat.

    The heat says how much less a pattern may be worth after a round, at first.
    """

    worth: Floats
    least: float
    heat: float


@in_place
def remember(pool: Pool, forest: Forest, s: int) -> None:
    """Keep the pattern of a sheet, unless one with the same parts is known or there is no room left."""
    at, nodes = pool.known[0], forest.nodes[s]
    if nodes == 0 or at == pool.nodes.size or nodes > pool.depth.shape[1]:
        return
    pool.parts[at] = np.uint64(0)
    for i in range(nodes):
        token = forest.token[s, i]
        if token != ROW:
            pool.parts[at, (token >> 1) // _WORD] |= np.uint64(1) << np.uint64((token >> 1) % _WORD)
    slot = slot_of(pool, at)
    if pool.slots[slot] >= 0:
        return
    pool.slots[slot] = at
    pool.nodes[at], pool.across[at] = nodes, forest.across[s]
    for i in range(nodes):
        pool.depth[at, i], pool.token[at, i] = forest.depth[s, i], forest.token[s, i]
    pool.known[0] = at + 1


@in_place
def slot_of(pool: Pool, at: int) -> int:
    """Return the slot of a pattern with the same parts, or the free one where such a pattern belongs."""
    key = np.uint64(1469598103934665603)
    for word in pool.parts[at]:
        key = (key ^ word) * np.uint64(0x9E3779B97F4A7C15)
        key ^= key >> np.uint64(29)
    slot = np.int64(key % np.uint64(pool.slots.size))
    while pool.slots[slot] >= 0:
        other, same = pool.slots[slot], True
        for word in range(pool.parts.shape[1]):
            same = same and pool.parts[other, word] == pool.parts[at, word]
        if same:
            break
        slot = (slot + 1) % pool.slots.size
    return slot


@compiled
def thin_out(pool: Pool, kept: Whole) -> None:
    """Keep only these patterns, named in rising order."""
    pool.slots[:] = -1
    for i in range(kept.size):
        at = kept[i]
        pool.parts[i] = pool.parts[at]
        pool.nodes[i], pool.across[i] = pool.nodes[at], pool.across[at]
        pool.depth[i], pool.token[i] = pool.depth[at], pool.token[at]
        pool.slots[slot_of(pool, i)] = i
    pool.known[0] = kept.size


@in_place
def lay(pool: Pool, at: int, forest: Forest, s: int) -> None:
    """Set a pattern on a sheet, whatever stood there."""
    nodes = pool.nodes[at]
    forest.nodes[s], forest.across[s] = nodes, pool.across[at]
    for i in range(nodes):
        forest.depth[s, i], forest.token[s, i] = pool.depth[at, i], pool.token[at, i]


@in_place
def lay_new(pool: Pool, at: int, forest: Forest, s: int, placed: Marks, bench: Bench) -> None:
    """Set on a sheet what of a pattern is not yet placed, and mark it as placed."""
    bench.forest.kind[0] = forest.kind[s]
    lay(pool, at, bench.forest, 0)
    parents(bench.forest, 0, bench.boxes, bench.last)
    for i in range(bench.forest.nodes[0]):
        token = bench.forest.token[0, i]
        bench.gone[i] = token != ROW and placed[token >> 1]
        if token != ROW:
            placed[token >> 1] = True
    thin(bench.forest, 0, bench.boxes, bench.gone, bench.kept_below, bench.level)
    copy_tree(bench.forest, 0, forest, s)


@in_place
def worths_of(pool: Pool, worth: Floats, worths: Floats) -> None:
    """Set what each pattern is worth."""
    for at in range(pool.known[0]):
        whole = 0.0
        for i in range(pool.nodes[at]):
            token = pool.token[at, i]
            if token != ROW:
                whole += worth[token >> 1]
        worths[at] = whole


@compiled
def seek_from(
    begins: Whole,
    count: int,
    job: Job,
    sought: Sought,
    forest: Forest,
    bench: Bench,
    inside: Marks,
    chance: Chance,
    pool: Pool,
) -> None:
    """Look for patterns worth enough, beginning with each of those named; see `seek`."""
    for begin in begins:
        lay(pool, begin, forest, 0)
        seek(count, job, sought, forest, bench, inside, chance, pool)


@compiled
def seek(
    count: int, job: Job, sought: Sought, forest: Forest, bench: Bench, inside: Marks, chance: Chance, pool: Pool
) -> None:
    """Change the one sheet of a forest round after round, and keep the patterns that are worth enough.

    Args:
        count: rounds.
        job: the parts and the one kind of sheet.
        sought: what patterns are looked for.
        forest: one sheet, with the pattern to begin with.
        bench, inside: room to work in.
        chance: the sequence that the search shakes with.
        pool: where patterns are kept.
    """
    inside[:] = False
    now = 0.0
    for i in range(forest.nodes[0]):
        token = forest.token[0, i]
        if token != ROW:
            inside[token >> 1] = True
            now += sought.worth[token >> 1]
    for done in range(count):
        share = (1 + below(chance, 1_000_000)) / 1_000_001.0
        least = now + np.log(share) * sought.heat * (1.0 - done / count)
        off = loosen(forest, bench, inside, chance)
        on = fill_up(job, sought, bench, inside, chance)
        worth = now
        for i in range(off):
            worth -= sought.worth[bench.loose[i]]
        for i in range(on):
            worth += sought.worth[bench.left[i]]
        if worth >= sought.least:
            remember(pool, bench.forest, 0)
        if worth >= least:
            now = worth
            copy_tree(bench.forest, 0, forest, 0)
            for i in range(on):
                inside[bench.left[i]] = True
        else:
            for i in range(off):
                inside[bench.loose[i]] = True


@in_place
def loosen(forest: Forest, bench: Bench, inside: Marks, chance: Chance) -> int:
    """Copy the sheet and take parts off the copy: seldom all, else some here and there, or a piece; return how many."""
    copy_tree(forest, 0, bench.forest, 0)
    nodes = bench.forest.nodes[0]
    if nodes == 0:
        return 0
    parents(bench.forest, 0, bench.boxes, bench.last)
    roll = below(chance, 8)
    manner = 0 if roll == 0 else (1 if roll < 3 else 2)
    mark(bench.forest, 0, bench.gone, manner, 5 + below(chance, 60), chance)
    off = 0
    for i in range(nodes):
        token = bench.forest.token[0, i]
        if bench.gone[i] and token != ROW:
            bench.loose[off] = token >> 1
            inside[token >> 1] = False
            off += 1
    thin(bench.forest, 0, bench.boxes, bench.gone, bench.kept_below, bench.level)
    return off


@compiled
def fill_up(job: Job, sought: Sought, bench: Bench, inside: Marks, chance: Chance) -> int:
    """Put parts on the sheet of the bench, those worth most first by one of several measures; return how many."""
    free = job.kind_length[0] * job.kind_width[0]
    for part in range(inside.size):
        if inside[part]:
            free -= job.length[part] * job.width[part]
    measure(job, bench.forest, 0, bench.boxes, bench.last)
    by, spread, many = below(chance, 3), 1 + below(chance, _MOST_SPREAD_PCT), 0
    for part in range(inside.size):
        area = job.length[part] * job.width[part]
        if inside[part] or sought.worth[part] <= 0 or area > free:
            continue
        over = 1.0 if by == 0 else (area if by == 1 else np.sqrt(area))
        bench.keys[many] = sought.worth[part] / over * (1.0 + spread * below(chance, 1000) / 100_000.0)
        bench.left[many] = part
        many += 1
    order = bench.left[:many][np.argsort(-bench.keys[:many])]
    rule, on = below(chance, 4), 0
    for part in order:
        area = job.length[part] * job.width[part]
        fits = may_fit(job, bench.boxes, 0, part, 0) or (job.turnable[part] and may_fit(job, bench.boxes, 0, part, 1))
        if area > free or not fits:
            continue
        first = below(chance, 2) if job.turnable[part] else 0
        spot = Spot(NEVER, -1, 0, 0, 0)
        spot = best_spot(job, bench.forest, 0, bench.boxes, part, first, rule, 0, spot, chance)
        if job.turnable[part]:
            spot = best_spot(job, bench.forest, 0, bench.boxes, part, 1 - first, rule, 0, spot, chance)
        if spot.sheet >= 0:
            put(bench.forest, spot, part)
            measure(job, bench.forest, 0, bench.boxes, bench.last)
            bench.left[on] = part
            on += 1
            free -= area
    return on
