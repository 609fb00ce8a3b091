"""Edging glued on edges of parts, as the brief says by number, name or role: what, and how long."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from nookwright.basics.problems import Inspection
from nookwright.stages.inputs.brief import Brief, EdgesMeant
from nookwright.stages.inputs.shop import SheetStock, Shop
from nookwright.stages.parts.grain import parts_named
from nookwright.stages.parts.part import Part

_SAID: dict[EdgesMeant, str] = {"one long": "one long edge", "both long": "both long edges", "all": "all edges"}


def with_edging(parts: Sequence[Part], brief: Brief, shop: Shop) -> tuple[Part, ...]:
    """Return the parts with the edging that the brief asks for.

    Args:
        parts: every part.
        brief: what it says of edging.
        shop: which stocks are sheets.

    Raises:
        InvalidInputError: if it speaks of a part that there is not, of one twice, or of one that is cut from no sheet.
    """
    inspection = Inspection()
    kept = {part.number: part for part in parts}
    for wish in brief.edging:
        for part in parts_named(wish.parts, parts, wish.where, inspection):
            sheet = isinstance(shop.stock(part.stock), SheetStock)
            inspection.expect(
                sheet, "edging", f"{part.number} of {part.stock}", "parts cut from sheets", where=wish.where
            )
            once = not kept[part.number].edging
            inspection.expect(once, "edging", f"{part.number} a second time", "every part once", where=wish.where)
            said = _SAID[wish.edges]
            kept[part.number] = replace(
                part, edging=wish.item, edged=said, edging_mm=_edged_mm(part, wish.edges),
                notes=(*part.notes, f"glue {wish.item} on {said}; it comes on top of the size"),
            )  # fmt: skip
    inspection.finish()
    return tuple(kept.values())


def _edged_mm(part: Part, edges: EdgesMeant) -> float:
    """Return how long the edges meant are; of those along its length the longer ones. [mm]"""
    corners = zip(part.outline, (*part.outline[1:], part.outline[0]), strict=True)
    sides = [(math.dist(start, end), abs(end[0] - start[0]) >= abs(end[1] - start[1])) for start, end in corners]
    if edges == "all":
        return sum(length for length, _ in sides)
    long = sorted((length for length, along in sides if along), reverse=True)
    return sum(long[: 1 if edges == "one long" else 2])
