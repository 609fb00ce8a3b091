"""Architectural Woodwork Standards, 1st edition (2009), 4.4.14.10.11-13, p. 279: longest shelf spans.

Loads 40 and 50 lb/ft2, sag span/144 (1.2.21.3.1.1, p. 253), inches as printed. The table prints whole inches, neither
always down nor always nearest (49.71 prints 49, 45.98 prints 46), so a computed span may lie 0.75 in from it.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from nookwright.trade.fixings import MM_PER_INCH, N_MM2_PER_PSI, N_PER_LB
from nookwright.trade.sag import span_limit

# material, E [psi], thickness [in], load [lb/ft2], span printed [in]
SPANS = [
    ("Douglas-fir plywood", 0.95e6, 0.75, 40, 40), ("Douglas-fir plywood", 0.95e6, 0.75, 50, 37),
    ("Douglas-fir plywood", 0.95e6, 1.0, 40, 53), ("Douglas-fir plywood", 0.95e6, 1.0, 50, 49),
    ("plywood, hardwood faces", 1.80e6, 0.75, 40, 49), ("plywood, hardwood faces", 1.80e6, 0.75, 50, 46),
    ("plywood, hardwood faces", 1.80e6, 1.0, 40, 66), ("plywood, hardwood faces", 1.80e6, 1.0, 50, 61),
    ("red oak", 1.82e6, 0.75, 40, 49), ("red oak", 1.82e6, 0.75, 50, 46),
    ("red oak", 1.82e6, 1.0, 40, 66), ("red oak", 1.82e6, 1.0, 50, 61),
]  # fmt: skip

TOLERANCE_INCH = 0.75


@pytest.mark.parametrize(("material", "psi", "thickness", "load", "printed"), SPANS)
def test_every_printed_span(material: str, psi: float, thickness: float, load: float, printed: float) -> None:
    """A shelf 10 in deep; the depth cancels out."""
    depth = 10 * MM_PER_INCH
    pressure = load * N_PER_LB / (12 * MM_PER_INCH) ** 2
    span = span_limit(
        load_n_mm=pressure * depth,
        sag_ratio=144,
        modulus_n_mm2=psi * N_MM2_PER_PSI,
        depth_mm=depth,
        thickness_mm=thickness * MM_PER_INCH,
    )
    assert span / MM_PER_INCH == pytest.approx(printed, abs=TOLERANCE_INCH), material


def _worst(formula: Callable[[float, float, float], float]) -> float:
    """Return the greatest disagreement of a formula of E, t and load per square inch with the table. [in]"""
    return max(abs(formula(E, t, q / 144) - printed) for _, E, t, q, printed in SPANS)


def test_the_plain_formula_in_inches_agrees() -> None:
    """The harness reproduces the table with the true formula: L^3 = 384 E t^3 / (12 x 5 q x 144)."""
    assert _worst(lambda E, t, q: (384 * E * t**3 / (12 * 5 * q * 144)) ** (1 / 3)) <= TOLERANCE_INCH  # noqa: N803


@pytest.mark.parametrize(
    "wrong",
    [
        lambda E, t, q: (384 * E * t**3 / (12 * 5 * q * 144)) ** (1 / 4),  # noqa: N803
        lambda E, t, q: (384 * E * t**3 / (12 * 1 * q * 144)) ** (1 / 3),  # noqa: N803  fixed ends
        lambda E, t, q: (384 * E * t**3 / (12 * 5 * q * 180)) ** (1 / 3),  # noqa: N803  another limit
        lambda E, t, q: (384 * E * t**2 / (12 * 5 * q * 144)) ** (1 / 3),  # noqa: N803
        lambda E, t, q: (384 * E * t**3 / (12 * 4.8 * q * 144)) ** (1 / 3),  # noqa: N803
    ],
)
def test_a_wrong_span_formula_is_rejected(wrong: Callable[[float, float, float], float]) -> None:
    """Another exponent, support, limit or coefficient misses the table by more than its rounding."""
    assert _worst(wrong) > TOLERANCE_INCH
