"""The printed marker strip and its cards: where every marker is, and what it looks like.

The strip lies on a flat board beside a wall; its numbers grow to the right for someone who faces the wall. Two rows of
markers run along it. Cards lie across it, each with its square end pushed against the wall: how far a card's marker
stands from the strip's middle line tells how far the wall is there. Nothing of the wall itself need be seen.

Along the strip is x, towards the wall is y; the strip's zero lies on its middle line.
"""

from __future__ import annotations

from dataclasses import dataclass

MARKER_MM = 30.0
"""Side of a marker, its black border included. [mm]"""

PITCH_MM = 60.0
"""From one marker of a row to the next. [mm]"""

ROW_MM = 45.0
"""How far the middles of both rows lie from the middle line. [mm]"""

HALF_WIDTH_MM = 70.0
"""Half of the strip's width. [mm]"""

SHEET_COLUMNS = 4
"""Columns of markers on one sheet of paper."""

MOST_COLUMNS = 42

CARDS = 16
"""Markers 0 to 15 are cards; the strip's follow, wall row first in every column."""

NOSE_MM = 100.0
"""From the middle of a card's marker to its end against the wall. [mm]"""

CARD_WIDTH_MM = 40.0
TAIL_MM = 20.0
"""From the middle of a card's marker to its other end. [mm]"""

RULER_MM = 200.0
"""Length of the line on every sheet that tells at which size it was printed. [mm]"""

CELLS = 6
"""A marker is 6 x 6 squares: 4 x 4 that differ, in a black border."""

_CODES = """
b532 0f9a 332d 9946 549e 79cd 9e2e c4f2 feda cf56 f991 11a7 0eb7 2a0f 24b1 263e 4665 6600 6c5e 76af
868b b02b ccd5 dd82 fe47 9471 ace4 a554 2123 346f 4415 57b2 9ecf f0cb 08ae 0929 1875 04ff 0df6 1c5a
1718 2a28 328c 38b2 24e8 2eeb 2d3f 4b64 502e 5013 5194 5568 5d41 5f97 6801 6867 6124 61e9 6b12 6fe5
67df 7e1b 80a0 8344 8ba2 937a 846c 852a 859c 9c89 9fa1 bb7c bc04 b65b bfc8 b7ab ca1f c962 d958 d3d5
cc98 c7a0 c537 e95d f925 fbbb ee2a f74d 3575 8aad 7617 0acf 064b 2dc1 49d8 43f4 4f36 4fd3 69e4 70c7
"""
"""The inner squares of markers 0 to 99, row by row from the upper left, a white one as 1. Source: the dictionary
4x4_100 of the open-source computer vision library OpenCV (Apache License 2.0), written out once. Status: read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StripMarker:
    """A marker of the strip.

    Args:
        number: its number.
        middle: where its middle is, on its sheet and on the strip alike. [mm]
        sheet: the sheet it is printed on, from 0.
    """

    number: int
    middle: tuple[float, float]
    sheet: int


def squares_of(number: int) -> tuple[tuple[bool, ...], ...]:
    """Return the squares of a marker, row by row from its upper left; True is black."""
    code = int(_CODES.split()[number], 16)
    bits = [not code >> (15 - place) & 1 for place in range(16)]
    inner = [(True, *bits[row * 4 : row * 4 + 4], True) for row in range(4)]
    edge = (True,) * CELLS
    return (edge, *inner, edge)


def columns_for(length_mm: float) -> int:
    """Return how many columns a strip of at least this length has, whole sheets of them. [mm]"""
    sheets = max(1, round(-(-length_mm // (SHEET_COLUMNS * PITCH_MM))))
    return min(sheets * SHEET_COLUMNS, MOST_COLUMNS // SHEET_COLUMNS * SHEET_COLUMNS)


def strip_marker(number: int) -> StripMarker | None:
    """Return a marker of the strip by its number; None when that number is a card's or none."""
    column, row = divmod(number - CARDS, 2)
    if not 0 <= column < MOST_COLUMNS:
        return None
    middle = ((column + 0.5) * PITCH_MM, ROW_MM if row == 0 else -ROW_MM)
    return StripMarker(number=number, middle=middle, sheet=column // SHEET_COLUMNS)


def corners_about(middle: tuple[float, float]) -> tuple[tuple[float, float], ...]:
    """Return a marker's corners about its middle, clockwise from the upper left as it is printed. [mm]"""
    half, (x, y) = MARKER_MM / 2, middle
    return ((x - half, y + half), (x + half, y + half), (x + half, y - half), (x - half, y - half))
