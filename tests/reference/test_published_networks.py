"""The adjustment against published surveying networks, at their printed digits.

Sources (named in each network below): worked examples of Ghilani, Adjustment Computations (5th ed., 2010),
Wolf, Ausgleichungsrechnung II (1979), Strang & Borre, Linear Algebra, Geodesy, and GPS (1997), Benning (2011),
Niemeier (2008), Hoepke (1980), as collected in Geodetic Network Adjustment Examples, Stuttgart, rev. 3.5 (2020).
Three networks are typed here so that they run anywhere; the rest are read from the reference folder.

Conventions of the source: the printed standardised residual and the printed standard deviations carry the POSTERIOR
sigma; ours carry the declared one, so ours are multiplied by sigma0 (or divided by it) before they are compared.
"""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from nookwright.solvers.adjust import Adjustment, Block, adjust

Network = dict[str, Any]

DISTANCE, SLOPE, HEIGHT = "horizontal_distance", "slope_distance", "height_difference_to_minus_from"
ANGLE, AZIMUTH = "clockwise_angle_at_first_from_second_to_third", "azimuth_clockwise_from_y_axis"

LEVEL_NET: Network = {
    "id": "Ghilani (2010), Example 12.6, p. 218: height differences",
    "points": {"A": {"z": 437.596, "held": "z"}, "B": {"z": 448.105}, "C": {"z": 453.465}, "D": {"z": 444.942}},
    "observations": [  # kind, points, observed [m], sigma [mm], printed redundancy, printed standardised residual
        (HEIGHT, "AB", 10.509, 6.0, 0.6549, 1.174),
        (HEIGHT, "BC", 5.360, 4.0, 0.3295, 0.163),
        (HEIGHT, "CD", -8.523, 5.0, 0.5092, 0.802),
        (HEIGHT, "DA", -7.348, 3.0, 0.1877, 0.466),
        (HEIGHT, "BD", -3.167, 4.0, 0.4326, 1.105),
        (HEIGHT, "AC", 15.881, 12.0, 0.8862, 1.160),
    ],
    "adjusted": {"B": {"z": 448.1087}, "C": {"z": 453.4685}, "D": {"z": 444.9436}},
    "sd_mm": [2.2953, 2.6363, 1.7607],
    "sigma0": 0.6512,
    "dof": 3,
}
SPACE_NET: Network = {
    "id": "Wolf (1979), p. 87: slope distances in space",
    "points": {
        "1": {"x": 1200.0, "y": 900.0, "z": 900.0, "held": "xyz"},
        "2": {"x": 900.0, "y": 600.0, "z": 900.0, "held": "xyz"},
        "3": {"x": 600.0, "y": 900.0, "z": 900.0, "held": "xyz"},
        "4": {"x": 900.0, "y": 1200.0, "z": 900.0, "held": "xyz"},
        "P": {"x": 900.0, "y": 900.0, "z": 1300.0},
    },
    "observations": [
        (SLOPE, "1P", 499.99, 10.0, 0.25, 1.0),
        (SLOPE, "2P", 500.00, 10.0, 0.25, 1.0),
        (SLOPE, "3P", 500.01, 10.0, 0.25, 1.0),
        (SLOPE, "4P", 500.02, 10.0, 0.25, 1.0),
    ],
    "adjusted": {"P": {"x": 900.0167, "y": 899.9833, "z": 1300.0062}},
    "sd_mm": [11.7852, 11.7852, 6.25],
    "sigma0": 1.0,
    "dof": 1,
}
PLANE_NET: Network = {
    "id": "Strang and Borre (1997), Example 10.1, p. 345: distances in the plane",
    "points": {
        "1": {"x": 170.71, "y": 270.71, "held": "xy"},
        "2": {"x": 100.0, "y": 100.0, "held": "xy"},
        "3": {"x": 241.42, "y": 100.0, "held": "xy"},
        "P": {"x": 170.71, "y": 170.71},
    },
    "observations": [
        (DISTANCE, "1P", 100.01, 10.0, 0.5001, 1.0),
        (DISTANCE, "2P", 100.02, 10.0, 0.2500, 1.0),
        (DISTANCE, "3P", 100.03, 10.0, 0.2499, 1.0),
    ],
    "adjusted": {"P": {"x": 170.7029, "y": 170.7234}},
    "sd_mm": [33.0324, 23.3542],
    "sigma0": 3.3029,
    "dof": 1,
}
TYPED = [LEVEL_NET, SPACE_NET, PLANE_NET]
FOLDER_NETWORKS = [
    "krumm_height_fix",
    "ghilani12_6_height_fix",
    "niemeier_height_free",
    "benning82_distance_fix",
    "benning88_distance_fix",
    "ghilani14_5_distance_fix",
    "strangborre_distance_fix",
    "hoepke_distance_free",
    "ghilani15_4_angle_fix",
    "ghilani16_2_distanceangleazimuth_fix",
    "wolf_3d_distance_fix",
]


def adjusted_network(network: Network, sigma_factor: float = 1.0) -> tuple[Adjustment, dict[tuple[str, str], int]]:
    """Adjust a network; `sigma_factor` spoils the first observation's weight for the adversarial test."""
    used = axes_used(network)
    column = {(name, axis): i for i, (name, axis) in enumerate((n, a) for n in network["points"] for a in used)}
    start = np.array([network["points"][name][axis] for name, axis in column])
    held = [i for (name, axis), i in column.items() if axis in network["points"][name].get("held", "")]
    datum = [i for (name, axis), i in column.items() if axis in network["points"][name].get("datum", "")]
    blocks = []
    for number, (kind, points, observed, sigma, *_printed) in enumerate(network["observations"]):
        where = [[column[name, axis] for axis in used] for name in points]
        factor = sigma_factor if number == 0 else 1.0
        blocks.append(block_of(kind, where, observed, sigma * factor))
    return adjust(start=start, blocks=blocks, held=held, datum=datum or None), column


def axes_used(network: Network) -> str:
    """Return the coordinates the network's observations depend on."""
    kinds = {observation[0] for observation in network["observations"]}
    if kinds == {HEIGHT}:
        return "z"
    return "xyz" if SLOPE in kinds else "xy"


def block_of(kind: str, where: list[list[int]], observed: float, sigma: float) -> Block:
    """Return one observation; lengths in metres with sigma in mm, angles in degrees with sigma in arc seconds."""
    columns = np.array([i for point in where for i in point], dtype=np.intp)
    angular = kind in (ANGLE, AZIMUTH)

    def evaluate(state: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        points = [state[point] for point in where]
        if kind == HEIGHT:
            return np.array([points[1][0] - points[0][0] - observed]), np.array([[-1.0, 1.0]])
        if kind in (DISTANCE, SLOPE):
            along = points[1] - points[0]
            length = float(np.linalg.norm(along))
            return np.array([length - observed]), np.concatenate([-along, along])[None, :] / length
        first, d_first = bearing(points[1] - points[0])
        if kind == AZIMUTH:
            return np.array([wrapped(first - math.radians(observed))]), np.concatenate([-d_first, d_first])[None, :]
        second, d_second = bearing(points[2] - points[0])
        row = np.concatenate([d_first - d_second, -d_first, d_second])
        return np.array([wrapped(second - first - math.radians(observed))]), row[None, :]

    sd = math.radians(sigma / 3600) if angular else sigma / 1000
    return Block(evaluate=evaluate, columns=columns, sd=np.array([sd]))


def bearing(along: np.ndarray) -> tuple[float, np.ndarray]:
    """Return the direction clockwise from the y axis and its derivatives. [rad]"""
    return math.atan2(along[0], along[1]), np.array([along[1], -along[0]]) / float(along @ along)


def wrapped(angle: float) -> float:
    """Return the angle between -pi and pi."""
    return (angle + math.pi) % (2 * math.pi) - math.pi


def check(network: Network, sigma_factor: float = 1.0) -> None:
    """Compare everything the source prints, to its last digit."""
    fit, column = adjusted_network(network, sigma_factor)
    assert fit.converged
    assert fit.dof == network["dof"]
    assert fit.sigma0 == pytest.approx(network["sigma0"], abs=1e-4)
    for name, axes in network["adjusted"].items():
        for axis, value in axes.items():
            assert fit.state[column[name, axis]] == pytest.approx(value, abs=6e-5)
    printed = np.array([observation[4:6] for observation in network["observations"]])
    assert fit.redundancy == pytest.approx(printed[:, 0], abs=6e-5)
    shown = np.isfinite(printed[:, 1])  # an observation without redundancy has no standardised residual
    assert (np.abs(fit.w) / fit.sigma0)[shown] == pytest.approx(printed[shown, 1], abs=1.5e-3)
    assert fit.w[~shown] == pytest.approx(0)
    listed = [column[name, axis] for name, axes in network["adjusted"].items() for axis in axes]
    sd_mm = 1000 * np.sqrt(np.diag(fit.covariance))[listed] * fit.sigma0
    assert sd_mm == pytest.approx(np.array(network["sd_mm"]), rel=1e-4, abs=6e-5)


def from_folder(folder: Path, key: str) -> Network:
    """Return a network of the reference folder in the shape of the typed ones."""
    entry = next(n for n in json.loads((folder / "survey" / "examples.json").read_text())["networks"] if n["id"] == key)
    points = {
        name: {**point, "held": "".join(point["held_fixed"]), "datum": "".join(point["datum_by_minimum_norm"])}
        for name, point in entry["points"].items()
    }
    observations = [
        (
            o["kind"],
            o["points"],
            o.get("observed_m", o.get("observed_deg")),
            o.get("sigma_mm", o.get("sigma_arcsec")),
            o["ref_redundancy_number"],
            o["ref_abs_standardised_residual_using_posterior_sigma"],
        )
        for o in entry["observations"]
    ]
    reference = entry["reference"]
    return {
        "points": points,
        "observations": observations,
        "adjusted": reference["adjusted_coordinates_m"],
        "sd_mm": reference["posterior_sd_mm_in_listing_order_of_unknowns"],
        "sigma0": reference["sigma0_posterior_over_prior"],
        "dof": reference["dof"],
    }


@pytest.mark.parametrize("network", TYPED, ids=lambda network: network["id"])
def test_agrees_with_the_typed_networks(network: Network) -> None:
    """Coordinates, redundancy, standardised residuals and standard deviations come out as printed."""
    check(network)


@pytest.mark.parametrize("network", TYPED, ids=lambda network: network["id"])
def test_a_wrong_weight_would_be_noticed(network: Network) -> None:
    """Adversarial: with one sigma a fifth too large the comparison must fail."""
    with pytest.raises(AssertionError):
        check(network, sigma_factor=1.2)


@pytest.mark.parametrize("key", FOLDER_NETWORKS)
def test_agrees_with_the_collected_networks(reference_folder: Path, key: str) -> None:
    """All networks of the reference folder: levelled, taped, with angles and azimuths, held and free."""
    check(from_folder(reference_folder, key))


def test_finds_the_two_planted_errors_of_the_indoor_positioning_example() -> None:
    """Snooping names the two distances the source marks as blunders, and no third.

    Source: Robuster raeumlicher Bogenschnitt, AVN 8-9 (2009) pp. 320-327, as in the Stuttgart collection
    (3D, BlankenbachWillert3D_Distance_fix). Printed plain least squares answer: -2.3042, 24.3101, 9.5248, with
    posterior standard deviations 0.29914, 0.33222, 1.19427 m.
    """
    from nookwright.solvers.chance import normal_quantile
    from nookwright.solvers.shared_scale import ScaledSystem, scan_scales

    anchors = {
        "51": (-8.62, 27.42, 10.29, 8.20), "37": (-4.95, 27.30, 10.04, 3.85), "31": (-4.85, 20.69, 10.51, 4.35),
        "102": (0.52, 22.59, 9.77, 3.51), "331": (-6.12, 25.48, 10.92, 3.98), "35": (0.45, 27.39, 10.75, 4.37),
        "103": (0.61, 17.19, 9.71, 8.17), "101": (-7.88, 22.45, 10.16, 5.73),
    }  # fmt: skip
    start = np.array([v for x, y, z, _ in anchors.values() for v in (x, y, z)] + [-2.59, 24.22, 9.62])
    blocks = [
        block_of(SLOPE, [[3 * i, 3 * i + 1, 3 * i + 2], [24, 25, 26]], anchor[3], 50.0)
        for i, anchor in enumerate(anchors.values())
    ]
    fit = adjust(start=start, blocks=blocks, held=range(24))
    assert fit.state[24:] == pytest.approx([-2.3042, 24.3101, 9.5248], abs=1e-4)
    assert np.sqrt(np.diag(fit.covariance))[24:] * fit.sigma0 == pytest.approx([0.29914, 0.33222, 1.19427], rel=1e-4)
    state, kept, wrong = fit.state, list(range(8)), set[str]()
    for limit in (normal_quantile(1 - 0.05 / (2 * count)) for count in (8, 7, 6)):
        rows = [blocks[i].evaluate(state) for i in kept]
        jacobian = np.zeros((len(kept), 27))
        for row, (i, (_, derivatives)) in enumerate(zip(kept, rows, strict=True)):
            jacobian[row, blocks[i].columns] = derivatives[0]
        sds = np.concatenate([np.asarray(blocks[i].sd) for i in kept])
        system = ScaledSystem(
            residuals=np.concatenate([residual for residual, _ in rows]),
            jacobian=jacobian[:, 24:],
            fixed=sds**2,
            scaled=np.zeros(len(kept)),
        )
        scan = scan_scales(system, np.ones(1), range(len(kept)))
        w = np.abs(scan.errors[0]) * np.sqrt(scan.precisions[0])
        if w.max() <= limit:
            break
        wrong.add(list(anchors)[kept.pop(int(np.argmax(w)))])
        state = adjust(start=state, blocks=[blocks[i] for i in kept], held=range(24)).state
    assert wrong == {"51", "103"}


def test_agrees_with_the_level_loop_run_both_ways() -> None:
    """Source: sample 1D adjustment listing, levelling forward and reverse, printed values."""
    lines = [("1a", "4", -1.225), ("4", "3", -0.848), ("3", "2", 1.342), ("2", "1a", 0.72),
             ("1a", "2", -0.724), ("2", "3", -1.335), ("3", "4", 0.842), ("4", "1a", 1.231)]  # fmt: skip
    names = ["1a", "4", "3", "2"]
    blocks = [block_of(HEIGHT, [[names.index(a)], [names.index(b)]], dh, 5.0) for a, b, dh in lines]
    fit = adjust(start=np.array([1000.0, 999.0, 998.0, 999.0]), blocks=blocks, held=[0])
    assert fit.state[1:] == pytest.approx([998.77513, 997.93325, 999.27487], abs=6e-6)
    assert fit.dof == 5
    assert fit.weighted_sum_of_squares * 25 == pytest.approx(146.625, abs=6e-4)
    assert fit.sigma0 * 5 == pytest.approx(5.42, abs=6e-3)
    sd_mm = 1000 * np.sqrt(np.diag(fit.covariance))[1:]
    assert sd_mm == pytest.approx([3.1, 3.5, 3.1], abs=0.06)  # printed with one decimal, from the declared sigma
    assert int(np.argmax(np.abs(fit.w))) == 5


def test_agrees_with_the_four_point_level_net() -> None:
    """Source: open course text on level networks and data snooping, results table."""
    lines = [(1, 2, -0.749, 1.1), (1, 3, -1.274, 1.8), (1, 4, -2.89, 1.4),
             (2, 3, -0.53, 1.5), (2, 4, -2.141, 1.9), (3, 4, -1.614, 0.9)]  # fmt: skip
    # The text writes heights as first less second and corrections as adjusted less observed, both with our sign turned.
    blocks = [block_of(HEIGHT, [[a - 1], [b - 1]], dh, 0.7 * length) for a, b, dh, length in lines]
    fit = adjust(start=np.array([104.0, 103.0, 103.0, 101.345]), blocks=blocks, held=[3])
    assert fit.state[:3] == pytest.approx([104.235, 103.4868, 102.9588], abs=6e-5)
    assert fit.weighted_sum_of_squares == pytest.approx(8.217, abs=6e-4)
    assert fit.sigma0 == pytest.approx(1.65, abs=6e-3)
    assert np.abs(fit.w) == pytest.approx([1.9, 2.1, 0.0, 2.6, 0.7, 0.6], abs=0.051)
    assert np.round(fit.redundancy, 1) == pytest.approx([0.3, 0.7, 0.5, 0.5, 0.7, 0.2])
    sd_mm = 1000 * np.sqrt(np.diag(fit.covariance))[:3] * fit.sigma0
    assert sd_mm == pytest.approx([1.13, 1.19, 0.91], abs=6e-3)


def test_shares_out_the_misclosure_of_a_triangle() -> None:
    """Source: Observations and Least Squares (1976), Example 7.1, pp. 140-141: three angles close 3'' short of 180.

    By hand: equal weights, so each angle takes one second, and the sum of squares is 3.
    """
    seconds = np.array([40 * 3600 + 19 * 60 + 2, 70 * 3600 + 30 * 60 + 1, 69 * 3600 + 11 * 60 + 0], dtype=float)
    excess = float(seconds.sum() - 180 * 3600)

    def angles(state: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        computed = np.array([state[0], state[1], 180 * 3600 - state[0] - state[1]])
        return computed - seconds, np.array([[1.0, 0.0], [0.0, 1.0], [-1.0, -1.0]])

    fit = adjust(start=seconds[:2], blocks=[Block(evaluate=angles, columns=np.arange(2), sd=np.ones(3))])
    assert excess == 3
    assert fit.residuals == pytest.approx([-1, -1, -1])
    assert fit.weighted_sum_of_squares == pytest.approx(3)
    assert fit.covariance == pytest.approx(np.eye(2) - 1 / 3)
