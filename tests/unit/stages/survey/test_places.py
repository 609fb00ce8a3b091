"""Places for furniture: the room is turned to face the wall behind it, and nothing else of it changes."""

from __future__ import annotations

import math
from itertools import combinations

import pytest

from nookwright.stages.survey.free_plan import L_ROOM, free_shape
from nookwright.stages.survey.kind_table import HANDED, SHAPES, kind_shape
from nookwright.stages.survey.shape import laid_along

EVERY = [(kind, place.name) for kind, shape in SHAPES.items() for place in shape.places]


@pytest.mark.parametrize(("kind", "name"), EVERY)
def test_the_wall_behind_runs_along_x_from_the_origin(kind: str, name: str) -> None:
    """Its left end lies at 0, 0, its right end to the right, and it faces the front; distances are what they were."""
    shape = SHAPES[kind]
    place = next(one for one in shape.places if one.name == name)
    laid = laid_along(shape, place)
    left, right = (laid.columns[end].place for end in place.ends)
    assert left == pytest.approx((0.0, 0.0), abs=1e-6)
    assert right[0] > 0
    assert right[1] == pytest.approx(0.0, abs=1e-5)
    assert laid.walls[dict(place.roles)["back"]].facing == pytest.approx((0.0, -1.0), abs=1e-9)
    for one, other in combinations(shape.columns, 2):
        was = math.dist(shape.columns[one].place, shape.columns[other].place)
        assert math.dist(laid.columns[one].place, laid.columns[other].place) == pytest.approx(was, abs=1e-4)
    assert laid.datum == shape.origin
    assert all(laid.nominal_deg(corner) == pytest.approx(shape.nominal_deg(corner)) for corner in shape.corners)


@pytest.mark.parametrize(("kind", "name"), EVERY)
def test_side_walls_stand_out_from_the_wall_behind(kind: str, name: str) -> None:
    """So that each gives x as a function of how far out one is; the left one faces right, the right one left."""
    shape = SHAPES[kind]
    place = next(one for one in shape.places if one.name == name)
    laid = laid_along(shape, place)
    roles = dict(place.roles)
    for side, into in (("left", 1), ("right", -1)):
        if side in roles:
            assert laid.axes(roles[side]) == (0, 1, 2)
            assert laid.into_room(roles[side]) == into


def test_beyond_an_outside_corner_stands_no_wall() -> None:
    """Of the L, corner D turns outward: CD has no wall on its right, DE none on its left."""
    places = {place.name: dict(place.roles) for place in free_shape(L_ROOM).places}
    assert places["wall CD"] == {"back": "CD", "left": "BC"}
    assert places["wall DE"] == {"back": "DE", "right": "EF"}


def test_a_handed_room_s_place_changes_hands_with_it() -> None:
    """The corner under two slopes on the right: its wall is the right one."""
    assert "corner-two-slopes" in HANDED
    (place,) = kind_shape("corner-two-slopes", "right").places
    assert dict(place.roles) == {"back": "back", "right": "right", "slope": "right slope", "ceiling": "back slope"}
    assert place.ends == ("BL", "BR")
    assert place.fronts[-1] == "FR"
