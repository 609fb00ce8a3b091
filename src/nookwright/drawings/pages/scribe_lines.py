"""Scribing sheets: under each scribed edge the gaps to its wall, place by place, with the band they lie in."""

from __future__ import annotations

from nookwright.basics.lengths import Marks, show, show_fine
from nookwright.drawings.blocks import Paragraph
from nookwright.drawings.flow import lay
from nookwright.drawings.lettering import NOTES_MM
from nookwright.drawings.page import Area, Item, Items, Line, Shape, Text
from nookwright.drawings.sheet import Draft, Issue, body
from nookwright.drawings.tables import Column, Table
from nookwright.stages.installing.install_plan import ScribeLine

PICTURE_MM, DEEPEST_MM = 22.0, 15.0
"""Height of an edge's picture, and of its widest gap in it. Our choice."""

ROW_OF = 10
"""Places in one row of the table. Our choice."""

AFTER_MM = 7.0

WORDS = (
    "The gap between each edge, cut straight and laid on, and its wall. Hold the board there, set a compass to the "
    "widest gap, run it along the wall, and cut to the line: what comes off at each place is the widest gap less the "
    "one told here. 19 times in 20 a gap lies between least and most. The pictures show the straight edge below, the "
    "wall above it in its band. The wall has the last word, not the table."
)


def scribe_sheets(lines: tuple[ScribeLine, ...], issue: Issue) -> tuple[Draft, ...]:
    """Return the sheets of scribed edges; none when no wall was looked at closely enough.

    Args:
        lines: the edges with their gaps.
        issue: units and paper.

    Returns:
        As many edges to a sheet as go on it.
    """
    if not lines:
        return ()
    area = body(issue.paper)
    words = lay(Paragraph(text=WORDS), area)
    done: list[tuple[Item, ...]] = []
    items: list[Item] = list(words.items)
    used = words.height_mm + 3.0
    for line in lines:
        drawn, height = _edge(line, area.inset(top=used), issue.marks)
        if used + height > area.height and items:
            done.append(tuple(items))
            items, used = [], 0.0
            drawn, height = _edge(line, area, issue.marks)
        items.extend(drawn)
        used += height + AFTER_MM
    done.append(tuple(items))
    return tuple(
        Draft(name="Scribed edges" if i == 0 else "Scribed edges, continued", items=each) for i, each in enumerate(done)
    )


def _edge(line: ScribeLine, area: Area, marks: Marks) -> tuple[Items, float]:
    """Return an edge's heading, picture and table at the top of an area, and the height they take. [mm]"""
    letter = chr(ord("a") + line.edge)
    title = f"{line.part} {line.name}, edge {letter}, to the {line.meets}"
    left_on = show(line.allowance_mm, marks, way="up", with_unit=True)
    note = f"Places count from {line.start}. Left on: {left_on}."
    items: list[Item] = [
        Text(at=(area.x, area.y + 3.5), text=title, height_mm=3.5, bold=True),
        Text(at=(area.x, area.y + 8.6), text=note, height_mm=3.5),
        *_picture(line, Area(x=area.x, y=area.y + 10.5, width=area.width, height=PICTURE_MM), marks),
    ]
    used = 10.5 + PICTURE_MM + 2.0
    for first in range(0, len(line.gaps), ROW_OF):
        laid = lay(_table(line, first, marks), area.inset(top=used))
        items.extend(laid.items)
        used += laid.height_mm + 1.5
    return tuple(items), used


def _picture(line: ScribeLine, area: Area, marks: Marks) -> Items:
    """Return the straight edge below, the wall above it, gaps drawn many times as wide, in their band."""
    most = max(line.deepest.high_mm, 0.5)
    across, up = area.width / line.gaps[-1].at_mm, DEEPEST_MM / most
    foot = area.bottom - 1.0
    xs = [area.x + across * gap.at_mm for gap in line.gaps]

    def at(heights: list[float]) -> tuple[tuple[float, float], ...]:
        return tuple((x, foot - up * height) for x, height in zip(xs, heights, strict=True))

    low, high = at([gap.low_mm for gap in line.gaps]), at([gap.high_mm for gap in line.gaps])
    ticks = [Line(start=(x, foot), end=(x, foot + 1.4)) for x in xs]
    times = round(up / across)
    words = f"{times} times as deep as long; widest {show_fine(most, marks)}" if times > 1 else ""
    return (
        Shape(points=(*low, *high[::-1]), pen=None, fill="tint"),
        Shape(points=at([gap.gap.value for gap in line.gaps]), closed=False, pen="wide"),
        Line(start=(area.x, foot), end=(area.x + area.width, foot), pen="wide"),
        *ticks,
        Text(at=(area.x + area.width, area.y + 2.5), text=words, height_mm=NOTES_MM, anchor="end"),
    )


def _table(line: ScribeLine, first: int, marks: Marks) -> Table:
    """Return ten places with their gaps, one under the other."""
    gaps = line.gaps[first : first + ROW_OF]
    blanks = ("",) * (ROW_OF - len(gaps))
    whole = Marks(units=marks.units, resolution=1.0 if marks.units == "mm" else 0.25)
    heads = [show(gap.at_mm, whole) for gap in gaps]
    columns = (
        Column(title="At", share=17.0),
        *(Column(title=head, share=16.0, align="end") for head in (*heads, *blanks)),
    )
    rows = (
        ("Gap", *(show(gap.gap.value, marks) for gap in gaps), *blanks),
        ("Least", *(show(gap.low_mm, marks, way="down") for gap in gaps), *blanks),
        ("Most", *(show(gap.high_mm, marks, way="up") for gap in gaps), *blanks),
    )
    return Table(columns=columns, rows=rows, pad_mm=0.5)
