"""Makes furniture jobs to cut: cases with sides, shelves and fronts, sheets of several sizes and prices, offcuts.

The same number always gives the same job, so that figures can be repeated. Sizes in tenths of a millimetre, prices in
hundredths. Sheet sizes, prices and part sizes are common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from random import Random

from nookwright.solvers.pack_sheets import Rectangle
from nookwright.solvers.refit_sheets import SheetKind

KERF = 32
TRIM = 100
FULL, HALF, QUARTER, LARGE = (24400, 12200, 8400), (12200, 12200, 4700), (12200, 6100, 2600), (30500, 15250, 13700)


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnJob:
    """Parts, and the sheets that can be had; usable sizes, factory edges already off."""

    name: str
    parts: list[Rectangle]
    kinds: list[SheetKind]


def own_job(number: int, most_parts: int = 60) -> OwnJob:
    """Return one job of 10 to `most_parts` parts.

    Args:
        number: which job.
        most_parts: the greatest number of parts it may have.
    """
    chance = Random(number)  # noqa: S311
    turnable = chance.random() < 0.4
    wanted = chance.randint(10, most_parts)
    parts: list[Rectangle] = []
    while len(parts) < wanted:
        height, depth = (
            chance.randint(4000, 23500),
            chance.choice([chance.randint(2200, 4200), chance.randint(5000, 6000)]),
        )
        width, shelves = chance.randint(2500, 11000), chance.randint(1, 6)
        case = [(height, depth)] * 2 + [(width, depth)] * 2 + [(width, depth - 50)] * shelves
        if chance.random() < 0.5:
            case += [(chance.randint(1200, 3000), width)] * chance.randint(1, 4)
        parts += [Rectangle(length=l, width=w, turnable=turnable) for l, w in case]
    kinds = [bought(FULL)] + [bought(size) for size in (HALF, QUARTER, LARGE) if chance.random() < 0.6]
    for _ in range(chance.randint(0, 4)):
        length, width = chance.randint(5000, 20000), chance.randint(2500, 11000)
        kinds.append(SheetKind(length=length, width=width, price=0, most=1))
    fitting = [part for part in parts if any(fits(part, kind) for kind in kinds[:1])]
    return OwnJob(name=f"job {number}", parts=fitting[:wanted], kinds=kinds)


def large_job(number: int, count: int) -> OwnJob:
    """Return a job of so many parts, with grain, from several small ones; only sheets for sale."""
    first = own_job(number)
    kinds = [kind for kind in first.kinds if kind.most is None]
    parts: list[Rectangle] = []
    further = number
    while len(parts) < count:
        straight = [replace(part, turnable=False) for part in own_job(further).parts]
        parts += [part for part in straight if any(fits(part, kind) for kind in kinds)]
        further += 100
    return OwnJob(name=f"{count} parts", parts=parts[:count], kinds=kinds)


def bought(size: tuple[int, int, int]) -> SheetKind:
    """Return a sheet for sale, its factory edges taken off."""
    length, width, price = size
    return SheetKind(length=length - 2 * TRIM, width=width - 2 * TRIM, price=price)


def fits(part: Rectangle, kind: SheetKind) -> bool:
    """Return whether a part fits an empty sheet."""
    straight = part.length <= kind.length and part.width <= kind.width
    return straight or (part.turnable and part.width <= kind.length and part.length <= kind.width)
