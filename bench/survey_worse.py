"""What worse tools do to the spreads that a room is told with."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import pairwise

from nookwright.basics.problems import InvalidInputError
from nookwright.stages.inputs.survey import Survey
from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.room.room import Room

TOOLS: tuple[dict[str, object], ...] = (
    {"tape": "I"},
    {"tape": "II"},
    {"tape": "III"},
    {"reading_mm": 2.0},
    {"reading_mm": 6.0},
    {"level_mm_per_m": 2.0},
    {"level_mm_per_m": 6.0, "plumb_mm_per_m": 6.0},
    {"bevel_deg": 1.0},
    {"bevel_deg": 4.0},
    {"gap_mm": 3.0},
)
"""What gets worse from step to step; everything else stays as bad as it has become."""


@dataclass(frozen=True)
class Worse:
    """Rooms compared, each worked out with tools and with worse ones.

    Args:
        pairs: how many.
        passed: of these: those in which a suspect passed with the worse tools.
        spreads: how many spreads were compared.
        least: the smallest share that a spread came to of the one with better tools.
    """

    pairs: int
    passed: int
    spreads: int
    least: float


def worse(books: Iterable[Survey]) -> Worse:
    """Return what worse tools did to the spreads of field books."""
    pairs = passed = spreads = 0
    least = float("inf")
    for book in books:
        for better, poorer in pairwise(_rooms(book)):
            shares = [other / one for one, other in zip(_spreads(better), _spreads(poorer), strict=True) if one > 0]
            pairs, spreads, least = pairs + 1, spreads + len(shares), min([least, *shares])
            passed += _suspects(better) > _suspects(poorer)
    return Worse(pairs=pairs, passed=passed, spreads=spreads, least=least)


def _rooms(book: Survey) -> list[Room]:
    """Return the room with every set of tools that does not make the tool refuse it."""
    tools, rooms = book.tools, []
    for step in TOOLS:
        tools = replace(tools, **step)  # type: ignore[arg-type]
        try:
            rooms.append(reconcile(replace(book, tools=tools)))
        except InvalidInputError:
            continue
    return rooms


def _spreads(room: Room) -> list[float]:
    return [*(one.measured.sd for one in room.derived), *(sd for spot in room.spots for sd in spot.sd)]


def _suspects(room: Room) -> set[int]:
    return {place for place, fit in enumerate(room.fits) if fit.suspect}
