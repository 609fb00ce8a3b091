"""Gap profiles as typed: read right, and refused with every problem at once, word for word."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from nookwright.basics.problems import InvalidInputError
from nookwright.files.job_folder import read_job
from nookwright.stages.inputs.survey import GapReading, Line

WriteJob = Callable[..., Path]
BEFORE = "  bevel:\n"


def gaps(write_job: WriteJob, *lines: str) -> list[GapReading]:
    """Return the gap readings of a job with these lines under `gaps`."""
    text = "  gaps:\n" + "".join(f"    - {line}\n" for line in lines)
    readings = read_job(write_job("room.yaml", BEFORE, text + BEFORE)).survey.readings
    return [reading for reading in readings if isinstance(reading, GapReading)]


def refusal(write_job: WriteJob, *lines: str) -> list[str]:
    """Return what is said of those lines."""
    with pytest.raises(InvalidInputError) as caught:
        gaps(write_job, *lines)
    return [line.partition(" readings.")[2] for line in str(caught.value).splitlines()]


def test_gaps_every_so_far_are_read(write_job: WriteJob) -> None:
    """Each keeps its place, its text, whether it counts, and its own spread."""
    found = gaps(write_job, "left BL1 up: {every: 200, gaps: [0, 1.5, {reads: 9, use: no}, -, 3 mm], sd: 0.8}")
    assert [(gap.at_mm, gap.gap_mm, gap.use, gap.sd_mm) for gap in found] == [
        (0, 0, True, 0.8),
        (200, 1.5, True, 0.8),
        (400, 9, False, 0.8),
        (800, 3, True, 0.8),
    ]
    assert {gap.line for gap in found} == {Line(surface="left", start="BL1", towards="up")}
    assert (found[1].typed, found[1].at_typed, str(found[2].where)) == (
        "1.5",
        "200 mm",
        "room.yaml:14:48 readings.gaps[1].gaps[3]",
    )


def test_nothing_between_two_commas_is_told(write_job: WriteJob) -> None:
    """A list cannot hold a blank: `-` stands for a place that could not be read."""
    with pytest.raises(InvalidInputError) as caught:
        gaps(write_job, "left BL1 up: {every: 200, gaps: [0, , 1]}")
    assert str(caught.value) == "room.yaml:14:43: found nothing between two commas; expected a value between them."


def test_gaps_at_uneven_places_between_spots_and_beside_one(write_job: WriteJob) -> None:
    """The same line a second time is another laying."""
    first, *_, last = gaps(
        write_job,
        "left slope BLS to BRS: {from: 400 right, at: [0, 350, 0.7 m], gaps: [0, 1, 2]}",
        "left slope BLS - BRS: {from: 40 cm right, at: [0, 350, 700], gaps: [0, 1, 2]}",
    )
    assert (
        first.line == Line(surface="left slope", start="BLS", towards="BRS", aside_mm=400, aside="right") == last.line
    )
    assert (first.set_up, last.set_up, last.at_mm, last.at_typed) == (1, 2, 700, "700 mm")


def test_everything_wrong_with_gaps_is_told_at_once(write_job: WriteJob) -> None:
    """Blank stations, too few distances, odd words, no distances, no list."""
    assert refusal(
        write_job,
        "left BL1 up: {every: 200, gaps: [0, '', 2x, 300]}",
        "left BL1 up: {at: [0, 200], gaps: [0, 1, 2]}",
        "left BL1 up: {gaps: [0, 1, 2], from: left 40}",
        "left BL1 up: {every: 200, at: [0, 200, 400], gaps: [0, 1, 2]}",
        "left up: {every: 200, gaps: 3}",
        "left BL1 up: [0, 1, 2]",
        "right BR1 up:",
    ) == [
        "gaps[1].gaps[2]: found nothing; expected a length from 0 mm to 150 mm. "
        "Still to be measured: gap left BL1 up at 200 mm.",
        'gaps[1].gaps[3]: found "2x"; expected a length such as 854, 854 mm, 85.4 cm, 33 5/8" or 2\' 9-5/8".',
        'gaps[1].gaps[4]: found "300"; expected a length from 0 mm to 150 mm.',
        "gaps[2].at: found 2 distances for 3 gaps; expected as many distances as gaps.",
        "gaps[3].every: found no distances; expected `every: 200`, or `at: [0, 250, 700]`.",
        'gaps[3].from: found "left 40"; expected how far beside the spot the edge begins, such as `400 right`.',
        "gaps[4].every: found both `every` and `at`; expected one of them: `every: 200`, or `at: [0, 250, 700]`.",
        'gaps[5]: found "left up"; expected a surface, a spot on it, and another spot or a way, such as `left BL1 up`.',
        'gaps[5].gaps: found "3"; expected a list of lengths from 0 mm to 150 mm.',
        "gaps[6]: found a list; expected distances with gaps, such as `{every: 200, gaps: [0, 2, 1]}`.",
        "gaps[7]: found nothing; expected distances with gaps, such as `{every: 200, gaps: [0, 2, 1]}`. "
        "Still to be measured: gaps right BR1 up.",
    ]
