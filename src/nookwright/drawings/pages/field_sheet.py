"""The field sheet: what to mark in the room, every reading with a box to write it in, and what to look at besides."""

from __future__ import annotations

import re
from dataclasses import replace

from nookwright.basics.lengths import RATE_UNITS, Marks, show, show_fine, show_rate
from nookwright.drawings.blocks import Paragraph
from nookwright.drawings.flow import lay
from nookwright.drawings.lettering import NOTES_MM
from nookwright.drawings.page import Area, Item, Items, Page, Text
from nookwright.drawings.pages.field_edges import edges_page
from nookwright.drawings.pages.field_pictures import pictures
from nookwright.drawings.pages.field_rows import height_of, in_two, labelled_box, lay_station, stations
from nookwright.drawings.pages.field_site import ROW_MM as WALL_ROW_MM
from nookwright.drawings.pages.field_site import WALL_ROWS, check_lines, site_boxes, wall_boxes
from nookwright.drawings.pages.field_views import folded_view, levels_used, plan_view
from nookwright.drawings.sheet import Draft, Issue, body, finished
from nookwright.stages.inputs.survey import LevelReading, Survey
from nookwright.stages.room.forecast import Forecast, Spread
from nookwright.stages.survey.field_lists import field_list
from nookwright.stages.survey.nominal import NominalRoom

LEAST_VIEWS_MM, MOST_VIEWS_MM = 46.0, 84.0
"""Height of the two views. Our choice."""

MANY_WALLS = 5
"""From so many walls on, those folded out take more of the width. Our choice."""

ROWS_MM = (9.6, 9.3, 9.0, 8.7, 8.4)
"""Heights of a reading's line, the best first. Our choice."""

GAP_MM = 5.0

IF_TALL = "With the plumb lines for tall furniture, boxes after the readings, the back wall is known far better"


def field_sheet(survey: Survey, found: Forecast, issue: Issue) -> tuple[Page, ...]:
    """Return the sheets to take to the room.

    Args:
        survey: the field book, still blank or partly filled; its readings are printed in its order.
        found: what they will tell.
        issue: the job's title, units and paper.

    Returns:
        Three sheets: what to mark and how to read; the readings, and what to look at besides; what is read along
        surfaces where that is wanted.
    """
    drafts = (_marking(survey, found, issue), *_reading(survey, found, issue), edges_page(survey, issue))
    return tuple(finished(draft, issue, number=i + 1, total=len(drafts)) for i, draft in enumerate(drafts))


def spread_text(spread: Spread, marks: Marks) -> str:
    """Return how surely something will be known: twice the standard deviation, with its unit."""
    size = show_fine(2 * spread.sd, marks) if spread.unit == "mm" else f"{2 * spread.sd:.1f} {spread.unit}"
    if spread.unit == "mm/m":
        size = f"{show_rate(2 * spread.sd, marks.units)} {RATE_UNITS[marks.units]}"
    return f"{spread.what} ± {size}"


def _marking(survey: Survey, found: Forecast, issue: Issue) -> Draft:
    """Return the first sheet: the views, as large as the rest leaves room for, and the rest."""
    area = body(issue.paper)
    _, needed = _under_the_views(survey, found, issue, area)
    high = min(max(area.height - needed - 1.0, LEAST_VIEWS_MM), MOST_VIEWS_MM)
    share = 0.46 if len(found.room.shape.walls) < MANY_WALLS else 0.44
    left = Area(x=area.x, y=area.y, width=share * area.width, height=high)
    right = Area(x=left.right, y=area.y, width=area.width - left.width, height=high)
    items = (
        Text(at=(left.x, left.y + 3.5), text="From above", height_mm=3.5, bold=True),
        Text(at=(right.x + 2.0, right.y + 3.5), text="The walls folded out", height_mm=3.5, bold=True),
        *plan_view(survey, found.room, left.inset(top=5.0)),
        *folded_view(survey, found.room, right.inset(top=4.0), issue.marks),
        *_under_the_views(survey, found, issue, area.inset(top=high + 1.0))[0],
    )
    return Draft(name="Field sheet: marks", items=items)


def _under_the_views(survey: Survey, found: Forecast, issue: Issue, area: Area) -> tuple[Items, float]:
    """Return what to mark, how to hold things, and what the readings will tell; and the height it takes. [mm]"""
    items: list[Item] = []
    rest = area
    for words in _steps(survey, found, issue.marks):
        laid = lay(words, rest)
        items.extend(laid.items)
        rest = rest.inset(top=laid.height_mm + 0.8)
    items.extend(_heights_boxes(survey, found, issue, rest))
    rest = rest.inset(top=8.0 + GAP_MM / 2)
    shown, height = pictures(rest, issue.marks.units)
    items.extend(shown)
    rest = rest.inset(top=height + 1.0)
    items.extend(wall_boxes(survey, rest))
    rest = rest.inset(top=WALL_ROWS * WALL_ROW_MM + 1.0)
    told, height = _forecast(survey, found, issue.marks, rest)
    return (*items, *told), rest.y + height - area.y


def _steps(survey: Survey, found: Forecast, marks: Marks) -> tuple[Paragraph, ...]:
    """Return what to mark, in order."""
    last = max((i for i, one in enumerate(survey.readings, 1) if isinstance(one, LevelReading)), default=0)
    used = {level for levels in levels_used(survey, found.room).values() for level in levels}
    steps = []
    if last:
        steps.append(
            f"Level line: laser or water level where it reaches every column, about {_round(found.room.line_mm, marks)}"
            f" up{_under(found.room)}. It stays as it is until reading {last} is in."
        )
    steps.append(f"Columns: a pencil line straight up from each floor spot; {_finger(marks)} out does no harm.")
    steps.append(_columns(found.room))
    tops = [
        f"{letter} is where a column meets the {found.room.shape.tops[letter]}" for letter in _tops(found.room, used)
    ]
    if tops:
        steps.append(f"{'; '.join(tops)}; where no wall stands, plumb over its floor spot.")
    if any(level.isdigit() and level != "0" for level in used):
        first = found.room.shape.frame[0]
        steps.append(
            f"Heights: tick them at {first}, up from the floor there. Write how far each tick is from the level line;"
            " set the same off from the line at the other columns, not from their own floor."
        )
    steps.append("Skirting on? A spot at 0 is on the wall: read to the skirting's face and add its thickness.")
    words = tuple(Paragraph(text=f"{number}. {text}") for number, text in enumerate(steps, 1))
    return (Paragraph(text="Mark first", bold=True), *words)


def _round(size_mm: float, marks: Marks) -> str:
    """Return a height to set a level line at, in round figures."""
    return show(size_mm, Marks(units=marks.units, resolution=50.0 if marks.units == "mm" else 2.0), with_unit=True)


def _finger(marks: Marks) -> str:
    return "10 mm" if marks.units == "mm" else show(9.5, Marks(units="inch", resolution=1 / 8), with_unit=True)


def _under(room: NominalRoom) -> str:
    """Return that the line stays under whatever slopes overhead, so that every spot up there lies over it."""
    return " and under the lowest part of the slope" if room.shape.slopes else ""


def _tops(room: NominalRoom, used: set[str]) -> tuple[str, ...]:
    """Return the letters of the slopes whose spots are read."""
    return tuple(
        letter for letter, surface in room.shape.tops.items() if letter in used and surface in room.shape.slopes
    )


def _columns(room: NominalRoom) -> str:
    """Return where the columns stand, in words."""
    by_place: dict[str, list[str]] = {}
    for name, column in room.shape.columns.items():
        if len(column.walls) > 1:
            place = "where two walls meet"
        elif column.walls:
            place = f"on the {room.shape.told(column.walls[0])}"
        else:
            place = "on the floor"
        by_place.setdefault(place, []).append(name)
    said = [f"{', '.join(names)} {place}" for place, names in by_place.items()]
    open_ends = [name for name, column in room.shape.columns.items() if len(column.walls) < 2]
    tail = f" {_listed(open_ends)} stand where the furniture ends or comes out to, or beyond." if open_ends else ""
    return f"{'; '.join(said)}.{tail}"


def _listed(names: list[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _heights_boxes(survey: Survey, found: Forecast, issue: Issue, area: Area) -> Items:
    """Return a box for each height's distance to the level line."""
    used = {level for levels in levels_used(survey, found.room).values() for level in levels}
    levels = [number for number in range(1, len(survey.heights_mm) + 1) if str(number) in used]
    items: list[Item] = []
    x = area.x
    unit = "in" if issue.marks.units == "inch" else "mm"
    for number in levels:
        drawn, x = labelled_box(f"tick {number} to the line", x, area.y, 20.0, unit=unit)
        items.extend(drawn)
    return tuple(items)


def _forecast(survey: Survey, found: Forecast, marks: Marks, area: Area) -> tuple[Items, float]:
    """Return what the readings will tell, and the height it takes. [mm]"""
    said = "; ".join(spread_text(one, marks) for one in found.spreads)
    if found.furniture:
        said += "; for the furniture: " + ", ".join(_shortly(one, marks) for one in found.furniture)
    title = Text(at=(area.x, area.y + 3.5), text="What this will tell, 19 times in 20", height_mm=3.5, bold=True)
    said += f". {IF_TALL}." if field_list(survey.kind, survey.corner).if_tall else "."
    laid = lay(Paragraph(text=said, height_mm=NOTES_MM), area.inset(top=5.5))
    return (title, *laid.items), 5.5 + laid.height_mm


def _shortly(spread: Spread, marks: Marks) -> str:
    """Return how surely something will be known, without saying again that it is for the furniture."""
    return spread_text(replace(spread, what=_FOR_FURNITURE.sub("", spread.what)), marks)


_FOR_FURNITURE = re.compile(r"^the | \w+ the furniture$")


def _reading(survey: Survey, found: Forecast, issue: Issue) -> tuple[Draft, ...]:
    """Return the readings, the self-checks, and what else to look at: on one sheet where lines can be that low."""
    area, name = body(issue.paper), "Field sheet: readings"
    for row_mm in ROWS_MM:
        items, used = _stations(survey, found, issue, row_mm)
        checks, height = check_lines(survey, found.room, issue.marks, area.inset(top=used + GAP_MM / 2))
        rest = area.inset(top=used + GAP_MM / 2 + height + 1.5)
        site, needed = site_boxes(survey, rest)
        if needed <= rest.height:
            return (Draft(name=name, items=(*items, *checks, *site)),)
    site, _ = site_boxes(survey, area)
    return Draft(name=name, items=(*items, *checks)), Draft(name="Field sheet: besides", items=site)


def _stations(survey: Survey, found: Forecast, issue: Issue, row_mm: float) -> tuple[Items, float]:
    """Return the readings in two columns, and the height they take. [mm]"""
    area = body(issue.paper)
    wide = (area.width - GAP_MM) / 2
    items: list[Item] = []
    deepest = 0.0
    for place, column in enumerate(in_two(stations(survey, found, issue.marks), row_mm)):
        left = Area(x=area.x + place * (wide + GAP_MM), y=area.y, width=wide, height=area.height)
        for number, part in enumerate(column):
            above = height_of(column[:number], row_mm)
            items.extend(lay_station(part, left.inset(top=above), row_mm, survey.units))
        deepest = max(deepest, height_of(column, row_mm))
    return tuple(items), deepest
