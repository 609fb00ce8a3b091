"""The order of reading: nothing lost, tools and levels kept together, and never more walking than the order typed."""

from __future__ import annotations

import math
from collections import Counter
from itertools import pairwise, permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.stages.inputs.survey import Side
from nookwright.stages.survey.asked import sheet_list
from nookwright.stages.survey.field_lists import ToTake, field_list
from nookwright.stages.survey.kind_table import kind_shape
from nookwright.stages.survey.walking import hook_ends, slants, station, walked_mm, walking_order

KINDS = ("alcove", "corner-under-slope", "under-stair")
SQUARE = {"A": (0.0, 0.0), "B": (3000.0, 0.0), "C": (3000.0, -2000.0), "D": (0.0, -2000.0)}


def tape(first: str, second: str) -> ToTake:
    """Return a tape at level 1."""
    return ToTake(tool="tape", of=(f"{first}1", f"{second}1"), purpose="")


def level(column: str) -> ToTake:
    """Return a level reading on the floor."""
    return ToTake(tool="level", of=(f"{column}0",), purpose="")


def columns(kind: str, corner: Side) -> dict[str, tuple[float, float]]:
    """Return where a kind's columns stand."""
    return {name: column.place for name, column in kind_shape(kind, corner).columns.items()}


def test_level_readings_go_round_by_the_shortest_way() -> None:
    """By hand: the tools lie 500 mm before the middle of C - D, so out to a corner, along three sides, is the least."""
    order = walking_order([level("A"), level("C"), level("B"), level("D")], SQUARE)
    out = math.hypot(1500, 500)
    assert walked_mm(order, SQUARE) == pytest.approx(out + 2000 + 3000 + 2000)
    assert "".join(one.of[0][0] for one in order) in ("CBAD", "DABC")


def test_the_hook_stays_while_the_next_tape_starts_there() -> None:
    """By hand, hook at A: walk to A, then to B; back from B to D along the diagonal, the hook still at A."""
    takes = [tape("A", "B"), tape("A", "D")]
    to_a, sides = math.hypot(1500, 2500), 3000 + math.hypot(3000, 2000)
    to_b = math.hypot(1500, 2500)
    other = to_b + 3000 + 0 + 2000  # hook at B first, read at A; hook anew at A, where one stands, read at D
    assert walked_mm(takes, SQUARE) == pytest.approx(min(to_a + sides, other))
    assert hook_ends(takes, SQUARE) == ("B", "A")


def test_a_slanting_tape_is_hooked_at_its_lower_end() -> None:
    """Whichever end is named first, and however far one walks for it; from slope to slope either end will do.

    It is taken with the tapes of the level where its hook lies.
    """
    up, down = (ToTake(tool="tape", of=of, purpose="") for of in (("A1", "C3"), ("B3", "D0")))
    to_slope = ToTake(tool="tape", of=("AS", "D0"), purpose="")
    assert hook_ends([up, down, to_slope], SQUARE) == ("A", "D", "D")
    assert [station(one, SQUARE)[1] for one in (up, down, to_slope)] == ["1", "0", "0"]
    slopes = ToTake(tool="tape", of=("AS", "CB"), purpose="")
    assert hook_ends([slopes], SQUARE) in (("A",), ("C",))
    assert station(slopes, SQUARE)[1] == "slanting"
    assert [slants(one, SQUARE) for one in (up, slopes, tape("A", "B"))] == [True, True, False]


def test_a_change_of_tool_leads_past_the_tools() -> None:
    """By hand: out to A and back to the tools, out to A again."""
    takes = [level("A"), ToTake(tool="plumb", of=("back", "A0", "A1"), purpose="")]
    assert walked_mm(takes, SQUARE) == pytest.approx(3 * math.hypot(1500, 2500))


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.sampled_from([level(c) for c in "ABCD"] + [tape(a, b) for a in "ABC" for b in "BCD" if a < b]), max_size=7
    )
)
def test_nothing_is_lost_and_nothing_walked_in_vain(takes: list[ToTake]) -> None:
    """The same readings, no further than as typed with the tools sorted."""
    order = walking_order(takes, SQUARE)
    assert Counter(one.of for one in order) == Counter(one.of for one in takes)
    in_groups = sorted(takes, key=lambda one: station(one, SQUARE))
    first = [one for place, one in enumerate(in_groups) if one not in in_groups[:place]]
    if len(first) == len(in_groups):
        assert walked_mm(order, SQUARE) <= walked_mm(in_groups, SQUARE) + 1e-6


def test_no_other_order_of_four_tapes_walks_less() -> None:
    """Against every one of the 24 orders."""
    takes = [tape("A", "C"), tape("B", "D"), tape("A", "B"), tape("C", "D")]
    least = min(walked_mm(order, SQUARE) for order in permutations(takes))
    assert walked_mm(walking_order(takes, SQUARE), SQUARE) == pytest.approx(least)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("corner", ["left", "right"])
def test_a_field_sheet_keeps_stations_together_and_saves_a_third_of_the_way(kind: str, corner: Side) -> None:
    """Each tool and level once; at most 0.63 of the walking in the order the list is written in."""
    where = columns(kind, corner)
    listed, found = field_list(kind, corner).readings, sheet_list(kind, corner).readings
    assert Counter(one.of for one in found) == Counter(one.of for one in listed)
    turns = [
        station(one, where) for place, one in enumerate(found) if one.of not in [each.of for each in found[:place]]
    ]
    assert sum(here != there for here, there in pairwise(turns)) + 1 == len(set(turns))
    assert walked_mm(found, where) <= 0.63 * walked_mm(listed, where)


def test_what_is_read_twice_is_not_read_twice_in_a_row() -> None:
    """A second look at once, with the hook left where it is, would repeat the same slip."""
    found = sheet_list("under-stair").readings
    assert all(here.of != there.of for here, there in pairwise(found))
