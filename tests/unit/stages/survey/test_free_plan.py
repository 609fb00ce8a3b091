"""Rooms of any plan: their walls and corners come from the corners' rough angles, and what closes no room is refused."""

from __future__ import annotations

import pytest

from nookwright.basics.problems import InvalidInputError
from nookwright.stages.inputs.survey import PlanCorner, Survey, TapeReading
from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.survey.examine import examine
from nookwright.stages.survey.free_plan import L_ROOM, free_shape


def plan(**angles: float) -> tuple[PlanCorner, ...]:
    """Return corners with their angles."""
    return tuple(PlanCorner(name=name, angle_deg=angle) for name, angle in angles.items())


def test_a_triangle_of_60_degrees_stands_on_its_first_wall() -> None:
    """By hand: A at 0, 0, B to its right, C half way between them and 0.866 of a side towards the front."""
    shape = free_shape(plan(A=60, B=60, C=60))
    assert shape.columns["A"].place == (0, 0)
    side = shape.columns["B"].place[0]
    assert shape.columns["B"].place == pytest.approx((side, 0))
    assert shape.columns["C"].place == pytest.approx((side / 2, -side * 3**0.5 / 2))
    assert [shape.nominal_deg(corner) for corner in shape.corners] == pytest.approx([60, 60, 60])


def test_an_l_closes_with_its_outside_corner() -> None:
    """By hand: walls all as near to one length as closing allows are 4/3 and 2/3 of it; D is the outside corner."""
    shape = free_shape(L_ROOM)
    unit = shape.columns["B"].place[0] * 3 / 4
    expected = {"A": (0, 0), "B": (4, 0), "C": (4, -2), "D": (2, -2), "E": (2, -4), "F": (0, -4)}
    for name, (x, y) in expected.items():
        assert shape.columns[name].place == pytest.approx((x * unit / 3, y * unit / 3), abs=1e-3)
    assert shape.nominal_deg(next(corner for corner in shape.corners if corner.column == "D")) == pytest.approx(270)


def test_rough_angles_are_mended_so_that_the_plan_closes() -> None:
    """Four corners said to be 92 degrees are square ones."""
    shape = free_shape(plan(A=92, B=92, C=92, D=92))
    assert {round(shape.nominal_deg(corner), 6) for corner in shape.corners} == {90}


def test_a_skew_room_is_found_from_tapes_alone() -> None:
    """By hand: a trapezium 3000 at the back, 2000 at the front, 1500 deep on the left, square there."""
    far = (1500**2 + 1000**2) ** 0.5
    tapes = (
        ("A", "B", 3000),
        ("C", "D", 2000),
        ("D", "A", 1500),
        ("B", "C", far),
        ("A", "C", 2500),
        ("B", "D", 11.25e6**0.5),
    )
    readings = tuple(TapeReading(start=f"{a}0", end=f"{b}0", length_mm=float(size)) for a, b, size in tapes)
    survey = Survey(
        kind="free-plan", corner="left", heights_mm=(), readings=readings, plan=plan(A=90, B=60, C=120, D=90)
    )
    room = reconcile(survey)
    for name, place in {"B0": (3000, 0), "C0": (2000, -1500), "D0": (0, -1500)}.items():
        found = room.spot(name)
        assert found is not None
        assert found.xyz[:2] == pytest.approx(place, abs=1)
    corner = next(one for one in room.derived if one.name == "corner B at the floor")
    assert corner.measured.value == pytest.approx(56.31, abs=0.1)  # atan(1500 / 1000)


@pytest.mark.parametrize(
    ("corners", "sentence"),
    [
        ((), "corners: found 0 corners; expected three or more, in order round the room, left to right as you face the walls."),
        (
            plan(A=90, B=90, C=90),
            "corners: found angles that add up to 270 deg; expected about 180 deg, as a room of 3 corners has. "
            "An outside corner counts more than 180; is one left out?",
        ),
        (plan(A=60, b=60, C=60), 'corners: found corner "b"; expected one capital letter, not S or T, each once.'),
        (plan(A=60, T=60, C=60), 'corners: found corner "T"; expected one capital letter, not S or T, each once.'),
    ],
)  # fmt: skip
def test_what_makes_no_room_is_refused(corners: tuple[PlanCorner, ...], sentence: str) -> None:
    """Word for word."""
    with pytest.raises(InvalidInputError) as caught:
        examine(Survey(kind="free-plan", corner="left", heights_mm=(), readings=(), plan=corners))
    assert str(caught.value) == sentence


def test_corners_in_another_kind_are_refused() -> None:
    """An alcove's corners have their own names."""
    with pytest.raises(InvalidInputError) as caught:
        examine(Survey(kind="alcove", corner="left", heights_mm=(), readings=(), plan=plan(A=60, B=60, C=60)))
    assert str(caught.value) == "corners: found corners; expected none in a room of this kind."
