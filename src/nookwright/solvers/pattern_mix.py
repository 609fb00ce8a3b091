"""The linear program over known cutting patterns: its prices only suggest proofs, nothing it says is trusted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

_Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class MixOfPatterns:
    """The cheapest mix of columns: its cost, how much of each column, and the price of each row."""

    cost: float
    shares: _Floats
    prices: _Floats


def cheapest_mix(columns: _Floats, costs: Sequence[float], at_least: Sequence[float]) -> MixOfPatterns:
    """Return the cheapest mix of columns whose rows reach what they must.

    Args:
        columns: a row of the matrix for each row of the program, a column for each pattern.
        costs: of each column.
        at_least: what each row must reach.
    """
    import highspy

    from nookwright.solvers.covering.master import quiet_model, run

    rows, count = columns.shape
    model = quiet_model()
    program = highspy.HighsLp()
    program.num_col_, program.num_row_ = count, rows
    program.col_cost_ = np.array(costs, dtype=float)
    program.col_lower_, program.col_upper_ = np.zeros(count), np.full(count, highspy.kHighsInf)
    program.row_lower_, program.row_upper_ = np.array(at_least, dtype=float), np.full(rows, highspy.kHighsInf)
    where, held = np.nonzero(columns.T)
    program.a_matrix_.start_ = np.searchsorted(where, np.arange(count + 1)).astype(np.int32)
    program.a_matrix_.index_ = held.astype(np.int32)
    program.a_matrix_.value_ = columns[held, where]
    model.passModel(program)
    run(model)
    found = model.getSolution()
    return MixOfPatterns(
        cost=float(model.getInfo().objective_function_value),
        shares=np.array(found.col_value),
        prices=np.array(found.row_dual),
    )


class GrowingMix:
    """The cheapest mix while columns are added: the solver goes on from the mix before."""

    def __init__(self, at_least: Sequence[int], missing: float) -> None:
        """Begin without columns.

        Args:
            at_least: what each row must reach.
            missing: price of one that a row lacks.
        """
        from nookwright.solvers.covering.master import add_rows, add_stand_ins, quiet_model

        self._rows = len(at_least)
        self._model = quiet_model()
        self._model.setOptionValue("presolve", "off")
        self._model.setOptionValue("simplex_strategy", 4)
        low = np.array(at_least, dtype=float)
        add_rows(self._model, low, np.full(self._rows, np.inf))
        add_stand_ins(self._model, self._rows)
        self._model.changeColsCost(
            self._rows, np.arange(self._rows, dtype=np.int32), np.full(self._rows, float(missing))
        )

    def add(self, columns: Sequence[NDArray[np.int64]], prices: Sequence[int]) -> None:
        """Add columns, each at its price."""
        held = [np.flatnonzero(column) for column in columns]
        starts = np.concatenate(([0], np.cumsum([len(each) for each in held])[:-1])).astype(np.int32)
        indices = np.concatenate(held).astype(np.int32)
        values = np.concatenate([column[each] for column, each in zip(columns, held, strict=True)]).astype(float)
        count = len(columns)
        self._model.addCols(
            count, np.array(prices, dtype=float), np.zeros(count), np.full(count, np.inf), len(indices), starts,
            indices, values,
        )  # fmt: skip

    def prices(self) -> _Floats:
        """Return the price of each row in the cheapest mix."""
        from nookwright.solvers.covering.master import run

        run(self._model)
        prices: _Floats = np.maximum(np.array(self._model.getSolution().row_dual), 0.0)
        return prices
