"""Figures the trade quotes: door gaps, fastener lengths, gaps that caulk covers.

Read in trade articles: inset door 3/16 in and pair 9/32 in less than the opening; screw 2.5 times the piece held;
caulk to 1/4 in, backing to 1/2 in. Pocket lengths: common practice.
"""

from __future__ import annotations

import pytest

from nookwright.trade.doors import INSET_PAIR_MM, INSET_SINGLE_MM
from nookwright.trade.fastener_choice import brad, pocket_screw, wall_screw, wood_screw
from nookwright.trade.scribing import BACKED_MM, CAULK_MM, WIDEST_SCRIBE_MM
from nookwright.trade.shimming import GREATEST_TAPER_MM

LENGTHS = (25, 30, 32, 35, 38, 40, 45, 50, 60, 64, 70, 75, 80, 90, 100)


def test_door_gaps_are_the_printed_inches() -> None:
    """3/16 and 9/32 in, to a tenth of a millimetre."""
    assert pytest.approx(25.4 * 3 / 16, abs=0.05) == INSET_SINGLE_MM
    assert pytest.approx(25.4 * 9 / 32, abs=0.05) == INSET_PAIR_MM


def test_widest_scribe_and_greatest_shims_are_the_printed_inches() -> None:
    """Architectural Woodwork Standards: scribe 1-1/2 in, toe base shims 1/2 in."""
    assert pytest.approx(25.4 * 1.5, abs=0.2) == WIDEST_SCRIBE_MM
    assert pytest.approx(25.4 / 2) == GREATEST_TAPER_MM


@pytest.mark.parametrize(("stock", "length"), [(12, 25), (19, 32), (25, 38), (38, 64)])
def test_pocket_screws_of_the_nominal_stocks(stock: float, length: float) -> None:
    """The four rows of the trade's table."""
    assert pocket_screw(held_mm=stock, holder_mm=stock, lengths_mm=LENGTHS).length_mm == length


def test_a_trim_nail_for_a_19_mm_board_over_plasterboard() -> None:
    """The article: 3/4 in base takes a 2-1/2 in nail; 2.5 x 19 = 47.5, so the longest brad up to that is 45."""
    assert brad(held_mm=19, base_mm=100).length_mm == 45


def test_a_screw_through_18_mm_into_an_edge() -> None:
    """2.5 x 18 = 45."""
    assert wood_screw(held_mm=18, base_mm=300, lengths_mm=LENGTHS).length_mm == 45


def test_a_cabinet_screw_into_a_stud() -> None:
    """The article's 2-1/2 to 3 in screw: 18 rail + 3 gap + 12.5 board + 30 = 63.5, so 64."""
    assert wall_screw(through_mm=18, gap_mm=3, board_mm=12.5, lengths_mm=LENGTHS).length_mm == 64


def test_what_closes_a_gap() -> None:
    """The article's steps: caulk to 1/4 in, over a backing to 1/2 in; to a tenth of a millimetre."""
    assert pytest.approx(25.4 / 4, abs=0.06) == CAULK_MM
    assert pytest.approx(25.4 / 2) == BACKED_MM
