"""Scribe allowance, packers, socket holes, coats: small rules by hand."""

from __future__ import annotations

import pytest

from nookwright.trade.coatings import litres
from nookwright.trade.creep import long_term_sag
from nookwright.trade.movement import slot_length
from nookwright.trade.scribing import scribe_allowance
from nookwright.trade.shimming import packer_kind, solid_packer
from nookwright.trade.wiring import plate_cover


def test_scribe_allowance_is_range_plus_two_sd_plus_three() -> None:
    """(12 - 2) + 2 x 1.5 + 3 = 16."""
    assert scribe_allowance(least_gap_mm=2, greatest_gap_mm=12, sd_mm=1.5) == 16


def test_a_true_wall_still_gets_the_saw_line() -> None:
    """No range, no doubt: 3."""
    assert scribe_allowance(least_gap_mm=0, greatest_gap_mm=0, sd_mm=0) == 3


@pytest.mark.parametrize(
    ("height", "kind", "solid"),
    [
        (3, "thin piece", 0),
        (10, "tapered pair", 0),
        (20, "solid piece and tapered pair", 14),
    ],
)
def test_packers_by_height(height: float, kind: str, solid: float) -> None:
    """The kinds, and the solid packer that leaves 6 mm to the tapered pair."""
    assert packer_kind(height) == kind
    assert solid_packer(height) == solid


def test_a_plate_covers_half_the_difference_less_the_doubt() -> None:
    """(86 - 76) / 2 - 2 x 1 = 3; a plate hardly larger than the hole may show it."""
    assert plate_cover(plate_mm=86, hole_mm=76, sd_mm=1.0) == 3
    assert plate_cover(plate_mm=82, hole_mm=80, sd_mm=1.0) == -1


def test_only_the_load_that_stays_creeps() -> None:
    """Half of the load stays: 2 x (1 + 0.5 x 0.8) = 2.8."""
    assert long_term_sag(initial_mm=2, creep=1.8, permanent_share=0.5) == pytest.approx(2.8)


def test_a_slot_adds_three_to_the_movement() -> None:
    """600 x 0.00353 x 3 + 3 = 9.354."""
    found = slot_length(from_fixed_line_mm=600, coefficient=0.00353, low_pct=6.2, high_pct=9.2)
    assert found == pytest.approx(9.354)


def test_litres_of_a_coat() -> None:
    """30 m2 at 12 m2 a litre, a tenth lost."""
    assert litres(area_m2=30, cover_m2_per_litre=12, waste_factor=1.1) == pytest.approx(2.75)
