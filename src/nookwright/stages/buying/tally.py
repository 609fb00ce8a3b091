"""Makes the buying list: needs rounded up to packs, with cost; parts + plans + shop -> BuyList."""

from __future__ import annotations

import math
from collections.abc import Sequence
from decimal import Decimal

from nookwright.basics.lengths import Marks
from nookwright.stages.buying.buy_list import BuyLine, BuyList, Unit
from nookwright.stages.buying.quantities import Need, fastening_needs, finish_needs, stock_needs, sundry_needs
from nookwright.stages.buying.spoken import amount_said, item_said, same_item
from nookwright.stages.cutting.cutting_plan import CuttingPlan
from nookwright.stages.finishing.finish_plan import FinishPlan
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.shop import Pack, Shop
from nookwright.stages.installing.install_plan import InstallPlan
from nookwright.stages.parts.part import PartList

_NO_PACK = {True: "single", False: "size not given in the shop file"}
"""What is said of a thing the shop file has no pack of, by whether it is counted in pieces."""


def tally(
    parts: PartList, cutting: CuttingPlan, installing: InstallPlan, finishing: FinishPlan, brief: Brief, shop: Shop
) -> BuyList:
    """List what to buy once, by the pack, with its cost.

    Args:
        parts: parts and joints.
        cutting: sheets and boards.
        installing: packers and wall fixings.
        finishing: coats, nail holes, caulk.
        brief: the units people read.
        shop: prices, packs, sheets on hand.

    Returns:
        Every line; the total of the priced ones; the names of the others.
    """
    marks = Marks(units=brief.units, resolution=brief.resolution)
    needs = [
        *stock_needs(cutting, shop, marks),
        *fastening_needs(parts, installing, marks),
        *finish_needs(finishing, shop, marks),
        *sundry_needs(installing, finishing, marks),
    ]
    lines = tuple(
        _line(need, [pack for pack in shop.packs if same_item(pack.item, need.item)], marks) for need in needs
    )
    return BuyList(
        currency=shop.currency, lines=lines,
        total=sum((line.cost for line in lines if line.cost is not None), Decimal(0)),
        unpriced=tuple(line.item for line in lines if line.cost is None),
    )  # fmt: skip


def _line(need: Need, packs: Sequence[Pack], marks: Marks) -> BuyLine:
    """Round one need up to whole packs of the size that costs least in all."""
    if need.price is not None:
        return _bought(need, math.ceil(need.amount), need.pack, need.price, marks)
    if not packs:
        count = math.ceil(need.amount) if need.unit == "pieces" else 1
        return _bought(need, count, _NO_PACK[need.unit == "pieces"], None, marks)
    best = min(packs, key=lambda pack: (_packs(need.amount, pack) * pack.price, _packs(need.amount, pack)))
    return _bought(
        need, _packs(need.amount, best), _pack_name(*amount_said(best.amount, need.unit, marks)), best.price, marks
    )


def _packs(amount: float, pack: Pack) -> int:
    return max(1, math.ceil(amount / pack.amount - 1e-9))


def _pack_name(amount: float, unit: Unit) -> str:
    if unit == "pieces":
        return "single" if amount == 1 else f"box of {amount:g}"
    singular: dict[Unit, str] = {"litres": "litre", "metres": "metre", "quarts": "quart", "feet": "foot"}
    tidy = f"{amount:.2f}".rstrip("0").rstrip(".")
    return f"pack of {tidy} {singular.get(unit, unit) if tidy == '1' else unit}"


def _bought(need: Need, packs: int, pack: str, price: Decimal | None, marks: Marks) -> BuyLine:
    needed, unit = amount_said(need.amount, need.unit, marks)
    return BuyLine(
        group=need.group,
        item=item_said(need.name, marks),
        needed=needed,
        unit=unit,
        packs=packs,
        pack=pack,
        price=price,
        cost=None if price is None else packs * price,
        why=need.why,
    )
