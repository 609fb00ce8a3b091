"""A new job: commented files to fill in, with every reading to take left blank."""

from __future__ import annotations

import re
from importlib.resources import files
from pathlib import Path

from nookwright.basics.lengths import Units
from nookwright.basics.problems import Inspection, Problem, Where
from nookwright.stages.inputs.survey import RoomKind

_EITHER = re.compile(r"<<([^|]*)\|([^>]*)>>")
"""`<<metric|inch>>` in a template: the text for either unit system."""


def new_job(kind: RoomKind, folder: Path, *, units: Units = "mm") -> tuple[Path, ...]:
    """Write a job to fill in: room.yaml, brief.yaml, shop.yaml.

    Nothing is ever overwritten. The job cannot be planned before its blanks are filled in: reading it names them.

    Args:
        kind: the room's kind.
        folder: where to write; made when it does not exist.
        units: what the files use for bare numbers, and the sizes they start from.

    Returns:
        The files written.

    Raises:
        InvalidInputError: if one of the files is there already, or the folder's place is taken by a file.
    """
    pages = new_job_files(kind, units=units)
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


def new_job_files(kind: RoomKind, *, units: Units = "mm") -> dict[str, str]:
    """Return the text of a new job's files, by file name.

    Args:
        kind: the room's kind.
        units: the unit system of their sizes.
    """
    templates = {"room.yaml": f"room-{kind}.yaml", "brief.yaml": f"brief-{kind}.yaml", "shop.yaml": "shop.yaml"}
    folder = files("nookwright.files") / "templates"
    return {
        name: _EITHER.sub(lambda both: both[1 if units == "mm" else 2], (folder / template).read_text(encoding="utf-8"))
        for name, template in templates.items()
    }
