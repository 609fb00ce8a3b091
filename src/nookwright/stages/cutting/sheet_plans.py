"""From the search's cutting trees to sheets that the shop's saws can cut, the best of them by the user's goals."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from nookwright.basics.lengths import Marks, show
from nookwright.solvers.pack_sheets import Region
from nookwright.stages.cutting.at_the_saw import in_freed_order
from nookwright.stages.cutting.blanks import TENTHS, tenths_down, tenths_up
from nookwright.stages.cutting.cut_order import ORDERS, SheetSize, cut_order
from nookwright.stages.cutting.cutting_plan import TENTHS_MM, Cut, Leftover, Placed, SheetPlan, TooLarge
from nookwright.stages.cutting.goals import handling_rank, leftover_share, plan_rank
from nookwright.stages.cutting.handling import Handling, handling_of
from nookwright.stages.cutting.more_time import MoreTime, no_more_time
from nookwright.stages.cutting.sheet_items import SheetItem, parts_cut_out
from nookwright.stages.cutting.sheet_search import SheetsChosen, SizeOnOffer, choose_sheets
from nookwright.stages.cutting.strips import in_strips
from nookwright.stages.inputs.shop import Saw, SheetStock

_OTHER_STAGES = (2, 3)
"""Plans of so many directions are looked at too: they leave larger pieces and need fewer settings and turns."""
_NEAR_ALL = 0.95
"""A leftover of this share of the most possible is large enough not to look further. Our choice."""

Sheets = tuple[tuple[SizeOnOffer, Region], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlansFound:
    """The sheets to cut, what the search says of their cost, and what no saw of the shop can make.

    Args:
        chosen: the sheets as the search knows them; its cost is that of the plans.
    """

    plans: tuple[SheetPlan, ...]
    chosen: SheetsChosen
    not_made: tuple[SheetItem, ...]


def best_plans(
    items: Sequence[SheetItem], stock: SheetStock, sizes: Sequence[SizeOnOffer], saw: Saw, more_time: MoreTime
) -> PlansFound:
    """Return the cheapest sheets that the saws can cut; of equally cheap ones the best by the goals.

    Args:
        items: what to place; each fits a size that is for sale.
        stock: the sheet.
        sizes: what can be had.
        saw: the saws, and the goals.
        more_time: whether the search may go on.
    """
    job = _Job(items=tuple(items), stock=stock, sizes=tuple(sizes), saw=saw, handling=handling_of(stock, saw))
    rectangles = [item.rectangle for item in items]
    found = [_cut(chosen, job) for chosen in choose_sheets(rectangles, sizes, saw, more_time)]
    whole = [one.plans for one in found if not one.left_over]
    if saw.goals[0] != "leftover" or all(leftover_share(plans, saw) < _NEAR_ALL for plans in whole):
        for stages in _OTHER_STAGES:
            if not saw.stages or stages < saw.stages:
                others = choose_sheets(rectangles, sizes, replace(saw, stages=stages), no_more_time)
                found += [_cut(other, job) for other in others]
    best = min(found, key=lambda one: (len(one.not_made), one.chosen.cost, *plan_rank(one.plans, saw.goals)))
    least = max(one.chosen.least_cost for one in found)
    chosen = replace(best.chosen, bound=found[0].chosen.bound, least_cost=min(least, best.chosen.cost))
    return PlansFound(plans=best.plans, chosen=chosen, not_made=best.not_made)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Job:
    items: tuple[SheetItem, ...]
    stock: SheetStock
    sizes: tuple[SizeOnOffer, ...]
    saw: Saw
    handling: Handling


@dataclass(frozen=True, slots=True, kw_only=True)
class _Cut:
    """A choice of sheets, cut: `left_over` items were on sheets that the saws cannot cut as they were laid."""

    plans: tuple[SheetPlan, ...]
    chosen: SheetsChosen
    left_over: tuple[int, ...]
    not_made: tuple[SheetItem, ...]


def _cut(chosen: SheetsChosen, job: _Job) -> _Cut:
    """Return sheets with their cuts; what lies on those that the saws cannot cut is laid anew in strips."""
    sheets: list[tuple[SizeOnOffer, Region, tuple[Cut, ...]]] = []
    left_over: list[int] = []
    for size, tree in chosen.sheets:
        cuts = _cuts(size, tree, job)
        if cuts is not None:
            sheets.append((size, tree, cuts))
        else:
            left_over += [leaf.part for leaf in _leaves(tree) if leaf.part is not None]
    not_made: list[int] = []
    if left_over:
        for_sale = min(
            (size for size in job.sizes if size.most is None), key=lambda size: size.price / (size.length * size.width)
        )
        trees, not_made = _stripped(job, left_over, for_sale)
        sheets += [(for_sale, tree, _cuts(for_sale, tree, job) or ()) for tree in trees]
    plans = tuple(_sheet_plan(size, tree, cuts, i, job) for i, (size, tree, cuts) in enumerate(sheets, start=1))
    cost = _money([size for size, _, _ in sheets], job.stock) if left_over else chosen.cost
    least = Decimal(0) if not_made else chosen.least_cost
    return _Cut(
        plans=plans,
        chosen=replace(chosen, sheets=tuple((size, tree) for size, tree, _ in sheets), cost=cost, least_cost=least),
        left_over=tuple(left_over),
        not_made=tuple(job.items[i] for i in not_made),
    )


def _stripped(job: _Job, chosen: Sequence[int], size: SizeOnOffer) -> tuple[list[Region], list[int]]:
    """Return items laid in plain strips on sheets of one size, and those that the saws cut from none."""
    return in_strips(
        [item.rectangle for item in job.items], chosen, length=size.length, width=size.width,
        kerf=tenths_up(job.saw.kerf_mm), made=lambda tree: _cuts(size, tree, job) is not None,
    )  # fmt: skip


def _money(sizes: Sequence[SizeOnOffer], stock: SheetStock) -> Decimal:
    """Return what sheets cost, those on hand used first."""
    whole = [size for size in sizes if (size.length_mm, size.width_mm) == (stock.length_mm, stock.width_mm)]
    whole = [size for size in whole if not size.offcut]
    others = sum((size.price for size in sizes if size not in whole), Decimal(0))
    return others + max(0, len(whole) - stock.on_hand) * stock.price


def _cuts(size: SizeOnOffer, tree: Region, job: _Job) -> tuple[Cut, ...] | None:
    """Return the cuts of a sheet in the order best by the goals; None where the saws cannot make them."""
    sheet = SheetSize(
        length=tenths_down(size.length_mm), width=tenths_down(size.width_mm), trim=size.trim,
        kerf=tenths_up(job.saw.kerf_mm),
    )  # fmt: skip
    parts = parts_cut_out(tree, job.items, job.saw)
    possible = [cut_order(parts, sheet, job.handling, order) for order in ORDERS]
    made = [cuts for cuts in possible if cuts is not None]
    return min(made, key=lambda cuts: handling_rank(cuts, job.saw.goals), default=None)


def _sheet_plan(size: SizeOnOffer, tree: Region, cuts: tuple[Cut, ...], index: int, job: _Job) -> SheetPlan:
    names = [part.number for item in job.items for part in item.parts]
    placed: list[Placed] = []
    leftovers: list[Leftover] = []
    for region in _leaves(parts_cut_out(tree, job.items, job.saw)):
        x_mm, y_mm = (region.x + size.trim) / TENTHS, (region.y + size.trim) / TENTHS
        length_mm, width_mm = region.length / TENTHS, region.width / TENTHS
        if region.part is not None:
            placed.append(
                Placed(
                    part=names[region.part], x_mm=x_mm, y_mm=y_mm, length_mm=length_mm, width_mm=width_mm,
                    turned=region.turned,
                )
            )  # fmt: skip
        elif min(length_mm, width_mm) >= job.saw.keep_mm:
            leftovers.append(Leftover(x_mm=x_mm, y_mm=y_mm, length_mm=length_mm, width_mm=width_mm))
    plan = SheetPlan(
        stock=job.stock.key, index=index, length_mm=size.length_mm, width_mm=size.width_mm,
        placed=tuple(sorted(placed, key=lambda piece: (piece.y_mm, piece.x_mm))),
        cuts=cuts,
        leftovers=tuple(sorted(leftovers, key=lambda piece: -piece.length_mm * piece.width_mm)),
        offcut=size.offcut,
    )  # fmt: skip
    return replace(plan, placed=in_freed_order(plan, job.saw.kerf_mm))


def _leaves(region: Region) -> Iterator[Region]:
    if region.low is None or region.high is None:
        yield region
        return
    yield from _leaves(region.low)
    yield from _leaves(region.high)


def no_saw_makes(
    item: SheetItem, stock: SheetStock, sizes: Sequence[SizeOnOffer], saw: Saw, marks: Marks = TENTHS_MM
) -> TooLarge:
    """Return a part that no saw of the shop can cut from its sheets, with the cure.

    Args:
        item: the part, or the first of matched ones.
        stock: its sheet.
        sizes: what can be had of it.
        saw: the saws.
        marks: units and steps in which the cure is told.
    """
    length_mm, width_mm = item.length / TENTHS, item.width / TENTHS
    can = [
        f"{words} {show(size, marks, with_unit=True)}"
        for words, size in (
            ("the fence goes to", saw.rip_mm), ("the sled takes", saw.crosscut_mm), ("the track is", saw.track_mm),
        )
        if size
    ]  # fmt: skip
    job = _Job(items=(item,), stock=stock, sizes=tuple(sizes), saw=saw, handling=handling_of(stock, saw))
    track_mm = _shortest_track_mm(job)
    track = f", or use a track of {show(track_mm, marks, way='up', with_unit=True)} at least" if track_mm else ""
    return TooLarge(
        part=item.parts[0].number,
        length_mm=length_mm,
        width_mm=width_mm,
        why=f"No saw of the shop cuts {show(length_mm, marks)} x {show(width_mm, marks, with_unit=True)} out of a "
        f"sheet: {', '.join(can)}.",
        cure=f"have it cut where the sheet is bought{track}; its sheet is not on the buying list",
    )


def _shortest_track_mm(job: _Job) -> float:
    """Return the length of the shortest track that cuts an item out of a sheet for sale, by itself; 0 for none. [mm]"""
    (item,) = job.items
    found: list[float] = []
    for size in (size for size in job.sizes if size.most is None):
        sides = (item.length / TENTHS, item.width / TENTHS, size.length_mm, size.width_mm)
        for track_mm in sorted(side for side in sides if side > job.saw.track_mm):
            saw = replace(job.saw, track_mm=track_mm)
            if not _stripped(replace(job, saw=saw, handling=handling_of(job.stock, saw)), [0], size)[1]:
                found.append(track_mm)
                break
    return min(found, default=0.0)
