"""The field sheet's page for what is read along surfaces: straightedge gaps, tapes between surfaces, plumb offsets."""

from __future__ import annotations

from nookwright.basics.lengths import Units
from nookwright.drawings.blocks import Paragraph
from nookwright.drawings.flow import lay
from nookwright.drawings.lettering import NOTES_MM, width_mm
from nookwright.drawings.page import Area, Item, Items, Line, Shape, Text
from nookwright.drawings.pages.field_rows import box, labelled_box
from nookwright.drawings.sheet import Draft, Issue, body
from nookwright.stages.inputs.survey import Survey
from nookwright.stages.survey.kinds import shape_in

LAYINGS, SPANS, PLANES, OFFSETS = 3, 4, 2, 4
"""How many of each go on the page. Our choice."""

GAPS = 11
"""Boxes for the gaps of one laying: at 0, then 1 to 10 steps along. Our choice."""

ROW_MM, AFTER_MM, PICTURE_MM, BETWEEN_MM = 8.4, 2.4, 15.0, 1.8

WHEN = (
    "Only where an edge will be scribed to a wall, or a clear size decides. Into room.yaml they go under gaps, tape "
    "and offsets; the names of this room's surfaces: "
)

EDGE_WORDS = (
    "The gap is read from the straightedge to the surface: it is 0 where they touch, and never below 0. A dash where "
    "none could be read. The small figure in a box counts the steps from where the edge begins. Three gaps or more; "
    "laid anew, it is another row. Ways are up, down, left, right, out and back."
)
SPAN_WORDS = (
    "Square from one surface to the other, level; or plumb from the floor to the ceiling. It is taken at a spot, or so "
    "far beside one, which way."
)
PLANE_WORDS = (
    "The offset is read from the line or laser plane to the wall, square to it, and is never below 0: where it is "
    "smaller the wall comes nearer. Two spots or more at different heights, the line left as it hangs."
)


def edges_page(survey: Survey, issue: Issue) -> Draft:
    """Return the page.

    Args:
        survey: says which room and what lengths are written in.
        issue: paper.
    """
    area = body(issue.paper)
    unit = "in" if survey.units == "inch" else "mm"
    shape = shape_in(survey)
    names = ", ".join((*shape.surfaces, *shape.optional))
    items: list[Item] = []
    used = 0.0
    words = lay(Paragraph(text=f"{WHEN}{names}."), area)
    items.extend(words.items)
    used += words.height_mm + AFTER_MM
    for title, note, rows in (
        ("Straightedge laid on a surface", EDGE_WORDS, _layings(unit)),
        ("Tape from surface to surface", SPAN_WORDS, _spans(unit)),
        ("Plumb line or laser plane before a wall", PLANE_WORDS, _planes(unit)),
    ):
        items.append(Text(at=(area.x, area.y + used + 3.5), text=title, height_mm=3.5, bold=True))
        laid = lay(Paragraph(text=note, height_mm=NOTES_MM), area.inset(top=used + 5.2))
        items.extend(laid.items)
        used += 5.2 + laid.height_mm + 0.8
        if title.startswith("Straightedge"):
            items.extend(_picture(area.inset(top=used), survey.units))
            used += PICTURE_MM + 1.5
        for row in rows:
            items.extend(_row(row, area.x, area.y + used))
            used += ROW_MM + (BETWEEN_MM if row[0][0] == "gaps" else 0.0)
        used += AFTER_MM
    return Draft(name="Field sheet: edges and spans", items=tuple(items))


Piece = tuple[str, float, str]
"""Words, the width of the box behind them [mm], and its unit; a box of no width is words alone."""


def _layings(unit: str) -> list[tuple[Piece, ...]]:
    """Return three rows for each laying: where it lies, how far apart gaps are read, and the gaps."""
    rows: list[tuple[Piece, ...]] = []
    for _ in range(LAYINGS):
        rows.append((("surface", 30.0, ""), ("from spot", 17.0, ""), ("towards a spot or way", 26.0, "")))
        rows.append((("a gap every", 18.0, unit), ("begins beside the spot by", 16.0, unit), ("which way", 20.0, "")))
        rows.append((("gaps", 0.0, ""), *(("", 13.4, str(step)) for step in range(GAPS))))
    return rows


def _spans(unit: str) -> list[tuple[Piece, ...]]:
    """Return a row for each tape."""
    return [
        (
            ("from", 19.0, ""),
            ("to", 19.0, ""),
            ("at", 15.0, "spot"),
            ("beside", 14.0, unit),
            ("way", 11.0, ""),
            ("reads", 18.0, unit),
        )
        for _ in range(SPANS)
    ]


def _planes(unit: str) -> list[tuple[Piece, ...]]:
    """Return a row for each set-up: its wall, then spots with their offsets."""
    return [
        (("wall", 24.0, ""), *(piece for _ in range(OFFSETS) for piece in (("", 13.0, "spot"), ("", 18.0, unit))))
        for _ in range(PLANES)
    ]


def _row(pieces: tuple[Piece, ...], x: float, y: float) -> Items:
    """Return words and boxes side by side."""
    items: list[Item] = []
    for words, wide, unit in pieces:
        if not wide:
            items.append(Text(at=(x, y + 5.0), text=words, height_mm=3.5))
            x += width_mm(words, 3.5) + 2.5
        elif words:
            drawn, x = labelled_box(words, x, y, wide, unit=unit)
            items.extend(drawn)
        else:
            items.extend(box(x, y, wide, unit=unit, high=7.0))
            x += wide + 1.2
    return tuple(items)


def _picture(area: Area, units: Units) -> Items:
    """Return a straightedge on a hollow wall with its gaps, and the row that would be written."""
    left, right, line = area.x + 2.0, area.x + 62.0, area.y + 5.5
    wall = [
        (left + 6.0 * i, line + depth) for i, depth in enumerate((0, 0.6, 1.8, 3.2, 3.6, 3.0, 1.6, 0.5, 0, 0.2, 0.8))
    ]
    read = "0, 3, 1.5" if units == "mm" else "0, 1/8, 1/16"
    ticks = [Line(start=(x, line), end=(x, y)) for x, y in (wall[4], wall[7])]
    step = "every 400 mm" if units == "mm" else "every 16 in"
    return (
        Shape(points=(*wall, (right, line + 7.5), (left, line + 7.5)), pen=None, fill="hatch"),
        Shape(points=tuple(wall), closed=False, pen="wide"),
        Shape(points=((left, line - 2.4), (right, line - 2.4), (right, line), (left, line)), fill="white"),
        *ticks,
        Text(at=(right + 4.0, line + 0.4), text=f"{step}, from the left: {read}", height_mm=3.5, bold=True),
        Text(at=(right + 4.0, line + 5.2), text="the wall is hollow in the middle", height_mm=NOTES_MM),
    )
