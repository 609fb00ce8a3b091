"""The page for a screen: the job book's chapters, its words set to reflow and its drawings to be enlarged."""

from __future__ import annotations

from itertools import groupby

from nookwright.drawings.blocks import Told
from nookwright.drawings.book import Chapter as Sheets
from nookwright.drawings.book import chapters_of, issue_of
from nookwright.drawings.clearance import extremes
from nookwright.drawings.export.html import Chapter, Figure, page_html, slug
from nookwright.drawings.page import Area
from nookwright.drawings.pages.checks import heading_of
from nookwright.drawings.pages.front import read_first
from nookwright.drawings.sheet import Draft
from nookwright.plan import Plan

FIRST = "Read this first"
_EDGE_MM = 4.0
"""Clear edge around a drawing. Our choice."""


def screen(plan: Plan) -> bytes:
    """Return the job as one HTML file: the same chapters, words and drawings as the book.

    Args:
        plan: the whole job.

    Returns:
        The page; the same plan gives the same bytes.
    """
    issue = issue_of(plan.brief)
    first = read_first(plan.findings, plan.design.fits, plan.design.assumptions, {}, issue.marks)
    chapters = [Chapter(name=FIRST, leaves=(first,))]
    chapters += [_chapter(each) for each in chapters_of(plan, issue)]
    links = {heading_of(finding.topic): f"check-{slug(finding.topic)}" for finding in plan.findings}
    dated = f", {issue.date}" if issue.date else ""
    about = f"Revision {issue.revision}{dated}. Lengths in {'mm' if issue.marks.units == 'mm' else 'inches'}."
    return page_html(plan.brief.title, about, chapters, links)


def _chapter(sheets: Sheets) -> Chapter:
    """Return a chapter: what was poured over several sheets once, and every drawing."""
    name, drafts = sheets
    leaves: list[tuple[Told, ...] | Figure] = []
    for told, group in groupby(drafts, key=lambda draft: draft.told):
        if told:
            leaves.append(told)
        else:
            leaves += [_figure(draft) for draft in group]
    return Chapter(name=name, leaves=tuple(leaves), mark=drafts[0].mark)


def _figure(draft: Draft) -> Figure:
    """Return a sheet's drawing, as much of the paper as it takes."""
    points = [point for item in draft.items for point in extremes(item)]
    (x0, y0), (x1, y1) = map(min, zip(*points, strict=True)), map(max, zip(*points, strict=True))
    shown = Area(x=x0, y=y0, width=x1 - x0, height=y1 - y0)
    shown = shown.inset(left=-_EDGE_MM, top=-_EDGE_MM, right=-_EDGE_MM, bottom=-_EDGE_MM)
    return Figure(name=draft.name, items=draft.items, mark=draft.mark.partition(",")[0], area=shown)
