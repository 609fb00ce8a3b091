"""The field sheet: it passes the page check for every kind, unit and side, and asks every reading exactly once."""

from __future__ import annotations

import io
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pypdf
import pytest

from nookwright.basics.lengths import Marks, Units
from nookwright.drawings.export.pdf import pdf
from nookwright.drawings.page import Page, Text
from nookwright.drawings.page_check import faults
from nookwright.drawings.pages.field_sheet import field_sheet
from nookwright.drawings.sheet import Issue
from nookwright.files.job_folder import read_room
from nookwright.files.new_job import new_job, new_job_files
from nookwright.stages.checks.question_table import question_keys
from nookwright.stages.inputs.survey import Side, Survey
from nookwright.stages.room.forecast import forecast
from nookwright.stages.survey import field_lists
from nookwright.stages.survey.asked import asked, blank_survey, sheet_list
from nookwright.stages.survey.kind_table import SHAPES
from nookwright.stages.survey.kinds import shape_of

KINDS = tuple(kind for kind in SHAPES if kind in field_lists._LISTS)
"""Every kind that has a field list."""


def issue(units: str) -> Issue:
    """Return the title strip's facts."""
    marks = Marks(units="mm", resolution=0.5) if units == "mm" else Marks(units="inch", resolution=1 / 16)
    paper = "A4" if units == "mm" else "Letter"
    return Issue(job="Shelves beside the chimney", date="", revision="A", marks=marks, paper=paper)  # type: ignore[arg-type]


def book(kind: str, units: str, corner: Side) -> Survey:
    """Return a blank field book in either unit."""
    survey = blank_survey(kind, corner)
    if units == "mm":
        return survey
    return replace(survey, units="inch", heights_mm=tuple(25.4 * h for h in sheet_list(kind, corner).heights_in))


def sheets(kind: str, units: str, corner: Side = "left") -> tuple[Page, ...]:
    """Return a kind's field sheet."""
    survey = book(kind, units, corner)
    return field_sheet(survey, forecast(survey), issue(units))


def words(pages: tuple[Page, ...]) -> list[str]:
    """Return everything printed."""
    return [item.text for page in pages for item in page.items if isinstance(item, Text)]


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("units", ["mm", "inch"])
@pytest.mark.parametrize("corner", ["left", "right"])
def test_two_sheets_that_can_be_read_everywhere(kind: str, units: str, corner: Side) -> None:
    """Nothing overlaps, nothing is too small, nothing reaches into the margin."""
    pages = sheets(kind, units, corner)
    assert len(pages) == 3
    assert [fault for page in pages for fault in faults(page)] == []


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("units", ["mm", "inch"])
def test_the_furniture_of_a_brief_changes_nothing_of_that(kind: str, units: Units, tmp_path: Path) -> None:
    """Shallow furniture brings columns together, and what it needs is told besides."""
    new_job(kind, tmp_path, units=units)
    job = read_room(tmp_path, blanks=True)
    found = forecast(job.survey, job.brief)
    pages = field_sheet(job.survey, found, issue(units))
    assert len(pages) == 3
    assert [fault for page in pages for fault in faults(page)] == []
    assert ("for the furniture: " in " ".join(words(pages))) == bool(found.furniture)
    assert found.furniture


@pytest.mark.parametrize("kind", KINDS)
def test_corners_to_be_read_in_doubt_stand_apart_from_the_readings(kind: str) -> None:
    """Each with a box in degrees, only where the list has any, and every one a corner of the room."""
    corners = field_lists.field_list(kind).in_doubt  # type: ignore[arg-type]
    assert (kind == "twin-alcoves") == bool(corners)
    assert set(corners) <= {corner.column for corner in SHAPES[kind].corners}  # type: ignore[index]
    said = words(sheets(kind, "mm"))
    assert said.count("deg") >= len(corners)
    assert ("read these bevels at level 1" in " ".join(said)) == bool(corners)


@pytest.mark.parametrize("kind", KINDS)
def test_walls_that_lean_unread_have_boxes_for_tall_furniture(kind: str, tmp_path: Path) -> None:
    """Taken too, as the room file offers them, they settle the wall behind the furniture."""
    more = field_lists.field_list(kind).if_tall  # type: ignore[arg-type]
    assert (kind == "twin-alcoves") == bool(more)
    said = words(sheets(kind, "mm"))
    assert all(f"{one.of[0]} {one.of[1]} – {one.of[2]}" in said for one in more)
    new_job(kind, tmp_path, units="mm", corner="left")  # type: ignore[arg-type]
    before = behind_furniture(tmp_path)
    room = (tmp_path / "room.yaml").read_text(encoding="utf-8")
    for one in more:
        assert f"#    - {one.text}:" in room
        room = room.replace(f"#    - {one.text}:", f"    - {one.text}: ")
    (tmp_path / "room.yaml").write_text(room, encoding="utf-8")
    after = behind_furniture(tmp_path)
    assert after < 12.0
    assert after == before or after < before / 5


def behind_furniture(folder: Path) -> float:
    """Return how surely the wall behind a new job's furniture will be known. [mm]"""
    job = read_room(folder, blanks=True)
    found = forecast(job.survey, job.brief)
    return next(2 * one.sd for one in found.furniture if one.what.startswith("the back wall"))


@pytest.mark.parametrize("kind", KINDS)
def test_the_pdf_asks_every_reading_once_under_its_number(kind: str) -> None:
    """As often as the list names it; numbers run from 1."""
    survey = book(kind, "mm", "left")
    pages = sheets(kind, "mm")
    wanted = Counter(" – ".join(line.of[-2:]) for line in map(asked, survey.readings))
    said = Counter(text for text in words(pages) if text in wanted)
    assert said == wanted
    numbers = [text for text in words(pages[1:]) if text.isdigit()]
    assert Counter(numbers)["1"] >= 1
    assert {str(number) for number in range(1, len(survey.readings) + 1)} <= set(numbers)
    document = pypdf.PdfReader(io.BytesIO(pdf(pages, title="field sheet")))
    text = " ".join(page.extract_text() for page in document.pages)
    assert all(spots in text for spots in wanted)


@pytest.mark.parametrize("kind", KINDS)
def test_the_sheet_and_the_room_file_have_the_same_order(kind: str) -> None:
    """So that a filled sheet is typed from top to bottom."""
    survey = book(kind, "mm", "left")
    text = new_job_files(kind)["room.yaml"]
    places = [text.index(f"- {asked(one).text}:") for one in survey.readings if asked(one).text.count(" ") < 9]
    first = {
        spot: place
        for place, spot in sorted(
            ((p, asked(o).text) for p, o in zip(places, survey.readings, strict=True)), reverse=True
        )
    }
    assert list(first.values()) == sorted(first.values(), reverse=True)


@pytest.mark.parametrize("kind", KINDS)
def test_what_hardly_anything_checks_has_a_second_box(kind: str) -> None:
    """One `again` for each such level or tape; a plumb line says so in its words."""
    survey = book(kind, "mm", "left")
    twice = forecast(survey).twice
    plumbs = sum(again and asked(one).tool == "plumb" for one, again in zip(survey.readings, twice, strict=True))
    said = words(sheets(kind, "mm"))
    assert said.count("again") == sum(twice) - plumbs
    assert sum(text.endswith(", twice") for text in said) == plumbs


def test_the_site_questions_are_all_there_with_the_caution() -> None:
    """Each with none, found and unknown to ring."""
    said = words(sheets("alcove", "mm"))
    for key in question_keys():
        assert key.replace("-", " ") in said
    assert said.count("N F ?") == len(question_keys())
    assert any("tested before sanding" in text for text in said)


def test_floor_readings_carry_their_minus_and_the_rest_a_plus() -> None:
    """The sign nobody need remember: the level line passes over the floor and under the ceiling."""
    said = words(sheets("alcove", "mm")[1:])
    assert said.count("+") == 3
    assert said.count("\u2212") == 4 + 4


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("units", ["mm", "inch"])
def test_the_last_page_has_boxes_for_edges_spans_and_offsets(kind: str, units: Units) -> None:
    """With the room's own names, the unit in each box, and the sign rule in words beside them."""
    page = field_sheet(book(kind, units, "left"), forecast(book(kind, units, "left")), issue(units))[-1]
    said = [item.text for item in page.items if isinstance(item, Text)]
    assert said.count("gaps") == 3
    assert {str(step) for step in range(11)} <= set(said)
    assert said.count("reads") == 4
    assert said.count("spot") == 4 + 2 * 4
    strip = units == "mm"  # the title strip says it once more
    assert said.count("in" if units == "inch" else "mm") == 3 * 2 + 4 * 2 + 2 * 4 + strip
    words = " ".join(said)
    assert words.count("never below 0") == 2
    assert all(surface in words for surface in shape_of(kind, "left").surfaces)
    assert faults(page) == ()
