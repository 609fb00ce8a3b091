"""Tests of the first plan for many parts: by hand, and on sheets cut up without waste."""

from __future__ import annotations

from collections.abc import Generator
from itertools import islice

import pytest

from nookwright.solvers.pack_sheets import Rectangle
from nookwright.solvers.refit_sheets import Refit, SheetKind, refitted
from nookwright.solvers.shaking import Shaker
from nookwright.solvers.sheet_trees import parts_in, sizes_of
from nookwright.solvers.strip_start import strips_on_kinds, strips_on_sheets


def ended(work: Generator[None, None, list[tuple[int, list[list[int]]]]]) -> list[tuple[int, list[list[int]]]]:
    """Return what comes of work that is done to its end."""
    while True:
        try:
            next(work)
        except StopIteration as done:
            return done.value  # type: ignore[no-any-return]


def test_strips_are_filled_and_set_on_sheets() -> None:
    """100 x 60: 60 + 40 long and 30 wide in one strip, 50 + 50 in the other, and 30 + 30 across; 20 x 10 on a second."""
    sizes = [(60, 30), (40, 30), (50, 30), (50, 28), (20, 10)]
    sheets = strips_on_sheets(sizes, 100, 60)
    assert sorted(sorted(sorted(strip) for strip in strips) for strips in sheets) == [[[0, 1], [2, 3]], [[4]]]


def test_many_parts_are_put_back_on_the_sheets_they_were_cut_from() -> None:
    """20 sheets of 1000 x 600 cut into three strips of three parts each, 180 in all, nothing wasted: 20 are needed.

    Filling one sheet after the other from the parts at hand took 22, and 21 after 200 steps.
    """
    numbers = Shaker(3)
    parts: list[Rectangle] = []
    for _ in range(20):
        widths = [150 + numbers.below(100), 150 + numbers.below(100)]
        for width in [*widths, 600 - sum(widths)]:
            lengths = [200 + numbers.below(200), 200 + numbers.below(200)]
            parts += [Rectangle(length=length, width=width) for length in [*lengths, 1000 - sum(lengths)]]
    kinds = [SheetKind(length=1000, width=600, price=1), SheetKind(length=500, width=600, price=2)]
    *_, found = islice(refitted(parts, kinds, kerf=0), 2)
    assert found.cost == 20


def test_widths_that_suit_another_size_go_on_it() -> None:
    """40 parts 20 x 50: sheets 100 x 120 for 12 hold ten, two strips, 150 x 150 for 23 hold 21, three strips.

    All on the first cost 48; one of the second and two of the first hold 41 and cost 47.
    """
    kinds = [(100, 120, 12), (150, 150, 23)]
    sheets = ended(strips_on_kinds([(20, 50)] * 40, kinds))
    assert sorted(part for _, strips in sheets for strip in strips for part in strip) == list(range(40))
    assert sum(kinds[kind][2] for kind, _ in sheets) == 47
    for kind, strips in sheets:
        length, width, _ = kinds[kind]
        assert all(20 * len(strip) <= length for strip in strips)
        assert 50 * len(strips) <= width


@pytest.mark.parametrize(
    ("part", "other"), [((36, 35), (136, 74, 15)), ((34, 25), (85, 117, 9)), ((38, 35), (102, 129, 10))]
)
def test_no_sheet_is_left_empty_where_the_other_size_holds_more_than_was_reckoned(
    part: tuple[int, int], other: tuple[int, int, int]
) -> None:
    """Any number of parts alike: every part once, no sheet and no strip without any."""
    for count in range(1, 40):
        sheets = ended(strips_on_kinds([part] * count, [(65, 95, 10), other]))
        assert sorted(one for _, strips in sheets for strip in strips for one in strip) == list(range(count))
        assert all(strips and all(strips) for _, strips in sheets)


def test_many_parts_are_cut_from_two_sizes_where_that_is_cheaper() -> None:
    """Strips 490 wide waste a fifth of a sheet 600 wide and 2 % of one 1000 wide; the plan is one that can be cut."""
    numbers = Shaker(11)
    parts = [Rectangle(length=200 + numbers.below(150), width=480 + numbers.below(11)) for _ in range(150)]
    parts += [Rectangle(length=200 + numbers.below(150), width=190 + numbers.below(11)) for _ in range(150)]
    kinds = [SheetKind(length=1000, width=600, price=60), SheetKind(length=1200, width=1000, price=125)]
    refit = Refit(parts, kinds, kerf=0)
    first = refit.best.cost
    for _ in refit.mixed_strips():
        pass
    assert refit.best.cost < first
    assert sorted(part for _, stack in refit.best.sheets for part in parts_in(stack)) == list(range(300))
    size = sizes_of(parts, 0)
    for kind, stack in refit.best.sheets:
        length, width = size(stack)
        assert length <= kinds[kind].length
        assert width <= kinds[kind].width
