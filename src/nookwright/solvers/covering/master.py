"""The linear program over known patterns, by the solver HiGHS.

Nothing it says is taken on trust: prices of pieces become bounds only through `bound.py`, and its word on optimality is
never used. Only linear programs grow; a model that had grown and was then made whole-numbered has returned a false
optimum.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import highspy
import numpy as np
from highspy import _core
from numpy.typing import NDArray

from nookwright.solvers.covering.problem import Limits, Pattern, Supply, Whole, limits_of

_Floats = NDArray[np.float64]
_NO_INDEX = np.empty(0, dtype=np.int32)
_NO_VALUE = np.empty(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Relaxed:
    """The best mix of patterns, parts of a pattern allowed.

    Args:
        cost: its price.
        shares: how often each pattern is cut.
        missing: pieces not given and lengths not used that should be, at a penalty each.
        worth: price of one piece of each kind.
        scarce: what one more of each stock would save; below 0 where the least number asked makes it dearer.
    """

    cost: float
    shares: _Floats
    missing: float
    worth: _Floats
    scarce: _Floats


class Master:
    """The linear program over a growing list of patterns; kept warm between solves."""

    def __init__(self, demand: Whole, supplies: Sequence[Supply]) -> None:
        """Start without patterns."""
        self.patterns: list[Pattern] = []
        self.counts: Whole = np.zeros((0, len(demand)), dtype=np.int64)
        self._known: set[tuple[int, bytes]] = set()
        self._kinds = len(demand)
        self._supplies = tuple(supplies)
        self._model = quiet_model()
        self._model.setOptionValue("presolve", "off")
        self._model.setOptionValue("simplex_strategy", 4)
        add_rows(self._model, *row_limits(demand, limits_of(supplies)))
        self._rows = len(demand) + len(supplies)
        add_stand_ins(self._model, self._rows)
        self.fine(2 * max(supply.price for supply in supplies))

    def add(self, patterns: Sequence[Pattern]) -> int:
        """Take in patterns not yet known; return how many were new."""
        new = []
        for pattern in patterns:
            if pattern.key not in self._known:
                self._known.add(pattern.key)
                new.append(pattern)
        if new:
            _add_columns(self._model, new, self._supplies)
            self.patterns.extend(new)
            self.counts = np.vstack([self.counts, *(pattern.counts for pattern in new)])
        return len(new)

    def restrict(self, left: Whole, limits: Limits, *, loose: bool) -> None:
        """Ask only for what is left, within limits; unless `loose`, patterns that give more of a kind are barred."""
        low, high = row_limits(left, limits)
        self._model.changeRowsBounds(self._rows, np.arange(self._rows, dtype=np.int32), low, high)
        count = len(self.patterns)
        fits = np.full(count, fill_value=True) if loose else np.all(self.counts <= left, axis=1)
        columns = np.arange(self._rows, self._rows + count, dtype=np.int32)
        self._model.changeColsBounds(count, columns, np.zeros(count), np.where(fits, highspy.kHighsInf, 0.0))

    def fine(self, penalty: float) -> None:
        """Set what a missing piece costs."""
        self.penalty = penalty
        columns = np.arange(self._rows, dtype=np.int32)
        self._model.changeColsCost(self._rows, columns, np.full(self._rows, penalty))

    def relaxed(self) -> Relaxed:
        """Return the best mix of the patterns known."""
        run(self._model)
        solution = self._model.getSolution()
        duals, values = np.array(solution.row_dual), np.array(solution.col_value)
        return Relaxed(
            cost=float(self._model.getInfo().objective_function_value),
            shares=values[self._rows :],
            missing=float(values[: self._rows].sum()),
            worth=np.maximum(duals[: self._kinds], 0.0),
            scarce=-duals[self._kinds :],
        )


def quiet_model() -> Any:
    """Return an empty model that prints nothing: the public class prints a banner before it can be silenced."""
    model = _core._Highs()
    model.setOptionValue("output_flag", False)
    model.setOptionValue("random_seed", 1)
    return model


def run(model: Any) -> None:
    """Let the solver work.

    Raises:
        RuntimeError: if it says that it failed; what it holds then is no answer.
    """
    if model.run() == highspy.HighsStatus.kError:
        message = f"the solver of linear programs failed: {model.getModelStatus()}"
        raise RuntimeError(message)


def row_limits(left: Whole, limits: Limits) -> tuple[_Floats, _Floats]:
    """Return the limits of the rows: a row a kind (at least what is left of it), then a row a stock."""
    infinite = highspy.kHighsInf
    most = [infinite if high is None else float(high) for high in limits.high]
    low = np.concatenate([left.astype(np.float64), np.array(limits.low, dtype=np.float64)])
    return low, np.concatenate([np.full(len(left), infinite), most])


def add_rows(model: Any, low: _Floats, high: _Floats) -> None:
    """Add rows without columns, each with its least and its most."""
    model.addRows(len(low), low, high, 0, np.zeros(len(low), dtype=np.int32), _NO_INDEX, _NO_VALUE)


def add_stand_ins(model: Any, rows: int) -> None:
    """Add a column for every row that gives what it asks, so that a program always has a solution."""
    indices = np.arange(rows, dtype=np.int32)
    infinite = np.full(rows, highspy.kHighsInf)
    model.addCols(rows, np.zeros(rows), np.zeros(rows), infinite, rows, indices, indices, np.ones(rows))


def _add_columns(model: Any, patterns: Sequence[Pattern], supplies: Sequence[Supply]) -> None:
    """Add a column a pattern."""
    starts: list[int] = []
    rows: list[int] = []
    values: list[int] = []
    for pattern in patterns:
        held = np.flatnonzero(pattern.counts)
        starts.append(len(rows))
        rows.extend([*held.tolist(), len(pattern.counts) + pattern.stock])
        values.extend([*pattern.counts[held].tolist(), 1])
    prices = np.array([supplies[pattern.stock].price for pattern in patterns], dtype=np.float64)
    count = len(patterns)
    model.addCols(
        count, prices, np.zeros(count), np.full(count, highspy.kHighsInf), len(rows),
        np.array(starts, dtype=np.int32), np.array(rows, dtype=np.int32), np.array(values, dtype=np.float64),
    )  # fmt: skip
