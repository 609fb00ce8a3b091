"""One sheet of stock drawn for the saw: pieces, cuts numbered in order, and fence settings beside it where few."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from nookwright.basics.amounts import show_mass
from nookwright.basics.lengths import Marks, Units, Way, show
from nookwright.drawings.blocks import Paragraph, Picture, Told
from nookwright.drawings.clearance import LINES_GAP_MM, Taken, touching
from nookwright.drawings.dimensions import ring
from nookwright.drawings.lettering import (
    NOTES_MM,
    drawable,
    line_pitch_mm,
    text_corners,
    true_fractions,
    width_mm,
    wrapped,
)
from nookwright.drawings.page import Area, Circle, Item, Items, Line, Text
from nookwright.drawings.sheet import Draft, Issue, body
from nookwright.drawings.tables import Column, Table, lay_table
from nookwright.drawings.view import View, fitted
from nookwright.geometry.frame import Point2
from nookwright.stages.cutting.at_the_saw import cut_steps
from nookwright.stages.cutting.cutting_plan import Cut, SheetPlan
from nookwright.stages.inputs.shop import SheetStock, Shop
from nookwright.stages.parts.part import PartList

RING_MM = 3.6

WORDS_ABOVE_MM = 8.0
"""Room over a drawn sheet for its words. [mm]"""

RINGS_BELOW_MM = 9.0
"""Room under it for the rings of cuts along its lower edge. [mm]"""

COMPACT_SCALE = 20
"""Scale at which sheets share a page. Our choice."""

_MOST_CUTS = 12
"""With more cuts than this a sheet gets a page of its own, so that their rings have room. Our choice."""

_FENCES_MM = 55.5
"""Width of the table of fence settings beside a drawing. [mm]"""

_BESIDE_MM = 1.0
_BLOCK_GAP_MM = 4.0
_RING_ROOM_MM = 4.5

Corners = tuple[Point2, Point2, Point2, Point2]


def stock_name(key: str, shop: Shop) -> str:
    """Return what a stock is called, by its key where the shop has no such stock."""
    stock = shop.stock(key)
    return stock.name if stock is not None else key


def small_said(mm: float, marks: Marks) -> str:
    """Return a small size with its unit: three figures of a millimetre, or to 1/64 inch."""
    if marks.units == "mm":
        return f"{mm:.3g} mm"
    return show(mm, Marks(units="inch", resolution=1 / 64), with_unit=True)


def area_said(length_mm: float, width_mm_: float, marks: Marks, *, way: Way = "nearest") -> str:
    """Return a length and a width, rounded to the marks that way."""
    return f"{show(length_mm, marks, way=way)} x {show(width_mm_, marks, way=way)}"


def sheet_name(sheet: SheetPlan, shop: Shop) -> str:
    """Return what a sheet is called in headings."""
    return f"{stock_name(sheet.stock, shop)}, sheet {sheet.index}"


def compact_height(sheet: SheetPlan, parts: PartList, shop: Shop, issue: Issue) -> float | None:
    """Return the height a sheet with few cuts takes on a page it shares; None where it needs a page of its own. [mm]

    It does when it has many cuts, or a piece too small to show its number at that scale.
    """
    area = body(issue.paper, scaled=True)
    room = area.width - _FENCES_MM - _BESIDE_MM
    if len(sheet.cuts) > _MOST_CUTS or sheet.length_mm / COMPACT_SCALE > room - 2.0:
        return None
    block = _compact(sheet, parts, shop, issue.marks, area)
    return block.below - area.y if block.whole and block.below <= area.bottom else None


def compact_sheets(sheets: Sequence[SheetPlan], parts: PartList, shop: Shop, issue: Issue) -> tuple[Draft, ...]:
    """Return pages of sheets with few cuts, as many a page as fit.

    Args:
        sheets: those that `compact_height` gives a height for.
        parts: for the parts' names.
        shop: for the stocks' names.
        issue: units and paper.
    """
    area = body(issue.paper, scaled=True)
    top = area.y + 2 * line_pitch_mm(NOTES_MM)
    pages: list[list[Item]] = []
    told: list[Told] = [Paragraph(text=_NOTE, height_mm=NOTES_MM)]
    y = area.bottom
    for sheet in sheets:
        tall = compact_height(sheet, parts, shop, issue) or 0.0
        if y + tall > area.bottom:
            note = Text(at=(area.x, area.y + NOTES_MM), text=_NOTE, height_mm=NOTES_MM)
            pages.append([note])
            y = top
        block = _compact(sheet, parts, shop, issue.marks, area.inset(top=y - area.y))
        pages[-1].extend(block.items)
        told += block.told
        y += tall + _BLOCK_GAP_MM
    name = "Cutting: sheets with few cuts"
    return tuple(
        Draft(name=f"{name}, continued" if i else name, items=tuple(items), scale=COMPACT_SCALE, told=tuple(told))
        for i, items in enumerate(pages)
    )


_NOTE = "Fence: to the blade's near side. Rip: along the sheet's length; cross: across it. Label pieces after a cut."


@dataclass(frozen=True, slots=True)
class _Compact:
    """A sheet among others on a page.

    Args:
        items: what is drawn.
        below: the y under it. [mm]
        whole: whether every piece, cut and row has found room.
        told: the same for a screen.
    """

    items: Items
    below: float
    whole: bool
    told: tuple[Told, ...]


def _compact(sheet: SheetPlan, parts: PartList, shop: Shop, marks: Marks, area: Area) -> _Compact:
    """Return a sheet's drawing, fences beside it and pieces below."""
    name = f"{sheet_name(sheet, shop)}: {sheet_words(sheet, shop, marks)}"
    lines = wrapped(drawable(name), area.width, 3.5, bold=True)
    heading = tuple(
        Text(at=(area.x, area.y + 4.0 + i * line_pitch_mm(3.5)), text=line, bold=True) for i, line in enumerate(lines)
    )
    top = area.inset(top=6.0 + (len(lines) - 1) * line_pitch_mm(3.5))
    space = Area(
        x=area.x, y=top.y, width=area.width - _FENCES_MM - _BESIDE_MM,
        height=sheet.width_mm / COMPACT_SCALE + 2 * _RING_ROOM_MM,
    )  # fmt: skip
    drawn, missing = diagram(sheet, marks, space, COMPACT_SCALE)
    cuts = _fences(sheet, marks)
    rows = in_two(_PIECES_AND_CUTS, _pieces_and_cuts(sheet, parts, shop.saw.kerf_mm, marks))
    fences = lay_table(cuts, top.inset(left=area.width - _FENCES_MM))
    below = max(space.bottom, top.y + fences.height_mm + 2.0)
    pieces = lay_table(rows, area.inset(top=below - area.y))
    return _Compact(
        items=(*heading, *drawn, *fences.items, *pieces.items),
        below=below + pieces.height_mm,
        whole=not missing and fences.rest is None and pieces.rest is None,
        told=(Picture(name=name, items=drawn), cuts, rows),
    )


def _fences(sheet: SheetPlan, marks: Marks) -> Table:
    """Return the cuts in order with their fence settings."""
    columns = (
        Column(title="Cut", share=12.5, bold=True), Column(title="Fence", share=27.5, bold=True, height_mm=5.0),
        Column(title="Kind", share=15.5, height_mm=NOTES_MM if any(cut.by for cut in sheet.cuts) else 3.5),
    )  # fmt: skip
    rows = tuple((str(cut.order), show(cut.at_mm, marks), kind_said(cut)) for cut in sheet.cuts)
    return Table(columns=columns, rows=rows, pad_mm=0.3)


_WITH = {"": "", "fence": ": fence", "crosscut": ": sled", "track": ": track"}


def kind_said(cut: Cut) -> str:
    """Return what a cut is called, what it is made with, and whether the far edge lies at the fence."""
    kind = "rip" if cut.along == "length" else "cross"
    return f"{kind}{_WITH[cut.by]}{', far' if cut.from_far and cut.by else ''}"


def kinds_explained(sheets: Sequence[SheetPlan]) -> str:
    """Return what the words in the column of kinds mean; nothing where any saw will do."""
    if not any(cut.by for sheet in sheets for cut in sheet.cuts):
        return ""
    return (
        " Fence, sled, track: what the cut is made with. Far: the edge farther from the drawing's lower left corner "
        "lies at the fence or stop, or is measured from. Pieces to keep may still have factory edges."
    )


def weight_said(sheet: SheetPlan, lift_kg: float, units: Units) -> str:
    """Return what a sheet weighs and how far two people are needed; nothing for a light one."""
    heavy = [cut for cut in sheet.cuts if cut.kg > lift_kg]
    if not heavy:
        return ""
    last = max(cut.order for cut in heavy)
    up_to = f"up to cut {last}" if last > 1 else "for cut 1"
    return f"; {show_mass(heavy[0].kg, units)}: two people {up_to}"


def freed_by(sheet: SheetPlan, kerf_mm: float) -> dict[int, list[str]]:
    """Return the pieces that each cut frees, by the cut's number.

    Args:
        sheet: the sheet with its cuts.
        kerf_mm: width of a cut. [mm]
    """
    return {step.cut.order: [one.part for one in step.frees] for step in cut_steps(sheet, kerf_mm)}


PIECE_COLUMNS = (
    Column(title="Part", share=16, bold=True), Column(title="Name", share=34),
    Column(title="Length", share=21, bold=True), Column(title="Width", share=20, bold=True),
)  # fmt: skip

_PIECES_AND_CUTS = (
    Column(title="Part", share=15.5, bold=True), Column(title="Name", share=20.8, height_mm=NOTES_MM),
    Column(title="Length", share=21.5, bold=True), Column(title="Width", share=20.7, bold=True),
    Column(title="Cut", share=12.5),
)  # fmt: skip


def piece_rows(sheet: SheetPlan, parts: PartList, marks: Marks) -> list[tuple[str, ...]]:
    """Return each piece's number, name, and saw-clean length and width; then what is left over and worth keeping."""
    names = {part.number: part.name for part in parts.parts}
    pieces: list[tuple[str, ...]] = [
        (one.part, names.get(one.part, "") + (", turned" if one.turned else ""),
         *(show(size, marks) for size in one.own_size_mm))
        for one in sheet.placed
    ]  # fmt: skip
    left: list[tuple[str, ...]] = [
        ("keep", "left over", show(one.length_mm, marks, way="down"), show(one.width_mm, marks, way="down"))
        for one in sheet.leftovers
    ]
    return pieces + left


def _pieces_and_cuts(sheet: SheetPlan, parts: PartList, kerf_mm: float, marks: Marks) -> list[tuple[str, ...]]:
    """Return the same with the number of the cut that frees each piece."""
    free = {part: str(order) for order, freed in freed_by(sheet, kerf_mm).items() for part in freed}
    return [(*row, free.get(row[0], "")) for row in piece_rows(sheet, parts, marks)]


def in_two(columns: tuple[Column, ...], rows: Sequence[tuple[str, ...]]) -> Table:
    """Return a table with its rows in two columns, read downwards."""
    half = (len(rows) + 1) // 2
    right = [*rows[half:], *([("",) * len(columns)] * (2 * half - len(rows)))]
    both = tuple((*row, "", *right[i]) for i, row in enumerate(rows[:half]))
    return Table(columns=(*columns, Column(title="", share=4), *columns), rows=both, pad_mm=TIGHT_MM, in_two=True)


TIGHT_MM = 0.6
"""Space above and below the words of a row in a dense table. Our choice."""


def diagram(sheet: SheetPlan, marks: Marks, area: Area, scale: int) -> tuple[Items, tuple[str, ...]]:
    """Return the sheet with its length level, and what had no room for its number.

    Pieces are tinted, cuts wide and numbered, leftovers named.

    Args:
        sheet: what is cut.
        marks: units and steps people read.
        area: the paper it may take. [mm]
        scale: 10 for 1:10.

    Returns:
        What is drawn, and the numbers of pieces and cuts that are not in it, cuts as `cut 12`.
    """
    inner = area.inset(left=1.0, right=1.0, top=_RING_ROOM_MM, bottom=_RING_ROOM_MM)
    view = fitted((0.0, 0.0), (sheet.length_mm, sheet.width_mm), inner, scale=scale)
    taken = Taken(within=area)
    outline = view.polygon(_corners(0.0, 0.0, sheet.length_mm, sheet.width_mm), pen="wide")
    cuts = [view.line((cut.x1_mm, cut.y1_mm), (cut.x2_mm, cut.y2_mm), pen="wide") for cut in sheet.cuts]
    taken.note((outline, *cuts))
    words: list[Item] = []
    missing: list[str] = []
    for one in sheet.placed:
        size = " x ".join(show(size, marks) for size in one.own_size_mm)
        box = _paper_box(view, one.x_mm, one.y_mm, one.length_mm, one.width_mm)
        said = _piece_words(one.part, size, box, taken)
        missing.extend(() if said else (one.part,))
        words.extend(said)
    for left in sheet.leftovers:
        size = f"{show(left.length_mm, marks, way='down')} x {show(left.width_mm, marks, way='down')}"
        box = _paper_box(view, left.x_mm, left.y_mm, left.length_mm, left.width_mm)
        words.extend(_piece_words("keep", size, box, taken, bold=False))
    fills = tuple(
        view.polygon(_corners(one.x_mm, one.y_mm, one.length_mm, one.width_mm), pen=None, fill="tint")
        for one in sheet.placed
    )
    rings: list[Item] = []
    numbered = sorted(zip(sheet.cuts, cuts, strict=True), key=lambda each: math.dist(each[1].start, each[1].end))
    for cut, line in numbered:  # short lines first: they have the fewest places
        ringed = _ring_of(str(cut.order), line, taken)
        missing.extend(() if ringed else (f"cut {cut.order}",))
        rings.extend(ringed)
    return (*fills, *words, outline, *cuts, *rings), tuple(missing)


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


def sheet_words(sheet: SheetPlan, shop: Shop, marks: Marks) -> str:
    """Return the sheet's size, the factory edges and the grain."""
    stock, trim_mm = shop.stock(sheet.stock), shop.saw.trim_mm
    grain = "; grain along its length" if isinstance(stock, SheetStock) and stock.grained else ""
    size = f"{show(sheet.length_mm, marks)} x {show(sheet.width_mm, marks)}"
    if sheet.offcut:
        return f"{size}; an offcut, its edges clean{grain}"
    trim = f", {small_said(trim_mm, marks)} to trim" if trim_mm else ""
    return f"{size}; all edges factory{trim}{grain}{weight_said(sheet, shop.saw.lift_kg, marks.units)}"


def _ring_of(number: str, line: Line, taken: Taken) -> Items:
    """Return a cut's number in a ring on its line, or beside it with a leader where the line has no room.

    First a place is sought that is clear of words and other lines, its leader too; then one whose leader crosses lines;
    then one clear of words alone: the white ring hides a line. Nothing is returned where there is no such place.
    """
    radius = max(RING_MM, width_mm(number, 3.5, bold=True) / 2 + 1.0)
    lines = [one for one in taken.lines if tuple(one) != (line.start, line.end)]
    others = Taken(words=taken.words, lines=lines, within=taken.within)
    best: tuple[int, Items] = (3, ())
    for centre, foot in _ring_places(line, radius):
        box = _square(*centre, radius)
        leader = None if foot is None else Line(start=centre, end=foot)
        if (leader and not taken.clear_of_words(leader)) or not taken.clear_of_other_words(box):
            continue
        rank = 2 if not others.free(box) else int(leader is not None and _crosses(leader, lines))
        if rank < best[0]:
            ringed = ring(centre, number)
            best = (rank, ringed if leader is None else (leader, Circle(centre=leader.end, radius=DOT_MM), *ringed))
        if not rank:
            break
    taken.note(item for item in best[1] if not (isinstance(item, Circle) and item.radius == DOT_MM))
    return best[1]


DOT_MM = 0.7
"""Radius of the dot where a leader meets its cut. Our choice. [mm on paper]"""


def _ring_places(line: Line, radius: float) -> list[tuple[Point2, Point2 | None]]:
    """Return places for a ring, the best first, each with the place on the cut that a leader goes to; None on it."""
    (x0, y0), (x1, y1) = line.start, line.end
    length = math.hypot(x1 - x0, y1 - y0)
    dx, dy = (x1 - x0) / length, (y1 - y0) / length
    places: list[tuple[Point2, Point2 | None]] = []
    for off in (0.0, radius + 1.2, 9.0, 13.0, 18.0, 24.0, 31.0):
        for share in (0.5, 0.45, 0.55, 0.4, 0.6, 0.35, 0.65, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88, 0.05, 0.95):
            foot = (x0 + dx * share * length, y0 + dy * share * length)
            if off:
                places += [((foot[0] - dy * off * side, foot[1] + dx * off * side), foot) for side in (1, -1)]
            elif radius < share * length < length - radius:
                places.append((foot, None))
        if off:  # beyond the ends of the cut
            places += [((x1 + dx * off, y1 + dy * off), line.end), ((x0 - dx * off, y0 - dy * off), line.start)]
    return places


def _crosses(leader: Line, lines: Sequence[Sequence[Point2]]) -> bool:
    """Whether a leader meets any of the lines on its way, the last bit of it at its cut apart."""
    (x0, y0), (x1, y1) = leader.start, leader.end
    length = math.dist(leader.start, leader.end)
    share = max(0.0, 1.0 - 2 * LINES_GAP_MM / length)
    short = ((x0, y0), (x0 + (x1 - x0) * share, y0 + (y1 - y0) * share))
    return any(touching(short, one) for one in lines)


def _square(x: float, y: float, half: float) -> Corners:
    return ((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half))
