"""Quantiles against printed tables."""

from __future__ import annotations

import numpy as np
import pytest

from nookwright.solvers.chance import chi_square_quantile, normal_quantile


@pytest.mark.parametrize(
    ("dof", "printed"), [(1, 3.841), (2, 5.991), (5, 11.070), (10, 18.307), (30, 43.773), (100, 124.342)]
)
def test_chi_square_quantiles_are_those_of_the_tables(dof: int, printed: float) -> None:
    """Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4, upper 5 % points (recalled)."""
    assert chi_square_quantile(probability=0.95, dof=dof) == pytest.approx(printed, abs=6e-4)


def test_chi_square_of_two_is_exponential() -> None:
    """By hand: with two degrees of freedom the quantile is -2 ln(1 - p)."""
    assert chi_square_quantile(probability=0.5, dof=2) == pytest.approx(2 * np.log(2))


def test_normal_quantiles_are_those_of_the_tables() -> None:
    """Source: the usual table of the normal distribution (recalled)."""
    assert normal_quantile(0.975) == pytest.approx(1.95996, abs=1e-5)
    assert normal_quantile(0.9995) == pytest.approx(3.29053, abs=1e-5)
