"""The readings of room.yaml -> field book: every reading as typed, with its place."""

from __future__ import annotations

import re
from dataclasses import replace

from nookwright.files.edge_book import beside_of, read_gaps, read_offsets, surface_called
from nookwright.files.form import Form
from nookwright.files.reading_values import taken_apart, values_of
from nookwright.files.tree import Node, Text, at
from nookwright.stages.inputs.survey import (
    BevelReading,
    Covering,
    EdgeReading,
    LevelReading,
    PitchReading,
    PlumbReading,
    Reading,
    SpanReading,
    TapeReading,
)
from nookwright.stages.survey.tools import ROUGH_SD_MM

_TO = r"\s*(?:-|–|\bto\b)\s*"
_COVERED = r"(?:\s+(over skirting|to studs))?"
_FROM_TO = re.compile(rf"(\w+){_TO}(\w[\w ]*?){_COVERED}", re.IGNORECASE)
_ACROSS = re.compile(rf"(\w[\w ]*?){_TO}(\w[\w ]*?)\s+at\s+(\w+)(?:\s*,\s*(\S.*?))?{_COVERED}", re.IGNORECASE)
_PLUMB = re.compile(rf"(\w[\w ]*?)\s+(\w+){_TO}(\w+)")
_BEVEL = re.compile(r"(\w[\w ]*?)\s*/\s*(\w[\w ]*?)\s+at\s+(\w+)")
_OVER: dict[str, Covering | None] = {"": None, "over skirting": "skirting", "to studs": "studs"}
_EDGE = re.compile(r"(\w[\w ]*?)\s*/\s*(\w[\w ]*)")
_PITCH = re.compile(r"pitch(?:\s+(\w[\w ]*))?|(\w[\w ]*?)\s+pitch", re.IGNORECASE)
_SPOT = re.compile(r"(\w+)")


def read_readings(form: Form) -> tuple[Reading, ...]:
    """Return every reading, in the order typed.

    Args:
        form: the file's outermost keys.
    """
    readings = form.group_in("readings")
    if readings is None:
        return ()
    found: list[Reading] = [
        *_tape(readings),
        *_rough(readings),
        *_level(readings),
        *_plumb(readings),
        *_bevel(readings),
        *_slope(readings),
        *read_gaps(readings),
        *read_offsets(readings),
    ]
    return tuple(sorted(found, key=lambda reading: (reading.where.line, reading.where.column)))


def _tape(form: Form) -> list[Reading]:
    found: list[Reading] = []
    for name, node, path in form.pairs_in("tape"):
        across = _ACROSS.fullmatch(name.value.strip())
        if across:
            found += _span(form, across, name, node, path)
            continue
        match = taken_apart(form, _FROM_TO, name, path, "two spots, or a spot and a surface, such as `BL1 - BR1`")
        for value in values_of(form, "tape", f"tape {name.value}", node, path):
            if match:
                end, where = _surface_or_spot(match[2]), at(name.where, value.where.path)
                over = _OVER[(match[3] or "").lower()]
                reading = TapeReading(start=match[1], end=end, length_mm=value.read, over=over, where=where)
                found.append(replace(reading, sd_mm=value.sd, use=value.use, typed=value.typed))
    return found


def _span(form: Form, match: re.Match[str], name: Text, node: Node, path: str) -> list[Reading]:
    """Return a tape between two surfaces at a spot's height, or at a level: then at the origin's column."""
    start = f"BL{match[3]}" if match[3].isdigit() else match[3]
    aside_mm, aside, said = beside_of(form, match[4] or "", at(name.where, path))
    found: list[Reading] = []
    for value in values_of(form, "tape", f"tape {name.value}", node, path):
        where = at(name.where, value.where.path)
        reading = SpanReading(
            first=surface_called(match[1]),
            second=surface_called(match[2]),
            start=start,
            length_mm=value.read,
            aside_mm=aside_mm,
            aside=aside,
            aside_typed=said,
            over=_OVER[(match[5] or "").lower()],
            where=where,
        )
        found.append(replace(reading, sd_mm=value.sd, use=value.use, typed=value.typed))
    return found


def _rough(form: Form) -> list[Reading]:
    """Return distances told by eye; they are far less sure than taped ones."""
    found: list[Reading] = []
    for name, node, path in form.pairs_in("rough"):
        match = taken_apart(form, _FROM_TO, name, path, "two spots, or a spot and a surface, such as `FL0 - back`")
        for value in values_of(form, "rough", f"roughly {name.value}", node, path):
            if match:
                end, where = _surface_or_spot(match[2]), at(name.where, value.where.path)
                reading = TapeReading(start=match[1], end=end, length_mm=value.read, rough=True, where=where)
                sd_mm = value.sd or ROUGH_SD_MM
                found.append(replace(reading, sd_mm=sd_mm, use=value.use, typed=value.typed))
    return found


def _surface_or_spot(typed: str) -> str:
    """Return a surface's name in lower case, a spot's as typed: spots hold capitals and figures."""
    return typed if typed.isupper() or any(sign.isdigit() for sign in typed) else typed.lower()


def _wall(typed: str) -> str:
    """Return a wall's name in lower case; between two corners of a free plan, such as AB, as typed."""
    return typed if len(typed) == 2 and typed.isupper() else typed.lower()


def _level(form: Form) -> list[Reading]:
    found: list[Reading] = []
    for name, node, path in form.pairs_in("level"):
        match = taken_apart(form, _SPOT, name, path, "one spot, such as `BL0`")
        for value in values_of(form, "level", f"level {name.value}", node, path):
            if match:
                reading = LevelReading(spot=match[1], above_mm=value.read, where=at(name.where, value.where.path))
                found.append(replace(reading, sd_mm=value.sd, use=value.use, typed=value.typed))
    return found


def _plumb(form: Form) -> list[Reading]:
    found: list[Reading] = []
    for name, node, path in form.pairs_in("plumb"):
        match = taken_apart(form, _PLUMB, name, path, "a wall and two spots on it, such as `left BL0 - BL3`")
        for value in values_of(form, "plumb", f"plumb {name.value}", node, path):
            if match:
                wall, where = surface_called(match[1]), at(name.where, value.where.path)
                reading = PlumbReading(wall=wall, first=match[2], second=match[3], into_room_mm=value.read, where=where)
                found.append(replace(reading, sd_mm=value.sd, use=value.use, typed=value.typed))
    return found


def _bevel(form: Form) -> list[Reading]:
    found: list[Reading] = []
    for name, node, path in form.pairs_in("bevel"):
        edge = _EDGE.fullmatch(name.value.strip())
        if edge and not _BEVEL.fullmatch(name.value.strip()):
            found += _edge(form, edge, name, node, path)
            continue
        match = taken_apart(form, _BEVEL, name, path, "two walls and a level, such as `back/left at 1`")
        for value in values_of(form, "bevel", f"bevel {name.value}", node, path):
            if match:
                walls, where = (surface_called(match[1]), surface_called(match[2])), at(name.where, value.where.path)
                reading = BevelReading(walls=walls, level=match[3], angle_deg=value.read, where=where)
                found.append(replace(reading, sd_deg=value.sd, use=value.use, typed=value.typed))
    return found


def _edge(form: Form, match: re.Match[str], name: Text, node: Node, path: str) -> list[Reading]:
    """Return the angle between a wall and a slope, or two slopes."""
    found: list[Reading] = []
    for value in values_of(form, "bevel", f"bevel {name.value}", node, path):
        surfaces, where = (match[1].lower(), match[2].lower()), at(name.where, value.where.path)
        reading = EdgeReading(surfaces=surfaces, angle_deg=value.read, where=where)
        found.append(replace(reading, sd_deg=value.sd, use=value.use, typed=value.typed))
    return found


def _slope(form: Form) -> list[Reading]:
    found: list[Reading] = []
    for name, node, path in form.pairs_in("slope"):
        match = taken_apart(form, _PITCH, name, path, "the word `pitch`, or `left slope pitch` where there are two")
        what = name.value if name.value != "pitch" else "pitch of the slope"
        for value in values_of(form, "slope", what, node, path):
            if match:
                surface, where = (match[1] or match[2] or "slope").lower(), at(name.where, value.where.path)
                reading = PitchReading(pitch_deg=value.read, surface=surface, where=where)
                found.append(replace(reading, sd_deg=value.sd, use=value.use, typed=value.typed))
    return found
