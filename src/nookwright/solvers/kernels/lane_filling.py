"""Fills given lanes with all pieces, one lane after the other, until it is done or proven not to be possible; compiled.

The lane filled next is one that holds a piece of the widest that are left, the longest of them. Every filling of it is
tried that may matter; what pieces and lanes were left when all had failed is kept, so that it is never tried again.

For each width, lanes as wide as that or wider are longer together than the pieces as wide as that or wider, by what is
called here the spare of that width. A filling takes from it what the lane measures, less the pieces of that width in
it; nothing may fall below 0.

A filling is left out where another does as well: one that a piece could be added to; one of which a piece, or two, may
be exchanged for a single one that is left and no narrower, so that the lane gets fuller, or holds fewer pieces that are
as long together, or wider ones. What is exchanged has room where that single one would be. Each exchange brings the
lane further in the order of these three measures, so there is always a filling that no exchange betters.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.kernels.compiled import compiled, in_place
from nookwright.solvers.kernels.cutting_trees import Chance, Marks, Whole, below

Small = NDArray[np.int16]
Floats = NDArray[np.float64]
FILLED, IMPOSSIBLE, LEFT_OFF = 1, 0, 2
"""How a run ended."""
_MOST_IN_A_LANE = 256
_MOST_STEPS = 2_000_000
"""Steps that the list of fillings of one lane may take before it is cut off."""


class Question(NamedTuple):
    """Kinds of pieces, the longest first, and kinds of lane: length, width as a number from 0 on, how many.

    `word` and `shift` say where a number of pieces, then of lanes, stands in the key of what is left.
    """

    length: Whole
    step: Whole
    demand: Whole
    lane_length: Whole
    lane_step: Whole
    lane_count: Whole
    word: Whole
    shift: Chance


class Shelf(NamedTuple):
    """Fillings still to be tried, those of the first lane lowest: pieces, kind of lane, spare it takes, their order."""

    counts: Small
    lane: Whole
    taken: Floats
    order: Whole


class Dead(NamedTuple):
    """What is known to have no filling: keys of what was left, `used` says which slots hold one, `known` how many."""

    keys: Chance
    used: Marks
    known: Whole


class Lanes(NamedTuple):
    """The lanes filled so far: kind and pieces of each."""

    kind: Whole
    counts: Small


@in_place
def slot_of(dead: Dead, key: Chance) -> int:
    """Return the slot of a key, or the free one where it belongs."""
    mixed = np.uint64(1469598103934665603)
    for word in key:
        mixed = (mixed ^ word) * np.uint64(0x9E3779B97F4A7C15)
        mixed ^= mixed >> np.uint64(29)
    slot = np.int64(mixed % np.uint64(dead.used.size))
    while dead.used[slot]:
        same = True
        for i in range(key.size):
            same = same and dead.keys[slot, i] == key[i]
        if same:
            break
        slot = (slot + 1) % dead.used.size
    return slot


@in_place
def keep_dead(dead: Dead, key: Chance) -> None:
    """Note that what is left has no filling, as long as there is room for it."""
    slot = slot_of(dead, key)
    if not dead.used[slot] and 4 * dead.known[0] < 3 * dead.used.size:
        dead.used[slot] = True
        for i in range(key.size):
            dead.keys[slot, i] = key[i]
        dead.known[0] += 1


@in_place
def copy_dead(old: Dead, new: Dead) -> None:
    """Note all that is known elsewhere."""
    for slot in range(old.used.size):
        if old.used[slot]:
            keep_dead(new, old.keys[slot])


@in_place
def bettered(question: Question, rest: Whole, inside: Whole, room: int, step: int) -> bool:
    """Return whether a piece that is left could be added, or exchanged for one or two of those inside."""
    kinds = question.length.size
    for new in range(kinds):
        if rest[new] == 0 or question.step[new] > step:
            continue
        length, width = question.length[new], question.step[new]
        if length <= room:
            return True
        for one in range(kinds):
            if inside[one] == 0 or question.step[one] > width:
                continue
            off = question.length[one]
            if length <= off + room and (length > off or (length == off and width > question.step[one])):
                return True
            for other in range(one, kinds):
                if inside[other] > (1 if other == one else 0) and question.step[other] <= width:
                    both = off + question.length[other]
                    if both <= length <= both + room:
                        return True
    return False


@in_place
def add_up_to(sums: Whole, last: int, value: int) -> None:
    """Add a value to every sum from the first to the last."""
    for i in range(last + 1):
        sums[i] += value


@compiled
def list_fillings(
    question: Question, left: Whole, spare: Whole, first: int, lane: int, shelf: Shelf, at: int
) -> tuple[int, bool]:
    """Put every filling of a lane that matters and holds one kind on the shelf.

    Returns:
        Where the shelf ends now, and whether these are all of them.
    """
    kinds, widths = question.length.size, spare.size
    step, room = question.lane_step[lane], question.lane_length[lane] - question.length[first]
    inside = np.zeros(kinds, dtype=np.int64)
    rest = left.copy()
    rest[first] -= 1
    taken = np.full(widths, question.lane_length[lane])
    add_up_to(taken, question.step[first], -question.length[first])
    later = np.zeros((widths, kinds + 1), dtype=np.int64)  # length of all pieces, of a width or wider, from a kind on
    for kind in range(kinds - 1, -1, -1):
        long = question.length[kind] * rest[kind] if question.step[kind] <= step else 0
        for width in range(widths):
            later[width, kind] = later[width, kind + 1] + (long if width <= question.step[kind] else 0)
    put = np.zeros(_MOST_IN_A_LANE, dtype=np.int64)
    depth = kind = steps = 0
    while True:
        steps += 1
        if steps > _MOST_STEPS or at == shelf.lane.size:
            return at, False
        enough = True
        for width in range(step + 1):
            enough = enough and taken[width] - min(later[width, kind], room) <= spare[width]
        if enough:
            while kind < kinds and (rest[kind] == 0 or question.length[kind] > room or question.step[kind] > step):
                kind += 1
            if kind < kinds and depth < _MOST_IN_A_LANE:
                rest[kind] -= 1
                inside[kind] += 1
                room -= question.length[kind]
                add_up_to(taken, question.step[kind], -question.length[kind])
                put[depth] = kind
                depth += 1
                continue
            if kind < kinds:
                return at, False
            worst = 0.0
            for width in range(step + 1):
                enough = enough and taken[width] <= spare[width]
                worst += taken[width] / (spare[width] + 1.0)
            if enough and not bettered(question, rest, inside, room, step):
                for i in range(kinds):
                    shelf.counts[at, i] = inside[i]
                shelf.counts[at, first] += 1
                shelf.lane[at], shelf.taken[at] = lane, worst
                at += 1
        if depth == 0:
            return at, True
        depth -= 1
        kind = put[depth]
        rest[kind] += 1
        inside[kind] -= 1
        room += question.length[kind]
        add_up_to(taken, question.step[kind], question.length[kind])
        kind += 1


@in_place
def change(question: Question, shelf: Shelf, row: int, sign: int, left: Whole, lanes: Whole, spare: Whole) -> None:
    """Take a filling from what is left, or with sign 1 put it back."""
    lane = shelf.lane[row]
    lanes[lane] += sign
    add_up_to(spare, question.lane_step[lane], sign * question.lane_length[lane])
    for kind in range(question.length.size):
        often = shelf.counts[row, kind]
        if often > 0:
            left[kind] += sign * often
            add_up_to(spare, question.step[kind], -sign * often * question.length[kind])


@in_place
def set_key(question: Question, left: Whole, lanes: Whole, key: Chance) -> None:
    """Set the key of what is left."""
    for i in range(key.size):
        key[i] = np.uint64(0)
    for i in range(left.size + lanes.size):
        number = left[i] if i < left.size else lanes[i - left.size]
        key[question.word[i]] |= np.uint64(number) << question.shift[i]


@in_place
def set_spare(question: Question, spare: Whole) -> bool:
    """Set the spare of every width before anything is filled; return whether that suffices."""
    for i in range(spare.size):
        spare[i] = 0
    for lane in range(question.lane_count.size):
        add_up_to(spare, question.lane_step[lane], question.lane_length[lane] * question.lane_count[lane])
    for kind in range(question.demand.size):
        if question.step[kind] >= spare.size:
            return False
        add_up_to(spare, question.step[kind], -question.length[kind] * question.demand[kind])
    return spare.min() >= 0


@in_place
def hardest(question: Question, left: Whole) -> int:
    """Return the longest kind of the widest that are left; -1 when none is."""
    found = -1
    for kind in range(left.size):
        if left[kind] > 0 and (found < 0 or question.step[kind] > question.step[found]):
            found = kind
    return found


@compiled
def list_all(question: Question, left: Whole, lanes: Whole, spare: Whole, shelf: Shelf, at: int) -> tuple[int, bool]:
    """Put the fillings of every kind of lane that holds the hardest piece on the shelf; return as `list_fillings`."""
    first, whole = hardest(question, left), True
    for lane in range(lanes.size):
        holds = (
            question.lane_step[lane] >= question.step[first] and question.lane_length[lane] >= question.length[first]
        )
        if lanes[lane] > 0 and holds:
            at, all_of_them = list_fillings(question, left, spare, first, lane, shelf, at)
            whole = whole and all_of_them
    return at, whole


@compiled
def put_in_order(shelf: Shelf, start: int, end: int, shaken: int, chance: Chance) -> None:
    """Set the order of fillings on the shelf: those that take least of the spare come first, more or less."""
    least = np.zeros(end - start)
    for i in range(end - start):
        least[i] = shelf.taken[start + i] * (100 + below(chance, shaken + 1))
    order = np.argsort(least)
    for i in range(end - start):
        shelf.order[start + i] = start + order[i]


@compiled
def fill_lanes(
    question: Question, breadth: int, nodes: int, shaken: int, chance: Chance, shelf: Shelf, dead: Dead, filled: Lanes
) -> int:
    """Try fillings, lane after lane, until all pieces are in.

    Args:
        question: the pieces and lanes.
        breadth: most fillings of one lane tried.
        nodes: most lanes looked at.
        shaken: by how many per cent what a filling takes is shaken before the one that takes least is tried first.
        chance: the sequence that the search shakes with.
        shelf: room to work in.
        dead: what is known to have no filling; more becomes known.
        filled: the lanes, when all pieces are in; the rest are of kind -1.

    Returns:
        Whether all pieces are in, or cannot be, or the run was left off.
    """
    left, lanes = question.demand.copy(), question.lane_count.copy()
    spare = np.zeros(question.lane_step.max() + 1, dtype=np.int64)
    if not set_spare(question, spare):
        return IMPOSSIBLE
    most = lanes.sum() + 1
    start, end, now, top = (
        np.zeros(most, np.int64),
        np.zeros(most, np.int64),
        np.zeros(most, np.int64),
        np.zeros(most, np.int64),
    )
    whole = np.zeros(most, dtype=np.bool_)  # whether everything below has failed so far
    keys = np.zeros((most, dead.keys.shape[1]), dtype=np.uint64)
    depth = looked_at = shelved = 0
    entered = True
    while True:
        if entered:
            entered = False
            if hardest(question, left) < 0:
                for i in range(filled.kind.size):
                    filled.kind[i] = shelf.lane[shelf.order[now[i]]] if i < depth else -1
                    for kind in range(left.size):
                        filled.counts[i, kind] = shelf.counts[shelf.order[now[i]], kind] if i < depth else 0
                return FILLED
            start[depth] = now[depth] = end[depth] = top[depth] = shelved
            whole[depth] = True
            set_key(question, left, lanes, keys[depth])
            if not dead.used[slot_of(dead, keys[depth])]:
                looked_at += 1
                if looked_at > nodes:
                    return LEFT_OFF
                shelved, whole[depth] = list_all(question, left, lanes, spare, shelf, shelved)
                put_in_order(shelf, start[depth], shelved, shaken, chance)
                end[depth] = top[depth] = shelved
                if shelved - start[depth] > breadth:
                    end[depth], whole[depth] = start[depth] + breadth, False
        if now[depth] < end[depth]:
            shelved = top[depth]
            change(question, shelf, shelf.order[now[depth]], -1, left, lanes, spare)
            depth += 1
            entered = True
            continue
        if whole[depth]:
            keep_dead(dead, keys[depth])
        if depth == 0:
            return IMPOSSIBLE if whole[0] else LEFT_OFF
        depth -= 1
        whole[depth] = whole[depth] and whole[depth + 1]
        change(question, shelf, shelf.order[now[depth]], 1, left, lanes, spare)
        now[depth] += 1
