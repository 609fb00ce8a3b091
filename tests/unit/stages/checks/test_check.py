"""All checks together: nothing lost, worst first, and every source known."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

from nookwright.basics.findings import Finding
from nookwright.stages.checks.check import check
from nookwright.stages.inputs.facts import NOTHING_BUILT_YET
from nookwright.trade.sources import SOURCES

TOLD = Finding(topic="fit", subject="left case", verdict="fail", summary="It does not fit.")


def _all(job: Any) -> tuple[Finding, ...]:
    """Return every finding of the small job, with one of the design's own."""
    design = replace(job.design, findings=(TOLD,))
    room = SimpleNamespace(survey=job.survey)
    return check(design, job.parts, job.installing, room, job.brief, job.shop, NOTHING_BUILT_YET)  # type: ignore[arg-type]


def test_the_designs_own_findings_come_through_first(job: Any) -> None:
    """What fitting found is printed with the rest."""
    assert _all(job)[0] == TOLD


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
    for finding in _all(job)[1:]:
        assert set(finding.source_keys) <= known, finding
        assert finding.summary.endswith((".", "?")), finding
        if finding.demand is not None:
            assert finding.unit, finding
        if finding.verdict in {"fail", "caution"}:
            assert finding.remedy, finding
