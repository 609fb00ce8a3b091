"""The whole job book of every sample job: readable, complete, numbered, the same each time."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from nookwright.drawings.book import book, chapters_of, issue_of
from nookwright.drawings.export.pdf import pdf
from nookwright.drawings.page import Page, Text
from nookwright.drawings.page_check import faults
from nookwright.files.job_folder import read_job
from nookwright.plan import Plan, plan

EXAMPLES = Path(__file__).parents[3] / "examples"
JOBS = sorted(folder.name for folder in EXAMPLES.iterdir() if folder.is_dir())


@pytest.fixture(scope="module", params=JOBS)
def planned(request) -> Plan:
    """A sample job, worked out."""
    job = read_job(EXAMPLES / request.param)
    return plan(job.survey, job.brief, job.shop, job.facts)


@pytest.fixture(scope="module")
def pages(planned: Plan) -> tuple[Page, ...]:
    """The job's book."""
    return book(planned)


def words(page) -> set[str]:
    """Return the words on a sheet."""
    return {item.text for item in page.items if isinstance(item, Text)}


def test_every_sheet_of_the_book_can_be_read(pages) -> None:
    """No words overlap, none is crossed or too small, nothing reaches into the margins."""
    found = [f"sheet {i + 1}, {page.name}: {fault}" for i, page in enumerate(pages) for fault in faults(page)]
    assert found == []


def test_the_other_paper_carries_the_book_as_well(planned) -> None:
    """A4 and Letter alike: every sheet can be read."""
    paper = "Letter" if planned.brief.paper == "A4" else "A4"
    other = book(replace(planned, brief=replace(planned.brief, paper=paper)))
    assert {page.paper for page in other} == {paper}
    assert [f"{page.name}: {fault}" for page in other for fault in faults(page)] == []


def test_a_warning_names_the_page_its_numbers_stand_on(planned, pages) -> None:
    """Every topic on the front that is no pass: its heading stands on the page beside it."""
    listed = [item.text for page in pages[:3] for item in page.items if isinstance(item, Text)]
    topics = {finding.topic for finding in planned.findings if finding.verdict != "pass"}
    for topic in topics:
        heading = topic[0].upper() + topic[1:]
        at = next(i for i, text in enumerate(listed) if text.startswith(f"{heading}: "))
        number = next(int(text) for text in listed[at + 1 :] if text.isdigit())
        assert heading in words(pages[number - 1])


def test_sheets_are_numbered_through(pages) -> None:
    """Page n of m on each."""
    assert all(f"{i + 1} of {len(pages)}" in words(page) for i, page in enumerate(pages))


def test_the_contents_send_one_to_the_right_page(planned, pages) -> None:
    """A chapter's first sheet has the name its chapter begins with, on the page the contents say."""
    chapters = chapters_of(planned, issue_of(planned.brief))
    behind = sum(len(sheets) for _, sheets in chapters)
    front = pages[: len(pages) - behind]
    listed = [item.text for page in front for item in page.items if isinstance(item, Text)]
    first = len(front)
    for name, sheets in chapters:
        assert pages[first].name == sheets[0].name
        range_said = f"{first + 1}" if len(sheets) == 1 else f"{first + 1} to {first + len(sheets)}"
        at = [i for i, text in enumerate(listed) if text == name]
        assert any(listed[i + 1] == range_said for i in at)
        first += len(sheets)
    assert first == len(pages)


def test_every_part_is_on_a_cutting_sheet_or_drawn_on_its_own(planned, pages) -> None:
    """Nothing in the list is left without a picture, save what no stock can give."""
    drawn: set[str] = set()
    for page in pages:
        if page.name.startswith(("Cutting", "Part ", "Parts ")) and not page.name.startswith("Parts list"):
            drawn |= {word for text in words(page) for word in re.split(r"[:,;\s]+", text)}
    too_large = {one.part for one in planned.cutting.too_large}
    assert {part.number for part in planned.parts.parts} - too_large <= drawn


def test_the_same_job_gives_the_same_book(planned, pages) -> None:
    """Byte for byte."""
    title = planned.brief.title
    assert pdf(book(planned), title=title) == pdf(pages, title=title)


def test_while_a_site_question_is_open_every_cutting_page_is_a_draft(planned, pages) -> None:
    """Parts list, part drawings and cutting sheets carry the mark; with every question answered none does."""
    names = [
        draft.name
        for chapter, drafts in chapters_of(planned, issue_of(planned.brief))
        if chapter in {"Parts list", "Part drawings", "Cutting"}
        for draft in drafts
    ]
    signs = ("DRAFT, not for cutting", "DRAFT")
    carry = [page.name for page in pages if any(text.startswith(signs[0]) or text == signs[1] for text in words(page))]
    assert carry == (names if planned.open_questions else [])
    answered = tuple(replace(each, verdict="pass") if each.topic == "site" else each for each in planned.findings)
    final = book(replace(planned, findings=answered))
    assert not any("DRAFT" in text for page in final for text in words(page))
