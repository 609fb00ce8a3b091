"""Sheet plans by trying everything: the least cost of a few parts, to judge the search by."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from nookwright.solvers.pack_sheets import Rectangle, Region


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """A kind of sheet: size, price, how many there are."""

    length: int
    width: int
    price: int = 1
    most: int = 99


def leaves(region: Region) -> list[Region]:
    """Return the uncut pieces of a cutting tree."""
    if region.low is None or region.high is None:
        return [region]
    return leaves(region.low) + leaves(region.high)


def slicings(parts: Sequence[Rectangle], kerf: int) -> dict[frozenset[int], set[tuple[int, int]]]:
    """Return every size that each set of parts can take when cut apart by cuts right through."""
    sizes: dict[frozenset[int], set[tuple[int, int]]] = {}
    for count in range(1, len(parts) + 1):
        for chosen in combinations(range(len(parts)), count):
            whole = frozenset(chosen)
            found: set[tuple[int, int]] = set()
            if count == 1:
                part = parts[chosen[0]]
                found.add((part.length, part.width))
                if part.turnable:
                    found.add((part.width, part.length))
            for left in range(1, count // 2 + 1):
                for some in combinations(chosen, left):
                    a, b = frozenset(some), whole - frozenset(some)
                    for la, wa in sizes[a]:
                        for lb, wb in sizes[b]:
                            found.add((la + kerf + lb, max(wa, wb)))
                            found.add((max(la, lb), wa + kerf + wb))
            sizes[whole] = {
                (l, w) for l, w in found if not any((a, b) != (l, w) and a <= l and b <= w for a, b in found)
            }
    return sizes


def cheapest(parts: Sequence[Rectangle], stocks: Sequence[Stock], kerf: int) -> int:
    """Return the least cost, by trying every way to share the parts out on every kind of sheet; 10**9 for no way."""
    sizes = slicings(parts, kerf)
    groups = [
        (group, kind)
        for group, some in sizes.items()
        for kind, stock in enumerate(stocks)
        if any(l <= stock.length and w <= stock.width for l, w in some)
    ]

    def least(rest: frozenset[int], used: tuple[int, ...]) -> int:
        if not rest:
            return 0
        first = min(rest)
        best = 10**9
        for group, kind in groups:
            if first in group and group <= rest and used[kind] < stocks[kind].most:
                more = tuple(count + (i == kind) for i, count in enumerate(used))
                best = min(best, stocks[kind].price + least(rest - group, more))
        return best

    return least(frozenset(range(len(parts))), tuple(0 for _ in stocks))
