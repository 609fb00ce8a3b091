"""The adjustment against published surveying networks, at their printed digits.

Sources (named in each network below): worked examples of Ghilani, Adjustment Computations (5th ed., 2010),
Wolf, Ausgleichungsrechnung II (1979), Strang & Borre, Linear Algebra, Geodesy, and GPS (1997), Benning (2011),
Niemeier (2008), Hoepke (1980), as collected in Geodetic Network Adjustment Examples, Stuttgart, rev. 3.5 (2020).
Three networks are typed here so that they run anywhere; the rest are read from the reference folder.

Conventions of the source: the printed standardised residual and the printed standard deviations carry the POSTERIOR
sigma; ours carry the declared one, so ours are multiplied by sigma0 (or divided by it) before they are compared.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from nookwright.solvers.adjust import adjust
from nookwright.solvers.whitened import Block
from published_networks import (
    FOLDER_NETWORKS,
    HEIGHT,
    SLOPE,
    TYPED,
    Network,
    block_of,
    compared,
    from_folder,
    table,
)


def check(network: Network, sigma_factor: float = 1.0) -> None:
    """Compare everything the source prints, to its last digit."""
    found = compared(network, sigma_factor)
    assert found.dof[1] == found.dof[0]
    assert found.sigma0[1] == pytest.approx(found.sigma0[0], abs=1e-4)
    assert found.coordinates_m[1] == pytest.approx(found.coordinates_m[0], abs=6e-5)
    assert found.redundancy[1] == pytest.approx(found.redundancy[0], abs=6e-5)
    assert found.residuals[1] == pytest.approx(found.residuals[0], abs=1.5e-3)
    assert found.sds_mm[1] == pytest.approx(found.sds_mm[0], rel=1e-4, abs=6e-5)


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


def test_the_table_in_the_documents_is_current(reference_folder: Path) -> None:
    """What `docs/survey.md` shows of the networks is what comes out today."""
    page = Path(__file__).resolve().parents[2] / "docs" / "survey.md"
    assert table(reference_folder) in page.read_text(encoding="utf-8")
