"""The long search for sheet plans: least money over several kinds of sheet, for as long as it is given time.

It begins with plain orders, then asks again and again for a plan that costs less than the best one known, and refits
a few sheets at a time until everything stands inside that budget. The same input gives the same sequence of plans,
so more rounds never give a dearer one.
"""

from __future__ import annotations

from collections.abc import Generator, Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.pack_sheets import Rectangle
from nookwright.solvers.pattern_search import PatternSearch
from nookwright.solvers.sheet_forests import empty_forest, fresh_state, most_nodes, workbench
from nookwright.solvers.sheet_trees import Stack, stacks_of
from nookwright.solvers.strip_start import strips_on_kinds, strips_on_sheets

if TYPE_CHECKING:
    from nookwright.solvers.kernels.cutting_trees import Forest, Job
    from nookwright.solvers.kernels.refit import State

_LONG_PERIOD, _ROUNDS_A_PART = 300_000, 2000
"""Rounds in which the heat falls to nothing with many parts, but at least so many for each; twice as many after a
period in vain."""
_ROUNDS_A_STEP = 500
_MORE_WORTH = 0.02
"""By such a share more it counts after a step on given sheets that a part still stands outside."""
"""Rounds between two looks at the clock: a few milliseconds."""
_UNLIMITED = 1 << 40
_MANY = 120
"""From so many parts on a plan of strips is tried too, and the search aims lower."""
_AIM = 0.97
"""Share of the cost of the best plan at which it then aims."""
_LOOKED_AT = 2
"""So many sheets are then looked at for each that a round works on; the poorest of them is taken."""
_LOOKS = 128
"""How often in a period parts that stand outside are then put on sheets of their own, to see what the whole costs."""
_STEPS_OF_REST = 20
"""Steps of a search for the best plan of those parts."""
_SPARE_SLOTS = 2
"""Sheets that a plan of several kinds may have more than the plan it came from."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetKind:
    """A kind of sheet that can be had: usable size, price in whole units, and how many there are; None for any."""

    length: int
    width: int
    price: int
    most: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetsFound:
    """A plan: what its sheets cost together, and the kind and the stack of pieces of every sheet."""

    cost: int
    sheets: tuple[tuple[int, Stack], ...]


def refitted(
    rectangles: Sequence[Rectangle],
    kinds: Sequence[SheetKind],
    *,
    kerf: int,
    enough: int = 0,
    deepest: int = 0,
    seed: int = 1,
) -> Iterator[SheetsFound]:
    """Yield the cheapest plan so far, step after step; ends when a plan costs no more than `enough`.

    Args:
        rectangles: what to place.
        kinds: the sheets that can be had.
        kerf: width of a cut, in the unit of the sizes.
        enough: a proven least cost; the search ends there.
        deepest: most rows inside each other, so directions in which the saw cuts one after the other; 0 for any.
        seed: where the sequence of numbers starts that the search shakes with.

    Raises:
        ValueError: if the sheets that can be had do not hold the rectangles in any plain order.
    """
    if not rectangles:
        return
    refit = Refit(rectangles, kinds, kerf=kerf, deepest=deepest, seed=seed)
    yield refit.best
    while refit.best.cost > enough:
        refit.step()
        yield refit.best


class Refit:
    """A search that can be left after any step and taken up again; `best` is the cheapest plan so far."""

    def __init__(
        self, rectangles: Sequence[Rectangle], kinds: Sequence[SheetKind], *, kerf: int, deepest: int = 0, seed: int = 1
    ) -> None:
        """Try the plain orders.

        Raises:
            ValueError: if the sheets that can be had do not hold the rectangles in any plain order.
        """
        self._begin(_job(rectangles, kinds, kerf, deepest), seed)

    @classmethod
    def of_rest(cls, job: Job) -> Refit:
        """Return a search for the parts and the sheets that another search has left."""
        refit = cls.__new__(cls)
        refit._begin(job, 1)
        return refit

    def _begin(self, job: Job, seed: int) -> None:
        self._job, parts = job, job.length.size
        self._state = fresh_state(parts, seed)
        self._bench = workbench(self._job)
        self._period = _period(parts)
        plans = [_first(self._job, self._state)]
        if parts >= _MANY:
            of_strips = _in_strips(self._job)
            plans += [] if of_strips is None else [of_strips]
        self._steps = self._steps_at_best = self._cost_before = 0
        self._aim = _AIM if parts >= _MANY else 1.0
        self._take(min(plans, key=lambda plan: _cost(self._job, plan)))

    @property
    def parts(self) -> int:
        """How many parts there are."""
        return int(self._job.length.size)

    @property
    def plan(self) -> Forest:
        """The cheapest plan so far, as trees."""
        return self._whole

    @property
    def some_turn(self) -> bool:
        """Whether any part may lie either way."""
        return bool(self._job.turnable.any())

    @property
    def standing(self) -> SheetsFound:
        """What the search works on now: sheets that do not hold every part, within what it aims at."""
        return SheetsFound(cost=_cost(self._job, self._forest), sheets=stacks_of(self._forest))

    @property
    def many(self) -> bool:
        """Whether there are so many parts that the search goes about it slowly."""
        return self.parts >= _MANY

    @property
    def steps_in_vain(self) -> int:
        """Steps since the best plan was found."""
        return self._steps - self._steps_at_best

    def _take(self, forest: Forest) -> None:
        """Take a plan as the best one and aim below it."""
        self._keep(forest)
        self._aim_below()

    def _keep(self, forest: Forest) -> None:
        self.best = SheetsFound(cost=_cost(self._job, forest), sheets=stacks_of(forest))
        self._whole = forest
        self._steps_at_best = self._steps

    def _aim_below(self) -> None:
        """Begin to look for a plan cheaper than the best one."""
        self._budget = min(self.best.cost - 1, int(self._aim * self.best.cost))
        self._forest = _cut_down(self._job, self._whole, self._state, self._budget)

    def step(self) -> None:
        """Do some rounds."""
        from nookwright.solvers.kernels.refit import rounds

        if self._forest.nodes.size == 0:
            return
        budget = self._budget if self._job.kind_length.size > 1 else -1
        looked_at = _LOOKED_AT if self.many else 1
        rounds(_ROUNDS_A_STEP, budget, self._period, self._job, self._forest, self._state, self._bench, looked_at)
        self._steps += 1
        if self._state.figures[0] == 0:
            self._take(self._forest)
        elif self._aim < 1:
            done = int(self._state.figures[2])
            if done * _LOOKS // self._period > (done - _ROUNDS_A_STEP) * _LOOKS // self._period:
                self._look_at_whole()
            if done >= self._period:
                self._begin_period()

    def _look_at_whole(self) -> None:
        """See what the plan costs when what stands outside gets sheets of its own."""
        closed = _closed(self._job, self._forest, self._state)
        if closed is not None and _cost(self._job, closed) < self.best.cost:
            self._keep(closed)

    def _begin_period(self) -> None:
        """Heat up again, from the best plan; for longer if the last period was in vain."""
        if self.best.cost == self._cost_before:
            self._period *= 2
        self._cost_before = self.best.cost
        self._state.figures[2] = 0
        self._aim_below()

    def mixed_strips(self) -> Iterator[None]:
        """For many parts, try a plan of strips on sheets of several sizes too; yields now and then."""
        if not self.many:
            return
        of_strips = yield from _in_mixed_strips(self._job)
        if of_strips is not None and _cost(self._job, of_strips) < self.best.cost:
            self._take(of_strips)

    def weigh(self, worths: NDArray[np.float64]) -> None:
        """From now on count parts that stand outside by their worths, not by their areas."""
        if self._aim < 1:
            worth = np.round(worths * (self._job.worth.sum() / worths.sum())).astype(np.int64)
            self._job = self._job._replace(worth=worth)
            self._state.figures[1] = worth[self._state.outside[: self._state.figures[0]]].sum()

    def trial(self, counts: Sequence[int], seed: int) -> Trial:
        """Return a search for a plan with just so many sheets of each kind."""
        return Trial(self._job, counts, seed)

    def pattern_search(self) -> PatternSearch:
        """Return a search for a plan on one sheet fewer by mixing patterns; there must be one kind, of any number."""
        return PatternSearch(self._job, [self._whole, self._forest], len(self.best.sheets) - 1, 1)

    def adopt(self, trial: Trial | PatternSearch) -> None:
        """Take over a plan from elsewhere, if it is complete and cheaper."""
        if trial.complete and _cost(self._job, trial.forest) < self.best.cost:
            self._take(trial.forest)


class Trial:
    """A search on a given set of sheets.

    What often stands outside counts for ever more: so the search does not keep to plans in which the same part is left.
    """

    def __init__(self, job: Job, counts: Sequence[int], seed: int) -> None:
        """Put the parts on the empty sheets, as far as they go."""
        from nookwright.solvers.kernels.refit import refill

        kinds = [kind for kind, count in enumerate(counts) for _ in range(count)]
        parts = job.length.size
        self._worths = job.worth.astype(np.float64)
        self._job, self._state, self._period = job, fresh_state(parts, seed), _period(parts)
        self._state.outside[:] = np.arange(parts)
        self._state.figures[0] = parts
        self.forest = empty_forest(len(kinds), most_nodes(job))
        self.forest.kind[:] = kinds
        refill(job, self.forest, self._state, workbench(job, len(kinds)))
        self._bench = workbench(job)

    @property
    def found(self) -> SheetsFound:
        """The plan as it stands; every part is on it only when complete."""
        return SheetsFound(cost=_cost(self._job, self.forest), sheets=stacks_of(self.forest))

    @property
    def complete(self) -> bool:
        """Whether every part has its place."""
        return bool(self._state.figures[0] == 0)

    def step(self) -> None:
        """Do some rounds."""
        from nookwright.solvers.kernels.refit import rounds

        rounds(_ROUNDS_A_STEP, -1, self._period, self._job, self.forest, self._state, self._bench)
        outside = self._state.outside[: self._state.figures[0]]
        whole = self._worths.sum()
        self._worths[outside] *= 1 + _MORE_WORTH
        self._worths *= whole / self._worths.sum()
        self._job = self._job._replace(worth=np.round(self._worths).astype(np.int64))
        self._state.figures[1] = self._job.worth[outside].sum()


def trial_on(
    rectangles: Sequence[Rectangle],
    kinds: Sequence[SheetKind],
    counts: Sequence[int],
    *,
    kerf: int,
    deepest: int = 0,
    seed: int = 1,
) -> Trial:
    """Return a search for a plan with just so many sheets of each kind.

    Args:
        rectangles, kinds, kerf, deepest, seed: as for `refitted`.
        counts: how many sheets of each kind.
    """
    return Trial(_job(rectangles, kinds, kerf, deepest), counts, seed)


def _job(rectangles: Sequence[Rectangle], kinds: Sequence[SheetKind], kerf: int, deepest: int) -> Job:
    from nookwright.solvers.kernels.cutting_trees import Job

    def whole(numbers: Sequence[int]) -> NDArray[np.int64]:
        return np.array(numbers, dtype=np.int64)

    length, width = [part.length + kerf for part in rectangles], [part.width + kerf for part in rectangles]
    return Job(
        length=whole(length),
        width=whole(width),
        worth=whole(length) * whole(width),
        turnable=whole([part.turnable and part.length != part.width for part in rectangles]),
        kind_length=whole([kind.length + kerf for kind in kinds]),
        kind_width=whole([kind.width + kerf for kind in kinds]),
        kind_price=whole([kind.price for kind in kinds]),
        kind_most=whole([_UNLIMITED if kind.most is None else kind.most for kind in kinds]),
        deepest=deepest,
    )


def _period(parts: int) -> int:
    """Return the rounds in which the heat of a search falls to nothing at first."""
    from nookwright.solvers.kernels.refit import PERIOD

    return PERIOD if parts < _MANY else max(_LONG_PERIOD, _ROUNDS_A_PART * parts)


def _first(job: Job, state: State) -> Forest:
    """Return the cheapest of the plans by plain orders."""
    from nookwright.solvers.kernels.refit import fill

    bench = workbench(job, job.length.size)
    best: Forest | None = None
    openings = range(3) if job.kind_length.size > 1 else range(1)
    for opening, by, rule in product(openings, (0, 2, 3, 4, 5), (0, 2)):
        sheets = fill(job, bench, state, by, rule, opening)
        if sheets and (best is None or _cost(job, bench.forest, sheets) < _cost(job, best)):
            best = _copy(bench.forest, range(sheets), sheets)
    if best is None:
        message = "the sheets that can be had do not hold every rectangle"
        raise ValueError(message)
    return best


class _Strips(NamedTuple):
    """How parts lie in strips: along them, aside, and whether turned; the kinds that hold all, cheapest area first."""

    sizes: list[tuple[int, int]]
    turned: NDArray[np.bool_]
    kinds: list[int]


def _lying_in_strips(job: Job) -> _Strips | None:
    """Return how the parts lie in strips along the kind that gives most area for its money; None if it does not do."""
    areas = (job.kind_length * job.kind_width).tolist()
    kinds = sorted(
        (j for j in range(len(areas)) if job.kind_most[j] >= _UNLIMITED), key=lambda j: job.kind_price[j] / areas[j]
    )
    if not kinds or job.deepest == 1:
        return None
    length = int(job.kind_length[kinds[0]])
    turned = job.turnable.astype(bool) & (((job.width > job.length) & (job.width <= length)) | (job.length > length))
    along, aside = np.where(turned, job.width, job.length), np.where(turned, job.length, job.width)
    holds = [bool(job.kind_length[j] >= along.max() and job.kind_width[j] >= aside.max()) for j in kinds]
    if not holds[0]:
        return None
    sizes = list(zip(along.tolist(), aside.tolist(), strict=True))
    return _Strips(sizes, turned, [j for j, each in zip(kinds, holds, strict=True) if each])


def _in_strips(job: Job) -> Forest | None:
    """Return a plan of strips, all from one kind of sheet; None where that does not do."""
    lying = _lying_in_strips(job)
    if lying is None:
        return None
    kind = lying.kinds[0]
    sheets = strips_on_sheets(lying.sizes, int(job.kind_length[kind]), int(job.kind_width[kind]))
    return _of_strips(job, [(kind, strips) for strips in sheets], lying.turned)


def _in_mixed_strips(job: Job) -> Generator[None, None, Forest | None]:
    """Return a plan of strips on sheets of several sizes that each hold every part; None where that does not do."""
    lying = _lying_in_strips(job)
    if lying is None or len(lying.kinds) < 2:
        return None
    offered = [(int(job.kind_length[j]), int(job.kind_width[j]), int(job.kind_price[j])) for j in lying.kinds]
    sheets = yield from strips_on_kinds(lying.sizes, offered)
    return _of_strips(job, [(lying.kinds[j], strips) for j, strips in sheets], lying.turned)


def _of_strips(job: Job, sheets: Sequence[tuple[int, list[list[int]]]], turned: NDArray[np.bool_]) -> Forest:
    """Return the forest of sheets cut into strips, by kind and strips of each."""
    forest = empty_forest(len(sheets), most_nodes(job))
    forest.kind[:] = [kind for kind, _ in sheets]
    forest.across[:] = 1
    for s, (_, strips) in enumerate(sheets):
        nodes: list[tuple[int, int]] = [(0, -1)] if len(strips) > 1 else []
        for strip in strips:
            depth = len(nodes[:1])
            tokens = [2 * part + int(turned[part]) for part in strip]
            nodes += [(depth, -1)] if len(strip) > 1 else []
            nodes += [(depth + (len(strip) > 1), token) for token in tokens]
        if len(strips) == 1:
            forest.across[s] = 0
        forest.nodes[s] = len(nodes)
        forest.depth[s, : len(nodes)], forest.token[s, : len(nodes)] = zip(*nodes, strict=True)
    return forest


def _closed(job: Job, forest: Forest, state: State) -> Forest | None:
    """Return a forest with what stands outside on further sheets; None if there are not enough."""
    outside = np.sort(state.outside[: state.figures[0]])
    used = np.bincount(forest.kind[forest.nodes > 0], minlength=job.kind_most.size)
    try:
        filled = [s for s in range(forest.nodes.size) if forest.nodes[s]]
        kept = [_copy(forest, [s], 1) for s in filled]
        return _joined_with_rest(job._replace(kind_most=job.kind_most - used), kept, outside)
    except ValueError:
        return None


def _joined_with_rest(job: Job, sheets: Sequence[Forest], left: NDArray[np.int64]) -> Forest:
    """Return filled sheets together with a plan of the rest."""
    search = Refit.of_rest(
        job._replace(length=job.length[left], width=job.width[left], worth=job.worth[left], turnable=job.turnable[left])
    )
    for _ in range(_STEPS_OF_REST):
        search.step()
    rest = search.plan
    total = len(sheets) + rest.nodes.size
    whole = empty_forest(total, most_nodes(job))
    for s, one in enumerate(sheets):
        for column, source in zip(whole, one, strict=True):
            column[s] = source[0]
    wide = rest.depth.shape[1]
    whole.nodes[len(sheets) :], whole.across[len(sheets) :], whole.kind[len(sheets) :] = (
        rest.nodes,
        rest.across,
        rest.kind,
    )
    whole.depth[len(sheets) :, :wide] = rest.depth
    tokens = np.where(rest.token < 0, -1, 2 * left[np.maximum(rest.token, 0) >> 1] + (rest.token & 1))
    whole.token[len(sheets) :, :wide] = tokens
    return whole


def _parts_on(forest: Forest, s: int) -> list[int]:
    """Return the parts on a sheet."""
    return [int(token) >> 1 for token in forest.token[s, : forest.nodes[s]] if token >= 0]


def _cost(job: Job, forest: Forest, sheets: int | None = None) -> int:
    kinds = forest.kind[:sheets]
    filled = forest.nodes[:sheets] > 0
    return int(job.kind_price[kinds[filled]].sum())


def _copy(forest: Forest, chosen: Sequence[int], sheets: int) -> Forest:
    """Return the chosen sheets, and empty places behind them up to the number of sheets."""
    copy = empty_forest(sheets, forest.depth.shape[1])
    many = len(chosen)
    for column, fresh in zip(forest, copy, strict=True):
        fresh[:many] = column[list(chosen)]
    return copy


def _cut_down(job: Job, forest: Forest, state: State, budget: int) -> Forest:
    """Leave out sheets, the worst used money first, until the rest is within the budget; their parts go outside."""

    def area_on(s: int) -> int:
        return sum(int(job.length[part] * job.width[part]) for part in _parts_on(forest, s))

    filled = [s for s in range(forest.nodes.size) if forest.nodes[s]]
    price = {s: int(job.kind_price[forest.kind[s]]) for s in filled}
    kept = sorted(filled, key=lambda s: -area_on(s) / max(price[s], 1e-9))
    spent = sum(price.values())
    outside: list[int] = []
    while kept and (spent > budget or not outside):
        dropped = kept.pop()
        spent -= price[dropped]
        outside += _parts_on(forest, dropped)
    spare = _SPARE_SLOTS if job.kind_length.size > 1 else 0
    state.outside[: len(outside)] = outside
    state.figures[:] = len(outside), int(job.worth[outside].sum()), state.figures[2], spent
    return _copy(forest, kept, len(kept) + spare)
