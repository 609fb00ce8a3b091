"""room.yaml -> Survey: the field book as typed, every reading with its place."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import cast

from nookwright.basics.amounts import read_amount
from nookwright.basics.lengths import Marks, UnreadableTextError, quoted, read_angle, show
from nookwright.basics.problems import Inspection, Problem, Where
from nookwright.files.edge_book import surface_called
from nookwright.files.field_book import read_readings
from nookwright.files.form import Desk, Form, kind_of, plain_key
from nookwright.files.recording_keys import read_photos, read_scans
from nookwright.files.stud_book import read_studs
from nookwright.files.tree import Table, Text, at
from nookwright.stages.checks.question_table import JOISTS, figure_names
from nookwright.stages.inputs.survey import (
    Answer,
    Outlet,
    PlanCorner,
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
    scans, scales = read_scans(form)
    survey = Survey(
        kind=form.choice("kind"),
        corner=form.choice("corner"),
        heights_mm=_heights(form),
        readings=(*read_readings(form), *scales),
        tools=_tools(form.group_or_empty("tools")),
        wall=_wall(form.group_or_empty("wall")),
        skirting=_skirting(form.group_in("skirting")),
        outlets=tuple(_outlet(outlet) for outlet in form.forms("outlets")),
        questions=_questions(form),
        plan=_plan(form),
        scans=scans,
        photos=read_photos(form),
        units=desk.units,
    )
    if len(inspection.problems) == before:
        return survey
    inspection.problems.extend(_misnamed(survey, form))
    return None


def _misnamed(survey: Survey, form: Form) -> tuple[Problem, ...]:
    """Return what is wrong with names of spots and walls, for a file that is wrong in other ways."""
    hang = ("kind", "corner", "corners", "heights")
    spoilt = {problem.where.path.partition("[")[0] for problem in form.desk.inspection.problems}
    if spoilt.intersection(hang) or (not survey.heights_mm and form.has("heights")):
        return ()  # every name hangs on those
    from nookwright.files.misnamed import misnamed  # noqa: PLC0415  a good file needs no numbers library

    told = {problem.where.line for problem in form.desk.inspection.problems}
    return tuple(problem for problem in misnamed(survey) if problem.where.line not in told)


def _plan(form: Form) -> tuple[PlanCorner, ...]:
    """Return the corners of a free plan, in the order typed."""
    if not form.has("corners"):
        return ()
    node = form.values["corners"][1]
    if not isinstance(node, Table):
        form.note("corners", kind_of(node), "corners with their rough angles, such as `{A: 90, B: 90, C: 135}`")
        return ()
    found = []
    for key, value in node.pairs:
        where = at(value.where, f"corners.{key.value}")
        angle = form.checked("corners", value.value, read_angle, 90.0, where) if isinstance(value, Text) else None
        if angle is None:
            form.desk.note(where, kind_of(value), "an angle such as 90")
        found.append(PlanCorner(name=key.value, angle_deg=angle or 90.0))
    return tuple(found)


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


_STUDS_TOUCH_MM = 5.0
"""Two studs side by side may be read this much nearer than they are wide. Our choice. [mm]"""


def _wall(form: Form) -> WallBuild:
    if form.has("studs") and form.has("stud edges"):
        form.note("stud edges", "both `studs` and `stud edges`", "one of them")
    centres, wide = form.lengths("studs"), form.length("stud width")
    for left, right in pairwise(sorted(centres)):
        if right - left < wide - _STUDS_TOUCH_MM:
            marks = Marks(units=form.desk.units, resolution=0.5 if form.desk.units == "mm" else 1 / 16)
            found = f"stud centres {show(left, marks)} and {show(right, marks)}"
            form.note("studs", found, f"centres at least a stud's width of {show(wide, marks, with_unit=True)} apart")
    return WallBuild(
        kind=form.choice("kind"),
        board_mm=form.length("board"),
        board_sd_mm=form.length("board sd") if form.has("board") or form.has("board sd") else None,
        stud_width_mm=wide,
        stud_centres_mm=centres,
        stud_readings=read_studs(form),
        stud_spacing_mm=form.length("spacing") if form.has("spacing") else None,
        outside=form.yes_no("outside"),
    )


def _skirting(form: Form | None) -> Skirting | None:
    if form is None:
        return None
    return Skirting(
        height_mm=form.length("height"),
        thickness_mm=form.length("thickness"),
        thickness_sd_mm=form.length("thickness sd"),
    )


def _outlet(form: Form) -> Outlet:
    box, plate = form.pair("box"), form.pair("plate")
    return Outlet(
        name=form.text("name"),
        wall=surface_called(form.text("wall")),
        side=form.choice("from"),
        from_side_mm=form.length("distance"),
        above_floor_mm=form.length("above floor"),
        box_width_mm=box[0],
        box_height_mm=box[1],
        plate_width_mm=plate[0],
        plate_height_mm=plate[1],
        from_other_side_mm=form.length("other distance") if form.has("other distance") else None,
        mark=form.count("mark") if form.has("mark") else None,
        above_mark_mm=form.length("above mark") if form.has("above mark") else 0.0,
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
        figures, note = _figures(form, name, match[2], at(value.where, path))
        found.append(SiteQuestion(key=name, answer=answer, note=note, figures=figures))
    return tuple(found)


_WITHOUT_UNIT = ("surface", "room", "humidity")
"""Figures in C and %, which are no lengths."""

_LEAST_SPACING_MM = 100.0


def _figures(form: Form, key: str, told: str, where: Where) -> tuple[tuple[tuple[str, float], ...], str]:
    """Return the figures among an answer's pieces, such as `distance 610`, and what is left of it as a note."""
    figures: list[tuple[str, float]] = []
    notes: list[str] = []
    for piece in (each.strip() for each in told.split(",")):
        name, _, amount = piece.partition(" ")
        if name.lower() not in figure_names(key) or not amount:
            notes.append(piece)
            continue
        try:
            value = float(amount) if name.lower() in _WITHOUT_UNIT else form.length_in_units(amount)
        except (UnreadableTextError, ValueError):
            expected = "a number" if name.lower() in _WITHOUT_UNIT else "a length"
            form.desk.note(where, quoted(piece), f"{expected} after `{name.lower()}`")
            continue
        if name.lower() in JOISTS and value < _LEAST_SPACING_MM:
            form.desk.note(where, quoted(piece), f"the joists' spacing after `{name.lower()}`, 100 mm (4 in) or more")
            continue
        figures.append((name.lower(), value))
    return tuple(figures), ", ".join(note for note in notes if note)
