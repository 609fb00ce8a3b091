"""The whole chain from room to order of work, with rooms and briefs that nobody thought over.

A room that cannot hold a brief is refused properly. Whatever is drawn stands on what holds it; should two boards
clash or one reach through a surface all the same, the findings say so.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import pytest
from hypothesis import HealthCheck, assume, given, settings

from nookwright.basics.problems import InvalidInputError
from nookwright.stages.checks.assembly import check_assembly
from nookwright.stages.cutting.lay_out import lay_out
from nookwright.stages.design.design import Box, Design, Shelf, Upright
from nookwright.stages.design.fit import fit
from nookwright.stages.design.rails import ceiling_at
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.installing.install_plan import PLATFORM, InstallPlan
from nookwright.stages.installing.set_out import set_out
from nookwright.stages.parts.box_parts import LOOSE_MM
from nookwright.stages.parts.break_down import break_down
from nookwright.stages.parts.part import Part, PartList
from nookwright.stages.parts.solids import solid_of
from planar_rooms import PlanarRoom, a_shop
from strategies import briefs, hard_briefs, hard_rooms, mm, rooms

SLOW = list(HealthCheck)
MANY = settings(max_examples=80, derandomize=True, suppress_health_check=SLOW)
SOME = settings(max_examples=40, derandomize=True, suppress_health_check=SLOW)


@dataclass(frozen=True)
class Made:
    """What the stages made of a brief."""

    design: Design
    parts: PartList
    installing: InstallPlan


def made(brief: Brief, room: PlanarRoom, thickness: float) -> Made | None:
    """Return what becomes of a brief in a room; None where it is refused. Anything else that is raised is a fault."""
    shop = a_shop(thickness)
    try:
        design = fit(brief, room, shop)  # type: ignore[arg-type]
    except InvalidInputError:
        return None
    parts = break_down(design, brief, room, shop)  # type: ignore[arg-type]
    return Made(design, parts, set_out(design, parts, brief, room, shop))  # type: ignore[arg-type]


@MANY
@given(brief=hard_briefs(), room=hard_rooms(), thickness=mm(12, 25))
def test_any_brief_is_planned_or_refused(brief: Brief, room: PlanarRoom, thickness: float) -> None:
    """Never a crash: every part is a solid that can be cut, and the assembly can be judged."""
    job = made(brief, room, thickness)
    if job is None:
        return
    for part in job.parts.parts:
        assert solid_of(part).volume_mm3 > 0.0, part.name
        assert all(math.isfinite(size) and size > 0.0 for size in part.blank_mm), part.name
    judged = check_assembly(job.parts, room, brief)  # type: ignore[arg-type]
    assert {finding.verdict for finding in judged} <= {"pass", "fail"}
    lay_out(job.parts, a_shop(thickness))


@SOME
@given(brief=briefs(), room=rooms(), thickness=mm(12, 25))
def test_every_shelf_end_touches_what_holds_it(brief: Brief, room: PlanarRoom, thickness: float) -> None:
    """Square ends stand at an upright, loose ones half of 3 mm off it; cut ends meet the raked board's underside."""
    job = made(brief, room, thickness)
    assume(job is not None)
    assert job is not None
    for box in job.design.boxes:
        boards = [part for part in job.parts.parts if part.module == box.name and part.role in {"shelf", "loose shelf"}]
        assert len(boards) == len(box.shelves)
        for shelf, board in zip(box.shelves, boards, strict=True):
            _check_ends(box, shelf, board, job.design.housing_mm)


def _check_ends(box: Box, shelf: Shelf, board: Part, housing_mm: float) -> None:
    """Assert that both ends of a shelf are where they can be held."""
    (left, _, _), (right, _, _) = solid_of(board).bounds
    for cut, end, at in ((shelf.cut_left, shelf.x0_mm, left), (shelf.cut_right, shelf.x1_mm, right)):
        if cut and box.rake is not None:
            plumb = board.thickness_mm * math.hypot(1.0, box.rake.slope)
            low, high = (ceiling_at(box, at) - z for z in (shelf.z_mm, shelf.z_mm + shelf.thickness_mm))
            assert high - plumb <= 1e-6
            assert low + plumb >= -1e-6
            continue
        assert any(_holds(upright, end, shelf) for upright in box.uprights)
        into = end - at if end == shelf.x0_mm else at - end
        if shelf.fixing == "pins":
            assert into == pytest.approx(-LOOSE_MM / 2, abs=1e-6)
        else:
            assert -1e-6 <= into <= housing_mm + 1e-6


def _holds(upright: Upright, x_mm: float, shelf: Shelf) -> bool:
    """Return whether one of an upright's faces stands at x and at a shelf's height."""
    faces = upright.x_mm, upright.x_mm + upright.thickness_mm
    stands = upright.z0_mm <= shelf.z_mm < max(upright.z1_left_mm, upright.z1_right_mm)
    return stands and min(abs(face - x_mm) for face in faces) < 0.05


@SOME
@given(brief=hard_briefs(), room=hard_rooms(), thickness=mm(12, 25))
def test_planning_twice_gives_the_same(brief: Brief, room: PlanarRoom, thickness: float) -> None:
    """Design, parts and installation hang on nothing but the input."""
    assert made(brief, room, thickness) == made(brief, room, thickness)


@SOME
@given(brief=briefs(), room=hard_rooms(), thickness=mm(12, 25))
def test_every_part_stands_in_one_step_and_every_screw_in_its_rail(
    brief: Brief, room: PlanarRoom, thickness: float
) -> None:
    """The order of work forgets no board; wall screws meet studs within a box, packers stand under the platform."""
    job = made(brief, room, thickness)
    assume(job is not None)
    assert job is not None
    placed = [number for step in job.installing.steps for number in step.parts]
    assert sorted(placed) == sorted(part.number for part in job.parts.parts)
    platform = job.design.platform
    boxes = {box.name: box for box in job.design.boxes}
    for fixing in job.installing.fixings:
        if fixing.box == PLATFORM:
            assert platform is not None
            assert platform.x0_mm < fixing.x_mm < platform.x1_mm
            assert platform.z0_mm < fixing.z_mm < platform.z1_mm
        else:
            box = boxes[fixing.box]
            assert box.x0_mm < fixing.x_mm < box.x1_mm
            assert box.z0_mm < fixing.z_mm < max(box.z1_left_mm, box.z1_right_mm)
        if fixing.into.startswith("stud"):
            assert fixing.x_mm in room.survey.wall.stud_centres_mm
    for packer in job.installing.packers:
        assert platform is not None
        assert platform.x0_mm <= packer.x_mm <= platform.x1_mm
        floor = room.at("floor", packer.x_mm, packer.y_mm).value
        assert packer.height.value == pytest.approx(platform.z0_mm - floor)
        assert packer.height.value > 0.0


@SOME
@given(brief=briefs(), room=rooms(), thickness=mm(12, 25))
def test_every_grooves_board_fits_it(brief: Brief, room: PlanarRoom, thickness: float) -> None:
    """As wide as what it receives is thick, and never deeper than half the board it is cut into."""
    job = made(brief, room, thickness)
    assume(job is not None)
    assert job is not None
    for part in job.parts.parts:
        for groove in part.grooves:
            assert groove.width_mm == job.parts.part(groove.receives).thickness_mm
            assert groove.depth_mm <= part.thickness_mm / 2 + 1e-9
