"""shop.yaml -> Shop: stock, saw, packs, products, prices, and where other suppliers' prices are."""

from __future__ import annotations

import difflib
import re
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from decimal import Decimal

from nookwright.basics.amounts import read_amount, read_money
from nookwright.basics.lengths import UnreadableTextError, quoted, read_length, show_read
from nookwright.basics.problems import Inspection, Where
from nookwright.files.flaws import board_offcuts
from nookwright.files.form import Desk, Form, kind_of, nearest_hint
from nookwright.files.tree import Node, Table, Text, at
from nookwright.stages.buying.buy_list import OWN
from nookwright.stages.buying.spoken import COUNTED_ITEMS, SCREWS, sold_by
from nookwright.stages.inputs.shop import (
    BoardLength,
    BoardStock,
    Glue,
    Goal,
    Pack,
    Product,
    Saw,
    SheetSize,
    SheetStock,
    Shop,
    Tax,
)
from nookwright.trade.lumber import dressed_size, nominal_names
from nookwright.trade.woods import wood_keys

MOST_SUPPLIERS = 6
"""Every group of them is tried, so that more would take long."""

_LEAST_TAX_PERCENT = 1.0
"""A rate below this is a share typed for a percentage, 0.2 for 20 %. Recalled: no tax on sales is lower."""

_SLIP = 0.85
"""How much of two names must agree, 0 to 1, for the one to be the other mistyped. Our choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PricesNamed:
    """A supplier's price file as the shop file names it.

    Args:
        supplier: the supplier's name.
        file: its price file, from the shop file's folder.
        delivery: charged once.
        where: the place that names it.
    """

    supplier: str
    file: str
    delivery: Decimal
    where: Where


@dataclass(frozen=True, slots=True, kw_only=True)
class OffcutsNamed:
    """The offcut file as the shop file names it: its path from the shop file's folder, and the place that names it."""

    file: str
    where: Where


_Size = tuple[float, float]
"""Length and width of a sheet. [mm]"""
_UNREAD = (1.0, 1.0)
"""Stands for a size that could not be read; that is told already."""

ShopRead = tuple[Shop, tuple[PricesNamed, ...], OffcutsNamed | None]


def read_shop(tree: Table, inspection: Inspection) -> ShopRead | None:
    """Return the shop, and the price files and the offcut file to read beside it.

    Args:
        tree: the file's tree.
        inspection: takes every problem.

    Returns:
        The shop without its suppliers, where their prices are, and where offcuts are kept; None when anything in the
        file is wrong.
    """
    before = len(inspection.problems)
    desk = Desk(file="shop", inspection=inspection)
    form = Form(tree, "shop", desk)
    desk.units = form.choice("units")
    products = tuple(_product(product) for product in form.forms("products"))
    saw = _saw(form.group_or_empty("saw"))
    shop = Shop(
        currency=form.text("currency"),
        sheets=tuple(_sheet(sheet) for sheet in form.forms("sheets")),
        boards=tuple(_board(board, saw.kerf_mm) for board in form.forms("boards")),
        saw=saw,
        screw_lengths_mm=_screw_lengths(form),
        packs=packs_of(form, [product.key for product in products]),
        products=products,
        waste_factor=form.amount("waste factor"),
        tax=_tax(form.group_in("tax")),
        glue=_glue(form.group_or_empty("glue")),
    )
    suppliers = _suppliers(form)
    stocks = [(sheet.key, sheet.where) for sheet in shop.sheets] + [(board.key, board.where) for board in shop.boards]
    each_once(desk, stocks)
    names = [(sheet.name, sheet.where) for sheet in shop.sheets] + [(board.name, board.where) for board in shop.boards]
    each_once(desk, names, "each name once, for labels and cutting pages go by it")
    each_once(desk, ((product.key, product.where) for product in shop.products))
    offcuts = OffcutsNamed(file=form.text("offcuts"), where=form.place("offcuts")) if form.text("offcuts") else None
    return (shop, suppliers, offcuts) if len(inspection.problems) == before else None


def _tax(form: Form | None) -> Tax | None:
    if form is None:
        return None
    percent = form.amount("percent")
    if 0 < percent < _LEAST_TAX_PERCENT:
        meant = f"{percent * 100:g}"
        form.note("percent", f"{percent:g}", "a rate of 1 % or more, or 0", f"Write {meant} for {meant} %.")
    return Tax(percent=Decimal(f"{percent:g}"), included=form.yes_no("included"))


def _glue(form: Form) -> Glue:
    return Glue(
        open_min=form.amount("open"),
        clamp_min=form.amount("clamped"),
        rest_h=form.amount("rest"),
        least_c=form.amount("least warmth"),
        spread_g_m2=form.amount("spread"),
        clamp_n=form.amount("clamp"),
    )


def _suppliers(form: Form) -> tuple[PricesNamed, ...]:
    """Return the price files named, each supplier once."""
    found = [
        PricesNamed(
            supplier=one.text("name"),
            file=one.text("prices"),
            delivery=one.money("delivery"),
            where=one.place("prices"),
        )
        for one in form.forms("suppliers")
    ]
    if len(found) > MOST_SUPPLIERS:
        form.note("suppliers", f"{len(found)} suppliers", f"{MOST_SUPPLIERS} at most")
    each_once(form.desk, ((one.supplier, one.where) for one in found))
    for one in found:
        if one.supplier == OWN:
            form.desk.note(one.where, quoted(OWN), "another name: this one is for the prices in the shop file itself")
    return tuple(found)


def each_once(desk: Desk, keys: Iterable[tuple[str, Where]], expected: str = "each key once") -> None:
    """Note everything that stands twice.

    Args:
        desk: takes the problems.
        keys: what stands there, each with its place; empty ones are let be.
        expected: what would be right.
    """
    seen: dict[str, Where] = {}
    for key, where in keys:
        if key and key in seen:
            desk.note(where, f"{quoted(key)} a second time", f"{expected}; it stands on line {seen[key].line} too")
        seen.setdefault(key, where)


def _wood(form: Form) -> str:
    """Return the wood, which must stand in the tool's table."""
    wood = form.text("wood")
    if wood and wood not in wood_keys():
        form.note("wood", quoted(wood), f"one of {', '.join(wood_keys())}", nearest_hint(wood, wood_keys()))
    return wood


def _sheet(form: Form) -> SheetStock:
    length, width = form.pair("size")
    grained = form.yes_no("grain")
    others = _sizes_for_sale(form, (length, width))
    offcuts = tuple(_offcut(each, ((length, width), *others), grained) for each in form.forms("offcuts"))
    return SheetStock(
        key=form.text("key"),
        name=form.text("name"),
        wood=_wood(form),
        length_mm=length,
        width_mm=width,
        thickness_mm=form.length("thickness"),
        grained=grained,
        price=form.money("price"),
        on_hand=form.count("on hand"),
        sizes=(*(SheetSize(length_mm=l, width_mm=w, price=price) for (l, w), price in others.items()), *offcuts),
        where=form.where,
    )


def _sizes_for_sale(form: Form, own: _Size) -> dict[_Size, Decimal]:
    """Return the other sizes for sale with their prices, each size once."""
    found: dict[_Size, Decimal] = {}
    for each in form.forms("sizes"):
        size, price = each.pair("size"), each.money("price")
        if size != _UNREAD and (size == own or size in found):
            each.note("size", f"{_said(size, form)} a second time", "each size once, the sheet's own among them")
        found[size] = price
    return found


def _offcut(form: Form, whole: Collection[_Size], grained: bool) -> SheetSize:
    """Return a piece on hand, which comes out of one of the whole sheets."""
    length, width = size = form.pair("size")
    if _UNREAD not in whole and not any(_comes_out_of(size, sheet, grained) for sheet in whole):
        largest = _said(max(whole, key=lambda one: one[0] * one[1]), form)
        hint = "Another size of sheet goes under `sizes`; length first, along the grain." if grained else ""
        form.note("size", _said(size, form), f"a piece of a sheet for sale, the largest {largest}", hint)
    return SheetSize(length_mm=length, width_mm=width, offcut=True, count=form.count("count"))


def _comes_out_of(piece: _Size, sheet: _Size, grained: bool) -> bool:
    """Whether a piece is no larger than a sheet, its grain along the sheet's."""
    ways = (piece,) if grained else (piece, piece[::-1])
    return any(length <= sheet[0] and width <= sheet[1] for length, width in ways)


def _said(size: _Size, form: Form) -> str:
    return " x ".join(show_read(each, form.desk.units) for each in size)


def _board(form: Form, kerf_mm: float) -> BoardStock:
    thickness, width = _section(form)
    flatten = _taken_off(form, "flatten", thickness, "thickness")
    straighten = _taken_off(form, "straighten", width, "width")
    return BoardStock(
        key=form.text("key"),
        name=form.text("name"),
        wood=_wood(form),
        thickness_mm=thickness - flatten,
        width_mm=width,
        lengths=tuple(BoardLength(length_mm=length, price=price) for length, price in lengths_with_prices(form)),
        offcuts=tuple(
            piece for one in form.forms("offcuts") for piece in board_offcuts(one, kerf_mm, width - straighten)
        ),
        straighten_mm=straighten,
        flatten_mm=flatten,
        one_face=form.yes_no("one face"),
        where=form.where,
    )


def _taken_off(form: Form, key: str, size_mm: float, what: str) -> float:
    """Return what straightening or flattening takes off a board; less than its width or thickness."""
    taken = form.length(key)
    if taken >= size_mm:
        said, whole = (show_read(size, form.desk.units) for size in (taken, size_mm))
        form.note(key, said, f"less than the board's {what} of {whole}")
    return taken


def _section(form: Form) -> tuple[float, float]:
    """Return the real section, as typed or behind the nominal name. [mm]"""
    if form.has("section") == form.has("nominal"):
        found = "both section and nominal" if form.has("section") else "neither section nor nominal"
        form.desk.note(form.where, found, "one of them: the real section, or the nominal name")
        return 1.0, 1.0
    if form.has("section"):
        thickness, width = form.pair("section")
        if thickness > width:
            typed = (show_read(size, form.desk.units) for size in (thickness, width))
            form.note("section", " x ".join(typed), "thickness x width, the smaller size first")
        return thickness, width
    return form.read_as("nominal", _nominal_section, (1.0, 1.0))


def _nominal_section(typed: str) -> tuple[float, float]:
    """Return the dressed size behind a nominal name. [mm]"""
    size = dressed_size(typed)
    if size is None:
        raise UnreadableTextError(typed, f"a nominal name: {', '.join(nominal_names())}")
    return size.thickness_mm, size.width_mm


def lengths_with_prices(form: Form) -> list[tuple[float, Decimal]]:
    """Return the lengths for sale with their prices, shortest first. [mm]"""
    found: list[tuple[float, Decimal]] = []
    places: list[tuple[str, Where]] = []
    for name, value, path in form.pairs_in("lengths"):
        length = form.checked("lengths", name.value, form.length_in_units, 1.0, at(name.where, path))
        found.append((length, _price(form, value, path)))
        places.append((f"{length:g} mm", at(name.where, path)))
    each_once(form.desk, places, "each length once, with one price")
    if form.has("lengths") and isinstance(form.values["lengths"][1], Table) and not found:
        form.note("lengths", "an empty group", "lengths with their prices, such as `{2400: 6.20, 3000: 7.75}`")
    return sorted(found, key=lambda sold: sold[0])


def _price(form: Form, node: Node, path: str) -> Decimal:
    """Return the price beside a length."""
    typed = node.value if isinstance(node, Text) else ""
    try:
        return read_money(typed)
    except UnreadableTextError as fault:
        found, hint = (quoted(typed), fault.hint) if typed else (kind_of(node), "Fill it in.")
        form.desk.note(at(node.where, path), found, fault.expected, hint)
        return Decimal(1)


def _saw(form: Form) -> Saw:
    return Saw(
        kerf_mm=form.length("kerf"),
        trim_mm=form.length("trim"),
        end_trim_mm=form.length("end trim"),
        far_end_trim_mm=form.length("far end trim"),
        max_tilt_deg=form.angle("tilt"),
        keep_mm=form.length("keep"),
        keep_strip_mm=form.length("keep strip"),
        stages=form.count("stages"),
        rip_mm=form.length("rip"),
        crosscut_mm=form.length("crosscut"),
        track_mm=form.length("track"),
        lift_kg=form.amount("lift"),
        goals=_goals(form),
    )


def _goals(form: Form) -> tuple[Goal, ...]:
    """Return what counts once the money is settled; goals not named come last, in their usual order."""
    usual: tuple[Goal, ...] = Saw().goals
    named: list[Goal] = []
    for word in form.texts("goals"):
        known = next((goal for goal in usual if goal == word.strip().lower()), None)
        if known is None:
            form.note("goals", quoted(word), f"{', '.join(usual)} in any order", "Money always comes first.")
        elif known in named:
            form.note("goals", f"{quoted(known)} a second time", "each goal once")
        else:
            named.append(known)
    return (*named, *(goal for goal in usual if goal not in named))


INCH_SCREWS = ("5/8", "3/4", "1", "1 1/4", "1 1/2", "1 3/4", "2", "2 1/4", "2 1/2", "3", "3 1/2", "4")
"""Screw lengths of a shop in inches that names none. Common practice, no source."""


def _screw_lengths(form: Form) -> tuple[float, ...]:
    """Return the screw lengths that can be had; those of the file's own units when none are named."""
    if form.desk.units == "inch" and not form.has("screw lengths"):
        return tuple(read_length(each, unit="inch") for each in INCH_SCREWS)
    return form.lengths("screw lengths")


def item_of(form: Form, key: str, typed_item: str) -> str:
    """Return an item; a screw's length becomes millimetres: `wood screw 2 1/2` in an inch file is 63.5.

    Args:
        form: where it stands.
        key: the key it stands under.
        typed_item: the item as typed.
    """
    item = " ".join(typed_item.split())
    kind = next((each for each in SCREWS if item.startswith(each + " ")), None)
    if kind is None:
        return item
    typed = item[len(kind) + 1 :]
    try:
        return f"{kind} {read_length(typed, unit=form.desk.units):g}"
    except UnreadableTextError:
        form.note(key, quoted(item), f"`{kind}` and a length, such as `{kind} 40` or `{kind} 1 1/2 in`")
        return item


def packs_of(form: Form, products: Collection[str]) -> tuple[Pack, ...]:
    """Return what a file sells by the pack; screws' lengths become millimetres.

    Args:
        form: the file.
        products: keys of the finishing products, which are sold by the litre.
    """
    packs = tuple(_pack(one, products) for one in form.forms("packs"))
    places = ((f"{pack.item}, {pack.amount:g} a pack" if pack.item else "", pack.where) for pack in packs)
    each_once(form.desk, places, "one price for each size of pack")
    return packs


def _pack(form: Form, products: Collection[str]) -> Pack:
    item = item_of(form, "item", form.text("item"))
    unit = "l" if item in products else sold_by(item)
    return Pack(
        item=item,
        amount=form.read_as("amount", lambda typed: read_amount(typed, unit=unit), 1.0),
        price=form.money("price"),
        serves=tuple(_served(form, item, products) for item in form.texts("serves")),
        where=form.where,
    )


def _served(form: Form, typed: str, products: Collection[str]) -> str:
    """Return an item that a pack may be bought for; note one that is nearly, but not quite, one of those we count.

    Other words are let be: another job may ask for them under `also buy`.
    """
    item = item_of(form, "serves", typed)
    words = re.sub(r"[\d./ ]+$", "", item)
    counted = (*COUNTED_ITEMS, *products)
    if item in SCREWS:
        form.note("serves", quoted(item), f"`{item}` and a length")
    if item not in products and words not in counted and difflib.get_close_matches(words, counted, n=1, cutoff=_SLIP):
        form.note("serves", quoted(item), "an item as it is counted", nearest_hint(words, counted))
    return item


def _product(form: Form) -> Product:
    return Product(
        key=form.text("key"),
        name=form.text("name"),
        cover_m2_per_litre=form.amount("covers"),
        recoat_h=form.amount("recoat"),
        cure_days=form.amount("cure"),
        where=form.where,
    )
