"""Tests of boards ripped into lanes, step by step: ways to rip, lanes filled, lanes refilled, lanes that do not do."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import numpy as np
import pytest

from nookwright.solvers.covering.problem import Supply
from nookwright.solvers.covering.search import cheapest_covers
from nookwright.solvers.ripping.lanes import Lanes, lanes_of
from nookwright.solvers.ripping.mix import LaneMix, Worth, most_worth
from nookwright.solvers.ripping.packing import LanePatterns
from nookwright.solvers.ripping.refill import Refill
from nookwright.solvers.shaking import Shaker


def lanes(sizes: list[tuple[int, int]], demand: list[int], rooms: list[tuple[int, int]]) -> Lanes:
    """Return the lanes of boards with few ways to rip them."""
    made = lanes_of(sizes, demand, rooms)
    assert made is not None
    return made


def test_ways_to_rip_leave_room_for_no_more_and_no_wider_lane() -> None:
    """Out of 173: two of 63 and one of 43 (169), or four of 43 (172); not one and two (149: room for a wider one)."""
    made = lanes([(500, 43), (501, 63)], [1, 1], [(1000, 173), (800, 60)])
    assert made.kinds == ((0, 800), (1, 800), (0, 1000), (1, 1000))
    told = sorted((stock, tuple(rip)) for stock, rip in zip(made.rip_stock.tolist(), made.rips.tolist(), strict=True))
    assert told == [(0, (0, 0, 1, 2)), (0, (0, 0, 4, 0)), (1, (1, 0, 0, 0))]


def test_lengths_are_counted_in_what_measures_every_piece() -> None:
    """Pieces of 500 and 750 make lanes of whole 250s: a board of 1990 is no better than one of 1750."""
    made = lanes([(500, 43), (750, 43)], [1, 1], [(1990, 50), (1750, 50)])
    assert made.lengths.tolist() == [2, 3]
    assert made.kinds == ((0, 7),)


def test_a_worth_is_taken_no_oftener_than_a_way_to_rip_may_be() -> None:
    """Of four boards one at least is worth 5, two at most 9; the last must be worth 7: 5 + 9 + 9 + 7."""
    made = lanes([(50, 43), (60, 63)], [9, 9], [(100, 173)])
    proof = Worth(pieces=99, rips=np.array([9, 5, 7]), values=np.array([1, 1]), scale=1)
    three = replace(made, rip_stock=np.zeros(3, dtype=np.int64))
    assert most_worth(proof, three, [4], np.array([0, 1, 0]), np.array([2, 4, 4])) == 30


@pytest.mark.parametrize("number", range(8))
def test_a_filled_lane_is_worth_what_trying_everything_finds(number: int) -> None:
    """Four kinds of piece, two lane widths, up to three of each piece."""
    numbers = Shaker(number + 3)
    sizes = [(10 + numbers.below(40), (5, 8)[numbers.below(2)]) for _ in range(4)]
    demand = [1 + numbers.below(3) for _ in sizes]
    made = lanes([*sizes, (7, 5), (9, 8)], [*demand, 1, 1], [(97, 20)])
    values = np.array([1 + numbers.below(90) for _ in range(6)])
    filled = made.filled(values, made.demand)
    for kind, (place, length) in enumerate(made.kinds):
        ways = product(*(range(int(often) + 1) for often in made.demand))
        best = max(
            int(values @ way)
            for way in map(np.array, ways)
            if way @ made.lengths <= length and made.widths[way > 0].max(initial=0) <= made.steps[place]
        )
        assert filled.values[kind] == best == int(values @ filled.lane(kind))


def test_refilling_ends_with_every_piece_in_a_lane_and_no_lane_too_full() -> None:
    """Three lanes of 100 for pieces cut from three full hundreds; the first filling leaves some over."""
    sizes = [(52, 5), (48, 5), (41, 5), (33, 5), (26, 5), (37, 5), (34, 5), (29, 5)]
    made = lanes(sizes, [1] * 8, [(100, 5)])
    refill = Refill(made, [3])
    assert not refill.done
    assert refill.run(2000)
    held = refill.lanes()
    assert np.array_equal(np.sum([counts for _, counts in held], axis=0), made.demand)
    assert all(counts @ made.lengths <= 100 for _, counts in held)


def test_lanes_that_cannot_hold_all_pieces_are_proven_not_to() -> None:
    """Two of 61 and two of 40 in two lanes of 100: 61 and 40 are 101. With 60 they go in."""
    for long, enough in ((61, False), (60, True)):
        made = lanes([(long, 5), (40, 5)], [2, 2], [(100, 5)])
        source = LanePatterns(made, [2])
        first = source.complete(made.demand, source.limits.high)
        assert first is not None
        last = list(cheapest_covers(source, first, limits=source.limits))[-1]
        assert (last.cost < source.lacking) is enough
        assert (last.least >= source.lacking) is not enough


def test_a_proof_says_what_boards_are_too_few() -> None:
    """Five pieces of 60 in lanes of 100 take five lanes: two boards of two lanes each are ruled out, three are not."""
    made = lanes([(60, 5)], [5], [(100, 10)])
    mix = LaneMix(made, [Supply(price=7)], lambda: 1.0)
    nothing, many = np.zeros(1, dtype=np.int64), np.full(1, 9)
    for boards, ruled_out in (((2,), True), ((3,), False)):
        proof = mix.solved(boards=(boards, boards), low=nothing, high=many, money=False).proofs[-1]
        assert (most_worth(proof, made, boards, nothing, many) < proof.pieces) is ruled_out
