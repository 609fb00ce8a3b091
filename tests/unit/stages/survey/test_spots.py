"""Spot names and what they lie on."""

from __future__ import annotations

import pytest

from nookwright.stages.inputs.survey import LevelReading, Survey, TapeReading
from nookwright.stages.survey.kinds import shape_of
from nookwright.stages.survey.spots import nearest_name, spot_called, spot_names, spots_used, surfaces_present


def test_spots_lie_on_the_surfaces_their_name_says() -> None:
    """A corner spot lies on three surfaces, one on a free end of the back wall on one."""
    shape = shape_of("corner-under-slope", "left")
    assert spot_called("BL0", shape).surfaces == ("back", "left", "floor")
    assert spot_called("BR1", shape).surfaces == ("back",)
    assert spot_called("FLS", shape).surfaces == ("left", "slope")
    assert spot_called("FR0", shape).surfaces == ("floor",)


def test_a_spot_in_mid_air_has_no_name() -> None:
    """Front right of a left corner has no wall to mark."""
    names = spot_names(shape_of("corner-under-slope", "left"), 2)
    assert "FR1" not in names
    assert {"FR0", "FRS", "BR1", "BR2", "FL2"} <= set(names)
    assert "BL3" not in names


@pytest.mark.parametrize(
    ("wrong", "right"), [("bl1", "BL1"), ("LB1", "BL1"), ("BL 1", "BL1"), ("BLO", "BL0"), ("xyz", "")]
)
def test_the_nearest_right_name_is_found(wrong: str, right: str) -> None:
    """Small letters, swapped letters, a blank, the letter O for nought."""
    assert nearest_name(wrong, spot_names(shape_of("alcove", "left"), 2)) == right


def test_an_optional_surface_exists_when_a_reading_touches_it() -> None:
    """By a spot on it, or by a tape square to it."""
    bare = Survey(kind="alcove", corner="left", heights_mm=(), readings=())
    assert "ceiling" not in surfaces_present(bare)
    for reading in (LevelReading(spot="BLT", above_mm=1), TapeReading(start="BL0", end="ceiling", length_mm=2400)):
        survey = Survey(kind="alcove", corner="left", heights_mm=(), readings=(reading,))
        assert "ceiling" in surfaces_present(survey)


def test_the_origin_is_always_among_the_spots() -> None:
    """Sorted by name, whatever the order of readings."""
    tape = TapeReading(start="BR1", end="BL1", length_mm=900)
    survey = Survey(kind="alcove", corner="left", heights_mm=(500,), readings=(tape,))
    assert [spot.name for spot in spots_used(survey)] == ["BL0", "BL1", "BR1"]
