"""The cheapest sheet plan and what proves it: the search and the bound take turns, and tell each other what they know.

The bound names the cheapest sets of sheets that nothing rules out; the search tries to fill just those. The search's
best plan tells the bound what need not be ruled out. The plan is proven best where the two meet.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from nookwright.solvers.bounds import least_sheets
from nookwright.solvers.pack_sheets import Rectangle
from nookwright.solvers.pattern_search import PatternSearch
from nookwright.solvers.refit_sheets import Refit, SheetKind, SheetsFound, Trial
from nookwright.solvers.sheet_bounds import SheetBound
from nookwright.solvers.stock_counts import TooManyCountsError, all_counts_below

_FIRST_STEPS = 10
"""Steps of the search before the bound gets its first turn: most jobs are proven by then."""
_STEPS_A_TURN = 3
"""Steps of the search between two of the bound."""
_LEARNT = 8
"""How often the bound learns the patterns that the search works on before it begins."""
_SLOW = 2
"""So many times more steps of the search while those of the bound are slow, where no trials go with them."""
_PARTS_A_STEP = 4
"""One step for so many parts between two of the bound where there are many and no more than sets are ruled out."""
_TRIAL_STEPS = 4
_IN_VAIN = 60
"""Steps of the search without a better plan before patterns are mixed."""
_MIXING_STEPS = 6
"""Steps of mixing patterns a turn."""
_PROVING_STEPS = 2
"""Steps of the bound a turn while patterns are mixed."""
_QUICK_STEPS = 4
"""Steps of the bound a turn while they are quick ones."""
_FEWEST_SHEETS = 5
"""Sheets of a plan for which patterns are worth mixing: fewer are refitted all at once."""
_FEWEST_MIXED, _MOST_MIXED = 30, 300
"""Parts for which patterns are worth mixing: fewer are soon in their best places, more have too many patterns."""
_TRIALS_BESIDE_MANY, _TRIALS_BESIDE = 10, 8
"""Turns of trials that go with every step of a proof that counts copies: with many parts those are slow, and seldom
succeed; with fewer it is one turn at first, and more, but no more than this, the longer a set of sheets withstands."""
_WITHSTOOD = 5
"""Steps of proofs in vain for each turn more."""
_MANY = 100
_MOST_TRIED = 200
"""Parts up to which sets of sheets are tried: with more there are too many sets, and a trial takes too long."""
_MOST_TRIALS = 12
"""Sets of sheets that are tried."""
_STEPS_OF_TRIAL = 40
"""Steps after which a brief trial begins anew, every other one after twice as many, every fourth after four times as
many, and so on: most that succeed do so soon, some late. With many parts no trial is brief."""
_FIRST_START, _STARTS = 7, 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetsProven:
    """The cheapest plan so far, and a cost that no plan that cuts right through goes below."""

    found: SheetsFound
    least: int

    @property
    def proven(self) -> bool:
        """Whether no plan is cheaper."""
        return self.found.cost <= self.least


def cheapest_sheets(
    rectangles: Sequence[Rectangle], kinds: Sequence[SheetKind], *, kerf: int, deepest: int = 0, seed: int = 1
) -> Iterator[SheetsProven]:
    """Yield plan and bound, step after step, each no worse than the one before; ends when the plan is proven best.

    Args:
        rectangles: what to place.
        kinds: the sheets that can be had.
        kerf: width of a cut, in the unit of the sizes.
        deepest: most directions in which the saw cuts one after the other; 0 for any.
        seed: where the search's sequence of numbers starts.

    Raises:
        ValueError: if the sheets that can be had do not hold the rectangles in any plain order.
    """
    if not rectangles:
        return
    refit = Refit(rectangles, kinds, kerf=kerf, deepest=deepest, seed=seed)
    least = _quick_bound(rectangles, kinds, kerf)
    state = SheetsProven(found=refit.best, least=least)
    yield state
    for _ in range(_FIRST_STEPS):
        if state.proven:
            return
        refit.step()
        state = SheetsProven(found=refit.best, least=least)
        yield state
    bound = SheetBound(rectangles, kinds, kerf=kerf)
    least = max(least, bound.by_area)
    for _ in _begun(refit, bound):
        state = SheetsProven(found=refit.best, least=least)
        yield state
    for reached in _turns(refit, bound, least, parts=len(rectangles)):
        state = SheetsProven(found=refit.best, least=max(state.least, reached))
        yield state
        if state.proven:
            return


def _begun(refit: Refit, bound: SheetBound) -> Iterator[None]:
    """With many parts, let the search go ahead, and the bound learn the patterns it works on; yields now and then."""
    bound.learn(refit.best)
    yield from refit.mixed_strips()
    bound.learn(refit.best)
    for step in range(refit.parts if refit.many else 0):
        refit.step()
        if step % (refit.parts // _LEARNT) == 0:
            bound.learn(refit.standing)
        yield
    bound.learn(refit.best)


def _quick_bound(rectangles: Sequence[Rectangle], kinds: Sequence[SheetKind], kerf: int) -> int:
    """Return the bound by large pieces for one kind of sheet; 0 for several."""
    if len(kinds) != 1:
        return 0
    kind = kinds[0]
    return kind.price * least_sheets(rectangles, length=kind.length, width=kind.width, kerf=kerf).least


def _turns(refit: Refit, bound: SheetBound, least: int, *, parts: int) -> Iterator[int]:
    """Yield the bound after every turn of search, bound and trials, without end."""
    proving: Iterator[int] | None = bound.steps(refit.best.cost)
    trials = _Trials(refit, bound)
    mixing = _Mixing(refit, bound)
    several = len(bound.supplies) > 1
    in_vain = before = 0
    while True:
        slow = bound.counts_copies and not mixing.begun and not several
        often = _STEPS_A_TURN * (_SLOW if slow else 1)
        for _ in range(parts // _PARTS_A_STEP if bound.slow else often):
            refit.step()
            yield least
        mixing.turn()
        yield least
        for _ in range(_QUICK_STEPS if bound.quick else _PROVING_STEPS if mixing.begun else 1):
            if proving is None:
                break
            bound.below = refit.best.cost
            more = next(proving, None)
            least = max(least, min(bound.least, refit.best.cost))
            if bound.worths is not None:
                refit.weigh(bound.worths)
            if more is None:
                proving = None
            yield least
        if bound.counts_copies:
            proven = len(bound.proofs) + len(bound.ruled_out)
            in_vain, before = (in_vain + 1 if proven == before else 0), proven
        if several and parts <= _MOST_TRIED:
            beside = _TRIALS_BESIDE_MANY if parts >= _MANY else min(_TRIALS_BESIDE, 1 + in_vain // _WITHSTOOD)
            for _ in range(1 if proving is None or bound.quick else beside * bound.counts_copies):
                trials.turn()
                yield least


class _Mixing:
    """Mixing patterns of one kind of sheet, once the search by itself gets no further.

    Only where parts may turn: where none may, refitting alone found more in the same time.
    """

    def __init__(self, refit: Refit, bound: SheetBound) -> None:
        self._refit = refit
        alike = len(bound.supplies) == 1 and bound.supplies[0].most is None
        self._of_use = alike and refit.some_turn and _FEWEST_MIXED <= refit.parts <= _MOST_MIXED
        self._search: PatternSearch | None = None

    @property
    def begun(self) -> bool:
        """Whether patterns are being mixed."""
        return self._search is not None

    def turn(self) -> None:
        """Mix a little, if it is time for that."""
        sheets = len(self._refit.best.sheets)
        early = self._search is None and self._refit.steps_in_vain < _IN_VAIN
        if early or not self._of_use or sheets < _FEWEST_SHEETS:
            return
        if self._search is None:
            self._search = self._refit.pattern_search()
        elif self._search.sheets >= sheets:
            self._search.aim(sheets - 1)
        for _ in range(_MIXING_STEPS):
            self._search.step()
        self._refit.adopt(self._search)


class _TrialsOnSet:
    """Two trials on one set of sheets in turn: one goes on and on, the other begins anew now and then."""

    def __init__(self, refit: Refit, counts: tuple[int, ...], start: int) -> None:
        self._refit, self._counts = refit, counts
        self._begun = self._left = self._turns = 0
        self._steady = refit.trial(counts, start)

    def steps(self) -> Trial:
        """Do some steps with one of them; return it as it then stands."""
        self._turns += 1
        if self._turns % 2 or self._refit.parts >= _MANY:
            trial = self._steady
        else:
            if self._left <= 0:
                self._begun += 1
                self._left = _STEPS_OF_TRIAL * (self._begun & -self._begun)
                self._brief = self._refit.trial(self._counts, _STARTS * self._begun + len(self._counts))
            self._left -= _TRIAL_STEPS
            trial = self._brief
        for _ in range(_TRIAL_STEPS):
            trial.step()
        return trial


class _Trials:
    """Sets of sheets that nothing rules out, each with a search on it, in turn."""

    def __init__(self, refit: Refit, bound: SheetBound) -> None:
        self._refit, self._bound = refit, bound
        self._open: dict[tuple[int, ...], _TrialsOnSet] = {}
        self._known = (-1, 0, 0)
        self._cost = -1
        self._turns = 0

    def turn(self) -> None:
        """Give a trial some steps; look again which sets are open when there is a cheaper plan or a new proof.

        Every other turn goes to the roomiest set, the rest go round.
        """
        known = (self._refit.best.cost, len(self._bound.proofs), len(self._bound.ruled_out))
        if self._known != known:
            self._known, self._cost = known, known[0]
            before = self._open
            self._open = {}
            for counts in self._promising():
                self._open[counts] = before.get(counts) or _TrialsOnSet(
                    self._refit, counts, _FIRST_START + len(self._open)
                )
        if not self._open:
            return
        number, all_round = divmod(self._turns, 2)
        on_set = list(self._open.values())[number % len(self._open) if all_round else 0]
        self._turns += 1
        self._refit.adopt(on_set.steps())

    def _promising(self) -> list[tuple[int, ...]]:
        """Return the roomiest sets, and the cheapest, of all that cost less than the best plan; the roomiest first."""
        try:
            listed = list(all_counts_below(self._bound.supplies, self._bound.proofs, self._cost, self._bound.ruled_out))
        except TooManyCountsError:
            return []
        area = self._bound.proofs[0].tops

        def room(entry: tuple[int, tuple[int, ...]]) -> int:
            return -sum(n * top for n, top in zip(entry[1], area, strict=True))

        roomiest = sorted(listed, key=room)[: _MOST_TRIALS // 2]
        cheapest = sorted(entry for entry in listed if entry not in roomiest)[: _MOST_TRIALS // 2]
        return [counts for _, counts in [*roomiest, *cheapest]]
