"""Lays parts out on sheets and boards: parts + shop -> CuttingPlan."""

from __future__ import annotations

from nookwright.basics.findings import Finding
from nookwright.basics.lengths import Marks, show
from nookwright.stages.cutting.board_layout import lay_out_boards
from nookwright.stages.cutting.cutting_plan import (
    TENTHS_MM,
    BoardPlan,
    CuttingPlan,
    SheetPlan,
    StockSummary,
    TooLarge,
)
from nookwright.stages.cutting.more_time import MoreTime, no_more_time
from nookwright.stages.cutting.sheet_layout import lay_out_sheets, unmatched
from nookwright.stages.cutting.split_lines import with_split_lines
from nookwright.stages.inputs.shop import BoardStock, SheetStock, Shop
from nookwright.stages.parts.part import PartList

_LaidOut = tuple[tuple[SheetPlan, ...] | tuple[BoardPlan, ...], StockSummary | None, tuple[TooLarge, ...]]
"""Sheets or boards of one stock, how well they are used, and the parts it cannot give."""


def lay_out(parts: PartList, shop: Shop, more_time: MoreTime = no_more_time, marks: Marks = TENTHS_MM) -> CuttingPlan:
    """Lay every part out on the stock it is cut from; stock after stock in the shop's order is what it returns.

    Stocks share the time evenly, those of few parts first: what they do not need is left for those of many.

    Args:
        parts: every part of the job; parts whose stock the shop does not carry (the room's own skirting) are left out.
        shop: stock and saw.
        more_time: whether a search for a cheaper plan, or for a proof, may go on.
        marks: what the sawyer sets: blanks are cut to these, and cures told in them.

    Returns:
        Sheets and boards to cut, each summary with the least that any plan could use. Every plan has passed a check
        that knows nothing of the search.
    """
    sheets: list[SheetPlan] = []
    boards: list[BoardPlan] = []
    summaries: list[StockSummary] = []
    too_large: list[TooLarge] = []
    carried: tuple[SheetStock | BoardStock, ...] = (*shop.sheets, *shop.boards)
    wanted = [(stock, tuple(part for part in parts.parts if part.stock == stock.key)) for stock in carried]
    wanted = [(stock, its) for stock, its in wanted if its]
    laid: dict[str, _LaidOut] = {}
    for done, (stock, its) in enumerate(sorted(wanted, key=lambda one: len(one[1]))):
        share = more_time.for_stock(stock.name, shop.currency, len(wanted) - done)
        if isinstance(stock, SheetStock):
            laid[stock.key] = lay_out_sheets(its, stock, shop.saw, share, parts.matched, marks)
        else:
            laid[stock.key] = lay_out_boards(its, stock, shop.saw, share, parts.matched, marks)
    for stock, _ in wanted:
        plans, summary, misfits = laid[stock.key]
        sheets.extend(plan for plan in plans if isinstance(plan, SheetPlan))
        boards.extend(plan for plan in plans if isinstance(plan, BoardPlan))
        summaries.extend([summary] if summary else [])
        too_large.extend(misfits)
    return CuttingPlan(
        sheets=tuple(sheets), boards=tuple(boards), summaries=tuple(summaries),
        too_large=with_split_lines(too_large, parts, marks),
        unmatched=unmatched(sheets, parts.parts, parts.matched, shop.saw, marks),
    )  # fmt: skip


def not_cuttable(cutting: CuttingPlan, marks: Marks = TENTHS_MM) -> tuple[Finding, ...]:
    """Return a fail for every blank that no stock of the shop can give, and a caution for matched parts laid apart.

    Args:
        cutting: the cutting plan.
        marks: units and steps people read.
    """
    apart = tuple(
        Finding(
            topic="cutting",
            subject=", ".join(group),
            verdict="caution",
            summary="No sheet for sale, or no saw, gives them side by side: their figure does not run over.",
            remedy="Choose a larger sheet, match fewer parts, or ask for sheets of one figure.",
        )
        for group in cutting.unmatched
    )
    return apart + tuple(
        Finding(
            topic="cutting",
            subject=misfit.part,
            verdict="fail",
            summary=misfit.why or f"Its blank of {_blank_said(misfit, marks)} is larger than its stock.",
            remedy=misfit.cure[0].upper() + misfit.cure[1:] + ".",
        )
        for misfit in cutting.too_large
    )


def _blank_said(misfit: TooLarge, marks: Marks) -> str:
    """Return a blank's length and width, whole millimetres or the reader's steps of an inch."""
    coarse = Marks(units="mm", resolution=1.0) if marks.units == "mm" else marks
    return f"{show(misfit.length_mm, coarse)} x {show(misfit.width_mm, coarse, with_unit=True)}"
