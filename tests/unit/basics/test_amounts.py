"""Numbers with a unit that are not lengths, and prices."""

from __future__ import annotations

from decimal import Decimal

import pytest

from nookwright.basics.amounts import read_amount, read_money
from nookwright.basics.lengths import UnreadableTextError


def test_a_bare_number_is_in_the_unit_asked_for() -> None:
    """Decimal commas do as well."""
    assert read_amount("37", unit="kg/m") == 37
    assert read_amount("2,6", unit="mm/m") == 2.6
    assert read_amount("1.1", unit="") == 1.1


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("25 lb/ft", "kg/m", 25 * 0.45359237 / 0.3048),
        ("1/32 in/ft", "mm/m", 1000 / 12 / 32),  # in/ft is 1/12, and 1/12 of a metre is 83.33 mm
        ("80 lbf", "N", 80 * 4.4482216),
        ("400 ft2/gal", "m2/l", 400 * 0.09290304 / 3.785411784),
        ("2 days", "h", 48),
        ("12 h", "days", 0.5),
        ("1 gal", "pieces", 3.785411784),
        ("1 qt", "pieces", 0.946352946),
        ("40 ft", "pieces", 12.192),
        ("200 pieces", "pieces", 200),
    ],
)
def test_an_amount_is_turned_into_the_unit_asked_for(text: str, unit: str, value: float) -> None:
    """By the exact pound, foot and gallon."""
    assert read_amount(text, unit=unit) == pytest.approx(value, rel=1e-7)  # type: ignore[arg-type]


def test_a_number_in_a_unit_that_does_not_fit_is_refused() -> None:
    """A load is not given in metres."""
    with pytest.raises(UnreadableTextError) as caught:
        read_amount("37 m", unit="kg/m")
    assert str(caught.value) == 'found "37 m"; expected a number, bare or in kg/m or lb/ft.'
    with pytest.raises(UnreadableTextError) as caught:
        read_amount("much", unit="")
    assert str(caught.value) == 'found "much"; expected a number.'


def test_a_price_is_kept_to_the_cent() -> None:
    """As typed, with no binary fraction between."""
    assert read_money("62.50") == Decimal("62.50")
    assert read_money("7") == Decimal(7)


@pytest.mark.parametrize("text", ["$7", "7 EUR", "-7", ""])
def test_a_price_carries_no_currency_mark(text: str) -> None:
    """The currency is said once, at the top of the shop file."""
    with pytest.raises(UnreadableTextError) as caught:
        read_money(text)
    advice = "Say the currency once, in `currency`, and use a point before the cents."
    assert str(caught.value) == f'found "{text}"; expected a price such as 62.50. {advice}'


@pytest.mark.parametrize("text", ["7,50", "7.505", "1.999", "1,999.50", "1.999,50", "1'999.50", "1 999.50"])
def test_a_price_has_a_point_before_its_cents_and_no_other_mark(text: str) -> None:
    """Whether 1.999 is two thousand or two, nobody knows: it is asked for again."""
    with pytest.raises(UnreadableTextError) as caught:
        read_money(text)
    advice = "Use a point before the cents, two figures after it at most, and no mark between thousands."
    assert str(caught.value) == f'found "{text}"; expected a price such as 62.50. {advice}'


def test_more_digits_than_a_number_can_hold_are_no_amount() -> None:
    """A key that stuck is refused like any other slip, not with a crash."""
    for text in ("9" * 400, f"1/{'9' * 5000}", f"1.{'9' * 5000} kg/m"):
        with pytest.raises(UnreadableTextError):
            read_amount(text, unit="kg/m")
    with pytest.raises(UnreadableTextError):
        read_money("9" * 400)
