"""One part drawn: face A up, grain, number, edges lettered, scribe edges waved, cut-outs and grooves dimensioned."""

from __future__ import annotations

import math
from collections.abc import Sequence

from nookwright.basics.lengths import Marks, show
from nookwright.drawings.clearance import Taken
from nookwright.drawings.dimensions import Angle, angle, ring
from nookwright.drawings.lettering import drawable, width_mm, wrapped
from nookwright.drawings.page import Area, Circle, Item, Items, Line, Shape, Text
from nookwright.drawings.part_dimensions import extent, groove_outline, margins, part_dimensions
from nookwright.drawings.part_sizes import EdgeCut, degrees, edge_cuts, turned
from nookwright.drawings.tables import Column, Table, lay_table
from nookwright.drawings.view import View, fitted
from nookwright.geometry.frame import Point2
from nookwright.stages.parts.part import Part
from nookwright.stages.parts.sizes import SAME_MM, as_printed, sizes

ANGLE_RADIUS_MM = 8.0

_NOTE_PITCH_MM = 5.2


def table_of_edges(part: Part, marks: Marks) -> Table | None:
    """Return the saw settings of every edge that is not just square; None when all are."""
    printed, way = as_printed(part, marks)
    rows = tuple(
        (
            cut.letter, show(cut.length_mm, marks, way=way), degrees(cut.mitre_deg), _tilt(cut.tilt_deg),
            f"leave on {show(cut.scribe_mm, marks, way='up')}" if cut.scribe_mm else "none", cut.meets,
        )
        for cut in edge_cuts(printed)
        if _special(cut)
    )  # fmt: skip
    if not rows:
        return None
    return Table(
        columns=(
            Column(title="Edge", share=17, bold=True),
            Column(title="Length", share=22),
            Column(title="Off square", share=30),
            Column(title="Blade tilt", share=48),
            Column(title="Scribe", share=32),
            Column(title="Meets", share=40),
        ),
        rows=rows,
        pad_mm=0.5,
    )


def _special(cut: EdgeCut) -> bool:
    return turned(cut.mitre_deg) or turned(cut.tilt_deg) or cut.scribe_mm > 0


def _tilt(tilt_deg: float) -> str:
    said = degrees(tilt_deg)
    if said == "square":
        return said
    return f"{said}, face {'B' if tilt_deg > 0 else 'A'} larger"


def room_needed(part: Part, others: Sequence[str], marks: Marks, scale: int, width: float) -> tuple[float, float]:
    """Return the width and height of paper a part's drawing takes at a scale, title and table included. [mm]

    Args:
        part: what to draw.
        others: numbers of parts that share the drawing.
        marks: units and steps people read.
        scale: 10 for 1:10.
        width: width of the paper there is. [mm]
    """
    low, high = extent(part)
    room = margins(part, marks)
    paper = Area(x=0.0, y=0.0, width=width, height=1000.0)
    tall = room.top + (high[1] - low[1]) / scale + room.below
    tall += _title_mm(part, others, marks, width) + _table_mm(part, marks, paper)
    return room.left + (high[0] - low[0]) / scale + room.right, tall


def _table_mm(part: Part, marks: Marks, area: Area) -> float:
    table = table_of_edges(part, marks)
    return lay_table(table, area).height_mm if table is not None else 0.0


def draw_part(part: Part, others: Sequence[str], area: Area, marks: Marks, scale: int) -> Items:
    """Return the part's drawing.

    Args:
        part: what to draw.
        others: numbers of parts that share the drawing.
        area: the paper it may take, from the top down. [mm]
        marks: units and steps people read.
        scale: 10 for 1:10.

    Returns:
        Title, outline, dimensions and table of saw settings.
    """
    title_mm, table_mm = _title_mm(part, others, marks, area.width), _table_mm(part, marks, area)
    room = margins(part, marks)
    space = area.inset(top=title_mm, bottom=table_mm)
    inner = space.inset(left=room.left, right=room.right, top=room.top, bottom=room.below)
    view = fitted(*extent(part), inner, scale=scale)
    taken = Taken(within=space)
    body = _body(part, view)
    taken.note(body)
    items: list[Item] = [*_title(part, others, area, marks), *body]
    items.extend(part_dimensions(part, view, marks, taken))
    items.extend(_angles(part, view, taken))
    items.extend(_inside_words(part, view, taken))
    table = table_of_edges(part, marks)
    if table is not None:
        items.extend(lay_table(table, area.inset(top=area.height - table_mm)).items)
    return tuple(items)


def _title(part: Part, others: Sequence[str], area: Area, marks: Marks) -> Items:
    """Return the ringed number, the name, the stock and what else the sawyer must know."""
    number = ring((area.x + 6.0, area.y + 5.5), part.number)
    words = tuple(
        Text(at=(area.x + _title_left(part), area.y + 4.0 + _NOTE_PITCH_MM * i), text=line, bold=i == 0)
        for i, line in enumerate(_title_lines(part, others, marks, area.width))
    )
    return (*number, *words)


def _title_left(part: Part) -> float:
    return 14.0 + max(0.0, width_mm(part.number, 3.5, bold=True) - 6.0)


def _title_mm(part: Part, others: Sequence[str], marks: Marks, width: float) -> float:
    return 4.0 + _NOTE_PITCH_MM * max(2, len(_title_lines(part, others, marks, width)))


def _title_lines(part: Part, others: Sequence[str], marks: Marks, width: float) -> tuple[str, ...]:
    """Return name, stock and notes, wrapped to the width."""
    printed, way = as_printed(part, marks)
    size = sizes(printed)
    stock = f"{part.stock}, {show(part.thickness_mm, marks)} thick"
    if part.pieces > 1:
        stock += f", glued up from {part.pieces} boards"
    if size.long_mm - size.short_mm > SAME_MM:
        long, short = show(size.long_mm, marks, way=way), show(size.short_mm, marks, way=way)
        stock += f"; long point {long} (face {size.long_on}), short point {short}"
    if table_of_edges(part, marks) is None:
        stock += "; all edges square"
    name = f"{part.name}, face A up" + (f"; also {', '.join(others)}: {len(others) + 1} alike" if others else "")
    limit = width - _title_left(part)
    return tuple(
        line
        for i, text in enumerate((name, stock, *_notes(part, marks)))
        for line in wrapped(drawable(text), limit, 3.5, bold=i == 0)
    )


def _notes(part: Part, marks: Marks) -> tuple[str, ...]:
    """Return what is cut into the part and what else the sawyer must know, one line each."""
    grooves = tuple(
        f"groove in face {groove.face}: {show(groove.width_mm, marks, way='up')} wide, "
        f"{show(groove.depth_mm, marks)} deep, takes {groove.receives}"
        for groove in sorted(part.grooves, key=lambda one: (one.face, one.start[0]))
    )
    holes = tuple(
        f"cut-out {show(hole.width_mm, marks, way='up')} x {show(hole.height_mm, marks, way='up')}: {hole.purpose}"
        for hole in part.cutouts
    )
    return (*grooves, *holes, *_pin_notes(part, marks), *part.notes)


def _pin_notes(part: Part, marks: Marks) -> tuple[str, ...]:
    """Return one line for all pin holes of a face in the same two rows; their heights stand in the drawing."""
    low, high = min(v for _, v in part.outline), max(v for _, v in part.outline)
    rows: dict[tuple[str, ...], list[str]] = {}
    for pins in sorted(part.pin_holes, key=lambda one: (one.face, one.u_mm)):
        near, far = sorted(pins.v_mm)
        said = (pins.face, *(show(size, marks) for size in (pins.diameter_mm, near - low, high - far)))
        rows.setdefault(said, []).append(pins.receives)
    return tuple(
        f"pin holes in face {face}, {across} across, {below} from the lower edge and {above} from the upper: "
        f"take {', '.join(takes)}"
        for (face, across, below, above), takes in rows.items()
    )


def _body(part: Part, view: View) -> Items:
    """Return the outline with what is cut out of it, left on it, and hidden behind it."""
    items: list[Item] = []
    if any(abs(edge.bevel_rad) > 1e-9 for edge in part.edges):
        items.append(view.polygon(part.face_b(), pen="narrow", dash="dashed"))
    if any(edge.scribe_mm for edge in part.edges):
        items.append(view.polygon(part.with_scribe(), pen="narrow"))
    items.append(view.polygon(part.outline, pen="wide"))
    for i, edge in enumerate(part.edges):
        if edge.scribe_mm:
            items.append(_wave(view, part.outline[i], part.outline[(i + 1) % len(part.outline)]))
    for hole in part.cutouts:
        u0, v0, u1, v1 = hole.u_mm, hole.v_mm, hole.u_mm + hole.width_mm, hole.v_mm + hole.height_mm
        items.append(view.polygon(((u0, v0), (u1, v0), (u1, v1), (u0, v1)), fill="grey"))
    items.extend(
        view.polygon(groove_outline(groove), pen="narrow", dash="solid" if groove.face == "A" else "dashed")
        for groove in part.grooves
    )
    for pins in part.pin_holes:
        items.extend(
            Circle(
                centre=view.at((pins.u_mm, v)),
                radius=max(0.6, pins.diameter_mm / 2 / view.scale),
                fill="grey" if pins.face == "A" else "none",
            )
            for v in pins.v_mm
        )
    return tuple(items)


def _wave(view: View, start: Point2, end: Point2) -> Shape:
    """Return the wavy mark of a scribe edge: three waves beside its middle, outside the outline."""
    (x0, y0), (x1, y1) = view.at(start), view.at(end)
    length = math.hypot(x1 - x0, y1 - y0)
    dx, dy = (x1 - x0) / length, (y1 - y0) / length
    out_x, out_y = -dy, dx  # counter-clockwise on the part, so its outside lies right of the way: (-dy, dx) on paper
    long = min(18.0, length * 0.8)
    points = []
    for i in range(37):
        along = length / 2 - long / 2 + long * i / 36
        off = 2.6 + 0.8 * math.sin(2 * math.pi * 3 * i / 36)
        points.append((x0 + dx * along + out_x * off, y0 + dy * along + out_y * off))
    return Shape(points=tuple(points), closed=False, pen="wide")


def _inside_words(part: Part, view: View, taken: Taken) -> Items:
    """Return edge letters, LP and SP at their ends, and the grain arrow, each where there is room."""
    items: list[Item] = []
    outline = view.all_at(part.outline)
    centre = (sum(x for x, _ in outline) / len(outline), sum(y for _, y in outline) / len(outline))
    for i, start in enumerate(outline):
        places, letter = _beside(start, outline[(i + 1) % len(outline)]), chr(ord("a") + i)
        named = f"{letter}, {part.edges[i].meets}" if part.edges[i].meets in ("front", "back") else letter
        items.extend(_free_word(named, places[:6], taken, bold=True) or _free_word(letter, places, taken, bold=True))
    for word, corner in _points(part):
        x, y = view.at(corner)
        out_x, out_y = (-1.0 if centre[0] > x else 1.0), (-1.0 if centre[1] > y else 1.0)
        around = ((5.0, -3.0), (5.0, 3.5), (-5.0, -3.5), (-5.0, 3.5), (5.0, 0.0), (0.0, 4.5), (0.0, -4.5))
        places = [(x + out_x * a * far, y + out_y * b * far) for far in (1.0, 1.3, 1.7) for a, b in around]
        items.extend(_free_word(word, places, taken))
    return (*items, *_grain(centre, taken))


def _angles(part: Part, view: View, taken: Taken) -> list[Item]:
    """Return the inside angle at one end of every edge off square: the lesser, or the other where that has no room."""
    count = len(part.outline)
    items: list[Item] = []
    for i, cut in enumerate(edge_cuts(part)):
        if not turned(cut.mitre_deg):
            continue
        marks = [mark for at in (i, (i + 1) % count) if (mark := _angle_at(part, at, view, taken)) is not None]
        if marks:
            items.extend(angle(min(marks, key=lambda mark: round(mark.to_deg - mark.from_deg, 3)), taken))
    return items


def _angle_at(part: Part, at: int, view: View, taken: Taken) -> Angle | None:
    """Return the angle at a corner; None where its legs are too short or words stand in its way."""
    count = len(part.outline)
    corner, before, after = (part.outline[(at + step) % count] for step in (0, -1, 1))
    x, y = view.at(corner)
    if min(math.dist((x, y), view.at(leg)) for leg in (before, after)) < ANGLE_RADIUS_MM + 4.0:
        return None
    reach = ANGLE_RADIUS_MM + 1.0
    if any(math.dist((x, y), _middle(word)) < reach + _half_diagonal(word) for word in taken.words):
        return None
    start, opening = _inside_angle(before, corner, after)
    return Angle(corner=(x, y), from_deg=start, to_deg=start + opening, label=f"{opening:.1f}°", radius=ANGLE_RADIUS_MM)


def _middle(corners: Sequence[Point2]) -> Point2:
    return sum(x for x, _ in corners) / len(corners), sum(y for _, y in corners) / len(corners)


def _half_diagonal(corners: Sequence[Point2]) -> float:
    return math.dist(corners[0], _middle(corners))


def _inside_angle(before: Point2, corner: Point2, after: Point2) -> tuple[float, float]:
    """Return the direction of the leg to the next corner and the angle from it to the other leg. [deg]"""
    start = math.degrees(math.atan2(after[1] - corner[1], after[0] - corner[0]))
    end = math.degrees(math.atan2(before[1] - corner[1], before[0] - corner[0]))
    return start, (end - start) % 360.0


def _beside(start: Point2, end: Point2) -> list[Point2]:
    """Return places for an edge's letter, just inside the edge and near its middle. [mm on paper]"""
    (x0, y0), (x1, y1) = start, end
    length = math.hypot(x1 - x0, y1 - y0)
    inward = ((y1 - y0) / length, -(x1 - x0) / length)
    return [
        (x0 + (x1 - x0) * share + inward[0] * off, y0 + (y1 - y0) * share + inward[1] * off)
        for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)
        for off in (3.6, 4.6, 6.0)
    ]


def _grain(centre: Point2, taken: Taken) -> list[Item]:
    """Return the grain arrow at the free place nearest the middle, so inside the part where it can be."""
    half, arrow = width_mm("grain", 3.5) / 2, 11.0
    steps = [(12.0 * across, 3.0 * down) for across in range(-4, 5) for down in range(-14, 15)]
    for dx, dy in sorted(steps, key=lambda step: math.hypot(*step)):
        x, y = centre[0] + dx, centre[1] + dy
        box = ((x - half - arrow, y - 2.2), (x + half + arrow, y - 2.2),
               (x + half + arrow, y + 2.8), (x - half - arrow, y + 2.8))  # fmt: skip
        if taken.free(box):
            taken.words.append(box)
            return _grain_arrow(x, y, half, arrow, Text(at=(x, y + 1.75), text="grain", anchor="middle"))
    return []


def _grain_arrow(x: float, y: float, half: float, arrow: float, text: Text) -> list[Item]:
    """Return words between two arrows that point along the grain."""
    items: list[Item] = [text]
    for side in (-1, 1):
        tip, tail = x + side * (half + arrow - 0.5), x + side * (half + 1.5)
        items.append(Line(start=(tail, y), end=(tip, y)))
        items.append(
            Shape(
                points=((tip - side * 2.5, y - 1.0), (tip, y), (tip - side * 2.5, y + 1.0)), closed=False, pen="narrow"
            )
        )
    return items


def _free_word(word: str, places: Sequence[Point2], taken: Taken, *, bold: bool = False) -> list[Item]:
    """Return a word centred at the first free place; nothing when there is none."""
    for x, y in places:
        text = Text(at=(x, y + 1.75), text=word, anchor="middle", bold=bold)
        box = (
            (x - width_mm(word, 3.5, bold=bold) / 2, y - 1.75), (x + width_mm(word, 3.5, bold=bold) / 2, y - 1.75),
            (x + width_mm(word, 3.5, bold=bold) / 2, y + 2.4), (x - width_mm(word, 3.5, bold=bold) / 2, y + 2.4),
        )  # fmt: skip
        if taken.free(box):
            taken.words.append(box)
            return [text]
    return []


def _points(part: Part) -> list[tuple[str, Point2]]:
    """Return where long and short points lie: at both corners of each end that runs neither along nor across."""
    found: list[tuple[str, Point2]] = []
    count = len(part.outline)
    for i in range(count):
        a, b = part.outline[i], part.outline[(i + 1) % count]
        if abs(a[0] - b[0]) < SAME_MM or abs(a[1] - b[1]) < SAME_MM:
            continue
        middle = sum(u for u, _ in part.outline) / count
        far, near = (a, b) if abs(a[0] - middle) > abs(b[0] - middle) else (b, a)
        found.extend((("LP", far), ("SP", near)))
    return found
