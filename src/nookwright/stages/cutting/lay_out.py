"""Lays parts out on sheets and boards: parts + shop -> CuttingPlan."""

from __future__ import annotations

from nookwright.basics.findings import Finding
from nookwright.stages.cutting.board_layout import lay_out_boards
from nookwright.stages.cutting.cutting_plan import BoardPlan, CuttingPlan, SheetPlan, StockSummary, TooLarge
from nookwright.stages.cutting.sheet_layout import lay_out_sheets, unmatched
from nookwright.stages.cutting.sheet_search import MoreTime, no_more_time
from nookwright.stages.cutting.split_lines import with_split_lines
from nookwright.stages.inputs.shop import BoardStock, SheetStock, Shop
from nookwright.stages.parts.part import PartList


def lay_out(parts: PartList, shop: Shop, more_time: MoreTime = no_more_time) -> CuttingPlan:
    """Lay every part out on the stock it is cut from, stock after stock in the shop's order.

    Args:
        parts: every part of the job; parts whose stock the shop does not carry (the room's own skirting) are left out.
        shop: stock and saw.
        more_time: whether a search for a cheaper plan, or for a proof, may go on.

    Returns:
        Sheets and boards to cut, each summary with the least that any plan could use. Every plan has passed a check
        that knows nothing of the search.
    """
    sheets: list[SheetPlan] = []
    boards: list[BoardPlan] = []
    summaries: list[StockSummary] = []
    too_large: list[TooLarge] = []
    carried: tuple[SheetStock | BoardStock, ...] = (*shop.sheets, *shop.boards)
    for stock in carried:
        mine = tuple(part for part in parts.parts if part.stock == stock.key)
        if not mine:
            continue
        if isinstance(stock, SheetStock):
            sheet_plans, summary, misfits = lay_out_sheets(mine, stock, shop.saw, more_time, parts.matched)
            sheets.extend(sheet_plans)
        else:
            board_plans, summary, misfits = lay_out_boards(mine, stock, shop.saw, more_time, parts.matched)
            boards.extend(board_plans)
        summaries.extend([summary] if summary else [])
        too_large.extend(misfits)
    return CuttingPlan(
        sheets=tuple(sheets), boards=tuple(boards), summaries=tuple(summaries),
        too_large=with_split_lines(too_large, parts),
        unmatched=unmatched(sheets, parts.parts, parts.matched, shop.saw),
    )  # fmt: skip


def not_cuttable(cutting: CuttingPlan) -> tuple[Finding, ...]:
    """Return a fail for every blank that no stock of the shop can give, and a caution for matched parts laid apart.

    Args:
        cutting: the cutting plan.
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
            summary=misfit.why
            or f"Its blank of {misfit.length_mm:.0f} x {misfit.width_mm:.0f} mm is larger than its stock.",
            remedy=misfit.cure[0].upper() + misfit.cure[1:] + ".",
        )
        for misfit in cutting.too_large
    )
