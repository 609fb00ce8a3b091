"""Front sheets: the job, what to read first, the contents, how surely things fit, and every assumed figure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from nookwright.basics.findings import Assumption, Finding
from nookwright.basics.lengths import Marks, show, show_fine
from nookwright.drawings.blocks import Block, Heading, Paragraph
from nookwright.drawings.flow import flow
from nookwright.drawings.lettering import NOTES_MM
from nookwright.drawings.pages.checks import ORDER, SIGN, sentences, subjects_together
from nookwright.drawings.sheet import Draft, Issue
from nookwright.drawings.tables import Column, Table
from nookwright.stages.checks.site_questions import open_questions
from nookwright.stages.design.design import Fit


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One line of the contents: a chapter and its pages."""

    chapter: str
    first: int
    last: int


CAUTIONS = (
    ("Wiring, gas", "Moving or extending an outlet, and anything on gas, is for licensed people and local codes."),
    ("Hidden things", "Look for cables and pipes before drilling or screwing into any wall or floor."),
    ("Tipping", "Anything tall can fall until it is fixed to the wall; never load it before."),
    ("Old paint, old boards", "They may hold lead or asbestos. Have them tested before sanding, cutting or scraping."),
    (
        "Escape, heat, air",
        "Keep escape windows, alarms, heaters, stoves and vents as clear as local codes and makers ask.",
    ),
    ("Floors", "A full wall of shelves is heavy. Where the floor is old, springy or upstairs, ask an engineer."),
    ("Saws", "Sizes and an order of cuts stand here; guards, supports and judgement are yours."),
    ("Lifting", "What one person should not lift is said under Checks; sheets are best carried by two."),
)
"""What can hurt in any such job, in a line each. Common practice, no source; local codes and licensed trades rule."""

_CAUTION_COLUMNS = (Column(title="What", share=46, bold=True), Column(title="Mind", share=140, height_mm=NOTES_MM))


def pages(
    findings: Sequence[Finding],
    fits: Sequence[Fit],
    assumptions: Sequence[Assumption],
    contents: Sequence[Entry],
    details: Mapping[str, int],
    issue: Issue,
) -> tuple[Draft, ...]:
    """Return the front sheets.

    Args:
        findings: failures, questions and cautions come first.
        fits: how surely what was designed goes in.
        assumptions: figures nobody measured.
        contents: the chapters with their pages.
        details: for each topic of the findings the page its numbers stand on.
        issue: units and paper.

    Returns:
        One sheet or more.
    """
    head = (Paragraph(text=issue.job, height_mm=7.0, bold=True), _contents(contents))
    return flow("Job book", (*head, *read_first(findings, fits, assumptions, details, issue.marks)), issue.paper)


def read_first(
    findings: Sequence[Finding],
    fits: Sequence[Fit],
    assumptions: Sequence[Assumption],
    details: Mapping[str, int],
    marks: Marks,
) -> tuple[Block, ...]:
    """Return what is told before anything else; see `pages`.

    Args:
        findings: failures, questions and cautions come first.
        fits: how surely what was designed goes in.
        assumptions: figures nobody measured.
        details: for each topic of the findings the page its numbers stand on; empty where there are no pages.
        marks: units and steps people read.
    """
    blocks: list[Block] = []
    unanswered = open_questions(tuple(findings))
    if unanswered:
        keys = ", ".join(key.replace("-", " ") for key in unanswered)
        blocks.append(Paragraph(text=f"DRAFT: cut nothing before these are answered on site: {keys}.", bold=True))
    blocks += _read_first(findings, details)
    blocks += [
        Heading(text="What can hurt in any such job"),
        Table(columns=_CAUTION_COLUMNS, rows=CAUTIONS, pad_mm=_TIGHT_MM),
        Heading(text="What the figures rest on"),
        Paragraph(
            text="Measured: the readings listed under Room, and the sizes of bought things. Computed: every other "
            "size, from those and the brief. Assumed: what is listed below; nobody measured it, so replace it where it "
            "matters. Nothing on paper is to be scaled off. Cut sizes are rounded down where a part must enter a gap "
            "and up where it covers one. Print at full size: the bar on a sheet must measure 100 mm.",
            height_mm=NOTES_MM,
        ),
    ]
    if fits:
        blocks.append(_fits(fits, marks))
    if assumptions:
        blocks.append(_assumed(assumptions))
    return tuple(blocks)


_TIGHT_MM = 0.7
"""Space above and below the words of a row in a dense table. Our choice."""


def _read_first(findings: Sequence[Finding], details: Mapping[str, int]) -> list[Block]:
    """Return failures, questions and cautions, in that order; or the sentence that there are none."""
    rows: list[tuple[str, ...]] = []
    for verdict in ORDER:
        of_kind = [finding for finding in findings if finding.verdict == verdict and verdict != "pass"]
        for topic in dict.fromkeys(finding.topic for finding in of_kind):
            page = (str(details.get(topic, "")),) if details else ()
            of_topic = [finding for finding in of_kind if finding.topic == topic]
            rows.extend((*row, *page) for row in _topic_rows(of_topic))
    if not rows:
        return [Paragraph(text="Every check holds and no question is open.", bold=True)]
    columns: tuple[Column, ...] = (
        Column(title="Outcome", share=30, bold=True),
        Column(title="Read this first", share=139),
    )
    if details:
        columns += (Column(title="Page", share=17, align="end"),)
    return [Table(columns=columns, rows=tuple(rows), pad_mm=_TIGHT_MM)]


def _topic_rows(of_topic: Sequence[Finding]) -> list[tuple[str, str]]:
    """Return one row for a topic, told by its worst outcome; failures that differ get a row each."""
    if of_topic[0].verdict == "fail":
        different = dict.fromkeys((finding.summary, finding.remedy) for finding in of_topic)
        return [_topic_row([f for f in of_topic if (f.summary, f.remedy) == told], cure=True) for told in different]
    return [_topic_row(of_topic, cure=False)]


def _topic_row(of_topic: Sequence[Finding], *, cure: bool) -> tuple[str, str]:
    """Return a topic's outcome, and in words its subjects, the worst of them, and where it fails the cure."""
    worst = max(of_topic, key=lambda finding: (finding.demand or 0.0) / (finding.limit or 1.0))
    subjects = subjects_together([finding.subject for finding in of_topic])
    text = worst.summary if cure else sentences(worst.summary)[0]
    if len(of_topic) > 1 and not cure:
        text = f"Worst, {worst.subject}: {text}"
    if cure and worst.remedy:
        text += f" Cure: {worst.remedy}"
    return SIGN[worst.verdict], f"{worst.topic[0].upper()}{worst.topic[1:]}: {subjects}. {text}"


def _contents(contents: Sequence[Entry]) -> Table:
    """Return the chapters with their pages, in two columns read downwards."""
    said = [
        (entry.chapter, str(entry.first) if entry.first == entry.last else f"{entry.first} to {entry.last}")
        for entry in contents
    ]
    half = (len(said) + 1) // 2
    said += [("", "")] * (2 * half - len(said))
    columns = (
        Column(title="Contents", share=63), Column(title="Pages", share=30),
        Column(title="", share=63), Column(title="Pages", share=30),
    )  # fmt: skip
    return Table(columns=columns, rows=tuple((*said[i], *said[half + i]) for i in range(half)), pad_mm=_TIGHT_MM)


def _fits(fits: Sequence[Fit], marks: Marks) -> Table:
    """Return what was fitted to what space; a chance under 99 in 100 says so in words."""
    rows = tuple(
        (
            fit.what,
            f"{show(fit.space.value, marks)} ± {show_fine(2 * fit.space.sd, marks)}",
            show(fit.size_mm, marks, way="down"),
            _chance(fit.chance),
        )
        for fit in fits
    )
    columns = (
        Column(title="How surely it goes in", share=66), Column(title="Space there is", share=48),
        Column(title="Size chosen", share=34), Column(title="Fits in", share=44),
    )  # fmt: skip
    return Table(columns=columns, rows=rows, pad_mm=_TIGHT_MM)


def _chance(chance: float) -> str:
    """Return a chance in words people use; nothing measured is ever quite certain."""
    hundreds = int(chance * 100)
    return "over 99 of 100" if hundreds >= 99 else f"{hundreds} of 100\nNOT SURE"


def _assumed(assumptions: Sequence[Assumption]) -> Table:
    rows = tuple((one.what, one.value, one.why) for one in assumptions)
    columns = (
        Column(title="Assumed", share=50),
        Column(title="Value", share=80, bold=True),
        Column(title="Why", share=56, height_mm=NOTES_MM),
    )
    return Table(columns=columns, rows=rows, pad_mm=_TIGHT_MM)
