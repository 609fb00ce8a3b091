"""Read numbers with a unit that are not lengths: loads, coverage, times and pack contents."""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from nookwright.basics.lengths import Units, UnreadableTextError

AmountUnit = Literal["", "kg", "kg/m", "mm/m", "N", "m2/l", "h", "days", "pieces", "counted", "l", "m"]

_POUND_KG, _FOOT_M, _GALLON_L = 0.45359237, 0.3048, 3.785411784
"""Exact by definition: international pound and foot, US liquid gallon. Status: recalled."""

_STANDARD_GRAVITY_M_S2 = 9.80665
"""Exact by definition. Status: recalled."""

_FACTORS: Mapping[AmountUnit, Mapping[str, float]] = {
    "": {},
    "kg": {"kg": 1.0, "lb": _POUND_KG},
    "kg/m": {"kg/m": 1.0, "lb/ft": _POUND_KG / _FOOT_M},
    "mm/m": {"mm/m": 1.0, "in/ft": 1000.0 / 12.0},
    "N": {"N": 1.0, "lbf": _POUND_KG * _STANDARD_GRAVITY_M_S2, "lb": _POUND_KG * _STANDARD_GRAVITY_M_S2},
    "m2/l": {"m2/l": 1.0, "ft2/gal": _FOOT_M**2 / _GALLON_L},
    "h": {"h": 1.0, "days": 24.0, "hours": 1.0, "day": 24.0},
    "days": {"days": 1.0, "h": 1.0 / 24.0, "hours": 1.0 / 24.0, "day": 1.0},
    "pieces": {
        "pieces": 1.0, "l": 1.0, "litres": 1.0, "ml": 0.001, "gal": _GALLON_L, "qt": _GALLON_L / 4.0,
        "m": 1.0, "ft": _FOOT_M, "sheets": 1.0, "tubes": 1.0,
    },
    "counted": {"pieces": 1.0, "sheets": 1.0},
    "l": {"l": 1.0, "gal": _GALLON_L, "qt": _GALLON_L / 4.0, "ml": 0.001, "litres": 1.0},
    "m": {"m": 1.0, "ft": _FOOT_M},
}  # fmt: skip
_AMOUNT = re.compile(r"([+-]?\d{1,12}(?:[.,]\d{1,20}|/[1-9]\d{0,11})?)\s*(\S+)?")
_MARKED = re.compile(r"\d+(?:[.,' \u2019]\d+)+")
"""Figures with points, commas, blanks or the like between them."""
_MONEY = re.compile(r"\d{1,12}(?:\.\d{1,2})?")


def show_mass(kg: float, units: Units) -> str:
    """Return a mass as people say it: `26 kg` or `58 lb`."""
    return f"{kg:.0f} kg" if units == "mm" else f"{kg / _POUND_KG:.0f} lb"


def read_amount(text: str, *, unit: AmountUnit) -> float:
    """Return a number, turned into the unit asked for.

    Args:
        text: for example `37`, `37 kg/m`, `25 lb/ft`.
        unit: the unit of a bare number and of the answer; `pieces` also takes litres, metres, gallons, quarts, feet,
            `counted` does not.

    Returns:
        The number, in `unit` (litres or metres where the text said so).

    Raises:
        UnreadableTextError: if it is no number, or its unit is none of those that fit.

    Example:
        >>> round(read_amount("25 lb/ft", unit="kg/m"), 2)
        37.2
    """
    factors = _FACTORS[unit]
    match = _AMOUNT.fullmatch(" ".join(text.split()))
    kinds = " or ".join(list(factors)[:2]) if unit != "pieces" else "pieces, l, m, gal, qt or ft"
    expected = f"a number, bare or in {kinds}" if unit else "a number"
    if match is None:
        raise UnreadableTextError(text, expected)
    factor = 1.0 if match[2] is None else _factor(match[2].replace("²", "2").lower(), factors)
    if factor is None:
        raise UnreadableTextError(text, expected)
    return float(Fraction(match[1].replace(",", "."))) * factor


def _factor(unit: str, factors: Mapping[str, float]) -> float | None:
    """Return a unit's factor, whatever its capitals; None for a unit that does not fit."""
    return next((factor for name, factor in factors.items() if name.lower() == unit), None)


def read_money(text: str) -> Decimal:
    """Return a price.

    Args:
        text: digits with a point before the cents, for example `62.50`.

    Raises:
        UnreadableTextError: if it is no price, or carries a currency mark.
    """
    if not _MONEY.fullmatch(text.strip()):
        raise UnreadableTextError(text, "a price such as 62.50", _money_hint(text.strip()))
    return Decimal(text.strip())


def _money_hint(typed: str) -> str:
    """Return what is wrong with a price."""
    if _MARKED.fullmatch(typed):
        return "Use a point before the cents, two figures after it at most, and no mark between thousands."
    return "Say the currency once, in `currency`, and use a point before the cents."
