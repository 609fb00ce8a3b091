"""Makes the buying list: needs rounded up to packs, with cost; parts + plans + shop -> BuyList."""

from __future__ import annotations

import math
from collections.abc import Sequence
from decimal import Decimal

from nookwright.stages.buying.buy_list import BuyLine, BuyList, Unit
from nookwright.stages.buying.quantities import Need, fastening_needs, finish_needs, stock_needs, sundry_needs
from nookwright.stages.cutting.cutting_plan import CuttingPlan
from nookwright.stages.finishing.finish_plan import FinishPlan
from nookwright.stages.inputs.shop import Pack, Shop
from nookwright.stages.installing.install_plan import InstallPlan
from nookwright.stages.parts.part import PartList


def tally(parts: PartList, cutting: CuttingPlan, installing: InstallPlan, finishing: FinishPlan, shop: Shop) -> BuyList:
    """List what to buy once, by the pack, with its cost.

    Args:
        parts: parts and joints.
        cutting: sheets and boards.
        installing: packers and wall fixings.
        finishing: coats, nail holes, caulk.
        shop: prices, packs, sheets on hand.

    Returns:
        Every line; the total of the priced ones; the names of the others.
    """
    needs = [
        *stock_needs(cutting, shop),
        *fastening_needs(parts, installing),
        *finish_needs(finishing, shop),
        *sundry_needs(installing, finishing),
    ]
    lines = tuple(_line(need, [pack for pack in shop.packs if pack.item == need.item]) for need in needs)
    return BuyList(
        currency=shop.currency, lines=lines,
        total=sum((line.cost for line in lines if line.cost is not None), Decimal(0)),
        unpriced=tuple(line.item for line in lines if line.cost is None),
    )  # fmt: skip


def _line(need: Need, packs: Sequence[Pack]) -> BuyLine:
    """Round one need up to whole packs of the size that costs least in all."""
    if need.price is not None:
        return _bought(need, math.ceil(need.amount), need.pack, need.price)
    if not packs:
        count = math.ceil(need.amount) if need.unit == "pieces" else 1
        return _bought(need, count, "single" if need.unit == "pieces" else "size not given in the shop file", None)
    best = min(packs, key=lambda pack: (_packs(need.amount, pack) * pack.price, _packs(need.amount, pack)))
    return _bought(need, _packs(need.amount, best), _pack_name(best.amount, need.unit), best.price)


def _packs(amount: float, pack: Pack) -> int:
    return max(1, math.ceil(amount / pack.amount - 1e-9))


def _pack_name(amount: float, unit: Unit) -> str:
    if unit == "pieces":
        return "single" if amount == 1 else f"box of {amount:g}"
    singular = {"litres": "litre", "metres": "metre", "sheets": "sheet", "boards": "board"}[unit]
    return f"pack of {amount:g} {singular if amount == 1 else unit}"


def _bought(need: Need, packs: int, pack: str, price: Decimal | None) -> BuyLine:
    return BuyLine(
        group=need.group, item=need.name, needed=need.amount, unit=need.unit, packs=packs, pack=pack, price=price,
        cost=None if price is None else packs * price, why=need.why,
    )  # fmt: skip
