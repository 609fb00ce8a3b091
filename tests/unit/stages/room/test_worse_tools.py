"""Worse tools never make a spread smaller, in any kind of room, though by them a suspect may pass as an ordinary reading."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import pairwise

import pytest

from nookwright.stages.inputs.survey import RoomKind, TapeReading
from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.room.room import Room
from nookwright.stages.survey.field_lists import field_list
from simulated_rooms import LAYOUTS, Person, Slip, ToTake, field_book, simulated_room

WORSE: tuple[dict[str, object], ...] = (
    {"tape": "I"},
    {"tape": "II"},
    {"tape": "III", "reading_mm": 2.0},
    {"tape": "III", "reading_mm": 2.0, "level_mm_per_m": 3.0, "bevel_deg": 1.0},
    {"tape": "III", "reading_mm": 9.0, "level_mm_per_m": 3.0, "plumb_mm_per_m": 8.0, "bevel_deg": 3.0, "gap_mm": 4.0},
)
"""Tools, each set no better in anything than the one before."""

ROUNDING = 1e-9

SLIPS_MM = (0.0, 8.0, 25.4)


@cache
def rooms(kind: RoomKind, slip_mm: float) -> tuple[Room, ...]:
    """Return a simulated room surveyed once, worked out with each set of tools."""
    sheet = field_list(kind)
    takes: list[ToTake] = [("pitch",) if one.tool == "slope" else (one.tool, *one.of) for one in sheet.readings]
    person = Person(simulated_room(kind, 12, heights_mm=sheet.heights_mm))
    book, _ = field_book(person, takes, Slip(size_mm=slip_mm) if slip_mm else None)
    return tuple(reconcile(replace(book, tools=replace(book.tools, **tools))) for tools in WORSE)  # type: ignore[arg-type]


def suspects(room: Room) -> set[int]:
    """Return the places of the readings under suspicion."""
    return {place for place, fit in enumerate(room.fits) if fit.suspect}


@pytest.mark.parametrize("slip_mm", SLIPS_MM)
@pytest.mark.parametrize("kind", LAYOUTS)
def test_worse_tools_make_no_spread_smaller(kind: RoomKind, slip_mm: float) -> None:
    """Of every figure a room is judged by, and of every coordinate of every spot."""
    for better, poorer in pairwise(rooms(kind, slip_mm)):
        for one, other in zip(better.derived, poorer.derived, strict=True):
            assert other.measured.sd >= (1 - ROUNDING) * one.measured.sd, one.name
        for spot, there in zip(better.spots, poorer.spots, strict=True):
            assert all(there.sd[axis] >= (1 - ROUNDING) * spot.sd[axis] - ROUNDING for axis in range(3)), spot.name


@pytest.mark.parametrize("slip_mm", SLIPS_MM)
@pytest.mark.parametrize("kind", LAYOUTS)
def test_worse_tools_make_no_spread_smaller_between_the_spots(kind: RoomKind, slip_mm: float) -> None:
    """Of every surface, at places that nobody touched."""
    places = [(0.2 * p, 0.3 * q) for p in (1000.0, 3000.0) for q in (-1000.0, 1500.0)]
    for better, poorer in pairwise(rooms(kind, slip_mm)):
        for surface in better.surfaces:
            for one, other in zip(better.profile(surface, places), poorer.profile(surface, places), strict=True):
                assert other.sd >= (1 - ROUNDING) * one.sd, surface


@pytest.mark.parametrize("kind", LAYOUTS)
def test_a_reading_called_worse_makes_no_spread_smaller(kind: RoomKind) -> None:
    """The same of one reading that is given a spread of its own, greater each time."""
    book = rooms(kind, 8.0)[1].survey
    place = next(at for at, reading in enumerate(book.readings) if isinstance(reading, TapeReading))

    def with_spread(sd_mm: float) -> Room:
        readings = (*book.readings[:place], replace(book.readings[place], sd_mm=sd_mm), *book.readings[place + 1 :])
        return reconcile(replace(book, readings=readings))

    for better, poorer in pairwise([with_spread(sd_mm) for sd_mm in (2.0, 8.0, 40.0)]):
        for one, other in zip(better.derived, poorer.derived, strict=True):
            assert other.measured.sd >= (1 - ROUNDING) * one.measured.sd, one.name


def test_in_most_kinds_a_worse_tape_lets_a_suspect_pass() -> None:
    """So that the test above is one of that too."""
    passed = [
        kind
        for kind in LAYOUTS
        if any(suspects(better) > suspects(poorer) for better, poorer in pairwise(rooms(kind, 8.0)))
    ]
    assert len(passed) >= 4, passed


@pytest.mark.parametrize("slip_mm", SLIPS_MM)
@pytest.mark.parametrize("kind", LAYOUTS)
def test_the_walls_are_as_wavy_whatever_the_tools(kind: RoomKind, slip_mm: float) -> None:
    """Which readings tell of the walls, and how much, hangs on no declared tool."""
    found = [room.waviness_mm for room in rooms(kind, slip_mm)]
    assert found == pytest.approx([found[0]] * len(found), rel=ROUNDING)
