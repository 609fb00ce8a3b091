"""Tests of plan and proof together: small jobs by trying everything, and what the bound may never do."""

from __future__ import annotations

from itertools import islice

import pytest

from nookwright.solvers.cheapest_sheets import cheapest_sheets
from nookwright.solvers.pack_sheets import Rectangle
from nookwright.solvers.refit_sheets import SheetKind
from nookwright.solvers.shaking import Shaker
from nookwright.solvers.sheet_bounds import SheetBound
from trying_everything import Stock, cheapest

STEPS = 60


@pytest.mark.parametrize("turnable", [False, True])
def test_the_bound_never_passes_the_least_cost(turnable: bool) -> None:
    """Up to five parts on three kinds of sheet, one limited, sizes in steps finer than the tables: tried by hand."""
    numbers = Shaker(23)
    met = 0
    for _ in range(25):
        scale = (1, 37)[numbers.below(2)]  # 37: more points than a table has
        kerf = (0, 2)[numbers.below(2)] * scale
        parts = [
            Rectangle(
                length=(10 + numbers.below(51)) * scale + numbers.below(scale),
                width=(10 + numbers.below(41)) * scale + numbers.below(scale),
                turnable=turnable,
            )
            for _ in range(1 + numbers.below(5))
        ]
        stocks = [
            Stock(length=70 * scale, width=60 * scale, price=90),
            Stock(length=70 * scale, width=30 * scale, price=47),
            Stock(length=40 * scale, width=40 * scale, price=numbers.below(2) * 20, most=1),
        ]
        kinds = [
            SheetKind(length=one.length, width=one.width, price=one.price, most=None if one.most == 99 else one.most)
            for one in stocks
        ]
        least = cheapest(parts, stocks, kerf)
        *_, state = islice(cheapest_sheets(parts, kinds, kerf=kerf), STEPS)
        assert state.least <= least <= state.found.cost
        met += state.proven
    assert met >= 15


def test_plan_and_bound_only_get_better() -> None:
    """Step after step, and the search ends when they meet."""
    parts = [Rectangle(length=20 + 7 * i % 50, width=15 + 11 * i % 40) for i in range(30)]
    kinds = [SheetKind(length=100, width=90, price=10), SheetKind(length=50, width=90, price=6)]
    states = list(islice(cheapest_sheets(parts, kinds, kerf=3), 200))
    assert [s.found.cost for s in states] == sorted((s.found.cost for s in states), reverse=True)
    assert [s.least for s in states] == sorted(s.least for s in states)


def test_four_parts_that_no_sheet_shares_need_a_sheet_each() -> None:
    """60 x 60 on 100 x 100: one a sheet, though two would fit by area; half sheets hold none."""
    parts = [Rectangle(length=60, width=60, turnable=True)] * 4
    kinds = [SheetKind(length=100, width=100, price=10), SheetKind(length=100, width=50, price=5)]
    bound = SheetBound(parts, kinds, kerf=0)
    assert list(bound.steps(40))[-1] == 40
    assert list(SheetBound(parts, kinds, kerf=0).steps(50))[-1] == 40


def test_nothing_to_cut_has_no_plan() -> None:
    """No parts."""
    assert list(cheapest_sheets([], [SheetKind(length=100, width=90, price=1)], kerf=0)) == []
