"""The survey against rooms whose waviness the adjustment did not draw: what it promises, and what it does with junk.

A short, seeded version of `bench/survey.py`; the bounds leave room for the chance of so few rooms.
"""

from __future__ import annotations

import math
from collections import defaultdict

import numpy as np
import pytest

from garbled_books import garbled
from nookwright.basics.problems import InvalidInputError
from nookwright.stages.inputs.survey import RoomKind, Survey, TapeReading
from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.survey.field_lists import field_list
from simulated_rooms import LAYOUTS, Person, SimulatedRoom, Slip, Waviness, field_book, simulated_room
from simulated_truth import Truth

KINDS: tuple[RoomKind, ...] = tuple(LAYOUTS)
ROOMS = 24
LEAST = 0.95 - 3 * math.sqrt(0.95 * 0.05 / ROOMS)
"""What 0.95 comes out at, three standard deviations low, where the values of one room count as one: 0.82."""
SLIPS = 6
BOOKS = 108


def listed(
    kind: RoomKind, seed: int, waviness_mm: float, slip: Slip | None = None
) -> tuple[SimulatedRoom, Survey, int | None]:
    """Return a simulated room with the field sheet's readings, corner left and right by turns."""
    found = field_list(kind, "left" if seed % 2 else "right")
    corner = "left" if seed % 2 else "right"
    room = simulated_room(kind, seed, corner=corner, wavy=Waviness(waviness_mm), heights_mm=found.heights_mm)
    survey, place = field_book(Person(room), [(one.tool, *one.of) for one in found.readings], slip)
    return room, survey, place


@pytest.mark.parametrize("kind", KINDS)
def test_the_truth_lies_within_two_standard_deviations(kind: RoomKind) -> None:
    """Walls of 1 and 3 mm: corners, leans, widths, falls and pitch, each quantity 0.82 to 1 and all together 0.91 up.

    No good book, or one by chance, is told to hold a slip; hardly one value in a hundred is off by four standard deviations.
    """
    sizes: dict[str, list[float]] = defaultdict(list)
    alarmed = 0
    for seed in range(ROOMS):
        room, survey, _ = listed(kind, 500 + seed, (1.0, 3.0)[seed // 2 % 2])
        true = Truth(room, survey).values("spots")
        reckoned = reconcile(survey)
        alarmed += any(fit.suspect for fit in reckoned.fits)
        for one in reckoned.derived:
            quantity = next((word for word in ("corner", "lean", "width", "fall", "pitch") if word in one.name), None)
            if quantity and one.fixed and one.name in true:
                sizes[quantity].append(abs(one.measured.value - true[one.name]) / one.measured.sd)
    for quantity, found in sizes.items():
        assert np.mean(np.array(found) < 1.96) >= LEAST, quantity
        assert np.mean(np.array(found) > 4) <= 0.01, quantity
    assert alarmed <= 2
    together = np.concatenate([np.array(found) for found in sizes.values()])
    assert np.mean(together < 1.96) >= 0.91
    assert 0.75 < math.sqrt(np.mean(together**2)) < 1.15  # spreads are neither brave nor timid


@pytest.mark.parametrize("kind", KINDS)
def test_an_inch_is_found_and_the_right_tape_named(kind: RoomKind) -> None:
    """In one random tape of each room: it is the worst suspect, or told beside it as explaining the rest as well."""
    found = named = 0
    for seed in range(SLIPS):
        _, survey, place = listed(kind, 900 + seed, 2.0, Slip(25.4))
        assert place is not None
        fits = reconcile(survey).fits
        worst = max((fit for fit in fits if fit.suspect), key=lambda fit: abs(fit.w), default=None)
        found += worst is not None
        if worst is not None and worst.slip is not None:
            named += fits[place].text in (worst.text, *worst.slip.or_else)
    assert found >= SLIPS - 1
    assert named >= SLIPS - 1


@pytest.mark.parametrize("part", range(3))
def test_a_garbled_field_book_is_refused_or_keeps_every_reading(part: int) -> None:
    """Nothing else happens: no other exception, no reading lost, no value that is not a number."""
    adjusted = 0
    for seed in range(part * BOOKS // 3, (part + 1) * BOOKS // 3):
        _, survey, _ = listed(KINDS[seed % len(KINDS)], seed % 20, 2.0)
        survey = garbled(survey, np.random.default_rng(seed))
        try:
            room = reconcile(survey)
        except InvalidInputError:
            continue
        adjusted += 1
        assert len(room.fits) == len(survey.readings)
        assert all(math.isfinite(one.measured.value) and one.measured.sd >= 0 for one in room.derived)
    assert BOOKS // 30 <= adjusted <= 9 * BOOKS // 30  # both ends are really tried


def test_the_simulator_measures_what_it_knows() -> None:
    """A tape without errors is the distance of its spots, and every spot lies on its surfaces to a hundredth."""
    room = simulated_room("under-stair", 7, wavy=Waviness(3.0, belly_mm=4.0))
    for name, surfaces in (("BR2", ("back", "right")), ("BL0", ("back", "floor")), ("FRS", ("right", "slope"))):
        spot = room.spot(name)
        for surface in surfaces:
            it = room.surfaces[surface]
            assert spot @ it.normal == pytest.approx(it.offset + it.bump(spot[None])[0], abs=0.01)
    readings = [Person(room).take(("tape", "BL0", "BR0"), turn) for turn in range(400)]
    lengths = [reading.length_mm for reading in readings if isinstance(reading, TapeReading)]
    true = float(np.linalg.norm(room.spot("BL0") - room.spot("BR0")))
    assert np.mean(lengths) == pytest.approx(true + Person(room).zero, abs=0.6)
    assert 0.5 < np.std(lengths) < 0.95  # declared: 0.7 for reading, 0.25 for the tape of its own
