"""Tables and running text: nothing lost, heads repeated, nothing off the sheet."""

from __future__ import annotations

import pytest

from nookwright.drawings.blocks import Heading, Paragraph
from nookwright.drawings.flow import flow
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


def test_a_heading_across_a_table_keeps_the_row_below_it() -> None:
    """Head 7.2 mm, a row 7.2 mm and a heading 7.0 mm fit 25 mm, but the heading's own row does not: both wait."""
    table = Table(columns=COLUMNS, rows=(("1", "a", "1"), ("Shelves\na note",), ("2", "b", "2")))
    laid = lay_table(table, Area(x=12.0, y=20.0, width=100.0, height=25.0))
    assert laid.rest is not None
    assert laid.rest.rows == (("Shelves\na note",), ("2", "b", "2"))


def test_a_heading_s_further_lines_are_notes() -> None:
    """The first line is bold and as high as the table's figures, the rest 2.5 mm."""
    table = Table(columns=COLUMNS, rows=(("Shelves\na note",), ("2", "b", "2")))
    laid = lay_table(table, Area(x=12.0, y=20.0, width=100.0, height=60.0))
    found = {item.text: (item.height_mm, item.bold) for item in laid.items if isinstance(item, Text)}
    assert (found["Shelves"], found["a note"]) == ((3.5, True), (2.5, False))


def test_a_column_may_have_larger_figures() -> None:
    """A fence setting is 5 mm high, its head stays 3.5 mm."""
    table = Table(columns=(Column(title="Fence", share=1, height_mm=5.0),), rows=(("1245",),))
    laid = lay_table(table, Area(x=12.0, y=20.0, width=100.0, height=60.0))
    assert {item.text: item.height_mm for item in laid.items if isinstance(item, Text)} == {"Fence": 3.5, "1245": 5.0}


def test_a_huge_row_under_a_heading_goes_over_several_sheets(issue) -> None:
    """The heading stays with the first part of it, and every word is printed."""
    table = Table(columns=COLUMNS, rows=(("Shelves",), ("1", " ".join(f"w{i}" for i in range(3000)), "1")))
    said = " ".join(texts(flow("List", (table,), issue.paper))).split()
    assert all(f"w{i}" in said for i in (0, 1500, 2999))
