"""built.yaml -> Facts: what is bought or built, and how it really came out."""

from __future__ import annotations

from nookwright.basics.lengths import read_pair
from nookwright.basics.problems import Inspection
from nookwright.files.fields import one_value_of
from nookwright.files.form import STILL_BLANK, Desk, Form, Mention, kind_of
from nookwright.files.tree import Node, Table, Text, at
from nookwright.stages.inputs.facts import BuiltPart, Facts, RealThickness


def read_built(tree: Table, inspection: Inspection) -> tuple[Facts, tuple[Mention, ...]] | None:
    """Return the facts, and the stock keys they mention.

    Args:
        tree: the file's tree.
        inspection: takes every problem.

    Returns:
        The facts; None when anything in the file is wrong.
    """
    before = len(inspection.problems)
    desk = Desk(file="built", inspection=inspection)
    form = Form(tree, "built", desk)
    desk.units = form.choice("units")
    facts = Facts(thicknesses=_thicknesses(form), parts=_parts(form))
    return (facts, tuple(desk.mentions)) if len(inspection.problems) == before else None


def _thicknesses(form: Form) -> tuple[RealThickness, ...]:
    found: list[RealThickness] = []
    for name, value, path in form.pairs_in("thicknesses"):
        where = at(name.where, path)
        typed = _typed(form, "thicknesses", value, path)
        if typed:
            thickness = form.checked("thicknesses", typed, form.length_in_units, 1.0, at(value.where, path))
            found.append(RealThickness(stock=name.value, thickness_mm=thickness, where=where))
        form.desk.mentions.append(Mention(kind="stock", key=name.value, where=where))
    return tuple(found)


def _parts(form: Form) -> tuple[BuiltPart, ...]:
    found: list[BuiltPart] = []
    for name, value, path in form.pairs_in("parts"):
        typed = _typed(form, "parts", value, path)
        if typed:
            place = at(value.where, path)
            length, width = form.checked("parts", typed, lambda text: _pair(form, text), (1.0, 1.0), place)
            found.append(BuiltPart(number=name.value, length_mm=length, width_mm=width, where=at(name.where, path)))
    return tuple(found)


def _pair(form: Form, text: str) -> tuple[float, float]:
    return read_pair(text, unit=form.desk.units)


def _typed(form: Form, key: str, node: Node, path: str) -> str:
    """Return the scalar beside a name; empty after noting that there is none."""
    if isinstance(node, Text) and node.value:
        return node.value
    hint = STILL_BLANK if isinstance(node, Text) else ""
    form.desk.note(at(node.where, path), kind_of(node), one_value_of(form.fields[key], form.desk.units), hint)
    return ""
