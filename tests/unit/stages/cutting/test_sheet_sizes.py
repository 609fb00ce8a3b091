"""Tests of sheets in several sizes, offcuts, limited saws and time given: small cases worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from counted_looks import CountedLooks
from nookwright.geometry.frame import Frame
from nookwright.stages.cutting import sheet_plans
from nookwright.stages.cutting.cutting_plan import SheetPlan
from nookwright.stages.cutting.goals import largest_left_mm2
from nookwright.stages.cutting.sheet_layout import lay_out_sheets
from nookwright.stages.inputs.shop import Saw, SheetSize, SheetStock
from nookwright.stages.parts.part import SQUARE, Part

FRAME = Frame(origin=(0, 0, 0), u=(1, 0, 0), v=(0, 0, 1))
SAW = Saw(kerf_mm=3.0, trim_mm=5.0, keep_mm=150.0)
HALF = SheetSize(length_mm=1010, width_mm=260, price=Decimal(30))
OFFCUT = SheetSize(length_mm=400, width_mm=300, offcut=True, count=1)
LEAVING_MUCH = ((280, 260), (680, 100), (360, 110), (510, 220), (500, 280), (440, 140), (260, 230), (210, 200))
"""Parts that two sheets hold with more than half a sheet to spare."""


def part(number: str, length: float, width: float) -> Part:
    """Return a plain rectangular part."""
    return Part(
        number=number, name=number, role="shelf", module="A", stock="birch", wood="birch-plywood", thickness_mm=18,
        outline=((0, 0), (length, 0), (length, width), (0, width)), edges=(SQUARE,) * 4, frame=FRAME,
    )  # fmt: skip


def stock(*sizes: SheetSize, on_hand: int = 0) -> SheetStock:
    """Return a grained sheet of 1010 x 510 for 50, and what other sizes there are."""
    return SheetStock(
        key="birch", name="birch ply", wood="birch-plywood", length_mm=1010, width_mm=510, thickness_mm=18,
        grained=True, price=Decimal(50), on_hand=on_hand, sizes=sizes,
    )  # fmt: skip


def used(plans: tuple[SheetPlan, ...]) -> list[tuple[float, float]]:
    """Return the sizes of the sheets used."""
    return [(plan.length_mm, plan.width_mm) for plan in plans]


def test_a_half_sheet_is_bought_where_it_is_enough() -> None:
    """Three parts of 1000 x 250: two do not go on a whole sheet of 500 with a cut between, one each on three halves do."""
    plans, summary, _ = lay_out_sheets([part(f"A{i}", 1000, 250) for i in range(3)], stock(HALF), SAW)
    assert used(plans) == [(1010, 260)] * 3
    assert summary
    assert summary.bound_says == "sheets for 90.00, proven best: no plan that cuts right through costs less"


def test_a_whole_sheet_is_bought_where_it_holds_two() -> None:
    """Two parts of 1000 x 240 fit one whole sheet for 50; two halves cost 60."""
    plans, summary, _ = lay_out_sheets([part("A1", 1000, 240), part("A2", 1000, 240)], stock(HALF), SAW)
    assert used(plans) == [(1010, 510)]
    assert summary
    assert summary.bound_says.startswith("sheets for 50.00, proven best")


def test_an_offcut_is_used_first_and_its_edges_are_clean() -> None:
    """400 x 300 fills the offcut untrimmed, without a cut; nothing is bought."""
    (plan,), summary, _ = lay_out_sheets([part("A1", 400, 300)], stock(OFFCUT), SAW)
    assert plan.offcut
    assert plan.cuts == ()
    assert (plan.placed[0].x_mm, plan.placed[0].y_mm) == (0, 0)
    assert summary
    assert summary.bound_says.startswith("sheets for 0.00, proven best")


def test_no_more_offcuts_are_used_than_there_are() -> None:
    """Two parts, one offcut: one sheet is bought."""
    plans, _, _ = lay_out_sheets([part("A1", 400, 300), part("A2", 400, 300)], stock(OFFCUT), SAW)
    assert sorted(used(plans)) == [(400, 300), (1010, 510)] or used(plans) == [(1010, 510)]
    assert sum(plan.offcut for plan in plans) <= 1


def test_sheets_on_hand_cost_nothing() -> None:
    """Two whole sheets needed, one is there, and a half one would not do for the other."""
    parts = [part("A1", 1000, 490), part("A2", 1000, 490)]
    plans, summary, _ = lay_out_sheets(parts, stock(HALF, on_hand=1), SAW)
    assert used(plans) == [(1010, 510)] * 2
    assert summary
    assert summary.bound_says.startswith("sheets for 50.00, proven best")


def test_what_fits_only_an_offcut_is_too_large() -> None:
    """An offcut cannot be bought again: a part that no sheet for sale gives is named."""
    long = SheetSize(length_mm=2000, width_mm=300, offcut=True, count=1)
    plans, _, misfits = lay_out_sheets([part("A1", 1500, 200)], stock(long), SAW)
    assert plans == ()
    assert [misfit.part for misfit in misfits] == ["A1"]


def test_a_saw_that_only_cuts_strips_needs_more_sheets() -> None:
    """One wide and two narrow parts beside it share a sheet only if the saw may turn: in one stage they need two."""
    parts = [part("A1", 600, 500), part("A2", 390, 240), part("A3", 390, 240)]
    free, _, _ = lay_out_sheets(parts, stock(), SAW)
    strips, _, _ = lay_out_sheets(parts, stock(), replace(SAW, stages=1))
    assert (len(free), len(strips)) == (1, 2)


def test_more_time_gathers_what_is_left_in_one_piece() -> None:
    """Ten parts of 300 x 95 fill two thirds of a sheet; with time, one strip across the whole sheet is left."""
    parts = [part(f"A{i}", 300, 95) for i in range(10)]
    (plan,), _, _ = lay_out_sheets(parts, stock(HALF), SAW, CountedLooks(400))
    largest = plan.leftovers[0]
    assert largest.length_mm * largest.width_mm >= 0.9 * (1000 * 500 - 12 * 303 * 98)


def test_more_time_gathers_what_is_left_where_the_money_is_settled_at_once() -> None:
    """One size of sheet, proven best by the quick search: the time goes to the largest leftover, the first goal."""
    parts = [part(f"A{i}", length, width) for i, (length, width) in enumerate(LEAVING_MUCH)]
    quick, summary, _ = lay_out_sheets(parts, stock(), SAW)
    looks = CountedLooks(1000)
    longer, same, _ = lay_out_sheets(parts, stock(), SAW, looks)
    assert summary
    assert same
    assert "no plan needs fewer" in summary.bound_says
    assert used(longer) == used(quick)
    assert largest_left_mm2(longer) > largest_left_mm2(quick)
    assert all(cost == least == 50 * len(quick) for cost, least in looks.told)


def test_a_cost_that_does_not_add_up_crashes(monkeypatch: pytest.MonkeyPatch) -> None:
    """The money is added up from the sheets again."""
    choose = sheet_plans.choose_sheets
    monkeypatch.setattr(
        sheet_plans, "choose_sheets", lambda *given: tuple(replace(one, cost=Decimal(1)) for one in choose(*given))
    )
    with pytest.raises(AssertionError, match="the sheet plan for birch costs 50, not 1"):
        lay_out_sheets([part("A1", 1000, 490)], stock(), SAW)
