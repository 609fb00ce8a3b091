"""Checks chapter: every finding by word and shape, its formula with the numbers put in, and the sources behind it."""

from __future__ import annotations

from collections.abc import Sequence

from nookwright.basics.findings import Finding, Verdict
from nookwright.basics.sources import Source
from nookwright.drawings.flow import Block, Heading, Paragraph, flow
from nookwright.drawings.sheet import Draft, Issue
from nookwright.drawings.tables import Column, Table

SIGN: dict[Verdict, str] = {"fail": "■ FAILS", "question": "◇ ASK", "caution": "△ CAUTION", "pass": "○ holds"}
"""Shape and word for each outcome; neither needs colour."""

ORDER: tuple[Verdict, ...] = ("fail", "question", "caution", "pass")

_HEADINGS: dict[Verdict, str] = {
    "fail": "What does not hold",
    "question": "What only someone on site can answer",
    "caution": "What holds, but read it",
    "pass": "What holds",
}

_COLUMNS = (
    Column(title="Outcome", share=32, bold=True),
    Column(title="What", share=42),
    Column(title="Finding, and how it was worked out", share=112),
)

_HOW_FAR: dict[str, str] = {
    "read": "read in the source or a copy of it",
    "recalled": "recalled, not read: confirm before relying on it",
    "common practice": "common practice, no source",
    "computed": "computed here, agreed by an independent package",
}


def pages(findings: Sequence[Finding], sources: Sequence[Source], issue: Issue) -> tuple[Draft, ...]:
    """Return the chapter's sheets.

    Args:
        findings: what was found.
        sources: the reference list.
        issue: units and paper.

    Returns:
        Failures first, then questions, cautions and what holds; the sources used come last.
    """
    known = {source.key: source for source in sources}
    blocks: list[Block] = [
        Paragraph(
            text="Formulas are in millimetres, newtons and N/mm², whatever units the drawings use. "
            "What is marked recalled was not read in its source: confirm it before relying on it."
        )
    ]
    for verdict in ORDER:
        of_kind = [finding for finding in findings if finding.verdict == verdict]
        if of_kind:
            rows = tuple(
                (SIGN[verdict], f"{finding.topic}\n{finding.subject}", told(finding, known)) for finding in of_kind
            )
            blocks += [Heading(text=_HEADINGS[verdict]), Table(columns=_COLUMNS, rows=rows)]
    used = [source for source in sources if any(source.key in finding.source_keys for finding in findings)]
    if used:
        columns = (
            Column(title="Source", share=50, bold=True), Column(title="Title and place", share=90),
            Column(title="How far", share=46),
        )  # fmt: skip
        rows = tuple((source.key, f"{source.title}; {source.place}", _HOW_FAR[source.status]) for source in used)
        blocks += [Heading(text="Sources used"), Table(columns=columns, rows=rows)]
    return flow("Checks", blocks, issue.paper)


def told(finding: Finding, known: dict[str, Source]) -> str:
    """Return a finding in full: sentence, numbers, formula, sources, remedy; one line each."""
    lines = [finding.summary]
    if finding.demand is not None and finding.limit is not None:
        lines.append(f"{finding.demand:.4g} {finding.unit} against a limit of {finding.limit:.4g} {finding.unit}")
    lines += [line for line in (finding.formula, finding.worked) if line]
    if finding.source_keys:
        named = [f"{key} ({known[key].status})" if key in known else key for key in finding.source_keys]
        lines.append(f"Source: {', '.join(named)}")
    if finding.remedy:
        lines.append(f"Cheapest cure: {finding.remedy}")
    return "\n".join(lines)
