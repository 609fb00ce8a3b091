"""Furniture and outlets past the end of what was measured, in the linen cupboard's room, open on the right."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from nookwright.files.job_folder import Job, read_job
from nookwright.stages.checks.reach import check_reach
from nookwright.stages.design.fit import fit
from nookwright.stages.room.standing import standing_room


@pytest.fixture(scope="module")
def linen(repository: Path) -> Job:
    """The example as read."""
    return read_job(repository / "examples" / "landing-linen")


def said(job: Job) -> list[tuple[str, str, str]]:
    """Return the verdict, subject and summary of each finding."""
    room = standing_room(job.survey, job.brief)
    design = fit(job.brief, room, job.shop)
    return [(each.verdict, each.subject, each.summary) for each in check_reach(design, room, job.brief)]


def test_what_is_measured_needs_no_word(linen: Job) -> None:
    """It ends at 1820 mm; BR stands 1822 mm from BL."""
    assert said(linen) == []


def test_furniture_past_the_last_spot_is_a_caution(linen: Job) -> None:
    """It ends at 1900 mm: 78 mm further, to 3 mm."""
    ((verdict, subject, summary),) = said(replace(linen, brief=replace(linen.brief, end_mm=1900.0)))
    assert (verdict, subject) == ("caution", "furniture")
    past = float(summary.removeprefix("It runs ").split(" mm past BR,")[0])
    assert past == pytest.approx(78.0, abs=3.0)


def test_an_outlet_typed_tenfold_is_a_caution(linen: Job) -> None:
    """4700 mm from the left instead of 470."""
    (outlet,) = linen.survey.outlets
    survey = replace(linen.survey, outlets=(replace(outlet, from_side_mm=4700.0),))
    ((verdict, subject, summary),) = said(replace(linen, survey=survey))
    assert (verdict, subject) == ("caution", outlet.name)
    assert "past BR, where the measured wall ends" in summary
