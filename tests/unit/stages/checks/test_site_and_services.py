"""Sockets, the platform, seasons, the saw, built sizes, and questions for the site."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from nookwright.geometry.frame import Frame
from nookwright.stages.checks.electrical import check_wiring
from nookwright.stages.checks.making import check_batch, check_built, check_saw
from nookwright.stages.checks.platform_rails import carried_kg, check_platform
from nookwright.stages.checks.question_table import STANDARD_QUESTIONS, question_keys
from nookwright.stages.checks.site_questions import check_site, damp_found
from nookwright.stages.checks.wood_movement import check_movement
from nookwright.stages.design.design import Shelf
from nookwright.stages.inputs.facts import BuiltPart, Facts, RealThickness
from nookwright.stages.inputs.survey import Outlet, SiteQuestion, WallBuild
from nookwright.stages.installing.install_plan import OutletHole
from nookwright.stages.parts.part import Edge, PartList

HOLE = OutletHole(
    outlet="socket 1", box="left case", part="", left_mm=100, bottom_mm=220, width_mm=80, height_mm=80, sd_mm=1,
    forward_mm=24,
)  # fmt: skip
OUTLET = Outlet(
    name="socket 1", wall="back", side="left", from_side_mm=140, above_floor_mm=340, box_width_mm=68,
    box_height_mm=68, plate_width_mm=86, plate_height_mm=86,
)  # fmt: skip


def _wiring(job: Any, hole: OutletHole, **changed: Any) -> list[Any]:
    """Return the findings of one hole."""
    survey = replace(job.survey, outlets=(changed.pop("outlet", OUTLET),))
    design = replace(job.design, **changed)
    return list(check_wiring(design, job.parts, replace(job.installing, holes=(hole,)), survey, job.brief))


def test_a_socket_behind_a_box_is_a_question(job: Any) -> None:
    """24 mm forward: an extender reaches, an electrician decides."""
    (finding,) = _wiring(job, HOLE)
    assert (finding.topic, finding.verdict, finding.demand) == ("outlet", "question", 24)
    assert "licensed electrician" in finding.summary
    assert finding.remedy == "A box extender of 24 mm, flush with the panel's face."


def test_a_socket_too_far_back_fails(job: Any) -> None:
    """Extenders reach 38 mm."""
    (finding,) = _wiring(job, replace(HOLE, forward_mm=45))
    assert finding.verdict == "fail"
    assert "have the box itself moved forward" in finding.remedy


def test_a_hole_in_a_divider_fails(job: Any) -> None:
    """The divider stands at 400 to 418; a hole from 390 to 470 runs 28 into it."""
    findings = _wiring(job, replace(HOLE, left_mm=390))
    (blocked,) = [finding for finding in findings if finding.topic == "outlet hole"]
    assert blocked.verdict == "fail"
    assert blocked.summary == "Its hole in left case runs 28 mm into the divider."


def test_a_hole_close_to_a_side_is_a_caution(job: Any) -> None:
    """The side ends at 18; a hole at 19.5 is 1.5 away, within two standard deviations of 1."""
    findings = _wiring(job, replace(HOLE, left_mm=19.5))
    (blocked,) = [finding for finding in findings if finding.topic == "outlet hole"]
    assert (blocked.verdict, blocked.limit) == ("caution", 1.5)


def test_a_hole_in_a_shelf_fails(job: Any) -> None:
    """A shelf at 320 to 338 stands in a hole from 300 to 380."""
    shelf = Shelf(fixing="pins", x0_mm=18, x1_mm=400, z_mm=320, thickness_mm=18, depth_mm=280)
    box = replace(job.design.boxes[0], shelves=(shelf,))
    findings = _wiring(job, HOLE, boxes=(box, job.design.boxes[1]))
    assert [(finding.topic, finding.verdict) for finding in findings][1] == ("outlet hole", "fail")


def test_a_hole_is_placed_from_its_panels_own_edges(job: Any) -> None:
    """The same figures in a panel that starts at x 0, z 0 instead of the box's foot at 80 give the same x."""
    findings = _wiring(job, replace(HOLE, part="C3", left_mm=390, bottom_mm=300))
    assert [finding.topic for finding in findings] == ["outlet", "outlet hole"]


def test_a_plate_that_may_not_cover_is_a_caution(job: Any) -> None:
    """(86 - 80) / 2 less two standard deviations: 1 mm to the good with 1, 1 mm short with 2."""
    assert [finding.topic for finding in _wiring(job, HOLE)] == ["outlet"]
    outlet, plate = _wiring(job, replace(HOLE, sd_mm=2))
    assert (outlet.topic, plate.topic, plate.demand) == ("outlet", "outlet plate", 1)


def test_a_socket_beside_the_boxes_is_let_be(job: Any) -> None:
    """No box, no finding."""
    assert _wiring(job, replace(HOLE, box="")) == []


def test_the_platform_rails(job: Any) -> None:
    """Four equal spans of 400: the table of continuous beams gives the second support 8/7 of a span's load."""
    front, back = check_platform(job.design, job.parts, job.installing, job.brief)
    assert (front.subject, back.subject) == ("platform front rail", "platform back rail")
    assert front.verdict == "pass"
    mass = carried_kg(job.design, job.parts, job.brief)
    # Both cases: parts 23.604 + 19.584 kg, and one bottom of 0.8 m each under 37 kg/m.
    assert mass == pytest.approx(23.604 + 19.584 + 2 * 0.8 * 37, abs=0.001)
    most = mass / 2 * 400 / 1600 * 8 / 7
    assert f"takes {most:.0f} kg" in front.summary


def test_a_rail_on_two_far_packers_fails(job: Any) -> None:
    """A soft, low rail over 1600."""
    platform = replace(job.design.platform, z1_mm=30.0)
    ends = tuple(packer for packer in job.installing.packers if packer.x_mm in {0.0, 1600.0})
    found = check_platform(
        replace(job.design, platform=platform), job.parts, replace(job.installing, packers=ends), job.brief
    )
    assert [finding.verdict for finding in found] == ["fail", "fail"]
    assert found[0].remedy == "Set a packer between these two."


def test_a_rail_without_packers_is_let_be(job: Any) -> None:
    """Nothing to reckon between."""
    assert check_platform(job.design, job.parts, replace(job.installing, packers=()), job.brief) == ()


def test_no_platform_no_finding(job: Any) -> None:
    """Boxes may stand on the floor."""
    assert check_platform(replace(job.design, platform=None), job.parts, job.installing, job.brief) == ()


def test_a_solid_top_moves(job: Any) -> None:
    """640 wide beech: 640 x 0.00431 x 6 = 16.55; slots 19.55 -> 19.5; held along its front, 16.55 + 2 -> 18.5 behind when dry."""
    top = replace(
        job.parts.part("C1"), role="worktop", name="oak top", wood="beech", pieces=5,
        outline=((0, 0), (1500, 0), (1500, 640), (0, 640)),
    )  # fmt: skip
    (finding,) = check_movement(PartList(parts=(top,), joints=()), job.brief)
    assert finding.demand == pytest.approx(16.55, abs=0.005)
    assert finding.verdict == "caution"
    assert "slots up to 19.5 mm long" in finding.remedy
    assert (
        "Leave 2 mm behind it, under a cover, if it is fitted at its dampest, 18.5 mm at its driest." in finding.remedy
    )


def test_boards_and_narrow_strips_do_not_move_enough_to_say(job: Any) -> None:
    """Plywood, and a 100 mm oak strip."""
    strip = replace(job.parts.part("C1"), wood="red-oak", outline=((0, 0), (900, 0), (900, 100), (0, 100)))
    assert check_movement(PartList(parts=(job.parts.part("C1"), strip), joints=()), job.brief) == ()


@pytest.mark.parametrize(("bevel", "verdict"), [(40.0, None), (47.0, None), (55.0, "caution"), (30.0, None)])
def test_the_saws_tilt(job: Any, bevel: float, verdict: str | None) -> None:
    """47 degrees is the saw's most; 55 is cut at 35 with the board on edge."""
    edges = (Edge(bevel_rad=math.radians(-bevel)), *job.parts.part("C1").edges[1:])
    found = check_saw(PartList(parts=(replace(job.parts.part("C1"), edges=edges),), joints=()), job.shop)
    assert [finding.verdict for finding in found] == ([verdict] if verdict else [])
    assert all("blade at 35.0 deg" in finding.remedy for finding in found)


def test_a_bevel_no_saw_setting_reaches_fails(job: Any) -> None:
    """A saw that does not tilt cannot cut the complement of 60 either."""
    shop = replace(job.shop, saw=replace(job.shop.saw, max_tilt_deg=20.0))
    edges = (Edge(bevel_rad=math.radians(60)), *job.parts.part("C1").edges[1:])
    (finding,) = check_saw(PartList(parts=(replace(job.parts.part("C1"), edges=edges),), joints=()), shop)
    assert finding.verdict == "fail"


@pytest.mark.parametrize(
    ("length", "width", "verdict"),
    [(900, 280, "pass"), (900.4, 279.6, "pass"), (903, 280, "caution"), (900, 277, "fail"), (905, 270, "fail")],
)
def test_built_sizes(job: Any, length: float, width: float, verdict: str) -> None:
    """Half a millimetre is the same; larger can be trimmed; smaller cannot."""
    facts = Facts(parts=(BuiltPart(number="C1", length_mm=length, width_mm=width),))
    (finding,) = check_built(job.parts, facts, job.brief)
    assert finding.verdict == verdict


def test_a_part_cut_as_its_inch_figures_say_is_as_planned(job: Any) -> None:
    """900 x 280 is 35.43 x 11.02 in, printed and so cut 35 3/8 x 11, to the marks below: nothing is cut again."""
    brief = replace(job.brief, units="inch", resolution=1 / 16)
    length, width = 35 + 3 / 8, 11
    facts = Facts(parts=(BuiltPart(number="C1", length_mm=length * 25.4, width_mm=width * 25.4),))
    (finding,) = check_built(job.parts, facts, brief)
    assert (finding.verdict, finding.remedy) == ("pass", "")
    assert finding.summary == 'Built 35 3/8" x 11"; planned 35 3/8" x 11", scribe left on.'


def test_a_built_part_the_plan_lacks(job: Any) -> None:
    """Left over from an earlier plan."""
    (finding,) = check_built(job.parts, Facts(parts=(BuiltPart(number="Z9", length_mm=1, width_mm=1),)), job.brief)
    assert (finding.verdict, finding.subject) == ("caution", "Z9")


def test_an_unmeasured_batch_is_a_question(job: Any) -> None:
    """EN 315 at 18 mm: +0.74, -0.94, as a mill's table prints; only stock in use is asked about."""
    (finding,) = check_batch(job.parts, job.shop, Facts(), job.brief)
    assert finding.verdict == "question"
    assert finding.worked == "t = 18.0: 17.06 to 18.74 mm"
    mdf = replace(job.shop, sheets=(replace(job.shop.sheets[0], wood="mdf"),))
    assert check_batch(job.parts, mdf, Facts(), job.brief)[0].summary == (
        "Reckoned at 18.00 mm. Housings and every inside width depend on it."
    )
    measured = Facts(thicknesses=(RealThickness(stock="ply-18", thickness_mm=17.6),))
    assert [each.verdict for each in check_batch(job.parts, job.shop, measured, job.brief)] == ["pass"]


def test_every_question_is_asked_until_it_is_answered(job: Any) -> None:
    """None passes, found is a caution with its note, unknown and silence are questions; nothing else is approved."""
    answers = (
        SiteQuestion(key="wiring", answer="none"),
        SiteQuestion(
            key="stove", answer="found", note="400 mm to the left", figures=(("distance", 400.0), ("asked", 300.0))
        ),
        SiteQuestion(key="pipes", answer="unknown"),
    )
    found = check_site(job.design, job.parts, replace(job.survey, questions=answers), job.brief)
    verdicts = {finding.subject: finding.verdict for finding in found}
    assert verdicts["wiring"] == "pass"
    assert verdicts["stove"] == "caution"
    assert verdicts["pipes"] == "question"
    assert all(verdicts[key] == "question" for key in question_keys() if key not in {"wiring", "stove", "pipes"})
    stove = next(finding for finding in found if finding.subject == "stove")
    assert "Found: 400 mm to the left." in stove.summary
    assert "local code" in stove.remedy


def test_what_the_user_adds_is_kept(job: Any) -> None:
    """An own question keeps its answer."""
    own = (SiteQuestion(key="piano", answer="found", note="on castors"),)
    found = check_site(job.design, job.parts, replace(job.survey, questions=own), job.brief)
    piano = next(finding for finding in found if finding.subject == "piano")
    assert (piano.verdict, piano.summary) == ("caution", "piano: found, on castors.")
    assert piano.remedy == "Settle it before anything is cut."


def test_questions_stand_once_and_each_defers(job: Any) -> None:
    """No caution of the tool's own approves anything."""
    assert len(set(question_keys())) == len(STANDARD_QUESTIONS)
    assert all(question.asks.endswith("?") and question.caution.endswith(".") for question in STANDARD_QUESTIONS)


def test_an_outside_wall_asks_for_air(job: Any) -> None:
    """Only when the wall is external."""
    outside = replace(job.survey, wall=WallBuild(outside=True))
    subjects = [finding.subject for finding in check_site(job.design, job.parts, outside, job.brief)]
    assert "outside wall" in subjects
    assert "outside wall" not in [each.subject for each in check_site(job.design, job.parts, job.survey, job.brief)]


def test_the_floor_load_by_hand_is_never_a_pass(job: Any) -> None:
    """102.388 kg x 9.81 over 1.606 x 0.3 m = 2084.7 Pa, 1.1 times 1.9 kPa."""
    finding = check_site(job.design, job.parts, job.survey, job.brief)[-1]
    assert (finding.topic, finding.verdict) == ("floor load", "question")
    assert finding.demand == pytest.approx(102.388 * 9.81 / (1.606 * 0.3) / 1000, rel=1e-4)
    # 102.388 x 9.81 / 1.606 m = 0.625 kN/m; a joist every 0.4 m carries 0.25 kN of it.
    assert "every 400 mm (the usual spacing) would carry 0.3 kN each" in finding.summary
    assert "nearly all of the 0.63 kN/m" in finding.summary
    assert finding.remedy.startswith("Find which way the joists run.")
    nothing = check_site(replace(job.design, boxes=()), job.parts, job.survey, job.brief)[-1]
    assert nothing.verdict == "pass"


def _floor(job: Any, answer: str, **figures: float) -> Any:
    """Return the floor's finding where the survey tells of its joists."""
    told = SiteQuestion(key="floor-structure", answer=answer, figures=tuple(figures.items()))  # type: ignore[arg-type]
    return check_site(job.design, job.parts, replace(job.survey, questions=(told,)), job.brief)[-1]


def test_joists_along_the_furniture_are_held_against_what_one_is_built_for(job: Any) -> None:
    """0.6254 kN/m on one joist; 40 psf is 1.9152 kPa, at 300 mm 0.5746 kN/m: 1.09 times. Two lie under 300 mm."""
    finding = _floor(job, "found", along=300.0)
    assert "run along it, every 300 mm: at most 2 lie under its depth" in finding.summary
    assert "nearly all of the 0.63 kN/m, 1.1 times the 0.57 kN/m" in finding.summary
    assert finding.worked.endswith("0.63 / (1.92 x 0.300) = 1.1 on a joist along")
    assert finding.verdict == "question"
    wide = _floor(job, "found", along=301.0)
    assert "at most one lies under its depth" in wide.summary


def test_joists_across_the_furniture_share_it(job: Any) -> None:
    """0.6254 x 0.6 m = 0.375 kN a joist; an answer of none says that they run across, unknown says nothing."""
    finding = _floor(job, "found", across=600.0)
    assert "every 600 mm each carries 0.4 kN of it, over the first 300 mm from the wall" in finding.summary
    assert finding.worked.endswith("0.63 x 0.600 = 0.38 kN a joist across")
    assert "Find" not in finding.remedy
    assert "run across it, by the survey: every 400 mm (the usual spacing)" in _floor(job, "none").summary
    assert "where they run along it" in _floor(job, "unknown").summary
    assert "where they run along it" in _floor(job, "found").summary


def test_a_part_turned_in_the_room_keeps_its_extent(job: Any) -> None:
    """A panel drawn from behind (u to the left) starts at its lowest x."""
    turned = replace(
        job.parts.part("C3"), frame=Frame(origin=(800.0, -6.0, 0.0), u=(-1.0, 0.0, 0.0), v=(0.0, 0.0, 1.0))
    )
    parts = replace(job.parts, parts=(turned,))
    hole = replace(HOLE, part="C3", left_mm=390, bottom_mm=300)
    survey = replace(job.survey, outlets=())
    found = check_wiring(job.design, parts, replace(job.installing, holes=(hole,)), survey, job.brief)
    assert [finding.topic for finding in found] == ["outlet", "outlet hole"]


def _one(job: Any, answer: SiteQuestion) -> Any:
    """Return the finding of one answered question."""
    found = check_site(job.design, job.parts, replace(job.survey, questions=(answer,)), job.brief)
    return next(finding for finding in found if finding.subject == answer.key)


@pytest.mark.parametrize("key", ["stove", "heater", "meter", "smoke-alarm"])
def test_what_stands_near_is_held_to_its_own_paper(job: Any, key: str) -> None:
    """Found without figures stays open; 610 of 450 is a caution; 400 of 450 fails by 50."""
    bare = _one(job, SiteQuestion(key=key, answer="found"))
    assert (bare.verdict, bare.summary.endswith("Still to be told: distance, asked.")) == ("question", True)
    half = _one(job, SiteQuestion(key=key, answer="found", figures=(("distance", 610.0),)))
    assert half.summary.endswith("Still to be told: asked.")
    far = _one(job, SiteQuestion(key=key, answer="found", figures=(("distance", 610.0), ("asked", 450.0))))
    assert (far.verdict, far.demand, far.limit) == ("caution", 450.0, 610.0)
    near = _one(job, SiteQuestion(key=key, answer="found", figures=(("distance", 400.0), ("asked", 450.0))))
    assert near.verdict == "fail"
    assert near.remedy.startswith("Move the furniture 50 mm away.")


@pytest.mark.parametrize(
    ("sill", "width", "height", "broken"),
    [
        (1000, 900, 700, ""),
        (1130, 900, 700, "its sill above"),
        (1000, 500, 1200, "narrower than"),
        (1000, 1000, 600, "lower than"),
        (1000, 510, 612, "smaller than 0.53 m2"),  # 0.312 m2 though both sides are enough
    ],
)
def test_an_escape_is_measured_against_the_code_that_was_read(
    job: Any, sill: float, width: float, height: float, broken: str
) -> None:
    """Sill 1118, 508 x 610, 0.53 m2: each is broken alone."""
    figures = (("sill", float(sill)), ("width", float(width)), ("height", float(height)))
    found = _one(job, SiteQuestion(key="escape-window", answer="found", figures=figures))
    assert found.verdict == ("fail" if broken else "caution")
    assert broken in found.summary


def test_low_glass_above_a_seat(job: Any) -> None:
    """300 is below 457, 500 is not; neither is approved."""
    low = _one(job, SiteQuestion(key="low-glass", answer="found", figures=(("height", 300.0),)))
    assert (low.verdict, low.remedy.startswith("Have it glazed with safety glass")) == ("caution", True)
    high = _one(job, SiteQuestion(key="low-glass", answer="found", figures=(("height", 500.0),)))
    assert "at or above" in high.summary


def test_a_cold_wall_by_an_independent_program(job: Any) -> None:
    """20 C and 55 % against 13 C: psychrolib's saturation pressures give 85.9 %, mould; 16 C dry; 8 C wet."""
    import psychrolib

    psychrolib.SetUnitSystem(psychrolib.SI)
    theirs = 55 * psychrolib.GetSatVapPres(20) / psychrolib.GetSatVapPres(13)
    told = (("room", 20.0), ("humidity", 55.0))
    cold = _one(job, SiteQuestion(key="cold-wall", answer="found", figures=(("surface", 13.0), *told)))
    assert cold.demand == pytest.approx(theirs, rel=1e-6)
    assert "damp enough for mould" in cold.summary
    dry = _one(job, SiteQuestion(key="cold-wall", answer="found", figures=(("surface", 16.0), *told)))
    assert "dry enough as it is" in dry.summary
    wet = _one(job, SiteQuestion(key="cold-wall", answer="found", figures=(("surface", 8.0), *told)))
    assert ": wet;" in wet.summary
    assert _one(job, SiteQuestion(key="cold-wall", answer="found")).verdict == "caution"


def test_cold_is_not_damp(job: Any) -> None:
    """Only damp makes boards creep more."""
    cold = replace(job.survey, questions=(SiteQuestion(key="cold-wall", answer="found"),))
    damp = replace(job.survey, questions=(SiteQuestion(key="damp", answer="found"),))
    assert (damp_found(cold), damp_found(damp)) == (False, True)
