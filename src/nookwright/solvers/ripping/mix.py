"""The linear program of lanes and rips: can so many boards give all pieces, parts of a lane and of a rip allowed?

Its prices of pieces become proofs only once they are whole numbers and every kind of lane has been filled exactly with
them; nothing that the solver HiGHS says is taken on trust.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import highspy
import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.covering.bound import Proof, whole_prices
from nookwright.solvers.covering.master import add_rows, quiet_model, run
from nookwright.solvers.covering.problem import Limits, Supply, TimeLeft, Whole
from nookwright.solvers.ripping.lanes import FilledLanes, Lanes

_Floats = NDArray[np.float64]
_NEAR = 1e-7
_SMOOTHING = 0.7
_ROUNDS, _ROUGH_ROUNDS = 3000, 10


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Worth:
    """A proof: what the pieces are worth together, and the most that a board can be worth, ripped in each way.

    Args:
        pieces: worth of all pieces wanted.
        rips: the most that each way to rip can give.
        values: prices of the pieces.
        scale: units in one unit of money.
    """

    pieces: int
    rips: Whole
    values: Whole
    scale: int


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Mixed:
    """Where the program ended.

    Args:
        rips: how often each way to rip is used.
        missing: worth of what is not given.
        cost: its cost.
        proofs: proofs found on the way, the last one the best.
    """

    rips: _Floats
    missing: float
    cost: float
    proofs: tuple[Worth, ...]


class LaneMix:
    """The program; it grows by lanes and is kept warm."""

    def __init__(self, lanes: Lanes, supplies: Sequence[Supply], time_left: TimeLeft) -> None:
        """Start with every way to rip and no lane.

        Args:
            lanes: the pieces and the ways to rip.
            supplies: price and number of each stock.
            time_left: seconds left.
        """
        self.lanes = lanes
        self._coarse = lanes.in_steps()
        self._time_left = time_left
        self._supplies = tuple(supplies)
        self._prices = np.array([one.price for one in supplies], dtype=np.float64)[lanes.rip_stock]
        self._kinds, self._types, self._stocks = len(lanes.demand), len(lanes.kinds), len(supplies)
        self._known: set[tuple[int, bytes]] = set()
        self._areas = (lanes.lengths * lanes.widths).astype(np.float64)
        self._areas /= self._areas.min()
        self._model = quiet_model()
        self._model.setOptionValue("presolve", "off")
        self._model.setOptionValue("simplex_strategy", 4)
        infinite = highspy.kHighsInf
        low = np.concatenate([lanes.demand.astype(np.float64), np.zeros(self._types + self._stocks)])
        add_rows(self._model, low, np.full(len(low), infinite))
        for kind in range(self._kinds):
            self._column(0.0, [kind], [1.0])
        for rip, stock in zip(lanes.rips, lanes.rip_stock.tolist(), strict=True):
            held = np.flatnonzero(rip)
            rows = [*(self._kinds + held).tolist(), self._kinds + self._types + stock]
            self._column(0.0, rows, [*rip[held].astype(float).tolist(), 1.0])

    def _column(self, cost: float, rows: Sequence[int], values: Sequence[float]) -> None:
        self._model.addCol(
            cost, 0.0, highspy.kHighsInf, len(rows), np.array(rows, dtype=np.int32), np.array(values, dtype=np.float64)
        )

    def solved(
        self, *, boards: tuple[Sequence[int], Sequence[int | None]], low: Whole, high: Whole, money: bool
    ) -> Mixed:
        """Add lanes until none is worth adding, or until a proof shows that the boards cannot give all pieces.

        Args:
            boards: least and most boards of each stock.
            low, high: least and most of each way to rip.
            money: whether boards cost money; else only what is missing counts, and a proof ends the search.

        Returns:
            The mix, and the proofs found on the way.
        """
        self._limited(boards, low, high, money)
        lanes, best = self._coarse or self.lanes, -1.0
        proofs: list[Worth] = []
        centre: _Floats | None = None
        for _ in range(_ROUNDS):
            duals, rips, missing, cost = self._run()
            worth, tied = duals[: self._kinds], duals[self._kinds : self._kinds + self._types]
            added, short = 0, False
            for trial in _tries(worth, centre, again=best < 0):
                proof, filled = self._worth(lanes, trial)
                reached = self._reached(proof, boards, low, high, money)
                if reached > best or centre is None:
                    centre, best = trial, max(best, reached)
                    if lanes is self.lanes:
                        proofs.append(proof)
                short = not money and reached > 0
                added = 0 if short else self._grown(filled, worth, tied)
                if added or short:
                    break
            settled = self._time_left() <= 0 or (not money and missing < _NEAR)
            if settled or (not added and lanes is self.lanes):
                break
            if not added:
                lanes, best = self.lanes, -1.0
        if money and not proofs:  # the time was up before true lanes were looked at
            proofs.append(self._worth(self.lanes, worth if centre is None else centre)[0])
        return Mixed(rips=rips, missing=missing, cost=cost, proofs=tuple(proofs))

    def roughly(self, *, boards: tuple[Sequence[int], Sequence[int | None]], low: Whole, high: Whole) -> Mixed:
        """Return the cheapest mix of the lanes known and a few more, without a proof.

        Args:
            boards: least and most boards of each stock.
            low, high: least and most of each way to rip.
        """
        self._limited(boards, low, high, money=True)
        lanes = self._coarse or self.lanes
        for _ in range(_ROUGH_ROUNDS):
            duals, rips, missing, cost = self._run()
            worth, tied = duals[: self._kinds], duals[self._kinds : self._kinds + self._types]
            if self._time_left() <= 0 or not self._grown(self._worth(lanes, worth)[1], worth, tied):
                break
        return Mixed(rips=rips, missing=missing, cost=cost, proofs=())

    def _worth(self, lanes: Lanes, prices: _Floats) -> tuple[Worth, FilledLanes]:
        """Return what pieces and ways to rip are worth by some prices, and the lanes; a proof if the lanes are true."""
        values, scale = whole_prices(np.maximum(prices, 0.0), self.lanes.most_pieces)
        filled = lanes.filled(values, lanes.demand)
        pieces = int(values @ lanes.demand)
        return Worth(pieces=pieces, rips=lanes.rips @ filled.values, values=values, scale=scale), filled

    def _limited(
        self, boards: tuple[Sequence[int], Sequence[int | None]], low: Whole, high: Whole, money: bool
    ) -> None:
        model = self._model
        first = self._kinds + self._types
        most = [highspy.kHighsInf if one is None else float(one) for one in boards[1]]
        model.changeRowsBounds(
            self._stocks, np.arange(first, first + self._stocks, dtype=np.int32), np.array(boards[0], dtype=np.float64),
            np.array(most),
        )  # fmt: skip
        columns = np.arange(self._kinds, self._kinds + len(low), dtype=np.int32)
        model.changeColsBounds(len(low), columns, low.astype(np.float64), high.astype(np.float64))
        model.changeColsCost(len(low), columns, self._prices if money else np.zeros(len(low)))
        dear = 2 * float(self._prices.max()) if money else 1.0
        model.changeColsCost(self._kinds, np.arange(self._kinds, dtype=np.int32), dear * self._areas)

    def _run(self) -> tuple[_Floats, _Floats, float, float]:
        run(self._model)
        solution = self._model.getSolution()
        values = np.array(solution.col_value)
        return (
            np.array(solution.row_dual),
            values[self._kinds : self._kinds + len(self.lanes.rips)],
            float((values[: self._kinds] * self._areas).sum()),
            float(self._model.getInfo().objective_function_value),
        )

    def _reached(
        self, proof: Worth, boards: tuple[Sequence[int], Sequence[int | None]], low: Whole, high: Whole, money: bool
    ) -> float:
        """Return how good a proof is: by how much the boards fall short, or the money it proves, roughly."""
        if money:
            tops = tuple(int(proof.rips[self.lanes.rip_stock == stock].max(initial=0)) for stock in range(self._stocks))
            limits = Limits(low=tuple(boards[0]), high=tuple(boards[1]))
            least = Proof(values=proof.values, tops=tops, scale=proof.scale).least
            return float(least(self.lanes.demand, self._supplies, limits))
        most = [0 if one is None else one for one in boards[1]]
        return float(proof.pieces - most_worth(proof, self.lanes, most, low, high))

    def _grown(self, filled: FilledLanes, worth: _Floats, tied: _Floats) -> int:
        """Add the best lanes that are worth more than a lane of their kind costs; return how many are new."""
        count = 0
        for kind in range(self._types):
            lane = filled.lane(kind)
            key = kind, lane.tobytes()
            if worth @ lane > tied[kind] + _NEAR * max(1.0, tied[kind]) and key not in self._known:
                self._known.add(key)
                held = np.flatnonzero(lane)
                self._column(0.0, [*held.tolist(), self._kinds + kind], [*lane[held].astype(float).tolist(), -1.0])
                count += 1
        return count


def _tries(worth: _Floats, centre: _Floats | None, *, again: bool) -> tuple[_Floats, ...]:
    """Return prices to fill lanes by: ones between best and latest, or again the best; then the latest."""
    if centre is None:
        return (worth,)
    return (centre if again else _SMOOTHING * centre + (1 - _SMOOTHING) * worth, worth)


def most_worth(proof: Worth, lanes: Lanes, boards: Sequence[int], low: Whole, high: Whole) -> int:
    """Return a worth that so many boards of each stock cannot exceed, within limits of each way to rip.

    Beside those that must be, the ways worth most are taken, each as often as it may be.
    """
    total = int(low @ proof.rips)
    for stock, count in enumerate(boards):
        mine = np.flatnonzero(lanes.rip_stock == stock)
        best = mine[np.argsort(-proof.rips[mine], kind="stable")]
        more = (high - low)[best]
        rest = count - int(low[mine].sum())
        taken = np.clip(rest - (np.cumsum(more) - more), 0, more)
        total += int(taken @ proof.rips[best])
    return total
