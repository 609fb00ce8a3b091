"""The pictures of a field sheet: walls folded out stand between their own corners, levels beside their own columns."""

from __future__ import annotations

import math

import pytest

from nookwright.basics.lengths import Marks
from nookwright.drawings.lettering import text_corners
from nookwright.drawings.page import Area, Text
from nookwright.drawings.pages.field_views import folded_view, levels_used, plan_view
from nookwright.stages.inputs.survey import Survey
from nookwright.stages.survey.asked import blank_survey
from nookwright.stages.survey.kind_table import SHAPES
from nookwright.stages.survey.nominal import nominal_room

SHEET = Area(x=12.0, y=29.0, width=81.84, height=78.4)
"""What the field sheet gives to the plan on A4."""

AREA = Area(x=100.0, y=20.0, width=90.0, height=80.0)


def blank(kind: str) -> Survey:
    """Return the readings to take in such a room."""
    return blank_survey(kind, "left")  # type: ignore[arg-type]


@pytest.mark.parametrize("kind", SHAPES)
def test_every_wall_folded_out_is_named_between_its_own_columns(kind: str) -> None:
    """In a closed room the first column stands at both ends, or its last wall would have no place."""
    survey = blank(kind)
    room = nominal_room(survey)
    items = folded_view(survey, room, AREA, Marks(units="mm", resolution=1.0))
    texts = [item for item in items if isinstance(item, Text)]
    columns = sorted((text.at[0], text.text) for text in texts if text.text in room.columns and text.bold)
    walls = list(room.shape.walls.values())
    assert [name for _, name in columns] == [walls[0].ends[0], *(wall.ends[1] for wall in walls)]
    words = [word for wall in walls for word in wall.name.split()]
    for wall, (left, _), (right, _) in zip(walls, columns, columns[1:], strict=False):
        alone = words.count(wall.name) == 1
        assert all(left < text.at[0] < right for text in texts if alone and text.text == wall.name)


@pytest.mark.parametrize("kind", SHAPES)
def test_a_column_s_levels_stand_plainly_nearer_to_its_name_than_to_another(kind: str) -> None:
    """Half way between two names they could be either's: where there is no plain place they are left out."""
    survey = blank(kind)
    room = nominal_room(survey)
    used = {column: " ".join(levels) for column, levels in levels_used(survey, room).items()}
    texts = [item for item in plan_view(survey, room, SHEET) if isinstance(item, Text)]
    names = [text for text in texts if text.text in room.columns]
    notes = [text for text in texts if text.text in used.values()]
    assert notes
    for note in notes:
        nearest, next_one = sorted(names, key=lambda name, note=note: gap(note, name))[:2]  # type: ignore[misc]
        assert note.text == used[nearest.text]
        assert gap(note, next_one) > gap(note, nearest) + 0.9


def gap(one: Text, other: Text) -> float:
    """Return how far two words stand apart on paper. [mm]"""
    sides = []
    for axis in (0, 1):
        low, high = (sorted(corner[axis] for corner in text_corners(word)) for word in (one, other))
        sides.append(max(low[0] - high[-1], high[0] - low[-1], 0.0))
    return math.hypot(*sides)
