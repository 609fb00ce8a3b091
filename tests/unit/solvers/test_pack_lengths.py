"""Tests of the search for plans on lengths: small cases solved by hand or by trying everything."""

from __future__ import annotations

import pytest

from nookwright.solvers.pack_lengths import Filled, Length, pack_lengths
from nookwright.solvers.shaking import Shaker


def test_a_kerf_decides_whether_three_pieces_share_a_length() -> None:
    """Three pieces of 800 with two kerfs of 4 need 2408."""
    pieces = [800, 800, 800]
    assert len(pack_lengths(pieces, stocks=[Length(size=2408, price=1)], kerf=4).filled) == 1
    assert len(pack_lengths(pieces, stocks=[Length(size=2407, price=1)], kerf=4).filled) == 2


def test_the_first_end_loses_its_trim() -> None:
    """Two pieces of 1000, a kerf of 4 and an end trim of 10 need 2014."""
    assert len(pack_lengths([1000, 1000], stocks=[Length(size=2014, price=1)], kerf=4, end_trim=10).filled) == 1
    assert len(pack_lengths([1000, 1000], stocks=[Length(size=2013, price=1)], kerf=4, end_trim=10).filled) == 2


def test_the_cheaper_mix_of_lengths_is_found() -> None:
    """1700 + 1200 + 900: one long (20) and one short (9) cost 29; three shorts are too short for 1700."""
    stocks = [Length(size=1800, price=9), Length(size=3000, price=20)]
    plan = pack_lengths([1700, 1200, 900], stocks=stocks, kerf=0)
    # 1700 in a short (9); 1200 and 900 do not share a short, so two more shorts: 27 in all, below 29.
    assert (plan.cost, plan.least_cost) == (27, 27)


def test_a_longer_length_that_costs_no_more_is_taken() -> None:
    """Nobody buys the shorter board at the longer one's price."""
    stocks = [Length(size=1000, price=5), Length(size=2000, price=5)]
    plan = pack_lengths([900], stocks=stocks, kerf=0)
    assert plan.filled == (Filled(stock=1, pieces=(0,)),)


def test_a_piece_longer_than_every_length_is_refused() -> None:
    """The message says what the longest gives."""
    with pytest.raises(ValueError, match="a piece of 2500 fits no length; the longest gives 1990"):
        pack_lengths([2500], stocks=[Length(size=2000, price=5)], kerf=3, end_trim=10)


def test_nothing_to_cut_costs_nothing() -> None:
    """No pieces, no plan."""
    assert pack_lengths([], stocks=[Length(size=2000, price=5)], kerf=3).filled == ()


def cheapest(pieces: list[int], stocks: list[Length], kerf: int, end_trim: int) -> int:
    """Return the least cost, by trying every way to share the pieces out."""
    best = 10**9

    def place(rest: list[int], groups: list[list[int]]) -> None:
        nonlocal best
        if not rest:
            cost = 0
            for group in groups:
                need = end_trim + sum(group) + kerf * (len(group) - 1)
                prices = [stock.price for stock in stocks if stock.size >= need]
                if not prices:
                    return
                cost += min(prices)
            best = min(best, cost)
            return
        for i in range(len(groups)):
            place(rest[1:], [*groups[:i], [*groups[i], rest[0]], *groups[i + 1 :]])
        place(rest[1:], [*groups, [rest[0]]])

    place(pieces, [])
    return best


def test_small_jobs_match_trying_everything() -> None:
    """Up to six pieces: the cost is the least possible, and no bound lies above it."""
    numbers = Shaker(11)
    for _ in range(150):
        stocks = [Length(size=80 + numbers.below(81), price=5 + numbers.below(8)) for _ in range(3)]
        longest = max(stock.size for stock in stocks) - 5
        pieces = [15 + numbers.below(longest - 14) for _ in range(1 + numbers.below(6))]
        least = cheapest(pieces, stocks, 3, 5)
        plan = pack_lengths(pieces, stocks=stocks, kerf=3, end_trim=5)
        assert plan.least_cost <= least == plan.cost
        assert sorted(i for one in plan.filled for i in one.pieces) == list(range(len(pieces)))
