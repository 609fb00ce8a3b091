"""Wall fixings, studs, tipping before they are in, and lifting."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from nookwright.basics.findings import Finding
from nookwright.stages.checks.anchoring import check_anchoring, check_lifting
from nookwright.stages.checks.climbing import check_climbing
from nookwright.stages.checks.masses import bought_mass, part_mass
from nookwright.stages.checks.opened import weights_of
from nookwright.stages.checks.rail_joints import check_rail_joints
from nookwright.stages.checks.wall_holds import through_mm
from nookwright.stages.design.design import Door
from nookwright.stages.inputs.brief import Bought, Load
from nookwright.stages.parts.part import CutOut, Fastening, JointMade, PartList


def _findings(job: Any, **changed: Any) -> dict[tuple[str, str], Finding]:
    """Return the findings by topic and box."""
    given = {"design": job.design, "installing": job.installing, "brief": job.brief, **changed}
    found = check_anchoring(given["design"], job.parts, given["installing"], job.survey, given["brief"])
    return {(finding.topic, finding.subject): finding for finding in found}


def _with_fixings(job: Any, *fixings: Any) -> Any:
    """Return the install plan with other fixings."""
    return replace(job.installing, fixings=fixings)


def test_the_worst_screw_by_hand(job: Any) -> None:
    """350 N at 2000 above the foot; four screws at 920 and 1920 above it.

    Mass: shelf 0.9 x 0.28, rail 0.764 x 0.1, side 0.8 x 2 m2, all x 0.018 x 680 = 23.604 kg, 144 mm behind the
    platform's front. Weight's moment 23.604 x 9.81 x 144 = 33344 N mm; overturning 700000 - 33344 = 666656; sum z2 =
    2 x (920^2 + 1920^2) = 9065600; the upper screws take 666656 x 1920 / 9065600 = 141.2 N. Thread: 75 - 18 rail - 6 packer - 12.5 board = 38.5 mm;
    No. 8 in 0.42 wood 2850 x 0.42^2 x 0.164 lb/in = 82.45 lb/in = 14.439 N/mm, so 555.9 N.
    Its head draws into 18 mm of board at 690 pi x 0.312 x 0.42^2 x 0.70866 lb = 84.55 lb = 376.1 N: that rules.
    """
    finding = _findings(job)["wall fixings", "left case"]
    assert finding.demand == pytest.approx(141.2, abs=0.05)
    assert "holds 556 N, its head in the rail 376 N" in finding.summary
    assert finding.limit == pytest.approx(376.1, abs=0.05)
    assert finding.verdict == "pass"


def test_too_few_screws_fail_and_say_how_many(job: Any) -> None:
    """One short screw with 3.5 mm of thread: 50.5 N of the 333.3 N asked, so 7 of them."""
    one = replace(job.installing.fixings[1], screw_mm=40.0)
    finding = _findings(job, installing=_with_fixings(job, one))["wall fixings", "left case"]
    assert finding.verdict == "fail"
    assert finding.remedy == "Use 7 screws instead of 1 at the same heights, or longer ones."


def test_a_screw_that_does_not_reach_the_stud_is_said(job: Any) -> None:
    """36 mm ends in the board."""
    one = replace(job.installing.fixings[1], screw_mm=36.0)
    finding = _findings(job, installing=_with_fixings(job, one))["wall fixings", "left case"]
    assert (finding.verdict, finding.limit) == ("fail", 0)
    assert finding.remedy == "Take longer screws: these do not reach the stud."


def test_masonry_is_the_anchor_makers_business(job: Any) -> None:
    """The pull is given; the capacity is not ours to say."""
    plug = replace(job.installing.fixings[1], screw_mm=0.0, into="masonry")
    found = _findings(job, installing=_with_fixings(job, plug))
    finding = found["wall fixings", "left case"]
    assert finding.verdict == "question"
    assert finding.summary.endswith("Use the anchor maker's own figure for this wall, at the pull given here.")


def test_studs_are_not_asked_of_masonry(job: Any) -> None:
    """A masonry wall has none to own."""
    survey = replace(job.survey, wall=replace(job.survey.wall, kind="masonry"))
    found = check_anchoring(job.design, job.parts, job.installing, survey, job.brief)
    assert "studs" not in {finding.topic for finding in found}


def test_a_box_without_a_fixing_leans_on_its_neighbour(job: Any) -> None:
    """The right case stands 6 mm beside a fixed one: a caution that names it."""
    finding = _findings(job)["wall fixings", "right case"]
    assert finding.verdict == "caution"
    assert finding.remedy == "Screw it to left case, which is fixed."


def test_a_box_with_nothing_to_hold_it_fails(job: Any) -> None:
    """No fixing anywhere."""
    finding = _findings(job, installing=_with_fixings(job))["wall fixings", "right case"]
    assert finding.verdict == "fail"
    assert finding.remedy == "Fix it to the wall, or to a fixed neighbour."


def test_a_box_too_heavy_to_tip_passes_unfixed(job: Any) -> None:
    """A 1 N pull is below what its weight stands."""
    brief = replace(job.brief, load=Load(anchor_pull_n=1.0))
    found = _findings(job, installing=_with_fixings(job), brief=brief)
    assert found["wall fixings", "right case"].verdict == "pass"
    assert found["tipping before it is fixed", "right case"].verdict == "pass"


def test_studs_owned(job: Any) -> None:
    """Two studs pass; none is a caution."""
    found = _findings(job)
    assert found["studs", "left case"].verdict == "pass"
    assert found["studs", "left case"].summary.startswith("Behind it: stud 1, stud 2.")
    assert found["studs", "right case"].verdict == "caution"


def test_tipping_before_it_is_fixed_by_hand(job: Any) -> None:
    """The right case is one side of 0.8 x 2 x 0.018 x 680 = 19.584 kg, 144 mm behind its foot: x 9.81 / 2000 = 13.83 N."""
    finding = _findings(job)["tipping before it is fixed", "right case"]
    assert finding.limit == pytest.approx(13.83, abs=0.005)
    assert finding.verdict == "caution"


def test_the_wood_a_wall_screw_passes(job: Any) -> None:
    """From the rail's face at y -24 to the box's rear at -6; a box without a rail counts one board."""
    left, right = job.design.boxes
    assert through_mm(left, job.parts) == pytest.approx(18)
    assert through_mm(right, job.parts) == 18
    bought = replace(right, bought=Bought(width_mm=600, height_mm=700, depth_mm=560))
    assert through_mm(bought, job.parts) == 22


def test_a_bought_cabinet_is_weighed_by_its_boards(job: Any) -> None:
    """(2 x 560 x 700 + 3 x 600 x 560) x 16 + 600 x 700 x 6 = 31.192e6 mm3 at 680 kg/m3."""
    bought = replace(job.design.boxes[1], bought=Bought(width_mm=600, height_mm=700, depth_mm=560))
    assert bought_mass(bought) == pytest.approx(31.192e6 * 680e-9)
    design = replace(job.design, boxes=(bought,))
    assert [finding.subject for finding in check_lifting(design, job.parts, job.brief)][-1] == "right case"


def test_cut_outs_weigh_nothing(job: Any) -> None:
    """A 100 x 100 hole takes 0.01 m2 off."""
    part = job.parts.part("C1")
    hole = CutOut(u_mm=10, v_mm=10, width_mm=100, height_mm=100, purpose="socket")
    assert part_mass(part) - part_mass(replace(part, cutouts=(hole,))) == pytest.approx(0.01 * 0.018 * 680)


def test_more_than_51_lb_takes_two_people(job: Any) -> None:
    """51 lb is 23 kg. The left case is 23.6 kg and the right one lighter; with a second side the left is 43.2."""
    assert [finding.verdict for finding in check_lifting(job.design, job.parts, job.brief)] == ["caution", "pass"]
    more = replace(job.parts, parts=(*job.parts.parts, replace(job.parts.part("C3"), number="C4")))
    left = check_lifting(job.design, more, job.brief)[0]
    assert left.verdict == "caution"
    assert left.summary == "43 kg with all its parts: two people."
    heaps = replace(more, parts=(*more.parts, replace(job.parts.part("C3"), number="C5")))
    worst = check_lifting(job.design, heaps, job.brief)[0]
    assert worst.summary == "63 kg with all its parts: 3 people."
    assert worst.remedy.startswith("Take it apart")


def test_strips_are_carried_one_by_one(job: Any) -> None:
    """A bundle of trim is not a lift."""
    strips = tuple(replace(part, role="strip", module="face trim") for part in job.parts.parts)
    assert check_lifting(job.design, replace(job.parts, parts=strips), job.brief) == ()


def _climbed(job: Any, **changed: Any) -> dict[str, Finding]:
    """Return the findings of the climbing child by box."""
    given = {"design": job.design, "installing": job.installing, "survey": job.survey, "brief": job.brief, **changed}
    found = check_climbing(given["design"], job.parts, given["installing"], given["survey"], given["brief"])
    return {finding.subject: finding for finding in found}


def test_a_climbing_child_by_hand(job: Any) -> None:
    """The left case tips over the platform's front, 6 mm behind its own.

    Case 23.604 kg at 144 mm behind that foot: 33344 N mm; child 27.216 kg at 106 mm before it: 28300 N mm. It stays
    up. A case a fifth as heavy gives 6669 - 28300: over with 21631; the upper screws take 21631 x 1920 / 9065600.
    """
    assert _climbed(job)["left case"].verdict == "pass"
    light = tuple(replace(part, thickness_mm=part.thickness_mm / 5) for part in job.parts.parts)
    found = check_climbing(job.design, replace(job.parts, parts=light), job.installing, job.survey, job.brief)
    finding = next(each for each in found if each.subject == "left case")
    assert finding.demand == pytest.approx(21631 * 1920 / 9065600, abs=0.02)
    assert finding.verdict == "pass"


def test_open_doors_pull_it_over(job: Any) -> None:
    """Two leaves of MDF, 400 x 1900 x 30, weigh 17.1 kg each and hang 200 mm and more in front: 35 N m each."""
    leaf = Door(
        name="left door of right case", letter="D", y_back_mm=-306, stock=replace(job.shop.sheets[0], wood="mdf", thickness_mm=30),
        outline=((810, 100), (1210, 100), (1210, 2000), (810, 2000)),
    )  # fmt: skip
    doors = (leaf, replace(leaf, name="right door of right case"))
    weights = weights_of(job.design.boxes[1], replace(job.design, doors=doors), job.parts)
    assert [round(each.mass_kg, 1) for each in weights[1:]] == [17.1, 17.1]
    assert [each.behind_mm for each in weights[1:]] == [-206, -206]
    found = _climbed(job, design=replace(job.design, doors=doors))["right case"]
    assert (found.verdict, found.remedy[:15]) == ("fail", "Fix it to the s")


def test_a_low_box_is_not_climbed(job: Any) -> None:
    """Below 27 in."""
    low = replace(job.design.boxes[0], z1_left_mm=700, z1_right_mm=700)
    assert "left case" not in _climbed(job, design=replace(job.design, boxes=(low,)))


def test_a_masonry_wall_leaves_the_child_a_question(job: Any) -> None:
    """The pull is given, the anchor's capacity is its maker's."""
    plugs = tuple(replace(fixing, screw_mm=0.0, box="right case") for fixing in job.installing.fixings)
    found = _climbed(job, installing=_with_fixings(job, *plugs))["right case"]
    assert found.verdict == "question"
    assert found.demand is not None


def test_a_rails_screws_by_hand(job: Any) -> None:
    """Two upper wall screws pull the rail with 2 x 141.2 N. Four pocket screws of 30 mm, 15 mm in the side's face.

    15 mm is less than the 6 x 4.17 mm that tables cover: half counts. By hand in N and mm, D 3.327, Fe 23.196, Rd 2.2,
    lm 15 - 4.166 = 10.834, ls 15, Rt 0.7223: k1 = (sqrt(1 + 2 (1 + 0.7223 + 0.5217) + 0.5217) - 1.7223) / 2 = 0.3643;
    II = 0.3643 x 3.327 x 15 x 23.196 / 2.2 = 191.7 N, the least; four of them 4 x 191.7 x 0.9 x 0.5 = 345 N.
    60 mm, 30 deep in a 36 mm side, count in full.
    """
    rail = replace(job.parts.part("C2"), frame=replace(job.parts.part("C2").frame, origin=(18.0, -24.0, 1950.0)))
    rest = tuple(part for part in job.parts.parts if part.number != "C2")

    def found(length_mm: float, side_mm: float) -> Finding:
        row = Fastening(kind="pocket screw", length_mm=length_mm, count=2, spacing_mm=50, end_mm=20, reason="")
        made = JointMade(held="C2", holder="C3", joint="pocket screws", length_mm=100, fastenings=(row,))
        sides = tuple(replace(part, thickness_mm=side_mm) if part.number == "C3" else part for part in rest)
        parts = PartList(parts=(*sides, rail), joints=(made, made))
        (finding,) = check_rail_joints(job.design, parts, job.installing, job.brief)
        return finding

    shallow = found(30, 18)
    assert shallow.limit == pytest.approx(345, abs=1)
    assert shallow.verdict == "pass"
    assert "which the tables do not cover: half of the formula is counted." in shallow.summary
    deep = found(60, 36)
    assert deep.limit is not None
    assert deep.limit > 1000
    assert deep.verdict == "pass"
