"""Looks for a plan on fewer equal sheets by mixing patterns, where refitting a few sheets at a time gets no further.

A linear program over the patterns known says how many sheets a mix of parts of patterns takes, and what each part is
worth there. Patterns worth more than a sheet are looked for and join the program. As soon as the mix is within the
sheets aimed at, plans are made of it: at one go, or sheet after sheet with the program solved anew for the rest. What
does not fit is refitted. Nothing here proves anything.

Source:
    Gilmore and Gomory, Operations Research 9, 1961 (column generation). Status: recalled. The rest: derived here.
"""

from __future__ import annotations

from collections.abc import Generator, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.pattern_mix import cheapest_mix
from nookwright.solvers.shaking import Shaker
from nookwright.solvers.sheet_forests import empty_forest, fresh_state, most_nodes, workbench

if TYPE_CHECKING:
    from nookwright.solvers.kernels.cutting_trees import Forest, Job
    from nookwright.solvers.kernels.pattern_pool import Pool

_Whole = NDArray[np.int64]
_Floats = NDArray[np.float64]
_Marks = NDArray[np.bool_]
_NEAR = 1e-6
_ROOM = 30_000
"""Patterns that are kept at most."""
_ADDED = 200
"""Patterns of the pool that join the program at once."""
_MOST_COLUMNS, _FEWER_COLUMNS = 1500, 800
"""Columns from which on the program is made smaller, and how many then stay."""
_SEARCHES, _FEWER_SEARCHES, _ROUNDS = 20, 6, 200
"""Searches for patterns between two programs, fewer once the mix is within the sheets, and rounds of each."""
_HEAT = 0.2
_CLOSE = 0.05
"""Share of a sheet that a mix may be above the sheets aimed at when plans are made of it at one go."""
_CLOSER = 0.02
"""The same for plans made sheet after sheet, at each of them."""
_AT_ONE_GO = 3
"""Plans at one go for each plan sheet after sheet."""
_NEW_SHARE = 0.7
"""Share of a pattern's area that must not be placed yet."""
_DIVE_COLUMNS = 1000
_DIVE_PROGRAMS = 3
"""Programs for the rest, each with new patterns, before a plan sheet after sheet is given up."""
_NEARLY_WHOLE = 0.9
_LEFT_TO_REFIT = 4
"""Sheets left when the rest is refitted on them alone."""
_REFIT_ROUNDS = 2000


@dataclass(frozen=True, slots=True, kw_only=True)
class _Mix:
    """Sheets that a mix takes, what each part is worth there, the patterns in it, and how much of each."""

    sheets: float
    worth: _Floats
    patterns: _Whole
    shares: _Floats


class PatternSearch:
    """A search that can be left after any step and taken up again; `forest` is a plan as soon as it is `complete`."""

    def __init__(self, job: Job, sheets: int, seed: int) -> None:
        """Begin without patterns.

        Args:
            job: the parts, and one kind of sheet of which there is any number.
            sheets: how many the plan may have.
            seed: where the sequences start that the search shakes with.
        """
        from nookwright.solvers.kernels.pattern_pool import Pool

        self._job, self._parts = job, job.length.size
        self._areas = job.length * job.width
        nodes, words = most_nodes(job), -(-self._parts // 64)
        self._pool: Pool = Pool(
            known=np.zeros(1, dtype=np.int64), parts=np.zeros((_ROOM, words), dtype=np.uint64),
            slots=np.full(2 * _ROOM, -1, dtype=np.int64), nodes=np.zeros(_ROOM, dtype=np.int16),
            across=np.zeros(_ROOM, dtype=np.int16), depth=np.zeros((_ROOM, nodes), dtype=np.int16),
            token=np.zeros((_ROOM, nodes), dtype=np.int16),
        )  # fmt: skip
        self._state = fresh_state(self._parts, seed)
        self._shaker = Shaker(seed)
        self._bench, self._one = workbench(job, _LEFT_TO_REFIT), empty_forest(1, nodes)
        self._bench.forest.kind[:] = self._one.kind[:] = 0
        self._inside = np.zeros(self._parts, dtype=np.bool_)
        self._held = np.zeros((0, self._parts), dtype=np.bool_)
        self._columns = np.zeros(0, dtype=np.int64)
        self._worth = np.zeros(self._parts)
        self.aim(sheets)

    @property
    def complete(self) -> bool:
        """Whether every part has its place on the sheets."""
        return self._complete

    def aim(self, sheets: int) -> None:
        """Look for a plan on so many sheets; the patterns known stay."""
        self.sheets = sheets
        self._complete = False
        self.forest = self._empty(sheets)
        self._work = self._worked()

    def learn(self, forest: Forest) -> None:
        """Take in the patterns of a plan's sheets."""
        from nookwright.solvers.kernels.pattern_pool import remember

        for s in range(forest.nodes.size):
            remember(self._pool, forest, s)

    def step(self) -> None:
        """Do a little, some hundredths of a second."""
        if not self._complete:
            next(self._work)

    def _empty(self, sheets: int) -> Forest:
        forest = empty_forest(sheets, self._one.depth.shape[1])
        forest.kind[:] = 0
        return forest

    def _worked(self) -> Iterator[None]:
        """Solve the program, look for patterns, make plans, over and over until a plan is complete."""
        turn = 0
        while True:
            self._make_room()
            mix: _Mix | None = None
            for mix in self._mixed():  # noqa: B007
                yield
            if mix is None:
                return
            within = mix.sheets <= self.sheets + _CLOSE
            slack = max(0.0, min(0.1, (self.sheets - mix.sheets) / 2))
            least = 1.0 - slack - _NEAR if mix.sheets <= self.sheets + _NEAR else 1.0 + _NEAR
            searches = _FEWER_SEARCHES if within else _SEARCHES
            self._seek(mix.worth, least, [mix.patterns[(turn + a) % len(mix.patterns)] for a in range(searches)])
            turn += searches
            yield
            if within:
                for _ in range(_AT_ONE_GO):
                    self._at_one_go(mix)
                    yield
            if mix.sheets <= self.sheets + _CLOSER:
                yield from self._sheet_after_sheet(mix)

    def _make_room(self) -> None:
        """Keep the better half of the patterns when the pool is nearly full; then list the parts of each."""
        from nookwright.solvers.kernels.pattern_pool import thin_out

        if self._pool.known[0] > _ROOM * 9 // 10:
            self._list()
            order = np.argsort(-(self._held @ self._worth), kind="stable")
            kept = np.union1d(order[: _ROOM // 2], self._columns)
            thin_out(self._pool, kept)
            self._columns = np.searchsorted(kept, self._columns)
        self._list()

    def _list(self) -> None:
        """List the parts of every pattern of the pool."""
        count = int(self._pool.known[0])
        bits = np.unpackbits(self._pool.parts[:count].view(np.uint8), axis=1, bitorder="little")
        self._held = bits[:, : self._parts].astype(np.bool_)

    def _mixed(self) -> Iterator[_Mix]:
        """Yield the best mix of the program's patterns while others join it; at last the best of all in the pool."""
        if not len(self._columns):
            self._columns = np.arange(len(self._held))
        while True:
            chosen = self._columns
            sheets, worth, shares = _program(self._held[chosen])
            used = shares > _NEAR
            mix = _Mix(sheets=sheets, worth=worth, patterns=chosen[used], shares=shares[used])
            yield mix
            gain = self._held @ worth
            better = np.setdiff1d(np.flatnonzero(gain > 1 + 10 * _NEAR), chosen)
            if not len(better):
                break
            better = better[np.argsort(-gain[better], kind="stable")[:_ADDED]]
            self._columns = np.concatenate([chosen, better])
        self._worth = worth
        if len(chosen) > _MOST_COLUMNS:
            best = chosen[np.argsort(-gain[chosen], kind="stable")[:_FEWER_COLUMNS]]
            self._columns = np.union1d(best, mix.patterns)

    def _seek(self, worth: _Floats, least: float, begins: list[int]) -> None:
        """Look for patterns worth enough, beginning with each of those named."""
        from nookwright.solvers.kernels.pattern_pool import Sought, lay, seek

        sought = Sought(worth, least, _HEAT)
        for begin in begins:
            lay(self._pool, begin, self._one, 0)
            seek(_ROUNDS, self._job, sought, self._one, self._bench, self._inside, self._state.chance, self._pool)

    def _shaken(self, shares: _Floats, spread_pct: int) -> _Whole:
        """Return the order of the shares, largest first, each shaken by up to so many per cent."""
        shake = np.array([self._shaker.below(1000) for _ in shares])
        return np.argsort(-shares * (100_000 - spread_pct * shake), kind="stable")

    def _at_one_go(self, mix: _Mix) -> None:
        """Set the patterns most wanted on the sheets, as far as they hold new parts, and refit."""
        from nookwright.solvers.kernels.pattern_pool import lay_new

        forest, placed, used = self._empty(self.sheets), np.zeros(self._parts, dtype=np.bool_), 0
        for i in self._shaken(mix.shares, 75):
            held = self._held[mix.patterns[i]]
            if used < self.sheets and self._areas[held & ~placed].sum() >= _NEW_SHARE * self._areas[held].sum():
                lay_new(self._pool, mix.patterns[i], forest, used, placed, self._bench)
                used += 1
        self._refit(forest, np.flatnonzero(~placed))

    def _sheet_after_sheet(self, mix: _Mix) -> Iterator[None]:
        """Set the pattern most wanted on a sheet, solve the program for the rest, and so on; refit at the end."""
        from nookwright.solvers.kernels.pattern_pool import lay_new

        forest, placed, used = self._empty(self.sheets), np.zeros(self._parts, dtype=np.bool_), 0
        count = len(self._held)
        gain = self._held @ mix.worth
        known = np.union1d(mix.patterns, np.argsort(-gain, kind="stable")[:_DIVE_COLUMNS])
        self._list()
        known = np.concatenate([known, np.arange(count, len(self._held))])
        while used < self.sheets - _LEFT_TO_REFIT:
            rest, known = yield from self._rest(placed, self.sheets - used + _CLOSER, known)
            if rest.sheets > self.sheets - used + _CLOSER:
                break
            for step, i in enumerate(self._shaken(rest.shares, 40)):
                pattern = rest.patterns[i]
                apart = rest.shares[i] > _NEARLY_WHOLE and not (self._held[pattern] & placed).any()
                if used == self.sheets - _LEFT_TO_REFIT or (step and not apart):
                    break
                lay_new(self._pool, pattern, forest, used, placed, self._bench)
                used += 1
        self._refit_rest(forest, used, np.flatnonzero(~placed))
        yield

    def _rest(self, placed: _Marks, enough: float, known: _Whole) -> Generator[None, None, tuple[_Mix, _Whole]]:
        """Solve the program for what is not placed, with new patterns as long as it needs more than enough sheets."""
        left = np.flatnonzero(~placed)
        for attempt in range(_DIVE_PROGRAMS):
            columns = self._held[np.ix_(known, left)]
            some = columns.any(axis=1)
            chosen = known[some]
            sheets, worth, shares = _program(columns[some])
            yield
            used = shares > _NEAR
            whole = np.zeros(self._parts)
            whole[left] = worth
            mix = _Mix(sheets=sheets, worth=whole, patterns=chosen[used], shares=shares[used])
            if sheets <= enough or attempt == _DIVE_PROGRAMS - 1:
                break
            count = len(self._held)
            begins = [mix.patterns[self._shaker.below(len(mix.patterns))] for _ in range(_FEWER_SEARCHES)]
            self._seek(whole, 1.0 + _NEAR, begins)
            self._list()
            known = np.concatenate([known, np.arange(count, len(self._held))])
        return mix, known

    def _refit_rest(self, forest: Forest, used: int, left: _Whole) -> None:
        """Refit what is left on the sheets still empty alone, then on all."""
        alone = self._empty(self.sheets - used)
        self._refitted(alone, left, _REFIT_ROUNDS // 2)
        for column, source in zip(forest, alone, strict=True):
            column[used:] = source
        self._refit(forest, self._state.outside[: self._state.figures[0]].copy())

    def _refit(self, forest: Forest, left: _Whole) -> None:
        """Refit what is left on all sheets; learn their patterns, and keep the plan if it is complete."""
        self._refitted(forest, left, _REFIT_ROUNDS)
        self.learn(forest)
        if self._state.figures[0] == 0:
            self.forest, self._complete = forest, True

    def _refitted(self, forest: Forest, left: _Whole, count: int) -> None:
        from nookwright.solvers.kernels.refit import PERIOD, rounds

        self._state.outside[: len(left)] = left
        self._state.figures[:] = len(left), int(self._areas[left].sum()), PERIOD // 2, 0
        rounds(count, -1, self._job, forest, self._state, self._bench)


def _program(held: _Marks) -> tuple[float, _Floats, _Floats]:
    """Return how many sheets the best mix of patterns takes, what each part is worth, and how much of each pattern."""
    mix = cheapest_mix(held.T.astype(np.float64), [1.0] * len(held), [1.0] * held.shape[1])
    return mix.cost, np.maximum(mix.prices, 0.0), mix.shares
