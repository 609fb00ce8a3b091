"""How long the survey takes: by kind of room, and as unknowns grow. Processor time of one core."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable, Iterator

import numpy as np

from nookwright.basics.problems import InvalidInputError
from nookwright.stages.inputs.brief import Brief, Cases, Unit
from nookwright.stages.inputs.survey import Survey
from nookwright.stages.room.advice import next_readings
from nookwright.stages.room.network import THOROUGH, network_of, solve
from nookwright.stages.room.reconcile import reconcile
from simulated_rooms import Person, ToTake, field_book, simulated_room

BRIEF = Brief(
    title="Cupboards and shelves",
    units="mm",
    resolution=1,
    tiers=(
        Cases(name="base", height_mm=900, depth_mm=450, units=(Unit(name="one"),), board="ply"),
        Cases(name="upper", height_mm=None, depth_mm=300, units=(Unit(name="one"),), board="ply"),
    ),
)
LEVELS = (3, 6, 12, 24, 40, 80)
REPEATS = 3
GROWS_FROM = 100
"""Below this many unknowns the time is mostly fixed costs."""


MANY_PLACES = ("twin-alcoves", "free-plan")
"""Kinds whose brief must name a place: here the advice is for the room's own figures."""


def ms(work: Callable[[], object]) -> float:
    """Return the least processor time of a few runs. [ms]"""
    taken = []
    for _ in range(REPEATS):
        start = time.process_time()
        work()
        taken.append(time.process_time() - start)
    return 1000 * min(taken)


def times(books: Iterator[tuple[str, str, Survey]]) -> list[dict[str, object]]:
    """Return the time of one solve, of the whole adjustment and of the advice, by kind and slip.

    Args:
        books: field books with their kind and what was done to them.
    """
    found: dict[tuple[str, str], list[tuple[int, float, float, float]]] = {}
    for kind, slip, survey in books:
        network = network_of(survey)
        try:
            room = reconcile(survey)
        except InvalidInputError:  # so great a slip that no room fits: told at once, nothing to advise
            continue
        brief = None if kind in MANY_PLACES else BRIEF
        took = (
            ms(lambda network=network: solve(network, 2.0, effort=THOROUGH)),  # type: ignore[misc]
            ms(lambda survey=survey: reconcile(survey)),  # type: ignore[misc]
            ms(lambda room=room, brief=brief: next_readings(room, brief)),  # type: ignore[misc]
        )
        found.setdefault((kind, slip), []).append((network.unknowns.count, *took))
    rows: list[dict[str, object]] = []
    for (kind, slip), each in found.items():
        unknowns, solving, adjusting, advising = zip(*each, strict=True)
        row = {
            "kind": kind,
            "slip": slip,
            "unknowns": max(unknowns),
            "solve_ms": statistics.median(solving),
            "room_ms": statistics.median(adjusting),
            "advice_ms": statistics.median(advising),
            "all_at_most_ms": max(a + b for a, b in zip(adjusting, advising, strict=True)),
        }
        rows.append(row)
    return rows


def grown(levels: int) -> Survey:
    """Return the field book of an alcove read at so many heights."""
    heights = tuple(float(h) for h in np.linspace(150, 2250, levels))
    takes: list[ToTake] = [("level", spot) for spot in ("BL0", "BR0", "FL0", "FR0")]
    for number in range(1, levels + 1):
        pairs = (("BL", "BR"), ("FL", "FR"), ("BL", "FL"), ("BR", "FR"), ("BL", "FR"))
        takes += [("tape", f"{a}{number}", f"{b}{number}") for a, b in pairs]
    takes += [("plumb", wall, f"B{wall[0].upper()}1", f"B{wall[0].upper()}{levels}") for wall in ("left", "right")]
    takes.append(("plumb", "back", "BL1", f"BL{levels}"))
    return field_book(Person(simulated_room("alcove", 1, heights_mm=heights)), takes)[0]


def growth() -> tuple[list[dict[str, float]], float]:
    """Return the time against the number of unknowns, and the power of the unknowns it grows with."""
    rows: list[dict[str, float]] = []
    for levels in LEVELS:
        survey = grown(levels)
        network = network_of(survey)
        row = {
            "unknowns": network.unknowns.count,
            "readings": len(survey.readings),
            "solve_ms": ms(lambda network=network: solve(network, 2.0, effort=THOROUGH)),  # type: ignore[misc]
            "room_ms": ms(lambda survey=survey: reconcile(survey)),  # type: ignore[misc]
        }
        rows.append(row)
    large = [row for row in rows if row["unknowns"] >= GROWS_FROM]
    logs = np.log([[row["unknowns"], row["room_ms"]] for row in large])
    return rows, float(np.polyfit(logs[:, 0], logs[:, 1], 1)[0])
