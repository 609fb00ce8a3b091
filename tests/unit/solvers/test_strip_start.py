"""Tests of the first plan for many parts: by hand, and on sheets cut up without waste."""

from __future__ import annotations

from itertools import islice

from nookwright.solvers.pack_sheets import Rectangle
from nookwright.solvers.refit_sheets import SheetKind, refitted
from nookwright.solvers.shaking import Shaker
from nookwright.solvers.strip_start import strips_on_sheets


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
