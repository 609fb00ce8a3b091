"""All checks together: nothing lost, worst first, and every source known."""

from __future__ import annotations

import re
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

from nookwright.basics.findings import Finding
from nookwright.basics.measured import Measured
from nookwright.stages.checks import said
from nookwright.stages.checks.check import check
from nookwright.stages.checks.measuring import check_measuring
from nookwright.stages.inputs.facts import NOTHING_BUILT_YET
from nookwright.stages.inputs.survey import SiteQuestion, Tools
from nookwright.stages.room.room import Derived, Effect, GlobalTest, LeftOut, ReadingFit, Slip
from nookwright.trade.sources import SOURCES

from .conftest import BRIEF  # type: ignore[import-not-found]

SI = re.compile(r"\d ?(N|kN|kg|kPa|Pa|N/mm2|kN/m|mm/m|mm|cm3|g|C|m2|m)\b")
"""A figure with a unit that readers of inches do not use."""

FOUND = (
    SiteQuestion(key="stove", answer="found", figures=(("distance", 100.0), ("asked", 300.0))),
    SiteQuestion(key="escape-window", answer="found", figures=(("sill", 1200.0), ("width", 500.0), ("height", 600.0))),
    SiteQuestion(key="low-glass", answer="found", figures=(("height", 300.0),)),
    SiteQuestion(key="cold-wall", answer="found", figures=(("surface", 11.0),)),
)

TOLD = Finding(topic="fit", subject="left case", verdict="fail", summary="It does not fit.")


def _all(job: Any) -> tuple[Finding, ...]:
    """Return every finding of the small job, with one of the design's own."""
    design = replace(job.design, findings=(TOLD,))
    agrees = GlobalTest(statistic=3.0, limit=9.5, dof=4, passed=True)
    room = SimpleNamespace(
        profile=lambda _, line: tuple(Measured(value=0.0, sd=1.0) for _ in line),
        survey=job.survey,
        fits=(),
        derived=(),
        global_test=agrees,
        waviness_mm=2.0,
        left_out=(),
        outlets=(),
        studs=(),
        has=lambda _surface: False,
        ends=("BL", "BR"),
        spots=(),
    )
    return check(design, job.parts, job.installing, room, job.brief, job.shop, NOTHING_BUILT_YET)  # type: ignore[arg-type]


def test_the_designs_own_findings_come_through(job: Any) -> None:
    """What fitting found is printed with the rest, among the fails."""
    found = _all(job)
    assert found.index(TOLD) < sum(finding.verdict == "fail" for finding in found)


def test_worst_first(job: Any) -> None:
    """Fail, caution, question, pass."""
    order = ["fail", "caution", "question", "pass"]
    verdicts = [finding.verdict for finding in _all(job)]
    assert verdicts == sorted(verdicts, key=order.index)
    assert set(verdicts) == set(order)


def test_the_same_job_gives_the_same_findings(job: Any) -> None:
    """Byte for byte."""
    assert _all(job) == _all(job)


def test_every_finding_can_be_argued_with(job: Any) -> None:
    """A number comes with its unit and formula or source; every source is in the list; trouble comes with a cure."""
    known = {source.key for source in SOURCES}
    for finding in _all(job):
        if finding == TOLD:
            continue
        assert set(finding.source_keys) <= known, finding
        assert finding.summary.endswith((".", "?")), finding
        if finding.demand is not None:
            assert finding.unit or finding.formula, finding
        if finding.verdict in {"fail", "caution"}:
            assert finding.remedy, finding


def test_readings_that_disagree_are_told_before_anything_is_cut() -> None:
    """A slip fails, the whole is a caution, and an open figure names the reading that fixes it."""
    slip = ReadingFit(
        text="tape BL1 - BR1", unit="mm", read=1210, adjusted=1200, sd=1, redundancy=0.25, w=20, suspect=True
    )
    lean = Derived(
        name="lean of left", unit="mm/m", measured=Measured(value=0, sd=5), fixed=False, advice="Plumb the left wall."
    )
    test = GlobalTest(statistic=400.0, limit=9.5, dof=4, passed=False)
    survey = SimpleNamespace(tools=Tools())
    room = SimpleNamespace(
        survey=survey,
        fits=(slip,),
        derived=(lean,),
        global_test=test,
        waviness_mm=2.0,
        left_out=(),
        outlets=(),
        studs=(),
    )
    found = check_measuring(room, BRIEF)  # type: ignore[arg-type]
    assert [(finding.subject, finding.verdict) for finding in found] == [
        ("tape BL1 - BR1", "fail"),
        ("all readings", "caution"),
        ("lean of left", "caution"),
    ]
    assert found[0].worked == "10.0 / (1.00 x sqrt(0.25)) = 20.0"
    assert found[2].remedy == "Plumb the left wall."


def test_wavy_walls_and_readings_left_out_are_told() -> None:
    """A caution each: 4 mm found where 2 were given, and a reading that the user took out of the reckoning."""
    test = GlobalTest(statistic=4.0, limit=9.5, dof=4, passed=True)
    out = LeftOut(text="tape BL1 - BR1", unit="mm", read=1210, says=Measured(value=1200, sd=2))
    room = SimpleNamespace(
        survey=SimpleNamespace(tools=Tools()),
        fits=(),
        derived=(),
        global_test=test,
        waviness_mm=4.0,
        left_out=(out,),
        outlets=(),
        studs=(),
    )
    whole, wavy, left_out = check_measuring(room, BRIEF)  # type: ignore[arg-type]
    assert (whole.verdict, wavy.verdict, left_out.verdict) == ("pass", "caution", "caution")
    assert (wavy.demand, wavy.limit) == (4.0, 2.0)
    assert left_out.summary == "Left out by you: read 1210.0 mm; the room says 1200.0 mm."


def test_a_slip_is_told_with_its_kind_and_what_it_does() -> None:
    """Word for word."""
    effect = Effect(
        name="width at level 1", unit="mm", with_it=Measured(value=1208, sd=1), without_it=Measured(value=1185, sd=1)
    )
    slip = Slip(error=Measured(value=25, sd=2), likely=("an inch",), or_else=("tape BL1 - FR1",), effects=(effect,))
    fit = ReadingFit(
        text="tape BL1 - BR1", unit="mm", read=1210, adjusted=1200, sd=1, redundancy=0.25, w=20, suspect=True, slip=slip
    )
    test = GlobalTest(statistic=400.0, limit=9.5, dof=4, passed=True)
    room = SimpleNamespace(
        survey=SimpleNamespace(tools=Tools()),
        fits=(fit,),
        derived=(),
        global_test=test,
        waviness_mm=2.0,
        left_out=(),
        outlets=(),
        studs=(),
    )
    found, _ = check_measuring(room, BRIEF)  # type: ignore[arg-type]
    assert found.summary == (
        "Read 1210.0 mm; the other readings say 1185.0 mm. It looks like a slip of an inch. It may be tape BL1 - FR1 instead."
        " The width at level 1 is 1208.0 mm with it, 1185.0 mm without it."
    )
    assert found.remedy == (
        "Measure it again before anything is cut. Until then it counts; `use: no` in room.yaml leaves it out."
    )


def test_who_reads_inches_reads_pounds(job: Any) -> None:
    """Sentences and cures say lengths, forces, masses, stresses, falls and warmth in inches and pounds."""
    brief = replace(BRIEF, units="inch", resolution=1 / 16, climate=None)
    survey = replace(job.survey, questions=FOUND, wall=replace(job.survey.wall, outside=True))
    inches = replace(job, brief=brief, survey=survey)
    told = {finding.topic: f"{finding.summary} {finding.remedy}" for finding in _all(inches)}
    assert len(told) >= 15
    for text in told.values():
        # One caution tells its code's figures both ways.
        both = text.replace("150 mm (6 in)", "").replace("300 mm (12 in)", "").replace("6 mm (1/4 in)", "")
        assert not SI.search(both), text
    assert "lb along" not in told["floor load"]
    assert "lb/ft along the wall" in told["floor load"]
    assert "lbf" in told["wall fixings"]


def test_conversions_by_hand() -> None:
    """One pound of force is 4.448 N, one psi 0.006895 N/mm2, one lb/ft2 0.04788 kPa, one lb/ft 0.014594 kN/m."""
    inches, metric = replace(BRIEF, units="inch", resolution=1 / 16), BRIEF
    assert [said.force(444.8, each) for each in (metric, inches)] == ["445 N", "100 lbf"]
    assert [said.great_force(4448.0, each) for each in (metric, inches)] == ["4.4 kN", "1000 lbf"]
    assert [said.mass(45.36, each) for each in (metric, inches)] == ["45 kg", "100 lb"]
    assert [said.small_mass(56.7, each) for each in (metric, inches)] == ["57 g", "2.0 oz"]
    assert [said.stress(6.895, each) for each in (metric, inches)] == ["6.89 N/mm2", "1000 psi"]
    assert [said.pressure(4.788, each) for each in (metric, inches)] == ["4.8 kPa", "100 lb/ft2"]
    assert [said.along(1.4594, each) for each in (metric, inches)] == ["1.46 kN/m", "100 lb/ft"]
    assert [said.slope(5.0, each) for each in (metric, inches)] == ["5.0 mm/m", "0.060 in/ft"]
    assert [said.warmth(20.0, each) for each in (metric, inches)] == ["20 C", "68 F"]
    assert [said.area(0.53, each) for each in (metric, inches)] == ["0.53 m2", "5.7 ft2"]
    assert [said.reading(1003.2, "mm", each) for each in (metric, inches)] == ["1003.2 mm", '39 1/2"']
    assert said.reading(88.4, "deg", inches) == "88.4 deg"
