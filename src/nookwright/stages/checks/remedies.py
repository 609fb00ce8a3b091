"""Cures for a shelf that sags, compared: thicker stock, another board, a strip, a cleat, a divider; cost and look."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal

from nookwright.solvers.beams import deflection
from nookwright.stages.checks.said import fine, size
from nookwright.stages.checks.shelf_load import LoadedShelf, creep_of
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.shop import BoardStock, SheetStock, Shop
from nookwright.trade import sag
from nookwright.trade.creep import long_term_sag
from nookwright.trade.sections import Strip, transformed
from nookwright.trade.woods import wood

LIP_HEIGHTS_MM = (25.0, 32.0, 38.0, 45.0, 60.0)
"""Strip heights tried, those usual under a shelf. Source: [trade-practice]. Status: common practice."""

THICKEST_LIP_MM = 26.0
"""A strip thicker than this is not put on a shelf's edge. Source: [trade-practice]. Status: common practice."""

CLEAT_MM = 25.0
"""Width of the cleat behind a shelf. Source: [trade-practice]. Status: common practice."""

BACK_SCREWS_MM = 150.0
"""Spacing of screws that hang a shelf on the back. Source: [trade-practice]. Status: common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cure:
    """One way to keep a shelf within its limit.

    Args:
        kind: thicker, other board, strip, cleat, back or divider.
        text: what to do.
        look: what one sees of it.
        cost: what its material adds, in the shop's currency.
        later_mm: sag after years with it. [mm]
        bays: how many spans it makes of one.
    """

    kind: str
    text: str
    look: str
    cost: Decimal
    later_mm: float
    bays: int = 1


def cures(shelf: LoadedShelf, shop: Shop, brief: Brief) -> tuple[Cure, ...]:
    """Return the cures that keep a shelf within its limit after years: the cheapest of each kind, cheapest first.

    Args:
        shelf: the shelf and its load.
        shop: stock and prices.
        brief: for the units people read.

    Returns:
        None when nothing in the shop is enough.
    """
    strips = _strips(shelf, shop, brief, _lip_sag)
    # A cleat or the back holds a fixed shelf only, and is worth its trouble where no strip alone is enough.
    if not strips and shelf.part.role == "shelf":
        strips = _strips(shelf, shop, brief, _cleat_sag)
    tried = [*_other_stock(shelf, shop, brief), *strips, *_dividers(shelf, shop)]
    good = sorted((cure for cure in tried if _enough(cure, shelf)), key=lambda cure: (cure.cost, cure.text))
    first: dict[str, Cure] = {}
    for cure in good:
        first.setdefault(cure.kind, cure)
    return tuple(first.values())


def _enough(cure: Cure, shelf: LoadedShelf) -> bool:
    """Return whether a cure keeps each of its bays within its limit: a share of the span is less on a shorter one."""
    limit = shelf.limit_mm if shelf.standard.span_ratio is None else shelf.limit_mm / cure.bays
    return cure.later_mm <= limit


def cures_said(found: tuple[Cure, ...], shelf: LoadedShelf, shop: Shop, brief: Brief) -> str:
    """Return the cures in words, the cheapest first, each with its cost and look.

    Args:
        found: as `cures` returns them.
        shelf: the shelf.
        shop: for the currency.
        brief: for the units people read.

    Returns:
        A sentence for the first and one for each other; says so when nothing in the shop is enough.
    """
    if not found:
        return f"Nothing in the shop file is enough, nor are two dividers: carry less.{_longest(shelf, brief)}"
    told = []
    for place, cure in enumerate(found):
        after = f"{fine(cure.later_mm, brief)} after years, about {cure.cost:.2f} {shop.currency} more, {cure.look}"
        text = cure.text if place == 0 else f"Or {cure.text[0].lower()}{cure.text[1:]}"
        told.append(f"{text}: {after}.")
    return " ".join(told) + _longest(shelf, brief)


def _longest(shelf: LoadedShelf, brief: Brief) -> str:
    """Return how long the same board might span under the same load, after years; its limit a share of the span."""
    if shelf.standard.span_ratio is None or shelf.standard.most_sag_mm is not None:
        return ""
    ratio = shelf.span_mm / shelf.limit_mm * shelf.creep / shelf.stiffer
    longest = sag.span_limit(
        load_n_mm=shelf.load_n_mm,
        sag_ratio=ratio,
        modulus_n_mm2=shelf.modulus_n_mm2,
        depth_mm=shelf.depth_mm,
        thickness_mm=shelf.part.thickness_mm,
    )
    return f" As it is it would do up to a span of {size(longest, brief)}."


def _other_stock(shelf: LoadedShelf, shop: Shop, brief: Brief) -> list[Cure]:
    """Return every other stock of the shop as a cure; the shelf's own weight is left as it was."""
    found: list[Cure] = []
    own, thickness = shop.stock(shelf.part.stock), shelf.part.thickness_mm
    everything: tuple[SheetStock | BoardStock, ...] = (*shop.sheets, *shop.boards)
    for stock in everything:
        if stock.key == shelf.part.stock or stock.width_mm < shelf.depth_mm:
            continue
        made_of = wood(stock.wood)
        now = sag.shelf_sag(
            load_n_mm=shelf.load_n_mm,
            span_mm=shelf.span_mm,
            modulus_n_mm2=made_of.along_n_mm2.value,
            depth_mm=shelf.depth_mm,
            thickness_mm=stock.thickness_mm,
        ).total_mm
        thicker = stock.thickness_mm > thickness + 1.0
        extra = price_mm2(stock) - (price_mm2(own) if own is not None else Decimal(0))
        found.append(
            Cure(
                kind="thicker" if thicker else "other board",
                text=f"Make it of {stock.name}, {size(stock.thickness_mm, brief)} thick",
                look=f"a front edge of {size(stock.thickness_mm, brief)}" if thicker else "another board to see",
                cost=max(Decimal(0), extra) * Decimal(shelf.span_mm * shelf.depth_mm),
                later_mm=long_term_sag(initial_mm=now, creep=creep_of(made_of, damp=shelf.damp)),
            )
        )
    return found


@dataclass(frozen=True, slots=True, kw_only=True)
class _Lip:
    """What a strip does under a shelf: its sag at once, and what else is bought for it."""

    kind: str
    text: str
    look: str
    now_mm: float
    more_mm2: float


def _lip_sag(shelf: LoadedShelf, lip: Strip, _: Brief) -> _Lip:
    """Return a strip glued along the front edge, top flush, that bends with the whole shelf."""
    board = Strip(
        modulus_n_mm2=shelf.modulus_n_mm2,
        width_mm=shelf.depth_mm - lip.width_mm,
        height_mm=shelf.part.thickness_mm,
    )
    now = _simple_sag(shelf.load_n_mm, shelf.span_mm, transformed((board, lip)).stiffness_n_mm2)
    return _Lip(kind="strip", text="along its front", look="a front edge of", now_mm=now, more_mm2=0.0)


def _cleat_sag(shelf: LoadedShelf, lip: Strip, brief: Brief) -> _Lip:
    """Return the same held behind: half the load rests on a cleat or hangs on the back, which on edge hardly bends.

    The front half of the board and the strip carry the rest.
    """
    board = Strip(
        modulus_n_mm2=shelf.modulus_n_mm2,
        width_mm=shelf.depth_mm / 2 - lip.width_mm,
        height_mm=shelf.part.thickness_mm,
    )
    now = _simple_sag(shelf.load_n_mm / 2, shelf.span_mm, transformed((board, lip)).stiffness_n_mm2)
    if shelf.backed:
        return _Lip(
            kind="back",
            text=f"along its front, and screw the back to its rear edge every {size(BACK_SCREWS_MM, brief)}",
            look="a front edge of",
            now_mm=now,
            more_mm2=0.0,
        )
    return _Lip(
        kind="cleat",
        text="along its front, and screw a cleat to the wall along its back",
        look="a cleat behind and a front edge of",
        now_mm=now,
        more_mm2=shelf.span_mm * CLEAT_MM,
    )


def _simple_sag(load_n_mm: float, span_mm: float, stiffness_n_mm2: float) -> float:
    """Return the bending sag of an evenly loaded beam on two supports. [mm]"""
    load = load_n_mm * span_mm
    return deflection(case="even, simple ends", load_n=load, span_mm=span_mm, stiffness_n_mm2=stiffness_n_mm2)


def _strips(
    shelf: LoadedShelf, shop: Shop, brief: Brief, sags: Callable[[LoadedShelf, Strip, Brief], _Lip]
) -> list[Cure]:
    """Return the lowest strip that is enough, from each board of the shop."""
    found: list[Cure] = []
    for board in shop.boards:
        made_of = wood(board.wood)
        if board.thickness_mm > THICKEST_LIP_MM or not made_of.solid:
            continue
        creeps = max(creep_of(shelf.wood, damp=shelf.damp), creep_of(made_of, damp=shelf.damp))
        for height in (each for each in LIP_HEIGHTS_MM if shelf.part.thickness_mm < each <= board.width_mm):
            strip = Strip(modulus_n_mm2=made_of.along_n_mm2.value, width_mm=board.thickness_mm, height_mm=height)
            lip = sags(shelf, strip, brief)
            later = long_term_sag(initial_mm=lip.now_mm, creep=creeps)
            if later <= shelf.limit_mm:
                found.append(
                    Cure(
                        kind=lip.kind,
                        text=f"Glue a strip of {board.name}, {size(height, brief)} high on edge, {lip.text}",
                        look=f"{lip.look} {size(height, brief)}",
                        cost=price_mm2(board) * Decimal(height * shelf.span_mm + lip.more_mm2),
                        later_mm=later,
                    )
                )
                break
    return found


DIVIDERS = (("Stand a divider at mid-span", "two narrower bays"), ("Stand two dividers", "three narrower bays"))
"""What one and two dividers are called, and what they look like."""


def _dividers(shelf: LoadedShelf, shop: Shop) -> list[Cure]:
    """Return one and two dividers as cures. The board of each is priced at twice the shelf's depth in height."""
    own = shop.stock(shelf.part.stock)
    price = price_mm2(own) if own is not None else Decimal(0)
    found: list[Cure] = []
    for count, (text, look) in enumerate(DIVIDERS, start=1):
        now = sag.shelf_sag(
            load_n_mm=shelf.load_n_mm,
            span_mm=shelf.span_mm / (count + 1),
            modulus_n_mm2=shelf.modulus_n_mm2,
            depth_mm=shelf.depth_mm,
            thickness_mm=shelf.part.thickness_mm,
        ).total_mm
        later = long_term_sag(initial_mm=now, creep=shelf.creep)
        cost = price * Decimal(2 * count * shelf.depth_mm**2)
        found.append(Cure(kind="divider", text=text, look=look, cost=cost, later_mm=later, bays=count + 1))
    return found


def price_mm2(stock: SheetStock | BoardStock) -> Decimal:
    """Return the price of a stock's face, per mm2."""
    if isinstance(stock, SheetStock):
        return stock.price / Decimal(stock.length_mm * stock.width_mm)
    longest = max(stock.lengths, key=lambda each: each.length_mm)
    return longest.price / Decimal(longest.length_mm * stock.width_mm)
