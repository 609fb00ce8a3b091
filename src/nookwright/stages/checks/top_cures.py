"""Cures for a top that bends or breaks: another upright, thicker or stiffer stock, less overhang; each worked out."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from nookwright.stages.checks.remedies import price_mm2
from nookwright.stages.checks.said import size
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.shop import BoardStock, SheetStock, Shop
from nookwright.trade.woods import Wood, wood


@dataclass(frozen=True, slots=True, kw_only=True)
class Stuff:
    """What a top could be made of.

    Args:
        name: what people read.
        wood: its properties.
        thickness_mm: of it. [mm]
        price_mm2: of its face, in the shop's currency.
    """

    name: str
    wood: Wood
    thickness_mm: float
    price_mm2: Decimal


def cheapest_stuff(shop: Shop, depth_mm: float, enough: Callable[[Stuff], bool]) -> Stuff | None:
    """Return the cheapest stock of the shop that a top may be made of and that is enough; None where there is none.

    Args:
        shop: sheets wide enough, and boards, which are glued up to any width.
        depth_mm: of the top, front to back. [mm]
        enough: whether it cures.
    """
    good = [stuff for stuff in _stuffs(shop, depth_mm) if enough(stuff)]
    return min(good, key=lambda stuff: (stuff.price_mm2, stuff.name), default=None)


def _stuffs(shop: Shop, depth_mm: float) -> Iterator[Stuff]:
    """Yield every stock that a top may be made of."""
    everything: tuple[SheetStock | BoardStock, ...] = (*shop.sheets, *shop.boards)
    for stock in everything:
        if isinstance(stock, BoardStock) or stock.width_mm >= depth_mm:
            yield Stuff(
                name=stock.name, wood=wood(stock.wood), thickness_mm=stock.thickness_mm, price_mm2=price_mm2(stock)
            )


def stuff_said(stuff: Stuff, own: SheetStock | BoardStock, area_mm2: float, shop: Shop, brief: Brief) -> str:
    """Return what to make a top of and what that adds: `make it of MDF 25, 25 mm thick, about 8.10 EUR more`.

    Args:
        stuff: what to make it of.
        own: what it is made of now.
        area_mm2: of the top. [mm2]
        shop: for the currency.
        brief: for the units people read.
    """
    more = max(Decimal(0), stuff.price_mm2 - price_mm2(own)) * Decimal(area_mm2)
    return f"make it of {stuff.name}, {size(stuff.thickness_mm, brief)} thick, about {more:.2f} {shop.currency} more"
