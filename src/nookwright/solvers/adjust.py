"""Weighted least squares with statistics: the state that fits all observations best, and how sure it is."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.linear_fit import (
    Matrix,
    Vector,
    expect_full_rank,
    lower_root,
    regular,
    reliability,
    split,
    to_datum,
)
from nookwright.solvers.trail import Trail

Evaluate = Callable[[Vector], tuple[Vector, Matrix]]

_LAST_DIGITS = 64 * float(np.finfo(np.float64).eps)  # a move of this share of an unknown is rounding
_LOSS_IS_ROUNDING = 1e-11  # relative rise of the sum of squares that rounding alone can cause
_FIRST_DAMPING = 1e-3
_LEAST_DAMPING = 1e-9
_MOST_DAMPING = 1e12


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Observations that belong together.

    Args:
        evaluate: gives, for a state, the residuals (computed less observed) and their derivatives,
            one row an observation, one column for each entry of `columns`.
        columns: the unknowns the observations depend on; the derivatives by all others are zero.
        sd: one standard deviation an observation, when they are independent.
        covariance: their covariance, when they are not. Exactly one of `sd` and `covariance` is given.
    """

    evaluate: Evaluate
    columns: NDArray[np.intp]
    sd: Vector | None = None
    covariance: Matrix | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Adjustment:
    """The outcome of a least-squares adjustment.

    Args:
        state: the adjusted unknowns, held ones included.
        covariance: of the state, from the standard deviations declared before the adjustment.
        residuals: adjusted less observed, in each observation's own unit, in the order of the blocks.
        redundancy: share of an error in that observation that would show in its residual.
        w: residual over its own standard deviation; 0 where the redundancy is nil.
        weighted_sum_of_squares: of all residuals.
        dof: observations less determined unknowns.
        iterations: steps taken.
        converged: whether the last step stood still.
        whitened_residuals: residuals after whitening: unit variance, uncorrelated before the adjustment.
        whitened_jacobian: their derivatives by all unknowns; zero for held ones.
        shares: variance of each whitened residual: 0 where the observation is fitted exactly, 1 where it is not at all.
    """

    state: Vector
    covariance: Matrix
    residuals: Vector
    redundancy: Vector
    w: Vector
    weighted_sum_of_squares: float
    dof: int
    iterations: int
    converged: bool
    whitened_residuals: Vector
    whitened_jacobian: Matrix
    shares: Vector

    @property
    def sigma0(self) -> float:
        """Posterior over prior standard deviation; 1 when nothing is left over."""
        return float(np.sqrt(self.weighted_sum_of_squares / self.dof)) if self.dof else 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Linear:
    """The whitened system at one state.

    Args:
        residuals: of all observations.
        parts: each block's derivatives by those free unknowns that it depends on.
        columns: of each part: which free unknowns these are.
        scale: length of each free unknown's column.
        sum_of_squares: of the residuals.
    """

    residuals: Vector
    parts: list[Matrix]
    columns: list[NDArray[np.intp]]
    scale: Vector
    sum_of_squares: float

    def dense(self) -> Matrix:
        """Return the derivatives by all free unknowns, columns scaled to unit length."""
        full = np.zeros((len(self.residuals), len(self.scale)))
        for rows, part, columns in zip(self.rows(), self.parts, self.columns, strict=True):
            full[rows, columns] = part / self.scale[columns]
        return full

    def normal(self) -> tuple[Matrix, Vector]:
        """Return the normal equations of the same scaled columns: their matrix and the gradient."""
        count = len(self.scale)
        matrix, gradient = np.zeros((count, count)), np.zeros(count)
        for rows, part, columns in zip(self.rows(), self.parts, self.columns, strict=True):
            matrix[columns[:, None], columns] += part.T @ part
            gradient[columns] += part.T @ self.residuals[rows]
        return matrix / self.scale / self.scale[:, None], gradient / self.scale

    def rows(self) -> Iterator[slice]:
        """Give the rows of each part in turn."""
        first = 0
        for part in self.parts:
            yield slice(first, first + len(part))
            first += len(part)


@dataclass(frozen=True, slots=True, kw_only=True)
class _System:
    """What stays the same from step to step; `place` says where among the free unknowns each one is, or -1."""

    blocks: Sequence[Block]
    whiteners: Sequence[Matrix | Vector]
    free: NDArray[np.intp]
    place: NDArray[np.intp]
    datum: NDArray[np.intp] | None
    start: Vector

    def raw(self, state: Vector) -> list[Vector]:
        """Return each block's residuals, not yet whitened."""
        return [block.evaluate(state)[0] for block in self.blocks]

    def at(self, state: Vector) -> _Linear:
        """Return the whitened system at a state."""
        residuals, parts, places = [], [], []
        squares = np.zeros(len(self.free))
        for block, whitener in zip(self.blocks, self.whiteners, strict=True):
            residual, jacobian = block.evaluate(state)
            columns = self.place[block.columns]
            used = np.flatnonzero(jacobian.any(axis=0) & (columns >= 0))
            columns = columns[used]
            part = np.asarray(_whiten(whitener, jacobian[:, used]))
            squares[columns] += np.einsum("ij,ij->j", part, part)
            residuals.append(_whiten(whitener, residual))
            parts.append(part)
            places.append(columns)
        white = np.concatenate(residuals)
        squares[squares == 0] = 1.0
        return _Linear(
            residuals=white,
            parts=parts,
            columns=places,
            scale=np.sqrt(squares),
            sum_of_squares=float(white @ white),
        )


def adjust(
    *,
    start: Vector,
    blocks: Sequence[Block],
    held: Sequence[int] = (),
    datum: Sequence[int] | None = None,
    most_iterations: int = 200,
    standstill: float = 1e-10,
) -> Adjustment:
    """Return the state that makes the weighted sum of squared residuals least.

    Gauss-Newton steps, mixed with the last ones where these close in slowly; where one fails to lower the sum, a share
    of it, then Levenberg-Marquardt steps with growing damping.

    Args:
        start: first guess of every unknown.
        blocks: the observations.
        held: unknowns that keep their first guess exactly.
        datum: for a free network: the unknowns whose moves from `start` are kept least in square sum, which
            settles what the observations leave open. None means that nothing may be left open.
        most_iterations: give up after so many steps.
        standstill: largest change a step makes to the whitened residuals that counts as none.

    Returns:
        The adjusted state with its statistics.

    Raises:
        ValueError: if the observations leave an unknown open and no `datum` is given.

    Source:
        [geodetic-network-examples] redundancy numbers, w statistics and the free-network datum reproduce the
        published networks of the reference tests. Status: read.
    """
    start = np.asarray(start, dtype=np.float64)
    free = np.setdiff1d(np.arange(len(start)), np.asarray(held, dtype=np.intp))
    place = np.full(len(start), -1, dtype=np.intp)
    place[free] = np.arange(len(free))
    system = _System(
        blocks=blocks,
        whiteners=[_whitener(block) for block in blocks],
        free=free,
        place=place,
        datum=None if datum is None else np.searchsorted(free, np.asarray(datum, dtype=np.intp)),
        start=start,
    )
    state, linear, iterations, converged = _descend(system, most_iterations, standstill)
    return _summed_up(system, state, linear, iterations, converged)


def covariance_with(adjustment: Adjustment, row_weights: Vector) -> Matrix:
    """Return the covariance had each whitened observation carried another weight.

    Args:
        adjustment: the adjustment in question; it is not repeated, only its last linear system is reused.
        row_weights: factor on each whitened observation: 0.1 for ten times its standard deviation.

    Returns:
        Covariance of the whole state; zero for held unknowns.

    Raises:
        ValueError: if the observations then leave an unknown open.
    """
    jacobian = adjustment.whitened_jacobian * row_weights[:, None]
    scale = np.sqrt(np.einsum("ij,ij->j", jacobian, jacobian))
    free = np.flatnonzero(scale > 0)
    scaled = jacobian[:, free] / scale[free]
    root = regular(scaled.T @ scaled, lambda: scaled, scale[free])
    covariance = np.zeros_like(adjustment.covariance)
    covariance[np.ix_(free, free)] = root @ root.T
    return covariance


def _whitener(block: Block) -> Matrix | Vector:
    if (block.sd is None) == (block.covariance is None):
        message = "a block needs either standard deviations or a covariance, not both"
        raise ValueError(message)
    if block.sd is not None:
        return 1.0 / np.asarray(block.sd, dtype=np.float64)
    lower = np.linalg.cholesky(np.asarray(block.covariance, dtype=np.float64))
    return np.asarray(np.linalg.inv(lower), dtype=np.float64)


def _whiten(whitener: Matrix | Vector, values: Matrix | Vector) -> Matrix | Vector:
    if whitener.ndim == 2:
        return whitener @ values
    return whitener[:, None] * values if values.ndim == 2 else whitener * values


def _descend(system: _System, most_iterations: int, standstill: float) -> tuple[Vector, _Linear, int, bool]:
    state, linear, damping = system.start.copy(), system.at(system.start), 0.0
    trail = Trail()
    for iteration in range(1, most_iterations + 1):
        step = _step(system, state, linear, damping)
        size = float(np.max(np.abs(step * linear.scale), initial=0.0))
        standing = size <= standstill * (1.0 + math.sqrt(linear.sum_of_squares)) or bool(
            np.all(np.abs(step) <= _LAST_DIGITS * np.abs(state[system.free] + step))
        )
        if standing and damping <= _FIRST_DAMPING:
            trial, following = _moved(system, state, step)
            better = following.sum_of_squares <= linear.sum_of_squares
            return (trial, following, iteration, True) if better else (state, linear, iteration, True)
        if not damping:
            trail = trail.longer(state[system.free], step, linear.scale)
        for tried in _tries(step, trail, damping):
            trial, following = _moved(system, state, tried)
            if _no_worse(linear, following):
                break
            trail = Trail()
        else:
            damping = max(damping * 10, _FIRST_DAMPING)
            if damping > _MOST_DAMPING:
                return state, linear, iteration, False  # steps this short stand still anywhere: no sign of an optimum
            continue
        state, linear = trial, following
        damping = damping / 10 if damping > _LEAST_DAMPING else 0.0
    return state, linear, most_iterations, False


def _tries(step: Vector, trail: Trail, damping: float) -> Iterator[Vector]:
    """Give the steps to try: the one that the last ones lead to, the computed one, and shares of it."""
    led = trail.step()
    if led is not None:
        yield led
    yield step
    if not damping:
        yield step / 2
        yield step / 8


def _moved(system: _System, state: Vector, step: Vector) -> tuple[Vector, _Linear]:
    """Return the state a step further, and the system there."""
    trial = state.copy()
    trial[system.free] += step
    with np.errstate(all="ignore"):  # a step too far may overflow; it is then refused
        return trial, system.at(trial)


def _no_worse(linear: _Linear, following: _Linear) -> bool:
    gain = linear.sum_of_squares - following.sum_of_squares
    return bool(np.isfinite(gain) and gain >= -_LOSS_IS_ROUNDING * (linear.sum_of_squares + _LOSS_IS_ROUNDING))


def _step(system: _System, state: Vector, linear: _Linear, damping: float) -> Vector:
    """Return the move of the free unknowns; a free network also moves back towards its start along what is open."""
    if system.datum is not None:
        left, sizes, right = split(linear.dense())
        step = right.T @ (-(left.T @ linear.residuals) * sizes / (sizes**2 + damping)) / linear.scale
        moved = (state - system.start)[system.free]
        return to_datum(right, linear.scale, system.datum, moved + step) - moved
    normal, gradient = linear.normal()
    normal[np.diag_indices(len(normal))] += damping
    if lower_root(normal) is not None:
        return np.linalg.solve(normal, -gradient) / linear.scale
    jacobian, residuals = linear.dense(), linear.residuals
    if damping:
        jacobian = np.vstack([jacobian, np.sqrt(damping) * np.eye(len(linear.scale))])
        residuals = np.concatenate([residuals, np.zeros(len(linear.scale))])
    basis, upper = np.linalg.qr(jacobian)
    expect_full_rank(upper)
    solved: Vector = np.linalg.solve(upper, -(basis.T @ residuals)) / linear.scale
    return solved


def _summed_up(system: _System, state: Vector, linear: _Linear, iterations: int, converged: bool) -> Adjustment:
    root = _root_of_cofactors(system, linear)
    covariance = np.zeros((len(state), len(state)))
    covariance[np.ix_(system.free, system.free)] = root @ root.T
    jacobian = np.zeros((len(linear.residuals), len(state)))
    redundancy, w, shares = (np.empty_like(linear.residuals) for _ in range(3))
    for rows, part, columns, whitener in zip(
        linear.rows(), linear.parts, linear.columns, system.whiteners, strict=True
    ):
        jacobian[rows, system.free[columns]] = part
        shown = part @ root[columns]
        redundancy[rows], w[rows], shares[rows] = reliability(whitener, linear.residuals[rows], shown)
    return Adjustment(
        state=state,
        covariance=covariance,
        residuals=np.concatenate(system.raw(state)),
        redundancy=redundancy,
        w=w,
        weighted_sum_of_squares=linear.sum_of_squares,
        dof=len(linear.residuals) - root.shape[1],
        iterations=iterations,
        converged=converged,
        whitened_residuals=linear.residuals,
        whitened_jacobian=jacobian,
        shares=shares,
    )


def _root_of_cofactors(system: _System, linear: _Linear) -> Matrix:
    """Return a matrix that times its transpose gives the cofactors of the free unknowns."""
    if system.datum is None:
        return regular(linear.normal()[0], linear.dense, linear.scale)
    _, sizes, right = split(linear.dense())
    root = (right.T / sizes) / linear.scale[:, None]
    return np.asarray(to_datum(right, linear.scale, system.datum, root))
