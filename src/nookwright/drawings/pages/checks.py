"""Checks chapter: every finding by word and shape, its formula with the numbers put in, and the sources behind it."""

from __future__ import annotations

from collections.abc import Sequence

from nookwright.basics.findings import Finding, Verdict
from nookwright.basics.sources import Source
from nookwright.drawings.flow import NOTES_MM, Block, Heading, Paragraph, flow
from nookwright.drawings.sheet import Draft, Issue
from nookwright.drawings.tables import Column, Table

SIGN: dict[Verdict, str] = {"fail": "■ FAILS", "question": "◇ ASK", "caution": "△ CAUTION", "pass": "○ holds"}
"""Shape and word for each outcome; neither needs colour."""

ORDER: tuple[Verdict, ...] = ("fail", "question", "caution", "pass")

_COLUMNS = (
    Column(title="Outcome", share=25, bold=True),
    Column(title="What", share=36),
    Column(title="Finding", share=62),
    Column(title="Numbers put in", share=63),
)

_HOW_FAR: dict[str, str] = {
    "read": "read in the source or a copy of it",
    "recalled": "recalled, not read: confirm before relying on it",
    "common practice": "common practice, no source",
    "computed": "computed here, agreed by an independent package",
}


def pages(findings: Sequence[Finding], sources: Sequence[Source], issue: Issue) -> tuple[Draft, ...]:
    """Return the calculation sheet: topic after topic, the worst first.

    Args:
        findings: what was found.
        sources: the reference list.
        issue: units and paper.

    Returns:
        For each topic its formula and sources once, then a row for every outcome; the sources used come last.
    """
    blocks: list[Block] = [
        Paragraph(
            text="Formulas are in millimetres, newtons and N/mm², whatever units the drawings use. "
            "What is marked recalled was not read in its source: confirm it before relying on it."
        )
    ]
    known = {source.key: source for source in sources}
    for topic in _topics(findings):
        of_topic = [finding for finding in findings if finding.topic == topic]
        blocks += [Heading(text=topic[0].upper() + topic[1:]), *_basis(of_topic, known)]
        blocks.append(Table(columns=_COLUMNS, rows=_rows(of_topic), height_mm=NOTES_MM))
    used = [source for source in sources if any(source.key in finding.source_keys for finding in findings)]
    if used:
        columns = (
            Column(title="Source", share=42, bold=True), Column(title="Title and place", share=98),
            Column(title="How far", share=46),
        )  # fmt: skip
        rows = tuple((source.key, f"{source.title}; {source.place}", _HOW_FAR[source.status]) for source in used)
        blocks += [Heading(text="Sources used"), Table(columns=columns, rows=rows, height_mm=NOTES_MM)]
    return flow("Checks", blocks, issue.paper)


def _topics(findings: Sequence[Finding]) -> list[str]:
    """Return the topics, that with the worst outcome first, else in the order found."""
    first: dict[str, tuple[int, int]] = {}
    for i, finding in enumerate(findings):
        rank = (ORDER.index(finding.verdict), i)
        first[finding.topic] = min(first.get(finding.topic, rank), rank)
    return sorted(first, key=lambda topic: first[topic])


def _basis(of_topic: Sequence[Finding], known: dict[str, Source]) -> list[Block]:
    """Return a topic's formulas and sources, each said once."""
    formulas = list(dict.fromkeys(finding.formula for finding in of_topic if finding.formula))
    keys = list(dict.fromkeys(key for finding in of_topic for key in finding.source_keys))
    named = [f"{key} ({known[key].status})" if key in known else key for key in keys]
    blocks: list[Block] = [Paragraph(text=formula, height_mm=NOTES_MM, bold=True) for formula in formulas]
    if named:
        blocks.append(Paragraph(text=f"Source: {', '.join(named)}", height_mm=NOTES_MM))
    return blocks


def _rows(of_topic: Sequence[Finding]) -> tuple[tuple[str, ...], ...]:
    """Return a row for every different outcome; subjects that share one stand together."""
    together: dict[tuple[int, str, str, str], list[str]] = {}
    for finding in of_topic:
        cure = f"\nCure: {finding.remedy}" if finding.remedy and finding.verdict != "pass" else ""
        told = (ORDER.index(finding.verdict), finding.summary + cure, finding.worked, _against(finding))
        together.setdefault(told, []).append(finding.subject)
    return tuple(
        (SIGN[ORDER[rank]], subjects_together(subjects), summary, "\n".join(line for line in (worked, against) if line))
        for (rank, summary, worked, against), subjects in sorted(together.items(), key=lambda item: item[0][0])
    )


def _against(finding: Finding) -> str:
    """Return demand, limit and what is left between them."""
    if finding.demand is None or finding.limit is None:
        return ""
    used = f", {100.0 * finding.demand / finding.limit:.0f} % of it" if finding.limit > 0 else ""
    return f"{finding.demand:.3g} against {finding.limit:.3g} {finding.unit}{used}"


def subjects_together(subjects: Sequence[str]) -> str:
    """Return subjects in one phrase; a name they share is said once: `fixed shelf B5, B6`."""
    names: dict[str, list[str]] = {}
    for subject in subjects:
        name, _, number = subject.rpartition(" ")
        names.setdefault(name, []).append(number)
    return "; ".join(f"{name} {', '.join(numbers)}".strip() for name, numbers in names.items())
