"""The shared scale and the errors of single observations, against what can be worked out by hand."""

from __future__ import annotations

import numpy as np
import pytest

from nookwright.solvers.shared_scale import Alike, ScaledSystem, Spent, scan_scales

READ = np.array([9.0, 10.0, 12.0, 14.0, 15.0])


def repeated(*, fixed: float = 0.0, scaled: float = 1.0) -> ScaledSystem:
    """Return five readings of one length, linear about 0: computed less observed is minus the reading."""
    ones = np.ones(5)
    return ScaledSystem(residuals=-READ, jacobian=ones[:, None], fixed=fixed * ones, scaled=scaled * ones)


def test_the_likeliest_scale_of_repeated_readings_is_their_sample_variance() -> None:
    """By hand: mean 12, squares 9 + 4 + 0 + 4 + 9 = 26, over 4 spare readings 6.5; over 5 readings it would be 5.2."""
    scales = np.sqrt(np.linspace(3, 12, 181))
    scan = scan_scales(repeated(), scales, ())
    assert scales[int(np.argmin(scan.deviances))] ** 2 == pytest.approx(6.5, abs=0.026)


def test_a_fixed_part_is_taken_off_the_scale() -> None:
    """By hand: of a variance of 6.5, 2.5 is the tape's own; 4 is left, and the scale is 2."""
    scales = np.linspace(1, 3, 201)
    scan = scan_scales(repeated(fixed=2.5), scales, ())
    assert scales[int(np.argmin(scan.deviances))] == pytest.approx(2.0, abs=0.011)


def test_an_error_is_the_distance_from_the_mean_of_the_others() -> None:
    """By hand: 15 less the mean of 9, 10, 12, 14 is 3.75, with variance s^2 (1 + 1/4): 5 at s = 2."""
    scan = scan_scales(repeated(), np.array([2.0]), [4])
    assert scan.errors[0, 0] == pytest.approx(3.75)
    assert scan.precisions[0, 0] == pytest.approx(1 / 5)


def test_nothing_is_said_of_an_observation_that_nothing_checks() -> None:
    """The second unknown is seen by one observation only."""
    jacobian = np.array([[1.0, 0.0], [1.0, 0.0], [0.0, 1.0]])
    system = ScaledSystem(
        residuals=np.array([1.0, -1.0, 50.0]), jacobian=jacobian, fixed=np.ones(3), scaled=np.zeros(3)
    )
    scan = scan_scales(system, np.array([1.0]), [0, 2])
    assert scan.errors[0].tolist() == pytest.approx([-2.0, 0.0])
    assert scan.precisions[0].tolist() == pytest.approx([0.5, 0.0])


def test_likelihoods_add_up_and_follow_the_prior_where_the_readings_are_silent() -> None:
    """With no scaled variance every scale is as likely as before."""
    scan = scan_scales(repeated(fixed=1.0, scaled=0.0), np.array([1.0, 2.0]), ())
    assert scan.likelihoods(np.log([0.25, 0.75])).tolist() == pytest.approx([0.25, 0.75])


def test_unknowns_of_very_different_units_are_told_all_the_same() -> None:
    """By hand: two observations of one unknown in units a thousand million times apart from the other's.

    The first is read as 0 and 2 with a spread of 1: an error of 2 in either, which two spreads of 1 let vary by 2.
    """
    system = ScaledSystem(
        residuals=np.array([0.0, -2.0, 0.0]),
        jacobian=np.array([[1e9, 0.0], [1e9, 0.0], [0.0, 1e-9]]),
        fixed=np.array([1.0, 1.0, 1.0]),
        scaled=np.zeros(3),
    )
    scan = scan_scales(system, np.ones(1), range(2))
    assert scan.errors[0] == pytest.approx([-2.0, 2.0])
    assert scan.precisions[0] == pytest.approx([0.5, 0.5])


def made_up() -> ScaledSystem:
    """Return twelve observations of five unknowns; six share what grows, three take two unknowns and one out."""
    chance = np.random.default_rng(7)
    jacobian = chance.normal(size=(12, 5))
    jacobian[8, 2:], jacobian[11, :4] = 0.0, 0.0
    root = chance.normal(size=(6, 6))
    return ScaledSystem(
        residuals=chance.normal(size=12),
        jacobian=jacobian,
        fixed=chance.uniform(0.2, 2.0, 12),
        scaled=np.concatenate([np.zeros(2), chance.uniform(0.1, 1.0, 2), np.zeros(8)]),
        alike=(Alike(rows=np.arange(5, 11), covariance=root @ root.T),),
        spent=Spent(rows=np.array([8, 6, 4]), columns=np.array([0, 3, 1])),
    )


def test_spent_observations_change_nothing_but_the_work() -> None:
    """Against the formulas as they are written, with the whole covariance inverted at every scale."""
    system, scales, tested = made_up(), np.array([0.3, 1.0, 2.5]), [0, 1, 2, 3]
    scan = scan_scales(system, scales, tested)
    deviances = []
    for place, scale in enumerate(scales):
        covariance = np.diag(system.fixed + scale**2 * system.scaled)
        (alike,) = system.alike
        covariance[np.ix_(alike.rows, alike.rows)] += scale**2 * alike.covariance
        inverse, jacobian = np.linalg.inv(covariance), system.jacobian
        normal = jacobian.T @ inverse @ jacobian
        kept = inverse - inverse @ jacobian @ np.linalg.inv(normal) @ jacobian.T @ inverse
        sizes = np.linalg.slogdet(covariance)[1] + np.linalg.slogdet(normal)[1]
        deviances.append(sizes + system.residuals @ kept @ system.residuals)
        assert scan.precisions[place] == pytest.approx(np.diag(kept)[:4])
        assert scan.errors[place] == pytest.approx(-(kept @ system.residuals)[:4] / np.diag(kept)[:4])
        assert scan.weights(1, 3)[place] == pytest.approx(kept[1, 3])
    assert np.diff(scan.deviances) == pytest.approx(np.diff(deviances))
