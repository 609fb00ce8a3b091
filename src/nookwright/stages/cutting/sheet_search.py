"""Which sheets of one stock to buy and how its parts lie on them: by the quick search, or the long one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from nookwright.solvers.bounds import Bound, least_sheets
from nookwright.solvers.cheapest_sheets import SheetsProven, cheapest_sheets
from nookwright.solvers.leftovers import larger_leftovers
from nookwright.solvers.pack_sheets import Rectangle, Region, pack_sheets
from nookwright.solvers.refit_sheets import SheetKind
from nookwright.solvers.sheet_trees import tree_of
from nookwright.stages.cutting.blanks import tenths_down, tenths_up
from nookwright.stages.cutting.more_time import MoreTime
from nookwright.stages.inputs.shop import Saw, SheetStock

_MONEY_STEPS = 10_000
"""Money becomes whole ten-thousandths for the search."""
_LEAST_STEPS = 120
"""Steps of the long search, and of that for a large leftover, that a plan gets whatever the time: about a second."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeOnOffer:
    """A size of sheet: whole, and what is left of it inside trimmed edges. [0.1 mm]"""

    length_mm: float
    width_mm: float
    trim: int
    length: int
    width: int
    price: Decimal
    most: int | None
    offcut: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetsChosen:
    """The sheets, each with its size and cutting tree, and the least that any plan could cost, or use.

    Args:
        sheets: size and tree of each sheet.
        bound: of the number of sheets, as if all were of the largest size.
        cost, least_cost: money for sheets; no plan costs less than the latter.
    """

    sheets: tuple[tuple[SizeOnOffer, Region], ...]
    bound: Bound
    cost: Decimal
    least_cost: Decimal


def sizes_on_offer(stock: SheetStock, saw: Saw) -> tuple[SizeOnOffer, ...]:
    """Return every size of a stock, whole sheets on hand and offcuts first.

    Args:
        stock: the stock.
        saw: what it trims off factory edges; offcuts have clean ones.
    """

    def size(length_mm: float, width_mm: float, price: Decimal, most: int | None, offcut: bool) -> SizeOnOffer:
        trim = 0 if offcut else tenths_up(saw.trim_mm)
        return SizeOnOffer(
            length_mm=length_mm, width_mm=width_mm, trim=trim, length=tenths_down(length_mm) - 2 * trim,
            width=tenths_down(width_mm) - 2 * trim, price=price, most=most, offcut=offcut,
        )  # fmt: skip

    found = [size(one.length_mm, one.width_mm, Decimal(0), one.count, True) for one in stock.sizes if one.offcut]
    if stock.on_hand:
        found.append(size(stock.length_mm, stock.width_mm, Decimal(0), stock.on_hand, False))
    found.append(size(stock.length_mm, stock.width_mm, stock.price, None, False))
    found += [size(one.length_mm, one.width_mm, one.price, None, False) for one in stock.sizes if not one.offcut]
    return tuple(found)


def choose_sheets(
    rectangles: Sequence[Rectangle], sizes: Sequence[SizeOnOffer], saw: Saw, more_time: MoreTime
) -> tuple[SheetsChosen, ...]:
    """Return the cheapest sheets found for the parts of one stock: one way, or two of which the goals choose.

    One size that is cut any way is planned by the quick search; several sizes, limited cuts, and whatever there is more
    time for, by the long one.

    Args:
        rectangles: the parts; each fits a size that is for sale.
        sizes: what can be had.
        saw: kerf, and in how many stages it cuts.
        more_time: whether the long search may go on.
    """
    kerf = tenths_up(saw.kerf_mm)
    longest, widest = max(size.length for size in sizes), max(size.width for size in sizes)
    bound = least_sheets(rectangles, length=longest, width=widest, kerf=kerf)
    one_size = len({(size.length, size.width) for size in sizes}) == 1
    quick: tuple[SheetsChosen, ...] = ()
    if one_size and not saw.stages:
        trees = pack_sheets(rectangles, length=longest, width=widest, kerf=kerf, enough=bound.least)
        quick = (_of_one_size(trees, sizes, bound),)
        if not more_time(quick[0].cost, quick[0].least_cost):
            return quick
    kinds = [
        SheetKind(length=size.length, width=size.width, price=int(size.price * _MONEY_STEPS), most=size.most)
        for size in sizes
    ]
    enough = quick[0].least_cost if quick else Decimal(0)
    return (*quick, _searched(rectangles, sizes, kinds, bound, kerf, saw.stages, more_time, enough))


def _of_one_size(trees: Sequence[Region], sizes: Sequence[SizeOnOffer], bound: Bound) -> SheetsChosen:
    """Return equal sheets, those on hand used first."""
    on_hand, price = sum(size.most or 0 for size in sizes), sizes[-1].price
    return SheetsChosen(
        sheets=tuple((sizes[-1], tree) for tree in trees),
        bound=bound,
        cost=max(0, len(trees) - on_hand) * price,
        least_cost=max(0, bound.least - on_hand) * price,
    )


def _searched(
    rectangles: Sequence[Rectangle],
    sizes: Sequence[SizeOnOffer],
    kinds: Sequence[SheetKind],
    bound: Bound,
    kerf: int,
    stages: int,
    more_time: MoreTime,
    enough: Decimal,
) -> SheetsChosen:
    """Return what the long search finds, then the largest leftover that the same money leaves.

    Money is settled once a plan costs no more than `enough`, which no plan costs less than.

    Raises:
        ValueError: if there are no parts.
    """
    state: SheetsProven | None = None
    for step, reached in enumerate(cheapest_sheets(rectangles, kinds, kerf=kerf, deepest=stages)):
        state = reached
        cost, least = _money(state.found.cost), max(_money(state.least), enough)
        if cost <= least or (step >= _LEAST_STEPS and not more_time(cost, least)):
            break
    if state is None:
        message = "there are no parts to place"
        raise ValueError(message)
    found = state.found
    for step, better in enumerate(larger_leftovers(rectangles, kinds, found, kerf=kerf, deepest=stages)):
        found = better.found
        if step >= _LEAST_STEPS and not more_time(cost, least):
            break
    sheets = [
        (sizes[kind], tree_of(stack, rectangles, length=kinds[kind].length, width=kinds[kind].width, kerf=kerf))
        for kind, stack in sorted(found.sheets, key=lambda sheet: -kinds[sheet[0]].length * kinds[sheet[0]].width)
    ]
    return SheetsChosen(
        sheets=tuple(sheets),
        bound=bound,
        cost=_money(found.cost),
        least_cost=min(max(_money(state.least), enough), _money(found.cost)),
    )


def _money(steps: int) -> Decimal:
    """Return the search's whole steps as money."""
    return Decimal(steps) / _MONEY_STEPS
