"""Asking the room where its surfaces are."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
import pytest

from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.room.room import Room
from rooms_for_tests import Reader, alcove_readings, crooked_alcove, crooked_slope, slope_readings, survey_of


@pytest.fixture(scope="module")
def alcove() -> Room:
    """Return a crooked alcove."""
    rng = np.random.default_rng(21)
    return reconcile(survey_of(Reader(crooked_alcove(rng), rng), alcove_readings))


@pytest.fixture(scope="module")
def attic() -> Room:
    """Return a crooked corner under a slope."""
    rng = np.random.default_rng(22)
    return reconcile(survey_of(Reader(crooked_slope(rng), rng), slope_readings))


def test_a_surface_passes_close_by_its_spots(alcove: Room) -> None:
    """Within the grain of the plaster, and about as sure as the spot itself."""
    for name, surface, (w, p, q) in (
        ("FL2", "left", (0, 1, 2)),
        ("BR3", "back", (1, 0, 2)),
        ("FR0", "floor", (2, 0, 1)),
    ):
        spot = alcove.spot(name)
        assert spot is not None
        found = alcove.at(surface, spot.xyz[p], spot.xyz[q])
        assert found.value == pytest.approx(spot.xyz[w], abs=0.5)
        assert found.sd <= math.hypot(spot.sd[w], 1.0)


def test_between_two_spots_the_waviness_is_in_the_spread(alcove: Room) -> None:
    """Half way between measured heights a wall is less sure than at them."""
    at_spot, between = alcove.at("left", -400, 900), alcove.at("left", -400, 1400)
    assert between.sd > at_spot.sd


def test_far_from_all_spots_nothing_runs_away(alcove: Room) -> None:
    """A little outside the survey the answer stays near the plane, and says that it is less sure."""
    spot = alcove.spot("FL1")
    assert spot is not None
    near, far = alcove.at("left", spot.xyz[1], 300), alcove.at("left", spot.xyz[1] - 400, 300)
    assert abs(far.value - near.value) < 30
    assert near.sd < far.sd < 15


def test_a_width_is_the_difference_of_its_walls_but_surer_than_they_are(alcove: Room) -> None:
    """Errors that both walls share cancel: the covariance counts."""
    left, right = alcove.at("left", -300, 900), alcove.at("right", -300, 900)
    width = alcove.between("left", "right", -300, 900)
    assert width.value == pytest.approx(right.value - left.value)
    assert width.sd < math.hypot(left.sd, right.sd)


def test_governing_values_are_the_extremes_of_the_profile(alcove: Room) -> None:
    """Over the same grid, spaced 150 mm at most."""
    line = tuple((-300.0, z) for z in np.linspace(0, 1900, 14))
    profile = alcove.profile("left", line)
    assert alcove.governing("left", (-300, -300), (0, 1900), "greatest").value == pytest.approx(
        max(m.value for m in profile)
    )
    assert alcove.governing("left", (-300, -300), (0, 1900), "least").value == pytest.approx(
        min(m.value for m in profile)
    )


def test_surfaces_that_face_different_ways_have_no_distance(alcove: Room) -> None:
    """The caller's mistake."""
    with pytest.raises(ValueError, match=r"^the left and the floor face different ways: there is no one distance"):
        alcove.between("left", "floor", 0, 0)


def test_conditioning_on_spots_agrees_with_the_textbook_formula(alcove: Room) -> None:
    """Kriging written out again: mean k K^-1 r and variance s^2 - k K^-1 k, with the state taken as exact.

    Source: the usual conditional mean and variance of a Gaussian field (recalled), with its own covariance code.
    """
    field = dataclasses.replace(alcove.fields["back"], about=None)
    points, tools = field.points, field.tools

    def law(a: np.ndarray, b: np.ndarray) -> float:
        reach = math.sqrt(3) * math.dist(a, b) / 500
        return tools.waviness_mm**2 * (1 + reach) * math.exp(-reach)

    K = np.array([[law(a, b) + (0.16 if i == j else 0) for j, b in enumerate(points)] for i, a in enumerate(points)])
    d, a, b = field.plane
    norm = math.sqrt(1 + a * a + b * b)
    strays = (points[:, 1] - d - a * points[:, 0] - b * points[:, 2]) / norm
    flat = d + a * 333 + b * 1234
    k = np.array([law(np.array([333, flat, 1234]), point) for point in points])
    weights = np.linalg.solve(K, k)
    place = (np.array([333.0]), np.array([1234.0]))
    assert field.values(*place)[0] == pytest.approx(flat + norm * weights @ strays)
    assert field.own_variance(*place)[0] == pytest.approx(norm**2 * (tools.waviness_mm**2 - weights @ k + 0.16))


def test_derivatives_of_a_surface_agree_with_differences(alcove: Room) -> None:
    """Only the plane's own terms are checked here: moving the plane moves the answer less near a spot."""
    field = alcove.fields["left"]
    row = field.rows(np.array([-300.0]), np.array([1400.0]))[0]
    near = field.rows(field.points[:1, 1], field.points[:1, 2])[0]
    assert abs(near[field.plane_at]) < abs(row[field.plane_at]) < 1


def test_a_room_knows_its_surfaces_and_freedom(alcove: Room, attic: Room) -> None:
    """Names as in the field book."""
    assert alcove.has("ceiling")
    assert not alcove.has("slope")
    assert attic.surfaces == ("floor", "back", "left", "slope")
    assert alcove.dof == alcove.global_test.dof > 0
