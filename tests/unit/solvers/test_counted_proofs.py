"""Tests of bounds that count copies: the richest pattern by trying everything, and sets of sheets ruled out."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from nookwright.solvers.counted_proofs import CountedProofs, most_counted
from nookwright.solvers.counted_tree import CountedTree
from nookwright.solvers.pack_sheets import Rectangle
from nookwright.solvers.shaking import Shaker
from nookwright.solvers.sheet_grids import PartKind
from nookwright.solvers.sheet_tables import SheetTables
from trying_everything import Stock, cheapest, slicings

Whole = NDArray[np.int64]


def random_parts(numbers: Shaker, kinds: int, *, turnable: bool) -> list[PartKind]:
    """Return kinds of part for sheets of 60 x 50, one or two of each."""
    return [
        PartKind(
            length=8 + numbers.below(40), width=8 + numbers.below(30), turnable=turnable, wanted=1 + numbers.below(2)
        )
        for _ in range(kinds)
    ]


def one_by_one(parts: list[PartKind]) -> list[Rectangle]:
    """Return every single part."""
    return [
        Rectangle(length=one.length, width=one.width, turnable=one.turnable) for one in parts for _ in range(one.wanted)
    ]


@pytest.mark.parametrize("turnable", [False, True])
@pytest.mark.parametrize("points", [30, 200])
def test_the_richest_pattern_is_found_by_trying_everything_too(points: int, turnable: bool) -> None:
    """Up to six parts on a sheet of 60 x 50; with 30 points the sizes are rounded, the patterns are still exact."""
    numbers = Shaker(5)
    for _ in range(40):
        parts = random_parts(numbers, 4, turnable=turnable)
        while sum(part.wanted for part in parts) > 6:
            parts.pop()
        values = np.array([1 + numbers.below(900) for _ in parts], dtype=np.int64)
        of_each = [i for i, part in enumerate(parts) for _ in range(part.wanted)]
        best = max(
            sum(int(values[of_each[i]]) for i in group)
            for group, sizes in [*slicings(one_by_one(parts), 0).items(), (frozenset(), {(0, 0)})]
            if any(l <= 60 and w <= 50 for l, w in sizes)
        )
        tables = SheetTables(parts, [(60, 50)], points)
        values[list(tables.lost)] = 0
        if tables.lost:
            continue
        found, pieces = most_counted(parts, (60, 50), tables, values)
        assert found == best == int(values @ pieces)
        assert all(n <= part.wanted for n, part in zip(pieces.tolist(), parts, strict=True))


def test_a_set_of_sheets_is_only_ruled_out_when_it_does_not_do() -> None:
    """Up to six parts on one or two sheets of two sizes: what is ruled out has no plan, by trying everything."""
    numbers = Shaker(9)
    sizes = [(60, 50), (40, 40)]
    ruled_out = by_tables = 0
    for _ in range(60):
        parts = random_parts(numbers, 4, turnable=False)
        while sum(part.wanted for part in parts) > 6:
            parts.pop()
        if any(part.length > 60 or part.width > 50 for part in parts):
            continue
        counts = (1, numbers.below(3))
        tables = SheetTables(parts, sizes, 200)
        proofs = list(CountedProofs(parts, sizes, tables).against(counts, 5000))
        proof = proofs[-1] if proofs else None
        if proof is None:
            continue
        assert sum(n * top for n, top in zip(counts, proof.tops, strict=True)) < proof.parts
        stocks = [Stock(length=l, width=w, most=n) for (l, w), n in zip(sizes, counts, strict=True)]
        assert cheapest(one_by_one(parts), stocks, 0) == 10**9
        ruled_out += 1
        area = sum(part.length * part.width * part.wanted for part in parts)
        by_tables += area > sum(n * l * w for n, (l, w) in zip(counts, sizes, strict=True))
    assert ruled_out > by_tables + 3


def test_a_tree_rules_out_what_halves_of_patterns_allow() -> None:
    """Sheets 10 x 10, 11 x 10 and 10 x 11 each hold two 10 x 5 or two 5 x 10, never one of each.

    Half of either on each would do for three and three; but three is odd, so one sheet would have to hold both.
    """
    sizes = [(10, 10), (11, 10), (10, 11)]

    def asked(lying: int, standing: int) -> tuple[bool, bool]:
        parts = [
            PartKind(length=10, width=5, turnable=False, wanted=lying),
            PartKind(length=5, width=10, turnable=False, wanted=standing),
        ]
        proofs = CountedProofs(parts, sizes, SheetTables(parts, sizes, 200))
        proven = any(proof is not None for proof in proofs.against((1, 1, 1), 5000))
        return proven, any(CountedTree(proofs, (1, 1, 1)).nodes(5000))

    assert asked(3, 3) == (False, True)
    assert asked(2, 4) == (False, False)


def test_a_tree_never_rules_out_sheets_that_do() -> None:
    """Up to six parts that one sheet of each of two sizes holds, by trying everything."""
    numbers = Shaker(31)
    sizes = [(60, 50), (40, 40)]
    stocks = [Stock(length=l, width=w, most=1) for l, w in sizes]
    kept = 0
    for _ in range(60):
        parts = [part for part in random_parts(numbers, 4, turnable=False) if part.length <= 60 and part.width <= 50]
        while sum(part.wanted for part in parts) > 6:
            parts.pop()
        if cheapest(one_by_one(parts), stocks, 0) == 10**9:
            continue
        proofs = CountedProofs(parts, sizes, SheetTables(parts, sizes, 200))
        assert not any(proof is not None for proof in proofs.against((1, 1), 5000))
        assert not any(CountedTree(proofs, (1, 1)).nodes(5000))
        kept += 1
    assert kept >= 20


def test_copies_are_counted() -> None:
    """Sheet 10 x 10, a 10 x 6 worth 7 and a 10 x 5 worth 6, one of each: 7; without counting, two of the second: 12."""
    parts = [
        PartKind(length=10, width=6, turnable=False, wanted=1),
        PartKind(length=10, width=5, turnable=False, wanted=1),
    ]
    tables = SheetTables(parts, [(10, 10)], 200)
    values = np.array([7, 6], dtype=np.int64)
    assert tables.richest(values, 0)[0] == 12
    assert most_counted(parts, (10, 10), tables, values)[0] == 7
