"""Lays the parts of one sheet stock out on sheets: grain, factory edges, kerf, leftovers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from decimal import Decimal

from nookwright.basics.lengths import Marks, show
from nookwright.solvers.guillotine import Laid, Wanted, count_faults, matched_faults, sheet_faults
from nookwright.solvers.pack_sheets import Rectangle
from nookwright.stages.cutting.blanks import TENTHS, cut_tenths, tenths_down, tenths_up
from nookwright.stages.cutting.cut_check import cut_faults
from nookwright.stages.cutting.cutting_plan import TENTHS_MM, SheetPlan, StockSummary, TooLarge
from nookwright.stages.cutting.goals import goals_said
from nookwright.stages.cutting.more_time import MoreTime, no_more_time
from nookwright.stages.cutting.sheet_items import SheetItem, sheet_items, single_items, wanted
from nookwright.stages.cutting.sheet_plans import best_plans, no_saw_makes
from nookwright.stages.cutting.sheet_search import SheetsChosen, SizeOnOffer, sizes_on_offer
from nookwright.stages.inputs.shop import Saw, SheetStock
from nookwright.stages.parts.part import Part


def lay_out_sheets(
    parts: Sequence[Part],
    stock: SheetStock,
    saw: Saw,
    more_time: MoreTime = no_more_time,
    matched: Sequence[tuple[str, ...]] = (),
    marks: Marks = TENTHS_MM,
) -> tuple[tuple[SheetPlan, ...], StockSummary | None, tuple[TooLarge, ...]]:
    """Lay parts out on sheets of one stock.

    Args:
        parts: the parts cut from this stock.
        stock: the sheet, its other sizes and offcuts; with a grain, every part's length runs along a sheet's length.
        saw: kerf, what each factory edge loses, in how many stages it cuts, and which leftovers are worth keeping.
        more_time: whether a search for a cheaper plan, or for a proof, may go on.
        matched: numbers of parts to cut side by side; where no sheet or saw gives them so, they are laid one by one.
        marks: what the sawyer sets: blanks are cut to these, and cures told in them.

    Returns:
        The sheets, how well they are used (None without parts that fit), and the parts no sheet can give.
    """
    sizes = sizes_on_offer(stock, saw)
    for_sale = [size for size in sizes if size.most is None]
    items: list[SheetItem] = []
    misfits: list[TooLarge] = []
    for item in sheet_items(parts, matched, stock, saw, marks):
        for one in (item,) if _fits(item, for_sale) else single_items(item, stock, saw, marks):
            if _fits(one, for_sale):
                items.append(one)
            else:
                largest = max(for_sale, key=lambda size: size.length * size.width)
                misfits.append(_too_large(one, largest.length, largest.width, marks))
    if not items:
        return (), None, tuple(misfits)
    found = best_plans(items, stock, sizes, saw, more_time)
    if any(len(item.parts) > 1 for item in found.not_made):  # matched parts that no saw cuts as one, cut one by one
        apart = [one for item in found.not_made for one in single_items(item, stock, saw, marks)]
        items = [item for item in items if item not in found.not_made] + apart
        found = best_plans(items, stock, sizes, saw, more_time)
    misfits += [no_saw_makes(item, stock, sizes, saw, marks) for item in found.not_made]
    items = [item for item in items if item not in found.not_made]
    plans, chosen = found.plans, found.chosen
    if not plans:
        return (), None, tuple(misfits)
    _verify(plans, items, stock, saw, marks)
    _verify_cost(plans, stock, chosen.cost)
    return plans, _summary(stock, saw, plans, chosen, [item.rectangle for item in items]), tuple(misfits)


def _fits(item: SheetItem, sizes: Sequence[SizeOnOffer]) -> bool:
    """Whether a size holds an item, lying as it may."""
    one = item.rectangle
    return any(
        (one.length <= size.length and one.width <= size.width)
        or (one.turnable and one.width <= size.length and one.length <= size.width)
        for size in sizes
    )


def unmatched(
    plans: Sequence[SheetPlan],
    parts: Sequence[Part],
    groups: Sequence[tuple[str, ...]],
    saw: Saw,
    marks: Marks = TENTHS_MM,
) -> tuple[tuple[str, ...], ...]:
    """Return the groups of matched parts that do not lie side by side, told by where the parts lie alone.

    Args:
        plans: every sheet of every stock.
        parts: every part.
        groups: numbers of matched parts.
        saw: its cut lies between matched parts.
        marks: what the sawyer sets.
    """
    places = {(plan.stock, piece.part): piece for plan in plans for piece in _laid(plan)}
    by_number = {part.number: part for part in parts}
    found: list[tuple[str, ...]] = []
    for group in groups:
        members = [by_number[number] for number in group]
        want = [_as_cut(part, marks) for part in members]
        laid = [places.get((part.stock, part.number)) for part in members]
        if matched_faults(want, laid, kerf=tenths_up(saw.kerf_mm)):
            found.append(group)
    return tuple(found)


def _as_cut(part: Part, marks: Marks) -> Wanted:
    length, width = cut_tenths(part, marks)
    return Wanted(length=length, width=width, turnable=True)


def _verify(plans: Sequence[SheetPlan], items: Sequence[SheetItem], stock: SheetStock, saw: Saw, marks: Marks) -> None:
    """Let a plan that cannot be cut crash: it is our fault, not the user's."""
    faults: list[str] = []
    laid = [piece for plan in plans for piece in _laid(plan)]
    want = {part.number: wanted(part, stock, marks) for item in items for part in item.parts}
    faults += count_faults(want, [piece.part for piece in laid])
    for plan in plans:
        trim = 0 if plan.offcut else tenths_up(saw.trim_mm)
        here = {piece.part: want[piece.part] for piece in _laid(plan) if piece.part in want}
        faults += sheet_faults(
            here, _laid(plan), length=tenths_down(plan.length_mm), width=tenths_down(plan.width_mm), trim=trim,
            kerf=tenths_up(saw.kerf_mm),
        )  # fmt: skip
        faults += [f"{fault} on sheet {plan.index}" for fault in cut_faults(plan, saw)]
    together = [tuple(part.number for part in item.parts) for item in items]
    for group in unmatched(plans, [part for item in items for part in item.parts], together, saw, marks):
        faults.append(f"{', '.join(group)} are matched but do not lie side by side")
    if faults:
        message = f"the sheet plan for {stock.key} cannot be cut: " + "; ".join(faults)
        raise AssertionError(message)


def _verify_cost(plans: Sequence[SheetPlan], stock: SheetStock, cost: Decimal) -> None:
    """Let a plan crash whose sheets do not cost what the search said, or that uses more offcuts than there are."""
    used = Counter((plan.length_mm, plan.width_mm, plan.offcut) for plan in plans)
    money = max(0, used.pop((stock.length_mm, stock.width_mm, False), 0) - stock.on_hand) * stock.price
    there: Counter[tuple[float, float, bool]] = Counter()
    for size in stock.sizes:
        key = (size.length_mm, size.width_mm, size.offcut)
        there[key] += size.count
        money += used[key] * size.price if not size.offcut else 0
    if money != cost or any(used[key] > there[key] for key in used if key[2]):
        message = f"the sheet plan for {stock.key} costs {money}, not {cost}, or uses offcuts that are not there"
        raise AssertionError(message)


def _laid(plan: SheetPlan) -> list[Laid]:
    """Return the parts of a sheet as the checker sees them."""
    return [
        Laid(
            part=piece.part, sheet=plan.index, x=round(piece.x_mm * TENTHS), y=round(piece.y_mm * TENTHS),
            length=round(piece.length_mm * TENTHS), width=round(piece.width_mm * TENTHS),
        )
        for piece in plan.placed
    ]  # fmt: skip


def _summary(
    stock: SheetStock, saw: Saw, plans: Sequence[SheetPlan], chosen: SheetsChosen, rectangles: Sequence[Rectangle]
) -> StockSummary:
    blank_area_mm2 = sum(part.length * part.width for part in rectangles) / TENTHS**2
    says = {
        "area": "by area, kerfs included, no plan needs fewer",
        "large pieces": "by area and by large pieces that cannot share a sheet, no plan needs fewer",
        "nothing": "nothing to cut",
    }[chosen.bound.reason]
    if stock.sizes or (len(plans) > chosen.bound.least >= 0 and chosen.least_cost >= chosen.cost):
        says = _money_says(chosen)
    return StockSummary(
        stock=stock.key, used=len(plans), at_least=chosen.bound.least,
        yield_share=blank_area_mm2 / sum(plan.length_mm * plan.width_mm for plan in plans), bound_says=says,
        also_says=goals_said(plans, saw),
    )  # fmt: skip


def _money_says(chosen: SheetsChosen) -> str:
    """Return how near the money is to the least that any plan costs."""
    if chosen.cost <= chosen.least_cost:
        return f"sheets for {chosen.cost:.2f}, proven best: no plan that cuts right through costs less"
    share = (chosen.cost - chosen.least_cost) / chosen.cost
    return (
        f"sheets for {chosen.cost:.2f}, within {100 * share:.1f} % of any plan possible: "
        f"none costs less than {chosen.least_cost:.2f}"
    )


def _too_large(item: SheetItem, length: int, width: int, marks: Marks) -> TooLarge:
    (part,), l, w = item.parts, item.length, item.width
    long, wide = (show(each / TENTHS, marks, way="down", with_unit=True) for each in (length, width))
    if item.across and l <= length and w <= width:
        cure = f"it fits only along the grain: let its grain run along or any way, or choose a sheet wider than {wide}"
    elif not item.turnable and not item.across and w <= length and l <= width:
        cure = f"it fits only across the grain: choose a stock without grain, or a sheet wider than {wide} inside"
    elif l > length and w <= width:
        cure = f"split it at mid length and join the halves over an upright: the trimmed sheet gives {long}"
    elif l <= length:
        cure = f"make it from two widths joined along their length: the trimmed sheet gives {wide}"
    else:
        cure = f"make it from smaller parts: the trimmed sheet gives {long} x {wide}"
    gives_mm = length / TENTHS if l > length and w <= width and not item.across else 0.0
    return TooLarge(part=part.number, length_mm=l / TENTHS, width_mm=w / TENTHS, cure=cure, gives_mm=gives_mm)
