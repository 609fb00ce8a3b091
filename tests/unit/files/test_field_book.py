"""Gaps, offsets and tapes between surfaces as typed: read right, and refused with every problem at once, word for word."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from nookwright.basics.problems import InvalidInputError
from nookwright.files.job_folder import read_job
from nookwright.stages.inputs.survey import (
    EdgeReading,
    GapReading,
    Line,
    OffsetReading,
    PitchReading,
    Reading,
    Skirting,
    SpanReading,
    TapeReading,
)

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
        'gaps[3].from: found "left 40"; expected how far beside the spot, and which way, such as `400 right`.',
        "gaps[4].every: found both `every` and `at`; expected one of them: `every: 200`, or `at: [0, 250, 700]`.",
        'gaps[5]: found "left up"; expected a surface, a spot on it, and another spot or a way, such as `left BL1 up`.',
        'gaps[5].gaps: found "3"; expected a list of lengths from 0 mm to 150 mm.',
        "gaps[6]: found a list; expected distances with gaps, such as `{every: 200, gaps: [0, 2, 1]}`.",
        "gaps[7]: found nothing; expected distances with gaps, such as `{every: 200, gaps: [0, 2, 1]}`. "
        "Still to be measured: gaps right BR1 up.",
    ]


def readings(write_job: WriteJob, key: str, *lines: str) -> tuple[Reading, ...]:
    """Return the readings of a job with these lines under a key of their own, in place of the tapes."""
    text = f"  {key}:\n" + "".join(f"    - {line}\n" for line in lines)
    if key == "tape":
        before = "  tape:\n    - BL1 - BR1: 1184\n    - BL0 - right: 1180\n"
        return read_job(write_job("room.yaml", before, text)).survey.readings[: len(lines)]
    survey = read_job(write_job("room.yaml", "  tape:\n", text + "  tape:\n")).survey
    return tuple(one for one in survey.readings if isinstance(one, OffsetReading))


def test_a_tape_between_two_surfaces_is_read(write_job: WriteJob) -> None:
    """At a level, at a spot, beside it; a level alone is that of the origin's column."""
    first, second, third = readings(
        write_job,
        "tape",
        "left - right at 2: 1184",
        "Left to right at BL2, 30 cm out: {reads: 1180, sd: 2}",
        "floor - back slope at FM0, 400 right: [980, 981]",
    )[:3]
    assert first == SpanReading(
        first="left", second="right", start="BL2", length_mm=1184, aside="right", where=first.where
    )
    assert second == SpanReading(
        first="left", second="right", start="BL2", length_mm=1180, aside_mm=300, sd_mm=2, where=second.where
    )
    assert third == SpanReading(
        first="floor",
        second="back slope",
        start="FM0",
        length_mm=980,
        aside_mm=400,
        aside="right",
        where=third.where,
    )


def test_what_a_tape_touched_in_place_of_the_walls_is_read(write_job: WriteJob) -> None:
    """Skirting or studs, behind a spot or a surface, in any capitals."""
    found = readings(
        write_job,
        "tape",
        "BL0 - BR0 over skirting: 1150",
        "FL0 to left wall Over Skirting: 9",
        "BL1 - back to studs: 700",
    )
    assert [(one.end, one.over) for one in found if isinstance(one, TapeReading)] == [
        ("BR0", "skirting"),
        ("left wall", "skirting"),
        ("back", "studs"),
    ]
    survey = read_job(
        write_job(
            "room.yaml",
            "skirting: {height: 145, thickness: 20}",
            "skirting: {height: 145, thickness: 20, thickness sd: 3}",
        )
    ).survey
    assert (survey.skirting, survey.wall.board_sd_mm) == (
        Skirting(height_mm=145, thickness_mm=20, thickness_sd_mm=3),
        None,
    )
    survey = read_job(write_job("room.yaml", "wall: {kind: studs,", "wall: {kind: studs, board: 15,")).survey
    assert (survey.wall.board_mm, survey.wall.board_sd_mm) == (15, 1)


def test_a_clear_width_over_the_skirting_is_read(write_job: WriteJob) -> None:
    """With a place of its own before it or without."""
    found = readings(
        write_job, "tape", "left - right at BL0 over skirting: 1150", "left - right at BL0, 300 out over skirting: 1150"
    )
    assert [(one.over, one.aside_mm) for one in found if isinstance(one, SpanReading)] == [
        ("skirting", 0),
        ("skirting", 300),
    ]


def test_angles_of_slopes_are_read(write_job: WriteJob) -> None:
    """With a wall, with another slope; pitches as rise in run, and of a slope by its name. By hand: 3 in 4 is 36.87."""
    new = "  bevel:\n    - left/Back Slope: 130.2\n    - left slope / back slope: [120, 121]\n"
    new += "  slope:\n    - pitch: 225 in 300\n    - pitch back slope: 40\n    - left slope pitch: 41\n  bevel:\n"
    text = write_job("room.yaml", "  bevel:\n    - back/left at 1: 89.3\n", new.removesuffix("  bevel:\n"))
    found = read_job(text).survey.readings
    assert [(one.surfaces, one.angle_deg) for one in found if isinstance(one, EdgeReading)] == [
        (("left", "back slope"), 130.2),
        (("left slope", "back slope"), 120),
        (("left slope", "back slope"), 121),
    ]
    pitches = [(one.surface, one.pitch_deg) for one in found if isinstance(one, PitchReading)]
    assert pitches == [("slope", pytest.approx(36.8699, abs=1e-4)), ("back slope", 40), ("left slope", 41)]


def test_offsets_of_one_plumb_plane_after_another_are_read(write_job: WriteJob) -> None:
    """A wall named again is another set-up; what is told of all its offsets holds for each."""
    found = readings(
        write_job,
        "offsets",
        "left: {BL1: 62, BL3: [58, 59], sd: 2}",
        "back: {BL1: 40 mm, BR1: {reads: 41, use: no}}",
        "left: {FL1: 62, FL2: 5.8 cm, use: no}",
    )
    assert [(one.wall, one.spot, one.offset_mm, one.set_up, one.sd_mm, one.use) for one in found] == [  # type: ignore[union-attr]
        ("left", "BL1", 62, 1, 2, True),
        ("left", "BL3", 58, 1, 2, True),
        ("left", "BL3", 59, 1, 2, True),
        ("back", "BL1", 40, 1, None, True),
        ("back", "BR1", 41, 1, None, False),
        ("left", "FL1", 62, 2, None, False),
        ("left", "FL2", 58, 2, None, False),
    ]


def test_everything_wrong_with_offsets_and_spans_is_told_at_once(write_job: WriteJob) -> None:
    """Blank, odd words, no spots."""
    with pytest.raises(InvalidInputError) as caught:
        readings(write_job, "offsets", "left: {BL1: , BL3: x}", "back:", "right: 60", "left/right: {BL1: 1}")
    assert [line.partition(" readings.")[2] for line in str(caught.value).splitlines()] == [
        "offsets[1].BL1: found nothing; expected a length from 0 mm to 5000 mm. Still to be measured: offset left BL1.",
        'offsets[1].BL3: found "x"; expected a length such as 854, 854 mm, 85.4 cm, 33 5/8" or 2\' 9-5/8".',
        "offsets[2]: found nothing; expected spots with offsets, such as `{BL1: 62, BL3: 58}`. "
        "Still to be measured: offsets back.",
        'offsets[3]: found "60"; expected spots with offsets, such as `{BL1: 62, BL3: 58}`.',
        'offsets[4]: found "left/right"; expected a wall, such as `left`.',
    ]
    with pytest.raises(InvalidInputError) as caught:
        readings(write_job, "tape", "left - right at 2, out 300: 1184", "left - right at 2:")
    assert [line.partition(" readings.")[2] for line in str(caught.value).splitlines()] == [
        'tape[1]: found "out 300"; expected how far beside the spot, and which way, such as `400 right`.',
        "tape[2]: found nothing; expected a length from 1 mm to 30000 mm. "
        "Still to be measured: tape left - right at 2.",
    ]
