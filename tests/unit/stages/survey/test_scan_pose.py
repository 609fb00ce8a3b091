"""A scan's pose: derivatives, and a pose found again."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from nookwright.stages.room.beliefs import waviness
from nookwright.stages.room.network import network_of
from nookwright.stages.room.strays import own_variances, places_of, strays_of
from nookwright.stages.survey.scan_pose import placed, scan_block
from nookwright.stages.survey.scan_register import with_surfaces
from nookwright.stages.survey.unknowns import pose_names
from scanned_rooms import scanned
from simulated_scans import Scanner


@pytest.fixture(scope="module")
def network():
    """Return the network of a scanned alcove."""
    _, survey, points = scanned("alcove", 2, scanner=Scanner(points=30_000))
    return network_of(with_surfaces(survey, [points]))


def moved(network) -> np.ndarray:
    """Return a state with a scan that lies far from its first guess."""
    state = network.start.copy()
    columns = [network.unknowns.set_up(name) for name in pose_names(network.unknowns.scans[0])]
    state[columns] += (40.0, -30.0, 60.0, 11.0, -7.0, 5.0, 8.0)
    return state


def by_difference(function, state: np.ndarray) -> np.ndarray:
    """Return derivatives by central differences."""
    rows = []
    for place in range(len(state)):
        step = np.zeros(len(state))
        step[place] = 1e-3
        rows.append((function(state + step) - function(state - step)) / 2e-3)
    return np.array(rows).T


def test_strays_of_pieces_have_the_derivatives_of_differences(network) -> None:
    """By pose, plane and spots, for every surface."""
    state = moved(network)
    for surface in network.unknowns.surfaces:
        strays, jacobian = strays_of(state, surface, network.unknowns)
        expected = by_difference(lambda at, s=surface: strays_of(at, s, network.unknowns)[0], state)
        assert jacobian == pytest.approx(expected, rel=1e-5, abs=1e-5)
        assert (
            len(strays)
            == len(places_of(state, surface, network.unknowns))
            == len(own_variances(surface, network.unknowns))
        )


def test_strays_turned_until_independent_vary_as_the_surface_does(network) -> None:
    """Turned back they have the covariance of the law: what near places share, and what each strays by itself."""
    tools, rows = replace(network.survey.tools, waviness_mm=1.7), network.rows
    for surface, turned in zip(network.unknowns.surfaces, rows.surfaces, strict=True):
        places = places_of(network.start, surface, network.unknowns)
        law = waviness(places, None, tools) + np.diag(own_variances(surface, network.unknowns))
        back = np.linalg.inv(turned.turn)
        assert back @ np.diag(1 + 1.7**2 * turned.scaled) @ back.T == pytest.approx(law, abs=1e-9)
        plain, _ = strays_of(network.start, surface, network.unknowns)
        assert turned.evaluate(network.start)[0] == pytest.approx(turned.turn @ plain, abs=1e-9)


def test_spots_and_plumb_of_a_scan_have_the_derivatives_of_differences(network) -> None:
    """Three rows for each spot, two for the upright axis."""
    scan, state = network.unknowns.scans[0], moved(network)
    block = scan_block(scan, network.unknowns)
    residuals, jacobian = block.evaluate(state)
    jacobian = block.by_all(jacobian, len(state))
    assert len(residuals) == 3 * len(scan.spots) + 2
    assert jacobian == pytest.approx(by_difference(lambda at: block.evaluate(at)[0], state), abs=1e-5)


def test_the_first_guess_lays_the_spots_on_each_other(network) -> None:
    """To within what the first guess of a crooked room may miss."""
    scan = network.unknowns.scans[0]
    here = placed(scan, np.array([spot.xyz for spot in scan.spots]), network.start, network.unknowns).places
    there = np.array([network.start[network.unknowns.spot(spot.name) :][:3] for spot in scan.spots])
    assert np.sqrt(np.mean((here - there) ** 2)) < 30


def test_a_scan_whose_axes_all_lean_says_nothing_of_plumb(network) -> None:
    """Only its spots are left."""
    scan = network.unknowns.scans[0]
    half = np.sqrt(0.5)
    leaning = np.array([[half, 0, half], [0, 1, 0], [-half, 0, half]]) @ np.array(scan.turn)
    scan = replace(scan, turn=tuple(tuple(row) for row in leaning.tolist()))
    assert len(scan_block(scan, network.unknowns).sd) == 3 * len(scan.spots)
