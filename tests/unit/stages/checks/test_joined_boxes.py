"""Screws between boxes, screws down, what holds the platform, and boxes with doors and drawers open on a sloping floor."""

from __future__ import annotations

import math
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from nookwright.basics.measured import Measured
from nookwright.stages.checks.anchoring import check_anchoring
from nookwright.stages.checks.joined_boxes import check_joined
from nookwright.stages.checks.opened import floor_falls, opens, weights_of
from nookwright.stages.checks.platform_hold import check_platform_hold
from nookwright.stages.inputs.brief import Bought
from nookwright.stages.inputs.survey import SiteQuestion
from nookwright.stages.parts.part import Fastening, JointMade, PartList

from .conftest import fixing  # type: ignore[import-not-found]


def _screwed(job: Any, held: str, holder: str, length_mm: float, count: int) -> PartList:
    """Return the parts with one more joint of wood screws, and a bottom for each box."""
    row = Fastening(kind="wood screw", length_mm=length_mm, count=count, spacing_mm=0, end_mm=50, reason="")
    joint = JointMade(held=held, holder=holder, joint="butt and screws", length_mm=500, fastenings=(row,))
    return replace(job.parts, joints=(joint,))


def test_screws_between_two_sides_by_hand(job: Any) -> None:
    """The right case hangs on the left one by four screws of 32 mm through 18 mm, 14 mm deep in the other side.

    lm 14 - 4.166 = 9.834, Rt 0.5464: k1 = (sqrt(1 + 2 (1 + 0.5464 + 0.2985) + 0.2985) - 1.5464) / 2 = 0.3435; mode II
    0.3435 x 3.327 x 18 x 23.196 / 2.2 = 216.9 N is the least; x 0.9 x 0.5 (shallow) = 97.6 N each. The case of 19.584
    kg, 144 mm behind its foot, stands 27665 N mm of 350 x 2000; screws at 50 and 1950: sum z2 7610000; the upper ones
    take 672335 x 1950 / 7610000 = 172.3 N. 172.3 x 2 / 97.6 = 3.5: four near the top, eight in all.
    """
    (finding,) = check_joined(job.design, _screwed(job, "C3", "D1", 32, 4), job.installing, job.brief)
    assert (finding.topic, finding.verdict) == ("screws between boxes", "fail")
    assert finding.demand == pytest.approx(172.3, abs=0.05)
    assert finding.limit == pytest.approx(97.6, abs=0.1)
    assert finding.remedy == "Use 8 screws instead of 4, half of them near the top, or fix it to a stud of its own."
    more = _screwed(job, "C3", "D1", 32, 8)
    assert check_joined(job.design, more, job.installing, job.brief)[0].verdict == "pass"


def test_screws_that_do_not_reach_are_said(job: Any) -> None:
    """20 mm through 18 leaves a point."""
    (finding,) = check_joined(job.design, _screwed(job, "C3", "D1", 20, 4), job.installing, job.brief)
    assert finding.verdict == "fail"
    assert finding.remedy.startswith("The screws do not reach")


def test_boxes_that_the_wall_holds_only_keep_flush(job: Any) -> None:
    """Both fixed: nothing is asked of the screws."""
    both = replace(
        job.installing, fixings=(*job.installing.fixings, replace(job.installing.fixings[0], box="right case"))
    )
    (finding,) = check_joined(job.design, _screwed(job, "C3", "D1", 32, 4), both, job.brief)
    assert (finding.verdict, finding.demand) == ("pass", None)
    assert finding.summary.startswith("The wall holds both;")


def test_screws_down_into_the_rail_by_hand(job: Any) -> None:
    """Two screws of 45 mm through 18 into a rail's edge: 27 mm deep counts in full; the six modes as above.

    lm 27 - 4.166 = 22.834, ls 18, Rt 1.2686: k1 = (sqrt(1 + 2 (1 + 1.2686 + 1.6093) + 1.6093) - 2.2686) / 2 = 0.4764, II
    = 300.8 N; IIIs: k3 = -1 + sqrt(4 + 2 x 620.5 x 3 x 11.07 / (3 x 23.196 x 324)) = 1.414, 297.7 N is the least.
    """
    bottom = replace(job.parts.part("C1"), number="C9", role="bottom")
    rail = replace(job.parts.part("C2"), number="P1", role="platform rail", module="platform")
    row = Fastening(kind="wood screw", length_mm=45, count=2, spacing_mm=400, end_mm=50, reason="")
    joint = JointMade(held="C9", holder="P1", joint="butt and screws", length_mm=764, fastenings=(row,))
    parts = PartList(parts=(bottom, rail), joints=(joint,))
    (finding,) = check_joined(job.design, parts, job.installing, job.brief)
    assert finding.limit == pytest.approx(2 * 297.7 * 0.9, abs=0.5)
    assert finding.verdict == "pass"
    shorter = replace(joint, fastenings=(replace(row, count=1),))
    assert (
        check_joined(job.design, replace(parts, joints=(shorter,)), job.installing, job.brief)[0].verdict == "caution"
    )


def _room(job: Any, *, back_mm: float = 0.0, floor: Any = lambda y: 0.0, survey: Any = None) -> Any:
    """Return a room with its wall so far back and its floor as it lies by y."""
    return SimpleNamespace(
        survey=survey or job.survey,
        profile=lambda _, line: tuple(Measured(value=back_mm, sd=1.0) for _ in line),
        at=lambda _, x, y: Measured(value=floor(y), sd=1.0),
    )


def test_the_platform_in_two_studs_by_hand(job: Any) -> None:
    """Screws of 60 through 18 of rail, 6 of packer and 12.5 of board: 23.5 x 14.439 = 339.3 N each.

    Of 70: 33.5 x 14.439 = 483.7 N, but the head draws through at 690 pi .312 .42^2 x 18 / 25.4 lb = 376.1 N.
    """
    for length, each in ((60.0, 339.3), (70.0, 376.1)):
        screws = tuple(fixing("platform", x, 45.0, length, f"stud {i}") for i, x in ((1, 200.0), (2, 600.0)))
        held = replace(job.installing, fixings=(*screws, *job.installing.fixings))
        (finding,) = check_platform_hold(job.design, held, _room(job), job.brief)
        assert finding.limit == pytest.approx(2 * each, abs=0.3)
        assert "stud 1, stud 2" in finding.summary
        assert finding.verdict == "pass"
    lone = replace(job.installing, fixings=(fixing("platform", 200.0, 45.0, 60.0),))
    (finding,) = check_platform_hold(job.design, lone, _room(job), job.brief)
    assert finding.verdict == "caution"
    assert "the one screw through its back rail into stud 1 holds 339 N" in finding.summary


def test_a_platform_away_from_the_wall_asks_for_the_floor(job: Any) -> None:
    """54 mm before the wall; a floating floor must not be pinned."""
    (finding,) = check_platform_hold(job.design, job.installing, _room(job, back_mm=54), job.brief)
    assert finding.verdict == "question"
    assert finding.summary.startswith("Its back rail stands 54 mm before the wall")
    floats = replace(job.survey, questions=(SiteQuestion(key="soft-floor", answer="found"),))
    (finding,) = check_platform_hold(job.design, job.installing, _room(job, back_mm=54, survey=floats), job.brief)
    assert "never through a floating floor" in finding.remedy
    assert check_platform_hold(replace(job.design, platform=None), job.installing, _room(job), job.brief) == ()


def test_drawers_full_of_clothes_by_hand(job: Any) -> None:
    """Four drawers of a 600 x 700 x 560 cabinet, each 536 x 175 x 528 clear.

    Clothes 0.0495264 m3 x 136.16 kg/m3 = 6.743 kg; boards (0.6 x 0.175 + 0.6 x 0.56 + 2 x 0.56 x 0.175) m2 x 0.016 x 680
    = 6.931 kg; two thirds out: 280 - 373.3 = 93.3 mm in front of the foot.
    """
    box = replace(
        job.design.boxes[0],
        bought=Bought(width_mm=600, height_mm=700, depth_mm=560, drawers=4),
        z0_mm=0.0, z1_left_mm=700, z1_right_mm=700,
    )  # fmt: skip
    weights = weights_of(box, job.design, job.parts)
    assert [round(each.mass_kg, 3) for each in weights[1:]] == [13.674] * 4
    assert [round(each.behind_mm, 1) for each in weights[1:]] == [-93.3] * 4
    assert [each.up_mm for each in weights[1:]] == [87.5, 262.5, 437.5, 612.5]
    assert opens(box, job.design) == ", its full drawers open"
    weighed = replace(box, bought=replace(box.bought, mass_kg=60.0))
    assert weights_of(weighed, job.design, job.parts)[0].mass_kg == pytest.approx(60 - 4 * 6.931, abs=0.002)
    doors = replace(box, bought=Bought(width_mm=600, height_mm=700, depth_mm=560, doors=2))
    assert [(round(each.mass_kg, 2), each.behind_mm) for each in weights_of(doors, job.design, job.parts)[1:]] == [
        (round(0.3 * 0.7 * 0.016 * 680, 2), -150.0)
    ] * 2


def test_a_floor_that_falls_makes_it_tip_sooner(job: Any) -> None:
    """10 mm in 300: 19.584 x 9.81 x (150 cos f - 1000 sin f) / 2000 = 11.2 N on no platform; level 14.4 N."""
    design = replace(
        job.design, platform=None, boxes=(replace(job.design.boxes[1], z0_mm=5.0, z1_left_mm=2005, z1_right_mm=2005),)
    )
    falls = floor_falls(design, _room(job, floor=lambda y: 10.0 if y > -100 else 0.0))
    assert falls == {"right case": pytest.approx(math.atan(10 / 300))}
    sloping = check_anchoring(design, job.parts, job.installing, job.survey, job.brief, falls)[-1]
    assert sloping.limit == pytest.approx(11.2, abs=0.05)
    assert "falls 33.3 mm/m to the front" in sloping.summary
    level = check_anchoring(design, job.parts, job.installing, job.survey, job.brief)[-1]
    assert level.limit == pytest.approx(14.41, abs=0.005)


def test_a_box_on_its_platform_is_packed_level(job: Any) -> None:
    """The floor's fall is in the packers."""
    assert floor_falls(job.design, _room(job, floor=lambda y: y / 10)) == {}


def test_a_tall_drawer_cabinet_falls_under_the_rule(job: Any) -> None:
    """700 x 600 x 560 is 0.235 m3, 27.6 in high and 21 kg: too low by weight nothing, so it is told; shelves are not."""
    drawers = replace(
        job.design.boxes[1],
        bought=Bought(width_mm=800, height_mm=900, depth_mm=560, drawers=4),
        z0_mm=80.0, z1_left_mm=980, z1_right_mm=980,
    )  # fmt: skip
    design = replace(job.design, boxes=(drawers,))
    found = check_anchoring(design, job.parts, job.installing, job.survey, job.brief)[-1]
    assert "falls under the tip-over rule" in found.summary
    shelves = replace(drawers, bought=replace(drawers.bought, drawers=0))
    found = check_anchoring(replace(design, boxes=(shelves,)), job.parts, job.installing, job.survey, job.brief)[-1]
    assert "tip-over rule" not in found.summary
