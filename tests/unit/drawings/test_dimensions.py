"""Chains of sizes: every size there, none on another, read from below or from the right."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.drawings.clearance import Taken
from nookwright.drawings.dimensions import Angle, Chain, angle, chain, leader, ring, spread_out
from nookwright.drawings.page import Circle, Line, Page, Shape, Text
from nookwright.drawings.page_check import faults


def words(items) -> list[Text]:
    """Return the words among items."""
    return [item for item in items if isinstance(item, Text)]


def sheet(items) -> Page:
    """Return the items on a large enough sheet."""
    return Page(name="test", paper="A4", landscape=True, items=tuple(items))


def test_a_size_stands_above_the_middle_of_its_line() -> None:
    """40 mm on paper is room enough for three figures."""
    items = chain(
        Chain(direction="level", points=((100.0, 50.0), (140.0, 50.0)), labels=("400",), line_at=60.0), Taken()
    )
    (text,) = words(items)
    assert (text.at[0], text.anchor, text.angle_deg) == (120.0, "middle", 0.0)
    assert text.at[1] < 60.0


def test_an_upright_size_reads_from_the_right() -> None:
    """Turned 90 degrees counter-clockwise, left of its line."""
    items = chain(
        Chain(direction="upright", points=((50.0, 50.0), (50.0, 90.0)), labels=("400",), line_at=40.0), Taken()
    )
    (text,) = words(items)
    assert (text.at[1], text.angle_deg) == (70.0, 90.0)
    assert text.at[0] < 40.0


def test_ticks_lie_at_every_point() -> None:
    """Building ticks, wide, centred on the dimension line."""
    points = ((100.0, 50.0), (120.0, 50.0), (150.0, 50.0))
    items = chain(Chain(direction="level", points=points, labels=("200", "300"), line_at=60.0), Taken())
    ticks = [item for item in items if isinstance(item, Line) and item.pen == "wide"]
    assert [((t.start[0] + t.end[0]) / 2, (t.start[1] + t.end[1]) / 2) for t in ticks] == [(x, 60.0) for x, _ in points]


@given(
    st.lists(st.floats(min_value=0.4, max_value=40.0), min_size=1, max_size=6), st.sampled_from(["level", "upright"])
)
def test_no_size_overlaps_whatever_the_chain(gaps: list[float], direction: str) -> None:
    """Short and long spaces in any order: every size is printed, and all can be read."""
    at, places = 45.0, [45.0]
    for gap in gaps:
        at += gap / max(1.0, sum(gaps) / 90.0)
        places.append(at)
    points = tuple((place, 100.0) if direction == "level" else (150.0, place) for place in places)
    labels = tuple(f"{20 * gap:.0f}" for gap in gaps)
    dims = Chain(direction=direction, points=points, labels=labels, line_at=110.0 if direction == "level" else 135.0)
    items = chain(dims, Taken())
    assert sorted(text.text for text in words(items)) == sorted(labels)
    assert faults(sheet(items)) == ()


def test_the_overall_size_lies_outermost() -> None:
    """Chain first, whole size beyond it."""
    points = ((100.0, 50.0), (120.0, 50.0), (150.0, 50.0))
    dims = Chain(direction="level", points=points, labels=("200", "300"), line_at=60.0, overall="500", row_mm=9.0)
    by_text = {text.text: text.at[1] for text in words(chain(dims, Taken()))}
    assert by_text["500"] - by_text["200"] == pytest.approx(9.0)


def test_an_arc_keeps_its_radius_and_its_words_clear() -> None:
    """Every point of the arc is as far from the corner as asked."""
    items = angle(Angle(corner=(100.0, 100.0), from_deg=0.0, to_deg=49.9, label="49.9°", radius=9.0), Taken())
    (arc,) = [item for item in items if isinstance(item, Shape)]
    assert all(math.dist(point, (100.0, 100.0)) == pytest.approx(9.0) for point in arc.points)
    assert arc.points[-1][1] < 100.0
    assert faults(sheet(items)) == ()


def test_a_long_number_gets_a_wide_ring() -> None:
    """The number stays inside its ring."""
    small, large = ring((50.0, 50.0), "7"), ring((50.0, 50.0), "C123")
    assert isinstance(small[0], Circle)
    assert isinstance(large[0], Circle)
    assert large[0].radius > small[0].radius
    assert faults(sheet(large)) == ()


def test_a_note_takes_the_first_free_place() -> None:
    """The first place is taken by a line."""
    taken = Taken(lines=[((60.0, 38.0), (90.0, 38.0))])
    items = leader((50.0, 50.0), ((60.0, 40.0), (60.0, 60.0)), "scribe 12", taken)
    assert words(items)[0].at == (60.0, 60.0)


@given(st.lists(st.floats(min_value=0.0, max_value=300.0), min_size=1, max_size=12).map(sorted))
def test_running_sizes_are_spread_no_nearer_than_their_pitch(places: list[float]) -> None:
    """Order is kept, none lies nearer to the next than the pitch, and the mean stays."""
    spread = spread_out(places, 7.5)
    assert len(spread) == len(places)
    assert all(b - a >= 7.5 - 1e-6 for a, b in pairwise(spread))
    assert sum(spread) == pytest.approx(sum(places), abs=1e-6)


def test_places_far_enough_apart_stay_where_they_are() -> None:
    """Only crowded ones move, and they move about their middle: 10 and 12 become 7.25 and 14.75."""
    assert spread_out([10.0, 12.0, 60.0, 80.0], 7.5) == pytest.approx([7.25, 14.75, 60.0, 80.0])
