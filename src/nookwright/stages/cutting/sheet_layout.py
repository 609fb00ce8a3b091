"""Lays the parts of one sheet stock out on sheets: grain, factory edges, kerf, leftovers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from nookwright.solvers.bounds import Bound, least_sheets
from nookwright.solvers.guillotine import Laid, Wanted, sheet_faults
from nookwright.solvers.pack_sheets import Rectangle, Region, pack_sheets
from nookwright.stages.cutting.blanks import TENTHS, blank_tenths, tenths_down, tenths_up
from nookwright.stages.cutting.cut_order import cut_order
from nookwright.stages.cutting.cutting_plan import Leftover, Placed, SheetPlan, StockSummary, TooLarge
from nookwright.stages.inputs.shop import Saw, SheetStock
from nookwright.stages.parts.part import Part


def lay_out_sheets(
    parts: Sequence[Part], stock: SheetStock, saw: Saw
) -> tuple[tuple[SheetPlan, ...], StockSummary | None, tuple[TooLarge, ...]]:
    """Lay parts out on sheets of one stock.

    Args:
        parts: the parts cut from this stock.
        stock: the sheet; with a grain, every part's length runs along the sheet's length.
        saw: kerf, what each factory edge loses, and which leftovers are worth keeping.

    Returns:
        The sheets, how well they are used (None without parts that fit), and the parts no sheet can give.
    """
    trim, kerf = tenths_up(saw.trim_mm), tenths_up(saw.kerf_mm)
    length, width = tenths_down(stock.length_mm) - 2 * trim, tenths_down(stock.width_mm) - 2 * trim
    fitting: list[Part] = []
    rectangles: list[Rectangle] = []
    misfits: list[TooLarge] = []
    for part in parts:
        l, w = blank_tenths(part)
        if (l <= length and w <= width) or (not stock.grained and w <= length and l <= width):
            fitting.append(part)
            rectangles.append(Rectangle(length=l, width=w, turnable=not stock.grained))
        else:
            misfits.append(_too_large(part, l, w, length, width, stock))
    if not fitting:
        return (), None, tuple(misfits)
    bound = least_sheets(rectangles, length=length, width=width, kerf=kerf)
    trees = pack_sheets(rectangles, length=length, width=width, kerf=kerf, enough=bound.least)
    names = [part.number for part in fitting]
    plans = tuple(_sheet_plan(tree, i, names, stock, saw) for i, tree in enumerate(trees, start=1))
    _verify(plans, dict(zip(names, rectangles, strict=True)), stock, saw)
    return plans, _summary(stock, len(plans), bound, rectangles), tuple(misfits)


def _sheet_plan(tree: Region, index: int, names: Sequence[str], stock: SheetStock, saw: Saw) -> SheetPlan:
    trim, kerf = tenths_up(saw.trim_mm), tenths_up(saw.kerf_mm)
    placed: list[Placed] = []
    leftovers: list[Leftover] = []
    for region in _leaves(tree):
        x_mm, y_mm = (region.x + trim) / TENTHS, (region.y + trim) / TENTHS
        length_mm, width_mm = region.length / TENTHS, region.width / TENTHS
        if region.part is not None:
            placed.append(
                Placed(
                    part=names[region.part], x_mm=x_mm, y_mm=y_mm, length_mm=length_mm, width_mm=width_mm,
                    turned=region.turned,
                )
            )  # fmt: skip
        elif min(length_mm, width_mm) >= saw.keep_mm:
            leftovers.append(Leftover(x_mm=x_mm, y_mm=y_mm, length_mm=length_mm, width_mm=width_mm))
    length, width = tenths_down(stock.length_mm), tenths_down(stock.width_mm)
    return SheetPlan(
        stock=stock.key, index=index, length_mm=stock.length_mm, width_mm=stock.width_mm,
        placed=tuple(sorted(placed, key=lambda piece: (piece.y_mm, piece.x_mm))),
        cuts=cut_order(tree, length=length, width=width, trim=trim, kerf=kerf),
        leftovers=tuple(sorted(leftovers, key=lambda piece: -piece.length_mm * piece.width_mm)),
    )  # fmt: skip


def _leaves(region: Region) -> Iterator[Region]:
    if region.low is None or region.high is None:
        yield region
        return
    yield from _leaves(region.low)
    yield from _leaves(region.high)


def _verify(plans: Sequence[SheetPlan], rectangles: dict[str, Rectangle], stock: SheetStock, saw: Saw) -> None:
    """Let a plan that cannot be cut crash: it is our fault, not the user's."""
    laid = [
        Laid(
            part=piece.part, sheet=plan.index, x=round(piece.x_mm * TENTHS), y=round(piece.y_mm * TENTHS),
            length=round(piece.length_mm * TENTHS), width=round(piece.width_mm * TENTHS),
        )
        for plan in plans
        for piece in plan.placed
    ]  # fmt: skip
    wanted = {
        name: Wanted(length=part.length, width=part.width, turnable=part.turnable) for name, part in rectangles.items()
    }
    faults = sheet_faults(
        wanted, laid, length=tenths_down(stock.length_mm), width=tenths_down(stock.width_mm),
        trim=tenths_up(saw.trim_mm), kerf=tenths_up(saw.kerf_mm),
    )  # fmt: skip
    if faults:
        message = f"the sheet plan for {stock.key} cannot be cut: " + "; ".join(faults)
        raise AssertionError(message)


def _summary(stock: SheetStock, used: int, bound: Bound, rectangles: Sequence[Rectangle]) -> StockSummary:
    blank_area_mm2 = sum(part.length * part.width for part in rectangles) / TENTHS**2
    says = {
        "area": "by area, kerfs included, no plan needs fewer",
        "large pieces": "by area and by large pieces that cannot share a sheet, no plan needs fewer",
        "nothing": "nothing to cut",
    }[bound.reason]
    return StockSummary(
        stock=stock.key, used=used, at_least=bound.least,
        yield_share=blank_area_mm2 / (used * stock.length_mm * stock.width_mm), bound_says=says,
    )  # fmt: skip


def _too_large(part: Part, l: int, w: int, length: int, width: int, stock: SheetStock) -> TooLarge:
    long, wide = f"{length / TENTHS:g} mm", f"{width / TENTHS:g} mm"
    if stock.grained and w <= length and l <= width:
        cure = f"it fits only across the grain: choose a stock without grain, or a sheet wider than {wide} inside"
    elif l > length and w <= width:
        cure = f"split it at mid length and join the halves over an upright: the trimmed sheet gives {long}"
    elif l <= length:
        cure = f"make it from two widths joined along their length: the trimmed sheet gives {wide}"
    else:
        cure = f"make it from smaller parts: the trimmed sheet gives {long} x {wide}"
    return TooLarge(part=part.number, length_mm=l / TENTHS, width_mm=w / TENTHS, cure=cure)
