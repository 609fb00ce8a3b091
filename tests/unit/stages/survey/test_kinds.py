"""The kinds of room."""

from __future__ import annotations

import pytest

from nookwright.stages.inputs.survey import RoomKind, Side
from nookwright.stages.survey.kinds import shape_of


@pytest.mark.parametrize(
    ("kind", "corner", "surfaces", "optional", "walls_of_right_back", "tops", "low"),
    [
        ("alcove", "left", {"floor", "back", "left", "right"}, {"ceiling"}, ("back", "right"), {"T"}, None),
        ("corner-under-slope", "left", {"floor", "back", "left", "slope"}, {"ceiling"}, ("back",), {"S", "T"}, None),
        (
            "corner-under-slope",
            "right",
            {"floor", "back", "right", "slope"},
            {"ceiling"},
            ("back", "right"),
            {"S", "T"},
            None,
        ),
        ("under-stair", "left", {"floor", "back", "right", "slope"}, set(), ("back", "right"), {"S"}, "left"),
        ("under-stair", "right", {"floor", "back", "left", "slope"}, set(), ("back",), {"S"}, "right"),
    ],
)
def test_each_kind_has_its_surfaces_and_columns(
    kind: RoomKind, corner: Side, surfaces: set[str], optional: set[str],
    walls_of_right_back: tuple[str, ...], tops: set[str], low: Side | None,
) -> None:  # fmt: skip
    """Surfaces, walls at the back right, tops, and the low side under a stair."""
    shape = shape_of(kind, corner)
    assert set(shape.surfaces) == surfaces
    assert set(shape.optional) == optional
    assert shape.columns["BR"].walls == walls_of_right_back
    assert shape.columns["FL"].place[1] < 0
    assert set(shape.tops) == tops
    rises = {slope.rises for slope in shape.slopes.values()}
    assert rises == ({{"left": 1, "right": -1}.get(low or "", 0)} if "slope" in surfaces else set())
