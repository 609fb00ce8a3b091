"""The page for a screen: the job book's chapters, its words set to reflow and its drawings to be enlarged."""

from __future__ import annotations

from itertools import groupby

from nookwright.drawings.blocks import Picture, Told
from nookwright.drawings.book import Chapter as Sheets
from nookwright.drawings.book import chapters_of, issue_of
from nookwright.drawings.export.html import Chapter, page_html, slug
from nookwright.drawings.pages.checks import heading_of
from nookwright.drawings.pages.front import read_first
from nookwright.plan import Plan

FIRST = "Read this first"


def screen(plan: Plan) -> bytes:
    """Return the job as one HTML file: the same chapters, words and drawings as the book.

    Args:
        plan: the whole job.

    Returns:
        The page; the same plan gives the same bytes.
    """
    issue = issue_of(plan.brief)
    first = read_first(plan.findings, plan.design.fits, plan.design.assumptions, {}, issue.marks)
    chapters = [Chapter(name=FIRST, told=first)]
    chapters += [_chapter(each) for each in chapters_of(plan, issue)]
    links = {heading_of(finding.topic): f"check-{slug(finding.topic)}" for finding in plan.findings}
    dated = f", {issue.date}" if issue.date else ""
    about = f"Revision {issue.revision}{dated}. Lengths in {'mm' if issue.marks.units == 'mm' else 'inches'}."
    return page_html(plan.brief.title, about, chapters, links)


def _chapter(sheets: Sheets) -> Chapter:
    """Return a chapter: what was poured over several sheets once, and every drawing."""
    name, drafts = sheets
    told: list[Told] = []
    for words, group in groupby(drafts, key=lambda draft: draft.told):
        told += words or [Picture(name=draft.name, items=draft.items) for draft in group]
    return Chapter(name=name, told=tuple(told), mark=drafts[0].mark)
