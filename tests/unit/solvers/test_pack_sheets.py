"""Tests of the search for sheet plans: small cases solved by hand or by trying everything."""

from __future__ import annotations

import pytest

from nookwright.solvers.bounds import least_sheets
from nookwright.solvers.guillotine import Laid, Wanted, sheet_faults
from nookwright.solvers.pack_sheets import Rectangle, Region, pack_sheets
from nookwright.solvers.shaking import Shaker
from trying_everything import Stock, cheapest, leaves


def faults(trees: tuple[Region, ...], parts: list[Rectangle], length: int, width: int, kerf: int) -> tuple[str, ...]:
    """Return what the independent checker says."""
    laid = [
        Laid(part=str(leaf.part), sheet=number, x=leaf.x, y=leaf.y, length=leaf.length, width=leaf.width)
        for number, tree in enumerate(trees)
        for leaf in leaves(tree)
        if leaf.part is not None
    ]
    wanted = {
        str(i): Wanted(length=part.length, width=part.width, turnable=part.turnable) for i, part in enumerate(parts)
    }
    return sheet_faults(wanted, laid, length=length, width=width, trim=0, kerf=kerf)


def test_four_quarters_less_kerf_fill_one_sheet() -> None:
    """Two parts of 100 and a kerf of 4 need exactly 204."""
    parts = [Rectangle(length=100, width=50)] * 4
    assert len(pack_sheets(parts, length=204, width=104, kerf=4)) == 1
    assert len(pack_sheets(parts, length=203, width=104, kerf=4)) == 2


def test_a_part_as_large_as_the_sheet_pays_no_kerf() -> None:
    """Nothing is cut off, so no saw passes."""
    (tree,) = pack_sheets([Rectangle(length=200, width=100)], length=200, width=100, kerf=4)
    assert (tree.part, tree.along) == (0, None)


def test_a_part_turns_only_where_it_may() -> None:
    """A part longer than the sheet is wide stands only without grain."""
    with pytest.raises(ValueError, match="a rectangle of 50 x 150 fits no sheet of 200 x 100"):
        pack_sheets([Rectangle(length=50, width=150)], length=200, width=100, kerf=4)
    (tree,) = pack_sheets([Rectangle(length=50, width=150, turnable=True)], length=200, width=100, kerf=4)
    (part,) = [leaf for leaf in leaves(tree) if leaf.part is not None]
    assert (part.length, part.width, part.turned) == (150, 50, True)


def test_nothing_to_cut_needs_no_sheet() -> None:
    """No parts, no plan."""
    assert pack_sheets([], length=200, width=100, kerf=4) == ()


def test_the_same_parts_give_the_same_plan() -> None:
    """The search shakes by a fixed sequence."""
    parts = [Rectangle(length=30 + 7 * i % 50, width=20 + 11 * i % 40, turnable=i % 2 == 0) for i in range(30)]
    once, twice = (pack_sheets(parts, length=100, width=90, kerf=3, tries=100) for _ in range(2))
    assert once == twice


@pytest.mark.parametrize("turnable", [False, True])
def test_small_jobs_match_trying_everything(turnable: bool) -> None:
    """Up to five parts: never better than possible, bound never above it, and the search finds the least."""
    numbers = Shaker(7)
    for _ in range(60):
        kerf = (0, 1, 3)[numbers.below(3)]
        parts = [
            Rectangle(length=10 + numbers.below(51), width=10 + numbers.below(41), turnable=turnable)
            for _ in range(1 + numbers.below(5))
        ]
        least = cheapest(parts, [Stock(length=70, width=60)], kerf)
        bound = least_sheets(parts, length=70, width=60, kerf=kerf)
        trees = pack_sheets(parts, length=70, width=60, kerf=kerf, tries=200, enough=bound.least)
        assert bound.least <= least
        assert len(trees) == least
        assert faults(trees, parts, 70, 60, kerf) == ()
