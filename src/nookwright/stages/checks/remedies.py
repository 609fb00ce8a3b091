"""The cheapest cure for a shelf that sags: thicker stock, a strip under its front edge, or a divider."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from nookwright.solvers.beams import deflection
from nookwright.stages.checks.said import fine, size
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.shop import BoardStock, SheetStock, Shop
from nookwright.stages.parts.part import Part
from nookwright.trade import sag
from nookwright.trade.creep import long_term_sag
from nookwright.trade.woods import wood

LIP_HEIGHTS_MM = (25.0, 32.0, 38.0, 45.0, 60.0)
"""Strip heights tried, those usual under a shelf. Source: [trade-practice]. Status: common practice."""

THICKEST_LIP_MM = 26.0
"""A strip thicker than this is not put on a shelf's edge. Source: [trade-practice]. Status: common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cure:
    """One way to keep a shelf within its limit.

    Args:
        text: what to do.
        cost: what its material adds, in the shop's currency.
        later_mm: sag after years with it. [mm]
    """

    text: str
    cost: Decimal
    later_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Case:
    """What every cure needs to know."""

    part: Part
    wood_key: str
    load_n_mm: float
    span_mm: float
    depth_mm: float
    limit_mm: float
    brief: Brief


def cheapest_cure(
    *,
    part: Part,
    wood_key: str,
    load_n_mm: float,
    span_mm: float,
    depth_mm: float,
    limit_mm: float,
    shop: Shop,
    brief: Brief,
) -> str:
    """Return the cheapest cure that keeps the shelf within its limit after years, in words.

    Args:
        part: the shelf.
        wood_key: what it is made of.
        load_n_mm: load with its own weight. [N/mm]
        span_mm: clear span. [mm]
        depth_mm: front to back. [mm]
        limit_mm: sag accepted. [mm]
        shop: stock and prices.
        brief: for the units people read.

    Returns:
        One or two sentences; says so when nothing in the shop is enough.
    """
    case = _Case(
        part=part, wood_key=wood_key, load_n_mm=load_n_mm, span_mm=span_mm, depth_mm=depth_mm, limit_mm=limit_mm,
        brief=brief,
    )  # fmt: skip
    cures = [*_thicker(case, shop), *_lips(case, shop), *_divider(case, shop)]
    good = sorted((cure for cure in cures if cure.later_mm <= limit_mm), key=lambda cure: (cure.cost, cure.text))
    if not good:
        return "Nothing in the shop file is enough: shorten the span with two dividers, or carry less."
    first = good[0]
    text = f"{first.text}: {fine(first.later_mm, brief)} after years (about {first.cost:.2f} {shop.currency} more)."
    if len(good) > 1:
        text += f" Else {good[1].text[0].lower()}{good[1].text[1:]}."
    return text


def _thicker(case: _Case, shop: Shop) -> list[Cure]:
    """Return every thicker stock of the shop as a cure; the shelf's own weight is left as it was."""
    cures: list[Cure] = []
    own = shop.stock(case.part.stock)
    everything: tuple[SheetStock | BoardStock, ...] = (*shop.sheets, *shop.boards)
    for stock in everything:
        if stock.thickness_mm <= case.part.thickness_mm or not _wide_enough(stock, case.depth_mm):
            continue
        made_of = wood(stock.wood)
        now = sag.shelf_sag(
            load_n_mm=case.load_n_mm,
            span_mm=case.span_mm,
            modulus_n_mm2=made_of.along_n_mm2.value,
            depth_mm=case.depth_mm,
            thickness_mm=stock.thickness_mm,
        ).total_mm
        extra = _price_mm2(stock) - (_price_mm2(own) if own is not None else Decimal(0))
        cost = max(Decimal(0), extra) * Decimal(case.span_mm * case.depth_mm)
        text = f"Make it of {stock.name}, {size(stock.thickness_mm, case.brief)} thick"
        cures.append(Cure(text=text, cost=cost, later_mm=long_term_sag(initial_mm=now, creep=made_of.creep.value)))
    return cures


def _lips(case: _Case, shop: Shop) -> list[Cure]:
    """Return the lowest strip that is enough, from each board of the shop."""
    cures: list[Cure] = []
    shelf = wood(case.wood_key)
    for board in shop.boards:
        lip = wood(board.wood)
        if board.thickness_mm > THICKEST_LIP_MM or not lip.solid:
            continue
        for height in (each for each in LIP_HEIGHTS_MM if case.part.thickness_mm < each <= board.width_mm):
            stiffness = sag.lipped_stiffness(
                shelf_modulus_n_mm2=shelf.along_n_mm2.value,
                shelf_depth_mm=case.depth_mm - board.thickness_mm,
                shelf_thickness_mm=case.part.thickness_mm,
                lip_modulus_n_mm2=lip.along_n_mm2.value,
                lip_thickness_mm=board.thickness_mm,
                lip_height_mm=height,
            )
            now = deflection(
                case="even, simple ends",
                load_n=case.load_n_mm * case.span_mm,
                span_mm=case.span_mm,
                stiffness_n_mm2=stiffness,
            )
            later = long_term_sag(initial_mm=now, creep=max(shelf.creep.value, lip.creep.value))
            if later <= case.limit_mm:
                text = f"Glue a strip of {board.name}, {size(height, case.brief)} high on edge, along its front"
                cost = _price_mm2(board) * Decimal(height * case.span_mm)
                cures.append(Cure(text=text, cost=cost, later_mm=later))
                break
    return cures


def _divider(case: _Case, shop: Shop) -> list[Cure]:
    """Return a divider at mid-span as a cure. Its board is priced at twice the shelf's depth in height."""
    made_of = wood(case.wood_key)
    now = sag.shelf_sag(
        load_n_mm=case.load_n_mm,
        span_mm=case.span_mm / 2,
        modulus_n_mm2=made_of.along_n_mm2.value,
        depth_mm=case.depth_mm,
        thickness_mm=case.part.thickness_mm,
    ).total_mm
    own = shop.stock(case.part.stock)
    price = _price_mm2(own) if own is not None else Decimal(0)
    later = long_term_sag(initial_mm=now, creep=made_of.creep.value)
    return [Cure(text="Stand a divider at mid-span", cost=price * Decimal(2 * case.depth_mm**2), later_mm=later)]


def _wide_enough(stock: SheetStock | BoardStock, depth_mm: float) -> bool:
    """Return whether one board of the stock is as wide as the shelf."""
    return stock.width_mm >= depth_mm


def _price_mm2(stock: SheetStock | BoardStock) -> Decimal:
    """Return the price of a stock's face, per mm2."""
    if isinstance(stock, SheetStock):
        return stock.price / Decimal(stock.length_mm * stock.width_mm)
    longest = max(stock.lengths, key=lambda each: each.length_mm)
    return longest.price / Decimal(longest.length_mm * stock.width_mm)
