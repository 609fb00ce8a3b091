"""A supplier's price file -> Supplier: what it asks for the things that the shop file names."""

from __future__ import annotations

from nookwright.basics.lengths import quoted
from nookwright.basics.problems import Inspection
from nookwright.files.form import Desk, Form, nearest_hint
from nookwright.files.shop_file import PricesNamed, each_once, lengths_with_prices, packs_of
from nookwright.files.tree import Table
from nookwright.stages.buying.spoken import size_item
from nookwright.stages.inputs.shop import Shop, Supplier

SAME_SIZE_MM = 5.0
"""Sheets nearer than this in length and width are of one size: 2440 mm and 8 ft. Common practice, no source."""


def read_prices(tree: Table, named: PricesNamed, shop: Shop, inspection: Inspection) -> Supplier | None:
    """Return a supplier's prices.

    Args:
        tree: the file's tree.
        named: what the shop file says of it.
        shop: the shop, whose sheets and boards it prices.
        inspection: takes every problem.

    Returns:
        The supplier; None when anything in the file is wrong.
    """
    before = len(inspection.problems)
    desk = Desk(file="prices", inspection=inspection)
    form = Form(tree, "prices", desk)
    desk.units = form.choice("units")
    currency = form.text("currency")
    if currency and currency != shop.currency:
        form.note("currency", quoted(currency), f"{shop.currency}, as in the shop file: prices are not exchanged")
    if form.has("tax included") and shop.tax is None:
        form.note("tax included", "it without a rate", "`tax` with its rate in the shop file")
    boards = tuple(one.key for one in shop.boards)
    sold, cut = form.forms("sheets"), form.forms("boards")
    priced = [_sheet_item(one, shop) for one in sold]
    each_once(desk, ((item, one.place("key")) for item, one in zip(priced, sold, strict=True)))
    each_once(desk, ((one.text("key"), one.place("key")) for one in cut if one.has("key")))
    supplier = Supplier(
        name=named.supplier,
        delivery=named.delivery,
        sheets={item: one.money("price") for item, one in zip(priced, sold, strict=True)},
        boards={_known(one, boards, "board"): dict(lengths_with_prices(one)) for one in cut},
        packs=packs_of(form, [product.key for product in shop.products]),
        tax_included=form.yes_no("tax included") if form.has("tax included") else None,
        where=named.where,
    )
    return supplier if len(inspection.problems) == before else None


def _sheet_item(form: Form, shop: Shop) -> str:
    """Return what a sheet is priced by: its key, and its size where that is not the first one of the shop file.

    Empty after a problem.
    """
    key = _known(form, tuple(one.key for one in shop.sheets), "sheet")
    stock = next((one for one in shop.sheets if one.key == key), None)
    if stock is None or not form.has("size"):
        return key
    length, width = form.pair("size")
    for_sale = [(one.length_mm, one.width_mm) for one in stock.sizes if not one.offcut]
    for size in ((stock.length_mm, stock.width_mm), *for_sale):
        if abs(size[0] - length) <= SAME_SIZE_MM and abs(size[1] - width) <= SAME_SIZE_MM:
            return size_item(key, *size) if size in for_sale else key
    sizes = ", ".join(f"{one[0]:g} x {one[1]:g}" for one in ((stock.length_mm, stock.width_mm), *for_sale))
    form.note("size", f"{length:g} x {width:g} mm", f"a size for sale of {key} in the shop file, in mm: {sizes}")
    return ""


def _known(form: Form, keys: tuple[str, ...], what: str) -> str:
    """Return a key of the shop file; note a problem when it names no such thing."""
    key = form.text("key")
    if key and key not in keys:
        listed = f": {', '.join(keys)}" if keys else ", which lists none"
        form.note("key", quoted(key), f"the key of a {what} in the shop file{listed}", nearest_hint(key, keys))
    return key
