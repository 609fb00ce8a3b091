"""The pictures of a field sheet: walls folded out stand between their own corners, levels beside their own columns."""

from __future__ import annotations

import pytest

from nookwright.basics.lengths import Marks
from nookwright.drawings.page import Area, Text
from nookwright.drawings.pages.field_views import folded_view, plan_view
from nookwright.stages.inputs.survey import Survey
from nookwright.stages.survey.asked import blank_survey
from nookwright.stages.survey.kind_table import SHAPES
from nookwright.stages.survey.nominal import nominal_room

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


def test_a_column_s_levels_stand_nearer_to_its_name_than_to_another() -> None:
    """Twelve and a half millimetres apart on paper, `1 3` between F and E could be either's."""
    survey = blank("free-plan")
    room = nominal_room(survey)
    texts = [item for item in plan_view(survey, room, AREA) if isinstance(item, Text)]
    names = {text.text: text.at for text in texts if text.text in room.columns}
    notes = [text for text in texts if text.text.replace(" ", "").isdigit()]
    assert len(notes) == len(names) == 6
    nearest = [
        min(names, key=lambda name: (names[name][0] - note.at[0]) ** 2 + (names[name][1] - note.at[1]) ** 2)
        for note in notes
    ]
    assert sorted(nearest) == sorted(names)
