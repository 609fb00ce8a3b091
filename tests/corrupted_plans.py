"""Sheet plans made wrong on purpose, in every way a plan can be wrong: the checker must refuse each of them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from random import Random

from nookwright.solvers.guillotine import Laid, Wanted, sheet_faults
from nookwright.solvers.pack_sheets import Rectangle, pack_sheets
from trying_everything import leaves

LENGTH, WIDTH, TRIM, KERF = 2440, 1220, 10, 3

Wants = dict[str, Wanted]
Plan = list[Laid]


@cache
def good_plan(number: int) -> tuple[Wants, Plan]:
    """Return a plan that can be cut, of 4 to 24 parts; the same number gives the same plan."""
    chance = Random(number)  # noqa: S311
    turnable = chance.random() < 0.5
    parts = [
        Rectangle(length=chance.randint(150, 1400), width=chance.randint(100, 900), turnable=turnable)
        for _ in range(chance.randint(4, 24))
    ]
    trees = pack_sheets(parts, length=LENGTH - 2 * TRIM, width=WIDTH - 2 * TRIM, kerf=KERF, tries=0)
    laid = [
        Laid(part=str(leaf.part), sheet=sheet, x=leaf.x + TRIM, y=leaf.y + TRIM, length=leaf.length, width=leaf.width)
        for sheet, tree in enumerate(trees)
        for leaf in leaves(tree)
        if leaf.part is not None
    ]
    wanted = {str(i): Wanted(length=one.length, width=one.width, turnable=turnable) for i, one in enumerate(parts)}
    return wanted, laid


def faults(wanted: Wants, laid: Plan) -> tuple[str, ...]:
    """Return what the checker says."""
    return sheet_faults(wanted, laid, length=LENGTH, width=WIDTH, trim=TRIM, kerf=KERF)


def _without_one(_: Wants, laid: Plan, chance: Random) -> Plan:
    gone = chance.randrange(len(laid))
    return laid[:gone] + laid[gone + 1 :]


def _twice(_: Wants, laid: Plan, chance: Random) -> Plan:
    return [*laid, replace(chance.choice(laid), sheet=99)]


def _stranger(_: Wants, laid: Plan, chance: Random) -> Plan:
    return [*laid, replace(chance.choice(laid), part="stranger", sheet=99)]


def _resized(_: Wants, laid: Plan, chance: Random) -> Plan:
    i, by = chance.randrange(len(laid)), chance.choice([-50, -3, -1, 1, 2, 40])
    one = laid[i]
    changed = replace(one, length=one.length + by) if chance.random() < 0.5 else replace(one, width=one.width + by)
    return [*laid[:i], changed, *laid[i + 1 :]]


def _turned(wanted: Wants, laid: Plan, chance: Random) -> Plan | None:
    i = chance.randrange(len(laid))
    one = laid[i]
    if wanted[one.part].turnable or one.length == one.width:
        return None
    return [*laid[:i], replace(one, sheet=99, x=TRIM, y=TRIM, length=one.width, width=one.length), *laid[i + 1 :]]


def _outside(_: Wants, laid: Plan, chance: Random) -> Plan:
    i = chance.randrange(len(laid))
    one = laid[i]
    moved = chance.choice(
        [
            replace(one, x=chance.randint(-9, TRIM - 1)),
            replace(one, y=chance.randint(-9, TRIM - 1)),
            replace(one, x=LENGTH - TRIM - one.length + chance.randint(1, 30)),
            replace(one, y=WIDTH - TRIM - one.width + chance.randint(1, 30)),
        ]
    )
    return [*laid[:i], moved, *laid[i + 1 :]]


def _two_on_a_sheet(laid: Plan, chance: Random) -> tuple[int, int] | None:
    i, j = chance.randrange(len(laid)), chance.randrange(len(laid))
    return (i, j) if i != j and laid[i].sheet == laid[j].sheet else None


def _on_top(_: Wants, laid: Plan, chance: Random) -> Plan | None:
    two = _two_on_a_sheet(laid, chance)
    if two is None:
        return None
    i, j = two
    over = replace(
        laid[i],
        x=laid[j].x + chance.randrange(laid[j].length),
        y=laid[j].y + chance.randrange(laid[j].width),
    )
    return [*laid[:i], over, *laid[i + 1 :]]


def _kerf_unpaid(_: Wants, laid: Plan, chance: Random) -> Plan | None:
    two = _two_on_a_sheet(laid, chance)
    if two is None:
        return None
    i, j = two
    gap = chance.randrange(KERF)
    beside = replace(laid[i], x=laid[j].x + laid[j].length + gap, y=laid[j].y)
    above = replace(laid[i], x=laid[j].x, y=laid[j].y + laid[j].width + gap)
    return [*laid[:i], chance.choice([beside, above]), *laid[i + 1 :]]


def _names_swapped(wanted: Wants, laid: Plan, chance: Random) -> Plan | None:
    i, j = chance.randrange(len(laid)), chance.randrange(len(laid))
    a, b = wanted[laid[i].part], wanted[laid[j].part]
    if {a.length, a.width} == {b.length, b.width}:
        return None
    swapped = list(laid)
    swapped[i], swapped[j] = replace(laid[i], part=laid[j].part), replace(laid[j], part=laid[i].part)
    return swapped


CORRUPTIONS: tuple[Callable[[Wants, Plan, Random], Plan | None], ...] = (
    _without_one, _twice, _stranger, _resized, _turned, _outside, _on_top, _kerf_unpaid, _names_swapped,
)  # fmt: skip


def corrupted(number: int) -> tuple[str, Wants, Plan]:
    """Return the name of a corruption and a plan that it made wrong."""
    chance = Random(number)  # noqa: S311
    while True:
        wanted, laid = good_plan(number % 97)
        corrupt = chance.choice(CORRUPTIONS)
        wrong = corrupt(wanted, laid, chance)
        if wrong is not None:
            return corrupt.__name__, wanted, wrong
