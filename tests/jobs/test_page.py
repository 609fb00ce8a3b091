"""The page for a screen says what the book says, needs no network, and every link in it leads somewhere."""

from __future__ import annotations

import re
from collections import Counter
from html.parser import HTMLParser

import pytest

from example_jobs import Run
from nookwright.basics.lengths import Marks, show
from nookwright.drawings.lettering import true_fractions
from nookwright.drawings.screen import screen
from nookwright.stages.buying.buy_list import OWN
from nookwright.trade.sources import SOURCES

EMPTY = {"meta", "input", "br"}
"""Elements without an end. Source: HTML Living Standard, 13.1.2, void elements (recalled)."""


class Reader(HTMLParser):
    """What a page holds, chapter by chapter; refuses one whose elements do not nest."""

    def __init__(self) -> None:
        """Start with nothing read."""
        super().__init__()
        self.open: list[str] = []
        self.chapter = ""
        self.words: dict[str, list[str]] = {}
        self.ids: list[str] = []
        self.links: list[str] = []
        self.ticks: list[str] = []
        self.addresses: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note an element."""
        told = dict(attrs)
        if tag not in EMPTY:
            self.open.append(tag)
        if tag == "details":
            self.chapter = told["id"] or ""
        if "id" in told:
            self.ids.append(told["id"] or "")
        if tag == "a":
            self.links.append((told["href"] or "").removeprefix("#"))
        if "data-tick" in told:
            self.ticks.append(told["data-tick"] or "")
        self.addresses += [value for key, value in attrs if key in {"src", "href", "action"} and value]

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """An element of a drawing that closes itself."""

    def handle_endtag(self, tag: str) -> None:
        """Check that it ends what was opened last."""
        assert self.open.pop() == tag
        if tag == "details":
            self.chapter = ""

    def handle_data(self, data: str) -> None:
        """Keep the words, not style and script."""
        if self.open and self.open[-1] not in {"style", "script"}:
            self.words.setdefault(self.chapter, []).append(data)

    def said(self, chapter: str) -> str:
        """Return a chapter's words in one line."""
        return " ".join(" ".join(self.words[chapter]).split())


@pytest.fixture
def page(job: Run) -> Reader:
    """An example's page as it was written."""
    reader = Reader()
    reader.feed(job.files["page.html"].decode("utf-8"))
    reader.close()
    assert reader.open == []
    return reader


def test_it_asks_nothing_of_a_network(job: Run, page: Reader) -> None:
    """No address in it but its own places; the only others are names of formats, and the lettering is inside."""
    text = job.files["page.html"].decode("utf-8")
    assert {address for address in page.addresses if not address.startswith("#")} == set()
    assert set(re.findall(r"https?://[^\"'\s<]+", text)) == {"http://www.w3.org/2000/svg"}
    assert set(re.findall(r"url\(([a-z/]+:[a-z/]+)", text)) == {"data:font/ttf"}
    assert "default-src 'none'" in text


def test_every_link_leads_somewhere(page: Reader) -> None:
    """And no two places share a name."""
    assert set(page.links) <= set(page.ids)
    assert [name for name, count in Counter(page.ids).items() if count > 1] == []


def test_the_calculation_sheet_is_whole(job: Run, page: Reader) -> None:
    """Every formula, the numbers put in where they are told, every cure of what fails, and where it was read."""
    said = page.said("checks-and-their-sources")
    for finding in job.plan.findings:
        # A topic's findings share most of their formulas: each is printed once.
        for formula in finding.formula.split("; "):
            assert " ".join(true_fractions(formula).split()) in said
        assert " ".join(true_fractions(finding.worked).split()) in said
        assert all(key in said for key in finding.source_keys)
        if finding.verdict == "fail":
            assert true_fractions(finding.remedy) in said
    recalled = {key for source in SOURCES if source.status == "recalled" for key in [source.key]}
    used = {key for finding in job.plan.findings for key in finding.source_keys}
    assert ("recalled, not read" in said) == bool(recalled & used)


def test_what_does_not_simply_hold_comes_first_and_leads_to_its_numbers(job: Run, page: Reader) -> None:
    """Each topic that fails, asks or cautions is a link in the first chapter."""
    first = page.said("read-this-first")
    for topic in {finding.topic for finding in job.plan.findings if finding.verdict != "pass"}:
        assert topic[0].upper() + topic[1:] in first
        assert f"check-{re.sub(r'[^a-z0-9]+', '-', topic.lower())}" in page.links


def test_a_draft_says_so_on_every_cutting_chapter(job: Run, page: Reader) -> None:
    """Parts list, part drawings and cutting carry the mark while a site question is open, and only then."""
    for chapter in ("parts-list", "part-drawings", "cutting"):
        assert ("DRAFT" in page.said(chapter)) == bool(job.plan.open_questions)


def test_every_sheet_can_be_cut_from_it(job: Run, page: Reader) -> None:
    """Each fence setting of each sheet stands in the cutting chapter, as often as it is set."""
    marks = Marks(units=job.plan.brief.units, resolution=job.plan.brief.resolution)
    cells = Counter(words.strip() for words in page.words["cutting"])
    cuts = [cut for sheet in job.plan.cutting.sheets for cut in sheet.cuts]
    wanted = Counter(true_fractions(show(cut.at_mm, marks)) for cut in cuts)
    assert {fence: cells[fence] for fence, count in wanted.items() if cells[fence] < count} == {}
    pieces = {one.part for sheet in job.plan.cutting.sheets for one in sheet.placed}
    pieces |= {one.part for board in job.plan.cutting.boards for one in board.pieces}
    said = page.said("cutting")
    assert all(re.search(rf"\b{part}\b", said) for part in pieces)


def test_boxes_to_tick_are_told_apart(job: Run, page: Reader) -> None:
    """One for each line to buy and of each order, each step and each coat; none shares its memory with another."""
    plan = job.plan
    assert [tick for tick, count in Counter(page.ticks).items() if count > 1] == []
    counts = Counter(tick.partition("|")[0] for tick in page.ticks)
    orders = plan.buying.split.orders if plan.buying.split else ()
    elsewhere = any(order.supplier != OWN for order in orders)
    ordered = sum(len(order.items) for order in orders) if elsewhere else 0
    assert counts["buying-list"] == len(plan.buying.lines) + ordered
    assert counts["order-of-work"] == len(plan.installing.steps)
    assert counts["finishing"] == len(plan.finishing.coats)


def test_the_same_plan_gives_the_same_page(job: Run) -> None:
    """Byte for byte."""
    assert screen(job.plan) == job.files["page.html"]
