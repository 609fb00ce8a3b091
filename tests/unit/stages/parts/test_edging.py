"""Edging as the brief asks for it: which parts, how long, and what is refused."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from nookwright.basics.problems import InvalidInputError
from nookwright.geometry.frame import Frame
from nookwright.stages.inputs.brief import Brief, EdgesMeant, EdgingWish
from nookwright.stages.inputs.shop import SheetStock, Shop
from nookwright.stages.parts.edging import with_edging
from nookwright.stages.parts.part import SQUARE, Part

BRIEF = Brief(title="job", units="mm", resolution=0.5, tiers=())
PLY = SheetStock(
    key="birch", name="birch", wood="birch-plywood", length_mm=2440, width_mm=1220, thickness_mm=18, grained=True,
    price=Decimal(60),
)  # fmt: skip
SHOP = Shop(currency="EUR", sheets=(PLY,), boards=())
RAKED = Part(
    number="B1", name="tall shelf", role="shelf", module="B", stock="birch", wood="birch-plywood", thickness_mm=18,
    outline=((0, 0), (900, 0), (600, 400), (0, 400)), edges=(SQUARE,) * 4, frame=Frame(origin=(0, 0, 0), u=(1, 0, 0),
    v=(0, 0, 1)),
)  # fmt: skip
STRIP = replace(RAKED, number="S1", name="strip", role="strip", stock="pine")


def edged(*wishes: EdgingWish) -> tuple[Part, ...]:
    """Return a raked shelf and a strip of pine, with edging as wished."""
    return with_edging((RAKED, STRIP), replace(BRIEF, edging=wishes), SHOP)


@pytest.mark.parametrize(("edges", "length"), [("one long", 900), ("both long", 1500), ("all", 2400)])
def test_its_length_is_that_of_the_edges_meant(edges: EdgesMeant, length: float) -> None:
    """Edges of 900 and 600 along it, 400 up and 500 (300, 400: a right angle) on the slant, 2400 all round."""
    shelf, strip = edged(EdgingWish(parts=("shelf",), edges=edges, item="birch edging"))
    assert (shelf.edging, shelf.edging_mm) == ("birch edging", pytest.approx(length))
    assert shelf.notes[-1].startswith("glue birch edging on ")
    assert strip == STRIP


def test_what_cannot_be_edged_is_told_together() -> None:
    """A part that there is not, one cut from a board, one named twice."""
    with pytest.raises(InvalidInputError) as caught:
        edged(
            EdgingWish(parts=("B9",), edges="all", item="birch edging"),
            EdgingWish(parts=("S1", "B1"), edges="all", item="birch edging"),
            EdgingWish(parts=("tall shelf",), edges="all", item="oak edging"),
        )
    said = str(caught.value).splitlines()
    assert len(said) == 3
    assert 'found "B9"' in said[0]
    assert "found S1 of pine; expected parts cut from sheets" in said[1]
    assert "found B1 a second time; expected every part once" in said[2]
