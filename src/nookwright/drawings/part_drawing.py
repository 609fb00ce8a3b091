"""One part drawn: face A up, grain, number, edges lettered, scribe edges waved, cut-outs and grooves dimensioned."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from nookwright.basics.lengths import Marks, Way, show
from nookwright.drawings.clearance import Taken
from nookwright.drawings.dimensions import Angle, Chain, angle, chain, ring
from nookwright.drawings.lettering import drawable, true_fractions, width_mm
from nookwright.drawings.page import Area, Circle, Item, Items, Line, Shape, Text
from nookwright.drawings.part_sizes import SAME_MM, degrees, edge_cuts, sizes, turned, way_of
from nookwright.drawings.tables import Column, Table, lay_table
from nookwright.drawings.view import View, fitted
from nookwright.geometry.frame import Point2
from nookwright.stages.parts.part import Groove, Part

DIMS_MM = 34.0
"""Room kept beside a part for its dimension rows. [mm]"""

DIMS_TOP_MM = 28.0
DIMS_BELOW_MM = 34.0
ANGLE_RADIUS_MM = 8.0

FIGURE_MM = 5.0
"""Height of the figures of a cut size. Common practice, no source."""

_NOTE_PITCH_MM = 5.8


def table_of_edges(part: Part, marks: Marks) -> Table:
    """Return the saw settings of every edge that is not just square and free."""
    way = way_of(part)
    rows = tuple(
        (
            cut.letter, show(cut.length_mm, marks, way=way), degrees(cut.mitre_deg), _tilt(cut.tilt_deg),
            f"leave on {show(cut.scribe_mm, marks, way='up')}" if cut.scribe_mm else "none", cut.meets,
        )
        for cut in edge_cuts(part)
        if turned(cut.mitre_deg) or turned(cut.tilt_deg) or cut.scribe_mm or cut.meets
    )  # fmt: skip
    return Table(
        columns=(
            Column(title="Edge", share=16, bold=True),
            Column(title="Length", share=22),
            Column(title="Off square", share=30),
            Column(title="Blade tilt", share=46),
            Column(title="Scribe", share=33),
            Column(title="Meets", share=40),
        ),
        rows=rows or (("all", "", "square", "square", "none", ""),),
    )


def _tilt(tilt_deg: float) -> str:
    said = degrees(tilt_deg)
    if said == "square":
        return said
    return f"{said}, face {'B' if tilt_deg > 0 else 'A'} larger"


def drawing_area(part: Part, area: Area, marks: Marks) -> Area:
    """Return the space left for the outline itself, after title, dimensions and table. [mm]"""
    table = lay_table(table_of_edges(part, marks), area)
    title = 14.0 + _NOTE_PITCH_MM * len(_notes(part, marks))
    return area.inset(left=DIMS_MM, right=DIMS_MM, top=title + DIMS_TOP_MM, bottom=table.height_mm + DIMS_BELOW_MM)


def extent(part: Part) -> tuple[Point2, Point2]:
    """Return the lower left and upper right corners of everything drawn of the part. [mm]"""
    corners = part.blank_corners()
    us, vs = [u for u, _ in corners], [v for _, v in corners]
    return (min(us), min(vs)), (max(us), max(vs))


def draw_part(part: Part, area: Area, marks: Marks, scale: int) -> Items:
    """Return the part's drawing.

    Args:
        part: what to draw.
        area: the paper it may take. [mm]
        marks: units and steps people read.
        scale: 10 for 1:10.

    Returns:
        Title, outline, dimensions and table of saw settings.
    """
    table = lay_table(table_of_edges(part, marks), area)
    inner = drawing_area(part, area, marks)
    view = fitted(*extent(part), inner, scale=scale)
    laid = lay_table(table_of_edges(part, marks), area.inset(top=area.height - table.height_mm))
    taken = Taken(within=area)
    body = _body(part, view)
    taken.note(body)
    items: list[Item] = [*_title(part, area, marks), *body]
    items.extend(_dimensions(part, view, marks, taken))
    items.extend(_angles(part, view, taken))
    items.extend(_inside_words(part, view, taken))
    return (*items, *laid.items)


def _title(part: Part, area: Area, marks: Marks) -> Items:
    """Return the ringed number, the name, the stock and what else the sawyer must know."""
    number = ring((area.x + 6.0, area.y + 5.5), part.number)
    left = area.x + 14.0 + max(0.0, width_mm(part.number, 3.5, bold=True) - 6.0)
    size = sizes(part)
    stock = f"{part.stock}, {show(part.thickness_mm, marks)} thick"
    if part.pieces > 1:
        stock += f", glued up from {part.pieces} boards"
    if size.long_mm - size.short_mm > SAME_MM:
        way = way_of(part)
        long, short = show(size.long_mm, marks, way=way), show(size.short_mm, marks, way=way)
        stock += f"; long point {long} (face {size.long_on}), short point {short}"
    lines = (f"{part.name}, face A up", stock, *_notes(part, marks))
    words = tuple(
        Text(at=(left, area.y + 4.0 + _NOTE_PITCH_MM * i), text=true_fractions(drawable(line)), bold=i == 0)
        for i, line in enumerate(lines)
    )
    return (*number, *words)


def _notes(part: Part, marks: Marks) -> tuple[str, ...]:
    """Return what is cut into the part and what else the sawyer must know, one line each."""
    grooves = tuple(
        f"groove in face {groove.face}: {show(groove.width_mm, marks, way='up')} wide, "
        f"{show(groove.depth_mm, marks)} deep, takes {groove.receives}"
        for groove in part.grooves
    )
    holes = tuple(
        f"cut-out {show(hole.width_mm, marks, way='up')} x {show(hole.height_mm, marks, way='up')}: {hole.purpose}"
        for hole in part.cutouts
    )
    pins = tuple(
        f"pin holes {show(pins.diameter_mm, marks)} across in face {pins.face}, {show(pins.u_mm, marks)} from the foot,"
        f" take {pins.receives}"
        for pins in sorted(part.pin_holes, key=lambda one: (one.face, one.u_mm))
    )
    return (*grooves, *holes, *pins, *part.notes)


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


def groove_outline(groove: Groove) -> tuple[Point2, Point2, Point2, Point2]:
    """Return the four corners of a groove on its face. [mm]"""
    (u0, v0), (u1, v1) = groove.start, groove.end
    length = math.hypot(u1 - u0, v1 - v0)
    nu, nv = -(v1 - v0) / length * groove.width_mm / 2, (u1 - u0) / length * groove.width_mm / 2
    return ((u0 - nu, v0 - nv), (u1 - nu, v1 - nv), (u1 + nu, v1 + nv), (u0 + nu, v0 + nv))


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


def _dimensions(part: Part, view: View, marks: Marks, taken: Taken) -> Items:
    """Return length below and above, width left and right, holes and grooves from the part's own left and bottom.

    A groove is placed by its nearer edge; its width stands in the notes. No size is said twice.
    """
    u0, v0 = min(u for u, _ in part.outline), min(v for _, v in part.outline)
    u1, v1 = max(u for u, _ in part.outline), max(v for _, v in part.outline)
    low, high = extent(part)
    (left, bottom), (right, top) = view.at(low), view.at(high)
    holes_u, holes_v = _holes(part)
    below = _distinct([*(u for u, v in part.outline if v <= (v0 + v1) / 2), u0, u1, *holes_u])
    above = _distinct([u for u, v in part.outline if v >= (v0 + v1) / 2])
    lefts = _distinct([*(v for u, v in part.outline if u <= (u0 + u1) / 2), v0, v1, *holes_v])
    rights = _distinct([v for u, v in part.outline if u >= (u0 + u1) / 2])
    rows = [("level", below, v0, bottom + 11.0, 1, True), ("upright", lefts, u0, left - 10.0, -1, True)]
    if above not in (below, [u0, u1]):
        rows.append(("level", above, v1, top - 8.0, -1, above[0] > u0 + SAME_MM or above[-1] < u1 - SAME_MM))
    if rights not in (lefts, [v0, v1]):
        rows.append(("upright", rights, u1, right + 12.0, 1, rights[0] > v0 + SAME_MM or rights[-1] < v1 - SAME_MM))
    items: list[Item] = []
    for direction, values, other, at, outward, whole in rows:
        points = [(value, other) if direction == "level" else (other, value) for value in values]
        dims = Chain(
            direction="level" if direction == "level" else "upright", points=view.all_at(points),
            labels=_labels(values, marks, way_of(part)), line_at=at, row_mm=13.0, height_mm=FIGURE_MM,
            overall=show(values[-1] - values[0], marks, way=way_of(part)) if whole and len(values) > 2 else "",
            outward=1 if outward > 0 else -1,
        )  # fmt: skip
        items.extend(chain(dims, taken))
    return tuple(items)


def _holes(part: Part) -> tuple[list[float], list[float]]:
    """Return where cut-outs and grooves lie along the part and across it. [mm]"""
    along = [u for hole in part.cutouts for u in (hole.u_mm, hole.u_mm + hole.width_mm)]
    across = [v for hole in part.cutouts for v in (hole.v_mm, hole.v_mm + hole.height_mm)]
    along += [pins.u_mm for pins in part.pin_holes]
    across += [v for pins in part.pin_holes for v in pins.v_mm]
    for groove in part.grooves:
        corners = groove_outline(groove)
        if abs(groove.start[0] - groove.end[0]) < SAME_MM:
            along.append(min(u for u, _ in corners))
        elif abs(groove.start[1] - groove.end[1]) < SAME_MM:
            across.append(min(v for _, v in corners))
    return along, across


def _distinct(values: Sequence[float]) -> list[float]:
    """Return the values in rising order, those too near to tell apart once."""
    kept: list[float] = []
    for value in sorted(values):
        if not kept or value - kept[-1] > SAME_MM:
            kept.append(value)
    return kept


def _labels(values: Sequence[float], marks: Marks, way: Way) -> tuple[str, ...]:
    """Return the sizes between values: a whole size rounded the safe way, sections of it to the nearest mark."""
    rounded: Way = way if len(values) == 2 else "nearest"
    return tuple(show(b - a, marks, way=rounded) for a, b in pairwise(values))


def _inside_words(part: Part, view: View, taken: Taken) -> Items:
    """Return edge letters, LP and SP at their ends, and the grain arrow, each where there is room."""
    items: list[Item] = []
    outline = view.all_at(part.outline)
    centre = (sum(x for x, _ in outline) / len(outline), sum(y for _, y in outline) / len(outline))
    for i, start in enumerate(outline):
        places = _beside(start, outline[(i + 1) % len(outline)])
        items.extend(_free_word(chr(ord("a") + i), places, taken, bold=True))
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
