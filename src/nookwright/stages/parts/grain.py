"""How the grain runs on every part, and whose figure runs over, as the brief says by number, name or role."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from nookwright.basics.lengths import quoted
from nookwright.basics.problems import Inspection, Problem, Where
from nookwright.stages.inputs.brief import Brief, Matched
from nookwright.stages.inputs.shop import SheetStock, Shop
from nookwright.stages.parts.part import Part

Groups = tuple[tuple[str, ...], ...]
"""Numbers of matched parts."""


def grain_kept(parts: Sequence[Part], brief: Brief, shop: Shop) -> tuple[tuple[Part, ...], Groups]:
    """Return the parts with the grain that the brief asks for, and the numbers of those that are matched.

    Args:
        parts: every part, its grain along its length.
        brief: what it says of grain.
        shop: which stocks are sheets.

    Raises:
        InvalidInputError: if it speaks of a part that there is not, or matches parts that cannot be.
    """
    inspection = Inspection()
    kept = {part.number: part for part in parts}
    for wish in brief.grain:
        for part in parts_named(wish.parts, parts, wish.where, inspection):
            kept[part.number] = replace(part, grain=wish.runs)
    groups: list[tuple[str, ...]] = []
    for match in brief.matched:
        named = [kept[part.number] for part in parts_named(match.parts, parts, match.where, inspection)]
        _expect_matchable(named, match, shop, groups, inspection)
        groups.append(tuple(dict.fromkeys(part.number for part in named)))
    inspection.finish()
    return tuple(kept.values()), tuple(groups)


def parts_named(names: Sequence[str], parts: Sequence[Part], where: Where, inspection: Inspection) -> list[Part]:
    """Return the parts meant by numbers, names or roles, in the order named.

    Args:
        names: as the brief has them.
        parts: every part.
        where: the place in the brief.
        inspection: takes a name that means no part.
    """
    found: list[Part] = []
    for name in names:
        word = name.strip().lower()
        meant = [part for part in parts if word == part.number.lower()]
        meant = meant or [part for part in parts if word in (part.name.lower(), part.role, f"{part.role}s")]
        if not meant:
            known = sorted({part.name for part in parts})
            expected = f"a part's number, or one of {', '.join(known)}"
            hint = "The parts list has the numbers: `nookwright plan` writes parts.csv."
            inspection.add(Problem(where=where, found=quoted(name), expected=expected, hint=hint))
        found.extend(meant)
    return found


def _expect_matchable(
    named: Sequence[Part], match: Matched, shop: Shop, groups: Sequence[tuple[str, ...]], inspection: Inspection
) -> None:
    """Note what keeps parts from being cut side by side."""
    if not named:
        return
    shown = ", ".join(f"{part.number} of {part.stock}" for part in named)
    stocks = {part.stock for part in named}
    before = {number for group in groups for number in group}
    for holds, found, expected in (
        (len(named) >= 2, shown, "two matched parts or more"),
        (len(stocks) == 1, shown, "matched parts of one stock"),
        (all(isinstance(shop.stock(key), SheetStock) for key in stocks), shown, "matched parts cut from sheets"),
        (len({part.grain for part in named}) == 1, shown, "matched parts with the grain the same way"),
        (not before & {part.number for part in named}, shown, "every part matched once"),
    ):
        inspection.expect(holds, "matched", found, expected, where=match.where)
