"""What was read, as typed: one value or several, each with its own spread, and whether it counts."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace

from nookwright.basics.lengths import read_angle
from nookwright.basics.problems import Where
from nookwright.files.fields import one_value_of
from nookwright.files.form import Form, kind_of
from nookwright.files.tree import Listing, Node, Table, Text, at


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadValue:
    """What was read once. [mm or deg]

    Args:
        read: the value.
        where: where it stands.
        sd: its own standard deviation, when given.
        use: whether it counts.
        typed: the text.
    """

    read: float
    where: Where
    sd: float | None = None
    use: bool = True
    typed: str = ""


def values_of(form: Form, key: str, what: str, node: Node, path: str) -> list[ReadValue]:
    """Return what was read: one value, or each of a list of repeated ones.

    Args:
        form: the form of all readings.
        key: the tool's key there.
        what: the reading in words, for a blank.
        node: what was typed.
        path: its path.
    """
    if isinstance(node, Table):
        inner = Form(node, "reading", form.desk, path)
        reads = inner.values.get("reads")
        spread = spread_of(inner, _reader(form, key)) if inner.has("sd") else None
        use = inner.yes_no("use")
        if reads is None and form.desk.blanks is not None:
            place = at(node.where, path)
            form.desk.blanks.append(place)
            return [ReadValue(read=1.0, where=place, sd=spread, use=use)]
        if reads is None:
            expected = one_value_of(form.fields[key], form.desk.units)
            inner.note("reads", "nothing", expected, f"Still to be measured: {what}.")
            return []
        found = _plain_values(form, key, what, reads[1], path)
        return [replace(one, sd=spread, use=use) for one in found]
    return _plain_values(form, key, what, node, path)


def _plain_values(form: Form, key: str, what: str, node: Node, path: str) -> list[ReadValue]:
    if not isinstance(node, Listing):
        return [value_of(form, key, what, node, path)]
    if not node.items:
        form.desk.note(at(node.where, path), "an empty list", one_value_of(form.fields[key], form.desk.units))
    return [value_of(form, key, what, item, f"{path}[{turn}]") for turn, item in enumerate(node.items, start=1)]


def value_of(form: Form, key: str, what: str, node: Node, path: str) -> ReadValue:
    """Return what was read once; the arguments are those of `values_of`."""
    if isinstance(node, Table):
        return next(iter(values_of(form, key, what, node, path)), ReadValue(read=1.0, where=at(node.where, path)))
    place = at(node.where, path)
    if isinstance(node, Text) and not node.value and form.desk.blanks is not None:
        form.desk.blanks.append(place)
        return ReadValue(read=1.0, where=place)
    if not isinstance(node, Text) or not node.value:
        hint = f"Still to be measured: {what}." if isinstance(node, Text) else ""
        form.desk.note(place, kind_of(node), one_value_of(form.fields[key], form.desk.units), hint)
        return ReadValue(read=1.0, where=place)
    return ReadValue(read=form.checked(key, node.value, _reader(form, key), 1.0, place), where=place, typed=node.value)


def _reader(form: Form, key: str) -> Callable[[str], float]:
    return read_angle if key in ("bevel", "slope") else form.length_in_units


def spread_of(inner: Form, reader: Callable[[str], float]) -> float:
    """Return a reading's own standard deviation, which must be above 0. [mm or deg]"""
    spread = inner.read_as("sd", reader, 1.0)
    if spread <= 0:
        inner.note("sd", f"{spread:g}", "a standard deviation above 0")
    return spread


def taken_apart(form: Form, shape: re.Pattern[str], name: Text, path: str, expected: str) -> re.Match[str] | None:
    """Take a reading's name apart; note a problem when it is none."""
    match = shape.fullmatch(name.value.strip())
    if match is None:
        form.desk.note(at(name.where, path), kind_of(name), expected)
    return match
