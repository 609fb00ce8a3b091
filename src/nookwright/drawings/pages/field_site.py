"""The foot of a field sheet: what to reckon before leaving, and what to look at besides the readings."""

from __future__ import annotations

from nookwright.basics.lengths import Marks, show
from nookwright.drawings.blocks import Paragraph
from nookwright.drawings.flow import lay
from nookwright.drawings.lettering import NOTES_MM, width_mm
from nookwright.drawings.page import Area, Item, Items, Text
from nookwright.drawings.pages.field_rows import MINUS, labelled_box
from nookwright.stages.checks.question_table import question_keys
from nookwright.stages.inputs.survey import Survey
from nookwright.stages.survey.field_lists import field_list
from nookwright.stages.survey.nominal import NominalRoom
from nookwright.stages.survey.self_checks import SelfCheck, self_checks

MM_PER_INCH = 25.4
ROW_MM, QUESTION_MM = 8.0, 5.4

_COARSE = {"mm": 5.0, "inch": 0.25}
"""Steps that rough limits are told in. [mm or inch]"""

IN_DOUBT = "A tape is off, but which? Ask nookwright survey, or read these bevels at level 1:"
"""Asked in words as few as the sheet has room for."""

IF_TALL = "Tall furniture? Plumb"

CAUTION = (
    "Unknown is an answer. Before drilling look for cables and pipes; old paint and boards can hold lead or asbestos:"
    " have them tested before sanding or cutting. Local codes and licensed trades come first."
)
"""Common practice, no source."""


def check_lines(survey: Survey, room: NominalRoom, marks: Marks, area: Area) -> tuple[Items, float]:
    """Return what to reckon before leaving, at the top of an area, and the height it takes. [mm]"""
    items: list[Item] = []
    used = 0.0
    title = Paragraph(text="Before you leave: if one of these does not hold, read its readings again", bold=True)
    for words in (title, *(Paragraph(text=text) for text in _sentences(self_checks(survey, room), marks))):
        laid = lay(words, area.inset(top=used))
        items.extend(laid.items)
        used += laid.height_mm + 0.4
    listed = field_list(survey.kind, survey.corner)
    if listed.in_doubt:
        laid = lay(Paragraph(text=IN_DOUBT), area.inset(top=used))
        items.extend(laid.items)
        used += laid.height_mm + 0.4
        items.extend(_row(tuple((corner, 18.0, "deg") for corner in listed.in_doubt), area.x, area.y + used))
        used += ROW_MM
    if listed.if_tall:
        unit = "in" if survey.units == "inch" else "mm"
        boxes = tuple((f"{one.of[0]} {' – '.join(one.of[1:])}", 15.0, unit) for one in listed.if_tall)
        items.extend(_row(((IF_TALL, 0.0, ""), *boxes), area.x, area.y + used))
        used += ROW_MM
    return tuple(items), used


def _sentences(checks: tuple[SelfCheck, ...], marks: Marks) -> list[str]:
    """Return the checks in words; numbers are those of the readings."""
    said = [f"Two looks at one thing agree to {show(2.0, marks, way='up', with_unit=True)}."]
    opposite: dict[str, list[str]] = {}
    for check in checks:
        if check.kind == "opposite":
            most = show(
                check.within_mm, Marks(units=marks.units, resolution=_COARSE[marks.units]), way="up", with_unit=True
            )
            opposite.setdefault(most, []).append(f"{min(check.numbers)} and {max(check.numbers)}")
    if opposite:
        pairs = "; ".join(f"{', '.join(of)} (to {most})" for most, of in opposite.items())
        said[0] += f" Nearly equal in most rooms: {pairs}."
    for check in (check for check in checks if check.kind == "lean"):
        high, low, one, other = check.numbers
        most = show(check.within_mm, marks, way="up", with_unit=True)
        said.append(f"{high} is {low} {MINUS} {one} {MINUS} {other}, to {most}: the lean of the walls.")
    squares = [check for check in checks if check.kind == "squares"]
    if squares:
        sums = "; ".join(f"{_squared(check.numbers[:2])} = {_squared(check.numbers[2:])}" for check in squares)
        apart = max(check.within_mm for check in squares)
        unit, size = ("metres", apart / 1e6) if marks.units == "mm" else ("inches", apart / MM_PER_INCH**2)
        said.append(f"On a phone, in {unit}: {sums}; to {size:.{2 if marks.units == 'mm' else 0}f}.")
    return said


def _squared(numbers: tuple[int, ...]) -> str:
    return " + ".join(f"({number})²" for number in numbers)


def wall_boxes(survey: Survey, area: Area) -> Items:
    """Return boxes for the tools, the skirting, the back wall and its studs, at the top of an area."""
    unit = "in" if survey.units == "inch" else "mm"
    rows = (
        (("date", 26.0, ""), ("tape, class", 12.0, ""), ("level: laser / water / spirit", 0.0, ""), ("by", 36.0, "")),
        (
            ("skirting high", 17.0, unit),
            ("thick", 15.0, unit),
            ("back wall: studs / masonry / ?", 0.0, ""),
            ("board", 13.0, unit),
        ),
        (("outside wall: yes / no", 0.0, ""), ("stud centres from its left", 15.0, unit), *((" ", 15.0, unit),) * 3),
    )
    return tuple(item for i, row in enumerate(rows) for item in _row(row, area.x, area.y + i * ROW_MM))


WALL_ROWS = 3


def site_boxes(survey: Survey, area: Area) -> tuple[Items, float]:
    """Return boxes for outlets, the site questions and the caution, at the top of an area, and their height. [mm]"""
    unit = "in" if survey.units == "inch" else "mm"
    items: list[Item] = []
    for number in (1, 2):
        items.extend(_row(_outlet(number, unit), area.x, area.y + (number - 1) * ROW_MM))
    y = area.y + 2 * ROW_MM
    questions, height = _questions(area.inset(top=y - area.y))
    items.extend(questions)
    y += height
    laid = lay(Paragraph(text=CAUTION, height_mm=NOTES_MM), area.inset(top=y - area.y))
    items.extend(laid.items)
    return tuple(items), y + laid.height_mm - area.y


def _row(pieces: tuple[tuple[str, float, str], ...], x: float, y: float) -> Items:
    """Return words and boxes in a row; a box of no width is words to ring."""
    items: list[Item] = []
    for words, wide, unit in pieces:
        if wide:
            drawn, x = labelled_box(words, x, y, wide, unit=unit)
            items.extend(drawn)
        else:
            items.append(Text(at=(x, y + 5.0), text=words, height_mm=3.5))
            x += width_mm(words, 3.5) + 4.0
    return tuple(items)


def _outlet(number: int, unit: str) -> tuple[tuple[str, float, str], ...]:
    """Return the words and boxes of one socket or switch."""
    return (
        (f"socket {number}, wall", 14.0, ""), ("from l / r", 15.0, unit), ("up", 14.0, unit),
        ("box", 19.0, "w x h"), ("plate", 19.0, "w x h"),
    )  # fmt: skip


COLUMN_SHARES = (0.0, 0.2, 0.46, 0.71)
"""Where the columns of the site questions begin, as shares of the width. Our choice."""


def _questions(area: Area) -> tuple[Items, float]:
    """Return the site questions with answers to ring, and the height they take. [mm]"""
    keys = [key.replace("-", " ") for key in question_keys()]
    rows = -(-len(keys) // len(COLUMN_SHARES))
    title = "At or behind the furniture: ring N none, F found, or ? unknown"
    items: list[Item] = [Text(at=(area.x, area.y + 3.5), text=title, height_mm=3.5, bold=True)]
    for i, key in enumerate(keys):
        x, y = area.x + COLUMN_SHARES[i // rows] * area.width, area.y + 4.5 + (i % rows + 1) * QUESTION_MM
        items.append(Text(at=(x, y), text="N F ?", height_mm=3.5))
        items.append(Text(at=(x + 12.0, y), text=key, height_mm=3.5))
    return tuple(items), 4.5 + rows * QUESTION_MM + 2.0
