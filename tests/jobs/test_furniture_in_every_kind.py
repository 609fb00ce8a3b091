"""Furniture in every kind of room: new jobs filled in from simulated rooms, planned, drawn, and held against the truth."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from filled_jobs import filled_job
from nookwright.basics.problems import InvalidInputError
from nookwright.drawings.book import book, issue_of
from nookwright.drawings.page import Text
from nookwright.drawings.page_check import faults
from nookwright.drawings.pages.cut_by_cut import cut_by_cut_pages
from nookwright.files.job_folder import read_job
from nookwright.jobs import plan_job, survey_job
from nookwright.plan import Plan
from nookwright.stages.parts.solids import interferences, outside_room, solid_of
from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.survey.asked import sheet_list
from simulated_rooms import simulated_room


@dataclass(frozen=True)
class Case:
    """A kind of room, a place in it, and what the brief says besides."""

    kind: str
    asked: tuple[tuple[str, str], ...]
    corner: str = "left"
    units: str = "mm"

    @property
    def name(self) -> str:
        """The case in a word or two."""
        return "-".join((self.kind, self.corner, self.units, *(value for _, value in self.asked))).replace(" ", "_")


CASES = (
    Case("twin-alcoves", (("place", "left alcove"),)),
    Case("twin-alcoves", (("place", "right alcove"),), units="inch"),
    Case("bay", ()),
    Case("corner-two-slopes", (("end", "1300 mm"),)),
    Case("corner-two-slopes", (("start", "300 mm"),), corner="right"),
    Case("free-plan", (("place", "wall AB"), ("end", "1500 mm"))),
    Case("free-plan", (("place", "wall BC"), ("end", "wall"))),
    Case("free-plan", (("place", "EF"), ("end", "wall"))),
    Case("free-plan", (("place", "wall DE"), ("end", "wall"))),
)


@pytest.fixture(scope="module", params=CASES, ids=lambda case: case.name)
def planned(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[Case, Plan]:
    """One case planned."""
    case = request.param
    folder = tmp_path_factory.mktemp("kinds") / case.name
    filled_job(case.kind, folder, corner=case.corner, units=case.units, **dict(case.asked))
    return case, plan_job(folder)


def test_boards_stand_together_and_inside_the_room(planned: tuple[Case, Plan]) -> None:
    """No two fill the same space, none reaches through a surface; every box goes in 99 times in 100."""
    _, plan = planned
    assert interferences(plan.parts) == ()
    assert outside_room(plan.parts, plan.room, 0.6) == ()
    assert all(fit.chance >= 0.99 for fit in plan.design.fits)


def test_boxes_stand_inside_the_room_as_it_truly_is(planned: tuple[Case, Plan]) -> None:
    """The simulator's own surfaces are not reached by a corner of a box: the frame was laid where the plan says.

    Its coordinates are got from the spots, which both know.
    """
    case, plan = planned
    true = simulated_room(
        case.kind, 1, corner=case.corner, heights_mm=tuple(sheet_list(case.kind, case.corner).heights_mm)
    )
    named = [spot for spot in plan.room.spots if spot.name != plan.room.origin]
    ours, theirs = (np.array(list(each)) for each in ((s.xyz for s in named), (true.spot(s.name) for s in named)))
    middle, there = ours.mean(axis=0), theirs.mean(axis=0)
    u, _, vt = np.linalg.svd((ours - middle).T @ (theirs - there))
    turn = vt.T @ np.diag([1.0, 1.0, np.linalg.det(vt.T @ u.T)]) @ u.T
    boxes = {box.name for box in plan.design.boxes}
    parts = [part for part in plan.parts.parts if part.module in boxes and part.role not in {"trim strip", "door"}]
    corners = np.array([corner for part in parts for corner in np.array(solid_of(part).bounds)])
    placed = (corners - middle) @ turn.T + there
    roles = dict(plan.room.place.roles) if plan.room.place else {}
    for surface in (*roles.values(), "floor"):
        plane = true.surfaces[surface]
        outward = placed @ plane.normal - plane.offset - plane.bump(placed)
        inside = outward if float(np.median(outward)) > 0 else -outward
        assert inside.min() > -4.0, surface  # twice what a spot in a corner is known to


def test_every_page_of_the_book_can_be_read(planned: tuple[Case, Plan]) -> None:
    """No words overlap, none is crossed or too small, nothing reaches into the margins."""
    _, plan = planned
    assert [f"{page.name}: {fault}" for page in book(plan) for fault in faults(page)] == []


def test_every_picture_of_the_cuts_can_be_read(planned: tuple[Case, Plan]) -> None:
    """Those of its sheets and those of its boards."""
    _, plan = planned
    pages = cut_by_cut_pages(plan, issue_of(plan.brief))
    told = {word.text for page in pages for word in page.items if isinstance(word, Text)}
    assert ("Step 1" in told) == bool(plan.cutting.boards)
    assert [f"{page.name}: {fault}" for page in pages for fault in faults(page)] == []


def test_the_same_room_is_found_however_it_is_laid_out(planned: tuple[Case, Plan]) -> None:
    """Corner angles and lengths hardly depend on the wall that x runs along: only what is vaguely believed does."""
    _, plan = planned
    whole = {one.name: one for one in reconcile(plan.survey).derived}
    told = ("corner", "length", "nose")
    same = [one for one in plan.room.derived if one.name in whole and any(word in one.name for word in told)]
    assert same
    for one in same:
        there = whole[one.name].measured
        assert abs(one.measured.value - there.value) <= 0.5 * there.sd + 0.02, one.name
        assert one.measured.sd == pytest.approx(there.sd, rel=0.15, abs=0.02), one.name


def refusal(folder: Path) -> str:
    """Return what a job is refused with."""
    with pytest.raises(InvalidInputError) as caught:
        plan_job(folder)
    return str(caught.value)


def test_a_place_that_is_not_there_is_refused_with_those_that_are(tmp_path: Path) -> None:
    """In one sentence, with the line."""
    folder = filled_job("twin-alcoves", tmp_path, place="chimney")
    line = 1 + (folder / "brief.yaml").read_text(encoding="utf-8").splitlines().index(
        next(one for one in (folder / "brief.yaml").read_text(encoding="utf-8").splitlines() if one.startswith("place"))
    )
    assert refusal(folder) == f'brief.yaml:{line}:8 place: found "chimney"; expected one of left alcove, right alcove.'


def test_a_room_of_several_places_asks_for_one(tmp_path: Path) -> None:
    """No place is guessed."""
    folder = filled_job("twin-alcoves", tmp_path)
    brief = folder / "brief.yaml"
    text = brief.read_text(encoding="utf-8")
    brief.write_text("\n".join(line for line in text.splitlines() if not line.startswith("place")), encoding="utf-8")
    said = refusal(folder)
    assert "found no place in a chimney breast with two alcoves; expected one of left alcove, right alcove." in said


def test_a_wall_whose_neighbour_is_nearly_in_line_holds_no_boxes(tmp_path: Path) -> None:
    """150 degrees between two walls: no box stands between them."""
    folder = filled_job("free-plan", tmp_path, end="1500 mm")
    room = folder / "room.yaml"
    text = room.read_text(encoding="utf-8").replace(
        "{A: 90, B: 90, C: 90, D: 270, E: 90, F: 90}", "{A: 90, B: 150, C: 90, D: 210, E: 90, F: 90}"
    )
    assert text != room.read_text(encoding="utf-8")
    room.write_text(text, encoding="utf-8")
    said = refusal(folder)
    assert "expected one of wall CD, wall DE, wall EF, wall FA" in said
    assert "Wall BC stands at 150 degrees to it, and furniture needs 45 to 135." in said


def test_problems_of_the_place_and_of_the_readings_are_told_together(tmp_path: Path) -> None:
    """Nobody mends one file to learn of the other."""
    folder = filled_job("twin-alcoves", tmp_path, place="chimney")
    room = folder / "room.yaml"
    room.write_text(room.read_text(encoding="utf-8").replace("- BL0:", "- XL0:", 1), encoding="utf-8")
    said = refusal(folder)
    assert "chimney" in said
    assert "XL0" in said


def test_outlets_of_the_place_come_through_and_others_do_not(tmp_path: Path) -> None:
    """The socket on the alcove's own back wall has its hole; that of the other alcove does not trouble it."""
    folder = filled_job("twin-alcoves", tmp_path, place="right alcove")
    room = folder / "room.yaml"
    outlets = "outlets:\n"
    for name, wall in (("here", "right back"), ("there", "left back")):
        outlets += f"  - {{name: {name}, wall: {wall}, from: left, distance: 300, above floor: 400, box: 74 x 74, plate: 86 x 86}}\n"
    room.write_text(room.read_text(encoding="utf-8") + outlets, encoding="utf-8")
    plan = plan_job(folder)
    assert [hole.outlet for hole in plan.installing.holes] == ["here"]
    assert [outlet.name for outlet in read_job(folder).survey.outlets] == ["here", "there"]


@pytest.mark.parametrize(("place", "columns"), [("left alcove", "BL CL NL FL"), ("right alcove", "CR NR BR FR")])
def test_one_alcove_can_be_measured_and_furnished_alone(place: str, columns: str, tmp_path: Path) -> None:
    """Nothing of the breast's other side is asked for, by the plan or by the survey."""
    folder = filled_job("twin-alcoves", tmp_path, place=place)
    room = folder / "room.yaml"
    lines = []
    for line in room.read_text(encoding="utf-8").splitlines():
        named = re.findall(r"\b([BCNF][LR])\d\b", line) if line.startswith("    - ") else []
        if set(named) <= set(columns.split()):
            lines.append(line)
    room.write_text("\n".join(lines) + "\n", encoding="utf-8")
    alone = plan_job(folder)
    surveyed = survey_job(folder)
    assert {spot.name[:2] for spot in alone.room.spots} <= set(columns.split())
    assert alone.room.datum == alone.room.origin == f"{columns[:2]}0"
    whole = plan_job(filled_job("twin-alcoves", tmp_path / "whole", place=place))
    pairs = zip(alone.design.boxes, whole.design.boxes, strict=True)
    assert all(abs((a.x1_mm - a.x0_mm) - (b.x1_mm - b.x0_mm)) < 25.0 for a, b in pairs)
    assert surveyed.next_readings
