"""New jobs filled in as by someone who measured a simulated room, down to the prices."""

from __future__ import annotations

import re
from pathlib import Path

from nookwright.basics.lengths import Units
from nookwright.files.new_job import new_job
from nookwright.stages.inputs.survey import LevelReading, PlumbReading, RoomKind, Side, TapeReading
from nookwright.stages.survey.asked import sheet_list
from simulated_rooms import Person, simulated_room

INCH_MM = 25.4


def filled_job(
    kind: RoomKind, folder: Path, *, seed: int = 1, units: Units = "mm", corner: Side = "left", **asked: str
) -> Path:
    """Write a new job into a folder and fill in every blank.

    Args:
        kind: the room's kind.
        folder: where to.
        seed: of the room.
        units: of the files.
        corner: the hand of the room.
        asked: keys of the brief with other values, for example `place`.
    """
    new_job(kind, folder, units=units, corner=corner)
    heights = tuple(sheet_list(kind, corner).heights_mm)
    person = Person(simulated_room(kind, seed, corner=corner, heights_mm=heights), inches=units == "inch")
    room = (folder / "room.yaml").read_text(encoding="utf-8")
    for one in sheet_list(kind, corner).readings:
        reading = person.take((one.tool, *one.of), 0)
        assert isinstance(reading, TapeReading | LevelReading | PlumbReading)
        value = {
            TapeReading: lambda r: r.length_mm,
            LevelReading: lambda r: r.above_mm,
            PlumbReading: lambda r: r.into_room_mm,
        }[type(reading)](reading)
        room, count = re.subn(
            rf"^(    - {re.escape(one.text)}:)(?= *#)", rf"\1 {value:.1f} mm", room, count=1, flags=re.MULTILINE
        )
        assert count == 1, one.text
    room = re.sub(r": unknown$", ": none", room, flags=re.MULTILINE)
    (folder / "room.yaml").write_text(room, encoding="utf-8")
    brief = (folder / "brief.yaml").read_text(encoding="utf-8")
    for key, value in {"title": "A job", **asked}.items():
        brief = re.sub(rf"^{key}:[^#\n]*", f"{key}: {value} ", brief, count=1, flags=re.MULTILINE)
    (folder / "brief.yaml").write_text(brief, encoding="utf-8")
    shop = (folder / "shop.yaml").read_text(encoding="utf-8")
    shop = re.sub(r"price: *(?=[,}])", "price: 10.00", shop)
    shop = re.sub(r"(\d{2,4}): *(?=[,}])", r"\1: 5.00", shop)
    (folder / "shop.yaml").write_text(shop, encoding="utf-8")
    return folder
