"""Lists every way to fill a room whose value reaches a limit, by a table of what the kinds still to come can add."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.covering.problem import Whole
from nookwright.solvers.knapsack import bundles_of

_MOST_CELLS = 30_000_000
"""Largest table made for a listing."""


def fillings_worth(
    sizes: Whole, demand: Whole, values: Whole, room: int, *, limit: int, most: int, full: bool
) -> Whole | None:
    """Return the counts of every filling of a room whose value reaches a limit; None if they are more than `most`.

    Args:
        sizes, demand, values: of each kind.
        room: what is filled.
        limit: least value listed.
        most: gives up beyond so many.
        full: leaves out fillings that another wanted piece could be added to.
    """
    order = np.argsort(-sizes, kind="stable")
    order = order[(sizes[order] <= room) & (demand[order] > 0)]
    if len(order) * (room + 1) > _MOST_CELLS or most < 0:
        return None
    later = _later_values(sizes, demand, values, order, room)
    rest = np.append(np.cumsum((sizes * demand)[order][::-1])[::-1], 0)
    space, value = np.array([room]), np.array([0])
    skipped = np.array([room + 1])  # the smallest piece left out so far
    trail: list[tuple[NDArray[np.intp], NDArray[np.intp]]] = []
    for level, kind in enumerate(order.tolist()):
        size, wanted = int(sizes[kind]), int(demand[kind])
        times = np.arange(min(wanted, room // size) + 1)
        parent, count = np.nonzero(space[:, None] >= size * times[None, :])
        space, value = space[parent] - size * count, value[parent] + int(values[kind]) * count
        skipped = np.where(count < wanted, size, skipped[parent])
        keep = value + later[level + 1][space] >= limit
        if full:
            keep &= space - rest[level + 1] < skipped
        space, value, skipped = space[keep], value[keep], skipped[keep]
        trail.append((parent[keep], count[keep]))
        if len(space) > most:
            return None
    counts = np.zeros((len(space), len(sizes)), dtype=np.int64)
    at = np.arange(len(space))
    for kind, (parent, count) in zip(order[::-1].tolist(), trail[::-1], strict=True):
        counts[:, kind] = count[at]
        at = parent[at]
    return counts[counts.any(axis=1)]


def _later_values(sizes: Whole, demand: Whole, values: Whole, order: NDArray[np.intp], room: int) -> NDArray[np.int32]:
    """Return the most value that the kinds from each level on can add in every room."""
    table = np.zeros((len(order) + 1, room + 1), dtype=np.int32)
    for level in range(len(order) - 1, -1, -1):
        row = table[level]
        row[:] = table[level + 1]
        for _, _, size, value in bundles_of(sizes, values, demand, room, order[level : level + 1]):
            np.maximum(row[size:], row[: room + 1 - size] + value, out=row[size:])
    return table
