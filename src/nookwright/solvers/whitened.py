"""Observations, and the linear system they make at a state once each counts by its own spread."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.linear_fit import Matrix, Vector

Evaluate = Callable[[Vector], tuple[Vector, Matrix]]
Made = tuple[NDArray[np.intp], Evaluate, Vector, Vector]
"""Observations in the making: the unknowns each depends on, what evaluates them, values observed, their spreads."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Block:
    """Observations that belong together.

    Args:
        evaluate: gives, for a state, the residuals (computed less observed) and their derivatives,
            one row an observation, one column for each entry of `columns`.
        columns: the unknowns the observations depend on, in one row for all of them or in a row for each; the
            derivatives by all others are zero. An unknown named twice in a row counts with the sum of both.
        sd: one standard deviation an observation, when they are independent.
        covariance: their covariance, when they are not. Exactly one of `sd` and `covariance` is given.
    """

    evaluate: Evaluate
    columns: NDArray[np.intp]
    sd: Vector | None = None
    covariance: Matrix | None = None

    def by_all(self, jacobian: Matrix, count: int) -> Matrix:
        """Return derivatives that `evaluate` gave as derivatives by all of so many unknowns."""
        return spread_out(jacobian, np.broadcast_to(self.columns, jacobian.shape), count)


def spread_out(values: Matrix, columns: NDArray[np.intp], count: int) -> Matrix:
    """Return rows of so many entries that hold each value in its column, zero elsewhere; values of one column add up.

    Args:
        values: some values of each row.
        columns: of each value: its column.
        count: how many columns there are.
    """
    places = np.arange(len(values))[:, None] * count + columns
    flat = np.bincount(places.ravel(), weights=values.ravel(), minlength=len(values) * count)
    return np.asarray(flat, dtype=np.float64).reshape(-1, count)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Pattern:
    """Where a block's derivatives belong among the free unknowns; those by held ones go one past the last.

    Args:
        columns: the places, in one row for all observations or in a row for each.
        pairs: of columns that differ from row to row: the place in the normal equations of each two of a row.
    """

    columns: NDArray[np.intp]
    pairs: NDArray[np.intp] | None


def pattern_of(block: Block, place: NDArray[np.intp], free: int) -> Pattern:
    """Return where a block's derivatives belong.

    Args:
        block: the block.
        place: where among the free unknowns each unknown is; the number of the free ones where it is held.
        free: how many unknowns are free.
    """
    columns = place[block.columns]
    pairs = None if columns.ndim == 1 else (columns[:, :, None] * (free + 1) + columns[:, None, :]).ravel()
    return Pattern(columns=columns, pairs=pairs)


def whitener_of(block: Block) -> Matrix | Vector:
    """Return what a block's residuals are multiplied by to have unit variance and no correlation."""
    if (block.sd is None) == (block.covariance is None):
        message = "a block needs either standard deviations or a covariance, not both"
        raise ValueError(message)
    if block.sd is not None:
        return 1.0 / np.asarray(block.sd, dtype=np.float64)
    lower = np.linalg.cholesky(np.asarray(block.covariance, dtype=np.float64))
    return np.asarray(np.linalg.inv(lower), dtype=np.float64)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Equations:
    """Normal equations, the unknowns' columns scaled to unit length: their matrix, the gradient, and those lengths."""

    matrix: Matrix
    gradient: Vector
    scale: Vector


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Whitened:
    """The whitened system at one state.

    Args:
        raw: residuals of all observations, in their own units.
        residuals: the same whitened.
        parts: each block's whitened derivatives.
        patterns: where they belong.
        free: how many unknowns are free.
    """

    raw: Vector
    residuals: Vector
    parts: list[Matrix]
    patterns: Sequence[Pattern]
    free: int

    @property
    def sum_of_squares(self) -> float:
        """Of the whitened residuals."""
        return float(self.residuals @ self.residuals)

    def blocks(self) -> Iterator[tuple[slice, Matrix, Pattern]]:
        """Give the rows, the derivatives and the pattern of each block in turn."""
        first = 0
        for part, pattern in zip(self.parts, self.patterns, strict=True):
            yield slice(first, first + len(part)), part, pattern
            first += len(part)

    def weighted(self, weights: Vector) -> Whitened:
        """Return the system had each whitened observation counted so many times as much."""
        parts = [part * weights[rows, None] for rows, part, _ in self.blocks()]
        return replace(self, residuals=self.residuals * weights, parts=parts)

    def equations(self) -> Equations:
        """Return the normal equations."""
        size = self.free + 1
        flat, gradient = np.zeros(size * size), np.zeros(size)
        matrix = flat.reshape(size, size)
        for rows, part, pattern in self.blocks():
            columns, residuals = pattern.columns, self.residuals[rows]
            if pattern.pairs is None:
                matrix[columns[:, None], columns] += part.T @ part
                gradient[columns] += part.T @ residuals
            else:
                both = part[:, :, None] * part[:, None, :]
                flat += np.bincount(pattern.pairs, weights=both.ravel(), minlength=size * size)
                pull = part * residuals[:, None]
                gradient += np.bincount(columns.ravel(), weights=pull.ravel(), minlength=size)
        matrix, gradient = matrix[:-1, :-1], gradient[:-1]
        squares = np.diag(matrix).copy()
        squares[squares == 0] = 1.0
        scale = np.sqrt(squares)
        return Equations(matrix=matrix / scale / scale[:, None], gradient=gradient / scale, scale=scale)

    def dense(self, scale: Vector) -> Matrix:
        """Return the derivatives by all free unknowns, each divided by its scale."""
        parts = [
            spread_out(part, np.broadcast_to(pattern.columns, part.shape), self.free + 1)[:, :-1]
            for _, part, pattern in self.blocks()
        ]
        full: Matrix = np.concatenate(parts) / scale
        return full

    def fitted(self, root: Matrix) -> Iterator[tuple[slice, Matrix]]:
        """Give each block's rows with its derivatives times a matrix that has a row for each free unknown."""
        padded = np.concatenate([root, np.zeros((1, root.shape[1]))])
        for rows, part, pattern in self.blocks():
            columns = pattern.columns
            if columns.ndim == 1:
                yield rows, part @ padded[columns]
            else:
                found = np.zeros((len(part), root.shape[1]))
                for order in range(columns.shape[1]):
                    found += part[:, order, None] * padded[columns[:, order]]
                yield rows, found


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class System:
    """Observations of unknowns some of which are held; all that stays the same from state to state.

    Args:
        blocks: the observations.
        whiteners: what makes each block's residuals white.
        patterns: where its derivatives belong.
        free: places of the unknowns that are not held.
    """

    blocks: Sequence[Block]
    whiteners: Sequence[Matrix | Vector]
    patterns: Sequence[Pattern]
    free: NDArray[np.intp]

    def at(self, state: Vector) -> Whitened:
        """Return the whitened system at a state."""
        raw, white, parts = [], [], []
        for block, whitener in zip(self.blocks, self.whiteners, strict=True):
            residual, jacobian = block.evaluate(state)
            raw.append(residual)
            if whitener.ndim == 1:
                white.append(whitener * residual)
                parts.append(whitener[:, None] * jacobian)
            else:
                white.append(whitener @ residual)
                parts.append(whitener @ jacobian)
        return Whitened(
            raw=np.concatenate(raw),
            residuals=np.concatenate(white),
            parts=parts,
            patterns=self.patterns,
            free=len(self.free),
        )


def system_of(blocks: Sequence[Block], count: int, held: Sequence[int]) -> System:
    """Return the system of some observations.

    Args:
        blocks: the observations.
        count: how many unknowns there are.
        held: places of those that are held.
    """
    free = np.setdiff1d(np.arange(count), np.asarray(held, dtype=np.intp))
    place = np.full(count, len(free), dtype=np.intp)
    place[free] = np.arange(len(free))
    return System(
        blocks=blocks,
        whiteners=[whitener_of(block) for block in blocks],
        patterns=[pattern_of(block, place, len(free)) for block in blocks],
        free=free,
    )
