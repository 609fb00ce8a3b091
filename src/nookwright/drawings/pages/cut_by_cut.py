"""Pictures of every cut of a sheet: the piece in hand, the fence, the cut, what comes free; then those of boards."""

from __future__ import annotations

import math

from nookwright.basics.amounts import show_mass
from nookwright.basics.lengths import Marks, show
from nookwright.drawings.blocks import Paragraph
from nookwright.drawings.clearance import Taken
from nookwright.drawings.dimensions import single
from nookwright.drawings.flow import lay
from nookwright.drawings.lettering import NOTES_MM, drawable, line_pitch_mm, true_fractions, width_mm, wrapped
from nookwright.drawings.page import Area, Item, Items, Line, Page, Shape, Text
from nookwright.drawings.pages.board_cuts import board_cut_pages
from nookwright.drawings.pages.sheets import area_said, sheet_name, sheet_words
from nookwright.drawings.sheet import Draft, Issue, body, finished, marked
from nookwright.drawings.view import View
from nookwright.plan import Plan
from nookwright.stages.cutting.at_the_saw import Box, CutStep, cut_steps
from nookwright.stages.cutting.cutting_plan import SheetPlan
from nookwright.stages.inputs.shop import Saw, Shop
from nookwright.week import Week

ACROSS, DOWN = 2, 3
"""Pictures on a page. Our choice."""

_CAPTION_MM, _UNDER_CAPTION_MM = 21.0, 3.5
_UNDER_NOTE_MM = 2.0
_DIMENSION_MM = 9.0
_FENCE_MM = 2.5
_GAP_MM = 6.0
_LARGEST_SCALE = 5

_BY = {"": "", "fence": " at the fence", "crosscut": " on the sled", "track": " along the track"}
_NOTE = (
    "One picture a cut, in order, not to scale; every piece lies as on the sheet's drawing. Wide dashed line: the cut. "
    "Hatched bar: the edge at the fence or stop, or measured from; its figure reaches to the blade's near side. "
    "Tinted: free after this cut; label it at once. Grey: still to come out of the piece."
)


def cut_by_cut_pages(work: Plan | Week, issue: Issue) -> tuple[Page, ...]:
    """Return pages of pictures of every cut of every sheet and every step of every board, numbered through.

    Args:
        work: the job, or the jobs cut together.
        issue: units and paper.
    """
    drafts = [draft for sheet in work.cutting.sheets for draft in _sheet(sheet, work.shop, issue)]
    drafts += board_cut_pages(work.cutting.boards, work.shop, issue)
    signed = marked(tuple(drafts), work.open_questions)
    return tuple(finished(draft, issue, number=i, total=len(signed)) for i, draft in enumerate(signed, start=1))


def _sheet(sheet: SheetPlan, shop: Shop, issue: Issue) -> list[Draft]:
    """Return the pages of one sheet; a sheet that is used whole has no cut and no page."""
    steps = cut_steps(sheet, shop.saw.kerf_mm)
    area = body(issue.paper)
    drafts: list[Draft] = []
    top = 0.0
    for first in range(0, len(steps), ACROSS * DOWN):
        above: list[Item] = []
        if not first:
            said = (f"{sheet_words(sheet, shop, issue.marks)}.", _NOTE)
            laid = lay(Paragraph(text=" ".join(said), height_mm=NOTES_MM), area)
            above, top = list(laid.items), laid.height_mm + _UNDER_NOTE_MM
        room = area.inset(top=top)
        cells = [
            item
            for place, step in enumerate(steps[first : first + ACROSS * DOWN])
            for item in _picture(step, _cell(room, place), shop, issue.marks)
        ]
        last = min(first + ACROSS * DOWN, len(steps))
        which = f"cuts {first + 1} to {last}" if last > first + 1 else f"cut {last}"
        drafts.append(Draft(name=f"{sheet_name(sheet, shop)}: {which}", items=(*above, *cells)))
    return drafts


def _cell(area: Area, place: int) -> Area:
    row, column = divmod(place, ACROSS)
    width, height = (area.width - _GAP_MM) / ACROSS, (area.height - (DOWN - 1) * 3.0) / DOWN
    return Area(x=area.x + column * (width + _GAP_MM), y=area.y + row * (height + 3.0), width=width, height=height)


def _picture(step: CutStep, cell: Area, shop: Shop, marks: Marks) -> Items:
    """Return one cut: what is said of it, and the piece in hand with fence, cut and what comes free."""
    caption = _caption(step, cell, shop.saw, marks)
    below = max(_CAPTION_MM, max(text.at[1] for text in caption) - cell.y + _UNDER_CAPTION_MM)
    space = cell.inset(left=_DIMENSION_MM + 3.0, right=_FENCE_MM + 2.0, top=below + _FENCE_MM, bottom=_DIMENSION_MM)
    x, y, length, width = step.piece
    scale = max(_LARGEST_SCALE, math.ceil(max(length / space.width, width / space.height)))
    left = space.x + (space.width - length / scale) / 2
    view = View(scale=scale, origin=(left - x / scale, space.y + width / scale + y / scale))
    taken = Taken(within=cell)
    outline = view.polygon(_corners(step.piece), pen="wide")
    cut = _cut_line(step, view)
    fence = _fence(step, view)
    taken.note((*caption, outline, cut, *fence))
    fills, inside = _parts(step, view, marks, taken)
    return (*caption, *fills, *inside, outline, cut, *fence, *_distance(step, view, marks, taken))


def _caption(step: CutStep, cell: Area, saw: Saw, marks: Marks) -> tuple[Text, ...]:
    """Return the cut's number and setting, how it is made, and what comes free."""
    cut = step.cut
    kind = "Rip" if cut.along == "length" else "Crosscut"
    doing = [f"{kind}{_BY[cut.by]}"]
    doing += [f"two people, {show_mass(cut.kg, marks.units)}"] if cut.kg > saw.lift_kg else []
    doing += ["takes the factory edge off"] if step.waste_mm <= saw.trim_mm else []
    doing += [] if step.new_setting else ["same setting"]
    doing += ["turn the piece"] if step.turned and step.same_piece else []
    doing += [] if step.same_piece or cut.order == 1 else ["take up this piece"]
    free = [f"{one.part} {area_said(*one.own_size_mm, marks)}" for one in step.frees]
    free += [f"keep {area_said(one.length_mm, one.width_mm, marks, way='down')}" for one in step.keeps]
    lines = wrapped(drawable(f"{'; '.join(doing)}."), cell.width, 3.5)
    number = f"Cut {cut.order}"
    beside = cell.x + width_mm(number, 5.0, bold=True) + 6.0
    texts = [
        Text(at=(cell.x, cell.y + 5.0), text=number, height_mm=5.0, bold=True),
        Text(
            at=(beside, cell.y + 5.0), text=true_fractions(show(cut.at_mm, marks)), height_mm=5.0, bold=True
        ),
    ]  # fmt: skip
    at = cell.y + 10.5
    for words, bold in (*((line, False) for line in lines), *_free_lines(free, cell.width)):
        texts.append(Text(at=(cell.x, at), text=true_fractions(words), height_mm=3.5, bold=bold))
        at += line_pitch_mm(3.5)
    return tuple(texts)


def _free_lines(free: list[str], width: float) -> list[tuple[str, bool]]:
    if not free:
        return []
    lines = wrapped(drawable(f"Free: {', '.join(free)}"), width, 3.5, bold=True)
    return [(line, True) for line in lines[:2]]


def _cut_line(step: CutStep, view: View) -> Line:
    """Return the cut, a little longer than the piece."""
    (x1, y1), (x2, y2) = view.at((step.cut.x1_mm, step.cut.y1_mm)), view.at((step.cut.x2_mm, step.cut.y2_mm))
    beyond = 2.0
    if step.cut.along == "length":
        return Line(start=(x1 - beyond, y1), end=(x2 + beyond, y2), pen="wide", dash="dashed")
    return Line(start=(x1, y1 + beyond), end=(x2, y2 - beyond), pen="wide", dash="dashed")


def _fence(step: CutStep, view: View) -> Items:
    """Return the bar at the edge that lies at the fence or stop, or is measured from."""
    x, y, length, width = step.piece
    left, top = view.at((x, y + width))
    right, bottom = view.at((x + length, y))
    off = 0.6
    if step.cut.along == "length":
        low, high = (top - off - _FENCE_MM, top - off) if step.far else (bottom + off, bottom + off + _FENCE_MM)
        box = ((left, high), (right, high), (right, low), (left, low))
    else:
        near, beyond = (right + off, right + off + _FENCE_MM) if step.far else (left - off - _FENCE_MM, left - off)
        box = ((near, bottom), (beyond, bottom), (beyond, top), (near, top))
    return (Shape(points=box, pen="narrow", fill="hatch"),)


def _distance(step: CutStep, view: View, marks: Marks, taken: Taken) -> Items:
    """Return the distance from the fence to the blade's near side."""
    x, y, length, width = step.piece
    cut, label = step.cut, show(step.cut.at_mm, marks)
    if cut.along == "length":
        edge = y + width if step.far else y
        blade = edge - cut.at_mm if step.far else edge + cut.at_mm
        ends = view.at((x, edge)), view.at((x, blade))
        ordered = (ends[0], ends[1]) if ends[0][1] < ends[1][1] else (ends[1], ends[0])
        return single("upright", ordered, label, ordered[0][0] - 6.0, taken)
    edge = x + length if step.far else x
    blade = edge - cut.at_mm if step.far else edge + cut.at_mm
    ends = view.at((edge, y)), view.at((blade, y))
    ordered = (ends[0], ends[1]) if ends[0][0] < ends[1][0] else (ends[1], ends[0])
    return single("level", ordered, label, ordered[0][1] + 7.0, taken)


def _parts(step: CutStep, view: View, marks: Marks, taken: Taken) -> tuple[Items, Items]:
    """Return tints of what comes free, and every part in the piece with its number where there is room."""
    fills: list[Item] = []
    drawn: list[Item] = []
    free = {one.part for one in step.frees}
    for one in step.inside:
        box = (one.x_mm, one.y_mm, one.length_mm, one.width_mm)
        if one.part in free:
            fills.append(view.polygon(_corners(box), pen=None, fill="tint"))
        else:
            drawn.append(view.polygon(_corners(box), pen="narrow", ink="grey"))
    taken.note(drawn)
    for one in step.inside:
        left, bottom = view.at((one.x_mm, one.y_mm))
        wide, tall = one.length_mm / view.scale, one.width_mm / view.scale
        number = drawable(one.part)
        for angle in (0.0, 90.0):
            long, short = (wide, tall) if not angle else (tall, wide)
            if width_mm(number, 3.5, bold=True) + 2.0 <= long and short >= 5.5:
                middle = (left + wide / 2, bottom - tall / 2)
                at = (middle[0], middle[1] + 1.75) if not angle else (middle[0] + 1.75, middle[1])
                words = Text(at=at, text=number, anchor="middle", angle_deg=angle, bold=one.part in free)
                drawn.append(words)
                taken.note((words,))
                break
    return tuple(fills), tuple(drawn)


def _corners(box: Box) -> tuple[tuple[float, float], ...]:
    x, y, length, width = box
    return ((x, y), (x + length, y), (x + length, y + width), (x, y + width))
