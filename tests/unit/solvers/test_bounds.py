"""Tests of the bounds, on cases whose least is plain to see."""

from __future__ import annotations

from nookwright.solvers.bounds import Bound, least_lengths, least_sheets
from nookwright.solvers.pack_sheets import Rectangle


def test_area_alone_asks_for_two_sheets() -> None:
    """Nine quarters need more than two sheets of four, so three."""
    parts = [Rectangle(length=50, width=50)] * 9
    assert least_sheets(parts, length=100, width=100, kerf=0) == Bound(least=3, reason="area")


def test_three_parts_above_half_in_both_directions_need_three_sheets() -> None:
    """51 x 51 on 100 x 100: no two share a sheet, though area would allow all on one."""
    parts = [Rectangle(length=51, width=51, turnable=True)] * 3
    assert least_sheets(parts, length=100, width=100, kerf=0) == Bound(least=3, reason="large pieces")


def test_a_kerf_turns_four_quarters_into_more_than_a_sheet() -> None:
    """Four parts of 50 x 50 with a kerf of 1 do not come out of 100 x 100: only one does beside itself."""
    parts = [Rectangle(length=50, width=50)] * 4
    assert least_sheets(parts, length=100, width=100, kerf=0).least == 1
    assert least_sheets(parts, length=100, width=100, kerf=1).least == 4


def test_nothing_needs_nothing() -> None:
    """No parts, no sheet."""
    assert least_sheets([], length=100, width=100, kerf=0) == Bound(least=0, reason="nothing")


def test_a_part_that_fits_only_turned_is_counted_as_it_lies() -> None:
    """Two parts of 40 x 90 on 100 x 50 lie turned, one above the other needs 80: two sheets."""
    parts = [Rectangle(length=40, width=90, turnable=True)] * 2
    assert least_sheets(parts, length=100, width=50, kerf=0).least == 2


def test_pieces_above_half_each_need_a_length() -> None:
    """Three pieces of 60 in lengths of 100: three; 40s fill up beside them, one more 41 does not."""
    assert least_lengths([60, 60, 60], 100) == 3
    assert least_lengths([60, 60, 60, 40, 40, 40], 100) == 3
    assert least_lengths([60, 60, 60, 41, 41, 41], 100) == 5
