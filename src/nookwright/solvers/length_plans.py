"""Quick plans for lengths: each piece where it fits snuggest, or length after length as full as can be.

Pieces are given by their kind, the longest first; sizes and rooms have the kerf added already.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """A stock: what one length of it holds, its price, and how many there are at most."""

    size: int
    price: int
    most: int | None = None


QuickPlan = list[tuple[int, list[int]]]
"""For each length its stock, and the kinds of its pieces."""


def snug_plan(
    sizes: Sequence[int], pieces: Sequence[int], rooms: Sequence[Room], favourite: int | None
) -> QuickPlan | None:
    """Put each piece where the least is left over; open a length when none holds it.

    Args:
        sizes: size of each kind.
        pieces: kinds of the pieces, longest first.
        rooms: the stocks.
        favourite: the stock opened where it can be; None for the cheapest by its size.

    Returns:
        A plan, each length in the cheapest stock that holds it; None if stock runs out.
    """
    used = [0] * len(rooms)
    opened: list[int] = []
    left: list[int] = []
    plan: list[list[int]] = []
    for kind in pieces:
        size = sizes[kind]
        at = min((g for g, rest in enumerate(left) if rest >= size), key=left.__getitem__, default=None)
        if at is None:
            stock = _opened(rooms, used, size, favourite)
            if stock is None:
                return None
            used[stock] += 1
            opened.append(stock)
            left.append(rooms[stock].size)
            plan.append([])
            at = len(plan) - 1
        plan[at].append(kind)
        left[at] -= size
    return _cheapened(rooms, used, opened, left, plan)


def fullest_plan(
    sizes: Sequence[int], pieces: Sequence[int], rooms: Sequence[Room], favourite: int | None
) -> QuickPlan | None:
    """Fill length after length as full as can be, each round its longest remaining piece.

    Args:
        sizes: size of each kind.
        pieces: kinds of the pieces, longest first.
        rooms: the stocks.
        favourite: the stock taken where it can be; None for the one that costs least for what it then holds.

    Returns:
        A plan, each length in the cheapest stock that holds it; None if stock runs out.
    """
    used = [0] * len(rooms)
    rest = list(pieces)
    opened: list[int] = []
    left: list[int] = []
    plan: list[list[int]] = []
    while rest:
        fits = [i for i in range(len(rooms)) if _there(rooms, used, i) and rooms[i].size >= sizes[rest[0]]]
        if favourite in fits:
            fits = [favourite]
        if not fits:
            return None
        fills = {i: _fill(sizes, rest, rooms[i].size) for i in fits}
        stock = min(fits, key=lambda i: _dearness(rooms[i], fills[i][1]))
        chosen, filled = fills[stock]
        used[stock] += 1
        opened.append(stock)
        left.append(rooms[stock].size - filled)
        plan.append([rest[i] for i in chosen])
        taken = set(chosen)
        rest = [kind for i, kind in enumerate(rest) if i not in taken]
    return _cheapened(rooms, used, opened, left, plan)


def _dearness(room: Room, filled: int) -> tuple[Fraction, Fraction]:
    return Fraction(room.price, filled), -Fraction(filled, room.size)


def _there(rooms: Sequence[Room], used: Sequence[int], stock: int) -> bool:
    most = rooms[stock].most
    return most is None or used[stock] < most


def _opened(rooms: Sequence[Room], used: Sequence[int], size: int, favourite: int | None) -> int | None:
    """Return the stock to open for a piece: the favourite if it holds it, else the cheapest by its size."""
    fits = [i for i in range(len(rooms)) if _there(rooms, used, i) and rooms[i].size >= size]
    if favourite in fits:
        return favourite
    return min(fits, key=lambda i: Fraction(rooms[i].price, rooms[i].size), default=None)


def _cheapened(
    rooms: Sequence[Room], used: list[int], opened: Sequence[int], left: Sequence[int], plan: Sequence[list[int]]
) -> QuickPlan:
    """Return the plan with each length in the cheapest stock that still holds its pieces."""
    told: QuickPlan = []
    for stock, spare, pieces in zip(opened, left, plan, strict=True):
        need = rooms[stock].size - spare
        used[stock] -= 1
        fits = [i for i in range(len(rooms)) if _there(rooms, used, i) and rooms[i].size >= need]
        chosen = min(fits, key=lambda i: (rooms[i].price, rooms[i].size if rooms[i].price == 0 else -rooms[i].size))
        used[chosen] += 1
        told.append((chosen, pieces))
    return told


def _fill(sizes: Sequence[int], rest: Sequence[int], room: int) -> tuple[list[int], int]:
    """Return the places of the first piece and of those others that fill the room best, and how far they fill it.

    All sums that can be reached are the bits of one number, step by step.
    """
    space = room - sizes[rest[0]]
    mask = (1 << (space + 1)) - 1
    steps, others = [1], []
    for place in range(1, len(rest)):
        size = sizes[rest[place]]
        if size <= space:
            others.append(place)
            steps.append((steps[-1] | steps[-1] << size) & mask)
            if steps[-1] >> space:
                break
    reached = steps[-1].bit_length() - 1
    chosen, target = [0], reached
    for number in range(len(others), 0, -1):
        if not steps[number - 1] >> target & 1:
            chosen.append(others[number - 1])
            target -= sizes[rest[others[number - 1]]]
    return chosen, room - space + reached
