"""Order of work: a picture for each step that adds pieces, new ones bold, earlier ones grey, fastenings counted."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence

from nookwright.basics.lengths import Marks, show
from nookwright.drawings.blocks import Heading, Paragraph, Picture, Told
from nookwright.drawings.lettering import drawable, line_pitch_mm, true_fractions, wrapped
from nookwright.drawings.page import Area, Item, Line, Shape, Text
from nookwright.drawings.projection import from_front
from nookwright.drawings.sheet import Draft, Issue, body
from nookwright.drawings.view import View, fitted
from nookwright.stages.design.design import Box
from nookwright.stages.installing.install_plan import Step
from nookwright.stages.parts.part import PartList

PICTURE_MM = (70.0, 54.0)
_GAP_MM = 4.0

Line35 = tuple[str, bool]
"""A line of words and whether it is bold."""


def step_sheets(steps: Sequence[Step], boxes: Sequence[Box], parts: PartList, issue: Issue) -> tuple[Draft, ...]:
    """Return the sheets of the order of work.

    Args:
        steps: in order.
        boxes: for bought cabinets, which have no parts of ours.
        parts: every part, for the pictures.
        issue: units and paper.

    Returns:
        As many steps a sheet as it holds.
    """
    if not steps:
        return ()
    area = body(issue.paper)
    view = _picture_view(boxes, parts)
    pages: list[list[Item]] = [[]]
    y = area.y
    for i in range(len(steps)):
        shown = view if steps[i].parts else None
        beside = PICTURE_MM[0] + _GAP_MM if shown is not None else 0.0
        words = _words(i + 1, steps, parts, issue.marks, area.width - beside)
        height = max(PICTURE_MM[1] if beside else 0.0, len(words) * line_pitch_mm(3.5) + 1.0)
        if y + height > area.bottom and pages[-1]:
            pages.append([])
            y = area.y
        block = Area(x=area.x, y=y, width=area.width, height=height)
        pages[-1].extend(_block(i, steps, words, block, shown, boxes, parts))
        y += height + _GAP_MM
    told = _told(steps, view, boxes, parts, issue.marks)
    return tuple(
        Draft(name="Order of work" if i == 0 else "Order of work, continued", items=tuple(items), told=told)
        for i, items in enumerate(pages)
    )


def _told(
    steps: Sequence[Step], view: View | None, boxes: Sequence[Box], parts: PartList, marks: Marks
) -> tuple[Told, ...]:
    """Return the steps for a screen: what to do, then the picture, then the words about it."""
    told: list[Told] = []
    for i, step in enumerate(steps):
        (title, _), *rest = _said(i + 1, steps, parts, marks)
        told.append(Heading(text=title))
        if view is not None and step.parts:
            items = tuple(_picture(i, steps, view, boxes, parts))
            told.append(Picture(name=title, items=items, small=True))
        told += [Paragraph(text=text, bold=bold) for text, bold in rest]
    return tuple(told)


def _picture_view(boxes: Sequence[Box], parts: PartList) -> View | None:
    """Return the view all pictures share, placed at the paper's origin; None when there is nothing to show.

    Pictures are not measured, so their scale is whatever fills the space.
    """
    corners = [corner for part in parts.parts for corner in from_front(part)]
    corners += [corner for box in boxes for corner in box.outline]
    if not corners:
        return None
    low = (min(x for x, _ in corners), min(0.0, *(z for _, z in corners)))
    high = (max(x for x, _ in corners), max(z for _, z in corners))
    fills = max((high[0] - low[0]) / (PICTURE_MM[0] - 2.0), (high[1] - low[1]) / (PICTURE_MM[1] - 2.0))
    return fitted(low, high, Area(x=0.0, y=0.0, width=PICTURE_MM[0], height=PICTURE_MM[1]), scale=math.ceil(fills))


def _words(number: int, steps: Sequence[Step], parts: PartList, marks: Marks, limit: float) -> list[Line35]:
    """Return a step's words, wrapped."""
    said = _said(number, steps, parts, marks)
    return [(line, bold) for text, bold in said for line in wrapped(drawable(text), limit, 3.5, bold=bold)]


def _said(number: int, steps: Sequence[Step], parts: PartList, marks: Marks) -> list[Line35]:
    """Return a step's words: its title first."""
    step = steps[number - 1]
    said: list[Line35] = [(f"□  {number}  {step.title}", True), (step.text, False)]
    if step.caution:
        said.append((f"△ CAUTION  {step.caution}", True))
    if step.parts:
        said.append((f"New: {', '.join(step.parts)}", True))
    counted = fastenings_of(number - 1, steps, parts, marks)
    if counted:
        said.append((f"Fastenings: {'; '.join(counted)}", False))
    return said


def fastenings_of(index: int, steps: Sequence[Step], parts: PartList, marks: Marks) -> tuple[str, ...]:
    """Return the fastenings of the joints that a step closes: both parts there, at least one of them new."""
    new = set(steps[index].parts)
    there = new.union(*(step.parts for step in steps[:index]))
    counts: Counter[tuple[str, float]] = Counter()
    for joint in parts.joints:
        if {joint.held, joint.holder} <= there and {joint.held, joint.holder} & new:
            for row in joint.fastenings:
                counts[row.kind, row.length_mm] += row.count
    return tuple(
        f"{count} {kind}{'s' if count != 1 else ''} {show(length, marks, with_unit=True)}" if length else kind
        for (kind, length), count in sorted(counts.items())
    )


def _block(
    index: int,
    steps: Sequence[Step],
    words: Sequence[Line35],
    block: Area,
    view: View | None,
    boxes: Sequence[Box],
    parts: PartList,
) -> list[Item]:
    """Return one step: picture left, words right, a narrow line below."""
    items: list[Item] = []
    if view is not None:
        here = View(scale=view.scale, origin=(view.origin[0] + block.x, view.origin[1] + block.y))
        items.extend(_picture(index, steps, here, boxes, parts))
    left = block.x + (PICTURE_MM[0] + _GAP_MM if view is not None else 0.0)
    for i, (line, bold) in enumerate(words):
        at = (left, block.y + 3.5 + i * line_pitch_mm(3.5))
        items.append(Text(at=at, text=true_fractions(line), bold=bold))
    below = block.bottom + _GAP_MM / 2
    items.append(Line(start=(block.x, below), end=(block.right, below), ink="grey"))
    return items


def _picture(index: int, steps: Sequence[Step], view: View, boxes: Sequence[Box], parts: PartList) -> list[Item]:
    """Return what stands already in grey and what is new in bold, over the floor line."""
    before = {number for step in steps[:index] for number in step.parts}
    new = set(steps[index].parts)
    corners = [corner for part in parts.parts for corner in from_front(part)]
    corners += [corner for box in boxes for corner in box.outline]
    items: list[Item] = [view.line((min(x for x, _ in corners), 0.0), (max(x for x, _ in corners), 0.0), dash="chain")]
    items.extend(view.polygon(box.outline, pen="narrow", ink="grey", dash="dashed") for box in boxes if box.bought)
    old_shapes: list[Shape] = [
        view.polygon(from_front(part), pen="narrow", ink="grey") for part in parts.parts if part.number in before
    ]
    new_shapes = [
        view.polygon(from_front(part), pen="wide", fill="tint" if not new - {part.number} else "none")
        for part in parts.parts
        if part.number in new
    ]
    return [*items, *old_shapes, *new_shapes]
