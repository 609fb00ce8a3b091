"""Fasteners chosen from the real stack."""

from __future__ import annotations

import pytest

from nookwright.basics.problems import InvalidInputError
from nookwright.trade.fastener_choice import (
    FastenerRow,
    brad,
    pocket_screw,
    row_of_fasteners,
    wall_screw,
    wood_screw,
)

LENGTHS = (25.0, 30.0, 32.0, 35.0, 38.0, 40.0, 45.0, 50.0, 60.0, 64.0, 70.0, 75.0)


def test_thin_stock_takes_the_thread_rule() -> None:
    """6 mm back: 2.5 x 6 = 15 is less than 6 + 25 = 31, so 32."""
    choice = wood_screw(held_mm=6, base_mm=300, lengths_mm=LENGTHS)
    assert (choice.length_mm, choice.thread_mm) == (32, 26)


def test_thick_stock_takes_two_and_a_half_times() -> None:
    """25 mm: 62.5 beats 25 + 25 = 50, so 64."""
    assert wood_screw(held_mm=25, base_mm=300, lengths_mm=LENGTHS).length_mm == 64


def test_a_screw_never_comes_through() -> None:
    """18 on 18: 45 is wished, the cap is 33, so 32 with 14 of thread, two thirds of 18 being 12."""
    choice = wood_screw(held_mm=18, base_mm=18, lengths_mm=LENGTHS)
    assert choice.length_mm == 32
    assert choice.enough
    assert choice.reason == (
        "larger of 2.5 x 18 = 45.0 and 18 + 25.0 thread = 43.0; kept to 33.0, 3 short of the 36.0 stack: "
        "32, 14.0 of it in the base (mm)"
    )


def test_too_little_thread_is_said() -> None:
    """25 held on 12: the cap is 34, thread 7 where 16.7 is asked."""
    choice = wood_screw(held_mm=25, base_mm=12, lengths_mm=LENGTHS)
    assert choice.length_mm == 32
    assert not choice.enough


def test_a_shop_without_a_short_screw_is_told_to_add_one() -> None:
    """Both the place and the length are named."""
    with pytest.raises(InvalidInputError) as caught:
        wood_screw(held_mm=6, base_mm=6, lengths_mm=LENGTHS)
    assert str(caught.value) == (
        "screw_lengths_mm: found 25; expected a screw of 9 mm or shorter. Add a shorter screw to the shop file."
    )


@pytest.mark.parametrize(("stock", "length"), [(10, 25), (17.5, 30), (18, 32), (18.5, 32), (22, 35), (45, 64)])
def test_pocket_screws_follow_the_real_thickness(stock: float, length: float) -> None:
    """By hand, straight between the rows: 17.5 gives 30.5, 18 gives 31 (a tie, the longer), 22 gives 35."""
    assert pocket_screw(held_mm=stock, holder_mm=stock, lengths_mm=LENGTHS).length_mm == length


def test_the_thinner_piece_rules_a_pocket_screw() -> None:
    """A 25 mm rail into a 12 mm side takes the 12 mm stock's screw."""
    assert pocket_screw(held_mm=25, holder_mm=12, lengths_mm=LENGTHS).length_mm == 25


def test_a_shop_without_the_pocket_length_is_said() -> None:
    """64 for 38 mm stock, where the longest is 40."""
    assert not pocket_screw(held_mm=38, holder_mm=38, lengths_mm=(25, 32, 40)).enough


def test_a_brad_in_a_thin_moulding_on_a_sheet() -> None:
    """6 mm on 18: 15 wished, not 24 deep; the trade's 19 to 25 mm lies above 2.5 times, so the shortest sold serves."""
    choice = brad(held_mm=6, base_mm=18)
    assert choice.length_mm == 15
    assert choice.enough


def test_a_brad_stays_inside_its_base() -> None:
    """19 on 12: at most 28, so 25."""
    assert brad(held_mm=19, base_mm=12).length_mm == 25


def test_a_wall_screw_that_does_not_reach_is_said() -> None:
    """40 packed leaves too little for a 75: 18 + 40 + 12.5 = 70.5."""
    choice = wall_screw(through_mm=18, gap_mm=40, board_mm=12.5, lengths_mm=LENGTHS)
    assert choice.length_mm == 75
    assert choice.thread_mm == pytest.approx(4.5)
    assert not choice.enough


@pytest.mark.parametrize(
    ("joint", "row"),
    [
        (30, FastenerRow(count=1, spacing_mm=0.0, end_mm=15.0)),
        (45, FastenerRow(count=2, spacing_mm=22.5, end_mm=11.25)),
        (300, FastenerRow(count=2, spacing_mm=200.0, end_mm=50)),
        (301, FastenerRow(count=3, spacing_mm=100.5, end_mm=50)),
        (560, FastenerRow(count=4, spacing_mm=460 / 3, end_mm=50)),
    ],
)
def test_rows_of_fasteners(joint: float, row: FastenerRow) -> None:
    """Never further apart than asked; two at least from 40 mm on."""
    assert row_of_fasteners(joint_mm=joint, spacing_mm=200, end_mm=50) == row
