"""Tests of aims at cheaper boards: the cheapest numbers with so much to spare, and mixes of rips made whole."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from nookwright.solvers.covering.problem import Supply
from nookwright.solvers.pack_boards import Board, boards_plans
from nookwright.solvers.ripping.aiming import whole_rips, with_spare
from nookwright.solvers.ripping.lanes import Lanes, lanes_of
from nookwright.solvers.ripping.mix import LaneMix
from nookwright.solvers.shaking import Shaker
from nookwright.solvers.stock_counts import Worth

SUPPLIES = (Supply(price=30), Supply(price=20, most=2), Supply(price=0, most=1))
WORTH = Worth(parts=100, tops=(31, 19, 8))


@pytest.mark.parametrize("share", [0.0, 0.05, 0.1, 0.3, 2.0])
def test_numbers_with_spare_are_the_cheapest_that_adding_one_stock_gives(share: float) -> None:
    """Against trying each stock and each number of it."""
    found = [(90, (3, 0, 1)), (100, (2, 2, 0)), (120, (4, 0, 0))]
    best = 200
    for (cost, counts), stock, more in product(found, range(3), range(8)):
        numbers = [n + more * (i == stock) for i, n in enumerate(counts)]
        most = SUPPLIES[stock].most
        enough = sum(n * top for n, top in zip(numbers, WORTH.tops, strict=True)) >= (1 + share) * 100
        if enough and (most is None or numbers[stock] <= most):
            best = min(best, cost + more * SUPPLIES[stock].price)
    told = with_spare(found, SUPPLIES, WORTH, share, 200)
    if best == 200:
        assert told is None
    else:
        assert told is not None
        assert sum(one.price * n for one, n in zip(SUPPLIES, told, strict=True)) == best
        assert sum(n * top for n, top in zip(told, WORTH.tops, strict=True)) >= (1 + share) * 100


def job(number: int) -> Lanes:
    """Return lanes of a dozen kinds of piece of two widths."""
    numbers = Shaker(number + 5)
    sizes = [(200 + numbers.below(300), (40, 65)[numbers.below(2)]) for _ in range(12)]
    made = lanes_of([*sizes, (199, 40), (211, 65)], [3] * 14, [(1000, 170)])
    assert made is not None
    return made


@pytest.mark.parametrize("number", range(4))
def test_whole_rips_keep_to_the_boards_and_hold_the_length_of_every_width(number: int) -> None:
    """Enough boards have a whole mix; with one board there is none."""
    lanes = job(number)
    mix = LaneMix(lanes, [Supply(price=7)], lambda: 1.0)
    boards = len(lanes.demand)
    rips = next(whole_rips(mix, lanes, [boards]))
    assert rips.sum() <= boards
    given = rips @ lanes.rips
    for place, step in enumerate(lanes.steps):
        wide = lanes.widths >= step
        room = sum(int(given[kind]) * length for kind, (its, length) in enumerate(lanes.kinds) if its >= place)
        assert room >= int((lanes.lengths * lanes.demand)[wide].sum())
    assert list(whole_rips(mix, lanes, [1])) == []


def test_lanes_in_coarse_steps_fit_the_true_lanes() -> None:
    """Whatever fills a coarse lane best is no longer than the true one."""
    made = lanes_of([(2003, 40), (3001, 40), (4507, 65), (1999, 65)], [4, 4, 4, 4], [(17011, 170)])
    assert made is not None
    coarse = made.in_steps()
    assert coarse is not None
    filled = coarse.filled(np.array([2003, 3001, 4507, 1999]), made.demand)
    for kind, (_, length) in enumerate(made.kinds):
        assert 0 < filled.lane(kind) @ made.lengths <= length
    assert job(1).in_steps() is None


def test_a_bound_is_there_as_soon_as_the_first_mix_is() -> None:
    """However short the time, the first state tells more than nothing, and no more than the proven best."""
    numbers = Shaker(3)
    pieces = [(3001 + numbers.below(9000), (400, 650)[numbers.below(2)]) for _ in range(30)]
    boards = [Board(length=17011, width=1700, price=70), Board(length=24011, width=1450, price=90)]
    first, second, *_, last = boards_plans(pieces, boards=boards, kerf=30, time_left=lambda: 1.0)
    assert first.least_cost == 0
    assert 0 < second.least_cost <= last.least_cost == last.cost
    late = list(boards_plans(pieces, boards=boards, kerf=30, time_left=iter([1.0] + [0.0] * 99).__next__))
    assert 0 < late[-1].least_cost <= last.cost <= late[-1].cost
