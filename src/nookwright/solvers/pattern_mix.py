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
    held = [np.flatnonzero(column) for column in columns.T]
    program.a_matrix_.start_ = np.concatenate(([0], np.cumsum([len(each) for each in held]))).astype(np.int32)
    program.a_matrix_.index_ = np.concatenate(held).astype(np.int32)
    program.a_matrix_.value_ = np.concatenate([columns[each, i] for i, each in enumerate(held)])
    model.passModel(program)
    run(model)
    found = model.getSolution()
    return MixOfPatterns(
        cost=float(model.getInfo().objective_function_value),
        shares=np.array(found.col_value),
        prices=np.array(found.row_dual),
    )
