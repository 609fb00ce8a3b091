"""Finishing chapter: coats with quantities and times, filling and caulking, and the day of loading."""

from __future__ import annotations

import math

from nookwright.drawings.blocks import Block, Heading, Paragraph
from nookwright.drawings.flow import flow
from nookwright.drawings.sheet import Draft, Issue
from nookwright.drawings.tables import Column, Table
from nookwright.stages.finishing.finish_plan import Coat, FinishPlan

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
        rows = tuple(_row(i + 1, coat) for i, coat in enumerate(finishing.coats))
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
    blocks.append(
        Paragraph(
            text=f"{finishing.nail_holes} nail holes to fill. {finishing.caulk_m:.1f} m of caulk along walls and "
            "ceiling."
        )
    )
    if finishing.coats:
        waiting = f"Load nothing until {days:.1f} days after the start of the first coat."
        blocks.append(Paragraph(text=waiting, bold=True))
    return flow("Finishing", blocks, issue.paper)


def _row(number: int, coat: Coat) -> tuple[str, ...]:
    days, hours = divmod(round(coat.start_h, 1), 24.0)
    start = "at once" if not coat.start_h else f"after {coat.start_h:g} h (day {days + 1:g}, + {hours:g} h)"
    return ("□", str(number), coat.name, f"{coat.area_m2:.2f} m²", f"{coat.litres:.2f} litres", start)
