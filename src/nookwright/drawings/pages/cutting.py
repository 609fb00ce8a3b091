"""Cutting chapter: how well stock is used, every sheet with its cuts in order, every board with its pieces."""

from __future__ import annotations

import math
from collections.abc import Sequence

from nookwright.basics.lengths import Marks, show
from nookwright.drawings.clearance import Taken
from nookwright.drawings.dimensions import Chain, chain, ring
from nookwright.drawings.flow import Block, Heading, Paragraph, flow
from nookwright.drawings.lettering import drawable, text_corners, true_fractions, width_mm
from nookwright.drawings.page import Area, Item, Items, Line, Shape, Text
from nookwright.drawings.part_sizes import SAME_MM
from nookwright.drawings.sheet import Draft, Issue, body, chosen_scale
from nookwright.drawings.tables import Column, Table
from nookwright.drawings.view import View, fitted
from nookwright.geometry.frame import Point2
from nookwright.stages.cutting.cutting_plan import BoardPiece, BoardPlan, Cut, CuttingPlan, SheetPlan
from nookwright.stages.inputs.shop import BoardStock, Shop
from nookwright.stages.parts.part import PartList

RING_MM = 3.6
BAR_MM = 9.0
"""Height of a drawn board; boards are shown in length only. [mm]"""

BOARD_BLOCK_MM = 36.4
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


def _small(mm: float, marks: Marks) -> str:
    """Return a small size with its unit: to a tenth of a millimetre, or to 1/32 inch."""
    if marks.units == "mm":
        return f"{mm:.3g} mm"
    return show(mm, Marks(units="inch", resolution=1 / 32), with_unit=True)


def _summary(cutting: CuttingPlan, shop: Shop, issue: Issue) -> tuple[Draft, ...]:
    """Return how much stock is used, beside the least any plan could do with."""
    rows = tuple(
        (_stock_name(one.stock, shop), str(one.used), str(one.at_least), f"{one.yield_share:.0%}", one.bound_says)
        for one in cutting.summaries
    )
    kerf, trim, end_trim = (
        _small(size, issue.marks) for size in (shop.saw.kerf_mm, shop.saw.trim_mm, shop.saw.end_trim_mm)
    )
    blocks: list[Block] = [
        Paragraph(
            text=f"The saw's cut is {kerf} wide. {trim} is trimmed off every factory edge of a sheet, and {end_trim} "
            "off the first end of a board. Set the fence to the figures in the tables; make the cuts in the order of "
            "their numbers. On boards, measure every piece anew from the last cut."
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
    view = fitted((0.0, 0.0), (sheet.length_mm, sheet.width_mm), area.inset(left=1.0, right=1.0, top=8.0, bottom=9.0))
    taken = Taken(within=area)
    marks = issue.marks
    outline = view.polygon(_corners(0.0, 0.0, sheet.length_mm, sheet.width_mm), pen="wide")
    cuts = [view.line((cut.x1_mm, cut.y1_mm), (cut.x2_mm, cut.y2_mm), pen="wide") for cut in sheet.cuts]
    taken.note((outline, *cuts))
    words: list[Item] = []
    for one in sheet.placed:
        size = f"{show(one.length_mm, marks)} x {show(one.width_mm, marks)}"
        box = _paper_box(view, one.x_mm, one.y_mm, one.length_mm, one.width_mm)
        words.extend(_piece_words(one.part, size, box, taken))
    for left in sheet.leftovers:
        size = f"{show(left.length_mm, marks, way='down')} x {show(left.width_mm, marks, way='down')}"
        box = _paper_box(view, left.x_mm, left.y_mm, left.length_mm, left.width_mm)
        words.extend(_piece_words("keep", size, box, taken, bold=False))
    fills = tuple(
        view.polygon(_corners(one.x_mm, one.y_mm, one.length_mm, one.width_mm), pen=None, fill="tint")
        for one in sheet.placed
    )
    said = _sheet_words(view, sheet, shop.saw.trim_mm, marks)
    taken.note(said)
    rings = [item for i, line in enumerate(cuts) for item in _ring_of(str(sheet.cuts[i].order), line, taken)]
    items = (*fills, *words, outline, *said, *cuts, *rings)
    return Draft(name=sheet_name(sheet, shop), items=items, scale=view.scale, landscape=True)


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
                if wide > long or tall > short or (height > 3.5 and lines == (number,)):
                    continue
                for share_x, share_y in ((0.5, 0.5), (0.5, 0.3), (0.5, 0.7), (0.3, 0.5), (0.7, 0.5)):
                    middle = (box.x + share_x * box.width, box.y + share_y * box.height)
                    words = _centred(lines, middle, height, angle, bold)
                    if all(taken.free(text_corners(text)) for text in words):
                        taken.note(words)
                        return words
    return ()


def _centred(lines: Sequence[str], middle: Point2, height: float, angle: float, bold: bool) -> tuple[Text, ...]:
    """Return lines of words about a point."""
    words: list[Text] = []
    for i, line in enumerate(lines):
        down = (i - (len(lines) - 1) / 2) * height * 1.5 + height / 2
        at = (middle[0], middle[1] + down) if not angle else (middle[0] + down, middle[1])
        words.append(Text(at=at, text=line, height_mm=height, anchor="middle", angle_deg=angle, bold=bold and i == 0))
    return tuple(words)


def _sheet_words(view: View, sheet: SheetPlan, trim_mm: float, marks: Marks) -> Items:
    """Return the sheet's size, the factory edges and the grain, in one line above it."""
    x, y = view.at((0.0, sheet.width_mm))
    size = f"{show(sheet.length_mm, marks)} x {show(sheet.width_mm, marks)}"
    trim = f", {_small(trim_mm, marks)} to trim" if trim_mm else ""
    words = f"Sheet {size}. All four outer edges are factory edges{trim}. Grain along the length  ↔"
    return (Text(at=(x, y - 3.0), text=true_fractions(words)),)


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
    lines = [one for one in taken.lines if tuple(one) != (line.start, line.end)]
    others = Taken(words=taken.words, lines=lines, within=taken.within)
    second: Items | None = None
    for along, off in options:
        foot = (x0 + dx * along, y0 + dy * along)
        centre = (foot[0] - dy * off, foot[1] + dx * off)
        box = _square(*centre, radius)
        leader = Line(start=centre, end=foot)
        if (off and not taken.clear_of_words(leader)) or not taken.clear_of_other_words(box):
            continue
        items: Items = (leader, *ring(centre, number)) if off else ring(centre, number)
        second = second or items
        if others.free(box):
            break
    else:
        items = second or ring(((x0 + x1) / 2, (y0 + y1) / 2), number)
    taken.note(items)
    return items


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
            Column(title="Leftover to keep", share=60),
            Column(title="Length", share=60),
            Column(title="Width", share=60),
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
    """Return boards as bars, one for each lane they are ripped into, all at one scale."""
    if not boards:
        return ()
    area = body(issue.paper, landscape=True, scaled=True)
    longest = max(board.length_mm for board in boards)
    scale = chosen_scale((longest, 0.0), (area.width - 16.0, 1.0))
    room = int(area.height // BOARD_BLOCK_MM)
    bars = [(alike, lane) for alike in _alike(boards) for lane in _lanes(alike[0])]
    drafts: list[Draft] = []
    for first in range(0, len(bars), room):
        items: list[Item] = []
        for i, (alike, lane) in enumerate(bars[first : first + room]):
            items.extend(_bar(alike, lane, area.inset(top=i * BOARD_BLOCK_MM), scale, shop, issue.marks))
        name = "Cutting: boards" if not first else "Cutting: boards, continued"
        drafts.append(Draft(name=name, items=tuple(items), scale=scale, landscape=True))
    return tuple(drafts)


def _alike(boards: tuple[BoardPlan, ...]) -> list[list[BoardPlan]]:
    """Return boards in groups that are cut alike, in the order of their first."""
    groups: dict[tuple[object, ...], list[BoardPlan]] = {}
    for board in boards:
        groups.setdefault((board.stock, board.length_mm, board.pieces), []).append(board)
    return list(groups.values())


def _lanes(board: BoardPlan) -> list[tuple[BoardPiece, ...]]:
    """Return the board's pieces lane by lane, each lane from the trimmed end on."""
    places = sorted({piece.across_mm for piece in board.pieces})
    return [
        tuple(sorted((piece for piece in board.pieces if piece.across_mm == place), key=lambda piece: piece.at_mm))
        for place in places
    ]


def _bar(
    alike: list[BoardPlan], lane: tuple[BoardPiece, ...], area: Area, scale: int, shop: Shop, marks: Marks
) -> Items:
    """Return one lane of a board, or of several cut alike: numbers above, lengths below, what is not used hatched."""
    board = alike[0]
    which = f"board {board.index}"
    if len(alike) > 1:
        which = f"boards {', '.join(str(each.index) for each in alike)}: {len(alike)} alike"
    title = f"{_stock_name(board.stock, shop)}, {which}, {show(board.length_mm, marks)} long"
    title += f": {_how(lane, shop.stock(board.stock), marks)}"
    if lane == _lanes(board)[-1]:
        title += f"; {show(board.leftover_mm, marks, way='down')} left over"
    heading = Text(at=(area.x, area.y + 4.0), text=true_fractions(drawable(title)), bold=True)
    left, top = area.x + 6.0, area.y + 14.5
    whole = Area(x=left, y=top, width=board.length_mm / scale, height=BAR_MM)
    items: list[Item] = [heading, Shape(points=_box(whole), pen=None, fill="hatch")]
    items.extend(Shape(points=_box(_piece_area(piece, left, top, scale)), pen="wide", fill="white") for piece in lane)
    items.append(Shape(points=_box(whole), pen="wide"))
    taken = Taken(within=area)
    taken.note(items[1:])
    for piece in lane:
        items.extend(_number_above(piece.part, _piece_area(piece, left, top, scale), taken))
    items.extend(chain(_lengths(lane, left, top + BAR_MM, scale, marks), taken))
    return tuple(items)


def _how(lane: tuple[BoardPiece, ...], stock: object, marks: Marks) -> str:
    """Return how a lane is cut: ripped first where all its pieces are equally wide, else crosscut first."""
    widths = {round(piece.width_mm, 1) for piece in lane}
    narrower = isinstance(stock, BoardStock) and stock.width_mm - min(widths) > SAME_MM
    if not narrower:
        return "crosscut"
    if len(widths) == 1:
        return f"rip a lane {show(lane[0].width_mm, marks)} wide, then crosscut"
    each = ", ".join(f"{piece.part} {show(piece.width_mm, marks)}" for piece in lane)
    return f"crosscut, then rip to {each}"


def _piece_area(piece: BoardPiece, left: float, top: float, scale: int) -> Area:
    """Return where a piece lies on the drawn board."""
    return Area(x=left + piece.at_mm / scale, y=top, width=piece.length_mm / scale, height=BAR_MM)


def _number_above(part: str, box: Area, taken: Taken) -> Items:
    """Return a piece's number above it, a row higher with a leader where its neighbour's is in the way."""
    middle = box.x + box.width / 2
    places = [(0.0, 5.0, shift) for shift in (0.0, 2.0, -2.0)]
    places += [(row, 3.5, shift) for row in (6.6, 0.0) for shift in (0.0, 4.0, -4.0, 8.0, -8.0, 12.0, -12.0, 17.0)]
    words = [
        Text(at=(middle + shift, box.y - 1.8 - row), text=drawable(part), height_mm=height, anchor="middle", bold=True)
        for row, height, shift in places
    ]
    chosen = taken.first_free(words)
    items: list[Item] = [words[chosen]]
    if places[chosen][0] or places[chosen][2]:
        items.append(Line(start=(words[chosen].at[0], words[chosen].at[1] + 0.7), end=(middle, box.y + 2.0)))
    taken.note(items)
    return tuple(items)


def _lengths(lane: tuple[BoardPiece, ...], left: float, bottom: float, scale: int, marks: Marks) -> Chain:
    """Return the pieces' lengths in one chain; saw cuts and waste between them carry no figure."""
    points: list[Point2] = []
    labels: list[str] = []
    for piece in lane:
        if points:
            labels.append("")
        start = left + piece.at_mm / scale
        points += [(start, bottom), (start + piece.length_mm / scale, bottom)]
        labels.append(show(piece.length_mm, marks))
    return Chain(direction="level", points=tuple(points), labels=tuple(labels), line_at=bottom + 8.0, height_mm=5.0)


def _box(area: Area) -> Corners:
    return ((area.x, area.y), (area.right, area.y), (area.right, area.bottom), (area.x, area.bottom))
