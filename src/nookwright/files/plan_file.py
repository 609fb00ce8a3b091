"""plan.json: the whole plan as data for other programs, with a version number and a stable order."""

from __future__ import annotations

import dataclasses
import json
import math
from decimal import Decimal
from typing import Any

from nookwright.basics.problems import Where

PLAN_VERSION = 1
"""Raised by one whenever a key is renamed or removed or changes its meaning; new keys leave it as it is."""

PLACES = 4
"""Decimal places kept: a tenth of a micrometre is far below anything measured, and keeps the file steady."""


def plan_json(plan: object) -> str:
    """Return the plan as JSON text.

    Keys stand in the order of the dataclasses' fields. Numbers are millimetres, newtons, kilograms as their names say,
    rounded to four places; money is a string; places in the user's own files are left out.

    Args:
        plan: the plan, or any of our dataclasses.
    """
    document = {"format": "nookwright plan", "version": PLAN_VERSION, "plan": as_plain(plan)}
    return json.dumps(document, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def as_plain(value: object) -> Any:
    """Return a value as dictionaries, lists, strings and numbers.

    Args:
        value: a dataclass, tuple, number, text, Decimal, None, or a dictionary keyed by texts.

    Returns:
        The same as JSON knows it.

    Raises:
        TypeError: if it holds anything else, which is a fault of ours.
    """
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return _dataclass(value)
    if isinstance(value, tuple | list):
        return [as_plain(item) for item in value]
    if isinstance(value, dict):
        return {str(key): as_plain(item) for key, item in value.items()}
    if isinstance(value, Decimal):
        return str(value)
    if value is None or isinstance(value, bool | int | str):
        return value
    if isinstance(value, float):
        return _number(float(value))
    message = f"plan.json cannot hold a {type(value).__name__}"
    raise TypeError(message)


def _dataclass(value: Any) -> dict[str, Any]:
    """Return a dataclass as a dictionary, led by its name; fields kept out of its repr are workings, not results."""
    kept = {
        field.name: as_plain(getattr(value, field.name))
        for field in dataclasses.fields(value)
        if field.repr and not isinstance(getattr(value, field.name), Where)
    }
    return {"is": type(value).__name__, **kept}


def _number(value: float) -> float | None:
    """Return a float rounded, without a negative zero; None for a number that is none."""
    if not math.isfinite(value):
        return None
    rounded = round(value, PLACES)
    return 0.0 if rounded == 0 else rounded
