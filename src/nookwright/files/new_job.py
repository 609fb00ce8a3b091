"""A new job: commented files to fill in, with every reading to take left blank."""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path

from nookwright.basics.lengths import Units
from nookwright.basics.problems import Inspection, Problem, Where
from nookwright.stages.inputs.survey import RoomKind, Side
from nookwright.stages.survey.asked import sheet_list
from nookwright.stages.survey.field_lists import FieldList, Tool
from nookwright.stages.survey.free_plan import FREE_PLAN, L_ROOM
from nookwright.stages.survey.kind_table import HANDED, kind_shape
from nookwright.stages.survey.shape import Shape

_EITHER = re.compile(r"<<([^|]*)\|([^>]*)>>")
"""`<<metric|inch>>` in a template: the text for either unit system."""


_BLANK = re.compile(r"\{\{(\w+)\}\}")
"""`{{word}}` in a template: what the kind of room puts there."""

CORNER: dict[RoomKind, str] = {
    "corner-under-slope": "the side of the corner's wall",
    "corner-two-slopes": "the side of the corner",
    "under-stair": "the low end",
}
"""What the corner of a kind is that has one; its readings are those of this side."""

TOOL_NOTES: dict[Tool, str] = {
    "level": "# above (+) or below (-) one level line round the room; the floor is below",
    "tape": "# straight from spot to spot",
    "plumb": "# how far the second spot stands further INTO the room than the first",
    "bevel": "# the angle inside the room, in degrees",
    "slope": "# its angle from level, in degrees or as 250 in 300",
}


def new_job(kind: RoomKind, folder: Path, *, units: Units = "mm", corner: Side = "left") -> tuple[Path, ...]:
    """Write a job to fill in: room.yaml, brief.yaml, shop.yaml.

    Nothing is ever overwritten. The job cannot be planned before its blanks are filled in: reading it names them.

    Args:
        kind: the room's kind.
        folder: where to write; made when it does not exist.
        units: what the files use for bare numbers, and the sizes they start from.
        corner: the side of the slope's wall, or of the stair's low end.

    Returns:
        The files written.

    Raises:
        InvalidInputError: if one of the files is there already, or the folder's place is taken by a file.
    """
    pages = new_job_files(kind, units=units, corner=corner)
    inspection = Inspection()
    taken = next((place for place in (folder, *folder.parents) if place.exists() and not place.is_dir()), None)
    if taken is not None:
        inspection.add(Problem(where=Where(file=str(taken)), found="a file", expected="a folder for the new job"))
    for name in pages:
        if taken is None and (folder / name).exists():
            hint = "Nothing was written; choose another folder."
            inspection.add(Problem(where=Where(file=name), found="a file", expected="none by that name", hint=hint))
    inspection.finish()
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in pages.items():
        with (folder / name).open("x", encoding="utf-8") as page:
            page.write(text)
    return tuple(folder / name for name in pages)


def new_job_files(kind: RoomKind, *, units: Units = "mm", corner: Side = "left") -> dict[str, str]:
    """Return the text of a new job's files, by file name.

    Args:
        kind: the room's kind.
        units: the unit system of their sizes.
        corner: the side of the slope's wall, or of the stair's low end; only kinds that have one heed it.

    Returns:
        The files, readings in the order of the field sheet and numbered as there.
    """
    templates = {"room.yaml": "room.yaml", "brief.yaml": f"brief-{kind}.yaml", "shop.yaml": "shop.yaml"}
    folder = files("nookwright.files") / "templates"
    blanks = _blanks(kind, corner if kind in HANDED else "left")
    pages: dict[str, str] = {}
    for name, template in templates.items():
        text = (folder / template).read_text(encoding="utf-8")
        text = _BLANK.sub(lambda found: blanks[found[1]], text)
        pages[name] = _EITHER.sub(lambda both: both[1 if units == "mm" else 2], text)
    return pages


def _blanks(kind: RoomKind, corner: Side) -> dict[str, str]:
    """Return what a kind of room puts into the templates."""
    found, shape = sheet_list(kind, corner), kind_shape(kind, corner)
    levels = {one.of[0].removeprefix(shape.taken_apart(one.of[0])[0]) for one in found.readings if one.tool == "level"}
    tops = [f"{letter} on the {shape.tops[letter]}" for letter in shape.tops if letter in levels]
    return {
        "what": shape.called[0].upper() + shape.called[1:],
        "kind": kind,
        "origin": shape.origin,
        "corner": _corner_line(kind, corner),
        "columns": ", ".join(f"{name} {column.told}" for name, column in shape.columns.items()),
        "levels": ", ".join(("0 on the floor", "1, 2, 3... at the marked heights", *tops)),
        "heights_mm": ", ".join(f"{height:g}" for height in found.heights_mm),
        "heights_in": ", ".join(f"{height:g}" for height in found.heights_in),
        "readings": "\n".join(_reading_lines(found)),
        "edge": next(f"{one.of[0]} {one.of[1]}" for one in found.readings if one.tool == "plumb"),
        "run": _run(shape),
    }


def _corner_line(kind: RoomKind, corner: Side) -> str:
    """Return the line that settles a kind's hand, or the corners of a free plan."""
    if kind == FREE_PLAN:
        turns = ", ".join(f"{one.name}: {one.angle_deg:g}" for one in L_ROOM)
        return f"corners: {{{turns}}}  # yours: in order, left to right facing the walls, rough angles inside\n"
    return f"corner: {corner:<23}# {CORNER[kind]}\n" if kind in CORNER else ""


def _reading_lines(found: FieldList) -> Iterator[str]:
    """Give the lines of the readings, each with its number on the field sheet and what it is for."""
    tool, purpose = "", ""
    for number, one in enumerate(found.readings, start=1):
        if one.tool != tool:
            yield f"  {one.tool}:".ljust(31) + TOOL_NOTES[one.tool]
        name = f"    - {one.text}:".ljust(30)
        told = f" {one.purpose}" if one.purpose != purpose or one.tool != tool else ""
        yield f"{name} # {number}{told}"
        tool, purpose = one.tool, one.purpose
    for one in found.if_tall:
        yield f"#    - {one.text}:".ljust(30) + " # where furniture rises above level 1"


def _run(shape: Shape) -> str:
    """Return the ends of the furniture's run: the wall where one stands there, else a blank."""
    lines = []
    for key, name, words in (("start", shape.frame[0], "begins"), ("end", shape.frame[1], "ends")):
        walled = len(shape.columns[name].walls) > 1
        blank = f"{key}:".ljust(31) + f"# where the furniture {words} along the back wall, from {shape.frame[0]}"
        lines.append(f"{key}: wall" if walled else blank)
    return "\n".join(lines) + "\n"
