"""Room and furniture sheets of the sample jobs: every name and number at the thing it names, every size true."""

from __future__ import annotations

import math
import unicodedata
from fractions import Fraction
from itertools import combinations
from pathlib import Path

import pytest

from nookwright.basics.lengths import Marks
from nookwright.drawings.clearance import Taken
from nookwright.drawings.page import Circle, Line, Shape, Text
from nookwright.drawings.page_check import faults
from nookwright.drawings.pages import furniture, room
from nookwright.drawings.pages.outlines import walls
from nookwright.drawings.sheet import Issue, finished
from nookwright.drawings.view import View
from nookwright.files.job_folder import read_job
from nookwright.geometry.solid import box, less, section
from nookwright.stages.design.fit import fit
from nookwright.stages.parts.break_down import break_down
from nookwright.stages.room.reconcile import reconcile

EXAMPLES = Path(__file__).parents[3] / "examples"
JOBS = sorted(folder.name for folder in EXAMPLES.iterdir() if folder.is_dir())


@pytest.fixture(scope="module", params=JOBS)
def job(request):
    """A sample job: its room, design, parts, and what the title strips say."""
    read = read_job(EXAMPLES / request.param)
    found = reconcile(read.survey)
    design = fit(read.brief, found, read.shop)
    brief = read.brief
    issue = Issue(
        job=brief.title, date="", revision="A", marks=Marks(units=brief.units, resolution=brief.resolution),
        paper=brief.paper,
    )  # fmt: skip
    return found, design, break_down(design, brief, found, read.shop), issue


@pytest.fixture(scope="module")
def room_sheets(job):
    """The room chapter."""
    found, _, _, issue = job
    return room.pages(found, issue)


@pytest.fixture(scope="module")
def furniture_sheets(job):
    """The furniture chapter."""
    found, design, parts, issue = job
    return furniture.pages(design, parts, found, issue)


def test_every_sheet_can_be_read(job, room_sheets, furniture_sheets) -> None:
    """No words overlap, none is crossed or too small, nothing reaches into the margins."""
    drafts = (*room_sheets, *furniture_sheets)
    found = [
        f"{draft.name}: {fault}" for draft in drafts for fault in faults(finished(draft, job[3], number=1, total=1))
    ]
    assert found == []


def test_every_spot_is_named_once_where_it_is_drawn(job, room_sheets) -> None:
    """The plan names the spots on the floor, the elevation those on the back wall; none is left out."""
    names = [spot.name for spot in job[0].spots]
    expected = ([n for n in names if n.endswith("0")], [n for n in names if n.startswith("B")])
    for draft, wanted in zip(room_sheets, expected, strict=False):
        written = [item.text for item in draft.items if isinstance(item, Text) and item.text in names]
        assert sorted(written) == sorted(wanted)


def test_a_spot_s_name_stands_nearest_to_its_own_dot_or_has_a_leader(job, room_sheets) -> None:
    """Dots and names come in the same order; a name whose nearest dot is another's must have a line to its own."""
    names = {spot.name for spot in job[0].spots}
    for draft in room_sheets[:2]:
        dots = [item.centre for item in draft.items if isinstance(item, Circle)]
        shown = [item for item in draft.items if isinstance(item, Text) and item.text in names]
        lines = [item for item in draft.items if isinstance(item, Line)]
        assert len(dots) == len(shown)
        for dot, text in zip(dots, shown, strict=True):
            middle = (text.at[0], text.at[1] - text.height_mm / 2)
            nearest = min(dots, key=lambda one: math.dist(one, middle))
            led = any(math.dist(line.start, dot) < 2.0 and math.dist(line.end, middle) < 2.0 for line in lines)
            assert nearest == dot or led, text.text


def test_no_ring_covers_another(furniture_sheets) -> None:
    """Centres of two rings lie further apart than their radii together."""
    for draft in furniture_sheets:
        rings = [item for item in draft.items if isinstance(item, Circle) and item.fill == "white"]
        assert [
            (first.centre, second.centre)
            for first, second in combinations(rings, 2)
            if math.dist(first.centre, second.centre) < first.radius + second.radius
        ] == []


def test_every_board_of_a_built_box_and_all_that_faces_the_room_has_its_ring(job, furniture_sheets) -> None:
    """Box boards are numbered on their box's sheet; strips, doors and tops on the front."""
    _, design, parts, _ = job
    numbered = {item.text for draft in furniture_sheets for item in draft.items if isinstance(item, Text)}
    boxes = {each.name for each in design.boxes}
    wanted = {p.number for p in parts.parts if p.module in boxes or p.role in {"strip", "door", "worktop"}}
    assert wanted - numbered == set()


def size_written(text: str, mm_per_unit: float) -> float:
    """Return the length a figure stands for, `33 5/8` with a true fraction included; nan when it is no length. [mm]"""
    plain = unicodedata.normalize("NFKD", text).replace("\u2044", "/")
    try:
        return float(sum(Fraction(piece) for piece in plain.split())) * mm_per_unit if plain else math.nan
    except ValueError:
        return math.nan


def test_sizes_of_the_boxes_are_those_of_the_design(job, furniture_sheets) -> None:
    """Each built box's sheet carries its outside width and both side heights, to half a mark."""
    _, design, _, issue = job
    mm_per_unit = 25.4 if issue.marks.units == "inch" else 1.0
    half_mark = issue.marks.resolution * mm_per_unit / 2 + 1e-6
    for each in (one for one in design.boxes if one.bought is None):
        sheet = next(draft for draft in furniture_sheets if draft.name.startswith(f"Box {each.letter},"))
        written = [size_written(item.text, mm_per_unit) for item in sheet.items if isinstance(item, Text)]
        for size in (each.x1_mm - each.x0_mm, each.z1_left_mm - each.z0_mm, each.z1_right_mm - each.z0_mm):
            assert any(abs(one - size) <= half_mark for one in written), (each.name, size)


@pytest.mark.parametrize(
    ("edge", "fill"),
    [
        (((0.0, 0.0), (1000.0, 0.0)), "hatch"),
        (((1000.0, 800.0), (0.0, 0.0)), "counter-hatch"),  # a slope of 38.7 degrees: nearly along hatching at 45
        (((1000.0, 0.0), (0.0, 800.0)), "hatch"),  # the same slope falling to the right: nearly square to it
    ],
)
def test_hatching_crosses_the_edge_it_lies_beside(edge, fill) -> None:
    """Hatching rises to the right at 45 degrees, unless an edge does too."""
    bands = [item for item in walls(View(scale=10, origin=(50.0, 150.0)), (edge,), Taken()) if isinstance(item, Shape)]
    assert {band.fill for band in bands} - {"none"} == {fill}


@pytest.mark.parametrize(
    ("axis", "at_mm", "area_mm2"),
    [
        ("x", 5.0, 20 * 30 - 6 * 10),  # through the hole, 6 wide and 10 deep there
        ("y", 5.0, 10 * 30),
        ("z", 5.0, 10 * 20),
        ("z", 25.0, 10 * 20 - 4 * 6),  # through the hole
    ],
)
def test_a_plane_cuts_out_of_a_solid_what_it_meets(axis, at_mm, area_mm2) -> None:
    """A block of 10 x 20 x 30 with a hole of 4 x 6 sunk 10 deep from above; a hole counts against the area."""
    block = less(box(low=(0, 0, 0), high=(10, 20, 30)), (box(low=(3, 7, 20), high=(7, 13, 31)),))
    outlines = section(block, axis=axis, at_mm=at_mm)
    area = sum(
        (x0 * y1 - x1 * y0) / 2
        for outline in outlines
        for (x0, y0), (x1, y1) in zip(outline, outline[1:] + outline[:1], strict=True)
    )
    assert area == pytest.approx(area_mm2)


def test_a_plane_beside_a_solid_cuts_nothing() -> None:
    """No outline when they do not meet."""
    assert section(box(low=(0, 0, 0), high=(10, 20, 30)), axis="z", at_mm=40.0) == ()
