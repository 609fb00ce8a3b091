"""American Wood Council, National Design Specification for Wood Construction, 2015/2018, and its solved examples.

Table 12.2A (lag screws, p. 77) was read in a municipal permit record; the examples E2.1a, E2.3 and the nail in single
shear as encoded in a public finite-element test suite. Pounds and inches as printed.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from nookwright.trade.fixing_rules import (
    END_GRAIN_LAG,
    bearing_length,
    least_distances,
    slanted_load,
    slanted_nail_load,
)
from nookwright.trade.fixings import (
    LAG_ROOTS_MM,
    MM_PER_INCH,
    N_MM2_PER_PSI,
    N_PER_LB,
    STUD_GRAVITY,
    head_pull_through,
    lag_withdrawal,
    nail_withdrawal,
    screw_withdrawal,
    yield_strength,
)
from nookwright.trade.lateral import Dowel, Held, bearing_strength, lateral_yield, reduction_terms
from nookwright.trade.woods import wood

# specific gravity, diameter [in], withdrawal [lb/in]: Table 12.2A
LAG_TABLE = [
    (0.50, 1 / 4, 225), (0.50, 5 / 16, 266), (0.50, 3 / 8, 305), (0.50, 7 / 16, 342), (0.50, 1 / 2, 378),
    (0.55, 3 / 8, 352), (0.55, 1 / 2, 437),
    (0.42, 1 / 4, 173), (0.42, 5 / 16, 205), (0.42, 3 / 8, 235), (0.42, 7 / 16, 264),
    (0.43, 5 / 16, 212), (0.43, 3 / 8, 243), (0.43, 7 / 16, 273),
    (0.35, 1 / 4, 132), (0.35, 5 / 16, 156), (0.35, 3 / 8, 179), (0.35, 7 / 16, 200), (0.35, 1 / 2, 222),
    (0.67, 5 / 16, 413), (0.67, 3 / 8, 473), (0.67, 7 / 16, 531),
]  # fmt: skip

# Published examples of screws: an engineering reference page prints 109 for G 0.45, No. 10 (0.190 in).
SCREW_EXAMPLE = (0.45, 0.190, 109)

# AWC example E2.1a: G 0.42, D 0.131 in, 20.667 lb/in; 2.395 in of it hold 49.5 lb.
NAIL_EXAMPLE = (0.42, 0.131, 20.667)

LB_PER_INCH = N_PER_LB / MM_PER_INCH


@pytest.mark.parametrize(("gravity", "diameter", "printed"), LAG_TABLE)
def test_lag_screws_hold_what_the_table_prints(gravity: float, diameter: float, printed: float) -> None:
    """Every row read, to the pound."""
    found = lag_withdrawal(gravity=gravity, diameter_mm=diameter * MM_PER_INCH) / LB_PER_INCH
    assert found == pytest.approx(printed, abs=0.75)


def test_lag_example_e2_3() -> None:
    """Southern pine 0.55, 1/2 in, 2.1875 in of thread: 436.56 lb/in and 954.98 lb."""
    per_inch = lag_withdrawal(gravity=0.55, diameter_mm=0.5 * MM_PER_INCH) / LB_PER_INCH
    assert per_inch == pytest.approx(436.56, abs=0.01)
    assert per_inch * 2.1875 == pytest.approx(954.98, abs=0.02)
    assert END_GRAIN_LAG == 0.75  # clause 12.5.2


def test_wood_screw_example() -> None:
    """The page prints 109 lb/in, rounded down from 109.7."""
    gravity, diameter, printed = SCREW_EXAMPLE
    found = screw_withdrawal(gravity=gravity, diameter_mm=diameter * MM_PER_INCH) / LB_PER_INCH
    assert printed <= found < printed + 1


def test_nail_example_e2_1a() -> None:
    """To the third decimal; then 2.395 in of it."""
    gravity, diameter, printed = NAIL_EXAMPLE
    found = nail_withdrawal(gravity=gravity, diameter_mm=diameter * MM_PER_INCH) / LB_PER_INCH
    assert found == pytest.approx(printed, abs=0.0006)
    assert found * 2.395 == pytest.approx(49.5, abs=0.05)


@pytest.mark.parametrize(
    ("gravity", "psi"), [(0.36, 2533.4), (0.42, 3364.2), (0.50, 4636.7), (0.55, 5525.5), (0.67, 7944.9)]
)
def test_bearing_strength(gravity: float, psi: float) -> None:
    """Fe = 16600 G^1.84 for thin fasteners; table rows round these to 50 psi."""
    assert bearing_strength(gravity) / N_MM2_PER_PSI == pytest.approx(psi, abs=0.06)


def _modes(main_gravity: float = 0.50, side_gravity: float = 0.50) -> tuple[float, ...]:
    """Return the six modes of the example: 10d common nail, 3/4 in side piece. [lb]"""
    diameter = 0.148 * MM_PER_INCH
    found = lateral_yield(
        dowel=Dowel(diameter_mm=diameter, rated_mm=diameter, yield_n_mm2=90000 * N_MM2_PER_PSI),
        main=Held(length_mm=2.25 * MM_PER_INCH, bearing_n_mm2=bearing_strength(main_gravity)),
        side=Held(length_mm=0.75 * MM_PER_INCH, bearing_n_mm2=bearing_strength(side_gravity)),
    )
    modes = (found.i_m, found.i_s, found.ii, found.iii_m, found.iii_s, found.iv)
    assert found.governing_n == min(modes)
    return tuple(mode / N_PER_LB for mode in modes)


def test_yield_modes_of_the_solved_example() -> None:
    """D 0.148 x 3 in, G 0.50 both: 701.8, 233.9, (II), 243.7, 105.1 (governs), 117.4 lb."""
    i_m, i_s, _, iii_m, iii_s, iv = _modes()
    assert (i_m, i_s) == pytest.approx((701.8, 233.9), abs=0.1)
    assert (iii_m, iii_s, iv) == pytest.approx((243.7, 105.1, 117.4), abs=0.1)


def _johansen(main_gravity: float, side_gravity: float) -> tuple[float, float]:
    """Return modes II and III_m of the example nail straight from the plastic equilibrium of the dowel. [lb]

    Bearing q_m = Fem D and q_s = Fes D, plastic moment My = Fyb D^3 / 6, all divided by Rd = 2.2 (D below 0.17 in).
    Both solved by bisection on R, the shear carried, from moment balance at the joint plane: a piece that turns
    straight or bends gives a moment at the joint plane, and the two pieces' moments cancel.
    """
    d, lm, ls, fyb, rd = 0.148, 2.25, 0.75, 90000.0, 2.2
    qm, qs = 16600 * main_gravity**1.84 * d, 16600 * side_gravity**1.84 * d
    my = fyb * d**3 / 6

    # The balance is a polynomial; its root is mode II even where the weak piece would crush first (then I_s governs).
    def straight(q: float, length: float, r: float) -> float:
        # Uniform bearing q over a, then -q over length - a: r = q (2 a - length); moment about the joint plane.
        a = (r / q + length) / 2
        return -q * a**2 / 2 + q * (length**2 - a**2) / 2

    def bent(q: float, r: float) -> float:
        # Bearing q over x = r / q up to the plastic hinge: moment at the joint plane.
        return my - r**2 / (2 * q)

    def solve(balance: Callable[[float], float], high: float) -> float:
        low = 0.0
        for _ in range(200):
            middle = (low + high) / 2
            low, high = (middle, high) if balance(middle) > 0 else (low, middle)
        return low / rd

    two = solve(lambda r: straight(qm, lm, r) + straight(qs, ls, r), qm * lm + qs * ls)
    three_m = solve(lambda r: straight(qm, lm, r) + bent(qs, r), qm * lm)
    return two, three_m


@pytest.mark.parametrize(("main", "side"), [(0.50, 0.50), (0.42, 0.67), (0.67, 0.42)])
def test_modes_ii_and_iii_agree_with_the_plastic_equilibrium(main: float, side: float) -> None:
    """k1 and k2 come out of moment balance, also where the two woods differ (a public code has k2 wrong there)."""
    modes = _modes(main, side)
    two, three_m = _johansen(main, side)
    assert modes[2] == pytest.approx(two, rel=1e-6)
    assert modes[3] == pytest.approx(three_m, rel=1e-6)


def test_studs_are_reckoned_as_spruce_pine_fir() -> None:
    """Table 12.3.3A: Spruce-Pine-Fir 0.42, Douglas-fir-larch 0.50, red oak 0.67."""
    assert STUD_GRAVITY == 0.42
    gravities = [wood(key).gravity for key in ("douglas-fir", "red-oak")]
    assert [each.value for each in gravities if each is not None] == [0.50, 0.67]


@pytest.mark.parametrize(
    "wrong",
    [
        lambda g, d: 1800 * g**2 * d**0.75,
        lambda g, d: 1800 * g**1.5 * d,
        lambda g, d: 1800 * g**1.5 * d**0.7,
        lambda g, d: 1808 * g**1.5 * d**0.75,
    ],
)
def test_a_wrong_lag_formula_disagrees_with_the_table(wrong: Callable[[float, float], float]) -> None:
    """Another exponent, or a constant half a percent off, misses at least one printed pound."""
    assert max(abs(wrong(g, d) - printed) for g, d, printed in LAG_TABLE) > 0.75


def test_a_nail_exponent_of_2_is_rejected() -> None:
    """One public page misprints 5/2 as 2."""
    gravity, diameter, printed = NAIL_EXAMPLE
    assert abs(1380 * gravity**2 * diameter - printed) > 1


@pytest.mark.parametrize("wrong", [lambda g, d: 2850 * g**1.5 * d, lambda g, d: 2850 * g**2 * d**0.75])
def test_a_wrong_screw_exponent_is_rejected(wrong: Callable[[float, float], float]) -> None:
    """The example's pound notices."""
    gravity, diameter, printed = SCREW_EXAMPLE
    assert not printed <= wrong(gravity, diameter) < printed + 1


def test_a_slanted_screw_lies_between_both_pulls() -> None:
    """By hand: at 45 degrees W Z / (W/2 + Z/2), the harmonic mean; a nail loses a further root of 2 over that."""
    half = 3.141592653589793 / 4
    assert slanted_load(withdrawal_n=300, lateral_n=200, angle_rad=half) == pytest.approx(2 * 300 * 200 / 500)
    nail = slanted_nail_load(withdrawal_n=300, lateral_n=200, angle_rad=half)
    assert nail == pytest.approx(300 * 200 / (500 * 2**-0.5))
    assert slanted_load(withdrawal_n=300, lateral_n=200, angle_rad=2 * half) == pytest.approx(300)


def test_a_shallow_screw_carries_nothing_across() -> None:
    """12.1.5.6: below 6 diameters; from there half of its point, one diameter, does not bear."""
    assert bearing_length(diameter_mm=5.0, depth_mm=29.0) == 0
    assert bearing_length(diameter_mm=5.0, depth_mm=30.0) == 25.0


def test_a_head_draws_no_deeper_than_two_and_a_half_diameters() -> None:
    """12.2-6b is 12.2-6a at t = 2.5 D_H: 690 x 2.5 = 1725. By hand in pounds: 1725 x pi x 0.3^2 x 0.5^2."""
    head = 0.3 * MM_PER_INCH
    thick = head_pull_through(gravity=0.5, head_mm=head, side_mm=50.0) / N_PER_LB
    assert thick == pytest.approx(1725 * 3.141592653589793 * 0.09 * 0.25)
    assert head_pull_through(gravity=0.5, head_mm=head, side_mm=60.0) / N_PER_LB == pytest.approx(thick)


@pytest.mark.parametrize(
    ("inch", "psi"),
    [(0.131, 100_000), (0.148, 90_000), (0.162, 90_000), (0.192, 80_000), (0.25, 70_000), (0.5, 45_000)],
)
def test_yield_strength_by_band(inch: float, psi: float) -> None:
    """Table I1: thin wire is drawn harder."""
    assert yield_strength(inch * MM_PER_INCH) / N_MM2_PER_PSI == pytest.approx(psi)


def test_reduction_terms_by_hand() -> None:
    """Table 12.3.1B: 2.2; 10 x 0.19 + 0.5 = 2.4; K_theta at 90 degrees 1.25; a 1/4 in lag by its root 0.173 in."""

    def dowel(outside: float, root: float) -> Dowel:
        return Dowel(diameter_mm=root * MM_PER_INCH, rated_mm=outside * MM_PER_INCH, yield_n_mm2=500)

    right = 3.141592653589793 / 2
    assert reduction_terms(dowel(0.148, 0.148), 0) == pytest.approx((2.2, 2.2, 2.2))
    assert reduction_terms(dowel(0.19, 0.152), right) == pytest.approx((2.4, 2.4, 2.4))
    assert reduction_terms(dowel(0.5, 0.371), right) == pytest.approx((5.0, 4.5, 4.0))
    lag = LAG_ROOTS_MM[0.25 * MM_PER_INCH] / MM_PER_INCH
    assert reduction_terms(dowel(0.25, lag), right) == pytest.approx(((10 * 0.173 + 0.5) * 1.25,) * 3)


def test_drilling_lets_screws_stand_nearer() -> None:
    """C12.1.5.7 as recalled: ends 15 D, drilled 10 D."""
    assert least_distances(diameter_mm=4, drilled=False).end_mm == 60
    assert least_distances(diameter_mm=4, drilled=True).end_mm == 40
