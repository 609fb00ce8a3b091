"""Exact tables of the most value that fits each room, pieces being taken no more often than there are of them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.covering.problem import Whole

Bundle = tuple[int, int, int, int]
"""Copies of one kind taken together: kind, copies, their size, their value."""


def bundles_of(sizes: Whole, values: Whole, left: Whole, top: int, order: Whole | None = None) -> list[Bundle]:
    """Return bundles of 1, 2, 4, ... copies that make up every number there may be of a kind.

    Args:
        sizes, values, left: of each kind; what is worth nothing is left out.
        top: the largest room.
        order: kinds in the order of their bundles; any order when left out.
    """
    kinds = np.arange(len(sizes)) if order is None else order
    kinds = kinds[(values[kinds] > 0) & (left[kinds] > 0) & (sizes[kinds] <= top)]
    most = np.minimum(left[kinds], top // sizes[kinds])
    bundles: list[Bundle] = []
    for kind, size, value, number in zip(
        kinds.tolist(), sizes[kinds].tolist(), values[kinds].tolist(), most.tolist(), strict=True
    ):
        copies, rest = 1, number
        while rest > 0:
            taken = min(copies, rest)
            bundles.append((kind, taken, size * taken, value * taken))
            rest -= taken
            copies *= 2
    return bundles


def filled(bundles: Sequence[Bundle], top: int) -> tuple[NDArray[np.int32], NDArray[np.bool_]]:
    """Return the most value in every room up to the largest, and for each bundle the rooms it is taken in.

    Args:
        bundles: what may be taken; the values of all that fit together stay below 2**31.
        top: the largest room.
    """
    table = np.zeros(top + 1, dtype=np.int32)
    taken = np.zeros((len(bundles), top + 1), dtype=np.bool_)
    for number, (_, _, size, value) in enumerate(bundles):
        add_bundle(table, taken[number], size, value)
    return table, taken


def add_bundle(table: NDArray[np.int32], taken: NDArray[np.bool_], size: int, value: int) -> None:
    """Take one more bundle into a table where that gains value, and note in which rooms it does."""
    candidate = table[: len(table) - size] + value
    tail = table[size:]
    np.greater(candidate, tail, out=taken[size:])
    np.maximum(candidate, tail, out=tail)


def read_off(bundles: Sequence[Bundle], taken: NDArray[np.bool_], room: int, kinds: int) -> Whole:
    """Return how many of each kind make up the most value in a room."""
    counts = np.zeros(kinds, dtype=np.int64)
    for number in range(len(bundles) - 1, -1, -1):
        if taken[number, room]:
            kind, copies, size, _ = bundles[number]
            counts[kind] += copies
            room -= size
    return counts
