"""Checks chapter: a calculation sheet by topic, the worst first, with the numbers put in, and the sources behind it."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence

from nookwright.basics.findings import Finding, Verdict
from nookwright.basics.sources import Source
from nookwright.drawings.blocks import Block, Heading, Paragraph
from nookwright.drawings.flow import flow
from nookwright.drawings.lettering import NOTES_MM
from nookwright.drawings.page import Text
from nookwright.drawings.sheet import Draft, Issue
from nookwright.drawings.tables import Column, Table

SIGN: dict[Verdict, str] = {"fail": "■ FAILS", "question": "◇ ASK", "caution": "△ CAUTION", "pass": "○ holds"}
"""Shape and word for each outcome; neither needs colour."""

LETTERS = (
    "Letters: w load along a board, P load at a place, L span, E stiffness of the wood, b its depth front to back, t "
    "or h "
    "its height, I moment of inertia, M moment, F pull, R breaking strength, v its spread over its mean, k creep; of "
    "fasteners G specific gravity of the wood, D diameter, D_H of the head, W pull along, Z load across, l bearing "
    "length, "
    "Fe what wood bears, C_D for how long (0.9 for good, 1 ten years), C_eg in end grain, n how many, z their height; "
    "of "
    "moisture T warmth, h humidity, p_s full vapour, M moisture, C change for 1 %, S shrinkage from green to dry."
)
"""What the letters of the formulas stand for."""

YIELD_MODES = (
    "Yield modes of a screw across, D its root (No. 8: 3.33 mm, Fyb 621 N/mm², Rd 2.2), m where its point is, s under "
    "its "
    "head, Re = Fem / Fes: Im D lm Fem / Rd; Is D ls Fes / Rd; II k1 D ls Fes / Rd; IIIm k2 D lm Fem / ((1 + 2 Re) "
    "Rd); IIIs "
    "k3 D ls Fem / ((2 + Re) Rd); IV D^2 / Rd sqrt(2 Fem Fyb / (3 (1 + Re))); k1, k2, k3 as in nds."
)
"""What the yield modes named beside rows of screws stand for."""

ORDER: tuple[Verdict, ...] = ("fail", "question", "caution", "pass")

_COLUMNS = (
    Column(title="Outcome", share=31, bold=True),
    Column(title="What", share=35),
    Column(title="Numbers put in", share=66, height_mm=NOTES_MM),
    Column(title="Demand", share=18, height_mm=NOTES_MM),
    Column(title="Limit", share=17, height_mm=NOTES_MM),
    Column(title="Margin", share=20, height_mm=NOTES_MM),
)

_HOW_FAR: dict[str, str] = {
    "read": "read in the source or a copy of it",
    "recalled": "recalled, not read: confirm before relying on it",
    "common practice": "common practice, no source",
    "computed": "computed here, agreed by an independent package",
}

_SENTENCE_END = re.compile(r"(?<=[^.\s])\.\s+(?=[A-Z])")
"""A full stop between two sentences; `No. 8` is none."""


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
            "What is marked recalled was not read in its source: confirm it before relying on it.",
            height_mm=NOTES_MM,
        ),
        Paragraph(text=f"{LETTERS}\n{YIELD_MODES}", height_mm=NOTES_MM),
    ]
    known = {source.key: source for source in sources}
    rows: list[tuple[str, ...]] = []
    for topic in _topics(findings):
        of_topic = [finding for finding in findings if finding.topic == topic]
        once = _said_once(of_topic)
        rows += [(_basis(topic, of_topic, known, once),), *_rows(of_topic, once)]
    blocks.append(Table(columns=_COLUMNS, rows=tuple(rows), pad_mm=0.8))
    used = [source for source in sources if any(source.key in finding.source_keys for finding in findings)]
    if used:
        columns = (
            Column(title="Source", share=36, bold=True), Column(title="Title and place", share=108),
            Column(title="How far", share=42),
        )  # fmt: skip
        told = tuple((source.key, f"{source.title}; {source.place}", _HOW_FAR[source.status]) for source in used)
        blocks += [Heading(text="Sources used"), Table(columns=columns, rows=told, height_mm=NOTES_MM, pad_mm=0.6)]
    return flow("Checks", blocks, issue.paper)


def heading_of(topic: str) -> str:
    """Return the heading a topic stands under."""
    return topic[0].upper() + topic[1:]


def sheet_of_topics(findings: Sequence[Finding], sheets: Sequence[Draft]) -> dict[str, int]:
    """Return for each topic on which sheet of the chapter its heading stands, from 0.

    Args:
        findings: what was found.
        sheets: what `pages` returned for them.
    """
    found: dict[str, int] = {}
    for topic in dict.fromkeys(finding.topic for finding in findings):
        for i, sheet in enumerate(sheets):
            if any(isinstance(one, Text) and one.bold and one.text == heading_of(topic) for one in sheet.items):
                found.setdefault(topic, i)
    return found


def sentences(text: str) -> list[str]:
    """Return a text's sentences, each with its full stop."""
    return [part.rstrip(".") + ("" if part.endswith("?") else ".") for part in _SENTENCE_END.split(text) if part]


def _topics(findings: Sequence[Finding]) -> list[str]:
    """Return the topics, that with the worst outcome first, else in the order found."""
    first: dict[str, tuple[int, int]] = {}
    for i, finding in enumerate(findings):
        rank = (ORDER.index(finding.verdict), i)
        first[finding.topic] = min(first.get(finding.topic, rank), rank)
    return sorted(first, key=lambda topic: first[topic])


def _said_once(of_topic: Sequence[Finding]) -> list[str]:
    """Return sentences and cures that several findings of a topic share: they are printed once, under its heading."""
    counts: Counter[str] = Counter()
    for finding in of_topic:
        counts.update(dict.fromkeys(sentences(finding.summary)[1:], 1))
    told = [text for text, count in counts.items() if count > 1]
    # A cure stands under the heading only where it is everyone's: else one could not tell whose it is.
    remedies = [finding.remedy for finding in of_topic if finding.remedy and finding.verdict != "pass"]
    if len(remedies) > 1 and len(set(remedies)) == 1:
        told.append(f"Cure: {remedies[0]}")
    return told


def _basis(topic: str, of_topic: Sequence[Finding], known: dict[str, Source], once: Sequence[str]) -> str:
    """Return a topic's heading with its formulas, its sources and what holds for several of its rows."""
    # A topic's findings share most of their formulas: each is printed once.
    pieces = dict.fromkeys(piece for finding in of_topic if finding.formula for piece in finding.formula.split("; "))
    formulas = ["; ".join(pieces)] if pieces else []
    keys = list(dict.fromkeys(key for finding in of_topic for key in finding.source_keys))
    named = [f"{key} ({known[key].status})" if key in known else key for key in keys]
    lines = [heading_of(topic), *formulas]
    if named:
        lines.append(f"Source: {', '.join(named)}")
    cures = [text for text in once if text.startswith("Cure: ")]
    said = " ".join([text for text in once if text not in cures] + cures)
    return "\n".join([*lines, said] if said else lines)


def _rows(of_topic: Sequence[Finding], once: Sequence[str]) -> list[tuple[str, ...]]:
    """Return a row for every different outcome; subjects that share one stand together."""
    together: dict[tuple[int, str, str, str, str], list[str]] = {}
    bare: list[Finding] = []
    for finding in of_topic:
        if finding.verdict == "pass" and not finding.worked and finding.demand is None:
            bare.append(finding)
            continue
        told = (ORDER.index(finding.verdict), _worked(finding, once), *_against(finding))
        together.setdefault(told, []).append(finding.subject)
    rows: list[tuple[str, ...]] = [
        (SIGN[ORDER[told[0]]], subjects_together(subjects), *told[1:])
        for told, subjects in sorted(together.items(), key=lambda item: item[0][0])
    ]
    if bare:
        subjects = subjects_together(list(dict.fromkeys(finding.subject for finding in bare)))
        rows.append((SIGN["pass"], subjects, " ".join(finding.summary for finding in bare), "", "", ""))
    return rows


def _worked(finding: Finding, once: Sequence[str]) -> str:
    """Return a row's words: what was found, the numbers put in and the cure, less what is said under the heading.

    Where it holds, the numbers stand for the first sentence, which says the same in words.
    """
    holds = finding.verdict == "pass"
    said = sentences(finding.summary)
    kept = ([] if holds and finding.worked else said[:1]) + [text for text in said[1:] if text not in once]
    lines = [" ".join(kept), finding.worked]
    if finding.remedy and not holds and f"Cure: {finding.remedy}" not in once:
        lines.append(f"Cure: {finding.remedy}")
    return "\n".join(line for line in lines if line)


def _against(finding: Finding) -> tuple[str, str, str]:
    """Return demand, limit and what is left between them, in hundredths of the limit."""
    if finding.demand is None:
        return "", "", ""
    demand = f"{_figure(finding.demand)} {finding.unit}".strip()
    if finding.limit is None:
        return demand, "", ""
    limit = f"{_figure(finding.limit)} {finding.unit}".strip()
    if finding.limit <= 0:
        return demand, limit, ""
    left = round(100.0 * (1.0 - finding.demand / finding.limit))
    return demand, limit, f"{left} % left" if left >= 0 else f"{-left} % over"


def _figure(value: float) -> str:
    """Return a figure to three digits, thousands in full."""
    return f"{value:.0f}" if abs(value) >= 1000 else f"{value:.3g}"


def subjects_together(subjects: Sequence[str]) -> str:
    """Return subjects in one phrase; a name they share is said once: `fixed shelf B5, B6`."""
    names: dict[str, list[str]] = {}
    for subject in subjects:
        name, _, number = subject.rpartition(" ")
        names.setdefault(name, []).append(number)
    return "; ".join(f"{name} {', '.join(numbers)}".strip() for name, numbers in names.items())
