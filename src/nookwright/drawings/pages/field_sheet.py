"""The field sheet: what to mark in the room, every reading with a box to write it in, and what to look at besides."""

from __future__ import annotations

from nookwright.basics.lengths import Marks, show, show_fine
from nookwright.drawings.flow import Paragraph, lay
from nookwright.drawings.lettering import NOTES_MM
from nookwright.drawings.page import Area, Item, Items, Page, Text
from nookwright.drawings.pages.field_pictures import pictures
from nookwright.drawings.pages.field_rows import height_of, in_two, labelled_box, lay_station, stations
from nookwright.drawings.pages.field_site import ROW_MM as WALL_ROW_MM
from nookwright.drawings.pages.field_site import WALL_ROWS, check_lines, site_boxes, wall_boxes
from nookwright.drawings.pages.field_views import folded_view, levels_used, plan_view
from nookwright.drawings.sheet import Draft, Issue, body, finished
from nookwright.stages.inputs.survey import LevelReading, Survey
from nookwright.stages.room.forecast import Forecast, Spread
from nookwright.stages.survey.nominal import NominalRoom

VIEWS_SHARE = 0.275
"""Share of the first sheet that the two views take. Our choice."""

ROWS_MM = (9.6, 9.3, 9.0, 8.7, 8.4)
"""Heights of a reading's line, the best first. Our choice."""

GAP_MM = 5.0


def field_sheet(survey: Survey, found: Forecast, issue: Issue) -> tuple[Page, ...]:
    """Return the sheets to take to the room.

    Args:
        survey: the field book, still blank or partly filled; its readings are printed in its order.
        found: what they will tell.
        issue: the job's title, units and paper.

    Returns:
        Two sheets: what to mark and how to read; the readings, and what to look at besides.
    """
    drafts = (_marking(survey, found, issue), *_reading(survey, found, issue))
    return tuple(finished(draft, issue, number=i + 1, total=len(drafts)) for i, draft in enumerate(drafts))


def spread_text(spread: Spread, marks: Marks) -> str:
    """Return how surely something will be known: twice the standard deviation, with its unit."""
    size = show_fine(2 * spread.sd, marks) if spread.unit == "mm" else f"{2 * spread.sd:.1f} {spread.unit}"
    return f"{spread.what} ± {size}"


def _marking(survey: Survey, found: Forecast, issue: Issue) -> Draft:
    """Return the first sheet: the views, what to mark, how to hold things, what the readings will tell."""
    area = body(issue.paper)
    high = VIEWS_SHARE * area.height
    left = Area(x=area.x, y=area.y, width=0.46 * area.width, height=high)
    right = Area(x=left.right, y=area.y, width=area.width - left.width, height=high)
    items: list[Item] = [
        Text(at=(left.x, left.y + 3.5), text="From above", height_mm=3.5, bold=True),
        Text(at=(right.x + 2.0, right.y + 3.5), text="The walls folded out", height_mm=3.5, bold=True),
        *plan_view(survey, found.room, left.inset(top=5.0)),
        *folded_view(survey, found.room, right.inset(top=4.0), issue.marks),
    ]
    rest = area.inset(top=high + 1.0)
    for words in _steps(survey, found, issue.marks):
        laid = lay(words, rest)
        items.extend(laid.items)
        rest = rest.inset(top=laid.height_mm + 0.8)
    items.extend(_heights_boxes(survey, found, issue, rest))
    rest = rest.inset(top=8.0 + GAP_MM / 2)
    shown, height = pictures(rest)
    items.extend(shown)
    rest = rest.inset(top=height + 1.0)
    items.extend(wall_boxes(survey, rest))
    items.extend(_forecast(found, issue.marks, rest.inset(top=WALL_ROWS * WALL_ROW_MM + 1.0)))
    return Draft(name="Field sheet: marks", items=tuple(items))


def _steps(survey: Survey, found: Forecast, marks: Marks) -> tuple[Paragraph, ...]:
    """Return what to mark, in order."""
    last = max((i for i, one in enumerate(survey.readings, 1) if isinstance(one, LevelReading)), default=0)
    used = {level for levels in levels_used(survey, found.room).values() for level in levels}
    steps = []
    if last:
        up = show(found.room.line_mm, marks, with_unit=True)
        top = "slope" if "S" in used else "ceiling"
        steps.append(
            f"Level: where it sees every column, its line about {up} up and under the {top} everywhere. Leave it so"
            f" until reading {last} is in."
        )
    steps.append(f"Columns: plumb up from the floor, to 10 mm. {_columns(found.room)}")
    if "S" in used:
        steps.append("S: where a column meets the slope.")
    if any(level.isdigit() and level != "0" for level in used):
        first = found.room.shape.frame[0]
        steps.append(
            f"Heights: tick them at {first}, up from the floor there. Write how far each tick is from the level line;"
            " set the same off from the line at the other columns, not from their own floor."
        )
    steps.append("Skirting on? A spot at 0 is on the wall: read to the skirting's face and add its thickness.")
    words = tuple(Paragraph(text=f"{number}. {text}") for number, text in enumerate(steps, 1))
    return (Paragraph(text="Mark first", bold=True), *words)


def _columns(room: NominalRoom) -> str:
    """Return where the columns stand, in words."""
    columns = room.shape.columns.values()
    said = []
    for count, words in (
        (2, "in the corners"),
        (1, "on their wall, where the furniture ends or beyond"),
        (0, "on the floor, where its free corner is or beyond"),
    ):
        names = [column.name for column in columns if min(len(column.walls), 2) == count]
        if names:
            said.append(f"{', '.join(names)}: {words}")
    return "; ".join(said) + "."


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


def _forecast(found: Forecast, marks: Marks, area: Area) -> Items:
    """Return what the readings will tell."""
    said = "; ".join(spread_text(one, marks) for one in (*found.spreads, *found.furniture))
    title = Text(at=(area.x, area.y + 3.5), text="What this will tell, 19 times in 20", height_mm=3.5, bold=True)
    return (title, *lay(Paragraph(text=f"{said}.", height_mm=NOTES_MM), area.inset(top=5.5)).items)


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
