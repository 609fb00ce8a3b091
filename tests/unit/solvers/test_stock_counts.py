"""Tests of the counts of sheets that proofs allow: worked out by hand."""

from __future__ import annotations

from nookwright.solvers.stock_counts import Supply, Worth, all_counts_below, counts_below

FULL, HALF, OFFCUT = Supply(price=10), Supply(price=6), Supply(price=0, most=1)


def test_the_cheapest_counts_come_last() -> None:
    """25 worth on sheets of 10 and 6 worth: three full ones cost 30; two and a half one hold 26 for 26."""
    proofs = [Worth(parts=25, tops=(10, 6))]
    assert list(counts_below([FULL, HALF], proofs, 99))[-1] == (26, (2, 1))


def test_every_proof_must_be_met() -> None:
    """The second proof says a half sheet holds none of the two large parts."""
    proofs = [Worth(parts=25, tops=(10, 6)), Worth(parts=3, tops=(1, 0))]
    assert list(counts_below([FULL, HALF], proofs, 99))[-1] == (30, (3, 0))


def test_what_is_free_is_used_first_as_far_as_it_goes() -> None:
    """An offcut of 5 worth leaves 20 for two full sheets."""
    assert list(counts_below([FULL, HALF, OFFCUT], [Worth(parts=25, tops=(10, 6, 5))], 99))[-1] == (20, (2, 0, 1))


def test_nothing_below_the_cost_known() -> None:
    """26 is the least, so nothing costs less than 26."""
    assert list(counts_below([FULL, HALF], [Worth(parts=25, tops=(10, 6))], 26)) == []


def test_a_limited_kind_is_not_used_more_often_than_there_is() -> None:
    """Two half sheets at most: 22 worth needs 6 + 6 + 10."""
    few = Supply(price=6, most=2)
    assert list(counts_below([FULL, few], [Worth(parts=22, tops=(10, 6))], 99))[-1] == (22, (1, 2))


def test_all_counts_are_listed() -> None:
    """12 worth below 21: one full and one half sheet, two full ones, two half ones."""
    listed = sorted(all_counts_below([FULL, HALF], [Worth(parts=12, tops=(10, 6))], 21))
    assert listed == [(12, (0, 2)), (16, (1, 1)), (20, (2, 0))]


def test_counts_ruled_out_give_way_to_the_next() -> None:
    """12 worth: two half sheets are known not to do, so neither does one; next are three half sheets, one of each, two full."""
    listed = sorted(all_counts_below([FULL, HALF], [Worth(parts=12, tops=(10, 6))], 21, [(0, 2)]))
    assert listed == [(16, (1, 1)), (18, (0, 3)), (20, (2, 0))]
    assert list(counts_below([FULL, HALF], [Worth(parts=12, tops=(10, 6))], 21, [(0, 2), (1, 1)]))[-1] == (18, (0, 3))
