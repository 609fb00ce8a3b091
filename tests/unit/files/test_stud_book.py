"""Studs and outlets as typed: read right, and refused word for word."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from nookwright.basics.problems import InvalidInputError
from nookwright.files.job_folder import read_job

WriteJob = Callable[..., Path]
OLD = "wall: {kind: studs, studs: [372, 972]}"


def test_edges_and_centres_of_studs_are_read(write_job: WriteJob) -> None:
    """From the left; a stud may carry its own spread or be left out; the spacing is a belief."""
    new = (
        "wall: {kind: studs, stud edges: [381 to 419, center 80 cm, {reads: right 1219, sd: 1, use: no}], spacing: 400}"
    )
    wall = read_job(write_job("room.yaml", OLD, new)).survey.wall
    assert [(one.stud, one.part, one.from_left_mm, one.sd_mm, one.use, one.typed) for one in wall.stud_readings] == [
        (1, "left edge", 381, None, True, "381"),
        (1, "right edge", 419, None, True, "419"),
        (2, "centre", 800, None, True, "80 cm"),
        (3, "right edge", 1219, 1, False, "1219"),
    ]
    assert (wall.stud_spacing_mm, wall.stud_centres_mm) == (400, ())


def test_an_outlet_may_be_measured_from_two_references(write_job: WriteJob) -> None:
    """From the wall's other end, and from a mark, below it with a minus."""
    new = "distance: 430, other distance: 755, mark: 2, above mark: -598,"
    (outlet,) = read_job(write_job("room.yaml", "distance: 430,", new)).survey.outlets
    assert (outlet.from_side_mm, outlet.from_other_side_mm, outlet.mark, outlet.above_mark_mm) == (430, 755, 2, -598)
    (outlet,) = read_job(write_job()).survey.outlets
    assert (outlet.from_other_side_mm, outlet.mark) == (None, None)


def test_everything_wrong_with_studs_is_told_at_once(write_job: WriteJob) -> None:
    """Words, blanks, edges the wrong way round, both ways of telling."""
    new = "wall: {kind: studs, studs: [372], stud edges: [381, '', 419 to 381, 38x to 419, left 99999, [1]]}"
    with pytest.raises(InvalidInputError) as caught:
        read_job(write_job("room.yaml", OLD, new))
    wanted = "both edges of a stud, such as `381 to 419`, or `left 381`, `right 419`, `centre 400`"
    assert [line.partition(" wall.")[2] for line in str(caught.value).splitlines()] == [
        "stud edges: found both `studs` and `stud edges`; expected one of them.",
        f'stud edges[1]: found "381"; expected {wanted}.',
        f"stud edges[2]: found nothing; expected {wanted}. Fill it in, or take the line out.",
        'stud edges[3]: found "419 to 381"; expected the left edge first, then the right one.',
        'stud edges[4]: found "38x"; expected a length such as 854, 854 mm, 85.4 cm, 33 5/8" or 2\' 9-5/8".',
        'stud edges[5]: found "99999"; expected a length from 0 mm to 30000 mm.',
        f"stud edges[6]: found a list; expected {wanted}.",
    ]
