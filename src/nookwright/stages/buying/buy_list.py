"""The buying list: what to buy once, by the pack, with its cost."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from nookwright.stages.inputs.brief import ToHave

Group = Literal["sheets", "boards", "fastenings", "others", "installing", "finishing"]
Unit = Literal["sheets", "boards", "pieces", "litres", "metres", "quarts", "feet"]

WHEN: dict[Group, ToHave] = {
    "sheets": "before cutting",
    "boards": "before cutting",
    "fastenings": "before cutting",
    "others": "before cutting",
    "installing": "before fixing to the wall",
    "finishing": "before finishing",
}
"""When each group has to be there, where the brief does not say otherwise of one of the others."""


OWN = "the shop file"
"""What the prices that plans are made by are called beside other suppliers'."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyLine:
    """One line of the list.

    Args:
        group: `sheets`, `boards`, `fastenings`, `others`, `installing`, `finishing`.
        to_have: when it has to be there.
        item: what to ask for.
        needed: how much the job needs of this line, in `unit`; an item in packs of two sizes has two lines.
        unit: `sheets`, `boards`, `pieces`, `litres`, `metres`, `quarts`, `feet`.
        packs: how many to buy.
        pack: what one is, for example `box of 200`.
        price: of one; None when the shop file gives none.
        cost: packs x price; None when unpriced.
        why: where the quantity comes from.
    """

    group: Group
    to_have: ToHave
    item: str
    needed: float
    unit: Unit
    packs: int
    pack: str
    price: Decimal | None
    cost: Decimal | None
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """What the list costs at one supplier, tax as in the shop file's own prices.

    Args:
        supplier: its name.
        goods: cost of the lines it sells.
        delivery: charged once.
        missing: items it does not sell, which must be had elsewhere.
    """

    supplier: str
    goods: Decimal
    delivery: Decimal
    missing: tuple[str, ...]

    @property
    def total(self) -> Decimal:
        """Goods and delivery."""
        return self.goods + self.delivery


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """What to buy at one supplier.

    Args:
        supplier: its name.
        items: what, each with how many and of which pack.
        goods: what they cost together.
        delivery: charged once.
    """

    supplier: str
    items: tuple[str, ...]
    goods: Decimal
    delivery: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Split:
    """The cheapest way to buy the list from several suppliers, tax as in the shop file's own prices.

    Args:
        orders: what to buy where.
        missing: items nobody sells.
    """

    orders: tuple[Order, ...]
    missing: tuple[str, ...]

    @property
    def total(self) -> Decimal:
        """Goods and deliveries."""
        return sum((order.goods + order.delivery for order in self.orders), Decimal(0))


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyList:
    """Every line, the total of what is priced, and what is not.

    Args:
        currency: of every price.
        lines: what to buy, at the shop file's own prices.
        total: of what is priced, as its prices are given, without any tax that they do not hold.
        unpriced: items without a price.
        not_counted: what the furniture needs besides, that nothing tells the number of.
        nearly: items that a supplier may price under another spelling: its name, the item, that spelling.
        tax_percent: rate of the tax; None when none is told.
        tax: the tax: part of the total when prices hold it, else on top.
        to_pay: total with tax.
        offers: what every other supplier asks for the same list, the cheapest complete one first.
        split: the cheapest way to share the list among all suppliers; None with nobody else to buy from.
    """

    currency: str
    lines: tuple[BuyLine, ...]
    total: Decimal
    unpriced: tuple[str, ...]
    not_counted: tuple[str, ...] = ()
    nearly: tuple[tuple[str, str, str], ...] = ()
    tax_percent: Decimal | None = None
    tax: Decimal = Decimal(0)
    to_pay: Decimal = Decimal(0)
    offers: tuple[Offer, ...] = ()
    split: Split | None = None

    @property
    def for_nothing(self) -> tuple[str, ...]:
        """Items that are to be bought at a price of 0, each once."""
        return tuple(dict.fromkeys(line.item for line in self.lines if line.packs and line.price == 0))
