"""Clearance on paper: do words run into other words or lines, and where is there room for them?"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from nookwright.drawings.lettering import text_corners
from nookwright.drawings.page import Area, Circle, Item, Line, Shape, Text
from nookwright.geometry.frame import Point2

Corners = Sequence[Point2]
Box = tuple[float, float, float, float]

WORDS_GAP_MM = 1.6
"""Clear space between words: less, and two sizes read as one. Common practice, no source."""

LINES_GAP_MM = 0.3
"""Clear space between words and a line. Common practice, no source."""


def touching(a: Corners, b: Corners, *, gap_mm: float = 0.0) -> bool:
    """Return whether two convex outlines come nearer than the gap; two points make a line.

    Separating axes: outlines are apart when some edge's normal keeps their shadows apart.
    """
    for outline in (a, b):
        for i, (x1, y1) in enumerate(outline):
            x2, y2 = outline[(i + 1) % len(outline)]
            nx, ny = y1 - y2, x2 - x1
            size = (nx * nx + ny * ny) ** 0.5
            if size < 1e-9:
                continue
            shadow_a = [(x * nx + y * ny) / size for x, y in a]
            shadow_b = [(x * nx + y * ny) / size for x, y in b]
            if max(shadow_a) + gap_mm <= min(shadow_b) or max(shadow_b) + gap_mm <= min(shadow_a):
                return False
    return True


def box_of(corners: Corners) -> Box:
    """Return the upright box round an outline: least x, greatest x, least y, greatest y. [mm]"""
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return min(xs), max(xs), min(ys), max(ys)


def _any_touching(corners: Corners, others: list[Corners], boxes: list[Box], gap_mm: float) -> bool:
    """Return whether an outline comes nearer than the gap to any of the others, whose boxes are kept beside them."""
    boxes.extend(box_of(other) for other in others[len(boxes) :])
    x0, x1, y0, y1 = box_of(corners)
    x0, x1, y0, y1 = x0 - gap_mm, x1 + gap_mm, y0 - gap_mm, y1 + gap_mm
    for i, (bx0, bx1, by0, by1) in enumerate(boxes):
        near = bx0 < x1 and bx1 > x0 and by0 < y1 and by1 > y0
        if near and touching(corners, others[i], gap_mm=gap_mm):
            return True
    return False


@dataclass(slots=True)
class Taken:
    """What already stands on the paper, as convex outlines; words look for a free place among it.

    Args:
        words, lines: what stands there.
        within: the area words must keep inside; None for no limit.
    """

    words: list[Corners] = field(default_factory=list)
    lines: list[Corners] = field(default_factory=list)
    within: Area | None = None
    _word_boxes: list[Box] = field(default_factory=list, init=False)
    _line_boxes: list[Box] = field(default_factory=list, init=False)

    def note(self, items: Iterable[Item]) -> None:
        """Keep the place of words and lines; a shape keeps its outline's lines, not its inside."""
        for item in items:
            if isinstance(item, Text):
                self.words.append(text_corners(item))
            elif isinstance(item, Circle):
                (x, y), r = item.centre, item.radius
                self.words.append(((x - r, y - r), (x + r, y - r), (x + r, y + r), (x - r, y + r)))
            else:
                self.lines.extend(drawn_lines(item))

    def free(self, corners: Corners) -> bool:
        """Return whether words put there stand inside the area and clear of other words and of lines."""
        return (
            self._inside(corners)
            and not _any_touching(corners, self.words, self._word_boxes, WORDS_GAP_MM)
            and not _any_touching(corners, self.lines, self._line_boxes, LINES_GAP_MM)
        )

    def _inside(self, corners: Corners) -> bool:
        area = self.within
        return area is None or all(area.x <= x <= area.right and area.y <= y <= area.bottom for x, y in corners)

    def clear_of_other_words(self, corners: Corners) -> bool:
        """Return whether words put there stand inside the area and clear of other words, lines or not."""
        return self._inside(corners) and not _any_touching(corners, self.words, self._word_boxes, LINES_GAP_MM)

    def clear_of_words(self, line: Line) -> bool:
        """Return whether a line crosses no words."""
        return not _any_touching((line.start, line.end), self.words, self._word_boxes, 0.1)

    def first_free(self, candidates: Sequence[Text]) -> int:
        """Return the index of the first candidate with nothing in its way; the last one when none is free."""
        for i, text in enumerate(candidates):
            if self.free(text_corners(text)):
                return i
        return len(candidates) - 1


def drawn_lines(item: Line | Shape) -> list[Corners]:
    """Return the straight lines an item draws; none for a fill without an outline."""
    if isinstance(item, Line):
        return [(item.start, item.end)]
    if item.pen is None:
        return []
    ends = item.points[1:] + (item.points[:1] if item.closed else ())
    return list(zip(item.points, ends, strict=False))


def extremes(item: Item) -> Corners:
    """Return points between which an item lies. [mm]"""
    if isinstance(item, Text):
        return text_corners(item)
    if isinstance(item, Line):
        return (item.start, item.end)
    if isinstance(item, Shape):
        return item.points
    (x, y), r = item.centre, item.radius
    return ((x - r, y - r), (x + r, y + r))


def around(items: Iterable[Item], edge_mm: float) -> Area:
    """Return the area that items take, with a clear edge around them. [mm]"""
    points = [point for item in items for point in extremes(item)]
    x0, y0 = (min(point[axis] for point in points) - edge_mm for axis in (0, 1))
    x1, y1 = (max(point[axis] for point in points) + edge_mm for axis in (0, 1))
    return Area(x=x0, y=y0, width=x1 - x0, height=y1 - y0)
