"""What the list costs at each supplier, and how to share it among them for the least money."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal
from itertools import combinations

from nookwright.basics.lengths import Marks
from nookwright.stages.buying.buy_list import OWN, Offer, Order, Split
from nookwright.stages.buying.packs import Mix, cheapest_mix, cost_of
from nookwright.stages.buying.quantities import Need
from nookwright.stages.buying.spoken import item_said, pack_said, same_item, size_item
from nookwright.stages.inputs.shop import Pack, Shop, Supplier, Tax

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


def on_one_footing(supplier: Supplier, tax: Tax | None) -> Supplier:
    """Return a supplier with its prices as the shop file's own are: the tax put in, or taken out.

    Its delivery is told in the shop file, and so is on that footing already.
    """
    if tax is None or supplier.tax_included in (None, tax.included):
        return supplier

    def turned(price: Decimal) -> Decimal:
        with_tax = 100 + tax.percent
        return price * with_tax / 100 if tax.included else price * 100 / with_tax

    return replace(
        supplier,
        sheets={key: turned(price) for key, price in supplier.sheets.items()},
        boards={
            key: {length: turned(price) for length, price in lengths.items()}
            for key, lengths in supplier.boards.items()
        },
        packs=tuple(replace(pack, price=turned(pack.price)) for pack in supplier.packs),
    )


def offers(needs: Sequence[Need], suppliers: Sequence[Supplier]) -> tuple[Offer, ...]:
    """Return what each supplier asks for the whole list, those that sell most of it first, then the cheapest."""
    found = [_offer(needs, supplier) for supplier in suppliers]
    return tuple(sorted(found, key=lambda each: (len(each.missing), each.total)))


def _offer(needs: Sequence[Need], supplier: Supplier) -> Offer:
    found = [(need, priced(need, supplier)) for need in needs]
    return Offer(
        supplier=supplier.name,
        goods=to_the_cent(sum((each.cost for _, each in found if each), Decimal(0))),
        delivery=supplier.delivery,
        missing=tuple(need.name for need, each in found if each is None),
    )


def cheapest_split(needs: Sequence[Need], suppliers: Sequence[Supplier], marks: Marks) -> Split:
    """Return the cheapest way to share a list among suppliers, deliveries included.

    Every group of suppliers is tried; each need goes to the one of the group that asks least, the first of equals.

    Args:
        needs: the list.
        suppliers: at most half a dozen.
        marks: units in which packs are told.

    Returns:
        The way that leaves the fewest items unsold, and of those the cheapest, from the fewest suppliers.
    """
    table = [[priced(need, supplier) for supplier in suppliers] for need in needs]
    ways = [
        _way(needs, suppliers, table, group, marks)
        for count in range(1, len(suppliers) + 1)
        for group in combinations(range(len(suppliers)), count)
    ]
    return min(ways, key=lambda way: (len(way.missing), way.total, len(way.orders)))


def _way(
    needs: Sequence[Need],
    suppliers: Sequence[Supplier],
    table: list[list[Priced | None]],
    group: tuple[int, ...],
    marks: Marks,
) -> Split:
    """Return the list bought from one group of suppliers."""
    bought: dict[int, list[tuple[Need, Priced]]] = {}
    missing: list[str] = []
    for need, row in zip(needs, table, strict=True):
        costs = [(each.cost, place) for place in group if (each := row[place]) is not None]
        if not costs:
            missing.append(need.name)
            continue
        _, place = min(costs)
        each = row[place]
        if each is not None:
            bought.setdefault(place, []).append((need, each))
    orders = tuple(
        Order(
            supplier=suppliers[place].name,
            items=tuple(_ordered(need, each, marks) for need, each in its),
            goods=to_the_cent(sum((each.cost for _, each in its), Decimal(0))),
            delivery=suppliers[place].delivery,
        )
        for place, its in bought.items()
    )
    return Split(orders=orders, missing=tuple(missing))


def _ordered(need: Need, priced_: Priced, marks: Marks) -> str:
    """Return what is asked for at the counter: how many, of which pack."""
    if need.pack:
        return f"{math.ceil(need.amount)} {need.name}"
    packs = [
        f"{count} x {pack_said(pack.amount, need.unit, marks)}{_in_place(need, pack, marks)}"
        for pack, count in priced_.mix
    ]
    return f"{need.name}: {' and '.join(packs)}"


def _in_place(need: Need, pack: Pack, marks: Marks) -> str:
    """Return what is bought in place of a need where it is another thing."""
    return "" if same_item(pack.item, need.item) else f" of {item_said(pack.item, marks)}"


def to_the_cent(money: Decimal) -> Decimal:
    """Return money in whole cents, half a cent up."""
    return money.quantize(Decimal("0.01"), rounding=ROUND_HALF_UP)
