"""Tests of the search for the cheapest cover: small cases by trying everything, bounds from any prices whatever."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction

import highspy
import numpy as np
import pytest

from nookwright.solvers.covering.bound import Proof, rounded_up, whole_prices
from nookwright.solvers.covering.closing import Closing
from nookwright.solvers.covering.problem import Limits, Pattern, Supply, covers, limits_of
from nookwright.solvers.covering.program import Program, program_of_patterns, whole_plan
from nookwright.solvers.covering.search import State, cheapest_covers
from nookwright.solvers.length_patterns import LengthPatterns
from nookwright.solvers.listing import fillings_worth
from nookwright.solvers.shaking import Shaker


def cheapest(sizes: Sequence[int], rooms: Sequence[int], supplies: Sequence[Supply]) -> int | None:
    """Return the least cost by sharing the pieces out in every way and giving each group every stock."""
    best: int | None = None

    def priced(groups: list[int], at: int, used: Counter[int], cost: int) -> None:
        nonlocal best
        if at == len(groups):
            best = cost if best is None else min(best, cost)
            return
        for stock, (room, supply) in enumerate(zip(rooms, supplies, strict=True)):
            if groups[at] <= room and (supply.most is None or used[stock] < supply.most):
                priced(groups, at + 1, used + Counter([stock]), cost + supply.price)

    def shared(rest: Sequence[int], groups: list[int]) -> None:
        if not rest:
            priced(groups, 0, Counter(), 0)
            return
        for i in range(len(groups)):
            if groups[i] + rest[0] <= max(rooms):
                shared(rest[1:], [*groups[:i], groups[i] + rest[0], *groups[i + 1 :]])
        shared(rest[1:], [*groups, rest[0]])

    shared(sizes, [])
    return best


def source_of(sizes: Sequence[int], rooms: Sequence[int], supplies: Sequence[Supply]) -> LengthPatterns:
    """Return the pieces as kinds with their demand."""
    demand = Counter(sizes)
    kinds = sorted(demand, reverse=True)
    return LengthPatterns(kinds, [demand[size] for size in kinds], rooms, supplies)


def last_state(source: LengthPatterns) -> State:
    """Return where the search ends."""
    first = source.complete(source.demand, [supply.most for supply in source.supplies])
    assert first is not None
    *_, last = cheapest_covers(source, first)
    return last


def random_case(numbers: Shaker, pieces: int) -> tuple[list[int], list[int], list[Supply]]:
    """Return pieces, rooms and stocks: two for sale, up to two that are there anyway."""
    rooms = [60 + numbers.below(60) for _ in range(2)]
    supplies = [Supply(price=20 + numbers.below(30)) for _ in rooms]
    for _ in range(numbers.below(3)):
        rooms.append(25 + numbers.below(60))
        supplies.append(Supply(price=numbers.below(2) * numbers.below(9), most=1))
    sizes = [12 + numbers.below(max(rooms[:2]) - 11) for _ in range(pieces)]
    return sizes, rooms, supplies


def test_small_covers_match_trying_everything_and_are_proven() -> None:
    """Up to six pieces, two stocks for sale and offcuts: the least cost, and the bound says so."""
    numbers = Shaker(5)
    for case in range(120):
        sizes, rooms, supplies = random_case(numbers, 1 + numbers.below(6))
        source = source_of(sizes, rooms, supplies)
        last = last_state(source)
        assert covers(last.plan, source.demand, limits_of(supplies)), case
        assert last.cost == last.least == cheapest(sizes, rooms, supplies), case


def test_any_prices_of_pieces_give_a_bound_below_the_least_cost() -> None:
    """The bound is true whatever the prices are, also when patterns are worth more than their stock."""
    numbers = Shaker(8)
    for _ in range(120):
        sizes, rooms, supplies = random_case(numbers, 1 + numbers.below(5))
        source = source_of(sizes, rooms, supplies)
        worth = np.array([numbers.below(4000) / 100 for _ in source.demand])
        values, scale = whole_prices(worth, source.most_pieces)
        tops = tuple(value for value, _ in source.best(values, source.demand))
        proof = Proof(values=values, tops=tops, scale=scale)
        least = cheapest(sizes, rooms, supplies)
        assert least is not None
        assert proof.least(source.demand, supplies, limits_of(supplies)) <= least


def test_prices_of_three_to_a_length_prove_four_lengths() -> None:
    """Ten pieces, three to a length: a third of a length each makes 10/3, so 4."""
    source = source_of([30] * 10, [100], [Supply(price=1)])
    values, scale = whole_prices(np.array([1 / 3]), source.most_pieces)
    proof = Proof(values=values, tops=(source.best(values, source.demand)[0][0],), scale=scale)
    least = proof.least(source.demand, source.supplies, limits_of(source.supplies))
    assert Fraction(333, 100) < least <= Fraction(10, 3)
    assert rounded_up(least, source.supplies) == 4


def test_a_bound_is_rounded_up_to_what_prices_have_in_common() -> None:
    """Prices of 900 and 1500 make every cost a multiple of 300."""
    assert rounded_up(Fraction(3001, 2), [Supply(price=900), Supply(price=1500)]) == 1800


def five_by_pairs(below: int) -> tuple[Program, Closing]:
    """Return five pieces of which any two but no three share a length, with every pair as a pattern."""
    patterns = []
    for i in range(5):
        for j in range(i + 1, 5):
            counts = np.zeros(5, dtype=np.int64)
            counts[[i, j]] = 1
            patterns.append(Pattern(stock=0, counts=counts))
    program = program_of_patterns(
        tuple(patterns), np.ones(5, dtype=np.int64), np.array([1]), np.array([0.0]), np.array([np.inf]), exactly=False
    )
    return program, Closing(program, 1, below=below)


def test_the_closing_search_finds_three_pairs_for_five_pieces_and_proves_that_two_are_too_few() -> None:
    """The mix needs 2.5 lengths, so 3 by rounding; below 3 there is nothing."""
    _, closing = five_by_pairs(below=5)
    closing.run(200, lambda: 1.0)
    assert closing.finished
    assert closing.cost == 3
    assert closing.best is not None
    assert covers(closing.best, np.ones(5, dtype=np.int64), Limits(low=(0,), high=(None,)))
    _, none = five_by_pairs(below=3)
    none.run(200, lambda: 1.0)
    assert none.finished
    assert none.best is None


def test_a_whole_number_program_is_counted_again() -> None:
    """A plan of three for five pieces; none below three."""
    program, _ = five_by_pairs(below=5)
    plan = whole_plan(program, below=5, seconds=5.0, nodes=100, seed=1)
    assert plan is not None
    assert len(plan) == 3
    assert whole_plan(program, below=3, seconds=5.0, nodes=100, seed=1) is None


def test_the_same_job_gives_the_same_plan() -> None:
    """Deterministic for its rounds."""
    sizes, rooms, supplies = random_case(Shaker(3), 14)
    plans = [[pattern.key for pattern in last_state(source_of(sizes, rooms, supplies)).plan] for _ in range(2)]
    assert plans[0] == plans[1]


def test_bounds_rise_and_costs_fall_round_after_round() -> None:
    """More time gives no worse a plan."""
    sizes, rooms, supplies = random_case(Shaker(4), 30)
    source = source_of(sizes, rooms, supplies)
    first = source.complete(source.demand, [supply.most for supply in supplies])
    assert first is not None
    states = [state for state, _ in zip(cheapest_covers(source, first), range(40), strict=False)]
    costs, bounds = [state.cost for state in states], [state.least for state in states]
    assert costs == sorted(costs, reverse=True)
    assert bounds == sorted(bounds)
    assert bounds[-1] <= costs[-1]


def test_a_search_without_time_still_has_its_first_plan() -> None:
    """Good enough at once."""
    sizes, rooms, supplies = random_case(Shaker(4), 30)
    source = source_of(sizes, rooms, supplies)
    first = source.complete(source.demand, [supply.most for supply in supplies])
    assert first is not None
    (only,) = cheapest_covers(source, first, time_left=lambda: 0.0)
    assert list(only.plan) == first


@pytest.mark.parametrize("full", [True, False])
def test_every_filling_worth_listing_is_listed(full: bool) -> None:
    """Pieces 5, 4, 3 (twice) in a room of 10: those worth at least 9 by their size, counted by hand."""
    sizes, demand = np.array([5, 4, 3]), np.array([1, 1, 2])
    found = fillings_worth(sizes, demand, sizes, 10, limit=9, most=100, full=full)
    assert found is not None
    assert sorted(tuple(row) for row in found.tolist()) == [(0, 1, 2), (1, 1, 0)]


def test_full_fillings_leave_out_those_that_hold_another_piece() -> None:
    """In a room of 7: 4+3 and 3+3 are full, 5 too; 4 or 3 alone are not."""
    sizes, demand = np.array([5, 4, 3]), np.array([1, 1, 2])
    full = fillings_worth(sizes, demand, sizes, 7, limit=0, most=100, full=True)
    every = fillings_worth(sizes, demand, sizes, 7, limit=0, most=100, full=False)
    assert full is not None
    assert every is not None
    assert sorted(tuple(row) for row in full.tolist()) == [(0, 0, 2), (0, 1, 1), (1, 0, 0)]
    assert len(every) == 5
    assert fillings_worth(sizes, demand, sizes, 7, limit=0, most=2, full=False) is None


def test_another_program_solved_before_does_not_stop_the_search() -> None:
    """The solver sets up its threads once for the whole process; ours must not ask for another number of them."""
    model = highspy.highs._Highs()
    model.setOptionValue("output_flag", False)
    model.addVar(0.0, 1.0)
    model.run()
    # 35 + 22 + 43 = 100, three times.
    last = last_state(source_of([35, 35, 35, 22, 22, 22, 43, 43, 43], [100], [Supply(price=1)]))
    assert last.cost == last.least == 3
