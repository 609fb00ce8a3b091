"""A whole-number program over listed columns: how often each is cut; and a quick attempt to solve it by HiGHS."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.covering.master import add_rows, quiet_model, run
from nookwright.solvers.covering.problem import Pattern, Whole

_MOST_SECONDS = 1e6
_Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Program:
    """Columns with a price each, and rows that their numbers must keep.

    Args:
        prices: of each column.
        rows: what each column gives to each row; the first rows are the kinds of pieces.
        low, high: limits of the rows.
        tops: how often each column can be of use.
        groups: sets of columns whose number must be whole before single ones are looked at.
        kinds: how many rows are kinds.
        plan_of: turns numbers of the columns into a plan; None if they do not make one.
    """

    prices: Whole
    rows: Whole
    low: _Floats
    high: _Floats
    tops: Whole
    groups: tuple[NDArray[np.bool_], ...]
    kinds: int
    plan_of: Callable[[Whole], list[Pattern] | None]

    def model(self) -> Any:
        """Return the program as a fresh model, parts of a column allowed."""
        model = quiet_model()
        add_rows(model, self.low, self.high)
        columns, rows = np.nonzero(self.rows)
        count = len(self.prices)
        model.addCols(
            count, self.prices.astype(np.float64), np.zeros(count), self.tops.astype(np.float64), len(rows),
            np.searchsorted(columns, np.arange(count)).astype(np.int32), rows.astype(np.int32),
            self.rows[columns, rows].astype(np.float64),
        )  # fmt: skip
        return model


def whole_plan(program: Program, *, below: int, seconds: float, nodes: int, seed: int) -> list[Pattern] | None:
    """Return a plan made of the columns, if one below a price is found.

    Args:
        program: the columns and their rows.
        below: only plans of a lower price are of interest.
        seconds, nodes: limits of the search.
        seed: start of the solver's own shaking.

    Returns:
        A plan as `plan_of` makes it of the numbers found; None when none was found, which proves nothing.
    """
    model = program.model()
    model.setOptionValue("time_limit", min(max(seconds, 0.01), _MOST_SECONDS))
    model.setOptionValue("mip_max_nodes", nodes)
    model.setOptionValue("mip_rel_gap", 0.0)
    model.setOptionValue("mip_abs_gap", 0.5)
    model.setOptionValue("objective_bound", below - 0.5)
    model.setOptionValue("random_seed", seed)
    count = len(program.prices)
    model.changeColsIntegrality(count, np.arange(count, dtype=np.int32), np.full(count, 1, dtype=np.uint8))
    run(model)
    values = np.array(model.getSolution().col_value)
    if len(values) != count or not np.all(np.isfinite(values)):
        return None
    times = np.maximum(np.rint(values).astype(np.int64), 0)
    return program.plan_of(times) if int(times @ program.prices) < below else None


def program_of_patterns(
    patterns: tuple[Pattern, ...], demand: Whole, prices: Whole, low: _Floats, high: _Floats, *, exactly: bool
) -> Program:
    """Return the program whose columns are whole patterns.

    Args:
        patterns: the columns.
        demand: pieces wanted of each kind.
        prices: of each stock.
        low, high: how many of each stock are used at least and at most.
        exactly: whether no piece is to be given more often than demanded.
    """
    counts = np.array([pattern.counts for pattern in patterns], dtype=np.int64).reshape(-1, len(demand))
    stocks = np.array([pattern.stock for pattern in patterns], dtype=np.int64)
    of_stock = stocks[:, None] == np.arange(len(prices))
    wanted = demand.astype(np.float64)

    def plan_of(times: Whole) -> list[Pattern] | None:
        if np.any(times @ counts < demand) or np.any(times @ of_stock > high):
            return None
        return [pattern for pattern, often in zip(patterns, times, strict=True) for _ in range(int(often))]

    return Program(
        prices=prices[stocks], rows=np.hstack([counts, of_stock.astype(np.int64)]), kinds=len(demand),
        low=np.concatenate([wanted, low]),
        high=np.concatenate([wanted if exactly else np.full(len(demand), np.inf), high]),
        tops=np.where(counts > 0, -(-demand // np.maximum(counts, 1)), 0).max(axis=1, initial=0),
        groups=tuple(of_stock.T), plan_of=plan_of,
    )  # fmt: skip
