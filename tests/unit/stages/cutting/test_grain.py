"""Tests of grain by part and of matched parts: where they lie on the sheet, worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from nookwright.geometry.frame import Frame
from nookwright.solvers.guillotine import Laid, Wanted, matched_faults
from nookwright.stages.cutting.cutting_plan import CuttingPlan, SheetPlan
from nookwright.stages.cutting.lay_out import lay_out, not_cuttable
from nookwright.stages.inputs.brief import Grain
from nookwright.stages.inputs.shop import Saw, SheetStock, Shop
from nookwright.stages.parts.part import SQUARE, Part, PartList

FRAME = Frame(origin=(0, 0, 0), u=(1, 0, 0), v=(0, 0, 1))
SAW = Saw(kerf_mm=3.0, trim_mm=5.0, keep_mm=200.0)
OAK = SheetStock(
    key="oak", name="oak veneer", wood="mdf", length_mm=1010, width_mm=510, thickness_mm=19, grained=True,
    price=Decimal(80),
)  # fmt: skip


def part(number: str, length: float, width: float, grain: Grain = "along") -> Part:
    """Return a plain rectangular part."""
    return Part(
        number=number, name="door", role="door", module="A", stock="oak", wood="mdf", thickness_mm=19,
        outline=((0, 0), (length, 0), (length, width), (0, width)), edges=(SQUARE,) * 4, frame=FRAME, grain=grain,
    )  # fmt: skip


def laid(parts: list[Part], matched: tuple[tuple[str, ...], ...] = (), stock: SheetStock = OAK) -> CuttingPlan:
    """Return the plan for one stock."""
    shop = Shop(currency="EUR", sheets=(stock,), boards=(), saw=SAW)
    return lay_out(PartList(parts=tuple(parts), joints=(), matched=matched), shop)


def places(sheet: SheetPlan) -> dict[str, tuple[float, float, float, float]]:
    """Return where each part lies, and its size along and across the sheet."""
    return {one.part: (one.x_mm, one.y_mm, one.length_mm, one.width_mm) for one in sheet.placed}


def test_a_part_with_its_grain_across_lies_across_the_sheet() -> None:
    """450 x 700 with the grain across: 700 runs along the sheet, and it counts as turned."""
    (sheet,) = laid([part("D1", 450, 700, "across")]).sheets
    assert places(sheet) == {"D1": (5, 5, 700, 450)}
    assert sheet.placed[0].turned


def test_a_part_that_is_painted_may_lie_either_way_on_a_sheet_with_grain() -> None:
    """450 x 700 fits only turned on 1000 x 500: too large along the grain, cut where the grain is free."""
    assert laid([part("D1", 450, 700)]).too_large[0].part == "D1"
    (sheet,) = laid([part("D1", 450, 700, "any")]).sheets
    assert places(sheet) == {"D1": (5, 5, 700, 450)}


def test_a_part_that_fits_only_along_the_grain_says_so() -> None:
    """700 x 450 across the grain would need 700 of the sheet's 500 in width."""
    (misfit,) = laid([part("D1", 700, 450, "across")]).too_large
    assert misfit.cure.startswith("it fits only along the grain")


def test_matched_doors_lie_side_by_side_with_one_cut_between() -> None:
    """Two doors of 600 x 240 take 483 of 500: the second begins one cut after the first, their feet in line."""
    plan = laid([part("D1", 600, 240), part("S1", 300, 200), part("D2", 600, 240)], (("D1", "D2"),))
    (sheet,) = plan.sheets
    first, second = places(sheet)["D1"], places(sheet)["D2"]
    assert (second[0], second[1]) == (first[0], first[1] + 240 + 3)
    assert plan.unmatched == ()


def test_matched_doors_of_unlike_length_begin_in_line() -> None:
    """A raked pair of 600 and 500: both feet at one place; the shorter one is cut to length last."""
    plan = laid([part("D1", 600, 240), part("D2", 500, 240)], (("D1", "D2"),))
    (sheet,) = plan.sheets
    assert places(sheet) == {"D1": (5, 5, 600, 240), "D2": (5, 248, 500, 240)}
    assert {(cut.along, cut.at_mm) for cut in sheet.cuts} >= {("length", 240), ("width", 600), ("width", 500)}
    assert plan.unmatched == ()


def test_three_matched_fronts_across_the_grain_lie_along_the_sheet() -> None:
    """Three of 400 x 300 with the grain across: 300 + 3 + 300 + 3 + 300 = 906 of 1000 along the sheet."""
    fronts = [part(f"D{i}", 400, 300, "across") for i in (1, 2, 3)]
    (sheet,) = laid(fronts, (("D1", "D2", "D3"),)).sheets
    assert places(sheet) == {"D1": (5, 5, 300, 400), "D2": (308, 5, 300, 400), "D3": (611, 5, 300, 400)}


def test_matched_parts_that_no_sheet_holds_are_cut_apart_and_told() -> None:
    """Two of 300 wide need 603 of 500: each is cut by itself, and a caution says that the figure does not run over."""
    plan = laid([part("D1", 600, 300), part("D2", 600, 300)], (("D1", "D2"),))
    assert len(plan.sheets) == 2
    assert plan.unmatched == (("D1", "D2"),)
    (finding,) = not_cuttable(plan)
    assert (finding.subject, finding.verdict) == ("D1, D2", "caution")


def test_the_checker_refuses_matched_parts_that_are_not_neighbours() -> None:
    """Another sheet, out of line, a gap, or in the wrong order: each is a fault."""
    door = Wanted(length=600, width=240)
    first = Laid(part="D1", sheet=1, x=0, y=0, length=600, width=240)
    good = replace(first, part="D2", y=243)
    assert matched_faults([door, door], [first, good], kerf=3) == []
    for wrong in (replace(good, sheet=2), replace(good, x=5), replace(good, y=250), replace(good, y=-243), None):
        assert len(matched_faults([door, door], [first, wrong], kerf=3)) == 1
