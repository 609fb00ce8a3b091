"""Tests of the tables of greatest worth: the quick ones against the plain recursion, and further patterns."""

from __future__ import annotations

import numpy as np
import pytest

from nookwright.solvers.kernels.blocks import values_around
from nookwright.solvers.kernels.guillotine_values import greatest_values
from nookwright.solvers.pattern_mix import GrowingMix, cheapest_mix
from nookwright.solvers.shaking import Shaker
from nookwright.solvers.sheet_grids import PartKind, grid_of
from nookwright.solvers.sheet_tables import SheetTables

SIZE = (60, 50)


def random_parts(numbers: Shaker, count: int) -> list[PartKind]:
    """Return parts of 5 to 29 by 5 to 24, so many kinds that every whole step is a sum of sides."""
    return [
        PartKind(length=5 + numbers.below(25), width=5 + numbers.below(20), turnable=False, wanted=20)
        for _ in range(count)
    ]


def plainly_filled(parts: list[PartKind], values: list[int]) -> np.ndarray:
    """Return the most value of every size of piece in whole units, cut by cut as the recursion says, nothing skipped."""
    table = np.zeros((SIZE[0] + 1, SIZE[1] + 1), dtype=np.int64)
    for i in range(1, SIZE[0] + 1):
        for j in range(1, SIZE[1] + 1):
            fitting = [value for part, value in zip(parts, values, strict=True) if part.length <= i and part.width <= j]
            along = (table[k, j] + table[i - k, j] for k in range(1, i // 2 + 1))
            across = (table[i, k] + table[i, j - k] for k in range(1, j // 2 + 1))
            table[i, j] = max([0, *fitting, *along, *across])
    return table


@pytest.mark.parametrize("seed", range(6))
def test_the_table_and_what_stands_around_are_those_of_the_plain_recursion(seed: int) -> None:
    """At every sum of sides: rows filled together, points left out and small numbers change nothing."""
    numbers = Shaker(seed)
    parts = random_parts(numbers, 2 + seed)
    if seed == 5:
        parts.append(PartKind(length=1, width=1, turnable=False, wanted=60))
    values = [1 + numbers.below(1000) for _ in parts]
    grid, _ = grid_of(parts, *SIZE, 200)
    points = np.ix_(grid.along, grid.across)
    table = np.zeros((grid.along.size, grid.across.size), dtype=np.int32)
    top = greatest_values(grid, np.array(values, dtype=np.int32), table)
    plain = plainly_filled(parts, values)
    assert top == plain[SIZE]
    assert (table == plain[points]).all()
    around, plain_around = np.zeros_like(table), np.zeros_like(plain)
    values_around(grid, table, around)
    for i in range(SIZE[0], -1, -1):
        for j in range(SIZE[1], -1, -1):
            beside = [plain_around[k, j] + plain[k - i, j] for k in range(i + 1, SIZE[0] + 1)]
            above = [plain_around[i, k] + plain[i, k - j] for k in range(j + 1, SIZE[1] + 1)]
            plain_around[i, j] = max([0, *beside, *above])
    assert (around == plain_around[points]).all()


@pytest.mark.parametrize("scale", [1, 1 << 36])
def test_rounded_values_never_say_too_little(scale: int) -> None:
    """Values too large for the table lose digits upwards: by no more than one in a million."""
    numbers = Shaker(5)
    parts = [PartKind(length=1, width=1, turnable=False, wanted=60), *random_parts(numbers, 6)]
    tables = SheetTables(parts, [SIZE], 200)
    values = np.array([1 + numbers.below(1000) for _ in parts], dtype=np.int64)
    large = values * scale + np.arange(len(parts)) * (scale > 1)
    top, pieces = tables.richest(large, 0)
    grid, _ = grid_of(parts, *SIZE, 200)
    plain = scale * greatest_values(grid, values.astype(np.int32), np.zeros((61, 51), dtype=np.int32))
    assert plain <= top <= plain * (1 + 1e-6)
    assert pieces @ large <= plain


def test_further_patterns_fit_and_are_worth_what_is_said() -> None:
    """With 60 kinds of parts three more patterns a sheet: none above the greatest worth, none larger than the sheet."""
    parts = random_parts(Shaker(7), 60)
    areas = np.array([part.length * part.width for part in parts], dtype=np.int64)
    worth, found = SheetTables(parts, [SIZE], 200).worth(areas, np.ones(60, dtype=np.int64))
    assert worth.parts == areas.sum()
    assert len(found) >= 3
    assert found[0][1] == worth.tops[0]
    for kind, value, pieces in found:
        assert kind == 0
        assert pieces @ areas == value <= worth.tops[0] <= SIZE[0] * SIZE[1]


def test_a_growing_mix_has_the_prices_of_the_whole_one() -> None:
    """Rows want 3 and 5; (1, 1) costs 4, (0, 1) costs 1, later (1, 0) costs 2: prices 3 and 1, then 2 and 1."""
    mix = GrowingMix([3, 5], 100.0)
    mix.add([np.array([1, 1]), np.array([0, 1])], [4, 1])
    assert mix.prices() == pytest.approx([3, 1])
    mix.add([np.array([1, 0])], [2])
    assert mix.prices() == pytest.approx([2, 1])
    whole = cheapest_mix(np.array([[1.0, 0, 1], [1, 1, 0]]), [4, 1, 2], [3, 5])
    assert whole.prices == pytest.approx([2, 1])


def test_a_kind_that_is_no_bargain_is_bounded_by_the_larger_one() -> None:
    """Half a sheet at four fifths of its price is worth too little: its bound comes from the larger table, and holds."""
    for first in range(10):
        parts = random_parts(Shaker(7 + first), 30)
        sizes = [(30, 50), SIZE, (31, 27)]
        values = np.array([part.length * part.width + part.length for part in parts], dtype=np.int64)
        wanted = np.ones(30, dtype=np.int64)
        exact, _ = SheetTables(parts, sizes, 200).worth(values, wanted)
        for points in (40, 200):
            quick, found = SheetTables(parts, sizes, points).worth(values, wanted, [80, 100, 79])
            assert {kind for kind, _, _ in found} == {1}
            assert all(top >= least for top, least in zip(quick.tops, exact.tops, strict=True))
            assert 80 * quick.tops[1] > 100 * quick.tops[0]
        dear, found = SheetTables(parts, sizes, 200).worth(values, wanted, [3, 100, 1])
        assert {kind for kind, _, _ in found} == {0, 1, 2}
        assert dear == exact
