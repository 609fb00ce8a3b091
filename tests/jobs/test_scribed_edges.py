"""A straightedge laid where furniture is scribed: its gaps come back on the scribing sheet and in the checks."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from nookwright.drawings.book import book
from nookwright.drawings.page import Text
from nookwright.drawings.page_check import faults
from nookwright.jobs import plan_job
from nookwright.plan import Plan, plan
from nookwright.stages.checks.scribing import check_scribing

GAPS = (0.0, 0.5, 1.5, 3.0, 4.0, 4.5, 4.0, 3.0, 1.5, 0.5, 0.0, 0.5)
"""Read every 100 mm along the back wall at level 2, 7 mm above the cupboard top. [mm]"""


@pytest.fixture(scope="module")
def folder(repository: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The alcove's example with a straightedge along its back wall."""
    place = tmp_path_factory.mktemp("scribe")
    for name in ("shop.yaml", "prices-timber-yard.yaml"):
        (place / name).write_text((repository / "examples" / name).read_text(encoding="utf-8"), encoding="utf-8")
    job = place / "alcove"
    job.mkdir()
    for path in (repository / "examples" / "alcove-records").glob("*.yaml"):
        text = path.read_text(encoding="utf-8")
        gaps = f"  gaps:\n    - back BL2 - BR2: {{every: 100, gaps: [{', '.join(map(str, GAPS))}]}}\nskirting: {{"
        (job / path.name).write_text(text.replace("skirting: {", gaps, 1), encoding="utf-8")
    return job


@pytest.fixture(scope="module")
def planned(folder: Path) -> Plan:
    """That job planned."""
    return plan_job(folder)


def test_the_gaps_read_are_the_gaps_told(planned: Plan) -> None:
    """Within the tool's 0.5 mm and the top's few millimetres from the line: at each place, less what the edge turns."""
    (line,) = [line for line in planned.installing.scribes if line.meets == "back wall"]
    assert line.start == "the left end"
    inner = [(gap.at_mm, gap.gap.value) for gap in line.gaps if 90 < gap.at_mm < 1150]
    assert [at for at, _ in inner] == pytest.approx([100.0 * i for i in range(1, 12)], abs=0.1)
    assert [gap for _, gap in inner] == pytest.approx(GAPS[1:], abs=0.9)
    assert all(gap.low_mm <= gap.gap.value <= gap.high_mm for gap in line.gaps)


def test_an_edge_nobody_laid_a_straightedge_at_has_no_sheet(repository: Path) -> None:
    """Two spots at its ends tell nothing of the wall between."""
    bare = plan_job(repository / "examples" / "landing-linen")
    assert bare.installing.scribes == ()
    assert not any(page.name.startswith("Scribed edges") for page in book(bare))


def test_the_sheet_shows_every_place_and_can_be_read(planned: Plan) -> None:
    """Each edge with its gap, least and most, and what is left on."""
    pages = [page for page in book(planned) if page.name.startswith("Scribed edges")]
    assert pages
    assert [fault for page in pages for fault in faults(page)] == []
    said = [item.text for page in pages for item in page.items if isinstance(item, Text)]
    assert "T1 cupboard top, edge c, to the back wall" in said
    start = said.index("At")
    assert said[start + 1 : start + 5] == ["0", "100", "200", "300"]


def test_what_is_left_on_is_held_against_the_widest_gap(planned: Plan) -> None:
    """It holds as planned; with less left on it is a caution, and with next to nothing it fails."""
    (line,) = [line for line in planned.installing.scribes if line.meets == "back wall"]
    likely, worst = max(gap.gap.value for gap in line.gaps), line.deepest.high_mm
    verdicts = []
    for left_on in (line.allowance_mm, (likely + worst) / 2, likely / 2):
        less = replace(planned.installing, scribes=(replace(line, allowance_mm=left_on),))
        (finding,) = check_scribing(less, planned.brief)
        verdicts.append(finding.verdict)
        assert finding.demand == worst
    assert verdicts == ["pass", "caution", "fail"]
    assert any(finding.topic == "scribing" for finding in planned.findings)


def test_places_are_round_in_inches_too(planned: Plan) -> None:
    """Every 4 inches."""
    brief = replace(planned.brief, units="inch", resolution=1 / 16)
    (line,) = [
        line
        for line in plan(planned.survey, brief, planned.shop, planned.facts).installing.scribes
        if line.meets == "back wall"
    ]
    assert [gap.at_mm / 25.4 for gap in line.gaps[:4]] == pytest.approx([0, 4, 8, 12], abs=0.01)
