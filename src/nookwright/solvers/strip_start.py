"""A first plan for many parts: strips along the sheet, each filled as full as can be, then strips set on sheets.

A strip is as wide as the widest part left; the parts in it are those, of the next narrower ones, that cover most of it.
How the strips go on sheets is a matter of one length, their width.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.pack_lengths import Length, pack_lengths

Size = tuple[int, int]
_NEXT = 150
"""Next narrower parts that a strip is filled from."""


def strips_on_sheets(sizes: Sequence[Size], length: int, width: int) -> list[list[list[int]]]:
    """Return the strips of every sheet, and the parts in each.

    Args:
        sizes: length along the strip and width of every part, one kerf in each.
        length, width: of the sheet, one kerf in each; it holds every part.
    """
    left = sorted(range(len(sizes)), key=lambda i: (-sizes[i][1], -sizes[i][0]))
    strips: list[list[int]] = []
    while left:
        strips.append(_strip(sizes, left[:_NEXT], length))
        taken = set(strips[-1])
        left = [i for i in left if i not in taken]
    widths = [max(sizes[i][1] for i in strip) for strip in strips]
    plan = pack_lengths(widths, stocks=[Length(size=width, price=1)], kerf=0)
    return [[strips[i] for i in one.pieces] for one in plan.filled]


def _strip(sizes: Sequence[Size], near: Sequence[int], length: int) -> list[int]:
    """Return the first part and those of the others that together cover most area."""
    room = length - sizes[near[0]][0]
    covered = np.zeros(room + 1, dtype=np.int64)
    taken: list[tuple[int, NDArray[np.bool_]]] = []
    for i in near[1:]:
        l, w = sizes[i]
        if l > room:
            continue
        with_it = covered[: room + 1 - l] + l * w
        gains = with_it > covered[l:]
        covered[l:] = np.where(gains, with_it, covered[l:])
        taken.append((i, gains))
    strip = [near[0]]
    for i, gains in reversed(taken):
        l = sizes[i][0]
        if room >= l and gains[room - l]:
            strip.append(i)
            room -= l
    return strip
