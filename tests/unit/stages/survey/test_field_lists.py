"""Field lists: every list can be taken in its room, is short enough, and settles everything the room is judged by."""

from __future__ import annotations

import re
from collections import Counter
from typing import get_args

import numpy as np
import pytest

from nookwright.files.new_job import new_job_files
from nookwright.stages.inputs.survey import RoomKind, Side
from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.survey.examine import examine
from nookwright.stages.survey.field_lists import MOST_READINGS, field_list
from nookwright.stages.survey.kind_table import HANDED, SHAPES
from nookwright.stages.survey.kinds import shape_of
from simulated_rooms import Person, ToTake, field_book, simulated_room

KINDS: tuple[RoomKind, ...] = tuple(SHAPES)
UNREAD = {"free-plan": {"ceiling"}, "twin-alcoves": {"ceiling", "left back wall", "breast", "right back wall"}}
"""What 24 readings leave open in a room of seven walls; the survey says so and asks for it."""
BY_THE_WAY = ("depth", "length", "width of the breast")
"""Told wherever two spots of a height were named, fixed or not."""
SIDES: tuple[Side, ...] = get_args(Side)
ROOMS = [(kind, corner) for kind in KINDS for corner in SIDES]


def takes(kind: RoomKind, corner: Side) -> list[ToTake]:
    """Return the list's readings as the simulator takes them."""
    return [(one.tool, *one.of) for one in field_list(kind, corner).readings]


@pytest.mark.parametrize("kind", KINDS)
def test_a_list_is_one_page(kind: RoomKind) -> None:
    """At most 24 readings, each with what it is for; heights rise and are as many in both systems."""
    found = field_list(kind)
    assert 20 <= len(found.readings) <= MOST_READINGS == 24
    assert all(one.purpose for one in found.readings)
    assert list(found.heights_mm) == sorted(set(found.heights_mm))
    assert np.array(found.heights_in) * 25.4 == pytest.approx(found.heights_mm, abs=30)


@pytest.mark.parametrize(("kind", "corner"), ROOMS)
def test_a_list_can_be_taken_and_settles_everything(kind: RoomKind, corner: Side) -> None:
    """In a crooked room: no reading is refused, every spot asked for exists, and every derived value is fixed.

    Depths at heights where the list takes none are told with their spread but need not be fixed.
    """
    heights = field_list(kind, corner).heights_mm
    for seed in range(3):
        room = simulated_room(kind, seed, corner=corner, heights_mm=heights)
        survey, _ = field_book(Person(room), takes(kind, corner))
        examine(survey)
        found = reconcile(survey)
        unread = UNREAD.get(kind, set())
        assert set(found.surfaces) == set(room.surfaces) - (unread & {"ceiling"})
        loose = {one.name for one in found.derived if not one.fixed and not one.name.startswith(BY_THE_WAY)}
        assert loose == {f"{name} lean" for name in unread - {"ceiling"}}
        leans = {one.name for one in found.derived if one.name.endswith("lean")}
        assert leans == {f"{wall.told} lean" for wall in shape_of(kind, corner).walls.values()}


@pytest.mark.parametrize("kind", KINDS)
def test_a_list_with_the_corner_on_the_right_is_the_mirror_image(kind: RoomKind) -> None:
    """Every L becomes R, every left becomes right, and back again."""
    swap = {"L": "R", "R": "L", "left": "right", "right": "left"}
    sides = re.compile("left|right|(?<=[BFM])[LR]")
    if kind not in HANDED:
        assert field_list(kind, "left") == field_list(kind, "right")
        return
    for here, there in zip(field_list(kind, "left").readings, field_list(kind, "right").readings, strict=True):
        assert here.tool == there.tool
        assert there.text == sides.sub(lambda found: swap[found[0]], here.text)


@pytest.mark.parametrize("kind", KINDS)
def test_a_new_job_asks_for_exactly_the_list(kind: RoomKind) -> None:
    """Every reading of the list as often as it is listed, and no other; the marked heights too."""
    text = new_job_files(kind)["room.yaml"]
    asked = Counter(re.findall(r"^    - ([^:]+):", text, flags=re.MULTILINE))
    found = field_list(kind)
    assert asked == Counter(one.text for one in found.readings)
    metric, inch = (", ".join(f"{h:g}" for h in heights) for heights in (found.heights_mm, found.heights_in))
    assert f"heights: [{metric}]" in text
    assert f"heights: [{inch}]" in new_job_files(kind, units="inch")["room.yaml"]
