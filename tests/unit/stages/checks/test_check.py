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
from nookwright.stages.room.room import Derived, GlobalTest, ReadingFit
from nookwright.trade.sources import SOURCES

TOLD = Finding(topic="fit", subject="left case", verdict="fail", summary="It does not fit.")


def _all(job: Any) -> tuple[Finding, ...]:
    """Return every finding of the small job, with one of the design's own."""
    design = replace(job.design, findings=(TOLD,))
    agrees = GlobalTest(statistic=3.0, limit=9.5, dof=4, passed=True)
    room = SimpleNamespace(survey=job.survey, fits=(), derived=(), global_test=agrees, has=lambda _surface: False)
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
    room = SimpleNamespace(fits=(slip,), derived=(lean,), global_test=test)
    found = check_measuring(room)  # type: ignore[arg-type]
    assert [(finding.subject, finding.verdict) for finding in found] == [
        ("tape BL1 - BR1", "fail"),
        ("all readings", "caution"),
        ("lean of left", "caution"),
    ]
    assert found[0].worked == "10.0 / (1.00 x sqrt(0.25)) = 20.0"
    assert found[2].remedy == "Plumb the left wall."
