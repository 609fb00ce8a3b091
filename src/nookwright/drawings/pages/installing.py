"""Installing chapter: packers on a plan, wall fixings on an elevation, and outlet holes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from nookwright.basics.lengths import Marks, show, show_fine
from nookwright.drawings.blocks import Paragraph, Picture
from nookwright.drawings.clearance import Taken
from nookwright.drawings.dimensions import Chain, chain, running
from nookwright.drawings.flow import flow, lay
from nookwright.drawings.lettering import drawable, true_fractions, width_mm
from nookwright.drawings.page import Area, Item, Items, Text
from nookwright.drawings.pages.canvas import Canvas, canvas
from nookwright.drawings.pages.rings import crosses
from nookwright.drawings.pages.scribe_lines import scribe_sheets
from nookwright.drawings.sheet import Draft, Issue, body
from nookwright.drawings.tables import Column, Table
from nookwright.drawings.view import View, fitted
from nookwright.geometry.frame import Point2
from nookwright.stages.design.design import Box, Design
from nookwright.stages.installing.install_plan import InstallPlan, OutletHole, Packer, WallFixing
from nookwright.stages.parts.part import PartList
from nookwright.trade.fastener_choice import INTO_STUD_MM

SCREW_MARKS = {"mm": Marks(units="mm", resolution=1.0), "inch": Marks(units="inch", resolution=0.25)}
"""Steps that screws are sold in."""

READABLE_SCALE = 20
"""A drawing that shares its sheet with a table is drawn no smaller than this. Our choice."""

LEAST_DRAWING_MM = 90.0
"""Height that a drawing needs over a table on the same sheet. Our choice. [mm]"""

SAME_PLACE_MM = 0.5
"""Screws that stand over each other to this are measured off once. Our choice. [mm]"""

FIGURE_MM = 3.5
"""Height of the sizes that screws are measured off by. Common practice, no source. [mm]"""

RUN_MM = 12.0
"""From the floor to such sizes. Our choice. [mm on paper]"""

SURE_SDS = 2.0
"""How many standard deviations a printed plus-or-minus covers: about 95 in 100."""


def pages(
    installing: InstallPlan, design: Design, parts: PartList, zeros: tuple[str, str], issue: Issue
) -> tuple[Draft, ...]:
    """Return the chapter's sheets.

    Args:
        installing: packers, fixings and holes.
        design: for the outlines of boxes and platform.
        parts: for the panels that outlets come through.
        zeros: names of the spots from which sizes to the right and heights count.
        issue: units and paper.

    Returns:
        Packers, wall fixings, outlet holes, scribed edges.
    """
    drafts: list[Draft] = []
    if installing.packers:
        drafts.extend(_packer_sheets(installing.packers, design, zeros[0], issue))
    if installing.fixings:
        drafts.extend(_fixing_sheets(installing.fixings, design, zeros, issue))
    drafts.extend(_hole_sheet(hole, design.boxes, parts, issue) for hole in installing.holes)
    drafts.extend(scribe_sheets(installing.scribes, issue))
    return tuple(drafts)


def _packer_sheets(packers: Sequence[Packer], design: Design, origin: str, issue: Issue) -> tuple[Draft, ...]:
    """Return the plan with its table below, or on the next sheet where it does not fit."""
    words, table = _packer_table(packers, issue.marks)
    space, rest = _above_table((words, table), issue)
    if space is not None:
        drawing = _packer_plan(packers, design, origin, issue, space, landscape=False)
        if drawing.scale <= READABLE_SCALE:
            return (_above(drawing, "Packers", (words, table), rest),)
    area = body(issue.paper, landscape=True, scaled=True)
    drawing = _packer_plan(packers, design, origin, issue, area, landscape=True)
    return (drawing, *flow("Packers: heights", (words, table), issue.paper))


def _fixing_sheets(
    fixings: Sequence[WallFixing], design: Design, zeros: tuple[str, str], issue: Issue
) -> tuple[Draft, ...]:
    """Return the elevation with its table below, or on the next sheet where it does not fit."""
    words, table = _fixing_table(fixings, zeros, issue.marks)
    space, rest = _above_table((words, table), issue)
    if space is not None:
        drawing = _fixing_elevation(fixings, design, zeros, issue, space)
        if drawing.scale <= READABLE_SCALE:
            return (_above(drawing, "Wall fixings", (words, table), rest),)
    drawing = _fixing_elevation(fixings, design, zeros, issue, None)
    return (drawing, *flow("Wall fixings: screws and packers", (words, table), issue.paper))


def _above(drawing: Draft, name: str, blocks: tuple[Paragraph | Table, ...], laid: Items) -> Draft:
    """Return a drawing with its words and table, laid at its foot."""
    told = (Picture(name=name, items=drawing.items), *blocks)
    return replace(drawing, name=name, items=(*drawing.items, *laid), told=told)


def _above_table(blocks: Sequence[Paragraph | Table], issue: Issue) -> tuple[Area | None, Items]:
    """Return the space left above blocks at the foot of an upright sheet, and what is drawn of them; None for none."""
    area = body(issue.paper, scaled=True)
    tall = 0.0
    for block in blocks:
        laid = lay(block, area)
        if laid.rest is not None:
            return None, ()
        tall += laid.height_mm + 2.0
    if tall > area.height - LEAST_DRAWING_MM:
        return None, ()
    items: list[Item] = []
    y = area.bottom - tall
    for block in blocks:
        laid = lay(block, area.inset(top=y - area.y))
        items.extend(laid.items)
        y += laid.height_mm + 2.0
    return area.inset(bottom=tall + 3.0), tuple(items)


def _packer_plan(
    packers: Sequence[Packer], design: Design, origin: str, issue: Issue, area: Area, *, landscape: bool
) -> Draft:
    """Return the plan: platform outline, back wall above it, a cross and a ringed number at each station."""
    platform = design.platform
    xs, ys = [one.x_mm for one in packers], [one.y_mm for one in packers]
    if platform is not None:
        xs += [platform.x0_mm, platform.x1_mm]
        ys += [platform.y_front_mm, platform.y_back_mm]
    view = fitted((min(0.0, *xs), min(ys)), (max(xs), max(0.0, *ys)),
                  area.inset(left=34.0, right=18.0, top=16.0, bottom=32.0))  # fmt: skip
    taken = Taken(within=area)
    items: list[Item] = [*view.wall(((min(0.0, *xs), 0.0), (max(xs), 0.0)), side=1.0)]
    if platform is not None:
        outline = _rectangle(platform.x0_mm, platform.y_front_mm, platform.x1_mm, platform.y_back_mm)
        items.append(view.polygon(outline))
        items.extend(
            view.polygon(_rectangle(x, platform.y_front_mm, x + platform.rail_mm, platform.y_back_mm), pen="narrow")
            for x in platform.bearers_x_mm
        )
    taken.note(items)
    places = [(one.x_mm, one.y_mm) for one in packers]
    items.extend(_chains_from_origin(places, view, issue.marks, taken, down_is_positive=True))
    items.extend(crosses([(view.at(at), str(one.station)) for at, one in zip(places, packers, strict=True)], taken))
    items.append(_words_at(area, f"Back wall above. Sizes from spot {origin}: the back left corner at the floor."))
    return Draft(name="Packers: plan", items=tuple(items), scale=view.scale, landscape=landscape)


def _rectangle(x0: float, y0: float, x1: float, y1: float) -> tuple[Point2, Point2, Point2, Point2]:
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def _words_at(area: Area, words: str) -> Text:
    """Return a line of words at the top of a sheet's body."""
    return Text(at=(area.x, area.y + 4.0), text=drawable(words))


def _chains_from_origin(
    points: Sequence[Point2], view: View, marks: Marks, taken: Taken, *, down_is_positive: bool
) -> list[Item]:
    """Return one level chain from x = 0 under the drawing and one upright chain from the other axis's 0 beside it."""
    xs = sorted({0.0, *(round(x, 1) for x, _ in points)})
    zs = sorted({0.0, *(round(z, 1) for _, z in points)}, reverse=down_is_positive)
    lowest, leftmost = min(zs), min(xs)
    level = Chain(
        direction="level", points=view.all_at([(x, lowest) for x in xs]),
        labels=tuple(show(b - a, marks) for a, b in pairwise(xs)),
        line_at=view.at((0.0, lowest))[1] + 13.0,
    )  # fmt: skip
    upright = Chain(
        direction="upright", points=view.all_at([(leftmost, z) for z in zs]),
        labels=tuple(show(abs(b - a), marks) for a, b in pairwise(zs)),
        line_at=view.at((leftmost, 0.0))[0] - 14.0, outward=-1,
    )  # fmt: skip
    return [*chain(level, taken), *chain(upright, taken)]


def _packer_table(packers: Sequence[Packer], marks: Marks) -> tuple[Paragraph, Table]:
    rows = tuple(
        (str(one.station), show(one.x_mm, marks), show(-one.y_mm, marks), show(one.height.value, marks),
         f"± {show_fine(SURE_SDS * one.height.sd, marks)}", _made_of(one, marks), "□")
        for one in packers
    )  # fmt: skip
    columns = (
        Column(title="Station", share=22, bold=True), Column(title="From the left", share=28),
        Column(title="Out from the back", share=30), Column(title="Packer", share=23, bold=True),
        Column(title="How sure", share=27), Column(title="Made of", share=42), Column(title="Set", share=14),
    )  # fmt: skip
    words = Paragraph(
        text="Packer: from the floor to the platform's underside. How sure: 95 in 100 lie within it. The level has "
        "the last word, not the table."
    )
    return words, Table(columns=columns, rows=rows, pad_mm=0.6)


def _made_of(packer: Packer, marks: Marks) -> str:
    """Return what a packer is made of: the solid piece with its thickness, and what brings it to height."""
    if not packer.solid_mm:
        return packer.kind
    return packer.kind.replace("solid piece", f"{show(packer.solid_mm, marks, way='down')} solid")


def _fixing_elevation(
    fixings: Sequence[WallFixing], design: Design, zeros: tuple[str, str], issue: Issue, space: Area | None
) -> Draft:
    """Return the boxes from the front with a cross and a number at each wall fixing; heights stand in the table.

    In a space of an upright sheet, or on a sheet of its own where there is none.
    """
    outlines = _outlines_behind(design)
    corners = [corner for outline in outlines for corner in outline] + [(one.x_mm, one.z_mm) for one in fixings]
    low = (min(0.0, *(x for x, _ in corners)), min(0.0, *(z for _, z in corners)))
    high = (max(x for x, _ in corners), max(z for _, z in corners))
    sizes = _running_sizes(fixings, issue.marks)
    below_mm = RUN_MM + 2.0 + max(width_mm(label, FIGURE_MM) for _, label in sizes)
    if space is None:
        sheet = canvas(low, high, issue, sides_mm=18.0, below_mm=below_mm, above_mm=12.0)
        area = body(issue.paper, landscape=sheet.landscape, scaled=True)
    else:
        inner = space.inset(left=18.0, right=18.0, top=12.0, bottom=below_mm)
        sheet, area = Canvas(view=fitted(low, high, inner), landscape=False), space
    view = sheet.view
    items: list[Item] = [view.polygon(outline, pen="narrow", ink="grey") for outline in outlines]
    items.append(view.line((low[0], 0.0), (high[0], 0.0), dash="chain"))
    taken = Taken(within=area)
    taken.note(items)
    foot = view.at(low)[1]
    on_paper = [(view.at((x, 0.0))[0], label) for x, label in sizes]
    items.extend(running(on_paper, foot + 1.5, foot + RUN_MM, FIGURE_MM, taken))
    items.extend(crosses([(view.at((one.x_mm, one.z_mm)), str(i + 1)) for i, one in enumerate(fixings)], taken))
    words = f"Seen from the front. Sizes from spot {zeros[0]}: the back left corner, at the floor there."
    if zeros[0] != zeros[1]:
        words = f"Seen from the front. Sizes from spot {zeros[0]}, heights from spot {zeros[1]}."
    items.append(_words_at(area, words))
    return Draft(name="Wall fixings: elevation", items=tuple(items), scale=view.scale, landscape=sheet.landscape)


def _running_sizes(fixings: Sequence[WallFixing], marks: Marks) -> list[tuple[float, str]]:
    """Return how far right the screws stand, from 0 on; each size with the numbers of the screws it is for."""
    numbers: dict[float, list[int]] = {}
    for i, one in enumerate(fixings):
        x = next((x for x in numbers if abs(x - one.x_mm) < SAME_PLACE_MM), one.x_mm)
        numbers.setdefault(x, []).append(i + 1)
    sizes = [
        (x, true_fractions(f"No. {', '.join(map(str, who))}: {show(x, marks)}")) for x, who in sorted(numbers.items())
    ]
    return [(0.0, "0"), *sizes]


def _outlines_behind(design: Design) -> list[Sequence[Point2]]:
    """Return what is screwed to the wall, from the front: the platform and every box. [mm]"""
    base = design.platform
    platform = [] if base is None else [_rectangle(base.x0_mm, base.z0_mm, base.x1_mm, base.z1_mm)]
    return [*platform, *(box.outline for box in design.boxes)]


def _screw_said(fixing: WallFixing, marks: Marks) -> str:
    """Return a wall screw's length, its kind before it where that is not the usual No. 8."""
    if not fixing.screw_mm:
        return "maker's"
    length = show(fixing.screw_mm, SCREW_MARKS[marks.units])
    return length if fixing.screw == "No. 8" else f"{fixing.screw} x {length}"


def _fixing_table(fixings: Sequence[WallFixing], zeros: tuple[str, str], marks: Marks) -> tuple[Paragraph, Table]:
    rows = tuple(
        (
            str(i + 1),
            one.box,
            show(one.x_mm, marks),
            show(one.z_mm, marks),
            show(max(0.0, one.packer.value), marks),
            _screw_said(one, marks),
            one.into,
        )
        for i, one in enumerate(fixings)
    )
    columns = (
        Column(title="No.", share=14, bold=True),
        Column(title="Box", share=38),
        Column(title=f"Right of {zeros[0]}", share=32),
        Column(title=f"Above {zeros[1]}", share=29),
        Column(title="Packer", share=22, bold=True),
        Column(title="Screw", share=26, bold=True),
        Column(title="Into", share=28),
    )
    words = Paragraph(
        text="Screw: rail and back, packer and wall board together, and at least "
        f"{show(INTO_STUD_MM, marks, with_unit=True)} in the stud; the next length sold. Fix at the packer, never"
        " between packers. Maker's: in masonry or an unknown wall the anchor maker's own figures rule."
    )
    return words, Table(columns=columns, rows=rows, pad_mm=0.6)


def _hole_sheet(hole: OutletHole, boxes: Sequence[Box], parts: PartList, issue: Issue) -> Draft:
    """Return the panel an outlet comes through, its hole dimensioned from the panel's own left and bottom edges."""
    marks = issue.marks
    outline = _panel_outline(hole, boxes, parts)
    high = (max(u for u, _ in outline), max(v for _, v in outline))
    views = {landscape: fitted((0.0, 0.0), high, _hole_area(issue, landscape=landscape)) for landscape in (True, False)}
    landscape = views[True].scale <= views[False].scale
    area, view = body(issue.paper, landscape=landscape, scaled=True), views[landscape]
    left, bottom, right, top = (
        hole.left_mm, hole.bottom_mm, hole.left_mm + hole.width_mm, hole.bottom_mm + hole.height_mm,
    )  # fmt: skip
    items: list[Item] = [view.polygon(outline), view.polygon(_rectangle(left, bottom, right, top), fill="grey")]
    taken = Taken(within=area)
    taken.note(items)
    us, vs = (0.0, left, right), (top, bottom, 0.0)
    dims = (
        Chain(direction="level", points=view.all_at([(u, 0.0) for u in us]), height_mm=5.0,
              labels=(show(left, marks), show(hole.width_mm, marks)), line_at=view.at((0.0, 0.0))[1] + 11.0),
        Chain(direction="upright", points=view.all_at([(0.0, v) for v in vs]), outward=-1, height_mm=5.0,
              labels=(show(hole.height_mm, marks), show(bottom, marks)), line_at=view.at((0.0, 0.0))[0] - 12.0),
    )  # fmt: skip
    for one in dims:
        items.extend(chain(one, taken))
    items.extend(_hole_words(hole, area, marks))
    return Draft(name=f"Outlet hole: {hole.outlet}", items=tuple(items), scale=view.scale, landscape=landscape)


def _hole_area(issue: Issue, *, landscape: bool) -> Area:
    """Return the space for a panel, after words and dimension rows. [mm]"""
    return body(issue.paper, landscape=landscape, scaled=True).inset(left=44.0, right=16.0, top=38.0, bottom=34.0)


def _panel_outline(hole: OutletHole, boxes: Sequence[Box], parts: PartList) -> tuple[Point2, ...]:
    """Return the panel as seen from the front, from its own lower left corner. [mm]"""
    panel = next((part for part in parts.parts if part.number == hole.part), None)
    if panel is not None:
        room = [panel.frame.to_room(u, v) for u, v in panel.outline]
        seen = [(x, z) for x, _, z in room]
    else:
        box = next((box for box in boxes if box.name == hole.box), None)
        seen = list(box.outline) if box is not None else []
    seen = seen or list(_rectangle(0.0, 0.0, hole.left_mm + 2 * hole.width_mm, hole.bottom_mm + 2 * hole.height_mm))
    x0, z0 = min(x for x, _ in seen), min(z for _, z in seen)
    return tuple((x - x0, z - z0) for x, z in seen)


def _hole_words(hole: OutletHole, area: Area, marks: Marks) -> Items:
    """Return what else must be known about a hole, at the top of the sheet."""
    if hole.part:
        panel = f"panel {hole.part} of {hole.box}"
    else:
        panel = f"the back of {hole.box}" if hole.box else "nothing: no box stands in front"
    lines = (
        f"Through {panel}, seen from the front.",
        "Measure from the panel's own left and bottom edges.",
        f"Its place is sure to ± {show_fine(SURE_SDS * hole.sd_mm, marks)}, 95 times in 100.",
        f"Bring the outlet forward {show(hole.forward_mm, marks)}.",
        "Switch the circuit off and prove it dead before the box is touched.",
    )
    return tuple(
        Text(at=(area.x, area.y + 4.0 + 5.8 * i), text=true_fractions(drawable(line)), bold=i == 4)
        for i, line in enumerate(lines)
    )
