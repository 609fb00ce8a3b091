"""Small pictures of a field sheet: which sign a reading has, and how one person alone holds a tape."""

from __future__ import annotations

from collections.abc import Callable

from nookwright.basics.lengths import Units
from nookwright.drawings.lettering import NOTES_MM, line_pitch_mm, true_fractions, wrapped
from nookwright.drawings.page import Area, Circle, Item, Items, Line, Shape, Text

PICTURE_MM = 21.0
"""Height of a picture without its words. Our choice."""

WORDS = (
    ("Level", "A spot under the line is written with a minus, a spot over it without."),
    ("Plumb line", "Wider below: the wall leans into the room, and the reading is above 0."),
    ("Wall to wall", "Never read in the bend: push the case against the wall and add its length."),
    ("Alone", "A pin, a clamp or masking tape holds the hook at its mark while you read at the other end."),
)
"""Title and words of each picture. Common practice, no source."""


FIGURES: dict[Units, tuple[str, str, str, str, str]] = {
    "mm": ("820", "1540", "14", "6", "reads 8"),
    "inch": ("32 1/4", "60 5/8", "9/16", "1/4", "reads 5/16"),
}
"""Readings in the pictures: under and over the level line, gap below and above, and the plumb reading they give."""


def pictures(area: Area, units: Units) -> tuple[Items, float]:
    """Return the four pictures side by side at the top of an area, and the height they take. [mm]"""
    under, over, below, above, less = (true_fractions(figure) for figure in FIGURES[units])
    wide = area.width / len(WORDS)
    draws: tuple[Callable[[Area], Items], ...] = (
        lambda cell: _level(cell, under, over),
        lambda cell: _plumb(cell, below, above, less),
        _wall_to_wall,
        _alone,
    )
    items: list[Item] = []
    deepest = 0.0
    for i, ((title, words), draw) in enumerate(zip(WORDS, draws, strict=True)):
        cell = Area(x=area.x + i * wide, y=area.y, width=wide - 4.0, height=area.height)
        items.append(Text(at=(cell.x, cell.y + 3.5), text=title, height_mm=3.5, bold=True))
        items.extend(draw(Area(x=cell.x, y=cell.y + 5.5, width=cell.width, height=PICTURE_MM)))
        lines = wrapped(words, cell.width, NOTES_MM)
        top = cell.y + 5.5 + PICTURE_MM + 3.8
        pitch = line_pitch_mm(NOTES_MM)
        items.extend(Text(at=(cell.x, top + n * pitch), text=line, height_mm=NOTES_MM) for n, line in enumerate(lines))
        deepest = max(deepest, top + len(lines) * pitch - area.y)
    return tuple(items), deepest


def _arrow(start: tuple[float, float], end: tuple[float, float]) -> Items:
    """Return a line with a head at its end, level or upright."""
    (x0, y0), (x1, y1) = start, end
    dx, dy = (x1 > x0) - (x1 < x0), (y1 > y0) - (y1 < y0)
    back = (x1 - 1.8 * dx, y1 - 1.8 * dy)
    head = (
        (back[0] - 0.8 * dy, back[1] - 0.8 * dx), end, (back[0] + 0.8 * dy, back[1] + 0.8 * dx),
    )  # fmt: skip
    return (Line(start=start, end=end), Shape(points=head, closed=False))


def _wall(x: float, top: float, bottom: float, *, lean: float = 0.0, left: bool = True) -> Items:
    """Return an upright wall in section, hatched on its own side; `lean` is how far its top stands to the right."""
    band = -2.5 if left else 2.5
    edge = ((x, bottom), (x + lean, top))
    return (
        Shape(points=(*edge, (x + lean + band, top), (x + band, bottom)), pen=None, fill="hatch"),
        Shape(points=edge, closed=False, pen="wide"),
    )


def _level(area: Area, under: str, over: str) -> Items:
    """Return floor, level line and ceiling, with the signs of what lies under and over the line."""
    x, top, bottom, line = area.x, area.y + 1.0, area.bottom - 1.0, area.y + 0.58 * area.height
    return (
        Line(start=(x, bottom), end=(x + 38.0, bottom), pen="wide"),
        Line(start=(x, top), end=(x + 38.0, top), pen="wide"),
        Line(start=(x, line), end=(x + 38.0, line), dash="chain"),
        *_arrow((x + 9.0, bottom), (x + 9.0, line)),
        *_arrow((x + 22.0, top), (x + 22.0, line)),
        Text(at=(x + 10.5, (line + bottom) / 2 + 1.5), text=f"\u2212{under}", height_mm=3.5, bold=True),
        Text(at=(x + 24.0, (line + top) / 2 + 1.5), text=over, height_mm=3.5, bold=True),
        Text(at=(x + 38.0, line + 3.6), text="the line", height_mm=NOTES_MM, anchor="end"),
    )


def _plumb(area: Area, below: str, above: str, less: str) -> Items:
    """Return a wall that leans into the room beside a plumb line, with both gaps."""
    x, top, bottom = area.x + 3.5, area.y, area.bottom
    line = x + 14.0
    low, high = bottom - 3.0, top + 6.0
    return (
        *_wall(x, top, bottom, lean=7.0),
        Line(start=(line, top), end=(line, low + 1.0)),
        Shape(points=((line - 1.0, low + 0.6), (line + 1.0, low + 0.6), (line, bottom)), fill="grey"),
        *_arrow((line, low - 1.4), (x + 1.3, low - 1.4)),
        *_arrow((line, high), (x + 5.6, high)),
        Text(at=(line + 2.0, high + 1.2), text=f"gap above {above}", height_mm=NOTES_MM),
        Text(at=(line + 2.0, low - 0.2), text=f"gap below {below}", height_mm=NOTES_MM),
        Text(at=(line + 2.0, (high + low) / 2 + 1.6), text=less, height_mm=3.5, bold=True),
    )


def _wall_to_wall(area: Area) -> Items:
    """Return a tape between two walls with its case standing against one."""
    left, right, y = area.x + 3.0, area.x + 38.0, area.y + 15.0
    case = ((right - 8.0, y - 6.5), (right, y - 6.5), (right, y), (right - 8.0, y))
    return (
        *_wall(left, area.y, area.bottom),
        *_wall(right, area.y, area.bottom, left=False),
        Line(start=(left, y), end=(right - 8.0, y), pen="wide"),
        Shape(points=case, fill="tint"),
        Text(at=(left + 3.0, y - 2.0), text="read here", height_mm=NOTES_MM),
        *_arrow((left + 19.0, y - 2.6), (right - 8.6, y - 2.6)),
        Line(start=(right - 8.0, y + 3.2), end=(right, y + 3.2)),
        Line(start=(right - 8.0, y + 2.2), end=(right - 8.0, y + 4.2)),
        Text(at=(right - 9.4, y + 4.2), text="+ case", height_mm=NOTES_MM, anchor="end"),
    )


def _alone(area: Area) -> Items:
    """Return a tape's hook held at its mark, and a reader at the other end."""
    x, right, y = area.x + 4.0, area.x + 36.0, area.y + 15.0
    strip = ((x + 1.0, y - 1.6), (x + 5.0, y - 2.8), (x + 6.2, y + 0.8), (x + 2.2, y + 2.0))
    eye = (right - 2.0, y - 9.0)
    return (
        Line(start=(x, y), end=(right, y), pen="wide"),
        Line(start=(x, y - 1.5), end=(x, y + 2.5), pen="wide"),
        Shape(points=strip, fill="tint"),
        Circle(centre=(x, y), radius=0.9, fill="grey"),
        Text(at=(x - 2.0, y - 5.0), text="held here", height_mm=NOTES_MM),
        Circle(centre=eye, radius=1.8, fill="white"),
        Circle(centre=eye, radius=0.5, fill="grey"),
        *_arrow((right - 2.0, y - 6.4), (right - 2.0, y - 1.0)),
        Text(at=(right, y + 5.0), text="read here", height_mm=NOTES_MM, anchor="end"),
    )
