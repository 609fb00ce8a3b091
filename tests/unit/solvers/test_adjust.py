"""The adjustment on small cases worked by hand."""

from __future__ import annotations

import numpy as np
import pytest

from nookwright.solvers.adjust import adjust, covariance_with
from nookwright.solvers.whitened import Block


def linear(rows: list[list[float]], values: list[float], **spread: np.ndarray) -> Block:
    """Return linear observations of all unknowns."""
    jacobian, observed = np.array(rows, dtype=float), np.array(values, dtype=float)
    return Block(
        evaluate=lambda state: (jacobian @ state - observed, jacobian), columns=np.arange(jacobian.shape[1]), **spread
    )


def test_two_readings_of_one_length_are_averaged_by_weight() -> None:
    """By hand: 100 (sd 1) and 104 (sd 2): weights 1 and 1/4, mean 100.8, variance 1/(1.25) = 0.8."""
    fit = adjust(start=np.zeros(1), blocks=[linear([[1], [1]], [100, 104], sd=np.array([1.0, 2.0]))])
    assert fit.converged
    assert fit.state == pytest.approx([100.8])
    assert fit.covariance == pytest.approx(np.array([[0.8]]))
    assert fit.residuals == pytest.approx([0.8, -3.2])
    assert fit.redundancy == pytest.approx([0.2, 0.8])  # 1 - 0.8/1 and 1 - 0.8/4
    assert fit.w == pytest.approx([0.8 / np.sqrt(0.2), -3.2 / (2 * np.sqrt(0.8))])
    assert fit.weighted_sum_of_squares == pytest.approx(0.64 + 2.56)
    assert fit.dof == 1
    assert fit.sigma0 == pytest.approx(np.sqrt(3.2))


def test_correlated_readings_count_for_less() -> None:
    """By hand: two readings with variance 1 and covariance c have the mean's variance (1 + c) / 2."""
    covariance = np.array([[1.0, 0.6], [0.6, 1.0]])
    fit = adjust(start=np.zeros(1), blocks=[linear([[1], [1]], [10, 12], covariance=covariance)])
    assert fit.state == pytest.approx([11])
    assert fit.covariance == pytest.approx(np.array([[0.8]]))
    assert fit.redundancy == pytest.approx([0.5, 0.5])
    # By hand: the difference has variance 2 (1 - 0.6) = 0.8, and both w are the difference over its sd.
    assert np.abs(fit.w) == pytest.approx([2 / np.sqrt(0.8)] * 2)


def test_a_held_unknown_keeps_its_value_and_has_no_spread() -> None:
    """Held unknowns are not adjusted."""
    block = linear([[1, 1], [0, 1]], [10, 3], sd=np.ones(2))
    fit = adjust(start=np.array([4.0, 0.0]), blocks=[block], held=[0])
    assert fit.state == pytest.approx([4, 4.5])
    assert fit.covariance == pytest.approx(np.array([[0, 0], [0, 0.5]]))


def test_an_open_unknown_is_refused_without_a_datum() -> None:
    """A difference alone does not fix two heights."""
    with pytest.raises(ValueError, match=r"^the observations leave some unknowns open$"):
        adjust(start=np.zeros(2), blocks=[linear([[1, -1]], [5], sd=np.ones(1))])


def test_a_datum_shares_out_what_is_open() -> None:
    """By hand: a difference of 5 with least moves from 0, 0 is 2.5, -2.5, with half the variance's quarter each."""
    block = linear([[1, -1]], [5], sd=np.ones(1))
    fit = adjust(start=np.zeros(2), blocks=[block], datum=[0, 1])
    assert fit.state == pytest.approx([2.5, -2.5])
    assert fit.covariance == pytest.approx(np.array([[0.25, -0.25], [-0.25, 0.25]]))
    fit = adjust(start=np.zeros(2), blocks=[block], datum=[0])
    assert fit.state == pytest.approx([0, -5])
    closed = linear([[1, -1], [0, 1]], [5, 7], sd=np.ones(2))  # nothing is open: the datum has nothing to settle
    assert adjust(start=np.zeros(2), blocks=[closed], datum=[0, 1]).state == pytest.approx([12, 7])


@pytest.mark.parametrize("spread", [{}, {"sd": np.ones(1), "covariance": np.eye(1)}])
def test_a_block_needs_exactly_one_spread(spread: dict[str, np.ndarray]) -> None:
    """Neither none nor two."""
    with pytest.raises(ValueError, match=r"^a block needs either standard deviations or a covariance, not both$"):
        adjust(start=np.zeros(1), blocks=[linear([[1]], [1], **spread)])


def test_weights_can_be_changed_afterwards() -> None:
    """By hand: with the second reading ten times worse (variance 100) the variance is 1 / (1 + 0.01)."""
    fit = adjust(start=np.zeros(1), blocks=[linear([[1], [1]], [3, 4], sd=np.ones(2))])
    assert covariance_with(fit, np.array([1.0, 0.1])) == pytest.approx(np.array([[1 / 1.01]]))


def test_giving_up_is_told() -> None:
    """One step is not enough for a far start."""
    block = Block(
        evaluate=lambda s: (np.array([np.exp(s[0]) - 100]), np.array([[np.exp(s[0])]])),
        columns=np.arange(1),
        sd=np.ones(1),
    )
    assert not adjust(start=np.zeros(1), blocks=[block], most_iterations=1).converged
    fit = adjust(start=np.zeros(1), blocks=[block])
    assert fit.converged
    assert fit.state == pytest.approx([np.log(100)])


def test_a_system_with_no_way_down_stops_unconverged() -> None:
    """Adversarial: derivatives of the wrong sign never lower the sum."""
    block = Block(evaluate=lambda s: (s - 3.0, -np.eye(1)), columns=np.arange(1), sd=np.ones(1))
    fit = adjust(start=np.zeros(1), blocks=[block])
    assert not fit.converged
    assert fit.state == pytest.approx([0], abs=1e-3)


def test_a_model_defined_nowhere_but_at_the_start_stops_unconverged() -> None:
    """However small the step, there is nothing to go to."""

    def evaluate(state: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        return np.array([3.0 if state[0] == 1 else np.nan]), np.eye(1)

    fit = adjust(start=np.ones(1), blocks=[Block(evaluate=evaluate, columns=np.arange(1), sd=np.ones(1))])
    assert not fit.converged
    assert fit.state == pytest.approx([1])
