"""All checks together: nothing lost, worst first, and every source known."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

from nookwright.basics.findings import Finding
from nookwright.basics.measured import Measured
from nookwright.stages.checks.check import check
from nookwright.stages.checks.measuring import check_measuring
from nookwright.stages.inputs.facts import NOTHING_BUILT_YET
from nookwright.stages.inputs.survey import Tools
from nookwright.stages.room.room import Derived, Effect, GlobalTest, LeftOut, ReadingFit, Slip
from nookwright.trade.sources import SOURCES

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
    found = check_measuring(room)  # type: ignore[arg-type]
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
    whole, wavy, left_out = check_measuring(room)  # type: ignore[arg-type]
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
    found, _ = check_measuring(room)  # type: ignore[arg-type]
    assert found.summary == (
        "Read 1210.0 mm; the other readings say 1185.0. It looks like a slip of an inch. It may be tape BL1 - FR1 instead."
        " The width at level 1 is 1208.0 mm with it, 1185.0 without it."
    )
    assert found.remedy == (
        "Measure it again before anything is cut. Until then it counts; `use: no` in room.yaml leaves it out."
    )
