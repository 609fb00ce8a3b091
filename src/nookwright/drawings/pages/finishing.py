"""Finishing chapter: coats with quantities and times, filling and caulking, and the day of loading."""

from __future__ import annotations

import math

from nookwright.basics.lengths import Marks, show
from nookwright.drawings.blocks import Block, Heading, Paragraph
from nookwright.drawings.flow import flow
from nookwright.drawings.sheet import Draft, Issue
from nookwright.drawings.tables import Column, Table
from nookwright.stages.buying.spoken import amount_said, area_said
from nookwright.stages.finishing.finish_plan import Coat, FinishPlan
from nookwright.trade.scribing import BACKED_MM, CAULK_MM

_COLUMNS = (
    Column(title="Done", share=16),
    Column(title="Coat", share=18, bold=True),
    Column(title="With", share=52, bold=True),
    Column(title="Area", share=26),
    Column(title="Quantity", share=28),
    Column(title="Start", share=46),
)


def pages(finishing: FinishPlan, issue: Issue) -> tuple[Draft, ...]:
    """Return the chapter's sheets.

    Args:
        finishing: what is coated.
        issue: units and paper.

    Returns:
        The calendar of coats, and what is filled and caulked.
    """
    blocks: list[Block] = []
    if finishing.coats:
        rows = tuple(_row(i + 1, coat, issue.marks) for i, coat in enumerate(finishing.coats))
        blocks += [
            Heading(text="Coats in order"),
            Table(columns=_COLUMNS, rows=rows),
            Paragraph(
                text="Times count from the start of the first coat. Areas count edges; quantities include the shop's "
                "waste."
            ),
        ]
    else:
        blocks.append(Paragraph(text="The brief asks for no finish."))
    days = math.ceil(finishing.load_after_days * 10) / 10
    blocks.append(Heading(text="Filling and caulking"))
    marks = issue.marks
    length, unit = amount_said(finishing.caulk_m, "metres", marks)
    caulked, backed = (show(size, marks, way="down", with_unit=True) for size in (CAULK_MM, BACKED_MM))
    blocks.append(
        Paragraph(
            text=f"{finishing.nail_holes} nail holes to fill. {length:.1f} {unit} of caulk along walls and ceiling. "
            f"Caulk alone closes a gap up to {caulked}, caulk over a backing rod or a slip of wood one up to {backed}; "
            "a strip covers a wider one."
        )
    )
    if finishing.coats:
        waiting = f"Load nothing until {days:.1f} days after the start of the first coat."
        blocks.append(Paragraph(text=waiting, bold=True))
    return flow("Finishing", blocks, issue.paper)


def _row(number: int, coat: Coat, marks: Marks) -> tuple[str, ...]:
    days, hours = divmod(round(coat.start_h, 1), 24.0)
    start = "at once" if not coat.start_h else f"after {coat.start_h:g} h (day {days + 1:g}, + {hours:g} h)"
    amount, unit = amount_said(coat.litres, "litres", marks)
    return ("□", str(number), coat.name, area_said(coat.area_m2, marks), f"{amount:.2f} {unit}", start)
