"""Shelf sag: messages, fixed ends, allowable stress."""

from __future__ import annotations

import pytest

from nookwright.basics.problems import InvalidInputError
from nookwright.trade.sag import allowable_stress, shelf_sag


def test_names_every_bad_size_at_once() -> None:
    """The user mends the whole form in one go."""
    with pytest.raises(InvalidInputError) as caught:
        shelf_sag(load_n_mm=1, span_mm=0, modulus_n_mm2=-1, depth_mm=-300, thickness_mm=-18)
    assert str(caught.value).splitlines() == [
        "span_mm: found 0; expected a length above 0 mm.",
        "modulus_n_mm2: found -1; expected a modulus above 0 N/mm2.",
        "depth_mm: found -300; expected a size above 0 mm.",
        "thickness_mm: found -18; expected a size above 0 mm.",
    ]


def test_fixed_ends_bend_a_fifth_and_shear_the_same() -> None:
    """1/384 beside 5/384; the shear force is the same."""
    simple = shelf_sag(load_n_mm=0.3, span_mm=900, modulus_n_mm2=9000, depth_mm=300, thickness_mm=18)
    fixed = shelf_sag(
        load_n_mm=0.3, span_mm=900, modulus_n_mm2=9000, depth_mm=300, thickness_mm=18, case="even, fixed ends"
    )
    assert simple.bending_mm == pytest.approx(5 * fixed.bending_mm)
    assert simple.shear_mm == fixed.shear_mm
    assert fixed.total_mm == fixed.bending_mm + fixed.shear_mm


def test_allowable_stress_by_hand() -> None:
    """65 x (1 - 1.645 x 0.16) x 0.9 / 2.1 = 65 x 0.7368 x 0.42857 = 20.525."""
    assert allowable_stress(strength_n_mm2=65.0) == pytest.approx(20.525, abs=0.001)
