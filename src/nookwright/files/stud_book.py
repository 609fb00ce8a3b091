"""The studs that room.yaml tells of: their edges and centres as they were found."""

from __future__ import annotations

import re
from typing import Literal

from nookwright.basics.lengths import quoted
from nookwright.files.form import STILL_BLANK, Form, kind_of
from nookwright.files.reading_values import spread_of
from nookwright.files.tree import Node, Table, Text, at
from nookwright.stages.inputs.survey import StudReading

_EDGES = re.compile(r"(.+?)\s+to\s+(.+)")
_ONE = re.compile(r"(left|right|centre|center)\s+(.+)", re.IGNORECASE)
_WANTED = "both edges of a stud, such as `381 to 419`, or `left 381`, `right 419`, `centre 400`"

Part = Literal["left edge", "right edge", "centre"]


def read_studs(form: Form) -> tuple[StudReading, ...]:
    """Return what was found of the studs, from the left.

    Args:
        form: the form of the wall.
    """
    found: list[StudReading] = []
    for number, node in enumerate(form.items("stud edges"), start=1):
        found += _stud(form, number, node)
    return tuple(found)


def _stud(form: Form, number: int, node: Node) -> list[StudReading]:
    path = f"{form.path}.stud edges[{number}]"
    sd, use = None, True
    if isinstance(node, Table):
        inner = Form(node, "reading", form.desk, path)
        sd = spread_of(inner, form.length_in_units) if inner.has("sd") else None
        use = inner.yes_no("use")
        node = inner.values["reads"][1] if inner.has("reads") else Text(value="", where=node.where)
    place = at(node.where, path)
    if not isinstance(node, Text) or not node.value:
        form.desk.note(place, kind_of(node), _WANTED, STILL_BLANK if isinstance(node, Text) else "")
        return []
    parts = _parts(node.value)
    if not parts:
        form.desk.note(place, quoted(node.value), _WANTED)
    found = [
        StudReading(
            stud=number,
            part=part,
            from_left_mm=form.checked("stud edges", typed, form.length_in_units, 1.0, place),
            sd_mm=sd,
            use=use,
            typed=typed,
            where=place,
        )
        for part, typed in parts
    ]
    if len(found) == 2 and found[0].from_left_mm >= found[1].from_left_mm > 1.0:
        form.desk.note(place, quoted(node.value), "the left edge first, then the right one")
    return found


def _parts(typed: str) -> list[tuple[Part, str]]:
    """Return what a text tells of a stud: both edges, or one of them, or its centre."""
    both, one = _EDGES.fullmatch(typed), _ONE.fullmatch(typed)
    if one:
        part: dict[str, Part] = {"left": "left edge", "right": "right edge"}
        return [(part.get(one[1].lower(), "centre"), one[2])]
    return [("left edge", both[1]), ("right edge", both[2])] if both else []
