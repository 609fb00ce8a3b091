"""Tests of the plan checker: good plans pass, every kind of corruption is named."""

from __future__ import annotations

from dataclasses import replace

import pytest

import corrupted_plans
from nookwright.solvers.guillotine import Laid, Wanted, length_faults, sheet_faults

WANTED = {"a": Wanted(length=40, width=30), "b": Wanted(length=50, width=30), "c": Wanted(length=94, width=20)}
GOOD = (
    Laid(part="a", sheet=1, x=3, y=3, length=40, width=30),
    Laid(part="b", sheet=1, x=47, y=3, length=50, width=30),
    Laid(part="c", sheet=1, x=3, y=37, length=94, width=20),
)


def faults(*laid: Laid) -> tuple[str, ...]:
    """Check on a sheet of 100 x 60 with edges of 3 and a kerf of 4."""
    return sheet_faults(WANTED, laid, length=100, width=60, trim=3, kerf=4)


def test_a_good_plan_passes() -> None:
    """Flush with the trimmed edges, one kerf between neighbours."""
    assert faults(*GOOD) == ()


def test_a_missing_part_is_named() -> None:
    """Every part must be there."""
    assert faults(*GOOD[:2]) == ("c is missing",)


def test_a_part_laid_twice_is_named() -> None:
    """Exactly once."""
    again = replace(GOOD[0], sheet=2)
    assert faults(*GOOD, again) == ("a is laid 2 times",)


def test_a_stranger_is_named() -> None:
    """Nothing that nobody asked for."""
    assert faults(*GOOD, replace(GOOD[0], part="z", sheet=2)) == ("z is not asked for",)


def test_a_part_of_the_wrong_size_is_named() -> None:
    """A millimetre short is wrong."""
    assert faults(replace(GOOD[0], length=39), *GOOD[1:]) == ("a lies as 39 x 30, not 40 x 30",)


def test_a_part_across_the_grain_is_named() -> None:
    """Turned, and not allowed to."""
    turned = Laid(part="a", sheet=2, x=3, y=3, length=30, width=40)
    assert faults(turned, *GOOD[1:]) == ("a lies across the grain",)


def test_a_part_in_the_factory_edge_is_named() -> None:
    """The trim belongs to no part, on any of the four sides."""
    for shifted in (replace(GOOD[0], x=2), replace(GOOD[0], y=2)):
        assert faults(shifted, *GOOD[1:]) == ("a reaches outside sheet 1",)
    assert faults(GOOD[0], replace(GOOD[1], x=48), GOOD[2]) == ("b reaches outside sheet 1",)
    assert faults(*GOOD[:2], replace(GOOD[2], y=38)) == ("c reaches outside sheet 1",)


def test_an_unpaid_kerf_is_named() -> None:
    """One less than a kerf apart: the saw has no room."""
    assert faults(GOOD[0], replace(GOOD[1], x=46), GOOD[2]) == ("no cut right through parts a, b on sheet 1",)


def test_an_overlap_is_named() -> None:
    """Two parts in one place; no cut goes between them either."""
    assert faults(GOOD[0], replace(GOOD[1], x=42), GOOD[2]) == (
        "a and b overlap on sheet 1",
        "no cut right through parts a, b on sheet 1",
    )


def test_a_pinwheel_is_refused() -> None:
    """Four parts around a hole: apart everywhere, yet no cut goes right through."""
    wanted = {name: Wanted(length=l, width=w) for name, l, w in (("a", 6, 3), ("b", 3, 6), ("c", 6, 3), ("d", 3, 6))}
    laid = [
        Laid(part="a", sheet=1, x=0, y=0, length=6, width=3),
        Laid(part="b", sheet=1, x=6, y=0, length=3, width=6),
        Laid(part="c", sheet=1, x=3, y=6, length=6, width=3),
        Laid(part="d", sheet=1, x=0, y=3, length=3, width=6),
    ]
    assert sheet_faults(wanted, laid, length=9, width=9, trim=0, kerf=0) == (
        "no cut right through parts a, b, c, d on sheet 1",
    )


def test_faults_along_a_length_are_named() -> None:
    """End trim, kerf, far end, size, and number of times."""
    wanted = {"a": 40, "b": 50}

    def check(*laid: tuple[str, int, int]) -> tuple[str, ...]:
        return length_faults(wanted, laid, length=106, end_trim=10, kerf=4)

    assert check(("a", 10, 40), ("b", 54, 50)) == ()
    assert check(("a", 9, 40), ("b", 54, 50)) == ("a starts at 9, before 10",)
    assert check(("a", 10, 40), ("b", 53, 50)) == ("b starts at 53, before 54",)
    assert check(("a", 10, 40), ("b", 57, 50)) == ("b ends at 107, beyond 106",)
    assert check(("a", 10, 41)) == ("a is cut 41 long, not 40",)
    assert check(("a", 10, 40), ("a", 60, 40)) == ("a is cut 2 times",)


@pytest.mark.parametrize("number", range(97))
def test_plans_of_the_search_pass(number: int) -> None:
    """What corruptions start from can be cut."""
    assert corrupted_plans.faults(*corrupted_plans.good_plan(number)) == ()


def test_no_corrupted_plan_is_accepted() -> None:
    """Six hundred plans made wrong in nine ways; ten thousand are tried by the bench."""
    accepted = []
    ways = set()
    for number in range(600):
        way, wanted, laid = corrupted_plans.corrupted(number)
        ways.add(way)
        if not corrupted_plans.faults(wanted, laid):
            accepted.append((number, way))
    assert accepted == []
    assert len(ways) == len(corrupted_plans.CORRUPTIONS)
