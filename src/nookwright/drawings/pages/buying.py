"""Buying chapter: what to buy once, by the pack, with its cost."""

from __future__ import annotations

from nookwright.drawings.flow import Block, Heading, Paragraph, flow
from nookwright.drawings.sheet import Draft, Issue
from nookwright.drawings.tables import Column, Table
from nookwright.stages.buying.buy_list import BuyLine, BuyList

_COLUMNS = (
    Column(title="Got", share=13),
    Column(title="Buy", share=15, bold=True),
    Column(title="Pack", share=40),
    Column(title="Item", share=66, bold=True),
    Column(title="Needed", share=40),
    Column(title="Price", share=26, align="end"),
    Column(title="Cost", share=26, align="end"),
    Column(title="Why", share=47),
)


def pages(buying: BuyList, issue: Issue) -> tuple[Draft, ...]:
    """Return the chapter's sheets.

    Args:
        buying: the list.
        issue: units and paper.

    Returns:
        One table for each group, then the total.
    """
    blocks: list[Block] = []
    for group in ("sheets", "boards", "fastenings", "finishing", "sundries"):
        lines = [line for line in buying.lines if line.group == group]
        if lines:
            rows = tuple(_row(line) for line in lines)
            blocks += [Heading(text=group.capitalize()), Table(columns=_COLUMNS, rows=rows)]
    blocks.append(Paragraph(text=f"Total of what is priced: {buying.total:.2f} {buying.currency}", bold=True))
    if buying.unpriced:
        blocks.append(Paragraph(text=f"The shop file gives no price for: {', '.join(buying.unpriced)}."))
    return flow("Buying list", blocks, issue.paper, landscape=True)


def _row(line: BuyLine) -> tuple[str, ...]:
    return (
        "□", str(line.packs), line.pack, line.item, f"{line.needed:.4g} {line.unit}",
        f"{line.price:.2f}" if line.price is not None else "no price",
        f"{line.cost:.2f}" if line.cost is not None else "", line.why,
    )  # fmt: skip
