"""Published surveying networks: what they print, and the same adjusted here.

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
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from nookwright.solvers.adjust import Adjustment, adjust
from nookwright.solvers.whitened import Block

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
        "title": entry["source"].split(" (collected")[0],
        "points": points,
        "observations": observations,
        "adjusted": reference["adjusted_coordinates_m"],
        "sd_mm": reference["posterior_sd_mm_in_listing_order_of_unknowns"],
        "sigma0": reference["sigma0_posterior_over_prior"],
        "dof": reference["dof"],
    }


@dataclass(frozen=True)
class Compared:
    """A network's printed figures beside ours, in the same order.

    Args:
        sigma0: posterior over prior standard deviation: printed, ours.
        coordinates_m, redundancy, residuals, sds_mm: printed in the first row, ours in the second.
        dof: printed, ours.
    """

    dof: tuple[int, int]
    sigma0: tuple[float, float]
    coordinates_m: np.ndarray
    redundancy: np.ndarray
    residuals: np.ndarray
    sds_mm: np.ndarray


def compared(network: Network, sigma_factor: float = 1.0) -> Compared:
    """Return everything the source prints beside ours."""
    fit, column = adjusted_network(network, sigma_factor)
    listed = [(column[name, axis], value) for name, axes in network["adjusted"].items() for axis, value in axes.items()]
    printed = np.array([observation[4:6] for observation in network["observations"]], dtype=float)
    shown = np.isfinite(printed[:, 1])  # an observation without redundancy has no standardised residual
    places = [place for place, _ in listed]
    w = np.where(shown, np.abs(fit.w) / fit.sigma0, np.abs(fit.w))
    return Compared(
        dof=(network["dof"], fit.dof),
        sigma0=(network["sigma0"], fit.sigma0),
        coordinates_m=np.array([[value for _, value in listed], fit.state[places]]),
        redundancy=np.array([printed[:, 0], fit.redundancy]),
        residuals=np.array([np.where(shown, printed[:, 1], 0.0), w]),
        sds_mm=np.array([network["sd_mm"], 1000 * np.sqrt(np.diag(fit.covariance))[places] * fit.sigma0]),
    )


def networks(folder: Path) -> list[Network]:
    """Return every network: those typed here, then those of the reference folder."""
    typed = [{**network, "title": network["id"]} for network in TYPED]
    return [*typed, *(from_folder(folder, key) for key in FOLDER_NETWORKS)]


def table(folder: Path) -> str:
    """Return the networks' figures beside ours as a table in Markdown."""
    lines = [
        "| Network | Readings | Degrees of freedom | Sigma0 printed / ours | First coordinate [m] printed / ours "
        "| First sd [mm] printed / ours | Greatest difference: coordinate [m] | redundancy | residual | sd [mm] |",
        "|---|---|---|---|---|---|---|---|---|---|",
    ]
    for network in networks(folder):
        found = compared(network)
        (first, ours), (sd, our_sd) = found.coordinates_m[:, 0], found.sds_mm[:, 0]
        gaps = [
            f"{float(np.max(np.abs(pair[1] - pair[0]))):.5f}"
            for pair in (found.coordinates_m, found.redundancy, found.residuals, found.sds_mm)
        ]
        cells = [
            network["title"],
            str(len(network["observations"])),
            f"{found.dof[0]} / {found.dof[1]}",
            f"{found.sigma0[0]:.4f} / {found.sigma0[1]:.4f}",
            f"{first:.4f} / {ours:.4f}",
            f"{sd:.4f} / {our_sd:.4f}",
            *gaps,
        ]
        lines.append(f"| {' | '.join(cells)} |")
    return "\n".join(lines) + "\n"
