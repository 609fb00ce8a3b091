"""Sheets: margins, title strip, heading, scale bar, and the choice of scale."""

from __future__ import annotations

from dataclasses import dataclass, replace

from nookwright.basics.lengths import Marks, Units, show
from nookwright.drawings.blocks import Told
from nookwright.drawings.lettering import drawable, true_fractions, width_mm, wrapped
from nookwright.drawings.page import PAPER_MM, Area, Item, Items, Line, Page, Paper, Shape, Text

MARGIN_MM = 12.0
"""Clear edge on every side; home printers leave about 5 mm unprinted. Common practice, no source."""

STRIP_MM = 13.0
HEADING_MM = 12.0
BAR_MM = 100.0
"""Length of the bar to measure, on paper. [mm]"""

_BAR_ROOM_MM = 15.0

SCALES = (1, 2, 5, 10, 20, 50)
"""Paper goes into the thing this many times. Source: ISO 5455 steps, recalled."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Issue:
    """What every title strip says about the job.

    Args:
        job: its title.
        date, revision: as the user gives them.
        marks: units and steps people read.
        paper: sheet size.
    """

    job: str
    date: str
    revision: str
    marks: Marks
    paper: Paper


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """One sheet before it is numbered.

    Args:
        name: heading, and name in the contents.
        items: what is drawn in its body.
        scale: 10 for 1:10; 0 when nothing is drawn to scale.
        landscape: whether the long side lies level.
        mark: what stands in a frame at the top right; empty for nothing.
        told: the words that this sheet and those beside it of the same were poured from; empty for a drawing.
    """

    name: str
    items: Items
    scale: int = 0
    landscape: bool = False
    mark: str = ""
    told: tuple[Told, ...] = ()


def marked(drafts: tuple[Draft, ...], open_questions: tuple[str, ...]) -> tuple[Draft, ...]:
    """Return sheets that nobody may cut by yet with the sign that says so.

    Args:
        drafts: cutting pages.
        open_questions: what nobody has answered on site; none leaves the sheets as they are.
    """
    if not open_questions:
        return drafts
    count = len(open_questions)
    mark = f"DRAFT, not for cutting: {count} site {'question' if count == 1 else 'questions'} open"
    return tuple(replace(draft, mark=mark) for draft in drafts)


def body(paper: Paper, *, landscape: bool = False, scaled: bool = False) -> Area:
    """Return the space between heading and title strip. [mm]

    Args:
        paper: sheet size.
        landscape: whether the long side lies level.
        scaled: whether a scale bar takes its place above the strip.

    Returns:
        The area.
    """
    width, height = PAPER_MM[paper][::-1] if landscape else PAPER_MM[paper]
    whole = Area(x=MARGIN_MM, y=MARGIN_MM, width=width - 2 * MARGIN_MM, height=height - 2 * MARGIN_MM)
    return whole.inset(top=HEADING_MM, bottom=STRIP_MM + (_BAR_ROOM_MM if scaled else 4.0))


def chosen_scale(model_mm: tuple[float, float], space_mm: tuple[float, float]) -> int:
    """Return the largest scale at which a thing fits a space: 2 means 1:2; the last step when none does.

    Args:
        model_mm: the thing's width and height. [mm]
        space_mm: width and height of the space on paper. [mm]

    Returns:
        One of `SCALES`.
    """
    for scale in SCALES:
        if model_mm[0] <= space_mm[0] * scale and model_mm[1] <= space_mm[1] * scale:
            return scale
    return SCALES[-1]


def finished(draft: Draft, issue: Issue, *, number: int, total: int) -> Page:
    """Return the sheet with its heading, title strip and scale bar."""
    width, height = PAPER_MM[issue.paper][::-1] if draft.landscape else PAPER_MM[issue.paper]
    strip = Area(x=MARGIN_MM, y=height - MARGIN_MM - STRIP_MM, width=width - 2 * MARGIN_MM, height=STRIP_MM)
    heading = Text(at=(MARGIN_MM, MARGIN_MM + 6.0), text=true_fractions(drawable(draft.name)), height_mm=5.0, bold=True)
    items = (heading, *draft.items, *_strip(strip, draft, issue, f"{number} of {total}"), *_mark(draft, width))
    if draft.scale:
        items += scale_bar((MARGIN_MM + 1.0, strip.y - 6.5), draft.scale, issue.marks.units)
    return Page(name=draft.name, paper=issue.paper, landscape=draft.landscape, items=items)


def _mark(draft: Draft, width: float) -> Items:
    """Return the sheet's mark in its frame right of the heading: all of it, or its first words where that is long."""
    right, foot = width - MARGIN_MM, MARGIN_MM + 7.5
    room = right - MARGIN_MM - width_mm(true_fractions(drawable(draft.name)), 5.0, bold=True) - 6.0
    shorter = (draft.mark, draft.mark.partition(":")[0], draft.mark.partition(",")[0])
    text = next((each for each in shorter if width_mm(each, 3.5, bold=True) + 4.0 <= room), shorter[-1])
    if not text:
        return ()
    left = right - width_mm(text, 3.5, bold=True) - 4.0
    frame = ((left, foot - 6.0), (right, foot - 6.0), (right, foot), (left, foot))
    middle = Text(at=((left + right) / 2, foot - 1.8), text=text, height_mm=3.5, anchor="middle", bold=True)
    return Shape(points=frame, pen="wide"), middle


def _strip(strip: Area, draft: Draft, issue: Issue, page: str) -> Items:
    """Return the title strip: a wide line above, narrow lines between its fields."""
    scale = f"1:{draft.scale}" if draft.scale else "none"
    fields = (
        ("Job", issue.job, 52.0),
        ("Sheet", draft.name, 46.0),
        ("Scale", scale, 15.0),
        ("Units", issue.marks.units, 14.0),
        ("Revision", issue.revision, 17.0),
        ("Date", issue.date or "not given", 27.0),
        ("Page", page, 17.0),
    )
    spare = strip.width - sum(width for _, _, width in fields)
    items: list[Item] = [Line(start=(strip.x, strip.y), end=(strip.right, strip.y), pen="wide")]
    x = strip.x
    for i, (label, value, share) in enumerate(fields):
        width = share + (spare / 2 if i < 2 else 0.0)
        if i:
            items.append(Line(start=(x, strip.y + 1.5), end=(x, strip.bottom)))
        items.append(Text(at=(x + 1.2, strip.y + 4.2), text=label, height_mm=2.5, ink="grey"))
        items.extend(_field(drawable(value), x + 1.2, strip.y, width - 2.4))
        x += width
    return tuple(items)


def _field(value: str, x: float, top: float, limit: float) -> list[Item]:
    """Return a field's value: 3.5 mm on one line where it fits, else two lines of 2.5 mm."""
    text = true_fractions(value)
    if width_mm(text, 3.5, bold=True) <= limit:
        return [Text(at=(x, top + 10.2), text=text, height_mm=3.5, bold=True)]
    lines = wrapped(value, limit, 2.5, bold=True)
    if len(lines) > 2:
        short = lines[1]
        while width_mm(short + "…", 2.5, bold=True) > limit:
            short = short[:-1]
        lines = (lines[0], short + "…")
    first = 10.2 if len(lines) == 1 else 8.3
    return [Text(at=(x, top + first + 3.9 * i), text=line, height_mm=2.5, bold=True) for i, line in enumerate(lines)]


def scale_bar(at: tuple[float, float], scale: int, units: Units) -> Items:
    """Return a bar that is 100 mm long on paper, with what it stands for at this scale.

    Args:
        at: its upper left corner. [mm]
        scale: 10 for 1:10.
        units: units people read.

    Returns:
        The bar, its figures above it.
    """
    x, y = at
    items: list[Item] = [
        Shape(
            points=((x + 20 * i, y), (x + 20 * i + 20, y), (x + 20 * i + 20, y + 2), (x + 20 * i, y + 2)),
            pen=None, fill="grey" if i % 2 else "none",
        )
        for i in range(5)
    ]  # fmt: skip
    items.append(Line(start=(x, y), end=(x + BAR_MM, y)))
    items.append(Line(start=(x, y + 2), end=(x + BAR_MM, y + 2)))
    items.extend(Line(start=(x + 20 * i, y), end=(x + 20 * i, y + 2)) for i in range(6))
    for i in (0, 1, 2, 3, 4, 5):
        label = f"{20 * i * scale}"
        items.append(Text(at=(x + 20 * i, y - 1.2), text=label, height_mm=2.5, anchor="middle" if i else "start"))
    note = "mm. The bar is 100 mm long on paper."
    if units == "inch":
        whole = true_fractions(show(BAR_MM * scale, Marks(units="inch", resolution=1 / 16), with_unit=True))
        note = f"mm ({whole}). The bar is 100 mm long on paper."
    items.append(Text(at=(x + BAR_MM + 8, y - 1.2), text=note, height_mm=2.5))
    return tuple(items)
