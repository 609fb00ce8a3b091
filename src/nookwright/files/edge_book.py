"""What room.yaml tells of straightedges and plumb planes: gaps and offsets, one set-up after another."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import cast, get_args

from nookwright.basics.lengths import UnreadableTextError, quoted
from nookwright.basics.problems import Where
from nookwright.files.form import Form, kind_of, plain_key
from nookwright.files.reading_values import spread_of, taken_apart, value_of, values_of
from nookwright.files.tree import Table, Text, at
from nookwright.stages.inputs.survey import GapReading, Line, OffsetReading, Reading, Way

_LINE = re.compile(r"(\w[\w ]*?)\s+(\w+)\s*(?:-|–|\bto\b|\s)\s*(\w+)")
_LINE_LIKE = "a surface, a spot on it, and another spot or a way, such as `left BL1 up`"
_BESIDE = re.compile(r"(.*\S)\s+(\w+)")
_WALL = re.compile(r"\w[\w ]*")
_WAYS = get_args(Way)
_NOT_READ = "-"


def read_gaps(form: Form) -> list[Reading]:
    """Return the gaps under every laying of a straightedge; a second laying on the same line is another one.

    Args:
        form: the form of all readings.
    """
    found: list[Reading] = []
    laid: dict[Line, int] = {}
    for name, node, path in form.pairs_in("gaps"):
        match = taken_apart(form, _LINE, name, path, _LINE_LIKE)
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


def read_line(form: Form, key: str) -> Line:
    """Return a line on a surface, typed as one text; an empty one after noting a problem.

    Args:
        form: holds the line and, when it begins beside a spot, `from`.
        key: the key of the line.
    """
    typed = form.text(key)
    match = _LINE.fullmatch(typed.strip())
    if match is None and typed:
        form.note(key, quoted(typed), _LINE_LIKE)
    return _line(match, form) if match else _NO_LINE


def _line(match: re.Match[str], inner: Form) -> Line:
    """Return the line a straightedge lies on."""
    towards = match[3].lower() if match[3].lower() in _WAYS else match[3]
    line = Line(surface=surface_called(match[1]), start=match[2], towards=towards)
    if not inner.has("from"):
        return line
    aside_mm, aside, said = beside_of(inner, inner.text("from"), inner.place("from"))
    return replace(line, aside_mm=aside_mm, aside=aside, aside_typed=said)


def beside_of(form: Form, typed: str, where: Where) -> tuple[float, Way, str]:
    """Return how far beside a spot [mm], which way, and that distance as typed, with its unit.

    Args:
        form: any form of the file.
        typed: for example `400 right`; nothing has been noted of it yet unless it is blank.
        where: where it stands.
    """
    beside = _BESIDE.fullmatch(typed)
    way = beside[2].lower() if beside else ""
    try:
        aside_mm = form.length_in_units(beside[1]) if beside and way in _WAYS else 0.0
    except UnreadableTextError:
        aside_mm = 0.0
    if aside_mm <= 0 and typed:
        form.desk.note(where, quoted(typed), "how far beside the spot, and which way, such as `400 right`")
    return aside_mm, cast("Way", way if way in _WAYS else "right"), _with_unit(beside[1], form) if beside else ""


def _with_unit(typed: str, form: Form) -> str:
    """Return a length as typed, with its unit."""
    unit = "mm" if form.desk.units == "mm" else "in"
    return f"{typed} {unit}" if typed.strip()[-1:].isdigit() else typed


def surface_called(typed: str) -> str:
    """Return a surface's name as the kinds of room write it: `left cheek`, and `AB` in a free plan."""
    words = " ".join(typed.split())
    return words if len(words) == 2 and words.isupper() else words.lower()


_NO_LINE = Line(surface="back", start="", towards="")


def _profile(inner: Form, form: Form, what: str) -> list[GapReading]:
    """Return one laying's gaps, not yet on their line."""
    nodes = inner.items("gaps")
    spread = spread_of(inner, form.length_in_units) if inner.has("sd") else None
    use = inner.yes_no("use")
    distances = _distances(inner, len(nodes))
    found: list[GapReading] = []
    for number, node in enumerate(nodes, start=1):
        if isinstance(node, Text) and node.value == _NOT_READ:
            continue
        place, said = distances[number - 1] if number <= len(distances) else (0.0, "")
        path = f"{inner.path}.gaps[{number}]"
        value = value_of(form, "gaps", f"gap {what} at {said}" if said else f"gap {what}", node, path)
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


def read_offsets(form: Form) -> list[Reading]:
    """Return the offsets of spots from every plumb line or laser plane; a wall named again is another set-up.

    Args:
        form: the form of all readings.
    """
    found: list[Reading] = []
    set_ups: dict[str, int] = {}
    for name, node, path in form.pairs_in("offsets"):
        match = taken_apart(form, _WALL, name, path, "a wall, such as `left`")
        if not isinstance(node, Table):
            blank = f"Still to be measured: offsets {name.value}." if kind_of(node) == "nothing" else ""
            form.desk.note(
                at(node.where, path), kind_of(node), "spots with offsets, such as `{BL1: 62, BL3: 58}`", blank
            )
            continue
        told = Table(pairs=tuple(pair for pair in node.pairs if _about_all(pair[0])), where=node.where)
        inner = Form(told, "reading", form.desk, path)
        spread = spread_of(inner, form.length_in_units) if inner.has("sd") else None
        use = inner.yes_no("use")
        wall = surface_called(match[0]) if match else ""
        set_ups[wall] = set_ups.get(wall, 0) + 1
        for spot, value_node in (pair for pair in node.pairs if not _about_all(pair[0])):
            what, place = f"offset {name.value} {spot.value}", f"{path}.{spot.value}"
            for value in values_of(form, "offsets", what, value_node, place):
                reading = OffsetReading(wall=wall, spot=spot.value, offset_mm=value.read, where=at(spot.where, place))
                sd, use_it = value.sd or spread, use and value.use
                found.append(replace(reading, set_up=set_ups[wall], sd_mm=sd, use=use_it, typed=value.typed))
    return found


def _about_all(key: Text) -> bool:
    """Return whether a key tells something of the whole set-up, and is no spot."""
    return plain_key(key.value) in ("sd", "use", "reads")
