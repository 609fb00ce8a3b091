"""What the list costs at each supplier, and how to share it among them for the least money."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import combinations

from nookwright.stages.buying.buy_list import Offer, Split
from nookwright.stages.buying.packs import Mix, cheapest_mix, cost_of
from nookwright.stages.buying.quantities import Need, size_item
from nookwright.stages.buying.spoken import same_item
from nookwright.stages.inputs.shop import Pack, Shop, Supplier

OWN = "the shop file"
"""What the prices that plans are made by are called beside other suppliers'."""

SAME_LENGTH_MM = 5.0
"""Two suppliers' boards nearer than this in length are one: 2440 mm and 8 ft. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Priced:
    """A need at one supplier.

    Args:
        cost: of everything needed.
        mix: packs with how many of each; empty for stock sold by the piece.
        price: of one piece of stock; None for what is sold in packs.
    """

    cost: Decimal
    mix: Mix = ()
    price: Decimal | None = None


def own_prices(shop: Shop) -> Supplier:
    """Return the shop file's own prices as a supplier."""
    return Supplier(
        name=OWN,
        sheets={sheet.key: sheet.price for sheet in shop.sheets}
        | {
            size_item(sheet.key, size.length_mm, size.width_mm): size.price
            for sheet in shop.sheets
            for size in sheet.sizes
            if not size.offcut
        },
        boards={board.key: {one.length_mm: one.price for one in board.lengths} for board in shop.boards},
        packs=shop.packs,
    )


def priced(need: Need, supplier: Supplier) -> Priced | None:
    """Return what a need costs at a supplier; None when it does not sell it."""
    if need.pack:
        price = _stock_price(need, supplier)
        return None if price is None else Priced(cost=round(need.amount) * price, price=price)
    packs = packs_for(need.item, supplier.packs)
    if not packs:
        return None
    mix = cheapest_mix(need.amount, packs)
    return Priced(cost=cost_of(mix), mix=mix)


def _stock_price(need: Need, supplier: Supplier) -> Decimal | None:
    """Return the price of one sheet or board."""
    if need.length_mm is None:
        return supplier.sheets.get(need.item)
    for length, price in supplier.boards.get(need.item, {}).items():
        if abs(length - need.length_mm) <= SAME_LENGTH_MM:
            return price
    return None


def packs_for(item: str, packs: Sequence[Pack]) -> list[Pack]:
    """Return the packs of an item; those it may be bought instead of only where there are none."""
    own = [pack for pack in packs if same_item(pack.item, item)]
    return own or [pack for pack in packs if any(same_item(other, item) for other in pack.serves)]


def offers(needs: Sequence[Need], suppliers: Sequence[Supplier]) -> tuple[Offer, ...]:
    """Return what each supplier asks for the whole list, those that sell most of it first, then the cheapest."""
    found = [_offer(needs, supplier) for supplier in suppliers]
    return tuple(sorted(found, key=lambda each: (len(each.missing), each.total)))


def _offer(needs: Sequence[Need], supplier: Supplier) -> Offer:
    costs = {need.name: priced(need, supplier) for need in needs}
    return Offer(
        supplier=supplier.name,
        goods=sum((each.cost for each in costs.values() if each), Decimal(0)),
        delivery=supplier.delivery,
        missing=tuple(name for name, each in costs.items() if each is None),
    )


def cheapest_split(needs: Sequence[Need], suppliers: Sequence[Supplier]) -> Split:
    """Return the cheapest way to share a list among suppliers, deliveries included.

    Every group of suppliers is tried; each need goes to the one of the group that asks least, the first of equals.

    Args:
        needs: the list.
        suppliers: at most half a dozen.

    Returns:
        The way that leaves the fewest items unsold, and of those the cheapest, from the fewest suppliers.
    """
    table = [[priced(need, supplier) for supplier in suppliers] for need in needs]
    ways = [
        _way(needs, suppliers, table, group)
        for count in range(1, len(suppliers) + 1)
        for group in combinations(range(len(suppliers)), count)
    ]
    return min(ways, key=lambda way: (len(way.missing), way.total, len(way.items)))


def _way(
    needs: Sequence[Need], suppliers: Sequence[Supplier], table: list[list[Priced | None]], group: tuple[int, ...]
) -> Split:
    """Return the list bought from one group of suppliers."""
    items: dict[str, list[str]] = {}
    missing: list[str] = []
    total = Decimal(0)
    for need, row in zip(needs, table, strict=True):
        costs = [(each.cost, place) for place in group if (each := row[place]) is not None]
        if not costs:
            missing.append(need.name)
            continue
        cost, place = min(costs)
        total += cost
        items.setdefault(suppliers[place].name, []).append(need.name)
    total += sum((supplier.delivery for supplier in suppliers if supplier.name in items), Decimal(0))
    return Split(total=total, items={name: tuple(each) for name, each in items.items()}, missing=tuple(missing))
