"""Flow: headings, paragraphs and tables poured over as many sheets as they need."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from nookwright.drawings.blocks import Block, Heading, Paragraph
from nookwright.drawings.lettering import NOTES_MM, drawable, line_pitch_mm, wrapped
from nookwright.drawings.page import Area, Item, Paper, Text
from nookwright.drawings.sheet import Draft, body
from nookwright.drawings.tables import Laid, Table, first_row_split, lay_table

_AFTER_HEADING_MM = 2.5
_AFTER_BLOCK_MM = 4.0
_KEEP_MM = 26.0
"""A heading moves on when less room than this is left under it. Common practice, no source."""


@dataclass(slots=True)
class _Sheets:
    """Sheets being filled from the top down."""

    area: Area
    done: list[list[Item]] = field(default_factory=list)
    items: list[Item] = field(default_factory=list)
    y: float = 0.0

    def turn(self) -> None:
        """Start the next sheet."""
        self.done.append(self.items)
        self.items, self.y = [], self.area.y

    def left(self) -> Area:
        """Return what is free of this sheet."""
        return self.area.inset(top=self.y - self.area.y)


def flow(name: str, blocks: Sequence[Block], paper: Paper, *, landscape: bool = False) -> tuple[Draft, ...]:
    """Pour blocks over sheets.

    Args:
        name: name of the sheets; from the second on, `continued` is added.
        blocks: what to print, in order.
        paper: sheet size.
        landscape: whether the long side lies level.

    Returns:
        The sheets, at least one.
    """
    area = body(paper, landscape=landscape)
    sheets = _Sheets(area=area, y=area.y)
    for i, block in enumerate(blocks):
        if isinstance(block, Table):
            _pour_table(block, sheets)
            continue
        if isinstance(block, Heading) and sheets.items and not _room_below(blocks[i + 1 :], sheets):
            sheets.turn()
        _pour_words(block, sheets)
    sheets.done.append(sheets.items)
    return tuple(
        Draft(
            name=name if i == 0 else f"{name}, continued", items=tuple(items), landscape=landscape, told=tuple(blocks)
        )
        for i, items in enumerate(sheets.done)
    )


def lay(block: Paragraph | Table, area: Area) -> Laid:
    """Return a paragraph or a table at the top of an area, for a sheet that also carries a drawing.

    Args:
        block: words or rows.
        area: where; a paragraph takes the lines it needs, a table the rows that fit.

    Returns:
        What is drawn and the height used.
    """
    if isinstance(block, Table):
        return lay_table(block, area)
    height, pitch = block.height_mm, line_pitch_mm(block.height_mm)
    lines = wrapped(drawable(block.text), area.width, height, bold=block.bold)
    items = tuple(
        Text(at=(area.x, area.y + height + i * pitch), text=line, height_mm=height, bold=block.bold)
        for i, line in enumerate(lines)
        if line
    )
    return Laid(items=items, height_mm=len(lines) * pitch, rest=None)


def _room_below(following: Sequence[Block], sheets: _Sheets) -> bool:
    """Whether a heading set now would have some of what follows it on the same sheet, notes before a table included."""
    below = sheets.left().inset(top=line_pitch_mm(3.5) + _AFTER_HEADING_MM)
    for block in following:
        if isinstance(block, Table):
            return below.height > 0 and lay_table(block, below).rest is not block
        if isinstance(block, Heading) or block.height_mm > NOTES_MM:
            break
        lines = wrapped(drawable(block.text), sheets.area.width, block.height_mm, bold=block.bold)
        below = below.inset(top=len(lines) * line_pitch_mm(block.height_mm) + _AFTER_BLOCK_MM)
    return below.height >= _KEEP_MM


def _pour_words(block: Heading | Paragraph, sheets: _Sheets) -> None:
    """Set a heading or a paragraph, line by line."""
    heading = isinstance(block, Heading)
    height = 3.5 if isinstance(block, Heading) else block.height_mm
    bold = True if isinstance(block, Heading) else block.bold
    for line in wrapped(drawable(block.text), sheets.area.width, height, bold=bold):
        if sheets.left().height < 1.4 * height and sheets.items:
            sheets.turn()
        if line:
            sheets.items.append(Text(at=(sheets.area.x, sheets.y + height), text=line, height_mm=height, bold=bold))
        sheets.y += line_pitch_mm(height)
    sheets.y += _AFTER_HEADING_MM if heading else _AFTER_BLOCK_MM


def _pour_table(table: Table, sheets: _Sheets) -> None:
    """Lay a table, going on to further sheets until every row is down."""
    rest: Table | None = table
    while rest is not None:
        laid = lay_table(rest, sheets.left())
        if laid.rest is rest and not sheets.items:
            rest = first_row_split(rest, sheets.left())
            continue
        sheets.items.extend(laid.items)
        sheets.y += laid.height_mm + _AFTER_BLOCK_MM
        rest = laid.rest
        if rest is not None:
            sheets.turn()
