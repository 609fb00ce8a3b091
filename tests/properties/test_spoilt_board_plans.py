"""No board plan that was spoilt in any way gets past the checker."""

from __future__ import annotations

from random import Random

import pytest

from corrupted_boards import WAYS, accepted, spoilt, whole_plan
from nookwright.stages.cutting.board_check import board_faults, money_for


def test_four_hundred_spoilt_plans_are_all_refused() -> None:
    """Twenty plans, each spoilt twenty times in a way chosen by chance; the bench does ten thousand."""
    assert accepted(range(20), 20) == []


@pytest.mark.parametrize("how", WAYS)
def test_every_way_to_spoil_a_plan_is_told(how: str) -> None:
    """A fault is named for each kind of spoiling by itself."""
    changed = 0
    for number in range(6):
        plans, parts, stock, saw = whole_plan(number)
        for seed in range(10):
            spoilt_one = WAYS[how](plans, stock, Random(seed))  # noqa: S311
            changed += spoilt_one is not None
            assert spoilt_one is None or board_faults(spoilt_one, parts, stock, saw), (number, seed)
    assert changed


def test_money_is_counted_from_the_boards_themselves() -> None:
    """A board lost is money saved, whatever the plan says; offcuts cost nothing."""
    plans, _, stock, _ = whole_plan(3)
    prices = {one.length_mm: one.price for one in stock.lengths}
    assert money_for(plans, stock) == sum(prices[plan.length_mm] for plan in plans if not plan.offcut)
    assert spoilt(plans, stock, Random(1))[1] != plans  # noqa: S311
