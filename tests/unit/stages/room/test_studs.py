"""Studs from their edges, worked by hand; and how true they come out when people find them as people do."""

from __future__ import annotations

import math

import numpy as np
import pytest

from nookwright.stages.inputs.survey import StudReading, WallBuild
from nookwright.stages.room.studs import stud_fixes


def found(*edges: tuple[float, float], spacing_mm: float | None = None, width_mm: float = 38.0) -> WallBuild:
    """Return a wall with both edges of each stud found."""
    readings = []
    for i, (left, right) in enumerate(edges, start=1):
        readings.append(StudReading(stud=i, part="left edge", from_left_mm=left))
        readings.append(StudReading(stud=i, part="right edge", from_left_mm=right))
    return WallBuild(kind="studs", stud_width_mm=width_mm, stud_readings=tuple(readings), stud_spacing_mm=spacing_mm)


def test_a_stud_is_centred_between_its_edges() -> None:
    """By hand: the mean of 381 and 421; two edges of 3 mm leave 3 / sqrt 2."""
    (stud,) = stud_fixes(found((381, 421)))
    assert stud.centre.value == pytest.approx(401)
    assert stud.centre.sd == pytest.approx(3 / math.sqrt(2))
    assert stud.wide_mm is None


def test_one_edge_alone_is_half_a_width_off() -> None:
    """By hand: 381 + 19; 3 mm for the edge, half of 1 mm for the width."""
    wall = WallBuild(kind="studs", stud_readings=(StudReading(stud=1, part="left edge", from_left_mm=381),))
    (stud,) = stud_fixes(wall)
    assert stud.centre.value == pytest.approx(400)
    assert stud.centre.sd == pytest.approx(math.hypot(3, 0.5))


def test_the_usual_spacing_draws_studs_to_it_and_leaves_others_alone() -> None:
    """Three at 400 make each other surer; one put in 130 mm beside the last stays where it was found."""
    edges = ((379, 419), (783, 817), (1181, 1221), (1311, 1351))
    loose, drawn = stud_fixes(found(*edges)), stud_fixes(found(*edges, spacing_mm=400))
    assert [stud.number for stud in drawn] == [1, 2, 3, 4]
    assert drawn[1].centre.sd < loose[1].centre.sd
    assert abs(drawn[1].centre.value - drawn[0].centre.value - 400) < abs(800 - 399 - 400)
    assert drawn[3].centre.value == pytest.approx(1331)


def test_a_stud_as_wide_as_two_is_told() -> None:
    """38 mm studs: edges 76 mm apart are 38 mm too many, 9 standard deviations of hypot(3, 3, 1) mm; 47 mm are 2."""
    odd, fair = stud_fixes(found((380, 456), (780, 827)))
    assert odd.wide_mm == 76
    assert fair.wide_mm is None


def test_an_odd_stud_does_not_pull_the_others() -> None:
    """By hand: 400 and 1200 are two spacings apart exactly; the one between, 78 wide, stays at its own middle, 829."""
    first, odd, third = stud_fixes(found((381, 419), (790, 868), (1181, 1219), spacing_mm=400))
    assert [first.centre.value, odd.centre.value, third.centre.value] == pytest.approx([400, 829, 1200])
    assert (first.wide_mm, odd.wide_mm, third.wide_mm) == (None, 78, None)


def test_centres_given_outright_stay() -> None:
    """As typed, 3 mm either way; a stud left out is not there."""
    studs = stud_fixes(WallBuild(kind="studs", stud_centres_mm=(372, 972)))
    assert [(stud.number, stud.centre.value, stud.centre.sd) for stud in studs] == [(1, 372, 3), (2, 972, 3)]
    wall = WallBuild(stud_readings=(StudReading(stud=1, part="centre", from_left_mm=380, use=False),))
    assert stud_fixes(wall) == ()


def test_studs_found_as_people_find_them_come_out_as_true_as_is_said() -> None:
    """200 walls of four studs set to 400 mm within 6 mm, edges found to 3 mm: 0.93 to 0.97 within two deviations."""
    chance, within = np.random.default_rng(3), []
    for _ in range(200):
        true = 390 + 400 * np.arange(4) + np.cumsum(chance.normal(0, 6, 4))
        edges = [tuple(centre + side + chance.normal(0, 3) for side in (-19, 19)) for centre in true]
        studs = stud_fixes(found(*edges, spacing_mm=400))  # type: ignore[arg-type]
        within += [abs(stud.centre.value - c) < 1.96 * stud.centre.sd for stud, c in zip(studs, true, strict=True)]
    assert 0.93 <= np.mean(within) <= 0.97
