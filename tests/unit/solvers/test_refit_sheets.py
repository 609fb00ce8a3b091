"""Tests of the long search for sheets: small cases by trying everything, and what it promises of its plans."""

from __future__ import annotations

from itertools import islice

import numpy as np
import pytest

from nookwright.solvers import refit_sheets
from nookwright.solvers.guillotine import Laid, Wanted, sheet_faults
from nookwright.solvers.pack_sheets import Rectangle
from nookwright.solvers.refit_sheets import Refit, SheetKind, SheetsFound, refitted
from nookwright.solvers.shaking import Shaker
from nookwright.solvers.sheet_trees import Stack, parts_in, tree_of
from trying_everything import Stock, cheapest, leaves

SQUARE = SheetKind(length=100, width=90, price=1)


def mixed(count: int) -> list[Rectangle]:
    """Return parts of many sizes."""
    return [Rectangle(length=20 + 7 * i % 50, width=15 + 11 * i % 40, turnable=i % 2 == 0) for i in range(count)]


def last(parts: list[Rectangle], kinds: list[SheetKind], kerf: int, steps: int, **options: int) -> SheetsFound:
    """Return the plan after some steps."""
    return list(islice(refitted(parts, kinds, kerf=kerf, **options), steps))[-1]


def check(found: SheetsFound, parts: list[Rectangle], kinds: list[SheetKind], kerf: int) -> None:
    """Let the independent checker judge every sheet, and count parts, money and stock."""
    seen: list[int] = []
    for kind, stack in found.sheets:
        length, width = kinds[kind].length, kinds[kind].width
        tree = tree_of(stack, parts, length=length, width=width, kerf=kerf)
        laid = [
            Laid(part=str(leaf.part), sheet=1, x=leaf.x, y=leaf.y, length=leaf.length, width=leaf.width)
            for leaf in leaves(tree)
            if leaf.part is not None
        ]
        wanted = {
            one.part: Wanted(
                length=parts[int(one.part)].length, width=parts[int(one.part)].width,
                turnable=parts[int(one.part)].turnable,
            )
            for one in laid
        }  # fmt: skip
        assert sheet_faults(wanted, laid, length=length, width=width, trim=0, kerf=kerf) == ()
        seen += [int(one.part) for one in laid]
    assert sorted(seen) == list(range(len(parts)))
    assert found.cost == sum(kinds[kind].price for kind, _ in found.sheets)
    for number, kind in enumerate(kinds):
        assert kind.most is None or sum(used == number for used, _ in found.sheets) <= kind.most


@pytest.mark.parametrize("turnable", [False, True])
def test_up_to_six_parts_match_trying_everything(turnable: bool) -> None:
    """Two kinds of sheet, one of them a limited offcut: the least cost is found, and never beaten."""
    numbers = Shaker(11)
    for _ in range(40):
        kerf = (0, 1, 3)[numbers.below(3)]
        small = (30 + numbers.below(30), 30 + numbers.below(25))
        price, most = 1 + numbers.below(7), numbers.below(3)
        parts = [
            Rectangle(length=10 + numbers.below(51), width=10 + numbers.below(41), turnable=turnable)
            for _ in range(1 + numbers.below(6))
        ]
        stocks = [Stock(length=70, width=60, price=9), Stock(length=small[0], width=small[1], price=price, most=most)]
        kinds = [
            SheetKind(length=one.length, width=one.width, price=one.price, most=None if one.most == 99 else one.most)
            for one in stocks
        ]
        least = cheapest(parts, stocks, kerf)
        found = last(parts, kinds, kerf, 8, enough=least)
        check(found, parts, kinds, kerf)
        assert found.cost == least


def test_a_longer_search_is_never_dearer_and_every_plan_can_be_cut() -> None:
    """The cost only falls, step after step."""
    parts, kinds = mixed(40), [SQUARE, SheetKind(length=60, width=50, price=1, most=2)]
    costs = []
    for found in islice(refitted(parts, kinds, kerf=3), 30):
        check(found, parts, kinds, 3)
        costs.append(found.cost)
    assert costs == sorted(costs, reverse=True)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_many_parts_are_each_cut_once(seed: int) -> None:
    """With 150 parts sheets are filled one after the other too; whichever plan is cheaper, nothing is lost or doubled."""
    numbers = Shaker(seed)
    sizes = [(12 + numbers.below(40), 10 + numbers.below(40)) for _ in range(6 * seed)]
    parts = [Rectangle(length=l, width=w) for l, w in (sizes[i % len(sizes)] for i in range(150))]
    kinds = [SQUARE, SheetKind(length=110, width=80, price=1), SheetKind(length=60, width=60, price=1)]
    for found in islice(refitted(parts, kinds, kerf=1, seed=seed), 12):
        check(found, parts, kinds, 1)


def test_many_parts_are_searched_in_periods(monkeypatch: pytest.MonkeyPatch) -> None:
    """Periods cut short to eight steps: plans stay whole and get no dearer.

    What is worked on meanwhile costs less than the best plan and holds no part twice; other worths change the search.
    """
    monkeypatch.setattr(refit_sheets, "_LONG_PERIOD", 4000)
    monkeypatch.setattr(refit_sheets, "_ROUNDS_A_PART", 1)
    parts, kinds = mixed(150), [SQUARE, SheetKind(length=60, width=50, price=1)]
    ends = []
    for worths in (None, np.arange(1.0, 151.0)):
        refit = Refit(parts, kinds, kerf=3)
        if worths is not None:
            refit.weigh(worths)
        costs = [refit.best.cost]
        for _ in range(25):
            refit.step()
            costs.append(refit.best.cost)
            standing = [part for _, stack in refit.standing.sheets for part in parts_in(stack)]
            assert len(standing) == len(set(standing)) <= 150
            assert refit.standing.cost < refit.best.cost
        assert costs == sorted(costs, reverse=True)
        check(refit.best, parts, kinds, 3)
        ends.append((refit.best, refit.standing))
    assert ends[0] != ends[1]


def test_the_same_input_gives_the_same_plan() -> None:
    """The sequence of numbers is fixed by the seed."""
    once, twice = (last(mixed(30), [SQUARE], 3, 12, seed=5) for _ in range(2))
    assert once == twice


def test_the_search_ends_when_enough_is_reached() -> None:
    """Four quarters on one sheet: nothing is left to look for."""
    parts = [Rectangle(length=50, width=45)] * 4
    plans = list(refitted(parts, [SQUARE], kerf=0, enough=1))
    assert [found.cost for found in plans] == [1]


def test_no_parts_no_plan() -> None:
    """Nothing to cut."""
    assert list(refitted([], [SQUARE], kerf=0)) == []


def test_too_little_stock_is_refused() -> None:
    """Two sheets that hold one part each, and three parts."""
    parts = [Rectangle(length=80, width=80)] * 3
    with pytest.raises(ValueError, match="do not hold every rectangle"):
        next(refitted(parts, [SheetKind(length=100, width=90, price=1, most=2)], kerf=0))


def levels(stack: Stack) -> int:
    """Return how many rows stand inside each other."""
    return 0 if stack.part is not None else 1 + max(levels(each) for each in stack.row)


@pytest.mark.parametrize("deepest", [1, 2, 3])
def test_a_saw_limit_holds(deepest: int) -> None:
    """No part lies deeper than the saw may cut."""
    parts = mixed(40)
    found = last(parts, [SQUARE], 3, 20, deepest=deepest)
    check(found, parts, [SQUARE], 3)
    assert max(levels(stack) for _, stack in found.sheets) <= deepest
