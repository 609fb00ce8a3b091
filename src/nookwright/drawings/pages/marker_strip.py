"""The marker strip and its cards at full size: sheets to glue side by side, or one long piece from a roll."""

from __future__ import annotations

from collections.abc import Iterator

from nookwright.drawings.page import PAPER_MM, Item, Items, Line, Page, Paper, Shape, Text
from nookwright.geometry.frame import Point2
from nookwright.stages.survey.marker_strip import (
    CARD_WIDTH_MM,
    CARDS,
    CELLS,
    HALF_WIDTH_MM,
    MARKER_MM,
    NOSE_MM,
    PITCH_MM,
    ROW_MM,
    RULER_MM,
    SHEET_COLUMNS,
    TAIL_MM,
    columns_for,
    squares_of,
)

CARDS_ACROSS = 6
CARD_GAP_MM = 3.0
TOP_MM = 20.0
ROLL_COLUMNS = 20

HOW_TO = (
    "Print at full size (100 %). The ruler must measure 200 mm (7 7/8 in); if not, write into room.yaml what it does.",
    "Cut along the outline. Glue the sheets flat on a straight board, in order, edge to edge.",
)
HOW_TO_ROLL = ("Print at full size (100 %) and glue it flat on a straight board.",)
HOW_TO_CARDS = (
    "Glue on thin card and cut out with a knife and straightedge, the end marked WALL most carefully.",
    "Lay the strip beside the wall, its side marked WALL about 20 mm (3/4 in) away. Lay the cards across it",
    "100 mm (4 in) apart, each with its WALL end pushed flat against the wall. Take one picture from straight",
    "above with all of it in view.",
)


def strip_pages(paper: Paper, length_mm: float = 1200.0) -> tuple[Page, ...]:
    """Return the strip and its cards, to be printed at full size.

    Args:
        paper: A4 or Letter for sheets to be glued side by side; Roll for one long piece, its cards on A4.
        length_mm: length wanted; sheets are whole, a roll's piece has one length. [mm]

    Returns:
        The pages: the strip first, then the cards.
    """
    if paper == "Roll":
        return _piece(paper, 0, ROLL_COLUMNS, "Marker strip", HOW_TO_ROLL), *_cards("A4")
    columns = columns_for(length_mm)
    sheets = [
        _piece(paper, first, SHEET_COLUMNS, f"Marker strip, sheet {number} of {columns // SHEET_COLUMNS}", HOW_TO)
        for number, first in enumerate(range(0, columns, SHEET_COLUMNS), start=1)
    ]
    return *sheets, *_cards(paper)


def _piece(paper: Paper, first: int, columns: int, name: str, how_to: tuple[str, ...]) -> Page:
    """Return a piece of the strip with its columns from `first` on, in the middle of a landscape page."""
    _, width = PAPER_MM[paper]
    left, middle = (width - columns * PITCH_MM) / 2, TOP_MM + HALF_WIDTH_MM
    right, top, foot = left + columns * PITCH_MM, middle - HALF_WIDTH_MM, middle + HALF_WIDTH_MM
    items: list[Item] = [Shape(points=((left, top), (right, top), (right, foot), (left, foot)))]
    for column in range(columns):
        x = left + (column + 0.5) * PITCH_MM
        for row, y in enumerate((middle - ROW_MM, middle + ROW_MM)):
            items += _marker(CARDS + 2 * (first + column) + row, (x, y))
        items += _tick(x, middle, f"{(first + column + 0.5) * PITCH_MM:.0f}")
    start = left + (columns * PITCH_MM - RULER_MM) / 2 if columns == SHEET_COLUMNS else left + PITCH_MM
    items += _ruler(start, middle)
    items.append(Text(at=((left + right) / 2, top - 3.0), text="WALL", height_mm=5.0, anchor="middle", bold=True))
    items += _words(left, foot, (name, *how_to))
    return Page(name=name, paper=paper, landscape=True, items=tuple(items))


def _tick(x: float, middle: float, text: str) -> Items:
    return (
        Line(start=(x, middle - 20.0), end=(x, middle - 15.0)),
        Text(at=(x, middle - 12.0), text=text, height_mm=3.0, anchor="middle"),
    )


def _ruler(start: float, middle: float) -> Items:
    """Return the line that tells the printed size, with a tick each 10 mm."""
    ticks = [
        Line(start=(start + 10.0 * i, middle + 16.0), end=(start + 10.0 * i, middle + (10.0 if i % 10 == 0 else 13.0)))
        for i in range(round(RULER_MM / 10) + 1)
    ]
    words = Text(at=(start + RULER_MM / 2 + 4.0, middle + 8.0), text=f"{RULER_MM:.0f} mm", height_mm=3.0)
    return (Line(start=(start, middle + 16.0), end=(start + RULER_MM, middle + 16.0)), *ticks, words)


def _cards(paper: Paper) -> tuple[Page, ...]:
    """Return the cards, upright, side by side on landscape pages."""
    _, width = PAPER_MM[paper]
    left = (width - CARDS_ACROSS * CARD_WIDTH_MM - (CARDS_ACROSS - 1) * CARD_GAP_MM) / 2
    firsts = range(0, CARDS, CARDS_ACROSS)
    pages = []
    for sheet, first in enumerate(firsts, start=1):
        items: list[Item] = []
        for place, number in enumerate(range(first, min(first + CARDS_ACROSS, CARDS))):
            items += _card(number, (left + place * (CARD_WIDTH_MM + CARD_GAP_MM), TOP_MM))
        name = f"Cards of the marker strip, page {sheet} of {len(firsts)}"
        items += _words(left, TOP_MM + NOSE_MM + TAIL_MM, (name, *HOW_TO_CARDS))
        pages.append(Page(name=name, paper=paper, landscape=True, items=tuple(items)))
    return tuple(pages)


def _words(left: float, above: float, lines: tuple[str, ...]) -> Items:
    """Return lines of words under a drawing, the first one bold."""
    return tuple(
        Text(at=(left, above + 8.0 + 5.0 * i), text=text, height_mm=3.0, bold=i == 0) for i, text in enumerate(lines)
    )


def _card(number: int, corner: Point2) -> Items:
    x, y = corner
    right, foot = x + CARD_WIDTH_MM, y + NOSE_MM + TAIL_MM
    middle = x + CARD_WIDTH_MM / 2
    return (
        Shape(points=((x, y), (right, y), (right, foot), (x, foot))),
        Text(at=(middle, y + 8.0), text="WALL", height_mm=4.0, anchor="middle", bold=True),
        Text(at=(middle, y + 60.0), text=f"card {number + 1}", height_mm=4.0, anchor="middle"),
        *_marker(number, (middle, y + NOSE_MM)),
    )


def _marker(number: int, middle: Point2) -> Iterator[Item]:
    """Give a marker: a black square, and on it the white ones, run by run so that no seams show."""
    squares, side = squares_of(number), MARKER_MM / CELLS
    left, top = middle[0] - MARKER_MM / 2, middle[1] - MARKER_MM / 2

    def block(column: int, row: int, width: int, height: int, *, black: bool) -> Shape:
        x, y = left + column * side, top + row * side
        right, foot = x + width * side, y + height * side
        corners = ((x, y), (right, y), (right, foot), (x, foot))
        return Shape(points=corners, pen=None, fill="black" if black else "white")

    yield block(0, 0, CELLS, CELLS, black=True)
    for line in range(CELLS):
        for start, length in _white_runs(squares[line]):
            yield block(start, line, length, 1, black=False)
        for start, length in _white_runs(tuple(row[line] for row in squares)):
            if length > 1:
                yield block(line, start, 1, length, black=False)


def _white_runs(squares: tuple[bool, ...]) -> Iterator[tuple[int, int]]:
    """Give where runs of white squares start, and how long they are."""
    start = None
    for place, black in enumerate((*squares, True)):
        if not black and start is None:
            start = place
        elif black and start is not None:
            yield start, place - start
            start = None
