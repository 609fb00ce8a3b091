"""Looks for a plan on fewer equal sheets by mixing patterns, where refitting a few sheets at a time gets no further.

A linear program over the patterns known says how many sheets a mix of parts of patterns takes, and what each part is
worth there. Patterns worth more than a sheet are looked for and join the program. As soon as the mix is within the
sheets aimed at, plans are made of it: at one go, or sheet after sheet with the program solved anew for the rest. What
does not fit is refitted. Nothing here proves anything.

Source:
    Gilmore and Gomory, Operations Research 9, 1961 (column generation). Status: recalled. The rest: derived here.
"""

from __future__ import annotations

from collections.abc import Generator, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

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
_MOST_COLUMNS, _FEWER_COLUMNS = 4000, 1000
"""Columns from which on the program begins anew, and with how many."""
_SEARCHES, _FEWER_SEARCHES, _ROUNDS = 20, 6, 200
"""Searches for patterns between two programs, fewer once the mix is within the sheets, and rounds of each."""
_HEAT = 0.2
_SMOOTHING = 0.5
"""Share of earlier worths in those that every other search goes by."""
_CLOSE = 0.05
"""Share of a sheet that a mix may be above the sheets aimed at when plans are made of it at one go."""
_CLOSER = 0.02
"""The same for plans made sheet after sheet, at each of them."""
_MOST_SLACK = 0.1
"""How much less than a sheet patterns may be worth that are kept once the mix is within the sheets."""
_AT_ONE_GO = 1
"""Plans at one go for each plan sheet after sheet: they take little time, and succeed less often."""
_NEW_SHARE = 0.7
"""Share of a pattern's area that must not be placed yet."""
_PROGRAMS = 3
"""Programs for the rest, each with new patterns, before a plan sheet after sheet is given up."""
_SHAKEN_PCT, _LESS_SHAKEN_PCT = 75, 40
_NEARLY_WHOLE = 0.9
_LEFT_TO_REFIT = 4
"""Sheets left when the rest is refitted on them alone."""
_REFIT_ROUNDS = 2500
"""Rounds of refitting between two looks at the clock, and at what stands outside."""
_PATIENCE = 2
"""Such looks in vain after which a plan is given up."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Mix:
    """Sheets that a mix takes, what each part is worth there, the patterns in it, and how much of each."""

    sheets: float
    worth: _Floats
    patterns: _Whole
    shares: _Floats


class PatternSearch:
    """A search that can be left after any step and taken up again; `forest` is a plan as soon as it is `complete`."""

    def __init__(self, job: Job, plans: Sequence[Forest], sheets: int, seed: int) -> None:
        """Begin with the patterns of plans; together they must hold every part.

        Args:
            job: the parts, and one kind of sheet of which there is any number.
            plans: whole plans or parts of plans.
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
        self._bench, self._one = workbench(job), empty_forest(1, nodes)
        self._bench.forest.kind[:] = self._one.kind[:] = 0
        self._inside = np.zeros(self._parts, dtype=np.bool_)
        for plan in plans:
            self._learn(plan)
        self._program = _Program(self._parts)
        self._add(np.arange(int(self._pool.known[0])))
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

    def step(self) -> None:
        """Do a little, some hundredths of a second."""
        if not self._complete:
            next(self._work)

    def _empty(self, sheets: int) -> Forest:
        forest = empty_forest(sheets, self._one.depth.shape[1])
        forest.kind[:] = 0
        return forest

    def _worked(self) -> Iterator[None]:
        """Solve the program, look for patterns, make plans, over and over."""
        nothing = np.zeros(self._parts, dtype=np.bool_)
        centre: _Floats | None = None
        turn = 0
        while True:
            mix = yield from self._mixed(nothing, 0.0)
            self._make_room(mix)
            centre = mix.worth if centre is None else _SMOOTHING * centre + (1 - _SMOOTHING) * mix.worth
            within = mix.sheets <= self.sheets + _CLOSE
            searches = _FEWER_SEARCHES if mix.sheets <= self.sheets + _NEAR else _SEARCHES
            begins = mix.patterns[(turn + np.arange(searches)) % len(mix.patterns)]
            turn += searches
            if mix.sheets <= self.sheets + _NEAR:
                slack = max(0.0, min(_MOST_SLACK, (self.sheets - mix.sheets) / 2))
                self._seek(mix.worth, 1.0 - slack - _NEAR, begins)
            else:
                self._seek(mix.worth, 1.0 + _NEAR, begins[::2])
                self._seek(centre, 1.0 + _NEAR, begins[1::2])
            yield
            if within:
                for _ in range(_AT_ONE_GO):
                    yield from self._at_one_go(mix)
            if mix.sheets <= self.sheets + _CLOSER:
                yield from self._sheet_after_sheet()

    def _make_room(self, mix: _Mix) -> None:
        """Keep half of the patterns when the pool is nearly full; begin the program anew when it is large."""
        from nookwright.solvers.kernels.pattern_pool import thin_out

        full = self._pool.known[0] > _ROOM * 9 // 10
        if not full and self._program.size <= _MOST_COLUMNS:
            return
        order = np.argsort(-self._worths(mix.worth), kind="stable")
        columns = np.union1d(order[:_FEWER_COLUMNS], mix.patterns)
        if full:
            kept = np.union1d(order[: _ROOM // 2], columns)
            thin_out(self._pool, kept)
            columns = np.searchsorted(kept, columns)
        self._program = _Program(self._parts)
        self._add(columns)

    def _held(self, patterns: _Whole) -> _Marks:
        """Return which parts these patterns hold, a row a pattern."""
        bits = np.unpackbits(self._pool.parts[patterns].view(np.uint8), axis=1, bitorder="little")
        return bits[:, : self._parts].astype(np.bool_)

    def _worths(self, worth: _Floats) -> _Floats:
        """Return what each pattern of the pool is worth."""
        from nookwright.solvers.kernels.pattern_pool import worths_of

        worths = np.zeros(int(self._pool.known[0]))
        worths_of(self._pool, worth, worths)
        return worths

    def _mixed(self, placed: _Marks, enough: float) -> Generator[None, None, _Mix]:
        """Return the best mix of all patterns known for what is not placed, or one of no more than enough sheets."""
        self._program.ask(placed)
        while True:
            mix = self._program.mixed()
            worths = self._worths(mix.worth)
            worths[self._program.columns] = 0.0
            better = np.flatnonzero(worths > 1 + _NEAR)
            if not len(better) or mix.sheets <= enough:
                return mix
            self._add(better[np.argsort(-worths[better], kind="stable")[:_ADDED]])
            yield

    def _add(self, chosen: _Whole) -> None:
        """Let patterns join the program."""
        self._program.add(chosen, self._held(chosen))

    def _seek(self, worth: _Floats, least: float, begins: _Whole) -> None:
        """Look for patterns worth enough, beginning with each of those named."""
        from nookwright.solvers.kernels.pattern_pool import Sought, seek_from

        seek_from(
            begins, _ROUNDS, self._job, Sought(worth, least, _HEAT), self._one, self._bench, self._inside,
            self._state.chance, self._pool,
        )  # fmt: skip

    def _shaken(self, shares: _Floats, spread_pct: int) -> _Whole:
        """Return the order of the shares, largest first, each shaken by up to so many per cent."""
        shake = np.array([self._shaker.below(1000) for _ in shares])
        return np.argsort(-shares * (100_000 - spread_pct * shake), kind="stable")

    def _at_one_go(self, mix: _Mix) -> Iterator[None]:
        """Set the patterns most wanted on the sheets, as far as they hold new parts, and refit."""
        from nookwright.solvers.kernels.pattern_pool import lay_new

        forest, placed, used = self._empty(self.sheets), np.zeros(self._parts, dtype=np.bool_), 0
        every = self._held(mix.patterns)
        for i in self._shaken(mix.shares, _SHAKEN_PCT):
            held = every[i]
            if used < self.sheets and self._areas[held & ~placed].sum() >= _NEW_SHARE * self._areas[held].sum():
                lay_new(self._pool, mix.patterns[i], forest, used, placed, self._bench)
                used += 1
        yield from self._refit(forest, np.flatnonzero(~placed))

    def _sheet_after_sheet(self) -> Iterator[None]:
        """Set the pattern most wanted on a sheet, solve the program for the rest, and so on; refit at the end."""
        from nookwright.solvers.kernels.pattern_pool import lay_new

        forest, placed, used = self._empty(self.sheets), np.zeros(self._parts, dtype=np.bool_), 0
        while used < self.sheets - _LEFT_TO_REFIT and not placed.all():
            enough = self.sheets - used + _CLOSER
            rest = yield from self._rest(placed, enough)
            if rest.sheets > enough:
                break
            held = self._held(rest.patterns)
            for step, i in enumerate(self._shaken(rest.shares, _LESS_SHAKEN_PCT)):
                apart = rest.shares[i] > _NEARLY_WHOLE and not placed[held[i]].any()
                if used == self.sheets - _LEFT_TO_REFIT or (step and not apart):
                    break
                lay_new(self._pool, rest.patterns[i], forest, used, placed, self._bench)
                used += 1
        yield from self._refit_rest(forest, used, np.flatnonzero(~placed))

    def _rest(self, placed: _Marks, enough: float) -> Generator[None, None, _Mix]:
        """Return the mix for what is not placed; new patterns are looked for while it takes more than enough sheets."""
        for attempt in range(_PROGRAMS):
            mix = yield from self._mixed(placed, enough)
            yield
            if mix.sheets <= enough or attempt == _PROGRAMS - 1:
                break
            begins = [self._shaker.below(len(mix.patterns)) for _ in range(_FEWER_SEARCHES)]
            self._seek(mix.worth, 1.0 + _NEAR, mix.patterns[begins])
        return mix

    def _refit_rest(self, forest: Forest, used: int, left: _Whole) -> Iterator[None]:
        """Refit what is left on the sheets still empty alone, then on all."""
        alone = self._empty(self.sheets - used)
        yield from self._refitted(alone, left)
        for column, source in zip(forest, alone, strict=True):
            column[used:] = source
        yield from self._refit(forest, self._state.outside[: self._state.figures[0]].copy())

    def _refit(self, forest: Forest, left: _Whole) -> Iterator[None]:
        """Refit what is left on all sheets; learn their patterns, and keep the plan if it is complete."""
        yield from self._refitted(forest, left)
        self._learn(forest)
        if self._state.figures[0] == 0:
            self.forest, self._complete = forest, True
            yield

    def _refitted(self, forest: Forest, left: _Whole) -> Iterator[None]:
        """Refit for as long as ever less stands outside."""
        from nookwright.solvers.kernels.gathered_refit import gathering_rounds
        from nookwright.solvers.kernels.refit import PERIOD

        least = int(self._areas[left].sum()) + 1
        self._state.outside[: len(left)] = left
        self._state.figures[:] = len(left), least - 1, PERIOD // 2, 0
        gathered, in_vain = np.zeros(forest.nodes.size), 0
        while self._state.figures[0] and in_vain < _PATIENCE:
            gathering_rounds(_REFIT_ROUNDS, self._job, forest, self._state, self._bench, gathered)
            yield
            in_vain = 0 if self._state.figures[1] < least else in_vain + 1
            least = min(least, int(self._state.figures[1]))

    def _learn(self, forest: Forest) -> None:
        """Take in the patterns of a plan's sheets."""
        from nookwright.solvers.kernels.pattern_pool import remember

        for s in range(forest.nodes.size):
            remember(self._pool, forest, s)


class _Program:
    """The linear program over some patterns of the pool; `columns` says which."""

    def __init__(self, parts: int) -> None:
        from nookwright.solvers.covering.master import Master
        from nookwright.solvers.covering.problem import Supply

        self._master = Master(np.ones(parts, dtype=np.int64), [Supply(price=1)])
        self.columns = np.zeros(0, dtype=np.int64)

    @property
    def size(self) -> int:
        """How many columns there are."""
        return len(self.columns)

    def add(self, chosen: _Whole, held: _Marks) -> None:
        """Add patterns that are no columns yet, with the parts that each holds."""
        from nookwright.solvers.covering.problem import Pattern

        self._master.add([Pattern(stock=0, counts=row) for row in held.astype(np.int64)])
        self.columns = np.concatenate([self.columns, chosen])

    def ask(self, placed: _Marks) -> None:
        """Ask only for parts that are not placed."""
        from nookwright.solvers.covering.problem import Limits

        self._master.restrict((~placed).astype(np.int64), Limits(low=(0,), high=(None,)), loose=True)

    def mixed(self) -> _Mix:
        """Return the best mix of the columns."""
        found = self._master.relaxed()
        used = found.shares > _NEAR
        return _Mix(sheets=found.cost, worth=found.worth, patterns=self.columns[used], shares=found.shares[used])
