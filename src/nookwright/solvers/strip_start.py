"""A first plan for many parts: strips along the sheet, each filled as full as can be, then strips set on sheets.

A strip is as wide as the widest part left; the parts in it are those, of the next narrower ones, that cover most of it.
How the strips go on sheets is a matter of one length, their width. Where sheets come in several sizes, that one length
also says which widths suit which size: the fullest sheets of other sizes are filled first, the rest as before.
"""

from __future__ import annotations

from collections.abc import Generator, Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.pack_lengths import Length, pack_lengths

Size = tuple[int, int]
_NEXT = 150
"""Next narrower parts that a strip is filled from."""
_ROUNDS = 1
"""Rounds of the search for the widths that go together on sheets of several sizes."""


def strips_on_sheets(sizes: Sequence[Size], length: int, width: int) -> list[list[list[int]]]:
    """Return the strips of every sheet, and the parts in each.

    Args:
        sizes: length along the strip and width of every part, one kerf in each.
        length, width: of the sheet, one kerf in each; it holds every part.
    """
    strips = _strips(sizes, range(len(sizes)), length)
    plan = pack_lengths(_widths(sizes, strips), stocks=[Length(size=width, price=1)], kerf=0)
    return [[strips[i] for i in one.pieces] for one in plan.filled]


def strips_on_kinds(
    sizes: Sequence[Size], kinds: Sequence[tuple[int, int, int]]
) -> Generator[None, None, list[tuple[int, list[list[int]]]]]:
    """Return the kind and the strips of every sheet, of a plan with sheets of several sizes; yields now and then.

    Args:
        sizes: length along the strip and width of every part, one kerf in each.
        kinds: length, width and price of each kind, one kerf in each size; each holds every part. The first is the
            one that most is cut from.
    """
    length, width, _ = kinds[0]
    strips = _strips(sizes, range(len(sizes)), length)
    yield
    # A longer sheet counts for as many of the first length as it has of that.
    stocks = [Length(size=w, price=cost * length // l) for l, w, cost in kinds]
    plan = pack_lengths(_widths(sizes, strips), stocks=stocks, kerf=0, rounds=_ROUNDS)
    left = set(range(len(sizes)))
    sheets: list[tuple[int, list[list[int]]]] = []
    for kind in range(1, len(kinds)):
        widths = [_widths(sizes, [strips[i] for i in one.pieces]) for one in plan.filled if one.stock == kind]
        count = len(widths) * length // kinds[kind][0]
        for each in sorted(widths, key=sum, reverse=True)[:count]:
            yield
            sheet = _sheet(sizes, left, each, kinds[kind])
            left -= {part for strip in sheet for part in strip}
            sheets += [(kind, sheet)] if sheet else []
    yield
    rest = _strips(sizes, left, length)
    yield
    if not rest:
        return sheets
    filled = pack_lengths(_widths(sizes, rest), stocks=[Length(size=width, price=1)], kerf=0, rounds=_ROUNDS).filled
    return sheets + [(0, [rest[i] for i in one.pieces]) for one in filled]


def _sheet(sizes: Sequence[Size], left: set[int], widths: Sequence[int], kind: tuple[int, int, int]) -> list[list[int]]:
    """Return strips of about the widths given, cut from the parts left; what one is narrower the next may be wider."""
    spare = kind[1] - sum(widths)
    free = set(left)
    sheet: list[list[int]] = []
    for width in sorted(widths, reverse=True):
        near = [i for i in _by_width(sizes, free) if sizes[i][1] <= width + spare]
        if near:
            sheet.append(_strip(sizes, near[:_NEXT], kind[0]))
            free -= set(sheet[-1])
            spare += width - max(_widths(sizes, sheet[-1:]))
    return sheet


def _strips(sizes: Sequence[Size], parts: Iterable[int], length: int) -> list[list[int]]:
    """Return strips that hold the parts, the widest first."""
    left = _by_width(sizes, parts)
    strips: list[list[int]] = []
    while left:
        strips.append(_strip(sizes, left[:_NEXT], length))
        taken = set(strips[-1])
        left = [i for i in left if i not in taken]
    return strips


def _by_width(sizes: Sequence[Size], parts: Iterable[int]) -> list[int]:
    return sorted(parts, key=lambda i: (-sizes[i][1], -sizes[i][0], i))


def _widths(sizes: Sequence[Size], strips: Sequence[Sequence[int]]) -> list[int]:
    return [max(sizes[i][1] for i in strip) for strip in strips]


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
