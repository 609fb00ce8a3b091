"""Tests of what a brief says of grain: parts by number, name or role, and what is refused."""

from __future__ import annotations

from decimal import Decimal

import pytest

from nookwright.basics.problems import InvalidInputError
from nookwright.geometry.frame import Frame
from nookwright.stages.inputs.brief import Brief, GrainWish, Matched
from nookwright.stages.inputs.shop import SheetStock, Shop
from nookwright.stages.parts.grain import grain_kept
from nookwright.stages.parts.part import SQUARE, Part, Role

FRAME = Frame(origin=(0, 0, 0), u=(1, 0, 0), v=(0, 0, 1))
OAK = SheetStock(
    key="oak", name="oak veneer", wood="mdf", length_mm=2500, width_mm=1250, thickness_mm=19, grained=True,
    price=Decimal(80),
)  # fmt: skip
SHOP = Shop(currency="EUR", sheets=(OAK,), boards=())


def part(number: str, name: str, role: Role, stock: str = "oak") -> Part:
    """Return a part of 600 x 300."""
    return Part(
        number=number, name=name, role=role, module="A", stock=stock, wood="mdf", thickness_mm=19,
        outline=((0, 0), (600, 0), (600, 300), (0, 300)), edges=(SQUARE,) * 4, frame=FRAME,
    )  # fmt: skip


PARTS = (
    part("C1", "shelf", "loose shelf"), part("C2", "shelf", "shelf"), part("D1", "left door", "door"),
    part("D2", "right door", "door"), part("F1", "strip", "strip", "pine"),
)  # fmt: skip


def brief(*said: GrainWish | Matched) -> Brief:
    """Return a brief that says so of grain."""
    return Brief(
        title="t", units="mm", resolution=0.5, tiers=(),
        grain=tuple(one for one in said if isinstance(one, GrainWish)),
        matched=tuple(one for one in said if isinstance(one, Matched)),
    )  # fmt: skip


def test_parts_are_meant_by_number_name_or_role() -> None:
    """`c1` by number, `right door` by name, `doors` by role; a later wish overrules an earlier one."""
    kept, _ = grain_kept(
        PARTS,
        brief(GrainWish(parts=("doors",), runs="across"), GrainWish(parts=("c1", "Right Door"), runs="any")),
        SHOP,
    )
    assert [one.grain for one in kept] == ["any", "along", "across", "any", "along"]


def test_matched_parts_are_told_by_their_numbers() -> None:
    """The role names both doors, in the order of the parts list."""
    assert grain_kept(PARTS, brief(Matched(parts=("door",))), SHOP)[1] == (("D1", "D2"),)


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        (GrainWish(parts=("D9",), runs="any"), "a part's number, or one of left door"),
        (Matched(parts=("D1",)), "two matched parts or more"),
        (Matched(parts=("D1", "F1")), "matched parts of one stock"),
        (Matched(parts=("F1", "F1")), "matched parts cut from sheets"),
    ],
)
def test_what_cannot_be_is_refused(said: GrainWish | Matched, expected: str) -> None:
    """Each problem says what would be right."""
    with pytest.raises(InvalidInputError, match=expected):
        grain_kept(PARTS, brief(said), SHOP)


def test_a_part_is_matched_once_only_and_grain_runs_one_way() -> None:
    """A door in two pairs, and a pair of which one lies across."""
    with pytest.raises(InvalidInputError, match="every part matched once"):
        grain_kept(PARTS, brief(Matched(parts=("D1", "D2")), Matched(parts=("D2", "C1"))), SHOP)
    with pytest.raises(InvalidInputError, match="with the grain the same way"):
        grain_kept(PARTS, brief(GrainWish(parts=("D1",), runs="across"), Matched(parts=("door",))), SHOP)
