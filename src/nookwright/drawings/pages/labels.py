"""Labels to cut out and stick on face A, one a part, in the order the pieces come off the saw."""

from __future__ import annotations

import math
from collections.abc import Sequence

from nookwright.basics.lengths import Marks, show
from nookwright.drawings.lettering import drawable, true_fractions, width_mm
from nookwright.drawings.page import PAPER_MM, Area, Item, Items, Line, Page, Shape, Text
from nookwright.drawings.pages.sheets import small_said, stock_name
from nookwright.drawings.sheet import MARGIN_MM, Issue
from nookwright.stages.cutting.cutting_plan import CuttingPlan
from nookwright.stages.inputs.shop import Shop
from nookwright.stages.parts.part import Part, PartList
from nookwright.stages.parts.sizes import cut_size_mm

ACROSS, DOWN = 3, 7
"""Labels on a page; each is about 62 x 38 mm. Our choice."""

_NUMBER_MM, _SIZE_MM, _NAME_MM, _SMALL_MM = 10.0, 5.0, 3.5, 2.5
_NUMBERS_MM = (_NUMBER_MM, 7.0, 5.0)
_ARROW_ROOM_MM = 25.0
_PAD_MM = 2.5
_ARROW_MM = 18.0


def label_pages(parts: PartList, cutting: CuttingPlan, shop: Shop, issue: Issue) -> tuple[Page, ...]:
    """Return pages of labels without title strips, parted by lines to cut along.

    Args:
        parts: every part.
        cutting: tells which sheet or board each comes from, and the order.
        shop: for the stocks' names.
        issue: units and paper.
    """
    come_from = _come_from(cutting, shop)
    order = {number: place for place, number in enumerate(come_from)}
    sorted_parts = sorted(parts.parts, key=lambda part: order.get(part.number, len(order)))
    width, height = PAPER_MM[issue.paper]
    whole = Area(x=MARGIN_MM, y=MARGIN_MM, width=width - 2 * MARGIN_MM, height=height - 2 * MARGIN_MM)
    pages: list[Page] = []
    for first in range(0, len(sorted_parts), ACROSS * DOWN):
        items: list[Item] = []
        for place, part in enumerate(sorted_parts[first : first + ACROSS * DOWN]):
            items += _label(part, come_from.get(part.number, ""), _cell(whole, place), issue.marks)
        items += _cutting_lines(whole)
        pages.append(Page(name=f"Labels {len(pages) + 1}", paper=issue.paper, landscape=False, items=tuple(items)))
    return tuple(pages)


def _come_from(cutting: CuttingPlan, shop: Shop) -> dict[str, str]:
    """Return what each part is cut from, in cutting order."""
    found: dict[str, str] = {}
    for sheet in cutting.sheets:
        for one in sheet.placed:
            found.setdefault(one.part, f"{stock_name(sheet.stock, shop)}, sheet {sheet.index}")
    for board in cutting.boards:
        for piece in board.pieces:
            found.setdefault(piece.part, f"{stock_name(board.stock, shop)}, board {board.index}")
    return found


def _cell(whole: Area, place: int) -> Area:
    row, column = divmod(place, ACROSS)
    width, height = whole.width / ACROSS, whole.height / DOWN
    return Area(x=whole.x + column * width, y=whole.y + row * height, width=width, height=height)


def _cutting_lines(whole: Area) -> Items:
    """Return the lines to cut along, right across the page."""
    xs = [whole.x + i * whole.width / ACROSS for i in range(ACROSS + 1)]
    ys = [whole.y + i * whole.height / DOWN for i in range(DOWN + 1)]
    upright = [Line(start=(x, whole.y), end=(x, whole.bottom), dash="dashed", ink="grey") for x in xs]
    level = [Line(start=(whole.x, y), end=(whole.right, y), dash="dashed", ink="grey") for y in ys]
    return (*upright, *level)


def _label(part: Part, comes_from: str, cell: Area, marks: Marks) -> Items:
    """Return a part's label: number, name, size, stock, what is still to be done to it, which way the grain runs."""
    inner = cell.inset(left=_PAD_MM, right=_PAD_MM, top=_PAD_MM, bottom=_PAD_MM)
    length, width = (show(size, marks) for size in cut_size_mm(part, marks))
    fine = Marks(units=marks.units, resolution=0.1 if marks.units == "mm" else 1 / 32)
    size = f"{length} x {width} x {show(part.thickness_mm, fine)}"
    number, room = drawable(part.number), inner.width - _ARROW_ROOM_MM
    tall = next((each for each in _NUMBERS_MM if width_mm(number, each, bold=True) <= room), _NUMBERS_MM[-1])
    size_mm = _SIZE_MM if _fits(size, inner.width, _SIZE_MM) else _NAME_MM
    from_where = f"{comes_from}; {part.module}" if comes_from else part.module
    lines = (
        (14.9, _NAME_MM, part.name, False),
        (22.4, size_mm, size, True),
        (27.3, _SMALL_MM, from_where, False),
        (31.0, _SMALL_MM, "; ".join(_still_to_do(part, marks)), False),
    )
    items: list[Item] = [
        Text(at=(inner.x, inner.y + _NUMBER_MM), text=number, height_mm=tall, bold=True),
        *_grain_arrow(inner),
    ]
    for down, height, words, bold in lines:
        shown = _shortened(true_fractions(drawable(words)), inner.width, height, bold=bold)
        items.append(Text(at=(inner.x, inner.y + down), text=shown, height_mm=height, bold=bold))
    return tuple(item for item in items if not isinstance(item, Text) or item.text)


def _fits(words: str, limit: float, height: float) -> bool:
    return width_mm(true_fractions(drawable(words)), height, bold=True) <= limit


def _shortened(words: str, limit: float, height: float, *, bold: bool) -> str:
    """Return words cut to a width, with an ellipsis where some are lost: the part drawing has them all."""
    if width_mm(words, height, bold=bold) <= limit:
        return words
    while words and width_mm(words + "…", height, bold=bold) > limit:
        words = words[:-1]
    return words.rstrip("; ,") + "…"


def _still_to_do(part: Part, marks: Marks) -> Sequence[str]:
    """Return what is left to do once it is cut to its blank size."""
    bevels = [math.degrees(edge.bevel_rad) for edge in part.edges if abs(edge.bevel_rad) > 1e-9]
    scribes = [edge for edge in part.edges if edge.scribe_mm > 0]
    said = []
    if bevels:
        said.append("bevel " + ", ".join(sorted({f"{abs(bevel):.1f}°" for bevel in bevels})))
    said += [f"scribe {small_said(edge.scribe_mm, marks)} to {edge.meets or 'fit'}" for edge in scribes]
    for count, one, many in (
        (len(part.grooves), "housing", "housings"),
        (sum(len(pins.v_mm) for pins in part.pin_holes), "pin hole", "pin holes"),
        (len(part.cutouts), "cut-out", "cut-outs"),
    ):
        if count:
            said.append(f"{count} {one if count == 1 else many}")
    return said


def _grain_arrow(inner: Area) -> Items:
    """Return an arrow along the label's length: stick it on so that it points along the part's length."""
    y, end = inner.y + 3.5, inner.right - 1.0
    start = end - _ARROW_MM
    head = Shape(points=((end - 3.0, y - 1.5), (end, y), (end - 3.0, y + 1.5)), pen=None, fill="grey")
    words = Text(at=(end, y + 5.0), text="face A, length", height_mm=_SMALL_MM, anchor="end")
    return (Line(start=(start, y), end=(end - 1.0, y), pen="wide"), head, words)
