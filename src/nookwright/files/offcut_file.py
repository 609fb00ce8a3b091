"""The offcut file that jobs share: read with every problem told, and written so that a person reads and mends it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from nookwright.basics.lengths import Marks, quoted, show
from nookwright.basics.problems import Inspection
from nookwright.files.flaws import strip_width
from nookwright.files.form import Desk, Form, nearest_hint
from nookwright.files.tree import Table
from nookwright.stages.inputs.offcuts import KeptBoard, KeptSheet, Offcuts
from nookwright.stages.inputs.shop import Shop

_HEADING = """\
# What jobs left over and kept. `nookwright plan` cuts from these first; `nookwright keep` takes out what a job used
# and puts in what it left. Take a line out when a piece is gone; add one when you find a piece.
"""
STEPS = {"mm": Marks(units="mm", resolution=0.1), "inch": Marks(units="inch", resolution=1 / 32)}
"""Sizes are written in steps of this, rounded down."""


def read_offcuts(tree: Table, shop: Shop, inspection: Inspection) -> Offcuts | None:
    """Return the kept pieces.

    Args:
        tree: the file's tree.
        shop: the shop, whose stocks they are of.
        inspection: takes every problem.

    Returns:
        The pieces; None when anything in the file is wrong.
    """
    before = len(inspection.problems)
    desk = Desk(file="offcuts", inspection=inspection)
    form = Form(tree, "offcuts", desk)
    desk.units = form.choice("units")
    sheets, widths = tuple(one.key for one in shop.sheets), {one.key: one.straight_width_mm for one in shop.boards}
    found = Offcuts(
        units=desk.units,
        sheets=tuple(_sheet(one, sheets) for one in form.forms("sheets")),
        boards=tuple(_board(one, widths) for one in form.forms("boards")),
        done=form.texts("done"),
    )
    return found if len(inspection.problems) == before else None


def _sheet(form: Form, keys: Sequence[str]) -> KeptSheet:
    length, width = form.pair("size")
    return KeptSheet(
        stock=_known(form, keys, "sheet"), length_mm=length, width_mm=width, value=form.money("value"),
        left_from=form.text("left from"),
    )  # fmt: skip


def _board(form: Form, widths: Mapping[str, float]) -> KeptBoard:
    stock = _known(form, tuple(widths), "board")
    return KeptBoard(
        stock=stock, length_mm=form.length("length"), width_mm=strip_width(form, widths.get(stock, math.inf)),
        value=form.money("value"), left_from=form.text("left from"),
    )  # fmt: skip


def _known(form: Form, keys: Sequence[str], what: str) -> str:
    key = form.text("stock")
    if key and key not in keys:
        listed = f": {', '.join(keys)}" if keys else ", which lists none"
        expected = f"the key of a {what} in the shop file{listed}"
        form.note("stock", quoted(key), expected, nearest_hint(key, tuple(keys)))
    return key


def offcuts_text(offcuts: Offcuts) -> str:
    """Return the file's text: one piece a line, the largest of each stock first; sizes rounded down.

    Args:
        offcuts: the pieces.
    """
    marks = STEPS[offcuts.units]

    def size(mm: float) -> str:
        return show(mm, marks, way="down")

    sheets = sorted(offcuts.sheets, key=lambda one: (one.stock, -one.length_mm * one.width_mm, one.left_from))
    boards = sorted(offcuts.boards, key=lambda one: (one.stock, -one.length_mm, -one.width_mm, one.left_from))
    lines = [_HEADING.rstrip(), f"units: {offcuts.units}"]
    lines += _listed(
        "sheets",
        [
            f"{{stock: {_text(one.stock)}, size: {size(one.length_mm)} x {size(one.width_mm)}, "
            f"value: {one.value}, left from: {_text(one.left_from)}}}"
            for one in sheets
        ],
    )
    lines += _listed(
        "boards",
        [
            f"{{stock: {_text(one.stock)}, length: {size(one.length_mm)}, "
            f"{f'width: {size(one.width_mm)}, ' if one.width_mm else ''}value: {one.value}, "
            f"left from: {_text(one.left_from)}}}"
            for one in boards
        ],
    )
    lines += _listed("done", [_text(one) for one in offcuts.done])
    return "\n".join(lines) + "\n"


def _listed(key: str, items: Sequence[str]) -> list[str]:
    return [f"{key}:", *(f"  - {item}" for item in items)] if items else []


def _text(words: str) -> str:
    """Return a text in single quotes, so that nothing in it is taken for a sign."""
    return "'" + words.replace("'", "''") + "'"
