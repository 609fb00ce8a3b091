"""The figures as they are printed, followed cut after cut: they end in the sizes that the parts list prints."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from random import Random

import pytest

from any_saws import a_part, a_shop
from nookwright.basics.lengths import Marks, read_length, show
from nookwright.stages.cutting.at_the_saw import Box, cut_steps
from nookwright.stages.cutting.cutting_plan import SheetPlan
from nookwright.stages.cutting.lay_out import lay_out
from nookwright.stages.parts.part import PartList
from nookwright.stages.parts.sizes import way_of

MARKS = (
    Marks(units="mm", resolution=0.5),
    Marks(units="mm", resolution=1),
    Marks(units="inch", resolution=1 / 16),
    Marks(units="inch", resolution=1 / 32),
)


def as_printed(mm: float, marks: Marks) -> Fraction:
    """Return what a sawyer sets who reads the printed figure. [mm]"""
    return Fraction(read_length(show(mm, marks), unit=marks.units))


def sawn(sheet: SheetPlan, kerf_mm: float, marks: Marks) -> dict[str, tuple[Fraction, Fraction]]:
    """Return the parts' sizes along and across the sheet when every cut is set to its printed figure. [mm]"""
    kerf = Fraction(str(kerf_mm))
    hand: dict[Box, tuple[Fraction, Fraction]] = {}
    found: dict[str, tuple[Fraction, Fraction]] = {}
    for step in cut_steps(sheet, kerf_mm):
        known = [size for box, size in hand.items() if same(box, step.piece)]
        along, across = known[0] if known else (Fraction(str(sheet.length_mm)), Fraction(str(sheet.width_mm)))
        rip = step.cut.along == "length"
        measured = as_printed(step.cut.at_mm, marks)
        beside = (across if rip else along) - measured - kerf
        near, far = (beside, measured) if step.far else (measured, beside)
        x, y, length, width = step.piece
        half = kerf_mm / 2
        if rip:
            at = step.cut.y1_mm
            boxes = ((x, y, length, at - half - y), (x, at + half, length, y + width - at - half))
            sizes = ((along, near), (along, far))
        else:
            at = step.cut.x1_mm
            boxes = ((x, y, at - half - x, width), (at + half, y, x + length - at - half, width))
            sizes = ((near, across), (far, across))
        hand.update(zip(boxes, sizes, strict=True))
        for one in step.frees:
            box = (one.x_mm, one.y_mm, one.length_mm, one.width_mm)
            found[one.part] = next(size for other, size in hand.items() if same(box, other))
    return found


def same(one: Box, other: Box) -> bool:
    """Whether two boxes are one, up to the tenths that plans are reckoned in."""
    return all(abs(a - b) < 0.06 for a, b in zip(one, other, strict=True))


@pytest.mark.parametrize("marks", MARKS, ids=lambda marks: f"{marks.units}-{marks.resolution:g}")
@pytest.mark.parametrize("seed", [0, 2, 5, 6])
def test_cuts_set_to_their_printed_figures_give_the_parts_as_listed(marks: Marks, seed: int) -> None:
    """Rounding does not add up along a sheet: no part is off by more than half a mark and the kerf's own rounding.

    The parts list prints a shelf rounded down to a mark, and so does the saw.
    """
    chance = Random(seed)  # noqa: S311
    parts = tuple(a_part(i, chance) for i in range(12))
    shop = a_shop(chance)
    shop = replace(shop, saw=replace(shop.saw, kerf_mm=3.2 if marks.units == "mm" else 3.175))
    plan = lay_out(PartList(parts=parts, joints=()), shop, marks=marks)
    by_number = {part.number: part for part in parts}
    looked_at = 0
    for sheet in plan.sheets:
        turned = {one.part: one.turned for one in sheet.placed}
        for number, size in sawn(sheet, shop.saw.kerf_mm, marks).items():
            part = by_number[number]
            listed = [
                Fraction(read_length(show(mm, marks, way=way_of(part)), unit=marks.units)) for mm in part.blank_mm
            ]
            for got, want in zip(size[::-1] if turned[number] else size, listed, strict=True):
                assert abs(got - want) <= marks.step_mm / 2 + Fraction(3, 10), (sheet.index, number)
                looked_at += 1
    assert looked_at > 10
