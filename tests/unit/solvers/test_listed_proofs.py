"""Tests of sets of sheets ruled out by listing patterns: choices against another solver, plans that do exist."""

from __future__ import annotations

import highspy
import numpy as np
import pytest

from nookwright.solvers.counted_proofs import CountedProofs
from nookwright.solvers.kernels.covers import FOUND, NONE, OPEN, cover_of, covered
from nookwright.solvers.listed_proofs import ListedProof
from nookwright.solvers.shaking import Shaker
from nookwright.solvers.sheet_grids import PartKind
from nookwright.solvers.sheet_tables import SheetTables

PLENTY = 10_000


def holds_by_another_solver(kinds: list[int], pieces: list[list[int]], wanted: list[int], sheets: list[int]) -> bool:
    """Return whether HiGHS finds whole numbers of the patterns that hold all parts on so many sheets of each kind."""
    model = highspy.Highs()
    model.setOptionValue("output_flag", False)
    times = [model.addIntegral(lb=0, ub=max(sheets)) for _ in kinds]
    for part, many in enumerate(wanted):
        model.addConstr(sum(x * row[part] for x, row in zip(times, pieces, strict=True)) >= many)
    for kind, most in enumerate(sheets):
        of_kind = [x for x, k in zip(times, kinds, strict=True) if k == kind]
        if of_kind:
            model.addConstr(sum(of_kind) <= most)
    model.run()
    return bool(model.getModelStatus() == highspy.HighsModelStatus.kOptimal)


def test_choices_of_patterns_are_those_of_another_solver() -> None:
    """Sixty random lists of 14 patterns of up to five parts, on two kinds of sheet: both answers do occur."""
    numbers = Shaker(11)
    answers = set()
    for _ in range(60):
        wanted = [1 + numbers.below(3) for _ in range(5)]
        kinds = [numbers.below(2) for _ in range(14)]
        pieces = [[numbers.below(2) * (1 + numbers.below(2)) for _ in wanted] for _ in kinds]
        sheets = [1 + numbers.below(2), 2 + numbers.below(2)]
        value = np.array([1 + numbers.below(9) for _ in wanted], dtype=np.int64)
        held = np.minimum(np.array(pieces), wanted)
        worth = held @ value
        tops = np.array([max([int(w) for w, k in zip(worth, kinds, strict=True) if k == j], default=0) for j in (0, 1)])
        cover = cover_of(np.array(kinds), held.astype(np.int16), value, tops, np.array(wanted), np.array(sheets))
        steps = 0
        while (found := covered(cover, steps % 3)) == OPEN and steps < PLENTY:
            steps += 1
        assert found in {FOUND, NONE}
        assert (found == FOUND) == holds_by_another_solver(kinds, pieces, wanted, sheets)
        answers.add(found)
    assert answers == {FOUND, NONE}


def cut_up(numbers: Shaker, length: int, width: int, cuts: int) -> list[tuple[int, int]]:
    """Return the pieces of a sheet that is cut right through so often, at random."""
    pieces = [(length, width)]
    for _ in range(cuts):
        pieces.sort(key=lambda piece: piece[0] * piece[1])
        l, w = pieces.pop()
        if numbers.below(2):
            at = l // 3 + numbers.below(l // 3)
            pieces += [(at, w), (l - at, w)]
        else:
            at = w // 3 + numbers.below(w // 3)
            pieces += [(l, at), (l, w - at)]
    return pieces


@pytest.mark.parametrize("start", range(1, 13))
def test_sheets_that_parts_were_cut_from_are_never_ruled_out(start: int) -> None:
    """Parts are two sheets of 120 x 90 and one of 70 x 60 cut up, some a little smaller: a plan does exist.

    An offcut that holds none of them changes nothing.
    """
    numbers = Shaker(start)
    pieces = [*cut_up(numbers, 120, 90, 3), *cut_up(numbers, 120, 90, 4), *cut_up(numbers, 70, 60, 2)]
    parts = [
        PartKind(length=l - numbers.below(2), width=w - numbers.below(2), turnable=bool(start % 2), wanted=1)
        for l, w in pieces
    ]
    sizes = [(120, 90), (70, 60), (4, 4)]
    proofs = CountedProofs(parts, sizes, SheetTables(parts, sizes, 200))
    assert True not in set(ListedProof(proofs, (2, 1, 1)).steps())


def test_a_set_is_ruled_out_where_values_alone_do_not() -> None:
    """28 parts of a furniture job on four sheets and three offcuts, with a fifth of the area to spare.

    A mix of parts of patterns fits; HiGHS finds no whole numbers of the listed patterns either.
    """
    sizes = [(24232, 12032), (12032, 5932), (30332, 15082), (16103, 5212), (8014, 5457), (13774, 7830)]
    listed = [
        (2, 18164, 2967), (2, 9815, 5228), (1, 9815, 5178), (2, 9665, 5253), (2, 9474, 5638), (4, 9474, 5588),
        (2, 9433, 5759), (1, 9433, 5709), (2, 8572, 5253), (2, 8301, 5228), (2, 7502, 5759), (2, 6769, 5638),
        (2, 5900, 2967), (1, 5900, 2917), (1, 2163, 9815),
    ]  # fmt: skip
    parts = [PartKind(length=l, width=w, turnable=False, wanted=n) for n, l, w in listed]
    proofs = CountedProofs(parts, sizes, SheetTables(parts, sizes, 500))
    counts = (3, 0, 1, 1, 1, 1)
    assert list(proofs.against(counts, 40_000))[-1] is None
    assert proofs.mixed
    patterns = []
    plain = proofs.listed

    def noted(*asked: object) -> object:
        found = plain(*asked)  # type: ignore[arg-type]
        patterns.extend(found or [])
        return found

    proofs.listed = noted  # type: ignore[method-assign, assignment]
    assert list(ListedProof(proofs, counts).steps())[-1]
    kinds, pieces = [one.kind for one in patterns], [one.pieces.tolist() for one in patterns]
    wanted = [n for n, _, _ in listed]
    assert not holds_by_another_solver(kinds, pieces, wanted, list(counts))
    assert holds_by_another_solver(kinds, pieces, wanted, [4, 0, 2, 1, 1, 1])
