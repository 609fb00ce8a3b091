"""The project's own table of check values (`checks.csv`), where it is at hand: every row that our formulas answer."""

from __future__ import annotations

import csv
import re
from pathlib import Path

import pytest

from nookwright.trade.fixings import (
    MM_PER_INCH,
    N_MM2_PER_PSI,
    N_PER_LB,
    bearing_strength,
    lag_withdrawal,
    nail_withdrawal,
    screw_withdrawal,
)
from nookwright.trade.movement import emc_celsius, emc_fahrenheit
from nookwright.trade.sag import span_limit

LB_PER_INCH = N_PER_LB / MM_PER_INCH


@pytest.fixture(scope="module")
def rows(reference_folder: Path) -> list[dict[str, str]]:
    """Return every row of the table."""
    with (reference_folder / "checks.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _numbers(text: str) -> list[float]:
    """Return the numbers in a text, fractions worked out."""
    found = re.findall(r"\d+/\d+|\d*\.?\d+(?:e\d+)?", text)
    return [float(a) / float(b) if b else float(a) for a, _, b in (each.partition("/") for each in found)]


def test_moisture_rows(rows: list[dict[str, str]]) -> None:
    """At least 20 rows of the equation, in F and in C, to the second decimal."""
    seen = 0
    for row in rows:
        if row["quantity"] != "EMC from equation":
            continue
        degrees, humidity = _numbers(row["inputs"])
        if " C," in row["inputs"]:
            found = emc_celsius(temperature_c=degrees, humidity_pct=humidity)
        else:
            found = emc_fahrenheit(temperature_f=degrees, humidity_pct=humidity)
        assert found == pytest.approx(float(row["value"]), abs=0.0051), row
        seen += 1
    assert seen >= 20


def test_lag_rows(rows: list[dict[str, str]]) -> None:
    """At least 15 rows, to the pound."""
    seen = 0
    for row in rows:
        if row["quantity"] == "lag screw reference withdrawal W":
            gravity, diameter = _numbers(row["inputs"])
            found = lag_withdrawal(gravity=gravity, diameter_mm=diameter * MM_PER_INCH) / LB_PER_INCH
            assert found == pytest.approx(float(row["value"]), abs=0.75), row
            seen += 1
    assert seen >= 15


def test_screw_and_nail_rows(rows: list[dict[str, str]]) -> None:
    """At least 15 rows, to the pound."""
    formulas = {
        "wood screw reference withdrawal W": screw_withdrawal,
        "common nail reference withdrawal W": nail_withdrawal,
    }
    seen = 0
    for row in rows:
        formula = formulas.get(row["quantity"])
        if formula is not None:
            gravity, *_, diameter = _numbers(row["inputs"])
            found = formula(gravity=gravity, diameter_mm=diameter * MM_PER_INCH) / LB_PER_INCH
            assert found == pytest.approx(float(row["value"]), abs=0.51), row
            seen += 1
    assert seen >= 15


def test_bearing_rows(rows: list[dict[str, str]]) -> None:
    """Every row of the thin-fastener formula."""
    seen = 0
    for row in rows:
        if row["quantity"].startswith("dowel bearing strength D<1/4 in"):
            (gravity,) = _numbers(row["inputs"])
            assert bearing_strength(gravity) / N_MM2_PER_PSI == pytest.approx(float(row["value"]), abs=0.06)
            seen += 1
    assert seen >= 4


def test_span_rows(rows: list[dict[str, str]]) -> None:
    """Every printed shelf span, within the table's rounding."""
    seen = 0
    for row in rows:
        if row["quantity"].startswith("max shelf span"):
            thickness, load, psi = _numbers(row["inputs"])
            depth = 10 * MM_PER_INCH
            span = span_limit(
                load_n_mm=load * N_PER_LB / (12 * MM_PER_INCH) ** 2 * depth,
                sag_ratio=144,
                modulus_n_mm2=psi * N_MM2_PER_PSI,
                depth_mm=depth,
                thickness_mm=thickness * MM_PER_INCH,
            )
            assert span / MM_PER_INCH == pytest.approx(float(row["value"]), abs=0.75), row
            seen += 1
    assert seen >= 10
