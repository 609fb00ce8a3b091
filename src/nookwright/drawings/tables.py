"""Tables on paper: wrapped cells, heads repeated, as many pages as needed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from nookwright.drawings.lettering import DESCENT_SHARE, NOTES_MM, drawable, line_pitch_mm, wrapped
from nookwright.drawings.page import Area, Item, Items, Line, Text

CELL_PAD_MM = 1.6
"""Clear space at the sides of a cell. Common practice, no source."""

ROW_PAD_MM = 1.4
"""Clear space above and below the words of a row. Common practice, no source."""


ABOVE_MM = 0.8
"""The least above them: accents and tall letters reach over figures. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column.

    Args:
        title: its head.
        share: its share of the table's width.
        align: `end` for figures.
        bold: whether its cells are bold, for the figure one looks for.
        height_mm: height of a figure in its cells where it differs from the table's. [mm]
    """

    title: str
    share: float
    align: Literal["start", "end", "middle"] = "start"
    bold: bool = False
    height_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Rows under heads.

    Args:
        columns: from left to right.
        rows: cells as text, as many as there are columns; a row of one cell is a heading across the table,
            in bold, with any further lines of it as notes.
        height_mm: height of a figure; at least 3.5 for what is read while working. [mm]
        pad_mm: clear space above and below the words of a row. [mm]
        in_two: whether the same columns stand twice, with an empty one between, and are read downwards.
    """

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    height_mm: float = 3.5
    pad_mm: float = ROW_PAD_MM
    in_two: bool = False

    def in_one(self) -> Table:
        """Return the table with every row below the other."""
        if not self.in_two:
            return self
        count = len(self.columns) // 2
        right = [row[count + 1 :] for row in self.rows]
        rows = (*(row[:count] for row in self.rows), *(row for row in right if any(row)))
        return replace(self, columns=self.columns[:count], rows=rows, in_two=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """Part of a table laid on a page: what is drawn, the height used, and the rows still to come. [mm]"""

    items: Items
    height_mm: float
    rest: Table | None


def lay_table(table: Table, area: Area) -> Laid:
    """Lay as many rows as fit under the heads.

    Args:
        table: what to lay.
        area: where; its height limits the rows.

    Returns:
        What is drawn; `rest` holds the rows that did not fit. A first row taller than the area is not drawn at all.
    """
    edges = _edges(table, area)
    titles = tuple(column.title for column in table.columns)
    items, y = _row(table, titles, edges, area.y, head=True)
    items.append(Line(start=(area.x, y), end=(area.right, y), pen="wide"))
    done = 0
    for i, cells in enumerate(table.rows):
        row_items, below = _row(table, cells, edges, y, head=False)
        if below + _next_under_heading_mm(table, i, edges) > area.bottom + 1e-9:
            break
        items.extend(row_items)
        items.append(Line(start=(area.x, below), end=(area.right, below)))
        y, done = below, done + 1
    if not done and table.rows:
        return Laid(items=(), height_mm=0.0, rest=table)
    rest = replace(table, rows=table.rows[done:])
    return Laid(items=tuple(items), height_mm=y - area.y, rest=rest if rest.rows else None)


def _is_heading(table: Table, cells: Sequence[str]) -> bool:
    """Whether a row is a heading across the table."""
    return len(cells) == 1 < len(table.columns)


def _next_under_heading_mm(table: Table, index: int, edges: Sequence[float]) -> float:
    """Return the height of the row that a heading across the table must keep with it; 0 for other rows. [mm]"""
    if not _is_heading(table, table.rows[index]) or index + 1 >= len(table.rows):
        return 0.0
    return _row(table, table.rows[index + 1], edges, 0.0, head=False)[1]


def first_row_split(table: Table, area: Area) -> Table:
    """Return the table with its first row in two, for a row taller than a whole sheet.

    Args:
        table: its first row does not fit the area under the heads.
        area: the space of one sheet.

    Returns:
        The same words; the first row now fits.
    """
    edges, height = _edges(table, area), table.height_mm
    if _is_heading(table, table.rows[0]):
        taken = _row(table, table.rows[0], edges, 0.0, head=False)[1]
        under = first_row_split(replace(table, rows=table.rows[1:]), area.inset(top=taken))
        return replace(under, rows=(table.rows[0], *under.rows))
    _, below_head = _row(table, [column.title for column in table.columns], edges, area.y, head=True)
    room = area.bottom - below_head - 2 * max(table.pad_mm, ABOVE_MM) - 1.3 * height
    count = max(1, 1 + int(room // line_pitch_mm(height)))
    cells = [
        wrapped(drawable(cell), edges[i + 1] - edges[i] - 2 * CELL_PAD_MM, height, bold=column.bold)
        for i, (cell, column) in enumerate(zip(table.rows[0], table.columns, strict=True))
    ]
    upper = tuple("\n".join(lines[:count]) for lines in cells)
    lower = tuple("\n".join(lines[count:]) for lines in cells)
    return replace(table, rows=(upper, lower, *table.rows[1:]))


def _edges(table: Table, area: Area) -> list[float]:
    """Return the columns' edges from left to right. [mm]"""
    whole = sum(column.share for column in table.columns)
    edges = [area.x]
    for column in table.columns:
        edges.append(edges[-1] + column.share / whole * area.width)
    return edges


def _row(
    table: Table, cells: Sequence[str], edges: Sequence[float], top: float, *, head: bool
) -> tuple[list[Item], float]:
    """Return one row's words and the y below it; the first lines of its cells stand on one line."""
    if _is_heading(table, cells):
        return _heading_row(table, cells[0], edges, top)
    columns = table.columns
    heights = [column.height_mm or table.height_mm for column in columns]
    if head:
        heights = [min(height, table.height_mm) for height in heights]
    first, deepest = top + max(table.pad_mm, ABOVE_MM) + max(heights), 0.0
    items: list[Item] = []
    for i, (cell, column, height) in enumerate(zip(cells, columns, heights, strict=True)):
        bold = head or column.bold
        lines = wrapped(drawable(cell), edges[i + 1] - edges[i] - 2 * CELL_PAD_MM, height, bold=bold)
        deepest = max(deepest, (len(lines) - 1) * line_pitch_mm(height) + DESCENT_SHARE * height)
        x = {
            "start": edges[i] + CELL_PAD_MM,
            "end": edges[i + 1] - CELL_PAD_MM,
            "middle": (edges[i] + edges[i + 1]) / 2,
        }[column.align]
        for n, line in enumerate(lines):
            if line:
                at = (x, first + n * line_pitch_mm(height))
                items.append(Text(at=at, text=line, height_mm=height, anchor=column.align, bold=bold))
    return items, first + deepest + table.pad_mm


def _heading_row(table: Table, words: str, edges: Sequence[float], top: float) -> tuple[list[Item], float]:
    """Return a heading across the table: its first line bold, the rest as notes; and the y below it."""
    head, *notes = words.split("\n")
    limit = edges[-1] - edges[0] - 2 * CELL_PAD_MM
    lines = [(line, table.height_mm, True) for line in wrapped(drawable(head), limit, table.height_mm, bold=True)]
    lines += [(line, NOTES_MM, False) for note in notes for line in wrapped(drawable(note), limit, NOTES_MM)]
    items: list[Item] = []
    y = top + max(table.pad_mm, ABOVE_MM)
    for i, (line, height, bold) in enumerate(lines):
        y += height if not i else line_pitch_mm(height)
        items.append(Text(at=(edges[0] + CELL_PAD_MM, y), text=line, height_mm=height, bold=bold))
    return items, y + DESCENT_SHARE * table.height_mm + table.pad_mm
