"""Tables and running text: nothing lost, heads repeated, nothing off the sheet."""

from __future__ import annotations

import pytest

from nookwright.drawings.flow import Heading, Paragraph, flow
from nookwright.drawings.page import Area, Text
from nookwright.drawings.page_check import faults
from nookwright.drawings.sheet import finished
from nookwright.drawings.tables import Column, Table, lay_table

COLUMNS = (
    Column(title="No.", share=1, bold=True),
    Column(title="What", share=4),
    Column(title="Cost", share=2, align="end"),
)


def texts(drafts) -> list[str]:
    """Return every line of words in order."""
    return [item.text for draft in drafts for item in draft.items if isinstance(item, Text)]


def test_a_long_table_goes_on_with_its_head_repeated(any_issue) -> None:
    """Every row is printed once; every sheet has a head."""
    rows = tuple((str(i), f"row {i}", f"{i}.50") for i in range(120))
    drafts = flow("List", (Table(columns=COLUMNS, rows=rows),), any_issue.paper)
    said = texts(drafts)
    assert [text for text in said if text.startswith("row ")] == [f"row {i}" for i in range(120)]
    assert said.count("What") == len(drafts) > 2
    for i, draft in enumerate(drafts):
        assert faults(finished(draft, any_issue, number=i + 1, total=len(drafts))) == ()


def test_a_row_that_does_not_fit_waits_for_the_next_sheet() -> None:
    """The head and one row of 7.0 mm each fit 15 mm; the second row is handed back."""
    table = Table(columns=COLUMNS, rows=(("1", "a", "1"), ("2", "b", "2")))
    laid = lay_table(table, Area(x=12.0, y=20.0, width=100.0, height=15.0))
    assert laid.rest is not None
    assert laid.rest.rows == (("2", "b", "2"),)


def test_no_room_even_for_one_row_draws_nothing() -> None:
    """A head alone at the foot of a sheet helps nobody."""
    table = Table(columns=COLUMNS, rows=(("1", "a", "1"),))
    laid = lay_table(table, Area(x=12.0, y=20.0, width=100.0, height=9.0))
    assert (laid.items, laid.rest) == ((), table)


def test_a_row_taller_than_a_sheet_goes_over_several(issue) -> None:
    """A very long cell still prints every word."""
    table = Table(columns=COLUMNS, rows=(("1", " ".join(f"w{i}" for i in range(3000)), "1"),))
    said = " ".join(texts(flow("List", (table,), issue.paper)))
    assert all(f"w{i}" in said.split() for i in (0, 1500, 2999))


def test_long_text_flows_over_sheets(any_issue) -> None:
    """No line is lost and none is off the sheet."""
    text = " ".join(f"w{i}" for i in range(4000))
    drafts = flow("Text", (Heading(text="Head"), Paragraph(text=text)), any_issue.paper)
    assert " ".join(texts(drafts)) == f"Head {text}"
    for draft in drafts:
        assert faults(finished(draft, any_issue, number=1, total=1)) == ()


def test_figures_line_up_at_the_end_of_their_column() -> None:
    """Costs are right-aligned."""
    laid = lay_table(
        Table(columns=COLUMNS, rows=(("1", "a", "7.00"), ("2", "b", "1207.00"))),
        Area(x=0.0, y=0.0, width=70.0, height=90.0),
    )
    ends = {item.at[0] for item in laid.items if isinstance(item, Text) and item.text.endswith("7.00")}
    assert len(ends) == 1
    assert ends.pop() == pytest.approx(70.0 - 1.6)
