"""Room chapter: plan and elevation as measured, the figures with their spread, and every reading beside the rest."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

from nookwright.basics.lengths import RATE_UNITS, Marks, show, show_fine, show_rate
from nookwright.drawings.blocks import Heading, Paragraph
from nookwright.drawings.clearance import Taken
from nookwright.drawings.dimensions import Chain, chain
from nookwright.drawings.flow import flow
from nookwright.drawings.lettering import text_corners
from nookwright.drawings.page import Anchor, Circle, Item, Items, Line, Text
from nookwright.drawings.pages.canvas import OFF_MM, canvas
from nookwright.drawings.pages.outlines import BAND_MM, elevation_section, placed_words, plan_section, walls
from nookwright.drawings.sheet import Draft, Issue
from nookwright.drawings.tables import Column, Table
from nookwright.drawings.view import View
from nookwright.geometry.frame import Point2
from nookwright.stages.inputs.survey import Outlet
from nookwright.stages.room.room import Derived, LeftOut, ReadingFit, Room, SpotFix

BEYOND_MM = 120.0
"""How far an end without a wall is drawn beyond the outermost spot. Our choice. [mm]"""

BESIDE_A_SPOT: tuple[tuple[float, float, Anchor], ...] = (
    (2.8, 1.75, "start"),
    (-2.8, 1.75, "end"),
    (2.8, -0.8, "start"),
    (-2.8, -0.8, "end"),
    (2.8, 4.4, "start"),
    (-2.8, 4.4, "end"),
    (0.0, -3.0, "middle"),
    (0.0, 6.6, "middle"),
)
"""Where a spot's name may stand without a leader, from its dot, the best place first. [mm on paper]"""

LEADERS_MM = (6.0, 8.0, 10.0, 13.0, 16.0, 20.0, 25.0)
"""Lengths of leader tried for a spot's name that finds no place beside its dot, on paper. Our choice. [mm]"""

DOT_MM = 0.8
"""Radius of a spot's dot, on paper. Our choice. [mm]"""

BESIDE_AN_OUTLET: tuple[tuple[float, Anchor], ...] = ((0.0, "middle"), (-4.0, "start"), (4.0, "end"))
"""The same for an outlet's words, sideways."""

STUD_MARK_MM = 8.0
"""Height of the mark at a stud's centre, on paper. Our choice. [mm]"""

SPREADS = 2.0
"""Standard deviations that a printed spread stands for."""


def pages(room: Room, issue: Issue) -> tuple[Draft, ...]:
    """Return the chapter's sheets.

    Args:
        room: the room as adjusted.
        issue: units and paper.

    Returns:
        Plan at the floor, elevation of the back wall, figures with their spread, readings with their residuals.
    """
    return (_plan(room, issue), _elevation(room, issue), *_figures(room, issue))


def _feet(room: Room) -> list[SpotFix]:
    """Return the spots on the floor beside the furniture."""
    return [spot for spot in room.beside if spot.name == f"{room.column(spot.name)}0"]


def _ends(room: Room) -> tuple[float, float]:
    """Return x of the outermost spots. [mm]"""
    xs = [spot.xyz[0] for spot in room.beside]
    return min(xs) - BEYOND_MM, max(xs) + BEYOND_MM


def _plan(room: Room, issue: Issue) -> Draft:
    """Return the floor as measured, with its spots, clear sizes, outlets and studs."""
    front = min(spot.xyz[1] for spot in room.beside) - BEYOND_MM
    behind = plan_section(room, 0.0, _ends(room), front)
    low, high = behind.corners()
    sheet = canvas((low[0], front), high, issue, sides_mm=28.0, below_mm=26.0, above_mm=BAND_MM + 16)
    view, taken = sheet.view, Taken()
    items: list[Item] = list(walls(view, behind.edges(), taken))
    spots = [(spot.name, (spot.xyz[0], spot.xyz[1])) for spot in _feet(room)]
    studs = _studs(room)
    items.extend(_stud_lines(view, [(x, high[1]) for x in studs], taken))
    by_name = dict(spots)
    (back_left, back_right), (front_left, front_right) = _foot_names(room)
    for first, second in ((back_left, back_right), (front_left, front_right)):
        if first in by_name and second in by_name:
            ends = (by_name[first], by_name[second])
            items.extend(_level_size(view, ends, room, issue.marks, taken, above=first == back_left))
    for first, second, left in ((front_left, back_left, True), (front_right, back_right, False)):
        if first in by_name and second in by_name:
            items.extend(_depth_size(view, by_name[first], by_name[second], issue.marks, taken, left=left))
    items.extend(_marked(view, spots, taken))
    items.extend(_corner_words(view, room, by_name, taken))
    return Draft(name="The room in plan, at the floor", items=tuple(items), scale=view.scale, landscape=sheet.landscape)


def _foot_names(room: Room) -> tuple[tuple[str, str], tuple[str, str]]:
    """Return the names of the floor spots at the ends of the back wall, and of the side walls' front ends."""
    left, right = room.ends
    fronts = [room.front_of(side) for side in ("left", "right")]
    return (f"{left}0", f"{right}0"), (f"{fronts[0]}0", f"{fronts[1]}0")


def _marked(view: View, spots: Iterable[tuple[str, Point2]], taken: Taken) -> Items:
    """Return spots as dots, each with its name beside it, or at the end of a leader where another dot is as near."""
    dots = [(name, view.at(place)) for name, place in spots]
    items: list[Item] = [Circle(centre=centre, radius=DOT_MM, fill="grey") for _, centre in dots]
    taken.note(items)
    for name, (x, y) in dots:
        others = [centre for _, centre in dots if centre != (x, y)]
        texts = [Text(at=(x + dx, y + dy), text=name, anchor=anchor, bold=True) for dx, dy, anchor in BESIDE_A_SPOT]
        plain = [text for text in texts if _belongs(text, (x, y), others)]
        items.extend(placed_words(plain, taken) or _led_name(name, (x, y), taken))
    return tuple(items)


def _belongs(text: Text, dot: Point2, others: Iterable[Point2]) -> bool:
    """Return whether words stand so much nearer to their own dot than to any other that no one takes them for its."""
    corners = text_corners(text)
    return all(_apart(corners, dot) + 2.0 < _apart(corners, other) for other in others)


def _apart(corners: Sequence[Point2], place: Point2) -> float:
    """Return how far a place on paper lies from level words. [mm]"""
    xs, ys = zip(*corners, strict=True)
    dx = max(min(xs) - place[0], 0.0, place[0] - max(xs))
    dy = max(min(ys) - place[1], 0.0, place[1] - max(ys))
    return math.hypot(dx, dy)


def _led_name(name: str, dot: Point2, taken: Taken) -> Items:
    """Return a spot's name at the first free place round its dot, with the line that leads to it."""
    for reach in LEADERS_MM:
        for turn_deg in (20, 160, -20, 200, 45, 135, -45, 225, 70, 110, -70, 250, 0, 180):
            cos, sin = math.cos(math.radians(turn_deg)), -math.sin(math.radians(turn_deg))
            start = (dot[0] + 2 * DOT_MM * cos, dot[1] + 2 * DOT_MM * sin)
            end = (dot[0] + reach * cos, dot[1] + reach * sin)
            way = 1.0 if cos > 0 else -1.0
            anchor: Anchor = "start" if cos > 0 else "end"
            text = Text(at=(end[0] + way * 0.8, end[1] + 1.75), text=name, anchor=anchor, bold=True)
            line = Line(start=start, end=end)
            if taken.free(text_corners(text)) and taken.clear_of_words(line):
                taken.note((line, text))
                return (line, text)
    return ()


def _studs(room: Room) -> tuple[float, ...]:
    """Return the stud centres along the back wall. [mm]"""
    return room.survey.wall.stud_centres_mm if room.survey.wall.kind == "studs" else ()


def _stud_lines(view: View, places: Sequence[Point2], taken: Taken) -> Items:
    """Return a short chain line at every stud centre, through the wall's band."""
    reach = (BAND_MM + 2.0) * view.scale
    lines = [view.line((x, y - reach / 3), (x, y + reach), dash="chain") for x, y in places]
    taken.note(lines)
    return tuple(lines)


def _level_size(
    view: View, ends: tuple[Point2, Point2], room: Room, marks: Marks, taken: Taken, *, above: bool
) -> Items:
    """Return the clear width between two spots; along the back wall with the studs in between."""
    left, right = ends
    xs = [left[0], right[0]]
    if above:
        xs = [left[0], *(x for x in _studs(room) if left[0] < x < right[0]), right[0]]
    points = [view.at((x, left[1] if above else min(left[1], right[1]))) for x in xs]
    line_at = view.at((0.0, max(left[1], right[1])))[1] - BAND_MM - OFF_MM if above else points[0][1] + OFF_MM + 6.0
    return chain(
        Chain(
            direction="level",
            points=tuple((x, y - BAND_MM if above else y) for x, y in points),
            labels=tuple(show(b - a, marks) for a, b in pairwise(xs)),
            line_at=line_at,
            overall=show(xs[-1] - xs[0], marks) if len(xs) > 2 else "",
            outward=-1 if above else 1,
        ),
        taken,
    )


def _depth_size(view: View, front: Point2, back: Point2, marks: Marks, taken: Taken, *, left: bool) -> Items:
    """Return the depth between a front and a back spot, outside the room's end."""
    x = min(front[0], back[0]) if left else max(front[0], back[0])
    edge = view.at((x, 0.0))[0]
    return chain(
        Chain(
            direction="upright",
            points=view.all_at((front, back)),
            labels=(show(back[1] - front[1], marks),),
            line_at=edge - BAND_MM - OFF_MM if left else edge + BAND_MM + OFF_MM,
            outward=-1 if left else 1,
        ),
        taken,
    )


def _corner_words(view: View, room: Room, spots: dict[str, Point2], taken: Taken) -> Items:
    """Return each corner's angle with its spread, inside the corner."""
    items: list[Item] = []
    shape = room.unknowns.shape
    for column, inward in zip(room.ends, (1.0, -1.0), strict=True):
        named = next((corner.name for corner in shape.corners if corner.column == column), "")
        found = next((each for each in room.derived if each.name == named and each.fixed), None)
        if found is None or f"{column}0" not in spots:
            continue
        x, y = view.at(spots[f"{column}0"])
        words = f"{found.measured.value:.1f}° ± {SPREADS * found.measured.sd:.1f}°"
        texts = [
            Text(at=(x + inward * 8.0, y + down), text=words, anchor="start" if inward > 0 else "end")
            for down in (12.0, 17.0, 22.0, 27.0)
        ]
        items.extend(placed_words(texts, taken))
    return tuple(items)


def _elevation(room: Room, issue: Issue) -> Draft:
    """Return the back wall as measured: floor, ends, slope and ceiling, spots, outlets and studs."""
    top = max(spot.xyz[2] for spot in room.beside) + BEYOND_MM
    behind = elevation_section(room, 0.0, _ends(room), top)
    low, high = behind.corners()
    sheet = canvas(low, high, issue, sides_mm=30.0, below_mm=26.0, above_mm=BAND_MM + 4)
    view, taken = sheet.view, Taken()
    items: list[Item] = list(walls(view, behind.edges(), taken))
    spots = [(spot.name, (spot.xyz[0], spot.xyz[2])) for spot in room.beside if room.column(spot.name) in room.ends]
    short = STUD_MARK_MM * view.scale
    shown = [view.line((x, room.at("floor", x, 0.0).value), (x, short), dash="chain") for x in _studs(room)]
    items.extend(shown)
    taken.note(shown)
    for column, left in zip(room.ends, (True, False), strict=True):
        heights = sorted(place[1] for name, place in spots if room.column(name) == column)
        if len(heights) > 1:
            items.extend(_height_size(view, low[0] if left else high[0], heights, issue.marks, taken, left=left))
    items.extend(_outlets(view, room, taken))
    items.extend(_marked(view, spots, taken))
    told = room.told("back")
    name = f"{'W' if told.startswith('wall') else 'The ' + told[0]}{told[1:]}, seen from the room"
    return Draft(name=name, items=tuple(items), scale=view.scale, landscape=sheet.landscape)


def _height_size(view: View, x: float, heights: Sequence[float], marks: Marks, taken: Taken, *, left: bool) -> Items:
    """Return the chain of heights of one column's spots, outside the room's end at x."""
    edge = view.at((x, 0.0))[0]
    return chain(
        Chain(
            direction="upright",
            points=view.all_at([(x, z) for z in heights]),
            labels=tuple(show(b - a, marks) for a, b in pairwise(heights)),
            line_at=edge - BAND_MM - OFF_MM if left else edge + BAND_MM + OFF_MM,
            overall=show(heights[-1] - heights[0], marks) if len(heights) > 2 else "",
            outward=-1 if left else 1,
        ),
        taken,
    )


def _outlets(view: View, room: Room, taken: Taken) -> Items:
    """Return the outlets of the back wall as their plates, with their names."""
    items: list[Item] = []
    for outlet in room.survey.outlets:
        if outlet.wall != "back":
            continue
        x, z = _outlet_place(outlet, room)
        half_w, half_h = outlet.plate_width_mm / 2, outlet.plate_height_mm / 2
        plate = view.polygon(
            ((x - half_w, z - half_h), (x + half_w, z - half_h), (x + half_w, z + half_h), (x - half_w, z + half_h)),
            pen="wide",
        )
        items.append(plate)
        taken.note((plate,))
        px, py = view.at((x, z))
        texts = [
            Text(at=(px + dx, py + dy), text=outlet.name, anchor=anchor)
            for dy in (-half_h / view.scale - 3.0, half_h / view.scale + 6.0, -14.0, 16.0)
            for dx, anchor in BESIDE_AN_OUTLET
        ]
        items.extend(placed_words(texts, taken))
    return tuple(items)


def _outlet_place(outlet: Outlet, room: Room) -> Point2:
    """Return an outlet's centre as it was measured: from its end of the wall, above the floor. [mm]"""
    column = room.ends[0] if outlet.side == "left" else room.ends[1]
    if room.has(outlet.side):
        end = room.at(outlet.side, 0.0, outlet.above_floor_mm).value
    else:
        end = next(spot.xyz[0] for spot in room.spots if room.column(spot.name) == column)
    x = end + (outlet.from_side_mm if outlet.side == "left" else -outlet.from_side_mm)
    return x, room.at("floor", x, 0.0).value + outlet.above_floor_mm


def _figures(room: Room, issue: Issue) -> tuple[Draft, ...]:
    """Return the tables of derived figures and of readings."""
    test = room.global_test
    agree = "agree" if test.passed else "disagree more than their tools allow"
    blocks = (
        Paragraph(
            text=(
                f"Spread: {SPREADS:g} standard deviations; 95 in 100 times the true figure lies within it."
                f" All readings together {agree} ({test.statistic:.1f} against a limit of {test.limit:.1f})."
            )
        ),
        *_legend(room, issue.marks),
        Heading(text="The room in figures"),
        Table(
            columns=(
                Column(title="Figure", share=5.0),
                Column(title="Value", share=1.6, align="end", bold=True),
                Column(title="Spread", share=1.4, align="end"),
                Column(title="Unit", share=1.0),
            ),
            rows=tuple(_figure_row(each, issue.marks) for each in room.derived),
        ),
        Heading(text="The readings, the least fitting first"),
        Table(
            columns=(
                Column(title="Reading", share=3.4),
                Column(title="Read", share=1.6, align="end"),
                Column(title="Adjusted", share=1.6, align="end"),
                Column(title="Difference", share=2.0, align="end"),
                Column(title="Spreads off", share=1.4, align="end"),
                Column(title="Note", share=1.2, bold=True),
            ),
            rows=(
                *(_reading_row(fit, issue.marks) for fit in sorted(room.fits, key=lambda fit: -abs(fit.w))),
                *(_left_out_row(each, issue.marks) for each in room.left_out),
            ),
        ),
    )
    return flow("The room in figures", blocks, issue.paper)


def _legend(room: Room, marks: Marks) -> tuple[Paragraph | Table, ...]:
    """Return what the levels stand for, and where the outlets were measured."""
    levels = ", ".join(f"{i} at {show(height, marks)}" for i, height in enumerate(room.survey.heights_mm, start=1))
    words = f"Levels above the floor at {room.datum}: {levels} {marks.units}."
    legend: list[Paragraph | Table] = [Paragraph(text=words)]
    if room.survey.outlets:
        rows = tuple(
            (
                outlet.name,
                f"{show(outlet.from_side_mm, marks)} from the {outlet.side} of the {room.told(outlet.wall)}",
                f"{show(outlet.above_floor_mm, marks)} above the floor",
            )
            for outlet in room.survey.outlets
        )
        columns = (
            Column(title="Outlet", share=2.0),
            Column(title="Box centre", share=3.4),
            Column(title="Height", share=2.6),
        )
        legend.append(Table(columns=columns, rows=rows))
    return tuple(legend)


def _figure_row(each: Derived, marks: Marks) -> tuple[str, ...]:
    """Return one derived figure; when nothing fixes it, what to measure."""
    if not each.fixed:
        return (f"{each.name}: {each.advice}", "not fixed", "", "")
    if each.unit == "mm":
        return (
            each.name,
            show(each.measured.value, marks),
            show(SPREADS * each.measured.sd, marks, way="up"),
            marks.units,
        )
    if each.unit == "mm/m":
        value, spread = (show_rate(size, marks.units) for size in (each.measured.value, SPREADS * each.measured.sd))
        return (each.name, value, spread, RATE_UNITS[marks.units])
    return (each.name, f"{each.measured.value:.1f}", f"{SPREADS * each.measured.sd:.1f}", each.unit)


def _reading_row(fit: ReadingFit, marks: Marks) -> tuple[str, ...]:
    """Return one reading beside what the others make of it."""
    off = round(fit.adjusted - fit.read, 1) + 0.0
    verdict = "a slip?" if fit.suspect else ""
    if fit.unit == "mm":
        return (
            fit.text,
            show(fit.read, marks),
            show(fit.adjusted, marks),
            _signed(off, marks),
            f"{abs(fit.w):.1f}",
            verdict,
        )
    if fit.unit == "mm/m":
        said = (show_rate(size, marks.units) for size in (fit.read, fit.adjusted, off))
        return (fit.text, *said, f"{abs(fit.w):.1f}", verdict)
    return (fit.text, f"{fit.read:.1f}°", f"{fit.adjusted:.1f}°", f"{off:+.1f}°", f"{abs(fit.w):.1f}", verdict)


def _left_out_row(each: LeftOut, marks: Marks) -> tuple[str, ...]:
    """Return one reading that the user left out beside what the room says of it."""
    says = "" if each.says is None else show(each.says.value, marks) if each.unit == "mm" else f"{each.says.value:.1f}°"
    read = show(each.read, marks) if each.unit == "mm" else f"{each.read:.1f}°"
    return (each.text, read, says, "", "", "left out by you")


def _signed(mm: float, marks: Marks) -> str:
    """Return a small difference with its sign."""
    return ("+" if mm >= 0 else "") + show_fine(mm, marks)
