"""A top too long for its stock: the split that is told, made by one line of the brief, carried, jointed and cut."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from nookwright.basics.lengths import Marks, read_length
from nookwright.basics.problems import InvalidInputError
from nookwright.files.job_folder import Job, read_job
from nookwright.stages.checks.splices import check_splices
from nookwright.stages.checks.tops import check_tops
from nookwright.stages.cutting.cutting_plan import CuttingPlan
from nookwright.stages.cutting.lay_out import lay_out, not_cuttable
from nookwright.stages.design.design import Design
from nookwright.stages.design.fit import fit
from nookwright.stages.inputs.brief import Brief, Cases, Cell, Share, Top, Unit
from nookwright.stages.inputs.shop import Shop
from nookwright.stages.parts.break_down import break_down
from nookwright.stages.parts.part import Part, PartList
from nookwright.stages.room.room import Room
from nookwright.stages.room.standing import standing_room

TWO_BAYS = Cell(split="columns", cells=(Cell(size=Share()), Cell(size=Share())))
UNITS = tuple(Unit(name=f"{name} case", inside=TWO_BAYS) for name in ("left", "middle", "right"))


@dataclass(frozen=True)
class Long:
    """Low cases 3.3 m long with one top, in the linen cupboard's room: made as far as the cutting plan."""

    job: Job
    room: Room

    def brief(self, *split_mm: float) -> Brief:
        """Return the brief with its top split there."""
        cases = Cases(name="base", height_mm=620.0, depth_mm=400.0, units=UNITS, board="birch-18", back_board="birch-6")
        top = Top(name="long top", board="birch-18", overhang_mm=20.0, split_mm=split_mm)
        return replace(self.job.brief, platform=None, trim=None, end_mm=3300.0, tiers=(cases, top))

    @property
    def shop(self) -> Shop:
        """The example's shop."""
        return self.job.shop

    def design(self, *split_mm: float) -> Design:
        """Return the design with its top split there."""
        return fit(self.brief(*split_mm), self.room, self.shop)

    def parts(self, *split_mm: float) -> PartList:
        """Return its parts."""
        return break_down(self.design(*split_mm), self.brief(*split_mm), self.room, self.shop)


@pytest.fixture(scope="module")
def long(repository: Path) -> Long:
    """The long cases."""
    job = read_job(repository / "examples" / "landing-linen")
    whole = Long(job, standing_room(job.survey, job.brief))
    return Long(job, standing_room(job.survey, whole.brief()))


@pytest.fixture(scope="module")
def told_mm(long: Long) -> float:
    """Where the cutting plan says that the whole top is best split, in the words of the brief. [mm]"""
    (misfit,) = lay_out(long.parts(), long.shop).too_large
    (place,) = re.findall(r"`split: \[([\d.]+)\]` at long top in brief.yaml", misfit.cure)
    assert "over right side A2 and left side B1" in misfit.cure
    return float(place)


def test_a_job_in_inches_is_told_in_inches(long: Long, told_mm: float) -> None:
    """To the step it reads, in the cure and in the finding; no millimetre among it."""
    marks = Marks(units="inch", resolution=1 / 16)
    plan = lay_out(long.parts(), long.shop, marks=marks)
    (finding,) = not_cuttable(plan, marks)
    (place,) = re.findall(r"`split: \[(.+)\]` at long top", plan.too_large[0].cure)
    assert read_length(place, unit="inch") == pytest.approx(told_mm, abs=25.4 / 32)
    assert not re.search(r"\dmm|\d mm", f"{finding.summary} {finding.remedy}")


def tops(parts: PartList) -> list[Part]:
    """Return the pieces of the top."""
    return [part for part in parts.parts if part.role == "worktop"]


def reaches(part: Part) -> tuple[float, float]:
    """Return from where to where a part reaches along the wall. [mm]"""
    xs = [part.frame.to_room(u, v)[0] for u, v in part.outline]
    return min(xs), max(xs)


def test_the_split_that_is_told_makes_two_pieces_that_are_cut(long: Long, told_mm: float) -> None:
    """They meet where two cases meet, reach as far as the whole did, and each is cut once; nothing is too large."""
    parts = long.parts(told_mm)
    left, right = tops(parts)
    (whole,) = tops(long.parts())
    assert [part.number for part in (left, right)] == ["T1", "T2"]
    assert reaches(left)[1] == pytest.approx(reaches(right)[0]) == pytest.approx(long.design().boxes[1].x0_mm, abs=0.1)
    assert (reaches(left)[0], reaches(right)[1]) == pytest.approx(reaches(whole))
    plan: CuttingPlan = lay_out(parts, long.shop)
    assert plan.too_large == ()
    laid = [piece.part for sheet in plan.sheets for piece in sheet.placed]
    assert (laid.count("T1"), laid.count("T2")) == (1, 1)


def test_only_the_ends_at_walls_are_scribed(long: Long, told_mm: float) -> None:
    """Both at the back, the left one at the left wall, neither at the joint."""
    left, right = tops(long.parts(told_mm))
    assert [edge.meets for edge in left.edges] == ["", "", "back wall", "left wall"]
    assert [edge.meets for edge in right.edges] == ["", "", "back wall", ""]


def test_each_piece_is_screwed_to_the_cases_under_it_only(long: Long, told_mm: float) -> None:
    """T1 to the left case, T2 to the other two; they are glued to each other, and no screw is counted there."""
    parts = long.parts(told_mm)
    held = {
        number: sorted(parts.part(joint.held).module for joint in parts.joints if joint.holder == number)
        for number in ("T1", "T2")
    }
    assert held == {"T1": ["left case"], "T2": ["long top, piece 1 of 2", "middle case", "right case"]}
    (joint,) = [joint for joint in parts.joints if (joint.held, joint.holder) == ("T1", "T2")]
    assert [row.kind for row in joint.fastenings] == ["glue"]


def test_a_joint_where_two_cases_meet_holds(long: Long, told_mm: float) -> None:
    """Each end lies on one side of 17.8 mm."""
    (found,) = check_splices(long.design(told_mm), long.brief(told_mm))
    assert (found.verdict, found.limit) == ("pass", pytest.approx(17.8, abs=0.1))


def test_a_joint_over_one_divider_wants_a_batten(long: Long) -> None:
    """Half of 17.8 mm under either end is too little for screws."""
    design = long.design()
    (divider,) = [upright for upright in design.boxes[1].uprights if upright.kind == "divider"]
    at = divider.x_mm + divider.thickness_mm / 2 - min(x for x, _ in design.tops[0].outline)
    (found,) = check_splices(long.design(at), long.brief(at))
    assert (found.verdict, found.limit) == ("caution", pytest.approx(8.9, abs=0.1))
    assert "batten" in found.remedy


def test_a_joint_over_nothing_fails_and_says_where_the_next_upright_is(long: Long, told_mm: float) -> None:
    """It counts as no strength; 200 mm right of where the cases meet there is nothing under it."""
    (found,) = check_splices(long.design(told_mm + 200.0), long.brief(told_mm + 200.0))
    assert found.verdict == "fail"
    assert "counts as no strength" in found.summary
    assert "Move the split 200 mm to the left" in found.remedy


def test_no_bending_goes_through_a_joint(long: Long, told_mm: float) -> None:
    """Each piece is reckoned over its own uprights: the left one, over three, sags more than the whole over seven."""

    def sags(*split_mm: float) -> list[float]:
        found = check_tops(long.design(*split_mm), long.shop, long.brief(*split_mm))
        return [one.demand for one in found if one.topic == "top sag" and one.demand is not None]

    (whole,), (left, right) = sags(), sags(told_mm)
    assert left > whole
    assert right > 0


@pytest.mark.parametrize("split", [(50.0,), (1500.0, 1550.0), (1600.0, 1500.0), (3290.0,)])
def test_pieces_too_short_or_out_of_order_are_refused(long: Long, split: tuple[float, ...]) -> None:
    """Within 100 mm of an end, of each other, or the second before the first."""
    with pytest.raises(InvalidInputError, match="from its left end, in rising order, 100 mm apart and from its ends"):
        long.design(*split)
