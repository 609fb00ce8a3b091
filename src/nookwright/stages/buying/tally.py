"""Makes the buying list: needs rounded up to packs, with cost; parts + plans + shop -> BuyList."""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import get_args

from nookwright.basics.lengths import Marks
from nookwright.stages.buying.buy_list import BuyLine, BuyList
from nookwright.stages.buying.quantities import (
    Need,
    edging_needs,
    fastening_needs,
    finish_needs,
    not_counted,
    other_needs,
    stock_needs,
    sundry_needs,
)
from nookwright.stages.buying.spoken import amount_said, item_said, pack_said, same_item
from nookwright.stages.buying.suppliers import cheapest_split, offers, on_one_footing, own_prices, priced, to_the_cent
from nookwright.stages.cutting.cutting_plan import CuttingPlan
from nookwright.stages.finishing.finish_plan import FinishPlan
from nookwright.stages.inputs.brief import Brief, ToHave
from nookwright.stages.inputs.shop import Pack, Shop, Supplier, Tax
from nookwright.stages.installing.install_plan import InstallPlan
from nookwright.stages.parts.part import PartList

_NO_PACK = {True: "single", False: "size not given in the shop file"}
"""What is said of a thing the shop file has no pack of, by whether it is counted in pieces."""

ALIKE = 0.85
"""Names this much alike, of 1, are taken for two spellings of one thing. Our choice."""

_FIGURES = re.compile(r"[0-9.]+")


def tally(
    parts: PartList, cutting: CuttingPlan, installing: InstallPlan, finishing: FinishPlan, brief: Brief, shop: Shop
) -> BuyList:
    """List what to buy once, by the pack, with its cost.

    Args:
        parts: parts and joints.
        cutting: sheets and boards.
        installing: packers and wall fixings.
        finishing: coats, nail holes, caulk.
        brief: the units people read, and what else to buy.
        shop: prices, packs, sheets on hand, tax, other suppliers.

    Returns:
        Every line; the total of the priced ones; the names of the others; what other suppliers ask.
    """
    marks = Marks(units=brief.units, resolution=brief.resolution)
    needs = [
        *stock_needs(cutting, shop, marks),
        *_joined(
            [
                *fastening_needs(parts, installing, shop, marks),
                *edging_needs(parts, shop),
                *finish_needs(finishing, shop, marks),
                *sundry_needs(installing, finishing, marks),
            ],
            other_needs(brief),
        ),
    ]
    own = own_prices(shop)
    lines = tuple(line for need in needs for line in _lines(need, own, marks))
    total = sum((line.cost for line in lines if line.cost is not None), Decimal(0))
    tax = _tax(total, shop.tax)
    named = [replace(need, name=_asked_for(need, marks)) for need in needs]
    everybody = (own, *(on_one_footing(supplier, shop.tax) for supplier in shop.suppliers))
    return BuyList(
        currency=shop.currency, lines=lines, total=total,
        unpriced=tuple(line.item for line in lines if line.cost is None),
        not_counted=not_counted(parts, brief),
        nearly=tuple(found for supplier in everybody for found in _nearly(needs, supplier, marks)),
        tax_percent=None if shop.tax is None else shop.tax.percent, tax=tax,
        to_pay=total if shop.tax is None or shop.tax.included else total + tax,
        offers=offers(named, everybody) if shop.suppliers else (),
        split=cheapest_split(named, everybody, marks) if shop.suppliers and named else None,
    )  # fmt: skip


def _joined(counted: list[Need], besides: Iterable[Need]) -> list[Need]:
    """Return needs with what the brief asks for besides, joined to what is counted anyway: one box serves both."""
    found = list(counted)
    for more in besides:
        alike = (i for i, need in enumerate(found) if same_item(need.item, more.item) and need.unit == more.unit)
        place = next(alike, None)
        if place is None:
            found.append(more)
            continue
        need = found[place]
        why = f"{need.why}, {more.amount:g} besides{f': {more.why}' if more.why else ''}"
        first = min(need.to_have, more.to_have, key=get_args(ToHave).index)
        found[place] = replace(need, amount=need.amount + more.amount, why=why, other_time=first)
    return found


def _nearly(needs: Sequence[Need], seller: Supplier, marks: Marks) -> tuple[tuple[str, str, str], ...]:
    """Return the seller, what it has no price for but a pack of nearly its name that serves nothing else, and that."""
    idle = [pack.item for pack in seller.packs if not any(same_item(pack.item, need.item) for need in needs)]
    found: list[tuple[str, str, str]] = []
    for need in needs:
        alike = [item for item in idle if _FIGURES.findall(item) == _FIGURES.findall(need.item)]
        near = difflib.get_close_matches(need.item, alike, n=1, cutoff=ALIKE) if not need.pack else []
        if near and priced(need, seller) is None:
            found.append((seller.name, _asked_for(need, marks), near[0]))
    return tuple(found)


def _tax(total: Decimal, tax: Tax | None) -> Decimal:
    """Return the tax on a total, or the tax in it, to the cent."""
    if tax is None:
        return Decimal(0)
    on_top = total * tax.percent / 100
    amount = on_top * 100 / (100 + tax.percent) if tax.included else on_top
    return to_the_cent(amount)


def _asked_for(need: Need, marks: Marks) -> str:
    """Return a need's name as an order would say it: boards by their length too."""
    return f"{need.name} {need.pack}" if need.length_mm is not None else item_said(need.name, marks)


def _lines(need: Need, prices: Supplier, marks: Marks) -> list[BuyLine]:
    """Return a need in whole packs, one line for each size of pack."""
    found = priced(need, prices)
    if need.pack:
        return [_bought(need, math.ceil(need.amount), need.pack, found.price if found else None, marks)]
    if found is None:
        count = math.ceil(need.amount) if need.unit == "pieces" else 1
        return [_bought(need, count, _NO_PACK[need.unit == "pieces"], None, marks)]
    left, lines = need.amount, list[BuyLine]()
    for pack, count in found.mix:
        here = min(left, count * pack.amount)
        left -= here
        name = pack_said(pack.amount, need.unit, marks)
        lines.append(_bought(_served(replace(need, amount=here), pack), count, name, pack.price, marks))
    return lines


def _served(need: Need, pack: Pack) -> Need:
    """Return a need as the pack that serves it names it."""
    if same_item(pack.item, need.item):
        return need
    return replace(need, name=pack.item, why=f"{need.why}; in place of {need.name}")


def _bought(need: Need, packs: int, pack: str, price: Decimal | None, marks: Marks) -> BuyLine:
    needed, unit = amount_said(need.amount, need.unit, marks)
    return BuyLine(
        group=need.group,
        to_have=need.to_have,
        item=item_said(need.name, marks),
        needed=needed,
        unit=unit,
        packs=packs,
        pack=pack,
        price=price,
        cost=None if price is None else packs * price,
        why=need.why,
    )
