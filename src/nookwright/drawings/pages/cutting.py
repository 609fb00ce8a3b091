"""Cutting chapter: how well stock is used, every board with its pieces, every sheet with its cuts in order."""

from __future__ import annotations

from dataclasses import replace

from nookwright.basics.lengths import Marks, show
from nookwright.drawings.blocks import Paragraph, Picture
from nookwright.drawings.flow import flow, lay
from nookwright.drawings.lettering import NOTES_MM, true_fractions
from nookwright.drawings.page import Area, Item, Text
from nookwright.drawings.pages.boards import bars_scale, board_bars, draw_bars
from nookwright.drawings.pages.groove_setups import setup_pages
from nookwright.drawings.pages.shared_cuts import HOW_TO, any_shared
from nookwright.drawings.pages.sheets import (
    PIECE_COLUMNS,
    RINGS_BELOW_MM,
    WORDS_ABOVE_MM,
    compact_height,
    compact_sheets,
    diagram,
    in_two,
    kind_said,
    kinds_explained,
    piece_rows,
    sheet_name,
    sheet_words,
    small_said,
    stock_name,
)
from nookwright.drawings.pages.splits import split_pages
from nookwright.drawings.sheet import Draft, Issue, body, chosen_scale
from nookwright.drawings.tables import Column, Table
from nookwright.stages.cutting.at_the_saw import CutStep, cut_steps
from nookwright.stages.cutting.cutting_plan import BoardPlan, CuttingPlan, SheetPlan
from nookwright.stages.inputs.shop import Shop
from nookwright.stages.parts.part import PartList


def pages(cutting: CuttingPlan, parts: PartList, shop: Shop, issue: Issue) -> tuple[Draft, ...]:
    """Return the chapter's sheets.

    Args:
        cutting: what is cut from what.
        parts: for the parts' names.
        shop: for the stocks' names.
        issue: units and paper.

    Returns:
        How stock is used, and the boards; each sheet with many cuts as a drawing with its cuts on the page facing it;
        then the sheets with few cuts, several a page; at last housings and rebates by their set-ups.
    """
    drafts = [*_stock_and_boards(cutting, parts, shop, issue), *split_pages(cutting, issue)]
    compact: list[SheetPlan] = []
    for sheet in cutting.sheets:
        if compact_height(sheet, parts, shop, issue) is not None:
            compact.append(sheet)
        else:
            drafts.extend(_two_pages(sheet, parts, shop, issue))
    return (*drafts, *compact_sheets(compact, parts, shop, issue), *setup_pages(parts, issue))


def _stock_and_boards(cutting: CuttingPlan, parts: PartList, shop: Shop, issue: Issue) -> tuple[Draft, ...]:
    """Return how much stock is used, beside the least any plan could do with, and every board as bars at one scale."""
    if cutting.too_large or not cutting.boards:
        words = _summary(cutting, parts, shop, issue.marks)
        return (
            *flow("Cutting: stock used", words, issue.paper, landscape=True),
            *_board_sheets(cutting.boards, shop, issue, first=None),
        )
    area = body(issue.paper, landscape=True, scaled=True)
    items: list[Item] = []
    summary = _summary(cutting, parts, shop, issue.marks)
    for block in summary:
        laid = lay(block, area)
        items.extend(laid.items)
        area = area.inset(top=laid.height_mm + 1.5)
    first, *others = _board_sheets(cutting.boards, shop, issue, first=(items, area))
    bars = Picture(name="Boards", items=first.items[len(items) :])
    return (replace(first, told=(*summary, *([bars] if bars.items else []))), *others)


def _board_sheets(
    boards: tuple[BoardPlan, ...], shop: Shop, issue: Issue, *, first: tuple[list[Item], Area] | None
) -> tuple[Draft, ...]:
    """Return the sheets of bars; the first goes on under what stands there already."""
    if not boards:
        return ()
    area = body(issue.paper, landscape=True, scaled=True)
    scale, rest = bars_scale(boards, area.width), board_bars(boards, shop, issue.marks)
    name = "Cutting: stock used, and boards" if first else "Cutting: boards"
    before, space = first or ([], area)
    drafts: list[Draft] = []
    while rest or not drafts:
        items, done = draw_bars(rest, space, scale, issue.marks)
        rest = rest[done:]
        sheet = f"{name}, continued" if drafts else name
        drafts.append(Draft(name=sheet, items=(*before, *items), scale=scale if done else 0, landscape=True))
        before, space = [], area
    return tuple(drafts)


def _summary(cutting: CuttingPlan, parts: PartList, shop: Shop, marks: Marks) -> list[Paragraph | Table]:
    """Return how to use the sheets of this chapter, how much stock is used, and what no stock can give."""
    rows = tuple(
        (
            stock_name(one.stock, shop),
            str(one.used),
            str(one.at_least),
            f"{one.yield_share:.0%}",
            "; ".join((one.bound_says, *one.also_says)),
        )
        for one in cutting.summaries
    )
    saw = shop.saw
    kerf, trim, end_trim, far = (
        small_said(size, marks) for size in (saw.kerf_mm, saw.trim_mm, saw.end_trim_mm, saw.far_end_trim_mm)
    )
    ends = (
        f"the first end of a board and {far} off its other end" if saw.far_end_trim_mm else "the first end of a board"
    )
    blocks: list[Paragraph | Table] = [
        Paragraph(
            text=f"The saw's cut is {kerf} wide. {trim} is trimmed off every factory edge of a sheet, and {end_trim} "
            f"off {ends}. Set the fence to the figures in the tables; make the cuts in the order of "
            f"their numbers. On boards, measure every piece anew from the last cut.{kinds_explained(cutting.sheets)}",
            height_mm=NOTES_MM,
        ),
        Table(
            columns=(
                Column(title="Stock", share=46),
                Column(title="Used", share=15, bold=True),
                Column(title="Least", share=16),
                Column(title="Share used", share=22),
                Column(title="How good it is, and why", share=174, height_mm=NOTES_MM),
            ),
            rows=rows,
            height_mm=NOTES_MM,
            pad_mm=0.4,
        ),
    ]
    if any_shared(cutting.boards):
        blocks.insert(1, Paragraph(text=HOW_TO, height_mm=NOTES_MM))
    matched = [" ".join(group) for group in parts.matched if group not in cutting.unmatched]
    if matched:
        said = f"Cut side by side from one piece, so that the figure runs over: {'; '.join(matched)}. Keep their order."
        blocks.insert(1, Paragraph(text=said, height_mm=NOTES_MM))
    if cutting.too_large:
        blocks.append(
            Table(
                columns=(
                    Column(title="Part", share=20, bold=True),
                    Column(title="Length", share=25),
                    Column(title="Width", share=25),
                    Column(title="Not cut: why, and what to do", share=116),
                ),
                rows=tuple(
                    (
                        one.part,
                        show(one.length_mm, marks),
                        show(one.width_mm, marks),
                        f"{one.why} {_sentence(one.cure)}" if one.why else one.cure,
                    )
                    for one in cutting.too_large
                ),
            )
        )
    return blocks


def _sentence(words: str) -> str:
    return f"{words[0].upper()}{words[1:]}."


def _two_pages(sheet: SheetPlan, parts: PartList, shop: Shop, issue: Issue) -> tuple[Draft, ...]:
    """Return the drawing as large as the paper allows, and the tables on the page facing it."""
    area = body(issue.paper, landscape=True, scaled=True)
    name = f"Cutting: {sheet_name(sheet, shop)}"
    space = area.inset(top=WORDS_ABOVE_MM)
    scale = chosen_scale((sheet.length_mm, sheet.width_mm), (space.width - 2.0, space.height - RINGS_BELOW_MM))
    said = sheet_words(sheet, shop, issue.marks)
    drawn, missing = diagram(sheet, issue.marks, space, scale)
    about = [Text(at=(area.x, area.y + 4.0), text=true_fractions(f"Sheet {said}"))]
    if missing:
        words = f"No room in the drawing for the numbers of {', '.join(missing)}: the tables have them."
        about.append(Text(at=(area.x, area.y + 8.5), text=words, height_mm=NOTES_MM))
    drawing = Draft(name=name, items=(*about, *drawn), scale=scale, landscape=True)
    return (
        drawing,
        *flow(f"{sheet_name(sheet, shop)}: cuts", _tables(sheet, parts, shop.saw.kerf_mm, issue.marks), issue.paper),
    )


def _left_said(step: CutStep, kerf_mm: float, marks: Marks) -> str:
    """Return what a cut leaves beyond the blade, measured as its fence is; nothing where that is dust."""
    whole = step.piece[3] if step.cut.along == "length" else step.piece[2]
    left_mm = whole - step.cut.at_mm - kerf_mm
    return show(left_mm, marks) if left_mm > marks.step_mm else ""


def _tables(sheet: SheetPlan, parts: PartList, kerf_mm: float, marks: Marks) -> tuple[Paragraph | Table, ...]:
    """Return the cuts in order with their fence settings, the pieces and what is left over, in two columns."""
    cuts = [
        (str(step.cut.order), show(step.cut.at_mm, marks), _left_said(step, kerf_mm, marks), kind_said(step.cut),
         " ".join(one.part for one in step.frees))
        for step in cut_steps(sheet, kerf_mm)
    ]  # fmt: skip
    limited = any(cut.by for cut in sheet.cuts)
    shares, small_mm = ((11.8, 27.6, 14.4, 20.6, 16.6), NOTES_MM) if limited else ((12, 28.2, 18.8, 15.5, 16.5), 3.5)
    columns = (
        Column(title="Cut", share=shares[0], bold=True),
        Column(title="Fence", share=shares[1], bold=True, height_mm=5.0),
        Column(title="Left", share=shares[2], height_mm=small_mm),
        Column(title="Kind", share=shares[3], height_mm=small_mm),
        Column(title="Label", share=shares[4], bold=True),
    )
    return (
        Paragraph(
            text="Cuts in order. Fence: from the fence to the blade's near side. Left: what then stands beyond the "
            "blade. Rip: along the sheet's length; cross: across it. Label: what is cut free then.",
            bold=True,
        ),
        in_two(columns, cuts),
        Paragraph(
            text="Pieces, saw-clean, with what is left on for scribing and bevels; turned: its grain lies across the "
            "sheet. Keep: left over.",
            bold=True,
        ),
        in_two(PIECE_COLUMNS, piece_rows(sheet, parts, marks)),
    )
