"""USDA Forest Products Laboratory, FPL-RN-0268: equilibrium moisture content of wood.

The equation and its coefficients were read in two unrelated public programs that cite the note; the two sets
(Fahrenheit and Celsius) are independent typings, so each checks the other. The rule-of-thumb rows are printed in a
woodworking trade column.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from nookwright.trade.movement import emc_celsius, emc_fahrenheit

ROWS_70_F = [(20, 4.49), (30, 6.17), (40, 7.70), (50, 9.25), (60, 10.97), (65, 11.96), (80, 16.00), (90, 20.49)]
ROWS_20_C = [(50, 9.27), (65, 12.00)]
TRADE_COLUMN = [(30, 6), (50, 9), (65, 12), (80, 16)]


@pytest.mark.parametrize(("humidity", "moisture"), ROWS_70_F)
def test_rows_at_70_f(humidity: float, moisture: float) -> None:
    """To the second decimal."""
    assert emc_fahrenheit(temperature_f=70, humidity_pct=humidity) == pytest.approx(moisture, abs=0.005)


@pytest.mark.parametrize(("humidity", "moisture"), ROWS_20_C)
def test_rows_at_20_c(humidity: float, moisture: float) -> None:
    """To the second decimal."""
    assert emc_celsius(temperature_c=20, humidity_pct=humidity) == pytest.approx(moisture, abs=0.005)


def test_the_published_spot_check() -> None:
    """At 140 F and 55 % an encyclopaedia copy prints 8.4 by the equation (8.0 in the table)."""
    assert emc_fahrenheit(temperature_f=140, humidity_pct=55) == pytest.approx(8.4, abs=0.05)


@pytest.mark.parametrize(("humidity", "moisture"), TRADE_COLUMN)
def test_the_rule_of_thumb_agrees(humidity: float, moisture: float) -> None:
    """The trade's rounded indoor values, within the half percent that table and equation differ by."""
    assert emc_celsius(temperature_c=21, humidity_pct=humidity) == pytest.approx(moisture, abs=0.5)


@pytest.mark.parametrize("fahrenheit", range(30, 121, 10))
@pytest.mark.parametrize("humidity", range(5, 96, 15))
def test_both_unit_forms_agree(fahrenheit: int, humidity: int) -> None:
    """Within 0.013 % moisture over 30 to 120 F and 5 to 95 % humidity, as found for the two typings."""
    in_f = emc_fahrenheit(temperature_f=fahrenheit, humidity_pct=humidity)
    in_c = emc_celsius(temperature_c=(fahrenheit - 32) / 1.8, humidity_pct=humidity)
    assert in_f == pytest.approx(in_c, abs=0.0135)


def _twin(k2_slope: float = 0.0284, doubled: float = 2.0, w_slope: float = 0.452) -> Callable[[float], float]:
    """Return the equation at 70 F with one of its coefficients changed."""

    def emc(humidity_pct: float) -> float:
        t, h = 70.0, humidity_pct / 100
        w = 330 + w_slope * t + 0.00415 * t**2
        k = 0.791 + 0.000463 * t - 0.000000844 * t**2
        k1 = 6.34 + 0.000775 * t - 0.0000935 * t**2
        k2 = 1.09 + k2_slope * t - 0.0000904 * t**2
        kh = k * h
        second = (k1 * kh + doubled * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2)
        return 1800 / w * (kh / (1 - kh) + second)

    return emc


def _worst(formula: Callable[[float], float]) -> float:
    """Return the greatest disagreement with the rows at 70 F. [%]"""
    return max(abs(formula(humidity) - moisture) for humidity, moisture in ROWS_70_F)


def test_the_unchanged_twin_agrees() -> None:
    """The harness itself reproduces the rows, so that what follows rejects the change and not the harness."""
    assert _worst(_twin()) < 0.005


@pytest.mark.parametrize("wrong", [_twin(k2_slope=0.0248), _twin(doubled=1.0), _twin(w_slope=0.542), math.sqrt])
def test_a_wrong_coefficient_is_rejected(wrong: Callable[[float], float]) -> None:
    """Two digits swapped, a factor 2 lost: the rows notice."""
    assert _worst(wrong) > 0.005
