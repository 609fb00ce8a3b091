"""Cutting chapter: how well stock is used, every sheet with its cuts in order, every board with its pieces."""

from __future__ import annotations

import math
from collections.abc import Sequence

from nookwright.basics.lengths import Marks, show
from nookwright.drawings.clearance import Taken
from nookwright.drawings.dimensions import Chain, chain, ring, single
from nookwright.drawings.flow import Block, Heading, Paragraph, flow
from nookwright.drawings.lettering import drawable, true_fractions, width_mm
from nookwright.drawings.page import Area, Item, Items, Line, Shape, Text
from nookwright.drawings.sheet import Draft, Issue, body, chosen_scale
from nookwright.drawings.tables import Column, Table
from nookwright.drawings.view import View, fitted
from nookwright.geometry.frame import Point2
from nookwright.stages.cutting.cutting_plan import BoardPiece, BoardPlan, Cut, CuttingPlan, SheetPlan
from nookwright.stages.inputs.shop import Shop
from nookwright.stages.parts.part import PartList

RING_MM = 3.6
BAR_MM = 9.0
BOARD_BLOCK_MM = 48.0
"""Height one board takes on a sheet. [mm]"""

Corners = tuple[Point2, Point2, Point2, Point2]


def pages(cutting: CuttingPlan, parts: PartList, shop: Shop, issue: Issue) -> tuple[Draft, ...]:
    """Return the chapter's sheets.

    Args:
        cutting: what is cut from what.
        parts: for the parts' names.
        shop: for the stocks' names.
        issue: units and paper.

    Returns:
        The summary; then for each sheet its drawing and its table of cuts; then the boards.
    """
    drafts = list(_summary(cutting, shop, issue))
    for sheet in cutting.sheets:
        drafts.append(_sheet_drawing(sheet, shop, issue))
        drafts.extend(_sheet_tables(sheet, parts, shop, issue))
    drafts.extend(_boards(cutting.boards, shop, issue))
    return tuple(drafts)


def _stock_name(key: str, shop: Shop) -> str:
    stock = shop.stock(key)
    return stock.name if stock is not None else key


def _summary(cutting: CuttingPlan, shop: Shop, issue: Issue) -> tuple[Draft, ...]:
    """Return how much stock is used, beside the least any plan could do with."""
    rows = tuple(
        (_stock_name(one.stock, shop), str(one.used), str(one.at_least), f"{one.yield_share:.0%}", one.bound_says)
        for one in cutting.summaries
    )
    blocks: list[Block] = [
        Paragraph(
            text=f"The saw's cut is {shop.saw.kerf_mm:g} mm wide. {shop.saw.trim_mm:g} mm is trimmed off every factory edge "
            f"of a sheet, and {shop.saw.end_trim_mm:g} mm off the first end of a board. Set the fence to the figures in the "
            "tables; make the cuts in the order of their numbers."
        ),
        Table(
            columns=(
                Column(title="Stock", share=48),
                Column(title="Used", share=18, bold=True),
                Column(title="No plan needs fewer than", share=34),
                Column(title="Share used", share=24),
                Column(title="Because", share=62),
            ),
            rows=rows,
        ),
    ]
    if cutting.too_large:
        blocks += [
            Heading(text="These do not come out of any stock in the shop file"),
            Table(
                columns=(
                    Column(title="Part", share=20, bold=True),
                    Column(title="Length", share=25),
                    Column(title="Width", share=25),
                    Column(title="What to do", share=116),
                ),
                rows=tuple(
                    (one.part, show(one.length_mm, issue.marks), show(one.width_mm, issue.marks), one.cure)
                    for one in cutting.too_large
                ),
            ),
        ]
    return flow("Cutting: stock used", blocks, issue.paper)


def sheet_name(sheet: SheetPlan, shop: Shop) -> str:
    """Return what a sheet is called in headings."""
    return f"Cutting: {_stock_name(sheet.stock, shop)}, sheet {sheet.index}"


def _sheet_drawing(sheet: SheetPlan, shop: Shop, issue: Issue) -> Draft:
    """Return the sheet lying with its length level: pieces tinted, cuts wide and numbered, leftovers named."""
    area = body(issue.paper, landscape=True, scaled=True)
    inner = area.inset(left=18.0, top=9.0, right=8.0, bottom=15.0)
    view = fitted((0.0, 0.0), (sheet.length_mm, sheet.width_mm), inner)
    taken = Taken()
    marks = issue.marks
    fills = tuple(
        view.polygon(_corners(one.x_mm, one.y_mm, one.length_mm, one.width_mm), pen=None, fill="tint")
        for one in sheet.placed
    )
    words: list[Item] = []
    for one in sheet.placed:
        size = f"{show(one.length_mm, marks)} x {show(one.width_mm, marks)}"
        box = _paper_box(view, one.x_mm, one.y_mm, one.length_mm, one.width_mm)
        words.extend(_piece_words(one.part, size, box, taken))
    for left in sheet.leftovers:
        size = f"{show(left.length_mm, marks, way='down')} x {show(left.width_mm, marks, way='down')}"
        box = _paper_box(view, left.x_mm, left.y_mm, left.length_mm, left.width_mm)
        words.extend(_piece_words("keep", size, box, taken, bold=False))
    items: list[Item] = [*fills, *words]
    outline = _corners(0.0, 0.0, sheet.length_mm, sheet.width_mm)
    border = view.polygon(outline, pen="wide")
    taken.note((border,))
    items.append(border)
    items.extend(_factory_edges(view, sheet, shop.saw.trim_mm, marks, taken))
    corner, end = view.at((0.0, 0.0)), view.at((sheet.length_mm, 0.0))
    top = view.at((0.0, sheet.width_mm))
    items.extend(single("level", (corner, end), show(sheet.length_mm, marks), corner[1] + 9.0, taken))
    items.extend(single("upright", (top, corner), show(sheet.width_mm, marks), corner[0] - 9.0, taken))
    items.extend(_cut_lines(view, sheet.cuts, taken))
    return Draft(name=sheet_name(sheet, shop), items=tuple(items), scale=view.scale, landscape=True)


def _corners(x: float, y: float, length: float, width: float) -> Corners:
    return ((x, y), (x + length, y), (x + length, y + width), (x, y + width))


def _paper_box(view: View, x: float, y: float, length: float, width: float) -> Area:
    """Return a model rectangle as an area of paper."""
    left, bottom = view.at((x, y))
    return Area(x=left, y=bottom - width / view.scale, width=length / view.scale, height=width / view.scale)


def _piece_words(number: str, size: str, box: Area, taken: Taken, *, bold: bool = True) -> Items:
    """Return a piece's number over its size, as large as the piece allows, turned where it is tall.

    A piece too small for its size keeps its number; the table beside it has the size.
    """
    number, size = drawable(number), true_fractions(size)
    for height in (5.0, 3.5):
        for angle in (0.0, 90.0):
            long, short = (box.width, box.height) if not angle else (box.height, box.width)
            for lines in ((number, size), (f"{number}  {size}",), (number,)):
                wide = max(width_mm(line, height, bold=bold) for line in lines) + 3.0
                tall = len(lines) * height * 1.5 + 2.0
                if wide <= long and tall <= short and (len(lines) > 1 or height < 5.0 or lines[0] != number):
                    return _centred(lines, box, height, angle, bold, taken)
    return ()


def _centred(lines: Sequence[str], box: Area, height: float, angle: float, bold: bool, taken: Taken) -> Items:
    """Return lines of words centred in an area."""
    items: list[Item] = []
    middle_x, middle_y = box.x + box.width / 2, box.y + box.height / 2
    for i, line in enumerate(lines):
        down = (i - (len(lines) - 1) / 2) * height * 1.5 + height / 2
        at = (middle_x, middle_y + down) if not angle else (middle_x + down, middle_y)
        items.append(Text(at=at, text=line, height_mm=height, anchor="middle", angle_deg=angle, bold=bold and i == 0))
    taken.note(items)
    return tuple(items)


def _factory_edges(view: View, sheet: SheetPlan, trim_mm: float, marks: Marks, taken: Taken) -> Items:
    """Return the words that mark the four outer edges as the factory's, and the grain arrow."""
    (x0, y0), (x1, y1) = view.at((0.0, 0.0)), view.at((sheet.length_mm, sheet.width_mm))
    trim = f", trim {show(trim_mm, marks)}" if trim_mm else ""
    items: tuple[Text, ...] = (
        Text(at=(x0, y1 - 2.0), text=true_fractions(f"all four outer edges: factory edge{trim}")),
        Text(at=(x1, y1 - 2.0), text="grain along the length  ↔", anchor="end"),
    )
    if width_mm(items[0].text, 3.5) + width_mm(items[1].text, 3.5) + 4.0 > x1 - x0:
        items = (items[0], Text(at=(x1, y0 + 6.0), text="grain  ↔", anchor="end"))
    taken.note(items)
    return items


def _cut_lines(view: View, cuts: Sequence[Cut], taken: Taken) -> list[Item]:
    """Return every cut as a wide line, then their numbers in white rings over the lines."""
    lines = [view.line((cut.x1_mm, cut.y1_mm), (cut.x2_mm, cut.y2_mm), pen="wide") for cut in cuts]
    taken.note(lines)
    rings: list[Item] = []
    for cut, line in zip(cuts, lines, strict=True):
        others = Taken(
            words=taken.words, lines=[other for other in taken.lines if tuple(other) != (line.start, line.end)]
        )
        rings.extend(_ring_of(str(cut.order), line, others))
    return [*lines, *rings]


def _ring_of(number: str, line: Line, taken: Taken) -> Items:
    """Return a cut's number in a ring on its line, or beside it with a leader where the line has no room.

    First a place clear of words and other lines is sought, then one clear of words alone: the white ring hides a line.
    """
    (x0, y0), (x1, y1) = line.start, line.end
    length = math.hypot(x1 - x0, y1 - y0)
    dx, dy = (x1 - x0) / length, (y1 - y0) / length
    radius = max(RING_MM, width_mm(number, 3.5, bold=True) / 2 + 1.0)
    options = [
        (share * length, off * side)
        for off in (0.0, radius + 1.2, 9.0, 13.0, 18.0, 24.0, 31.0)
        for share in (0.5, 0.45, 0.55, 0.4, 0.6, 0.35, 0.65, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88, 0.05, 0.95)
        for side in (1, -1)
        if off or radius < share * length < length - radius
    ]
    boxes = [_square(x0 + dx * along - dy * off, y0 + dy * along + dx * off, radius) for along, off in options]
    chosen = next((i for i, box in enumerate(boxes) if taken.free(box)), None)
    if chosen is None:
        chosen = next((i for i, box in enumerate(boxes) if taken.clear_of_other_words(box)), 0)
    along, off = options[chosen]
    centre = (x0 + dx * along - dy * off, y0 + dy * along + dx * off)
    taken.words.append(boxes[chosen])
    foot = Line(start=centre, end=(x0 + dx * along, y0 + dy * along))
    return (foot, *ring(centre, number)) if off else ring(centre, number)


def _square(x: float, y: float, half: float) -> Corners:
    return ((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half))


def _sheet_tables(sheet: SheetPlan, parts: PartList, shop: Shop, issue: Issue) -> tuple[Draft, ...]:
    """Return the cuts in order with their fence settings, the pieces, and what is left over."""
    marks = issue.marks
    names = {part.number: part.name for part in parts.parts}
    cuts = tuple(
        (
            str(cut.order), show(cut.at_mm, marks), "rip, along the length" if cut.along == "length" else "crosscut",
            _touched(cut, sheet),
        )
        for cut in sheet.cuts
    )  # fmt: skip
    pieces = tuple(
        (one.part, names.get(one.part, ""), show(one.length_mm, marks), show(one.width_mm, marks),
         "across the grain" if one.turned else "with the grain")
        for one in sheet.placed
    )  # fmt: skip
    blocks: list[Block] = [
        Heading(text="Cuts in order; the fence stands this far from the blade's near side"),
        Table(
            columns=(
                Column(title="Cut", share=20, bold=True),
                Column(title="Fence", share=32, bold=True),
                Column(title="Kind", share=60),
                Column(title="Beside", share=74),
            ),
            rows=cuts,
        ),
        Heading(text="Pieces, saw-clean, with what is left on for scribing and bevels"),
        Table(
            columns=(
                Column(title="Part", share=20, bold=True),
                Column(title="Name", share=62),
                Column(title="Length", share=32, bold=True),
                Column(title="Width", share=32, bold=True),
                Column(title="Lies", share=40),
            ),
            rows=pieces,
        ),
    ]
    if sheet.leftovers:
        rows = tuple(
            (str(i + 1), show(one.length_mm, marks, way="down"), show(one.width_mm, marks, way="down"))
            for i, one in enumerate(sheet.leftovers)
        )
        columns = (
            Column(title="Leftover to keep", share=60), Column(title="Length", share=60), Column(title="Width", share=60),
        )  # fmt: skip
        blocks += [Heading(text="Left over"), Table(columns=columns, rows=rows)]
    return flow(f"{sheet_name(sheet, shop)}: cuts", blocks, issue.paper)


def _touched(cut: Cut, sheet: SheetPlan) -> str:
    """Return the pieces that have this cut along one of their sides."""
    beside = {one.part for one in sheet.placed if _beside(cut, one.x_mm, one.y_mm, one.length_mm, one.width_mm)}
    return " ".join(sorted(beside)) or "waste only"


def _beside(cut: Cut, x: float, y: float, length: float, width: float) -> bool:
    """Whether a rectangle has the cut along one of its sides, a kerf's width away at most."""
    near = 5.0
    if cut.along == "length":
        overlap = min(cut.x2_mm, x + length) - max(cut.x1_mm, x)
        return overlap > near and min(abs(cut.y1_mm - y), abs(cut.y1_mm - y - width)) < near
    overlap = min(cut.y2_mm, y + width) - max(cut.y1_mm, y)
    return overlap > near and min(abs(cut.x1_mm - x), abs(cut.x1_mm - x - length)) < near


def _boards(boards: tuple[BoardPlan, ...], shop: Shop, issue: Issue) -> tuple[Draft, ...]:
    """Return boards as bars, as many on a sheet as it holds, all at one scale."""
    if not boards:
        return ()
    area = body(issue.paper, landscape=True, scaled=True)
    longest = max(board.length_mm for board in boards)
    scale = chosen_scale((longest, 0.0), (area.width - 16.0, 1.0))
    room = int(area.height // BOARD_BLOCK_MM)
    drafts: list[Draft] = []
    for first in range(0, len(boards), room):
        items: list[Item] = []
        for i, board in enumerate(boards[first : first + room]):
            items.extend(_bar(board, area.inset(top=i * BOARD_BLOCK_MM), scale, shop, issue.marks))
        name = "Cutting: boards" if not first else "Cutting: boards, continued"
        drafts.append(Draft(name=name, items=tuple(items), scale=scale, landscape=True))
    return tuple(drafts)


def _bar(board: BoardPlan, area: Area, scale: int, shop: Shop, marks: Marks) -> Items:
    """Return one board: its pieces with numbers above and lengths below, waste hatched, what is left named."""
    title = f"{_stock_name(board.stock, shop)}, board {board.index}: {show(board.length_mm, marks)} long"
    title += f"; left over {show(board.leftover_mm, marks, way='down')}. Measure every piece anew from the last cut."
    heading = Text(at=(area.x, area.y + 4.0), text=true_fractions(drawable(title)), bold=True)
    left, top = area.x + 6.0, area.y + 18.0
    items: list[Item] = [heading]
    whole = Area(x=left, y=top, width=board.length_mm / scale, height=BAR_MM)
    items.append(Shape(points=_box(whole), pen=None, fill="hatch"))
    taken = Taken()
    items.extend(
        Shape(points=_box(_piece_area(piece, left, top, scale)), pen="wide", fill="white") for piece in board.pieces
    )
    items.append(Shape(points=_box(whole), pen="wide"))
    taken.note(items[1:])
    for piece in board.pieces:
        items.extend(_number_above(piece.part, _piece_area(piece, left, top, scale), taken))
    if board.pieces:
        items.extend(chain(_lengths(board, left, top + BAR_MM, scale, marks), taken))
    return tuple(items)


def _piece_area(piece: BoardPiece, left: float, top: float, scale: int) -> Area:
    """Return where a piece lies on the drawn board."""
    return Area(x=left + piece.at_mm / scale, y=top, width=piece.length_mm / scale, height=BAR_MM)


def _number_above(part: str, box: Area, taken: Taken) -> Items:
    """Return a piece's number above it, a row higher with a leader where its neighbour's is in the way."""
    middle = box.x + box.width / 2
    places = [(0.0, 5.0, shift) for shift in (0.0, 2.0, -2.0)]
    places += [(row, 3.5, shift) for row in (6.6, 0.0) for shift in (0.0, 4.0, -4.0, 8.0, -8.0, 12.0, -12.0, 17.0)]
    words = [
        Text(
            at=(middle + shift, box.y - 1.8 - row), text=drawable(part), height_mm=height, anchor="middle", bold=True
        )
        for row, height, shift in places
    ]
    chosen = taken.first_free(words)
    items: list[Item] = [words[chosen]]
    if places[chosen][0] or places[chosen][2]:
        items.append(Line(start=(words[chosen].at[0], words[chosen].at[1] + 0.7), end=(middle, box.y + 2.0)))
    taken.note(items)
    return tuple(items)


def _lengths(board: BoardPlan, left: float, bottom: float, scale: int, marks: Marks) -> Chain:
    """Return the pieces' lengths in one chain; saw cuts and waste between them carry no figure."""
    points: list[Point2] = []
    labels: list[str] = []
    for piece in board.pieces:
        if points:
            labels.append("")
        start = left + piece.at_mm / scale
        points += [(start, bottom), (start + piece.length_mm / scale, bottom)]
        labels.append(show(piece.length_mm, marks))
    return Chain(
        direction="level", points=tuple(points), labels=tuple(labels), line_at=bottom + 9.0, height_mm=5.0
    )


def _box(area: Area) -> Corners:
    return ((area.x, area.y), (area.right, area.y), (area.right, area.bottom), (area.x, area.bottom))
