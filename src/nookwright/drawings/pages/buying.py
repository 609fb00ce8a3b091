"""Buying chapter: what to buy once, by the pack, with its cost."""

from __future__ import annotations

from itertools import groupby
from typing import get_args

from nookwright.drawings.blocks import Block, Paragraph
from nookwright.drawings.flow import flow
from nookwright.drawings.lettering import NOTES_MM
from nookwright.drawings.sheet import Draft, Issue
from nookwright.drawings.tables import Column, Table
from nookwright.stages.buying.buy_list import OWN, BuyLine, BuyList, Group
from nookwright.stages.buying.spoken import one_of
from nookwright.stages.inputs.brief import ToHave

_COLUMNS = (
    Column(title="Got", share=13),
    Column(title="Buy", share=14, bold=True),
    Column(title="Pack", share=56),
    Column(title="Item", share=58, bold=True),
    Column(title="Needed", share=32),
    Column(title="Price", share=22, align="end"),
    Column(title="Cost", share=20, align="end"),
    Column(title="Why", share=60, height_mm=NOTES_MM),
)


_KINDS: dict[Group, str] = {
    "sheets": "sheets",
    "boards": "boards",
    "fastenings": "fastenings",
    "others": "edging and other things",
    "installing": "for the wall and the floor",
    "finishing": "paint and what goes with it",
}

_OFFERS = (
    Column(title="Supplier", share=40, bold=True),
    Column(title="Goods", share=22, align="end"),
    Column(title="Delivery", share=22, align="end"),
    Column(title="Total", share=22, align="end", bold=True),
    Column(title="Does not sell", share=120, height_mm=NOTES_MM),
)

_ORDERS = (Column(title="Got", share=13), Column(title="Ask for", share=213))


def pages(buying: BuyList, issue: Issue) -> tuple[Draft, ...]:
    """Return the chapter's sheets.

    Args:
        buying: the list.
        issue: units and paper.

    Returns:
        One table, group after group, each with when it is needed, then the total; then other suppliers' offers.
    """
    rows: list[tuple[str, ...]] = []
    for (to_have, group), of in groupby(sorted(buying.lines, key=_place), key=lambda line: (line.to_have, line.group)):
        rows += [(f"To have {to_have}: {_KINDS[group]}",), *(_row(line) for line in of)]
    rows += [(text,) for text in _totals(buying)]
    blocks: list[Block] = [Table(columns=_COLUMNS, rows=tuple(rows), pad_mm=0.0)]
    if buying.unpriced:
        blocks.append(Paragraph(text=f"The shop file gives no price for: {', '.join(buying.unpriced)}."))
    if buying.for_nothing:
        blocks.append(Paragraph(text=f"Counted at a price of 0: {', '.join(buying.for_nothing)}."))
    if buying.not_counted:
        said = ", ".join(buying.not_counted)
        blocks.append(Paragraph(text=f"Not counted here: {said}. The brief takes them under `also buy`."))
    blocks.extend(
        Paragraph(text=f"The prices of {seller} have none for {item} but one for `{theirs}`: is that meant?")
        for seller, item, theirs in buying.nearly
    )
    return flow("Buying list", [*blocks, *_compared(buying)], issue.paper, landscape=True)


def _place(line: BuyLine) -> tuple[int, int]:
    """Return where a line stands: by when it has to be there, then by its group."""
    return get_args(ToHave).index(line.to_have), list(_KINDS).index(line.group)


def _totals(buying: BuyList) -> list[str]:
    """Return the total, and the tax as the shop file tells it."""
    total = f"Total of what is priced: {buying.total:.2f} {buying.currency}"
    if buying.tax_percent is None:
        return [total]
    if buying.to_pay == buying.total:
        return [f"{total}, of which {buying.tax:.2f} is tax at {buying.tax_percent} %"]
    with_tax = f"To pay with tax at {buying.tax_percent} % ({buying.tax:.2f}): {buying.to_pay:.2f} {buying.currency}"
    return [total, with_tax]


def _compared(buying: BuyList) -> list[Block]:
    """Return what every supplier asks, and the cheapest way to share the list among them."""
    if buying.split is None:
        return []
    offers = tuple(
        (one.supplier, f"{one.goods:.2f}", f"{one.delivery:.2f}", f"{one.total:.2f}", ", ".join(one.missing) or "-")
        for one in buying.offers
    )
    split = buying.split
    elsewhere = any(order.supplier != OWN for order in split.orders)
    rows: list[tuple[str, ...]] = []
    for order in split.orders:
        rows.append((f"At {order.supplier}: {order.goods:.2f}, delivery {order.delivery:.2f} {buying.currency}",))
        rows += [("□", item) for item in order.items]
    missing = f" Nobody sells: {', '.join(split.missing)}." if split.missing else ""
    said = f"Shared out for the least money, deliveries included: {split.total:.2f} {buying.currency}.{missing}"
    return [
        Paragraph(text=f"The same list at other prices{_tax_said(buying)}:"),
        Table(columns=_OFFERS, rows=offers),
        Paragraph(text=said if elsewhere else f"Nothing is bought for less elsewhere.{missing}"),
        *([Table(columns=_ORDERS, rows=tuple(rows), pad_mm=0.0)] if elsewhere else ()),
    ]


def _tax_said(buying: BuyList) -> str:
    """Return how all suppliers' prices stand to the tax."""
    if buying.tax_percent is None:
        return ""
    return f", all {'with' if buying.to_pay == buying.total else 'without'} the tax of {buying.tax_percent} %"


def _row(line: BuyLine) -> tuple[str, ...]:
    """Return a line's cells; the heading over it has said already what its pack is of."""
    return (
        "□",
        str(line.packs),
        line.pack.removeprefix("sheet ").removeprefix("board "),
        line.item,
        f"{line.needed:.3g} {one_of(line.unit) if line.needed == 1 else line.unit}",
        f"{line.price:.2f}" if line.price is not None else "no price",
        f"{line.cost:.2f}" if line.cost is not None else "",
        line.why,
    )
