"""Crosses and their ringed numbers: no number can be taken for another cross's."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.drawings.clearance import Taken, drawn_lines, touching
from nookwright.drawings.page import Area, Circle, Items, Line, Shape, Text
from nookwright.drawings.pages.rings import crosses

PAPER = Area(x=0.0, y=0.0, width=180.0, height=120.0)
PLATFORM = Shape(points=((20.0, 80.0), (160.0, 80.0), (160.0, 86.0), (20.0, 86.0)))
"""As wide as 2.8 m at 1:20, and as low as 120 mm."""


def drawn(places: list[tuple[float, float]]) -> tuple[Items, list[tuple[tuple[float, float], str]]]:
    """Return what is drawn of crosses at places on or about a platform, and the marks with their numbers."""
    taken = Taken(within=PAPER)
    taken.note([PLATFORM])
    marked = [(place, str(i + 1)) for i, place in enumerate(places)]
    return crosses(marked, taken), marked


def rings_of(items: Items) -> dict[str, Circle]:
    """Return each ring under its number: a ring is drawn just before its number."""
    return {
        number.text: circle
        for circle, number in pairwise(items)
        if isinstance(circle, Circle) and isinstance(number, Text)
    }


def led(items: Items, place: tuple[float, float], circle: Circle) -> bool:
    """Return whether a line runs from a cross to a ring: it starts at the cross and ends on the ring."""
    return any(
        isinstance(line, Line)
        and line.pen != "wide"
        and math.dist(line.start, place) < 2.0
        and abs(math.dist(line.end, circle.centre) - circle.radius) < 0.01
        for line in items
    )


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.tuples(st.floats(25.0, 155.0), st.sampled_from([30.0, 33.0, 60.0, 77.0, 83.0])),
        min_size=1,
        max_size=9,
        unique_by=lambda place: round(place[0] / 6.0),
    )
)
def test_a_number_is_beside_its_cross_or_led_to_it(places: list[tuple[float, float]]) -> None:
    """Every cross has one ring; where no line leads to it, no cross is nearer and nothing is drawn in between."""
    items, marked = drawn(places)
    rings = rings_of(items)
    assert sorted(rings) == sorted(number for _, number in marked)
    edges = drawn_lines(PLATFORM)
    for place, number in marked:
        circle = rings[number]
        if not led(items, place, circle):
            assert min(marked, key=lambda mark: math.dist(mark[0], circle.centre))[1] == number
            assert not any(touching((place, circle.centre), edge) for edge in edges if not touching((place,), edge))


@pytest.mark.parametrize("apart_mm", [20.0, 8.0])
def test_screws_of_a_low_platform_are_led(apart_mm: float) -> None:
    """In a platform too low for a ring the numbers stand outside, each with its line."""
    items, marked = drawn([(40.0 + apart_mm * i, 83.0) for i in range(5)])
    rings = rings_of(items)
    assert all(led(items, place, rings[number]) for place, number in marked)
