"""What docs/survey.md says of the survey is what the survey says."""

from __future__ import annotations

from pathlib import Path

import pytest

from degenerate_books import GAPS, Gap, flat_corner, said
from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.survey.kind_table import SHAPES

DOC = Path(__file__).resolve().parents[2] / "docs" / "survey.md"
HEADING = "## What a survey cannot tell, and what it says then"
CASES = [(gap, kind) for gap in GAPS for kind in gap.open_]


def rows() -> list[str]:
    """Return the lines of the document's table, its head left out."""
    section = DOC.read_text(encoding="utf-8").split(HEADING)[1].split("\n## ")[0]
    return [line for line in section.splitlines() if line.startswith("| ")][1:]


def row(title: str, kind: str, sentence: str) -> str:
    """Return a line of the table."""
    return f"| {title} | {kind} | {' '.join(sentence.splitlines())} |"


@pytest.mark.parametrize(("gap", "kind"), CASES, ids=[f"{gap.title}-{kind}" for gap, kind in CASES])
def test_each_gap_is_told_as_the_document_says(gap: Gap, kind: str) -> None:
    """The usual list of that kind with those readings left out: word for word."""
    assert row(gap.title, kind, said(gap, kind)) in rows()


def test_a_mirror_image_is_told_as_the_document_says() -> None:
    """A wall bent at a corner said to be straight: in or out fits alike, until a third tape settles it."""
    (doubt,) = reconcile(flat_corner(third=False)).doubts
    assert row("a bend taped from its two ends only", "free-plan", doubt) in rows()
    assert reconcile(flat_corner(third=True)).doubts == ()


def test_every_row_of_the_document_is_tested() -> None:
    """No row is left over from an earlier day; every kind of room has one."""
    found = rows()
    assert len(found) == len(CASES) + 1
    assert {line.split(" | ")[1] for line in found} == set(SHAPES)
