"""The published figures that the formulas are held against: read from rows.csv, one line a figure."""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path

NUMBER = re.compile(r"(?<![A-Za-z_\d.])[-+]?(?:\d+/\d+|\d*\.?\d+(?:e\d+)?)")


@dataclass(frozen=True)
class Row:
    """One published figure.

    Args:
        topic: what it is about.
        quantity: what it is.
        inputs: what it was worked out from.
        value: as printed, with one or more numbers.
        unit: of the numbers.
        source, place: where it stands.
        status: read, recalled, or computed (worked out for the table, and agreed by an independent package).
    """

    topic: str
    quantity: str
    inputs: str
    value: str
    unit: str
    source: str
    place: str
    status: str


@cache
def published_rows() -> tuple[Row, ...]:
    """Return every published figure, in the order of the file."""
    with Path(__file__).with_name("rows.csv").open(encoding="utf-8", newline="") as file:
        return tuple(Row(**line) for line in csv.DictReader(file))


def numbers(text: str) -> list[float]:
    """Return the numbers in a text, fractions worked out; digits within words are no numbers."""
    return [_number(found) for found in NUMBER.findall(text)]


def half_steps(text: str) -> list[float]:
    """Return half a unit in the last printed place of each number in a text."""
    return [_half_step(found) for found in NUMBER.findall(text)]


def _number(text: str) -> float:
    top, _, bottom = text.partition("/")
    return float(top) / float(bottom) if bottom else float(text)


def _half_step(text: str) -> float:
    if "/" in text:
        return 1e-9
    digits, _, power = text.partition("e")
    decimals = len(digits.partition(".")[2])
    return 0.5000001 * 10.0 ** (float(power or 0) - decimals)
