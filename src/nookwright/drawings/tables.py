"""Tables on paper: wrapped cells, heads repeated, as many pages as needed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from nookwright.drawings.lettering import drawable, line_pitch_mm, wrapped
from nookwright.drawings.page import Area, Item, Items, Line, Text

CELL_PAD_MM = 1.6
"""Clear space at the sides of a cell. Common practice, no source."""

ROW_PAD_MM = 1.4
"""Clear space above and below the words of a row. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column.

    Args:
        title: its head.
        share: its share of the table's width.
        align: `end` for figures.
        bold: whether its cells are bold, for the figure one looks for.
    """

    title: str
    share: float
    align: Literal["start", "end", "middle"] = "start"
    bold: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Rows under heads.

    Args:
        columns: from left to right.
        rows: cells as text, as many as there are columns.
        height_mm: height of a figure; at least 3.5 for what is read while working. [mm]
    """

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    height_mm: float = 3.5


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
    for cells in table.rows:
        row_items, below = _row(table, cells, edges, y, head=False)
        if below > area.bottom + 1e-9:
            break
        items.extend(row_items)
        items.append(Line(start=(area.x, below), end=(area.right, below)))
        y, done = below, done + 1
    if not done and table.rows:
        return Laid(items=(), height_mm=0.0, rest=table)
    rest = Table(columns=table.columns, rows=table.rows[done:], height_mm=table.height_mm)
    return Laid(items=tuple(items), height_mm=y - area.y, rest=rest if rest.rows else None)


def first_row_split(table: Table, area: Area) -> Table:
    """Return the table with its first row in two, for a row taller than a whole sheet.

    Args:
        table: its first row does not fit the area under the heads.
        area: the space of one sheet.

    Returns:
        The same words; the first row now fits.
    """
    edges, height = _edges(table, area), table.height_mm
    _, below_head = _row(table, [column.title for column in table.columns], edges, area.y, head=True)
    room = area.bottom - below_head - 2 * ROW_PAD_MM - 1.2 * height
    count = max(1, 1 + int(room // line_pitch_mm(height)))
    cells = [
        wrapped(drawable(cell), edges[i + 1] - edges[i] - 2 * CELL_PAD_MM, height, bold=column.bold)
        for i, (cell, column) in enumerate(zip(table.rows[0], table.columns, strict=True))
    ]
    upper = tuple("\n".join(lines[:count]) for lines in cells)
    lower = tuple("\n".join(lines[count:]) for lines in cells)
    return Table(columns=table.columns, rows=(upper, lower, *table.rows[1:]), height_mm=height)


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
    """Return one row's words and the y below it."""
    items: list[Item] = []
    height = table.height_mm
    most = 1
    for i, (cell, column) in enumerate(zip(cells, table.columns, strict=True)):
        bold = head or column.bold
        limit = edges[i + 1] - edges[i] - 2 * CELL_PAD_MM
        lines = wrapped(drawable(cell), limit, height, bold=bold)
        most = max(most, len(lines))
        x = {
            "start": edges[i] + CELL_PAD_MM,
            "end": edges[i + 1] - CELL_PAD_MM,
            "middle": (edges[i] + edges[i + 1]) / 2,
        }[column.align]
        for n, line in enumerate(lines):
            y = top + ROW_PAD_MM + height + n * line_pitch_mm(height)
            if line:
                items.append(Text(at=(x, y), text=line, height_mm=height, anchor=column.align, bold=bold))
    return items, top + 2 * ROW_PAD_MM + height + (most - 1) * line_pitch_mm(height) + 0.2 * height
