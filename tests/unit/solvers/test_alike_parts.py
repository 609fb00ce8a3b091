"""Tests of parts taken for alike: none is larger than in truth, and sheets that do are not ruled out by them."""

from __future__ import annotations

import pytest

from nookwright.solvers.alike_parts import taken_for_alike
from nookwright.solvers.counted_proofs import CountedProofs
from nookwright.solvers.listed_proofs import ListedProof
from nookwright.solvers.shaking import Shaker
from nookwright.solvers.sheet_grids import PartKind
from nookwright.solvers.sheet_tables import SheetTables


def test_sides_and_shelves_become_one_kind() -> None:
    """Two sides 5 mm deeper than five shelves are taken for shelves; a part that may not turn is none of them."""
    side = PartKind(length=6280, width=5488, turnable=True, wanted=2)
    shelf = PartKind(length=6280, width=5438, turnable=True, wanted=5)
    stiff = PartKind(length=6280, width=5440, turnable=False, wanted=1)
    assert taken_for_alike([side, stiff, shelf]) == [
        PartKind(length=6280, width=5438, turnable=True, wanted=7),
        stiff,
    ]


@pytest.mark.parametrize("start", range(40))
def test_none_is_larger_than_in_truth(start: int) -> None:
    """Random parts: with the largest first, each stands for one at least as long and as wide, and none is lost."""
    numbers = Shaker(start)
    parts = [
        PartKind(length=1000 + numbers.below(60), width=500 + numbers.below(40), turnable=True, wanted=1)
        for _ in range(12)
    ]
    taken = taken_for_alike(parts)
    assert sum(one.wanted for one in taken) == 12
    assert len(taken) < 12
    for by in ("length", "width"):
        smaller = sorted(getattr(one, by) for one in taken for _ in range(one.wanted))
        assert all(a <= b for a, b in zip(smaller, sorted(getattr(one, by) for one in parts), strict=True))


@pytest.mark.parametrize("start", range(4))
def test_sheets_that_parts_were_cut_from_are_never_ruled_out(start: int) -> None:
    """A sheet cut up without waste, and one a hundredth smaller cut up alike; taken for alike the parts are fewer."""
    numbers = Shaker(start)
    rows = [2000 + numbers.below(1500) for _ in range(2)]
    pieces = [(width, row) for row in [*rows, 9000 - sum(rows)] for width in _in_three(numbers, 12000)]
    parts = [
        PartKind(length=l * share // 100, width=w * share // 100, turnable=bool(start % 2), wanted=1)
        for l, w in pieces
        for share in (100, 99)
    ]
    taken = taken_for_alike(parts)
    assert len(taken) <= 9
    sizes = [(12000, 9000), (11880, 8910)]
    proofs = CountedProofs(taken, sizes, SheetTables(taken, sizes, 500))
    assert not any(proofs.against((1, 1), 40_000))
    assert not any(ListedProof(proofs, (1, 1)).steps())


def test_a_furniture_job_is_ruled_out_by_smaller_parts_alone() -> None:
    """58 parts of 21 kinds on five sheets and four offcuts with a twentieth to spare; of 14 kinds they are settled."""
    sizes = [(24232, 12032), (11947, 10850), (18631, 5642), (10002, 7187), (14658, 10713)]
    listed = [
        (2, 17669, 3947), (2, 17863, 3718), (2, 9896, 5152), (4, 9896, 5102), (2, 15359, 2704), (2, 9706, 3718),
        (4, 9706, 3668), (2, 6280, 5488), (5, 6280, 5438), (2, 14433, 2294), (2, 6099, 5152), (2, 10062, 2704),
        (3, 10062, 2654), (2, 10911, 2424), (2, 4101, 5488), (2, 5577, 3947), (6, 5577, 3897), (2, 8918, 2424),
        (4, 8918, 2374), (2, 2682, 2294), (4, 2682, 2244),
    ]  # fmt: skip
    parts = [PartKind(length=l, width=w, turnable=True, wanted=n) for n, l, w in listed]
    taken = taken_for_alike(parts)
    assert len(taken) == 14
    proofs = CountedProofs(taken, sizes, SheetTables(taken, sizes, 500))
    counts = (5, 1, 1, 1, 1)
    assert not any(proofs.against(counts, 40_000))
    assert proofs.mixed
    assert list(ListedProof(proofs, counts).steps())[-1]


def _in_three(numbers: Shaker, length: int) -> list[int]:
    first, second = (2500 + numbers.below(2500) for _ in range(2))
    return [first, second, length - first - second]
