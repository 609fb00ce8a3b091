"""Clearance on paper: do words run into other words or lines, and where is there room for them?"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from nookwright.drawings.lettering import text_corners
from nookwright.drawings.page import Area, Circle, Item, Line, Shape, Text
from nookwright.geometry.frame import Point2

Corners = Sequence[Point2]

WORDS_GAP_MM = 1.6
"""Clear space between words: less, and two sizes read as one. Common practice, no source."""

LINES_GAP_MM = 0.3
"""Clear space between words and a line. Common practice, no source."""


def touching(a: Corners, b: Corners, *, gap_mm: float = 0.0) -> bool:
    """Return whether two convex outlines come nearer than the gap; two points make a line.

    Separating axes: outlines are apart when some edge's normal keeps their shadows apart.
    """
    if _boxes_apart(a, b, gap_mm):
        return False
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


def _boxes_apart(a: Corners, b: Corners, gap_mm: float) -> bool:
    """Whether the upright boxes about two outlines are apart, which settles most pairs quickly."""
    for axis in (0, 1):
        in_a, in_b = [point[axis] for point in a], [point[axis] for point in b]
        if max(in_a) + gap_mm <= min(in_b) or max(in_b) + gap_mm <= min(in_a):
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
        return self._inside(corners) and not (
            any(touching(corners, other, gap_mm=WORDS_GAP_MM) for other in self.words)
            or any(touching(corners, other, gap_mm=LINES_GAP_MM) for other in self.lines)
        )

    def _inside(self, corners: Corners) -> bool:
        area = self.within
        return area is None or all(area.x <= x <= area.right and area.y <= y <= area.bottom for x, y in corners)

    def clear_of_other_words(self, corners: Corners) -> bool:
        """Return whether words put there stand inside the area and clear of other words, lines or not."""
        return self._inside(corners) and not any(touching(corners, other, gap_mm=LINES_GAP_MM) for other in self.words)

    def clear_of_words(self, line: Line) -> bool:
        """Return whether a line crosses no words."""
        return not any(touching((line.start, line.end), other, gap_mm=0.1) for other in self.words)

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
