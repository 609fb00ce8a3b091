"""Takes a few sheets partly apart and refits what came off, round after round, compiled.

The search is given a budget that is less than the cost of the best plan known and looks for a plan within it; parts
that find no place stand outside, and a round is kept when not much more stands outside than before.

Source:
    Gardeyn and Wauters, European Journal of Operational Research 301, 2022 (goal-driven ruin and recreate). The idea
    alone, from its abstract; status: recalled.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.kernels.compiled import compiled, in_place
from nookwright.solvers.kernels.cutting_trees import (
    NEVER,
    ROW,
    Boxes,
    Chance,
    Forest,
    Job,
    Marks,
    Spot,
    Whole,
    below,
    best_spot,
    measure,
    parents,
    put,
    thin,
)  # fmt: skip

MOST_TAKEN = 4
"""Most sheets touched in one round."""
MOST_SPREAD_PCT = 60
"""Most that a round's order of parts is shaken."""
BLINK_PER_MILLE = 10
"""How often a better place is overlooked, in half of the rounds."""
HEAT = 0.03
"""How much more may stand outside after a round, at first, as a share of a mean part."""
PERIOD = 50_000
"""Rounds in which the heat falls to nothing, before it rises again, where there are few parts."""


class State(NamedTuple):
    """What the search knows between rounds.

    `figures`: parts outside, their worth, rounds done, money spent. `outside`: their numbers. `chance`: the sequence.
    """

    figures: Whole
    outside: Whole
    chance: Chance


class Bench(NamedTuple):
    """Room to work in: the sheets touched and what they measure, and lists as long as a sheet or as the parts."""

    forest: Forest
    boxes: Boxes
    touched: Whole
    last: Whole
    gone: Marks
    kept_below: Whole
    level: Whole
    loose: Whole
    keys: NDArray[np.float64]
    left: Whole


@in_place
def rounds(
    count: int, budget: int, period: int, job: Job, forest: Forest, state: State, bench: Bench, looked_at: int = 1
) -> None:
    """Do up to `count` rounds, the heat falling over each period; ends when no part stands outside.

    With a budget below 0 the kinds of sheet stay. Each sheet that a round works on is the poorest of `looked_at`.
    """
    mean = job.worth.sum() / job.worth.size
    for _ in range(count):
        if state.figures[0] == 0:
            return
        warmth = (1.0 - (state.figures[2] % period) / period) ** 2
        chance = (1 + below(state.chance, 1_000_000)) / 1_000_001.0
        most = state.figures[1] - np.log(chance) * mean * HEAT * warmth
        one_round(job, forest, state, bench, budget, most, looked_at)
        state.figures[2] += 1


@in_place
def one_round(job: Job, forest: Forest, state: State, bench: Bench, budget: int, most: float, looked_at: int) -> None:
    """Do one round and keep what came of it when no more than `most` stands outside."""
    few, loose = begin_round(job, forest, state, bench, looked_at)
    spent = state.figures[3]
    if budget >= 0:
        spent = change_kinds(job, forest, state, bench, few, budget)
    for a in range(few):
        measure(job, bench.forest, a, bench.boxes, bench.last)
    loose = with_outside(state, bench, loose)
    rule, blink = in_new_order(job, state, bench, loose)
    most_l, most_w = bench.boxes.most_l, bench.boxes.most_w
    left = worth = 0
    for i in range(loose):
        part = bench.loose[i]
        hopeful = job.turnable[part] > 0
        for a in range(few):
            hopeful = hopeful or job.length[part] <= most_l[a] or job.width[part] <= most_w[a]
        if hopeful:
            spot = spot_among(job, bench, few, part, rule, blink, state.chance)
            if spot.sheet >= 0:
                put(bench.forest, spot, part)
                measure(job, bench.forest, spot.sheet, bench.boxes, bench.last)
                continue
        bench.left[left] = part
        left += 1
        worth += job.worth[part]
        if worth > most:
            return
    for a in range(few):
        copy_tree(bench.forest, a, forest, bench.touched[a])
    settle(state, bench, left)
    state.figures[1], state.figures[3] = worth, spent


@in_place
def begin_round(job: Job, forest: Forest, state: State, bench: Bench, looked_at: int) -> tuple[int, int]:
    """Choose sheets and take parts off them; return how many sheets and how many parts."""
    most_taken = min(forest.nodes.size, MOST_TAKEN)
    few = 1 + min(below(state.chance, most_taken), below(state.chance, most_taken))
    choose(job, forest, bench.touched, few, looked_at, state.chance)
    return few, take_apart(forest, state, bench, few)


@in_place
def with_outside(state: State, bench: Bench, loose: int) -> int:
    """Add what stands outside to the loose parts; return how many these are then."""
    for i in range(state.figures[0]):
        bench.loose[loose + i] = state.outside[i]
    return loose + state.figures[0]


@in_place
def in_new_order(job: Job, state: State, bench: Bench, loose: int) -> tuple[int, int]:
    """Put the loose parts in an order; return which place suits a part, and how often a better one is overlooked."""
    shake(job, bench, loose, below(state.chance, 6), 1 + below(state.chance, MOST_SPREAD_PCT), state.chance)
    return below(state.chance, 4), BLINK_PER_MILLE * below(state.chance, 2)


@in_place
def settle(state: State, bench: Bench, left: int) -> None:
    """Let the parts that found no place be those outside."""
    for i in range(left):
        state.outside[i] = bench.left[i]
    state.figures[0] = left


@compiled
def refill(job: Job, forest: Forest, state: State, bench: Bench) -> None:
    """Put what stands outside on sheets that are still empty, as far as it goes, the largest parts first."""
    sheets = forest.nodes.size
    for s in range(sheets):
        copy_tree(forest, s, bench.forest, s)
        measure(job, bench.forest, s, bench.boxes, bench.last)
    many = state.figures[0]
    bench.loose[:many] = state.outside[:many]
    shake(job, bench, many, 0, 0, state.chance)
    state.figures[0] = state.figures[1] = 0
    for i in range(many):
        part = bench.loose[i]
        spot = spot_among(job, bench, sheets, part, 0, 0, state.chance)
        if spot.sheet >= 0:
            put(bench.forest, spot, part)
            measure(job, bench.forest, spot.sheet, bench.boxes, bench.last)
            continue
        state.outside[state.figures[0]] = part
        state.figures[0] += 1
        state.figures[1] += job.worth[part]
    for s in range(sheets):
        copy_tree(bench.forest, s, forest, s)


@in_place
def choose(job: Job, forest: Forest, touched: Whole, few: int, looked_at: int, chance: Chance) -> None:
    """Choose `few` different sheets, each the poorest of `looked_at`: that whose parts are worth least for its area."""
    done = 0
    while done < few:
        poorest = below(chance, forest.nodes.size)
        for _ in range(1, looked_at):
            other = below(chance, forest.nodes.size)
            if worth_on(job, forest, other) < worth_on(job, forest, poorest):
                poorest = other
        fresh = True
        for a in range(done):
            fresh = fresh and touched[a] != poorest
        if fresh:
            touched[done] = poorest
            done += 1


@in_place
def worth_on(job: Job, forest: Forest, s: int) -> float:
    """Return what the parts on a sheet are worth for its area."""
    worth = 0.0
    for i in range(forest.nodes[s]):
        token = forest.token[s, i]
        if token != ROW:
            worth += job.worth[token >> 1]
    return worth / (job.kind_length[forest.kind[s]] * job.kind_width[forest.kind[s]]) if forest.nodes[s] else 0.0


@in_place
def copy_tree(source: Forest, a: int, target: Forest, s: int) -> None:
    """Copy one sheet's tree."""
    nodes = source.nodes[a]
    target.nodes[s], target.across[s], target.kind[s] = nodes, source.across[a], source.kind[a]
    for i in range(nodes):
        target.depth[s, i], target.token[s, i] = source.depth[a, i], source.token[a, i]


@in_place
def take_apart(forest: Forest, state: State, bench: Bench, few: int) -> int:
    """Copy the sheets touched and take parts off them: all, some here and there, or a piece; return how many."""
    manner = below(state.chance, 3)
    share = 5 + below(state.chance, 60)
    loose = 0
    for a in range(few):
        copy_tree(forest, bench.touched[a], bench.forest, a)
        nodes = bench.forest.nodes[a]
        if nodes == 0:
            continue
        parents(bench.forest, a, bench.boxes, bench.last)
        mark(bench.forest, a, bench.gone, manner, share, state.chance)
        for i in range(nodes):
            if bench.gone[i] and bench.forest.token[a, i] != ROW:
                bench.loose[loose] = bench.forest.token[a, i] >> 1
                loose += 1
        thin(bench.forest, a, bench.boxes, bench.gone, bench.kept_below, bench.level)
    return loose


@in_place
def mark(forest: Forest, s: int, gone: Marks, manner: int, share: int, chance: Chance) -> None:
    """Mark what comes off a sheet."""
    nodes = forest.nodes[s]
    every = manner == 0 or (manner == 1 and below(chance, 4) == 0)
    gone[:nodes] = every
    if every:
        return
    if manner == 1:
        for i in range(nodes):
            gone[i] = below(chance, 100) < share
        return
    for _ in range(1 + below(chance, 2)):
        i = below(chance, nodes)
        top = forest.depth[s, i]
        gone[i] = True
        i += 1
        while i < nodes and forest.depth[s, i] > top:
            gone[i] = True
            i += 1


@in_place
def change_kinds(job: Job, forest: Forest, state: State, bench: Bench, few: int, budget: int) -> int:
    """Exchange emptied sheets for other kinds that the budget and the stock allow; return the money then spent."""
    spent = state.figures[3]
    if below(state.chance, 2):
        return spent
    for a in range(few):
        if bench.forest.nodes[a] == 0 and bench.forest.kind[a] >= 0:
            spent -= job.kind_price[bench.forest.kind[a]]
            bench.forest.kind[a] = -1
    for a in range(few):
        if bench.forest.nodes[a] or bench.forest.kind[a] >= 0:
            continue
        for _ in range(4):
            kind = below(state.chance, job.kind_length.size)
            if spent + job.kind_price[kind] <= budget and in_use(forest, bench, few, kind) < job.kind_most[kind]:
                bench.forest.kind[a] = kind
                spent += job.kind_price[kind]
                break
    return spent


@in_place
def in_use(forest: Forest, bench: Bench, few: int, kind: int) -> int:
    """Return how many sheets of a kind are in use, the touched ones as they now are."""
    count = 0
    for s in range(forest.kind.size):
        count += forest.kind[s] == kind
    for a in range(few):
        count += (bench.forest.kind[a] == kind) - (forest.kind[bench.touched[a]] == kind)
    return count


@in_place
def shake(job: Job, bench: Bench, loose: int, by: int, spread: int, chance: Chance) -> None:
    """Sort the loose parts, largest first by one of several measures, shaken by up to `spread` per cent."""
    for i in range(loose):
        part = bench.loose[i]
        l, w = job.length[part], job.width[part]
        size = l * w
        if by == 2:
            size = max(l, w)
        elif by == 3:
            size = l
        elif by == 4:
            size = w
        elif by == 5:
            size = l + w
        bench.keys[i] = size * (1.0 + spread * below(chance, 1000) / 100_000.0)
    for i in range(1, loose):
        key, part = bench.keys[i], bench.loose[i]
        j = i - 1
        while j >= 0 and bench.keys[j] < key:
            bench.keys[j + 1], bench.loose[j + 1] = bench.keys[j], bench.loose[j]
            j -= 1
        bench.keys[j + 1], bench.loose[j + 1] = key, part


@in_place
def spot_among(job: Job, bench: Bench, few: int, part: int, rule: int, blink: int, chance: Chance) -> Spot:
    """Return the best place for a part on the first sheets of the bench; sheet -1 when there is none.

    A part that may turn is tried both ways, in either order; where places are overlooked, now and then only one way.
    """
    spot = Spot(NEVER, -1, 0, 0, 0)
    first = below(chance, 2) if job.turnable[part] else 0
    both = job.turnable[part] and not (blink and below(chance, 4) == 0)
    l, w = job.length[part], job.width[part]
    for a in range(few):
        if bench.forest.kind[a] < 0:
            continue
        room_l, room_w = bench.boxes.most_l[a], bench.boxes.most_w[a]
        straight, aside = l <= room_l or w <= room_w, w <= room_l or l <= room_w
        if aside if first else straight:
            spot = best_spot(job, bench.forest, a, bench.boxes, part, first, rule, blink, spot, chance)
        if both and (straight if first else aside):
            spot = best_spot(job, bench.forest, a, bench.boxes, part, 1 - first, rule, blink, spot, chance)
    return spot


@compiled
def fill(job: Job, bench: Bench, state: State, by: int, rule: int, opening: int) -> int:
    """Put every part on the bench in one order, opening sheets as needed; 0 sheets when stuck.

    Args:
        job, bench, state: the parts, as many empty sheets as parts, and the sequence.
        by, rule: order of the parts, and which place suits a part.
        opening: which kind is opened: 0 the cheapest for its area, 1 the largest, 2 the cheapest.

    Returns:
        The number of sheets on the bench that hold everything.
    """
    parts = job.length.size
    bench.loose[:] = np.arange(parts)
    shake(job, bench, parts, by, 0, state.chance)
    used = np.zeros(job.kind_length.size, np.int64)
    sheets = 0
    for i in range(parts):
        part = bench.loose[i]
        spot = spot_among(job, bench, sheets, part, rule, 0, state.chance)
        if spot.sheet < 0:
            kind = kind_to_open(job, used, part, opening)
            if kind < 0:
                return 0
            used[kind] += 1
            bench.forest.kind[sheets], bench.forest.nodes[sheets], bench.forest.across[sheets] = kind, 0, 0
            fits = job.length[part] <= job.kind_length[kind] and job.width[part] <= job.kind_width[kind]
            spot = Spot(0, sheets, 0, 0, 0 if fits else 1)
            sheets += 1
        put(bench.forest, spot, part)
        measure(job, bench.forest, spot.sheet, bench.boxes, bench.last)
    for s in range(sheets):
        exchange(job, bench, s, used)
    return sheets


@in_place
def kind_to_open(job: Job, used: Whole, part: int, opening: int) -> int:
    """Return the kind of sheet to open for a part; -1 when none is left that holds it."""
    best, chosen = 0.0, -1
    l, w = job.length[part], job.width[part]
    for kind in range(used.size):
        kind_l, kind_w = job.kind_length[kind], job.kind_width[kind]
        if used[kind] >= job.kind_most[kind]:
            continue
        if not ((l <= kind_l and w <= kind_w) or (job.turnable[part] and w <= kind_l and l <= kind_w)):
            continue
        area = 1.0 * kind_l * kind_w
        value = -area if opening == 1 else job.kind_price[kind] / (area if opening == 0 else 1.0)
        if chosen < 0 or value < best:
            best, chosen = value, kind
    return chosen


@in_place
def exchange(job: Job, bench: Bench, s: int, used: Whole) -> None:
    """Exchange a filled sheet for the cheapest kind that holds its tree as it is."""
    now = bench.forest.kind[s]
    for kind in range(used.size):
        holds = bench.boxes.length[s, 0] <= job.kind_length[kind] and bench.boxes.width[s, 0] <= job.kind_width[kind]
        if holds and used[kind] < job.kind_most[kind] and job.kind_price[kind] < job.kind_price[bench.forest.kind[s]]:
            bench.forest.kind[s] = kind
    used[now] -= 1
    used[bench.forest.kind[s]] += 1
