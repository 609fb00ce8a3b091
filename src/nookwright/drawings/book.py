"""The job book: chapters in the order of the work, numbered, with contents and warnings first."""

from __future__ import annotations

from nookwright.basics.lengths import Marks
from nookwright.drawings.page import Page
from nookwright.drawings.pages import buying, checks, cutting, finishing, front, furniture, installing, parts, room
from nookwright.drawings.pages.steps import step_sheets
from nookwright.drawings.sheet import Draft, Issue, finished, marked
from nookwright.plan import Plan
from nookwright.stages.inputs.brief import Brief
from nookwright.trade.sources import SOURCES

Chapter = tuple[str, tuple[Draft, ...]]


def book(plan: Plan) -> tuple[Page, ...]:
    """Return every sheet of the job book; the same plan gives the same sheets.

    Args:
        plan: the whole job.

    Returns:
        The sheets in order.
    """
    issue = issue_of(plan.brief)
    chapters = chapters_of(plan, issue)
    count = len(_front(plan, chapters, issue, first_page=1))
    drafts = list(_front(plan, chapters, issue, first_page=count + 1))
    for _, sheets in chapters:
        drafts.extend(sheets)
    return tuple(finished(draft, issue, number=i + 1, total=len(drafts)) for i, draft in enumerate(drafts))


def issue_of(brief: Brief) -> Issue:
    """Return what every title strip says."""
    marks = Marks(units=brief.units, resolution=brief.resolution)
    return Issue(job=brief.title, date=brief.date, revision=brief.revision, marks=marks, paper=brief.paper)


def chapters_of(plan: Plan, issue: Issue) -> tuple[Chapter, ...]:
    """Return the chapters behind the front sheets in the order of the work, those without a sheet left out."""
    unanswered, zeros = plan.open_questions, (plan.room.origin, plan.room.datum)
    chapters: tuple[Chapter, ...] = (
        ("Room", room.pages(plan.room, issue)),
        ("Furniture", furniture.pages(plan.design, plan.parts, plan.room, issue)),
        ("Parts list", marked(parts.list_pages(plan.parts, issue), unanswered)),
        ("Part drawings", marked(parts.drawing_pages(plan.parts, issue), unanswered)),
        ("Cutting", marked(cutting.pages(plan.cutting, plan.parts, plan.shop, issue), unanswered)),
        ("Buying list", buying.pages(plan.buying, issue)),
        ("Installing", installing.pages(plan.installing, plan.design, plan.parts, zeros, issue)),
        ("Order of work", step_sheets(plan.installing.steps, plan.design.boxes, plan.parts, issue)),
        ("Finishing", finishing.pages(plan.finishing, issue)),
        (_CHECKS, checks.pages(plan.findings, SOURCES, issue)),
    )
    return tuple(chapter for chapter in chapters if chapter[1])


_CHECKS = "Checks and their sources"


def _front(plan: Plan, chapters: tuple[Chapter, ...], issue: Issue, *, first_page: int) -> tuple[Draft, ...]:
    """Return the front sheets for chapters that start at a page."""
    contents: list[front.Entry] = []
    details: dict[str, int] = {}
    page = first_page
    for name, sheets in chapters:
        contents.append(front.Entry(chapter=name, first=page, last=page + len(sheets) - 1))
        if name == _CHECKS:
            on_sheet = checks.sheet_of_topics(plan.findings, sheets)
            details = {topic: page + i for topic, i in on_sheet.items()}
        page += len(sheets)
    return front.pages(plan.findings, plan.design.fits, plan.design.assumptions, contents, details, issue)
