"""Which beliefs and strays take which unknowns out of a network, so that few are left to be adjusted at every scale."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

import numpy as np

from nookwright.solvers.linear_fit import Vector
from nookwright.solvers.shared_scale import Spent
from nookwright.stages.room.rows import Rows
from nookwright.stages.survey.unknowns import Unknowns

LEAST_PIVOT = 0.3
"""An observation that moves with a spot by less than this share does not settle where it is."""

_Way = tuple[int, list[float]]
"""An observation and how it moves with the x, y and z of a spot."""


def taken_out(rows: Rows, unknowns: Unknowns, start: Vector, held: Sequence[int]) -> Spent:
    """Return observations and the unknowns that these settle once the others are known.

    Every spot is settled by what is firmly believed of it - that it lies on its surfaces, stands at its mark, in line
    with the lowest of its column - from the surfaces and the spots named before it; so is every other unknown of which
    something firm is believed. Surfaces and whatever is only vaguely believed stay.

    Args:
        rows: the network's observations.
        unknowns: its unknowns.
        start: a state near enough to see how they move.
        held: unknowns that are held.

    Returns:
        The observations, by their row with the strays of all surfaces one after another behind the rest; and the
        unknowns, by their place among those that are not held.
    """
    spent: list[tuple[int, int]] = []
    ways: dict[int, list[_Way]] = defaultdict(list)
    for row, terms in _firm(rows, start):
        spots = [column // 3 for column in terms if column < 3 * len(unknowns.spots)]
        if spots:
            ways[max(spots)].append((row, [terms.get(3 * max(spots) + axis, 0.0) for axis in range(3)]))
        elif len(terms) == 1:
            spent.append((row, next(iter(terms))))
    first = len(rows.fixed)
    for surface in rows.surfaces:
        touched = surface.touched
        for order, spot in enumerate(touched.spots[:, 0].tolist()):
            ways[spot // 3].append((first + order, touched.along(start).tolist()))
        stations = enumerate(touched.stations.tolist(), first + len(touched.spots))
        spent.extend(stations)
        first += len(surface.scaled)
    fixed = set(held)
    for spot, each in ways.items():
        free = [axis for axis in range(3) if 3 * spot + axis not in fixed]
        spent.extend((row, 3 * spot + axis) for row, axis in _pivots(each, free))
    once = {column: row for row, column in reversed(spent)}
    among = np.searchsorted(np.setdiff1d(np.arange(unknowns.count), list(held)), list(once))
    return Spent(rows=np.array(list(once.values()), dtype=np.intp), columns=among)


def _firm(rows: Rows, start: Vector) -> Iterator[tuple[int, dict[int, float]]]:
    """Give everything that is no reading and not vague: its row, and its derivatives by the unknowns that move it."""
    jacobian = rows.evaluate(start)[1]
    for row in range(len(rows.places), len(rows.fixed)):
        if not rows.vague[row]:
            terms = zip(rows.columns[row].tolist(), jacobian[row].tolist(), strict=True)
            yield row, {column: factor for column, factor in terms if factor}


def _pivots(ways: list[_Way], free: list[int]) -> Iterator[tuple[int, int]]:
    """Give observations that settle a spot, each with the axis it settles: the surest first."""
    while ways and free:
        row, best = max(ways, key=lambda way: max(abs(way[1][axis]) for axis in free))
        axis = max(free, key=lambda axis: abs(best[axis]))
        if abs(best[axis]) < LEAST_PIVOT:
            return
        yield row, axis
        free = [other for other in free if other != axis]
        ways = [
            (other, [part - way[axis] / best[axis] * its for part, its in zip(way, best, strict=True)])
            for other, way in ways
            if other != row
        ]
