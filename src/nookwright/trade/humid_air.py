"""Moist air: how damp a room becomes when outside air is warmed, and how damp a cold wall's surface is."""

from __future__ import annotations

import math

SEA_LEVEL_PA = 101325.0
"""Air pressure at sea level. Source: [humid-air]."""

FREEZING_C = 0.01
"""The triple point: below it vapour stands over ice. Source: [humid-air]."""

VAPOUR_RATIO = 0.621945
"""Mass of vapour over mass of dry air, at equal pressures. Source: [humid-air] Eq. 22. Status: read."""

_OVER_ICE = (-5.6745359e3, 6.3925247, -9.677843e-3, 6.2215701e-7, 2.0747825e-9, -9.484024e-13, 4.1635019)
_OVER_WATER = (-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 0.0, 6.5459673)


def saturation_pressure(temperature_c: float) -> float:
    r"""Return the pressure of vapour in air that can hold no more.

    $\ln p = C_1 / T + C_2 + C_3 T + C_4 T^2 + C_5 T^3 + C_6 T^4 + C_7 \ln T$, T in kelvin

    Args:
        temperature_c: of the air. [C]

    Returns:
        Pressure. [Pa]

    Valid:
        -100 to 200 C.

    Source:
        [humid-air] Eq. 5 over ice, Eq. 6 over water. Status: read.

    Example:
        >>> round(saturation_pressure(20.0), 1)
        2338.8
    """
    T = temperature_c + 273.15
    c = _OVER_ICE if temperature_c <= FREEZING_C else _OVER_WATER
    power = c[0] / T + c[1] + c[2] * T + c[3] * T**2 + c[4] * T**3 + c[5] * T**4 + c[6] * math.log(T)
    return math.exp(power)


def dew_point(*, temperature_c: float, humidity_pct: float) -> float:
    """Return the temperature at which air of a given warmth and humidity begins to wet a surface.

    Args:
        temperature_c: of the air. [C]
        humidity_pct: relative humidity, above 0. [%]

    Returns:
        Dew point. [C]

    Valid:
        -60 C and above; found by halving.

    Source:
        [humid-air] Eq. 5 and 6, inverted. Status: read.

    Example:
        >>> round(dew_point(temperature_c=20.0, humidity_pct=50.0), 2)
        9.27
    """
    vapour = humidity_pct / 100 * saturation_pressure(temperature_c)
    low, high = -100.0, temperature_c
    for _ in range(50):
        middle = (low + high) / 2
        low, high = (middle, high) if saturation_pressure(middle) < vapour else (low, middle)
    return (low + high) / 2


def warmed_humidity(*, outside_c: float, outside_pct: float, inside_c: float) -> float:
    r"""Return how damp outside air is once it is warmed indoors, with nothing added.

    $h_i = h_o p_s(T_o) / p_s(T_i)$

    Args:
        outside_c: outside warmth. [C]
        outside_pct: outside relative humidity. [%]
        inside_c: room warmth. [C]

    Returns:
        Relative humidity indoors. [%]

    Valid:
        No moisture added: people, kitchens and plants make rooms damper than this.

    Source:
        [humid-air]. Status: read.

    Example:
        >>> round(warmed_humidity(outside_c=-5.0, outside_pct=80.0, inside_c=20.0), 2)
        13.74
    """
    return outside_pct * saturation_pressure(outside_c) / saturation_pressure(inside_c)


def surface_humidity(*, room_c: float, room_pct: float, surface_c: float) -> float:
    r"""Return how damp room air is against a colder surface; 100 and more wets it.

    $h_s = h p_s(T) / p_s(T_s)$

    Args:
        room_c: room warmth. [C]
        room_pct: room humidity. [%]
        surface_c: warmth of the surface. [C]

    Returns:
        Relative humidity at the surface, 100 or more where it is wet. [%]

    Source:
        [humid-air]. Status: read.

    Example:
        >>> round(surface_humidity(room_c=20.0, room_pct=50.0, surface_c=12.0))
        83
    """
    return room_pct * saturation_pressure(room_c) / saturation_pressure(surface_c)


def humidity_ratio(*, temperature_c: float, humidity_pct: float, pressure_pa: float = SEA_LEVEL_PA) -> float:
    r"""Return the mass of vapour for each mass of dry air.

    $W = 0.621945 p_w / (p - p_w)$

    Args:
        temperature_c: of the air. [C]
        humidity_pct: relative humidity. [%]
        pressure_pa: of the air. [Pa]

    Returns:
        Humidity ratio.

    Source:
        [humid-air] Eq. 22. Status: read.

    Example:
        >>> round(humidity_ratio(temperature_c=20.0, humidity_pct=50.0), 5)
        0.00726
    """
    vapour = humidity_pct / 100 * saturation_pressure(temperature_c)
    return VAPOUR_RATIO * vapour / (pressure_pa - vapour)


def humidity_from_wet_bulb(*, dry_c: float, wet_c: float, pressure_pa: float = SEA_LEVEL_PA) -> float:
    r"""Return relative humidity from a dry and a wet thermometer.

    $W = ((2501 - 2.326 T_w) W_s - 1.006 (T - T_w)) / (2501 + 1.86 T - 4.186 T_w)$; over ice with 2830, 0.24 and 2.1

    Args:
        dry_c: T. [C]
        wet_c: T_w. [C]
        pressure_pa: of the air. [Pa]

    Returns:
        Relative humidity. [%]

    Source:
        [humid-air] Eq. 33 and 35. Status: read.

    Example:
        >>> round(humidity_from_wet_bulb(dry_c=20.0, wet_c=14.0), 2)
        51.56
    """
    T, Tw = dry_c, wet_c
    full = humidity_ratio(temperature_c=Tw, humidity_pct=100.0, pressure_pa=pressure_pa)
    if Tw >= 0:
        W = ((2501 - 2.326 * Tw) * full - 1.006 * (T - Tw)) / (2501 + 1.86 * T - 4.186 * Tw)
    else:
        W = ((2830 - 0.24 * Tw) * full - 1.006 * (T - Tw)) / (2830 + 1.86 * T - 2.1 * Tw)
    vapour = pressure_pa * W / (VAPOUR_RATIO + W)
    return 100 * vapour / saturation_pressure(T)
