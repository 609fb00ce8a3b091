"""Where a straightedge lies: by hand on upright, level and slanted surfaces."""

from __future__ import annotations

import numpy as np
import pytest

from nookwright.stages.inputs.survey import GapReading, Line, Survey
from nookwright.stages.survey.kinds import shape_of
from nookwright.stages.survey.lines import along, ways_along
from nookwright.stages.survey.spoken import told
from nookwright.stages.survey.unknowns import Station, unknowns_of


def test_the_ways_along_a_surface() -> None:
    """Nothing runs up a floor; up a slope is its steepest rise."""
    alcove, corner = shape_of("alcove", "left"), shape_of("corner-under-slope", "left")
    assert ways_along("back", alcove) == ("right", "left", "up", "down")
    assert ways_along("left", alcove) == ("back", "out", "up", "down")
    assert ways_along("floor", alcove) == ("right", "left", "back", "out")
    assert set(ways_along("slope", corner)) == {"right", "left", "back", "out", "up", "down"}


def test_up_a_leaning_wall_begins_beside_its_spot() -> None:
    """By hand: x = 5 + 0.75 z; up it each 1000 mm go 800 mm up and 600 mm in. It begins 200 mm further out."""
    line = Line(surface="left", start="BL0", towards="up", aside_mm=200, aside="out")
    found = along(
        line,
        np.array([0.0, 1000.0]),
        axes=(0, 1, 2),
        start=np.array([5.0, 0, 0]),
        end=None,
        plane=np.array([5.0, 0, 0.75]),
    )
    assert found == pytest.approx(np.array([[5, -200, 0], [605, -200, 800]]))


def test_up_a_slope_is_its_steepest_rise() -> None:
    """By hand: z = 900 - 0.75 x falls to the right, so up it is to the left: 800 mm for each 1000 mm."""
    line = Line(surface="slope", start="BRS", towards="up")
    found = along(
        line,
        np.array([1000.0]),
        axes=(2, 0, 1),
        start=np.array([800.0, 0, 300]),
        end=None,
        plane=np.array([900, -0.75, 0]),
    )
    assert found == pytest.approx(np.array([[0, 0, 900]]))


def test_towards_another_spot() -> None:
    """By hand: a 3-4-5 line across a flat floor."""
    line = Line(surface="floor", start="BL0", towards="FR0")
    ends = np.array([0.0, 0, 0]), np.array([800.0, -600, 0])
    found = along(line, np.array([500.0]), axes=(2, 0, 1), start=ends[0], end=ends[1], plane=np.zeros(3))
    assert found == pytest.approx(np.array([[400, -300, 0]]))


def test_one_place_read_twice_is_one_unknown_and_each_laying_has_its_own() -> None:
    """Three places; two layings, each with its stand-off and its turn; five of the level and the tape; two spots."""
    line = Line(surface="left", start="BL0", towards="BL1")
    gaps = [GapReading(line=line, at_mm=at, gap_mm=1, set_up=up) for up in (1, 2) for at in (300.0, 0.0, 600.0)]
    unknowns = unknowns_of(Survey(kind="alcove", corner="left", heights_mm=(900,), readings=tuple(gaps)))
    assert unknowns.stations == tuple(Station(line=line, at_mm=at) for at in (0.0, 300.0, 600.0))
    assert unknowns.count == 3 * 2 + 3 * 4 + 3 + 2 * 2 + 5
    places = [unknowns.station(station) for station in unknowns.stations]
    places += [unknowns.set_up(one.name) for one in unknowns.set_ups]
    assert places == list(range(18, 25))


def test_a_gap_is_said_as_it_was_typed() -> None:
    """With the line, the distance, and which laying it was."""
    line = Line(surface="back", start="BL1", towards="up", aside_mm=400, aside="right")
    assert told(GapReading(line=line, at_mm=600, gap_mm=1)) == "gap back BL1 up, 400 mm right, at 600 mm"
    line = Line(surface="left", start="BL1", towards="BL3")
    gap = GapReading(line=line, at_mm=304.8, gap_mm=1, at_typed="12 in", set_up=2)
    assert told(gap) == "gap left BL1 - BL3 at 12 in, edge laid a second time"
