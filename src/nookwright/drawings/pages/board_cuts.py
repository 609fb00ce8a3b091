"""Boards step by step, a picture a step: what is in hand, what is set, the cut, what comes free, what is left over."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from nookwright.basics.lengths import Marks, show
from nookwright.drawings.blocks import Paragraph
from nookwright.drawings.clearance import Taken
from nookwright.drawings.dimensions import TICK_MM, single
from nookwright.drawings.flow import lay
from nookwright.drawings.lettering import (
    NOTES_MM,
    drawable,
    line_pitch_mm,
    reach_below_mm,
    text_corners,
    true_fractions,
    width_mm,
    wrapped,
)
from nookwright.drawings.page import Area, Item, Items, Line, Shape, Text
from nookwright.drawings.pages.boards import boards_said
from nookwright.drawings.pages.shared_cuts import HOW_TO, shared_cut_said, turned_said
from nookwright.drawings.pages.sheets import area_said, small_said
from nookwright.drawings.sheet import Draft, Issue, body
from nookwright.geometry.frame import Point2
from nookwright.stages.cutting.board_lanes import Lane, cut_alike, lanes_of
from nookwright.stages.cutting.board_steps import BoardStep, Doing, SetOff, board_steps
from nookwright.stages.cutting.cutting_plan import BoardPlan
from nookwright.stages.inputs.shop import BoardStock, Shop
from nookwright.stages.parts.sizes import SAME_MM

_NUMBER_MM, _WORDS_MM = 5.0, 3.5
_UNDER_WORDS_MM = 3.0
_UNDER_NOTE_MM = 2.5
_GAP_MM = 6.0
_BAR_MM, _OFF_MM = 2.5, 0.6
_LEFT_MM, _RIGHT_MM = 24.0, 6.0
_FIGURE_MM = 11.0
"""Room beside what is in hand for a figure along it. [mm]"""
_BEYOND_MM = 2.0
_BOW_MM, _BOW_STEPS = 1.6, 24
"""How far a crooked edge is drawn from straight, whatever it is; that it is crooked must be seen. [mm]"""
_LARGEST_SCALE = 5
_LEAST_HIGH_MM, _MOST_HIGH_MM, _LETTERED_MM = 12.0, 26.0, 5.5
"""How high a board in hand is drawn: so that its narrowest lane holds a number, where that is not too high. [mm]"""

_NOTE = (
    "One picture a step, in order, not to scale, and widths drawn larger than lengths; the first end lies at the left, "
    "the near edge below. Wide dashed line: the cut. Hatched bar: the edge at the fence, or the end at the stop or "
    "measured from; its figure reaches to the blade's near side. Of a trim the figure is what comes off, the cut "
    "counted in. Tinted: free after this step; label a part as soon as it is cut to length. Grey: still to come out."
)

_DONE: dict[Doing, str] = {
    "trim first end": "Trim the first end",
    "trim far end": "Trim the far end",
    "keep end": "Crosscut; what lies beyond is kept",
    "straighten": "Straighten the near edge",
    "true": "Rip, the straightened edge at the fence: now the far edge is straight too",
    "rip": "Rip, the near edge at the fence",
    "crosscut": "Crosscut",
    "narrow": "Rip, the near edge at the fence",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stretched:
    """How a board comes onto paper: its own scale along and across, for boards are long and narrow.

    Args:
        along, across: paper for a millimetre of board.
        origin: where the board's first end and near edge meet. [mm]
    """

    along: float
    across: float
    origin: Point2

    def at(self, point: Point2) -> Point2:
        """Return the place on paper of a place on the board. [mm]"""
        return self.origin[0] + point[0] * self.along, self.origin[1] - point[1] * self.across

    def all_at(self, points: Sequence[Point2]) -> tuple[Point2, ...]:
        """Return the places on paper of places on the board. [mm]"""
        return tuple(self.at(point) for point in points)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Cut:
    """Boards that are cut alike, and what they are cut by."""

    alike: tuple[BoardPlan, ...]
    lanes: tuple[Lane, ...]
    stock: BoardStock
    shop: Shop
    marks: Marks


@dataclass(frozen=True, slots=True, kw_only=True)
class _Picture:
    """One step, its words broken into lines: its number with its figures, what is done, what comes free."""

    step: BoardStep
    number: tuple[str, str]
    lines: tuple[tuple[str, bool], ...]
    high_mm: float

    @property
    def above_mm(self) -> float:
        """Room for its words, and for a figure along the far edge. [mm]"""
        words = 4.0 + len(self.lines) * line_pitch_mm(_WORDS_MM) + _UNDER_WORDS_MM
        return words + (_FIGURE_MM if _figured_above(self.step) else _BEYOND_MM)

    @property
    def below_mm(self) -> float:
        """Room for the fence, or for a figure along the near edge. [mm]"""
        level = any(not _figured_upright(figure) for figure in self.step.figures)
        return _FIGURE_MM if level and len(self.step.figures) - _figured_above(self.step) else _BAR_MM + _OFF_MM

    @property
    def whole_mm(self) -> float:
        """Height of all of it. [mm]"""
        return self.above_mm + self.high_mm + self.below_mm


def board_cut_pages(boards: tuple[BoardPlan, ...], shop: Shop, issue: Issue) -> list[Draft]:
    """Return pages of pictures of every step of every board; boards cut alike share theirs.

    Args:
        boards: the boards; one that is used as it lies there has no page.
        shop: stock and saw.
        issue: units and paper.
    """
    drafts: list[Draft] = []
    for alike in cut_alike(boards):
        stock = shop.stock(alike[0].stock)
        assert isinstance(stock, BoardStock)  # noqa: S101  boards are planned of boards only
        lanes = lanes_of(alike[0], shop.saw.kerf_mm)
        drafts += _pages(_Cut(alike=alike, lanes=lanes, stock=stock, shop=shop, marks=issue.marks), issue)
    return drafts


def _pages(cut: _Cut, issue: Issue) -> list[Draft]:
    """Return the pages of boards cut alike, as many pictures on each as it holds."""
    area = body(issue.paper)
    pictures = [_worded(step, cut, area.width) for step in board_steps(cut.alike[0], cut.stock, cut.shop.saw)]
    some = len(cut.alike)
    name = f"{cut.stock.name}, {boards_said(cut.alike) if some == 1 else f'{some} boards'}"
    drafts: list[Draft] = []
    while pictures:
        first, items, y = pictures[0].step.order, list[Item](), area.y
        if not drafts:
            laid = lay(Paragraph(text=_noted(cut), height_mm=NOTES_MM), area)
            items, y = list(laid.items), area.y + laid.height_mm + _UNDER_NOTE_MM
        last = first
        while pictures and (last == first or y + pictures[0].whole_mm <= area.bottom):
            one = pictures.pop(0)
            items += _drawn(one, Area(x=area.x, y=y, width=area.width, height=one.whole_mm), cut)
            y, last = y + one.whole_mm + _GAP_MM, one.step.order + 1
        which = f"steps {first} to {last - 1}" if last > first + 1 else f"step {first}"
        drafts.append(Draft(name=f"{name}: {which}", items=tuple(items)))
    return drafts


def _noted(cut: _Cut) -> str:
    board, marks = cut.alike[0], cut.marks
    which = boards_said(cut.alike)
    said = [f"{which[0].upper()}{which[1:]}"]
    said += [("an offcut" if len(cut.alike) == 1 else "offcuts")] if board.offcut else []
    said += [f"{show(board.length_mm, marks, way='down')} long"]
    said += [f"{show(board.width_mm or cut.stock.width_mm, marks, way='down')} wide"]
    out_of = f"; cut it out of {board.cut_from}" if board.cut_from else ""
    how_to = f" {HOW_TO}" if any(piece.shared is not None for piece in board.pieces) else ""
    return f"{', '.join(said)}{out_of}. {_NOTE}{how_to}"


def _worded(step: BoardStep, cut: _Cut, width: float) -> _Picture:
    """Return a step with its words."""
    free = _free_said(step, cut)
    lines = [(line, False) for line in wrapped(drawable(f"{_done_said(step, cut)}."), width, _WORDS_MM)]
    if free:
        lines += [(line, True) for line in wrapped(drawable(f"{free}."), width, _WORDS_MM, bold=True)]
    across = [y for _, y in step.hand]
    high = _LEAST_HIGH_MM
    if not step.lane or step.doing == "rip":
        narrowest = min(lane.width_mm for lane in cut.lanes)
        high = min(_MOST_HIGH_MM, max(high, _LETTERED_MM * (max(across) - min(across)) / narrowest))
    return _Picture(step=step, number=(f"Step {step.order}", _figures_said(step, cut.marks)), lines=tuple(lines),
                    high_mm=high)  # fmt: skip


def _figures_said(step: BoardStep, marks: Marks) -> str:
    """Return what is set or marked, as it stands beside the step's number."""
    if step.doing.startswith("trim"):
        return f"{small_said(step.figures[0].mm, marks)} off"
    said = [show(figure.mm, marks) for figure in step.figures]
    return f"near edge {said[0]}, far edge {said[1]}" if len(set(said)) > 1 else "".join(said[:1])


def _done_said(step: BoardStep, cut: _Cut) -> str:
    """Return what is done, and at which setting."""
    lane = cut.lanes[step.lane - 1]
    said = []
    together = f"{step.together[0].part} to {step.together[-1].part}" if step.together else ""
    parted = lane.cut_off_together(step.place) and not step.together
    if step.lane and step.doing in {"slant", "crosscut"} and not step.place and not parted and len(cut.lanes) > 1:
        said.append(f"Take up lane {step.lane}")
    if step.doing == "narrow":
        said.append(f"Take up {together or lane.pieces[step.place].part}")
    if step.doing == "plane":
        said.append(f"Plane its faces flat, to {show(cut.stock.thickness_mm, cut.marks)} thick")
    elif step.doing == "slant":
        said.append(f"Slanted cut: {shared_cut_said(lane, step.place + 1, cut.marks)}")
    else:
        said.append(_DONE[step.doing])
    if step.doing == "crosscut" and lane.pieces[step.place].shared is not None:
        edge = "far" if step.figures[0].start[1] > lane.across_mm else "near"
        said.append(f"measure along the {edge} edge, on the upper face, from the slanted cut")
        own, set_at = (show(mm, cut.marks) for mm in (lane.pieces[step.place].length_mm, step.figures[0].mm))
        said += [f"set {set_at}, not {lane.pieces[step.place].part}'s own length, {own}"] if own != set_at else []
    said += [] if step.new_setting else ["same setting"]
    return "; ".join((said[0], *(f"{one[0].lower()}{one[1:]}" for one in said[1:])))


def _free_said(step: BoardStep, cut: _Cut) -> str:
    """Return what comes free: lanes, parts with their sizes, what is kept, what is left over."""
    marks, free = cut.marks, list[str]()
    lane = cut.lanes[step.lane - 1]
    if step.doing == "rip":
        free.append(f"lane {step.lane}, {show(lane.width_mm, marks)} wide")
    for piece in step.frees:
        lane = next(one for one in cut.lanes if one.across_mm == piece.across_mm)
        wide = lane.strip_mm(lane.pieces.index(piece))
        free.append(f"{piece.part} {area_said(piece.length_mm, wide, marks)}")
        free += [f"still to be ripped to {show(piece.width_mm, marks)}"] if wide - piece.width_mm > SAME_MM else []
    if step.together:
        free.append(f"{step.together[0].part} to {step.together[-1].part} in one piece")
    if step.narrowed is not None:
        free.append(f"{step.narrowed.part} {area_said(step.narrowed.length_mm, step.narrowed.width_mm, marks)}")
    free += [f"keep {area_said(*step.keeps, marks, way='down')}"] if step.keeps else []
    said = [f"Free: {', '.join(free)}"] if free else []
    turned = turned_said(step.frees)
    said += [turned] if turned else []
    said += [f"{piece.part} is what remains: measure it" for piece in step.remains]
    if step.left is not None and min(step.left) >= 1.0:
        said.append(f"left over: {area_said(*step.left, marks, way='down')}")
    return "; ".join(said)


def _figured_upright(figure: SetOff) -> bool:
    return figure.start[0] == figure.end[0]


def _figured_above(step: BoardStep) -> int:
    """Return how many figures run along the far edge, and so stand over what is in hand."""
    near = min(y for _, y in step.hand)
    return sum(not _figured_upright(figure) and figure.start[1] > near for figure in step.figures)


def _drawn(one: _Picture, cell: Area, cut: _Cut) -> Items:
    """Return a picture: its words, and what is in hand with fence or stop, cut, figures and what comes free."""
    step = one.step
    beside = cell.x + width_mm(one.number[0], _NUMBER_MM, bold=True) + 6.0
    words = [
        Text(at=(cell.x, cell.y + 4.0), text=one.number[0], height_mm=_NUMBER_MM, bold=True),
        Text(at=(beside, cell.y + 4.0), text=true_fractions(one.number[1]), height_mm=_NUMBER_MM, bold=True),
        *(
            Text(at=(cell.x, cell.y + 4.0 + (i + 1) * line_pitch_mm(_WORDS_MM)), text=line, bold=bold)
            for i, (line, bold) in enumerate(one.lines)
        ),
    ]
    space = Area(x=cell.x, y=cell.y + one.above_mm, width=cell.width, height=one.high_mm)
    view = _view(step, space.inset(left=_LEFT_MM, right=_RIGHT_MM), cut)
    taken = Taken(within=cell)
    outline = Shape(points=_outline(step, view), pen="wide")
    ready = (outline, *_held(step, view), *_cut_line(step, view))
    taken.note((*words, *ready))
    fills, inside = _inside(step, view, cut, taken)
    figures = [item for figure in step.figures for item in _figure(step, figure, view, cut.marks, taken)]
    return (*words, *fills, *inside, *ready, *figures)


def _view(step: BoardStep, space: Area, cut: _Cut) -> _Stretched:
    """Return how what is in hand comes onto paper: all steps of board and lanes alike, a piece alone by itself."""
    alone = step.doing == "narrow"
    first = min(x for x, _ in step.hand) if alone else 0.0
    length = max(x for x, _ in step.hand) - first if alone else cut.alike[0].length_mm
    low, high = min(y for _, y in step.hand), max(y for _, y in step.hand)
    along, across = 1 / max(_LARGEST_SCALE, math.ceil(length / space.width)), space.height / (high - low)
    return _Stretched(along=along, across=across, origin=(space.x - first * along, space.bottom + low * across))


def _outline(step: BoardStep, view: _Stretched) -> tuple[Point2, ...]:
    """Return the outline of what is in hand; an edge that is still to be straightened is drawn bowed."""
    (left, bottom), (right, _), (far_right, top), (far_left, _) = view.all_at(step.hand)
    near: list[Point2] = [(left, bottom), (right, bottom)]
    far: list[Point2] = [(far_right, top), (far_left, top)]
    if step.doing == "straighten":
        near = _bowed(near[0], near[1])
    if step.doing in {"straighten", "true"}:
        far = _bowed(far[0], far[1])
    return (*near, *far)


def _bowed(start: Point2, end: Point2) -> list[Point2]:
    """Return an arch over a level line from start to end. [mm on paper]"""
    shares = [i / _BOW_STEPS for i in range(_BOW_STEPS + 1)]
    return [(start[0] + t * (end[0] - start[0]), start[1] - 4 * _BOW_MM * t * (1 - t)) for t in shares]


def _held(step: BoardStep, view: _Stretched) -> Items:
    """Return the bar at the edge that lies at the fence, or at the end that lies at the stop."""
    corners = view.all_at(step.hand)
    left, right = min(x for x, _ in corners), max(x for x, _ in corners)
    top, bottom = min(y for _, y in corners), max(y for _, y in corners)
    if step.doing in {"true", "rip", "narrow"}:
        return (_bar(left, bottom + _OFF_MM, right, bottom + _OFF_MM + _BAR_MM),)
    if step.doing in {"keep end", "crosscut"}:
        return (_bar(left - _OFF_MM - _BAR_MM, top, left - _OFF_MM, bottom),)
    return ()


def _bar(left: float, top: float, right: float, bottom: float) -> Shape:
    return Shape(points=((left, top), (right, top), (right, bottom), (left, bottom)), pen="narrow", fill="hatch")


def _cut_line(step: BoardStep, view: _Stretched) -> Items:
    """Return the cut, a little longer than what is in hand is wide or long."""
    if step.cut is None:
        return ()
    (x1, y1), (x2, y2) = view.all_at(step.cut)
    if step.doing == "straighten":
        y1 = y2 = max(y for _, y in view.all_at(step.hand)) - _BOW_MM
    long = math.hypot(x2 - x1, y2 - y1)
    dx, dy = _BEYOND_MM * (x2 - x1) / long, _BEYOND_MM * (y2 - y1) / long
    return (Line(start=(x1 - dx, y1 - dy), end=(x2 + dx, y2 + dy), pen="wide", dash="dashed"),)


def _figure(step: BoardStep, figure: SetOff, view: _Stretched, marks: Marks, taken: Taken) -> Items:
    """Return a figure's dimension: below along the near edge, above along the far edge, left of a rip's fence."""
    start, end = view.at(figure.start), view.at(figure.end)
    label = small_said(figure.mm, marks) if step.doing.startswith("trim") else show(figure.mm, marks)
    if _figured_upright(figure):
        return _beside(start, end, label, taken)
    near = figure.start[1] == min(y for _, y in step.hand)
    line_at = start[1] + 7.5 if near else start[1] - 4.5
    return single("level", (min(start, end), max(start, end)), label, line_at, taken)


def _beside(start: Point2, end: Point2, label: str, taken: Taken) -> Items:
    """Return a figure across what is in hand, left of it: it stands level, for the space it measures may be low."""
    line_at = start[0] - 5.5
    lines = single("upright", (min(start, end), max(start, end)), "", line_at, taken)
    at = (line_at - TICK_MM - 1.0, (start[1] + end[1] + _WORDS_MM) / 2)
    words = Text(at=at, text=true_fractions(label), height_mm=_WORDS_MM, anchor="end")
    taken.note((words,))
    return (*lines, words)


def _inside(step: BoardStep, view: _Stretched, cut: _Cut, taken: Taken) -> tuple[Items, Items]:
    """Return tints of what comes free, and every piece in hand with its number where there is room."""
    free = {*step.frees, *step.together, *((step.narrowed,) if step.narrowed else ())}
    if step.doing == "rip":
        free |= set(cut.lanes[step.lane - 1].pieces)
    inside = () if step.doing == "straighten" else step.inside  # it is not yet known just where they will lie
    shown = [(drawable(one.piece.part), view.all_at(one.corners), one.piece in free) for one in inside]
    fills = [Shape(points=corners, pen=None, fill="tint") for _, corners, tinted in shown if tinted]
    drawn: list[Item] = [Shape(points=corners, pen="narrow", ink="grey") for _, corners, _ in shown]
    if step.keeps is not None:
        kept = view.all_at(_kept_corners(step))
        fills.append(Shape(points=kept, pen=None, fill="tint"))
        shown.append(("keep", kept, True))
    taken.note(drawn)
    for number, corners, bold in shown:
        words = _number(number, corners, taken, bold=bold)
        drawn.extend(words)
        taken.note(words)
    return tuple(fills), tuple(drawn)


def _kept_corners(step: BoardStep) -> tuple[Point2, ...]:
    """Return where what is kept lies: beyond the cut, to the far edge or the far end. [mm]"""
    assert step.cut is not None  # noqa: S101  what is kept comes free by a cut
    right, high = max(x for x, _ in step.hand), max(y for _, y in step.hand)
    left, low = step.cut[0]
    low = low if step.doing == "rip" else min(y for _, y in step.hand)
    return ((left, low), (right, low), (right, high), (left, high))


def _number(number: str, corners: tuple[Point2, ...], taken: Taken, *, bold: bool) -> Items:
    """Return a name in the middle of a piece, as large as there is room; nothing where there is none."""
    left, right = max(corners[0][0], corners[3][0]), min(corners[1][0], corners[2][0])
    bottom, top = corners[0][1], corners[3][1]
    for height in (_WORDS_MM, NOTES_MM):
        tail = reach_below_mm(number, height)
        at = ((left + right) / 2, (bottom + top + height - tail) / 2)
        words = Text(at=at, text=number, height_mm=height, anchor="middle", bold=bold)
        room = width_mm(number, height, bold=True) + 2.0 <= right - left and height + tail + 1.2 <= bottom - top
        if room and taken.clear_of_other_words(text_corners(words)):
            return (words,)
    return ()
