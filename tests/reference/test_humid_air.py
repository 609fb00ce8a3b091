"""ASHRAE Handbook, Fundamentals (2017), chapter 1, against psychrolib, an independent program."""

from __future__ import annotations

import psychrolib
import pytest

from nookwright.trade.humid_air import (
    SEA_LEVEL_PA,
    dew_point,
    humidity_from_wet_bulb,
    humidity_ratio,
    saturation_pressure,
    surface_humidity,
    warmed_humidity,
)

psychrolib.SetUnitSystem(psychrolib.SI)


@pytest.mark.parametrize("celsius", [-40, -20, -5, -0.5, 0.0, 0.5, 5, 12, 20, 21.1, 35, 60])
def test_saturation_pressure(celsius: float) -> None:
    """Over ice and over water."""
    assert saturation_pressure(celsius) == pytest.approx(psychrolib.GetSatVapPres(celsius), rel=1e-9)


@pytest.mark.parametrize("celsius", [-10, 3, 20, 35])
@pytest.mark.parametrize("humidity", [10, 35, 50, 80, 99])
def test_dew_point_and_ratio(celsius: float, humidity: float) -> None:
    """Dew point to a hundredth of a degree, ratio to a millionth of itself."""
    theirs = psychrolib.GetTDewPointFromRelHum(celsius, humidity / 100)
    assert dew_point(temperature_c=celsius, humidity_pct=humidity) == pytest.approx(theirs, abs=0.01)
    ratio = psychrolib.GetHumRatioFromRelHum(celsius, humidity / 100, SEA_LEVEL_PA)
    assert humidity_ratio(temperature_c=celsius, humidity_pct=humidity) == pytest.approx(ratio, rel=1e-6)


@pytest.mark.parametrize(("dry", "wet"), [(20, 14), (35, 21), (5, 3), (-2, -3), (24, 23.9)])
@pytest.mark.parametrize("pressure", [101325.0, 85000.0])
def test_wet_bulb(dry: float, wet: float, pressure: float) -> None:
    """Above and below freezing, at sea level and 1400 m up."""
    theirs = 100 * psychrolib.GetRelHumFromTWetBulb(dry, wet, pressure)
    assert humidity_from_wet_bulb(dry_c=dry, wet_c=wet, pressure_pa=pressure) == pytest.approx(theirs, abs=1e-6)


@pytest.mark.parametrize(("outside", "humidity", "inside"), [(-5, 80, 20), (-20, 90, 21), (10, 60, 22), (28, 70, 24)])
def test_warming_keeps_the_vapour(outside: float, humidity: float, inside: float) -> None:
    """Same vapour pressure, another saturation."""
    vapour = psychrolib.GetVapPresFromRelHum(outside, humidity / 100)
    theirs = 100 * psychrolib.GetRelHumFromVapPres(inside, vapour)
    assert warmed_humidity(outside_c=outside, outside_pct=humidity, inside_c=inside) == pytest.approx(theirs, rel=1e-9)


def test_a_surface_at_the_dew_point_is_wet() -> None:
    """There the humidity is 100; one degree above it less."""
    at = psychrolib.GetTDewPointFromRelHum(21.0, 0.55)
    assert surface_humidity(room_c=21, room_pct=55, surface_c=at) == pytest.approx(100, abs=0.05)
    assert surface_humidity(room_c=21, room_pct=55, surface_c=at + 1) < 95
