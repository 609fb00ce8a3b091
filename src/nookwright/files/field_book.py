"""The readings of room.yaml -> field book: every reading as typed, with its place."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import cast, get_args

from nookwright.basics.lengths import UnreadableTextError, quoted, read_angle
from nookwright.basics.problems import Where
from nookwright.files.fields import one_value_of
from nookwright.files.form import Form, kind_of
from nookwright.files.tree import Node, Table, Text, at
from nookwright.stages.inputs.survey import (
    BevelReading,
    GapReading,
    LevelReading,
    Line,
    PitchReading,
    PlumbReading,
    Reading,
    SurfaceName,
    TapeReading,
    Way,
)

_FROM_TO = re.compile(r"(\w+)\s*(?:-|–|\bto\b)\s*(\w+)")
_PLUMB = re.compile(r"(\w+)\s+(\w+)\s*(?:-|–|\bto\b)\s*(\w+)")
_BEVEL = re.compile(r"(\w+)\s*/\s*(\w+)\s+at\s+(\w+)")
_LINE = re.compile(r"(\w[\w ]*?)\s+(\w+)\s*(?:-|–|\bto\b|\s)\s*(\w+)")
_BESIDE = re.compile(r"(.*\S)\s+(\w+)")
_WAYS = get_args(Way)
_NOT_READ = "-"
_PLUMB_WALLS = ("back", "left", "right")


def read_readings(form: Form) -> tuple[Reading, ...]:
    """Return every reading, in the order typed within each tool.

    Args:
        form: the file's outermost keys.
    """
    readings = form.group_in("readings")
    if readings is None:
        return ()
    return (
        *_tape(readings),
        *_level(readings),
        *_plumb(readings),
        *_bevel(readings),
        *_slope(readings),
        *_gaps(readings),
    )


def _tape(form: Form) -> list[Reading]:
    found: list[Reading] = []
    for name, node, path in form.pairs_in("tape"):
        match = _named(form, _FROM_TO, name, path, "two spots, or a spot and a surface, such as `BL1 - BR1`")
        value = _value(form, "tape", f"tape {name.value}", node, path)
        if match:
            reading = TapeReading(start=match[1], end=match[2], length_mm=value.read, where=at(name.where, path))
            found.append(replace(reading, sd_mm=value.sd, use=value.use, typed=value.typed))
    return found


def _level(form: Form) -> list[Reading]:
    found: list[Reading] = []
    for name, node, path in form.pairs_in("level"):
        match = _named(form, re.compile(r"(\w+)"), name, path, "one spot, such as `BL0`")
        value = _value(form, "level", f"level {name.value}", node, path)
        if match:
            reading = LevelReading(spot=match[1], above_mm=value.read, where=at(name.where, path))
            found.append(replace(reading, sd_mm=value.sd, use=value.use, typed=value.typed))
    return found


def _plumb(form: Form) -> list[Reading]:
    found: list[Reading] = []
    for name, node, path in form.pairs_in("plumb"):
        match = _named(form, _PLUMB, name, path, "a wall and two spots on it, such as `left BL0 - BL3`")
        value = _value(form, "plumb", f"plumb {name.value}", node, path)
        if match:
            wall, where = _wall_name(form, match[1], at(name.where, path)), at(name.where, path)
            reading = PlumbReading(wall=wall, first=match[2], second=match[3], into_room_mm=value.read, where=where)
            found.append(replace(reading, sd_mm=value.sd, use=value.use, typed=value.typed))
    return found


def _bevel(form: Form) -> list[Reading]:
    found: list[Reading] = []
    for name, node, path in form.pairs_in("bevel"):
        match = _named(form, _BEVEL, name, path, "two walls and a level, such as `back/left at 1`")
        value = _value(form, "bevel", f"bevel {name.value}", node, path)
        if match:
            where = at(name.where, path)
            walls = (_wall_name(form, match[1], where), _wall_name(form, match[2], where))
            reading = BevelReading(walls=walls, level=match[3], angle_deg=value.read, where=where)
            found.append(replace(reading, sd_deg=value.sd, use=value.use, typed=value.typed))
    return found


def _slope(form: Form) -> list[Reading]:
    found: list[Reading] = []
    for name, node, path in form.pairs_in("slope"):
        match = _named(form, re.compile("pitch"), name, path, "the word `pitch`")
        value = _value(form, "slope", "pitch of the slope", node, path)
        if match:
            reading = PitchReading(pitch_deg=value.read, where=at(name.where, path))
            found.append(replace(reading, sd_deg=value.sd, use=value.use, typed=value.typed))
    return found


def _gaps(form: Form) -> list[Reading]:
    """Return the gaps under every laying of a straightedge; a second laying on the same line is another one."""
    found: list[Reading] = []
    laid: dict[Line, int] = {}
    for name, node, path in form.pairs_in("gaps"):
        expected = "a surface, a spot on it, and another spot or a way, such as `left BL1 up`"
        match = _named(form, _LINE, name, path, expected)
        if not isinstance(node, Table):
            wanted = "distances with gaps, such as `{every: 200, gaps: [0, 2, 1]}`"
            blank = f"Still to be measured: gaps {name.value}." if kind_of(node) == "nothing" else ""
            form.desk.note(at(node.where, path), kind_of(node), wanted, blank)
            continue
        inner = Form(node, "profile", form.desk, path)
        profile = _profile(inner, form, name.value)
        if match:
            line = _line(match, inner)
            laid[line] = laid.get(line, 0) + 1
            found += [replace(reading, line=line, set_up=laid[line]) for reading in profile]
    return found


def _line(match: re.Match[str], inner: Form) -> Line:
    """Return the line a straightedge lies on."""
    towards = match[3].lower() if match[3].lower() in _WAYS else match[3]
    line = Line(surface=match[1].lower(), start=match[2], towards=towards)
    if not inner.has("from"):
        return line
    typed = inner.text("from")
    beside = _BESIDE.fullmatch(typed)
    way = beside[2].lower() if beside else ""
    try:
        aside_mm = inner.length_in_units(beside[1]) if beside and way in _WAYS else 0.0
    except UnreadableTextError:
        aside_mm = 0.0
    if aside_mm <= 0 and typed:
        inner.note("from", quoted(typed), "how far beside the spot the edge begins, such as `400 right`")
    return replace(line, aside_mm=aside_mm, aside=cast("Way", way if way in _WAYS else "right"))


_NO_LINE = Line(surface="back", start="", towards="")


def _profile(inner: Form, form: Form, what: str) -> list[GapReading]:
    """Return one laying's gaps, not yet on their line."""
    nodes = inner.items("gaps")
    spread = _spread(inner, form.length_in_units) if inner.has("sd") else None
    use = inner.yes_no("use")
    distances = _distances(inner, len(nodes))
    found: list[GapReading] = []
    for number, node in enumerate(nodes, start=1):
        if isinstance(node, Text) and node.value == _NOT_READ:
            continue
        place, said = distances[number - 1] if number <= len(distances) else (0.0, "")
        path = f"{inner.path}.gaps[{number}]"
        value = _value(form, "gaps", f"gap {what} at {said}" if said else f"gap {what}", node, path)
        reading = GapReading(line=_NO_LINE, at_mm=place, gap_mm=value.read, at_typed=said, where=at(node.where, path))
        found.append(replace(reading, sd_mm=value.sd or spread, use=use and value.use, typed=value.typed))
    return found


def _distances(inner: Form, gaps: int) -> list[tuple[float, str]]:
    """Return how far along the line each gap was read, and how that was typed. [mm]"""
    unit = "mm" if inner.desk.units == "mm" else "in"
    if inner.has("every") == inner.has("at"):
        both = inner.has("every")
        inner.desk.note(
            inner.place("every"),
            "both `every` and `at`" if both else "no distances",
            "one of them: `every: 200`, or `at: [0, 250, 700]`" if both else "`every: 200`, or `at: [0, 250, 700]`",
        )
        return []
    if inner.has("every"):
        step = inner.length("every")
        shown = [step * i if unit == "mm" else step * i / 25.4 for i in range(gaps)]
        return [(step * i, f"{there:g} {unit}") for i, there in enumerate(shown)]
    places = inner.lengths("at")
    if gaps and len(places) != gaps:
        inner.note("at", f"{len(places)} distances for {gaps} gaps", "as many distances as gaps")
    typed = [node.value if isinstance(node, Text) else "" for node in inner.items("at")]
    said = [text if text.strip()[-1:].isalpha() else f"{text} {unit}" for text in typed]
    return list(zip(places, said, strict=False))


def _named(form: Form, shape: re.Pattern[str], name: Text, path: str, expected: str) -> re.Match[str] | None:
    """Take a reading's name apart; note a problem when it is none."""
    match = shape.fullmatch(name.value.strip())
    if match is None:
        form.desk.note(at(name.where, path), kind_of(name), expected)
    return match


def _wall_name(form: Form, typed: str, where: Where) -> SurfaceName:
    """Return the wall's name; note a problem when it is no wall."""
    if typed.lower() in _PLUMB_WALLS:
        return typed.lower()
    form.desk.note(where, quoted(typed), "the wall: back, left or right")
    return "back"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Value:
    """What was read, its own standard deviation when given, whether it counts, and the text. [mm or deg]"""

    read: float
    sd: float | None = None
    use: bool = True
    typed: str = ""


def _value(form: Form, key: str, what: str, node: Node, path: str) -> _Value:
    """Return what was read."""
    reader = read_angle if key in ("bevel", "slope") else form.length_in_units
    if isinstance(node, Table):
        inner = Form(node, "reading", form.desk, path)
        reads = inner.values.get("reads")
        spread = _spread(inner, reader) if inner.has("sd") else None
        use = inner.yes_no("use")
        if reads is None:
            expected = one_value_of(form.fields[key], form.desk.units)
            inner.note("reads", "nothing", expected, f"Still to be measured: {what}.")
            return _Value(read=1.0, sd=spread, use=use)
        return replace(_value(form, key, what, reads[1], path), sd=spread, use=use)
    place = at(node.where, path)
    if not isinstance(node, Text) or not node.value:
        hint = f"Still to be measured: {what}." if isinstance(node, Text) else ""
        form.desk.note(place, kind_of(node), one_value_of(form.fields[key], form.desk.units), hint)
        return _Value(read=1.0)
    return _Value(read=form.checked(key, node.value, reader, 1.0, place), typed=node.value)


def _spread(inner: Form, reader: Callable[[str], float]) -> float:
    """Return a reading's own standard deviation, which must be above 0. [mm or deg]"""
    spread = inner.read_as("sd", reader, 1.0)
    if spread <= 0:
        inner.note("sd", f"{spread:g}", "a standard deviation above 0")
    return spread
