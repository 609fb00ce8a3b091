"""Which packs to buy for an amount: the cheapest mix of the sizes on sale."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from heapq import heappop, heappush

from nookwright.stages.inputs.shop import Pack

Mix = tuple[tuple[Pack, int], ...]
"""Packs with how many of each."""

_Way = tuple[Decimal, int, tuple[int, ...]]
"""Cost, number of packs, and how many of each size."""

_WHOLE = 1e-9
"""A pack short by less than this share of itself counts as full."""


def cheapest_mix(amount: float, packs: Sequence[Pack]) -> Mix:
    """Return the packs that hold an amount and cost least; of equal ones the fewest packs, then the least left over.

    Args:
        amount: how much is needed, above 0.
        packs: the sizes on sale, at least one.

    Returns:
        Packs with how many of each, the largest first; none with a count of 0.

    Example:
        >>> small = Pack(item="brad 40", amount=10, price=Decimal("2.50"))
        >>> large = Pack(item="brad 40", amount=50, price=Decimal("6.00"))
        >>> [(pack.amount, count) for pack, count in cheapest_mix(54, (small, large))]
        [(50, 1), (10, 1)]
    """
    sizes = _worth_buying(packs)
    enough = amount - _WHOLE * sizes[-1].amount
    best: dict[float, _Way] = {0.0: (Decimal(0), 0, (0,) * len(sizes))}
    held = [0.0]  # a heap: every way to hold less is known before it is built on
    full: dict[float, _Way] = {}
    while held:
        here = heappop(held)
        for place, pack in enumerate(sizes):
            then = round(here + pack.amount, 6)
            way = _with_one_more(best[here], place, pack)
            known = full if then >= enough else best
            if then not in known and known is best:
                heappush(held, then)
            known[then] = min(way, known.get(then, way))
    _, counts = min(((*way[:2], then), way[2]) for then, way in full.items())
    return tuple((pack, count) for pack, count in zip(sizes, counts, strict=True) if count)


def cost_of(mix: Mix) -> Decimal:
    """Return what a mix costs."""
    return sum((count * pack.price for pack, count in mix), Decimal(0))


def _with_one_more(way: _Way, place: int, pack: Pack) -> _Way:
    cost, number, counts = way
    return cost + pack.price, number + 1, (*counts[:place], counts[place] + 1, *counts[place + 1 :])


def _worth_buying(packs: Sequence[Pack]) -> list[Pack]:
    """Return the sizes, largest first, without those that cost no less than a larger one."""
    found: list[Pack] = []
    for pack in sorted(packs, key=lambda each: (-each.amount, each.price)):
        if all(pack.price < larger.price for larger in found):
            found.append(pack)
    return found
