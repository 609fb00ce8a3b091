"""Buying chapter: what to buy once, by the pack, with its cost."""

from __future__ import annotations

from nookwright.drawings.flow import Block, Paragraph, flow
from nookwright.drawings.lettering import NOTES_MM
from nookwright.drawings.sheet import Draft, Issue
from nookwright.drawings.tables import Column, Table
from nookwright.stages.buying.buy_list import BuyLine, BuyList

_COLUMNS = (
    Column(title="Got", share=13),
    Column(title="Buy", share=14, bold=True),
    Column(title="Pack", share=56),
    Column(title="Item", share=58, bold=True),
    Column(title="Needed", share=32),
    Column(title="Price", share=22, align="end"),
    Column(title="Cost", share=20, align="end"),
    Column(title="Why", share=60, height_mm=NOTES_MM),
)


_HEADINGS = (
    ("Sheets", ("sheets",)),
    ("Boards", ("boards",)),
    ("Fastenings", ("fastenings",)),
    ("Finishing and sundries", ("finishing", "sundries")),
)


def pages(buying: BuyList, issue: Issue) -> tuple[Draft, ...]:
    """Return the chapter's sheets.

    Args:
        buying: the list.
        issue: units and paper.

    Returns:
        One table, group after group, then the total.
    """
    rows: list[tuple[str, ...]] = []
    for heading, groups in _HEADINGS:
        lines = [line for line in buying.lines if line.group in groups]
        if lines:
            rows += [(heading,), *(_row(line) for line in lines)]
    rows.append((f"Total of what is priced: {buying.total:.2f} {buying.currency}",))
    blocks: list[Block] = [Table(columns=_COLUMNS, rows=tuple(rows), pad_mm=0.0)]
    if buying.unpriced:
        blocks.append(Paragraph(text=f"The shop file gives no price for: {', '.join(buying.unpriced)}."))
    return flow("Buying list", blocks, issue.paper, landscape=True)


def _row(line: BuyLine) -> tuple[str, ...]:
    """Return a line's cells; the heading over it has said already what its pack is of."""
    return (
        "□",
        str(line.packs),
        line.pack.removeprefix("sheet ").removeprefix("board "),
        line.item,
        f"{line.needed:.3g} {line.unit}",
        f"{line.price:.2f}" if line.price is not None else "no price",
        f"{line.cost:.2f}" if line.cost is not None else "",
        line.why,
    )
