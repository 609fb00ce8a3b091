"""Weighted least squares with statistics: the state that fits all observations best, and how sure it is."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
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
from nookwright.solvers.whitened import Block, Equations, System, Whitened, system_of

_LAST_DIGITS = 64 * float(np.finfo(np.float64).eps)  # a move of this share of an unknown is rounding
_LOSS_IS_ROUNDING = 1e-11  # relative rise of the sum of squares that rounding alone can cause
_FIRST_DAMPING = 1e-3
_LEAST_DAMPING = 1e-9
_MOST_DAMPING = 1e12


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
        shares: variance of each whitened residual: 0 where the observation is fitted exactly, 1 where it is not at all.
        linear: the whitened system at the adjusted state.
        free: places of the unknowns that were not held.
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
    shares: Vector
    linear: Whitened
    free: NDArray[np.intp]

    @property
    def sigma0(self) -> float:
        """Posterior over prior standard deviation; 1 when nothing is left over."""
        return float(np.sqrt(self.weighted_sum_of_squares / self.dof)) if self.dof else 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled:
    """Where an adjustment came to stand, without its statistics.

    Args:
        state: the adjusted unknowns, held ones included.
        converged: whether the last step stood still.
    """

    state: Vector
    converged: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class _Task:
    """What is adjusted, from where, and among the free unknowns those of a free network's datum."""

    system: System
    start: Vector
    datum: NDArray[np.intp] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Descent:
    """Where a descent ended, and the system there unless it is not looked at."""

    state: Vector
    linear: Whitened
    iterations: int
    converged: bool


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
    task = _task(start, blocks, held, datum)
    return _summed_up(task, _descend(task, most_iterations, standstill, looked_at=True))


def settle(
    *, start: Vector, blocks: Sequence[Block], held: Sequence[int] = (), most_iterations: int, standstill: float
) -> Settled:
    """Return the state that `adjust` would find, where its statistics are not asked for.

    Args:
        start: first guess of every unknown.
        blocks: the observations.
        held: unknowns that keep their first guess exactly.
        most_iterations: give up after so many steps.
        standstill: largest change a step makes to the whitened residuals that counts as none.

    Returns:
        The state.

    Raises:
        ValueError: if the observations leave an unknown open.
    """
    descent = _descend(_task(start, blocks, held, None), most_iterations, standstill, looked_at=False)
    return Settled(state=descent.state, converged=descent.converged)


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
    root = _root_of_cofactors(adjustment.linear.weighted(row_weights))
    covariance = np.zeros_like(adjustment.covariance)
    covariance[np.ix_(adjustment.free, adjustment.free)] = root @ root.T
    return covariance


def _task(start: Vector, blocks: Sequence[Block], held: Sequence[int], datum: Sequence[int] | None) -> _Task:
    start = np.asarray(start, dtype=np.float64)
    system = system_of(blocks, len(start), held)
    settled_by = None if datum is None else np.searchsorted(system.free, np.asarray(datum, dtype=np.intp))
    return _Task(system=system, start=start, datum=settled_by)


def _descend(task: _Task, most_iterations: int, standstill: float, *, looked_at: bool) -> _Descent:
    """Go down to where the steps stand still; the system there is only worked out if it is looked at."""
    state, linear, damping = task.start.copy(), task.system.at(task.start), 0.0
    free, trail = task.system.free, Trail()
    equations = linear.equations()
    for iteration in range(1, most_iterations + 1):
        step = _step(task, state, linear, equations, damping)
        size = float(np.max(np.abs(step * equations.scale), initial=0.0))
        standing = size <= standstill * (1.0 + math.sqrt(linear.sum_of_squares)) or bool(
            np.all(np.abs(step) <= _LAST_DIGITS * np.abs(state[free] + step))
        )
        if standing and damping <= _FIRST_DAMPING:
            if not looked_at:
                state[free] += step
                return _Descent(state=state, linear=linear, iterations=iteration, converged=True)
            trial, following = _moved(task.system, state, step)
            if following.sum_of_squares <= linear.sum_of_squares:
                state, linear = trial, following
            return _Descent(state=state, linear=linear, iterations=iteration, converged=True)
        if not damping:
            trail = trail.longer(state[free], step, equations.scale)
        for tried in _tries(step, trail, damping):
            trial, following = _moved(task.system, state, tried)
            if _no_worse(linear, following):
                break
            trail = Trail()
        else:
            damping = max(damping * 10, _FIRST_DAMPING)
            if damping > _MOST_DAMPING:  # steps this short stand still anywhere: no sign of an optimum
                return _Descent(state=state, linear=linear, iterations=iteration, converged=False)
            continue
        state, linear = trial, following
        equations = linear.equations()
        damping = damping / 10 if damping > _LEAST_DAMPING else 0.0
    return _Descent(state=state, linear=linear, iterations=most_iterations, converged=False)


def _tries(step: Vector, trail: Trail, damping: float) -> Iterator[Vector]:
    """Give the steps to try: the one that the last ones lead to, the computed one, and shares of it."""
    led = trail.step()
    if led is not None:
        yield led
    yield step
    if not damping:
        yield step / 2
        yield step / 8


def _moved(system: System, state: Vector, step: Vector) -> tuple[Vector, Whitened]:
    """Return the state a step further, and the system there."""
    trial = state.copy()
    trial[system.free] += step
    with np.errstate(all="ignore"):  # a step too far may overflow; it is then refused
        return trial, system.at(trial)


def _no_worse(linear: Whitened, following: Whitened) -> bool:
    with np.errstate(all="ignore"):
        gain = linear.sum_of_squares - following.sum_of_squares
        return bool(np.isfinite(gain) and gain >= -_LOSS_IS_ROUNDING * (linear.sum_of_squares + _LOSS_IS_ROUNDING))


def _step(task: _Task, state: Vector, linear: Whitened, equations: Equations, damping: float) -> Vector:
    """Return the move of the free unknowns; a free network also moves back towards its start along what is open."""
    scale = equations.scale
    if task.datum is not None:
        left, sizes, right = split(linear.dense(scale))
        step = right.T @ (-(left.T @ linear.residuals) * sizes / (sizes**2 + damping)) / scale
        moved = (state - task.start)[task.system.free]
        return to_datum(right, scale, task.datum, moved + step) - moved
    normal = equations.matrix
    if damping:
        normal = normal + damping * np.eye(len(normal))
    if lower_root(normal) is not None:
        return np.linalg.solve(normal, -equations.gradient) / scale
    jacobian, residuals = linear.dense(scale), linear.residuals
    if damping:
        jacobian = np.vstack([jacobian, np.sqrt(damping) * np.eye(len(scale))])
        residuals = np.concatenate([residuals, np.zeros(len(scale))])
    basis, upper = np.linalg.qr(jacobian)
    expect_full_rank(upper)
    solved: Vector = np.linalg.solve(upper, -(basis.T @ residuals)) / scale
    return solved


def _summed_up(task: _Task, descent: _Descent) -> Adjustment:
    system, linear = task.system, descent.linear
    root = _root_of_cofactors(linear, task.datum)
    covariance = np.zeros((len(descent.state), len(descent.state)))
    covariance[np.ix_(system.free, system.free)] = root @ root.T
    redundancy, w, shares = (np.empty_like(linear.residuals) for _ in range(3))
    for (rows, shown), whitener in zip(linear.fitted(root), system.whiteners, strict=True):
        redundancy[rows], w[rows], shares[rows] = reliability(whitener, linear.residuals[rows], shown)
    return Adjustment(
        state=descent.state,
        covariance=covariance,
        residuals=linear.raw,
        redundancy=redundancy,
        w=w,
        weighted_sum_of_squares=linear.sum_of_squares,
        dof=len(linear.residuals) - root.shape[1],
        iterations=descent.iterations,
        converged=descent.converged,
        whitened_residuals=linear.residuals,
        shares=shares,
        linear=linear,
        free=system.free,
    )


def _root_of_cofactors(linear: Whitened, datum: NDArray[np.intp] | None = None) -> Matrix:
    """Return a matrix that times its transpose gives the cofactors of the free unknowns."""
    equations = linear.equations()
    scale = equations.scale
    if datum is None:
        return regular(equations.matrix, lambda: linear.dense(scale), scale)
    _, sizes, right = split(linear.dense(scale))
    root = (right.T / sizes) / scale[:, None]
    return np.asarray(to_datum(right, scale, datum, root))
