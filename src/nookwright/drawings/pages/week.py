"""The week's papers: what each job brings, then cutting plan and buying list of all of them."""

from __future__ import annotations

from nookwright.drawings.blocks import Paragraph
from nookwright.drawings.flow import flow
from nookwright.drawings.page import Page
from nookwright.drawings.pages import buying, cutting
from nookwright.drawings.pages.labels import label_pages
from nookwright.drawings.sheet import Draft, Issue, finished, marked
from nookwright.drawings.tables import Column, Table
from nookwright.week import Week

_COLUMNS = (
    Column(title="Mark", share=22, bold=True),
    Column(title="Job", share=80),
    Column(title="Parts", share=18, align="end"),
    Column(title="Sheets alone", share=28, align="end"),
    Column(title="Boards alone", share=28, align="end"),
    Column(title="Cost alone", share=28, align="end"),
)


def week_pages(week: Week, issue: Issue) -> tuple[Page, ...]:
    """Return the week's papers, numbered through.

    Args:
        week: the jobs, cut and bought together.
        issue: units and paper.
    """
    drafts = (
        *_jobs(week, issue),
        *marked(cutting.pages(week.cutting, week.parts, week.shop, issue), week.open_questions),
        *buying.pages(week.buying, issue),
    )
    return tuple(finished(draft, issue, number=i, total=len(drafts)) for i, draft in enumerate(drafts, start=1))


def week_labels(week: Week, issue: Issue) -> tuple[Page, ...]:
    """Return the labels of every job's parts, in the order they come off the saw."""
    return label_pages(week.parts, week.cutting, week.shop, issue)


def _jobs(week: Week, issue: Issue) -> tuple[Draft, ...]:
    rows = tuple(
        (share.mark, share.title, f"{share.parts}", f"{share.sheets}", f"{share.boards}", f"{share.total:.2f}")
        for share in week.shares
    )
    together = (
        "", "all together", f"{len(week.parts.parts)}", f"{len(week.cutting.sheets)}", f"{len(week.cutting.boards)}",
        f"{week.buying.total:.2f}",
    )  # fmt: skip
    saved = f"Bought and cut together they cost {week.saved:.2f} {week.buying.currency} less than each alone."
    if week.saved < 0:
        saved = f"Cut together they cost {-week.saved:.2f} {week.buying.currency} MORE than each alone: cut them apart."
    mark = "A part's number begins with its job's mark. Each job keeps its own book for everything else."
    blocks = (Paragraph(text=mark), Table(columns=_COLUMNS, rows=(*rows, together)), Paragraph(text=saved))
    return flow("The jobs", blocks, issue.paper)
