"""Cutting trees in flat arrays, compiled: what every node measures, how far it may grow, putting in and taking out.

A tree is a list of nodes, each before those below it. A node is a part, or a row of nodes cut apart by parallel cuts;
rows change direction with every level, so a node's depth and the direction of the top row say how it is cut. Nothing
is stored of the free places: every node takes no more than it needs, and its `spare` says how far it may still grow
before the sheet is full. A kerf is paid by inflation: sizes of parts and sheets each contain one.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.kernels.compiled import in_place

Whole = NDArray[np.int64]
Marks = NDArray[np.bool_]
Chance = NDArray[np.uint64]
"""State of a sequence of numbers that look random; one number."""
ROW = -1
"""Token of a row; a part's token is twice its number, and one more when it lies turned."""
NEVER = 1 << 60
"""A score that no place has."""


class Job(NamedTuple):
    """Sizes of parts and kinds of sheet, one kerf included in each; `deepest` rows below each other, 0 for any.

    `worth` says what it counts that a part stands outside.
    """

    length: Whole
    width: Whole
    worth: Whole
    turnable: Whole
    kind_length: Whole
    kind_width: Whole
    kind_price: Whole
    kind_most: Whole
    deepest: int


class Forest(NamedTuple):
    """Trees of several sheets: nodes of each, depth and token of each node, direction of the top row, kind of sheet.

    Direction 0 sets nodes side by side along the sheet's length, 1 along its width. Kind -1 is no sheet at all.
    """

    nodes: Whole
    depth: Whole
    token: Whole
    across: Whole
    kind: Whole


class Boxes(NamedTuple):
    """What every node of a forest measures, and by how much it may grow; with its parent's place.

    `most_l` and `most_w` are, for each sheet, how much any of its nodes may grow; no limit on an empty one.
    """

    parent: Whole
    length: Whole
    width: Whole
    spare_l: Whole
    spare_w: Whole
    most_l: Whole
    most_w: Whole


class Spot(NamedTuple):
    """Where a part could go: score (least is best), sheet, node, direction of the row it joins, and how it lies."""

    score: int
    sheet: int
    node: int
    across: int
    turned: int


@in_place
def below(state: Chance, limit: int) -> int:
    """Return the next number of a fixed sequence, from 0 up to but not including `limit` (xorshift, 64 bits)."""
    x = state[0]
    x ^= x << np.uint64(13)
    x ^= x >> np.uint64(7)
    x ^= x << np.uint64(17)
    state[0] = x
    return np.int64((x >> np.uint64(33)) % np.uint64(limit))


@in_place
def parents(forest: Forest, s: int, boxes: Boxes, last: Whole) -> None:
    """Set the place of every node's parent."""
    for i in range(forest.nodes[s]):
        d = forest.depth[s, i]
        last[d] = i
        boxes.parent[s, i] = last[d - 1] if d > 0 else -1


@in_place
def measure(job: Job, forest: Forest, s: int, boxes: Boxes, last: Whole) -> None:
    """Set what every node of a sheet measures and how far it may grow."""
    nodes = forest.nodes[s]
    if nodes == 0:
        boxes.most_l[s], boxes.most_w[s] = NEVER, NEVER
        return
    parents(forest, s, boxes, last)
    length, width, parent = boxes.length[s], boxes.width[s], boxes.parent[s]
    for i in range(nodes):
        token = forest.token[s, i]
        length[i] = 0 if token == ROW else (job.width[token >> 1] if token & 1 else job.length[token >> 1])
        width[i] = 0 if token == ROW else (job.length[token >> 1] if token & 1 else job.width[token >> 1])
    for i in range(nodes - 1, 0, -1):
        p = parent[i]
        if (forest.across[s] ^ (forest.depth[s, p] & 1)) == 0:
            length[p] += length[i]
            width[p] = max(width[p], width[i])
        else:
            width[p] += width[i]
            length[p] = max(length[p], length[i])
    kind = forest.kind[s]
    boxes.spare_l[s, 0] = job.kind_length[kind] - length[0]
    boxes.spare_w[s, 0] = job.kind_width[kind] - width[0]
    most_l, most_w = boxes.spare_l[s, 0], boxes.spare_w[s, 0]
    for i in range(1, nodes):
        p = parent[i]
        along = (forest.across[s] ^ (forest.depth[s, p] & 1)) == 0
        boxes.spare_l[s, i] = boxes.spare_l[s, p] + (0 if along else length[p] - length[i])
        boxes.spare_w[s, i] = boxes.spare_w[s, p] + (width[p] - width[i] if along else 0)
        most_l, most_w = max(most_l, boxes.spare_l[s, i]), max(most_w, boxes.spare_w[s, i])
    boxes.most_l[s], boxes.most_w[s] = most_l, most_w


@in_place
def thin(forest: Forest, s: int, boxes: Boxes, gone: Marks, kept_below: Whole, level: Whole) -> None:
    """Take the parts marked `gone` out of a sheet; rows of one dissolve. Parents must be set."""
    nodes = forest.nodes[s]
    depth, token, parent = forest.depth[s], forest.token[s], boxes.parent[s]
    kept_below[:nodes] = 0
    for i in range(nodes - 1, 0, -1):
        if (token[i] != ROW and not gone[i]) or kept_below[i] > 0:
            kept_below[parent[i]] += 1
    was_across = forest.across[s]
    kept = 0
    for i in range(nodes):
        at = 0 if i == 0 else level[parent[i]]
        across = was_across ^ (depth[i] & 1)
        stays = not gone[i] if token[i] != ROW else kept_below[i] >= 2
        level[i] = at
        if stays and token[i] == ROW:
            if kept == 0:
                forest.across[s] = across
            if (forest.across[s] ^ (at & 1)) != across:
                stays = False  # the row above it dissolved: its nodes join the next row of the same direction
            else:
                level[i] = at + 1
        if stays:
            depth[kept] = at
            token[kept] = token[i]
            kept += 1
    forest.nodes[s] = kept


@in_place
def score_of(rule: int, room_l: int, room_w: int, l: int, w: int, box_l: int, box_w: int) -> int:
    """Return how well a part l x w suits a place, l along the row it joins; less is better."""
    if rule == 0:  # the smallest place
        return room_l * room_w - l * w
    if rule == 1:  # the snuggest on one side
        return min(room_l - l, room_w - w)
    if rule == 2:  # the least that becomes waste for good
        return (box_l + l) * max(box_w, w) - box_l * box_w - l * w
    return abs(box_w - w)  # most nearly as wide as its neighbours


@in_place
def deepest_of(forest: Forest, s: int) -> int:
    """Return the depth of a sheet's deepest node."""
    deepest = 0
    for i in range(forest.nodes[s]):
        deepest = max(deepest, forest.depth[s, i])
    return deepest


@in_place
def best_spot(
    job: Job,
    forest: Forest,
    s: int,
    boxes: Boxes,
    part: int,
    turned: int,
    rule: int,
    blink: int,
    spot: Spot,
    state: Chance,
) -> Spot:
    """Return the best place on one sheet for a part as it lies, if better than `spot`; else `spot`."""
    l = job.width[part] if turned else job.length[part]
    w = job.length[part] if turned else job.width[part]
    nodes = forest.nodes[s]
    if nodes == 0:
        kind = forest.kind[s]
        score = NEVER // 2 + job.kind_length[kind] * job.kind_width[kind]
        fits = l <= job.kind_length[kind] and w <= job.kind_width[kind]
        return Spot(score, s, 0, 0, turned) if fits and score < spot.score else spot
    score, node, way = spot.score, -1, 0
    tallest = deepest_of(forest, s) if job.deepest else 0
    for i in range(nodes):
        box_l, box_w = boxes.length[s, i], boxes.width[s, i]
        room_l, room_w = boxes.spare_l[s, i], boxes.spare_w[s, i]
        is_row = forest.token[s, i] == ROW
        across = forest.across[s] ^ (forest.depth[s, i] & 1)
        for joins in range(2):
            if joins == 0 and (l > room_l or w > box_w + room_w):
                continue
            if joins == 1 and (w > room_w or l > box_l + room_l):
                continue
            if i > 0 and joins != across:
                continue  # the same place is found from the row that this node stands in
            if job.deepest:
                above = i == 0 and not (is_row and joins == across)
                if (tallest + 1 if above else forest.depth[s, i] + 1) > job.deepest:
                    continue
            if joins == 0:
                found = score_of(rule, room_l, box_w + room_w, l, w, box_l, box_w)
            else:
                found = score_of(rule, room_w, box_l + room_l, w, l, box_w, box_l)
            if found < score and not (blink and below(state, 1000) < blink):
                score, node, way = found, i, joins
    return spot if node < 0 else Spot(score, s, node, way, turned)


@in_place
def may_fit(job: Job, boxes: Boxes, s: int, part: int, turned: int) -> bool:
    """Return whether a part as it lies is short enough to stand beside any node of a sheet at all."""
    l, w = job.length[part], job.width[part]
    if turned:
        l, w = w, l
    return l <= boxes.most_l[s] or w <= boxes.most_w[s]


@in_place
def put(forest: Forest, spot: Spot, part: int) -> None:
    """Put a part where `spot` says: into the row there, or into a new row together with the node there."""
    s, at = spot.sheet, spot.node
    nodes = forest.nodes[s]
    depth, token = forest.depth[s], forest.token[s]
    if nodes == 0:
        depth[0], token[0], forest.nodes[s] = 0, 2 * part + spot.turned, 1
        return
    across = forest.across[s] ^ (depth[at] & 1)
    if token[at] == ROW and across == spot.across:
        for i in range(nodes, at + 1, -1):
            depth[i], token[i] = depth[i - 1], token[i - 1]
        depth[at + 1], token[at + 1] = depth[at] + 1, 2 * part + spot.turned
        forest.nodes[s] = nodes + 1
        return
    end = at + 1 if token[at] != ROW else nodes  # a row is only ever set in a new row at the top
    for i in range(nodes + 1, end + 1, -1):
        depth[i], token[i] = depth[i - 2], token[i - 2]
    for i in range(end, at, -1):
        depth[i], token[i] = depth[i - 1] + 1, token[i - 1]
    token[at] = ROW
    depth[end + 1], token[end + 1] = depth[at] + 1, 2 * part + spot.turned
    forest.nodes[s] = nodes + 2
    if at == 0:
        forest.across[s] = spot.across
