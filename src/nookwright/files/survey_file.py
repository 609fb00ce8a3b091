"""room.yaml -> Survey: the field book as typed, every reading with its place."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import cast

from nookwright.basics.amounts import read_amount
from nookwright.basics.lengths import quoted, read_angle
from nookwright.basics.problems import Inspection
from nookwright.files.field_book import read_readings
from nookwright.files.form import Desk, Form, kind_of, plain_key
from nookwright.files.tree import Table, Text, at
from nookwright.stages.inputs.survey import (
    Answer,
    Outlet,
    SiteQuestion,
    Skirting,
    Survey,
    Tools,
    WallBuild,
)
from nookwright.stages.survey.tools import ANGLE_GRADES_DEG, LEVEL_GRADES_MM_PER_M

_ANSWER = re.compile(r"(none|found|unknown)\b[\s,;:-]*(.*)", re.IGNORECASE)


def read_survey(tree: Table, inspection: Inspection, blanks: list[Where] | None = None) -> Survey | None:
    """Return the survey.

    Args:
        tree: the file's tree.
        inspection: takes every problem.
        blanks: takes the place of every reading left blank, whose value then stands for nothing; None where a blank
            is a problem.

    Returns:
        The survey; None when anything in the file is wrong.
    """
    before = len(inspection.problems)
    desk = Desk(file="room", inspection=inspection, blanks=blanks)
    form = Form(tree, "room", desk)
    desk.units = form.choice("units")
    survey = Survey(
        kind=form.choice("kind"),
        corner=form.choice("corner"),
        heights_mm=_heights(form),
        readings=read_readings(form),
        tools=_tools(form.group_or_empty("tools")),
        wall=_wall(form.group_or_empty("wall")),
        skirting=_skirting(form.group_in("skirting")),
        outlets=tuple(_outlet(outlet) for outlet in form.forms("outlets")),
        questions=_questions(form),
        units=desk.units,
    )
    return survey if len(inspection.problems) == before else None


def _heights(form: Form) -> tuple[float, ...]:
    """Return the marked heights, which must rise."""
    problems_before = len(form.desk.inspection.problems)
    heights = form.lengths("heights")
    if len(form.desk.inspection.problems) > problems_before:
        return heights
    if any(high <= low for low, high in pairwise(heights)):
        form.note("heights", "heights out of order", "each height once, from the lowest up")
    return heights


def _tools(form: Form) -> Tools:
    return Tools(
        tape=form.choice("tape"),
        reading_mm=form.length("reading"),
        level_mm_per_m=form.read_as("level", _level_grade, 0.5),
        plumb_mm_per_m=form.read_as("plumb", _level_grade, 0.5) if form.has("plumb") else None,
        bevel_deg=form.read_as("bevel", _angle_grade, 0.2),
        gap_mm=form.length("gap"),
        waviness_mm=form.length("waviness"),
        waviness_fixed=form.yes_no("waviness fixed"),
    )


def _level_grade(typed: str) -> float:
    """Return how true a level is: by its kind, or as a number. [mm/m]"""
    return LEVEL_GRADES_MM_PER_M.get(typed.lower()) or read_amount(typed, unit="mm/m")


def _angle_grade(typed: str) -> float:
    """Return how closely an angle finder reads: by its kind, or as an angle. [deg]"""
    return ANGLE_GRADES_DEG.get(typed.lower()) or read_angle(typed)


def _wall(form: Form) -> WallBuild:
    return WallBuild(
        kind=form.choice("kind"),
        board_mm=form.length("board"),
        stud_width_mm=form.length("stud width"),
        stud_centres_mm=form.lengths("studs"),
        outside=form.yes_no("outside"),
    )


def _skirting(form: Form | None) -> Skirting | None:
    if form is None:
        return None
    return Skirting(height_mm=form.length("height"), thickness_mm=form.length("thickness"))


def _outlet(form: Form) -> Outlet:
    box, plate = form.pair("box"), form.pair("plate")
    return Outlet(
        name=form.text("name"),
        wall=form.choice("wall"),
        side=form.choice("from"),
        from_side_mm=form.length("distance"),
        above_floor_mm=form.length("above floor"),
        box_width_mm=box[0],
        box_height_mm=box[1],
        plate_width_mm=plate[0],
        plate_height_mm=plate[1],
        where=form.where,
    )


def _questions(form: Form) -> tuple[SiteQuestion, ...]:
    """Return the answers to the site questions; a blank one counts as a problem, `unknown` is an answer."""
    if not form.has("questions"):
        return ()
    node = form.values["questions"][1]
    if not isinstance(node, Table):
        form.note("questions", kind_of(node), "questions with their answers, such as `wiring: none`")
        return ()
    found: list[SiteQuestion] = []
    for key, value in node.pairs:
        name = plain_key(key.value).replace(" ", "-")  # as the site questions are keyed
        path = f"questions.{name}"
        match = _ANSWER.fullmatch(value.value) if isinstance(value, Text) else None
        if match is None:
            hint = "A note may follow found: `found, two cables`."
            form.desk.note(at(value.where, path), kind_of(value), "none, found or unknown", hint)
            continue
        answer = cast("Answer", match[1].lower())
        if any(question.key == name for question in found):
            form.desk.note(at(key.where, path), f"{quoted(key.value)} a second time", "it once")
        found.append(SiteQuestion(key=name, answer=answer, note=match[2]))
    return tuple(found)
<<<<<<< HEAD
=======


def _readings(form: Form) -> tuple[Reading, ...]:
    """Return every reading, in the order typed."""
    readings = form.group_in("readings")
    if readings is None:
        return ()
    found: list[Reading] = [
        *_tape(readings),
        *_level(readings),
        *_plumb(readings),
        *_bevel(readings),
        *_slope(readings),
    ]
    return tuple(sorted(found, key=lambda reading: (reading.where.line, reading.where.column)))


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
        if reads is None and form.desk.blanks is not None:
            form.desk.blanks.append(at(node.where, path))
            return _Value(read=1.0, sd=spread, use=use)
        if reads is None:
            expected = one_value_of(form.fields[key], form.desk.units)
            inner.note("reads", "nothing", expected, f"Still to be measured: {what}.")
            return _Value(read=1.0, sd=spread, use=use)
        return replace(_value(form, key, what, reads[1], path), sd=spread, use=use)
    place = at(node.where, path)
    if isinstance(node, Text) and not node.value and form.desk.blanks is not None:
        form.desk.blanks.append(place)
        return _Value(read=1.0)
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
>>>>>>> 37e0823 (Field sheet before any reading: marks, readings in walking order with boxes, forecast of what they will tell)
