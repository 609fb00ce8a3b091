"""Boards of the cutting chapter: one bar for each lane, with every piece's number and length in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from nookwright.basics.lengths import Marks, show
from nookwright.drawings.lettering import drawable, true_fractions, width_mm, wrapped
from nookwright.drawings.page import Area, Item, Items, Shape, Text
from nookwright.drawings.pages.shared_cuts import clear_length, drawn_piece, shared_cuts_said
from nookwright.drawings.pages.sheets import small_said
from nookwright.drawings.sheet import chosen_scale
from nookwright.geometry.frame import Point2
from nookwright.stages.cutting.board_lanes import Lane, cut_alike, lanes_of
from nookwright.stages.cutting.board_steps import REST_MM, board_steps
from nookwright.stages.cutting.cutting_plan import BoardPiece, BoardPlan
from nookwright.stages.inputs.shop import BoardStock, Shop
from nookwright.stages.parts.sizes import SAME_MM

BAR_MM = 8.0
"""Height of a drawn board; boards are shown in length only. [mm]"""

_TITLE_MM = 4.9
_GAP_MM = 2.6
_WORDS_PITCH_MM = 5.0

Corners = tuple[Point2, Point2, Point2, Point2]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """One lane of a board, or of several boards cut alike.

    Args:
        alike: the boards.
        lane: its pieces, from the trimmed end on.
        title: its heading.
        length_mm: of the board when this lane is cut: what is kept of its far end may be off already. [mm]
        far_mm: trimmed off its far end. [mm]
        kept_mm: what is kept before that, beyond the pieces; 0 for nothing. [mm]
        strip_mm: length and width of the strip beyond it that is kept; 0 for none. [mm]
        strip_at_mm: where that strip starts. [mm]
        note: what stands under the heading.
    """

    alike: tuple[BoardPlan, ...]
    lane: Lane
    title: str
    length_mm: float
    far_mm: float
    kept_mm: float
    strip_mm: tuple[float, float] = (0.0, 0.0)
    strip_at_mm: float = 0.0
    note: str = ""

    @property
    def high_mm(self) -> float:
        """Height of its drawing: as much again for a strip that is kept. [mm on paper]"""
        return 2 * BAR_MM if self.strip_mm[1] else BAR_MM


def board_bars(boards: tuple[BoardPlan, ...], shop: Shop, marks: Marks) -> tuple[Bar, ...]:
    """Return a bar for each lane that boards are ripped into; boards cut alike share theirs."""
    return tuple(
        _made_bar(alike, number, shop, marks)
        for alike in cut_alike(boards)
        for number in range(len(lanes_of(alike[0], shop.saw.kerf_mm)))
    )


def _made_bar(alike: tuple[BoardPlan, ...], number: int, shop: Shop, marks: Marks) -> Bar:
    board, kerf = alike[0], shop.saw.kerf_mm
    lanes = lanes_of(board, kerf)
    lane, last = lanes[number], number == len(lanes) - 1
    kept = board.leftover_mm if board.leftover_mm >= shop.saw.kept_from_mm else 0.0
    off, far = kept and number > 0, 0.0 if board.offcut else shop.saw.far_end_trim_mm
    return Bar(
        alike=alike, lane=lane, title=_title(alike, number, shop, marks),
        length_mm=board.length_mm - far - kept - kerf if off else board.length_mm, far_mm=0.0 if off else far,
        kept_mm=0.0 if off else kept, strip_mm=(board.strip_length_mm, board.strip_mm) if last else (0.0, 0.0),
        strip_at_mm=0.0 if board.offcut else shop.saw.end_trim_mm, note=shared_cuts_said(lane, marks),
    )  # fmt: skip


def bars_scale(boards: Sequence[BoardPlan], width_mm: float) -> int:
    """Return the scale at which the longest board fits a width on paper."""
    return chosen_scale((max(board.length_mm for board in boards), 0.0), (width_mm, 1.0))


def draw_bars(bars: Sequence[Bar], area: Area, scale: int, marks: Marks) -> tuple[Items, int]:
    """Return as many bars as the area holds, and how many those are."""
    items: list[Item] = []
    y, done = area.y, 0
    for bar in bars:
        lines = wrapped(drawable(_with_short(bar, scale, marks)), area.width, 3.5, bold=True)
        notes = wrapped(drawable(bar.note), area.width, 3.5) if bar.note else ()
        height = _TITLE_MM + (len(lines) + len(notes) - 1) * _WORDS_PITCH_MM + bar.high_mm
        if y + height > area.bottom + 1e-9:
            break
        items.extend(
            Text(at=(area.x, y + 3.6 + i * _WORDS_PITCH_MM), text=line, bold=i < len(lines))
            for i, line in enumerate((*lines, *notes))
        )
        at = Area(x=area.x, y=y + height - BAR_MM, width=area.width, height=BAR_MM)
        items.extend((*_kept_strip(bar, at, scale, marks), *_bar(bar, at, scale, marks)))
        y, done = y + height + _GAP_MM, done + 1
    return tuple(items), done


def boards_said(alike: Sequence[BoardPlan]) -> str:
    """Return which boards those are that are cut alike."""
    if len(alike) == 1:
        return f"board {alike[0].index}"
    return f"boards {', '.join(str(each.index) for each in alike)}: {len(alike)} alike"


def _title(alike: Sequence[BoardPlan], number: int, shop: Shop, marks: Marks) -> str:
    """Return a bar's heading: which boards, how long, how they are cut, what is left.

    What is done to the whole board stands over its first lane: an end to be kept comes off before the board is ripped,
    for it is kept in its full width.
    """
    board, stock = alike[0], shop.stock(alike[0].stock)
    lanes = lanes_of(board, shop.saw.kerf_mm)
    name, which = stock.name if stock is not None else board.stock, boards_said(alike)
    width = board.width_mm or (stock.straight_width_mm if isinstance(stock, BoardStock) else 0.0)
    how, left = _ripped(lanes[number], width, marks), show(board.leftover_mm, marks, way="down")
    keeps = board.leftover_mm >= shop.saw.kept_from_mm
    ripped = width - lanes[0].width_mm > SAME_MM
    if number:
        title = f"{name}, {which}, lane {number + 1}: {how}"
    else:
        long = f"{'offcut ' if board.offcut else ''}{show(board.length_mm, marks, way='down')}"
        long += f" long, {show(board.width_mm, marks, way='down')} wide" if board.width_mm else " long"
        out_of = f" (cut it out of {board.cut_from})" if board.cut_from else ""
        first = _end_kept_said(board, stock, shop, marks)
        title = f"{name}, {which}, {long}{out_of}: {first}{_trued(board, stock, marks)}{how}"
    if number < len(lanes) - 1:
        return title
    if board.strip_mm:
        strip = (show(size, marks, way="down") for size in (board.strip_length_mm, board.strip_mm))
        title += f"; keep the strip beyond it, {' x '.join(strip)}"
    if keeps and ripped:
        return title
    return f"{title}; keep the {left} left over" if keeps else f"{title}; {left} left over"


def _with_short(bar: Bar, scale: int, marks: Marks) -> str:
    """Return the heading, with every piece too short to carry its words."""
    nowhere = Area(x=0, y=0, width=0, height=0)
    short = [
        piece
        for number, piece in enumerate(bar.lane.pieces)
        if not _words_in(piece, nowhere, scale, marks, clear_length(bar.lane, number))
    ]
    said = ", ".join(f"{piece.part} {show(piece.length_mm, marks)}" for piece in short)
    return f"{bar.title}; too short to letter: {said}" if said else bar.title


def _bar(bar: Bar, area: Area, scale: int, marks: Marks) -> Items:
    """Return one bar: each piece's number and length in it, what is not used hatched."""
    whole = Area(x=area.x, y=area.y, width=bar.length_mm / scale, height=BAR_MM)
    kept = Area(x=whole.right - (bar.far_mm + bar.kept_mm) / scale, y=area.y, width=bar.kept_mm / scale, height=BAR_MM)
    items: list[Item] = [Shape(points=_box(whole), pen=None, fill="hatch")]
    if bar.kept_mm:
        items.append(Shape(points=_box(kept), pen="wide", fill="white"))
    lane = bar.lane
    for number in range(len(lane.pieces)):
        corners = [(area.x + x / scale, area.bottom - y * BAR_MM) for x, y in drawn_piece(lane, number)]
        items.append(Shape(points=tuple(corners), pen="wide", fill="white"))
    items.append(Shape(points=_box(whole), pen="wide"))
    for number, piece in enumerate(lane.pieces):
        items.extend(_words_in(piece, area, scale, marks, clear_length(lane, number)))
    if bar.kept_mm:
        items.extend(_lettered("keep", show(bar.kept_mm, marks, way="down"), kept))
    return tuple(items)


def _kept_strip(bar: Bar, area: Area, scale: int, marks: Marks) -> Items:
    """Return the strip that is kept beyond a lane, above the lane's bar, with its size in it."""
    length, width = bar.strip_mm
    if not width:
        return ()
    strip = Area(x=area.x + bar.strip_at_mm / scale, y=area.y - BAR_MM, width=length / scale, height=BAR_MM)
    size = f"{show(length, marks, way='down')} x {show(width, marks, way='down')}"
    return (Shape(points=_box(strip), pen="wide", fill="white"), *_lettered("keep", size, strip))


def _words_in(piece: BoardPiece, area: Area, scale: int, marks: Marks, clear: tuple[float, float]) -> Items:
    """Return a piece's number and length inside it; nothing where there is no room."""
    box = Area(x=area.x + clear[0] / scale, y=area.y, width=(clear[1] - clear[0]) / scale, height=BAR_MM)
    return _lettered(drawable(piece.part), show(piece.length_mm, marks), box)


def _lettered(number: str, said: str, box: Area) -> Items:
    """Return a name and a length in a box, the length as large as there is room; nothing where there is none.

    Side by side with 5 mm figures where they fit, else 3.5 mm, else one over the other.
    """
    length = true_fractions(said)
    for height in (5.0, 3.5):
        long = width_mm(number, 3.5, bold=True), width_mm(length, height)
        if sum(long) + 2.0 + 2.4 <= box.width:
            left, y = box.x + (box.width - sum(long) - 2.0) / 2, box.y + BAR_MM / 2
            return (
                Text(at=(left, y + 1.75), text=number, bold=True),
                Text(at=(left + long[0] + 2.0, y + height / 2), text=length, height_mm=height),
            )
    if max(long) + 1.6 <= box.width:
        middle = box.x + box.width / 2
        return (
            Text(at=(middle, box.y + 3.6), text=number, height_mm=2.5, anchor="middle", bold=True),
            Text(at=(middle, box.y + 7.1), text=length, height_mm=2.5, anchor="middle"),
        )
    return ()


def _trued(board: BoardPlan, stock: object, marks: Marks) -> str:
    """Return what makes a board flat and straight before its lanes are cut; a strip on hand is straight already."""
    first = ""
    if isinstance(stock, BoardStock) and stock.flatten_mm:
        first = f"plane its faces flat, to {show(stock.thickness_mm, marks)} thick, "
    if isinstance(stock, BoardStock) and stock.straighten_mm and not board.width_mm:
        first += f"straighten its edges to {show(stock.straight_width_mm, marks, way='down')}, "
    return first


def _end_kept_said(board: BoardPlan, stock: object, shop: Shop, marks: Marks) -> str:
    """Return how the end that is kept comes off before a board is ripped; empty where none does.

    It is measured from the first end, so that pieces have their length whatever the board's own is.
    """
    steps = board_steps(board, stock, shop.saw) if isinstance(stock, BoardStock) else ()
    at = next((step.figures[0].mm for step in steps if step.doing == "keep end"), None)
    if at is None:
        return ""
    trimmed = steps[0].doing == "trim first end"
    far = shop.saw.far_end_trim_mm if not board.offcut else 0.0
    said = f"trim {small_said(far, marks)} off its far end, then " if far else ""
    said += f"crosscut it at {show(at, marks)} from its {'trimmed ' if trimmed else ''}first end, "
    return f"{said}keep the {show(board.leftover_mm, marks, way='down')} beyond, "


def _ripped(lane: Lane, width_mm: float, marks: Marks) -> str:
    """Return how a lane is cut: ripped first unless it is all that remains; its narrower pieces are ripped last."""
    wide = lane.width_mm
    narrow = [piece for piece in lane.pieces if wide - piece.width_mm > SAME_MM]
    first = ""
    if width_mm - lane.across_mm - wide > REST_MM:
        first = f"rip a lane {show(wide, marks)} wide, {'' if narrow else 'then '}"
    elif lane.across_mm:
        first = f"the {show(wide, marks)} that remain, "
    each = ", ".join(f"{piece.part} {show(piece.width_mm, marks)}" for piece in narrow)
    return f"{first}crosscut, then rip to {each}" if narrow else f"{first}crosscut"


def _box(area: Area) -> Corners:
    return ((area.x, area.y), (area.right, area.y), (area.right, area.bottom), (area.x, area.bottom))
