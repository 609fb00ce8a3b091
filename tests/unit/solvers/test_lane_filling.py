"""Tests of trying every filling of given lanes: against trying every place of every piece, and of what cuts it off."""

from __future__ import annotations

import math

import numpy as np
import pytest

from nookwright.solvers.kernels.lane_filling import FILLED, IMPOSSIBLE, LEFT_OFF, Shelf, fill_lanes
from nookwright.solvers.ripping import filling
from nookwright.solvers.ripping.filling import Filling
from nookwright.solvers.ripping.lanes import Lanes, lanes_of
from nookwright.solvers.shaking import Shaker

_JOBS = 120
Rooms = tuple[tuple[int, int], ...]
"""Length and width of every lane."""


def go_in(pieces: list[tuple[int, int]], rooms: Rooms) -> bool:
    """Return whether pieces go into lanes, each piece tried in every lane; what has failed is not tried again."""
    failed: set[tuple[int, Rooms]] = set()

    def go_on(number: int, left: Rooms) -> bool:
        if number == len(pieces):
            return True
        if (number, left) in failed:
            return False
        length, width = pieces[number]
        for i, (room, wide) in enumerate(left):
            put = tuple(sorted((*left[:i], (room - length, wide), *left[i + 1 :])))
            if room >= length and wide >= width and go_on(number + 1, put):
                return True
        failed.add((number, left))
        return False

    return go_on(0, tuple(sorted(rooms)))


def tight(number: int) -> tuple[Lanes, list[int], bool]:
    """Return lanes cut up into pieces with little or nothing over, some pieces changed since; and whether they go in."""
    numbers = Shaker(7919 * number + 11)
    steps = [(5,), (5, 8), (3, 5, 8)][numbers.below(3)]
    lengths = [30 + numbers.below(20), 55 + numbers.below(20)]
    rooms = [(lengths[numbers.below(2)], steps[numbers.below(len(steps))]) for _ in range(2 + numbers.below(3))]
    pieces: list[tuple[int, int]] = []
    for length, width in rooms:
        left = length - (0, 0, 1, 3)[numbers.below(4)]
        while left > 6:
            long = min(left, 6 + numbers.below(30))
            left -= long
            narrow = [step for step in steps if step <= width]
            pieces.append((long + (0, 0, 0, 1)[numbers.below(4)], narrow[numbers.below(len(narrow))]))
    sizes = sorted(set(pieces))
    lanes = lanes_of(sizes, [pieces.count(size) for size in sizes], [(length, 30) for length in lengths])
    assert lanes is not None
    counts = [0] * len(lanes.kinds)
    unit = math.gcd(*(length for length, _ in pieces))
    for length, width in rooms:
        wide = [place for place, step in enumerate(lanes.steps) if step <= width]
        if wide:
            counts[lanes.kinds.index((wide[-1], length // unit))] += 1
    return lanes, counts, go_in(pieces, tuple(rooms))


def expect_filled(lanes: Lanes, counts: list[int], found: list[tuple[int, np.ndarray]]) -> None:
    """Add the pieces up, and measure every lane."""
    assert np.array_equal(np.sum([held for _, held in found], axis=0), lanes.demand)
    for kind, held in found:
        place, length = lanes.kinds[kind]
        assert held @ lanes.lengths <= length
        assert lanes.widths[held > 0].max() <= lanes.steps[place]
    used = [sum(kind == one for one, _ in found) for kind in range(len(counts))]
    assert all(often <= count for often, count in zip(used, counts, strict=True))


@pytest.mark.parametrize("room", [4, 1 << 14])
def test_lanes_hold_all_pieces_just_where_trying_every_place_says_so(
    room: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Jobs that just fit or just do not; also where what has failed soon needs more room."""
    monkeypatch.setattr(filling, "_DEAD", room)
    answers = []
    for number in range(_JOBS):
        lanes, counts, answer = tight(number)
        search = Filling(lanes, counts)
        assert search.run(2000, lambda: 1.0)
        assert (search.found is not None) is answer
        assert search.impossible is not answer
        if search.found is not None:
            expect_filled(lanes, counts, search.found)
        answers.append(answer)
    assert 20 < sum(answers) < _JOBS - 20


def test_fillings_that_were_not_all_looked_at_prove_nothing() -> None:
    """A job that is impossible is not called so by a run that tries one filling of a lane, or has a shelf of one."""
    number = next(number for number in range(_JOBS) if hard(number))
    lanes, counts, _ = tight(number)
    search = Filling(lanes, counts)
    shelf = search._shelf
    for breadth, rows in ((1, len(shelf.lane)), (99, 1)):
        short = Shelf(*(each[:rows] for each in shelf))
        ended = fill_lanes(search._question, breadth, 9999, 0, search._chance, short, search._dead, search._filled)
        assert ended == LEFT_OFF
    assert fill_lanes(
        search._question, 99, 9999, 0, search._chance, shelf, search._dead, search._filled
    ) == IMPOSSIBLE  # fmt: skip


def test_one_filling_of_each_lane_never_rules_out_what_goes_in() -> None:
    """Runs that try a single filling of a lane, where one lane has but one: the lanes after it are cut short too."""
    for number in range(_JOBS):
        lanes, counts, answer = tight(number)
        search = Filling(lanes, counts)
        ended = fill_lanes(search._question, 1, 9999, 0, search._chance, search._shelf, search._dead, search._filled)
        assert ended in ((FILLED, LEFT_OFF) if answer else (IMPOSSIBLE, LEFT_OFF))


def hard(number: int) -> bool:
    """Whether a job is impossible, and that only shows once several fillings of a lane were tried."""
    lanes, counts, answer = tight(number)
    search = Filling(lanes, counts)
    return not answer and not search.run(1, lambda: 1.0)


def test_no_lanes_hold_nothing_and_no_time_proves_nothing() -> None:
    """Without lanes it is impossible at once; without time nothing is said."""
    lanes, counts, _ = tight(1)
    none = Filling(lanes, [0] * len(counts))
    assert none.run(1, lambda: 1.0)
    assert none.impossible
    late = Filling(lanes, counts)
    assert not late.run(1, lambda: 0.0)
    assert not late.impossible
