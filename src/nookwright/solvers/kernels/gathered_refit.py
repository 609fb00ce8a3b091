"""Refits sheets as `refit` does, and gathers what is waste: of plans alike, the one with its waste in fewer places.

A part that stands outside needs one free place that holds it; many small ones are of no use. Compiled.

Source:
    Gardeyn and Wauters, European Journal of Operational Research 301, 2022 (goal-driven ruin and recreate), where large
    pieces of waste count for more than small ones. Status: recalled. The measure here is our own.
"""

from __future__ import annotations

import numpy as np

from nookwright.solvers.kernels.compiled import compiled, in_place
from nookwright.solvers.kernels.cutting_trees import ROW, Boxes, Forest, Job, below, measure, put
from nookwright.solvers.kernels.pattern_pool import Floats
from nookwright.solvers.kernels.refit import (
    HEAT,
    PERIOD,
    Bench,
    State,
    begin_round,
    copy_tree,
    in_new_order,
    settle,
    spot_among,
    with_outside,
)  # fmt: skip

GATHERED = 0.3
"""What waste in one place counts for, as a share of the same area standing outside."""


@compiled
def gathering_rounds(count: int, job: Job, forest: Forest, state: State, bench: Bench, gathered: Floats) -> None:
    """Do up to `count` rounds; ends when no part stands outside.

    Args:
        count: rounds.
        job: the parts and the one kind of sheet.
        forest: the plan.
        state: what stands outside, and the sequence.
        bench: room to work in.
        gathered: room for what the waste of each sheet counts for.
    """
    mean = (job.length * job.width).sum() / job.length.size
    for s in range(forest.nodes.size):
        copy_tree(forest, s, bench.forest, 0)
        measure(job, bench.forest, 0, bench.boxes, bench.last)
        gathered[s] = waste_together(job, bench.forest, 0, bench.boxes)
    for _ in range(count):
        if state.figures[0] == 0:
            return
        warmth = (1.0 - (state.figures[2] % PERIOD) / PERIOD) ** 2
        chance = (1 + below(state.chance, 1_000_000)) / 1_000_001.0
        gathering_round(job, forest, state, bench, gathered, -np.log(chance) * mean * HEAT * warmth)
        state.figures[2] += 1


@in_place
def gathering_round(job: Job, forest: Forest, state: State, bench: Bench, gathered: Floats, worse: float) -> None:
    """Do one round and keep what came of it when it is not worse by more than `worse`."""
    few, loose = begin_round(job, forest, state, bench, 1)
    most, waste = state.figures[1] + worse, 0
    for a in range(few):
        measure(job, bench.forest, a, bench.boxes, bench.last)
        most -= GATHERED * gathered[bench.touched[a]]
        waste += free_area(job, bench.forest, a)
    loose = with_outside(state, bench, loose)
    for i in range(loose):
        waste -= job.length[bench.loose[i]] * job.width[bench.loose[i]]
    rule, blink = in_new_order(job, state, bench, loose)
    left = area = 0
    for i in range(loose):
        part = bench.loose[i]
        spot = spot_among(job, bench, few, part, rule, blink, state.chance)
        if spot.sheet >= 0:
            put(bench.forest, spot, part)
            measure(job, bench.forest, spot.sheet, bench.boxes, bench.last)
            continue
        bench.left[left] = part
        left += 1
        area += job.length[part] * job.width[part]
        if area - GATHERED * (waste + area) > most:
            return  # not even with all its waste in one place
    now = 0.0
    for a in range(few):
        now += waste_together(job, bench.forest, a, bench.boxes)
    if area - GATHERED * now > most:
        return
    for a in range(few):
        copy_tree(bench.forest, a, forest, bench.touched[a])
        gathered[bench.touched[a]] = waste_together(job, bench.forest, a, bench.boxes)
    settle(state, bench, left)
    state.figures[1] = area


@in_place
def free_area(job: Job, forest: Forest, s: int) -> int:
    """Return the area of a sheet that no part covers."""
    area = job.kind_length[forest.kind[s]] * job.kind_width[forest.kind[s]]
    for i in range(forest.nodes[s]):
        token = forest.token[s, i]
        if token != ROW:
            area -= job.length[token >> 1] * job.width[token >> 1]
    return area


@in_place
def waste_together(job: Job, forest: Forest, s: int, boxes: Boxes) -> float:
    """Return the squares of the areas of a measured sheet's pieces of waste, added up, over that of the sheet.

    An empty sheet gives its whole area, and waste in crumbs gives nearly nothing.
    """
    length, width = job.kind_length[forest.kind[s]], job.kind_width[forest.kind[s]]
    area = float(length * width)
    if forest.nodes[s] == 0:
        return area
    l, w = boxes.length[s, 0], boxes.width[s, 0]
    along_first = float((length - l) * width) ** 2 + float(l * (width - w)) ** 2
    aside_first = float((length - l) * w) ** 2 + float(length * (width - w)) ** 2
    total = max(along_first, aside_first)
    for i in range(1, forest.nodes[s]):
        p = boxes.parent[s, i]
        if (forest.across[s] ^ (forest.depth[s, p] & 1)) == 0:
            total += float((boxes.width[s, p] - boxes.width[s, i]) * boxes.length[s, i]) ** 2
        else:
            total += float((boxes.length[s, p] - boxes.length[s, i]) * boxes.width[s, i]) ** 2
    return total / area
