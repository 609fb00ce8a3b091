"""plan.json: the plan as data."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from decimal import Decimal

import pytest

from nookwright.basics.problems import Where
from nookwright.files.plan_file import as_plain, plan_json
from nookwright.stages.buying.buy_list import BuyList
from nookwright.stages.inputs.survey import Skirting, TapeReading


def test_a_dataclass_becomes_its_fields_in_order_without_places_in_files() -> None:
    """Led by its name, so that the members of a union can be told apart."""
    reading = TapeReading(start="BL0", end="BR0", length_mm=1184.00004, where=Where(file="room.yaml", line=3))
    assert list(as_plain(reading).items()) == [
        ("is", "TapeReading"),
        ("start", "BL0"),
        ("end", "BR0"),
        ("length_mm", 1184.0),
        ("rough", False),
        ("over", None),
        ("sd_mm", None),
        ("use", True),
        ("typed", ""),
    ]


def test_money_is_a_text_and_keeps_its_cents() -> None:
    """No binary fraction comes between."""
    assert as_plain(BuyList(currency="EUR", lines=(), total=Decimal("7.50"), unpriced=("glue",))) == {
        "is": "BuyList",
        "currency": "EUR",
        "lines": [],
        "total": "7.50",
        "unpriced": ["glue"],
        "not_counted": [],
        "nearly": [],
        "tax_percent": None,
        "tax": "0",
        "to_pay": "0",
        "offers": [],
        "split": None,
    }


def test_numbers_are_rounded_to_four_places() -> None:
    """And a nought has no sign; what is no number is null, for JSON knows none."""
    assert as_plain((1 / 3, -1e-9, float("inf"), float("nan"), True, 3)) == [0.3333, 0.0, None, None, True, 3]
    assert str(as_plain(-1e-9)) == "0.0"


@dataclass(frozen=True, slots=True, kw_only=True)
class _WithWorkings:
    result: float
    workings: object = field(repr=False)


def test_workings_kept_out_of_the_repr_are_left_out() -> None:
    """They are for the methods, not for readers."""
    assert as_plain(_WithWorkings(result=1.5, workings=object())) == {"is": "_WithWorkings", "result": 1.5}


def test_what_json_cannot_hold_is_our_own_fault() -> None:
    """And is not hidden."""
    with pytest.raises(TypeError, match=r"^plan\.json cannot hold a object$"):
        as_plain(object())


def test_the_file_carries_its_format_and_version() -> None:
    """So that other programs can tell what they read."""
    document = json.loads(plan_json(Skirting(height_mm=145, thickness_mm=20)))
    assert document == {
        "format": "nookwright plan",
        "version": 1,
        "plan": {"is": "Skirting", "height_mm": 145, "thickness_mm": 20, "thickness_sd_mm": 1.0},
    }
