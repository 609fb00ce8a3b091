"""Linear and whole-number programs over known patterns, by the solver HiGHS.

Nothing it says is taken on trust: values of patterns are rounded and counted again, prices of pieces become bounds only
through `bound.py`, and its word on optimality is never used. Whole-number programs get a fresh model each time: a model
that had grown and was then made whole-numbered has returned a false optimum.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import highspy
import numpy as np
from highspy import _core
from numpy.typing import NDArray

from nookwright.solvers.covering.problem import Limits, Pattern, Supply, Whole, covers, limits_of, price_of

_Floats = NDArray[np.float64]
_NO_INDEX = np.empty(0, dtype=np.int32)
_NO_VALUE = np.empty(0)
_MOST_SECONDS = 1e6


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
            add_columns(self._model, new, self._supplies, None)
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
        self._model.run()
        solution = self._model.getSolution()
        duals, values = np.array(solution.row_dual), np.array(solution.col_value)
        return Relaxed(
            cost=float(self._model.getInfo().objective_function_value),
            shares=values[self._rows :],
            missing=float(values[: self._rows].sum()),
            worth=np.maximum(duals[: self._kinds], 0.0),
            scarce=-duals[self._kinds :],
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Program:
    """A whole-number program: how often to cut each of a list of patterns.

    Args:
        patterns: patterns to choose from.
        demand, supplies, limits: the problem.
        exactly: whether no piece is to be given more often than demanded.
    """

    patterns: tuple[Pattern, ...]
    demand: Whole
    supplies: tuple[Supply, ...]
    limits: Limits
    exactly: bool

    def rows(self) -> tuple[_Floats, _Floats]:
        """Return the limits of the rows: a row a kind, then a row a stock."""
        low, high = row_limits(self.demand, self.limits)
        if self.exactly:
            high[: len(self.demand)] = self.demand
        return low, high


def whole_plan(program: Program, *, below: int, seconds: float, nodes: int, seed: int) -> list[Pattern] | None:
    """Return a plan made of known patterns only, if one below a price is found.

    Args:
        program: the patterns and the demand.
        below: only plans of a lower price are of interest.
        seconds, nodes: limits of the search.
        seed: start of the solver's own shaking.

    Returns:
        A plan that covers the demand within the limits, counted again here; None when none was found, which proves
        nothing.
    """
    model = quiet_model()
    model.setOptionValue("time_limit", min(max(seconds, 0.01), _MOST_SECONDS))
    model.setOptionValue("mip_max_nodes", nodes)
    model.setOptionValue("mip_rel_gap", 0.0)
    model.setOptionValue("mip_abs_gap", 0.5)
    model.setOptionValue("objective_bound", below - 0.5)
    model.setOptionValue("random_seed", seed)
    add_rows(model, *program.rows())
    add_columns(model, program.patterns, program.supplies, program.demand)
    count = len(program.patterns)
    model.changeColsIntegrality(count, np.arange(count, dtype=np.int32), np.full(count, 1, dtype=np.uint8))
    model.run()
    values = np.array(model.getSolution().col_value)
    if len(values) != count or not np.all(np.isfinite(values)):
        return None
    times = np.maximum(np.rint(values).astype(np.int64), 0)
    plan = [pattern for pattern, often in zip(program.patterns, times, strict=True) for _ in range(int(often))]
    good = price_of(plan, program.supplies) < below and covers(plan, program.demand, program.limits)
    return plan if good else None


def quiet_model() -> Any:
    """Return an empty model that prints nothing: the public class prints a banner before it can be silenced."""
    model = _core._Highs()
    model.setOptionValue("output_flag", False)
    model.setOptionValue("threads", 1)
    model.setOptionValue("random_seed", 1)
    return model


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


def add_columns(model: Any, patterns: Sequence[Pattern], supplies: Sequence[Supply], demand: Whole | None) -> None:
    """Add a column a pattern; with a demand, none is cut more often than could be of use."""
    starts: list[int] = []
    rows: list[int] = []
    values: list[int] = []
    tops: list[float] = []
    for pattern in patterns:
        held = np.flatnonzero(pattern.counts)
        starts.append(len(rows))
        rows.extend([*held.tolist(), len(pattern.counts) + pattern.stock])
        values.extend([*pattern.counts[held].tolist(), 1])
        often = math.inf if demand is None else max(-(-int(demand[i]) // int(pattern.counts[i])) for i in held)
        tops.append(min(float(often), highspy.kHighsInf))
    prices = np.array([supplies[pattern.stock].price for pattern in patterns], dtype=np.float64)
    model.addCols(
        len(patterns), prices, np.zeros(len(patterns)), np.array(tops), len(rows),
        np.array(starts, dtype=np.int32), np.array(rows, dtype=np.int32), np.array(values, dtype=np.float64),
    )  # fmt: skip
