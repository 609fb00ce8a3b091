"""The table of kinds: every nominal plan hangs together, and a mirror image of a mirror image is the thing itself."""

from __future__ import annotations

import math

import pytest

from nookwright.stages.survey.kind_table import HANDED, SHAPES, kind_shape
from nookwright.stages.survey.shape import mirrored

KINDS = tuple(SHAPES)
HANDS = [(kind, corner) for kind in KINDS for corner in ("left", "right")]


@pytest.mark.parametrize(("kind", "corner"), HANDS)
def test_walls_run_from_end_to_end_with_the_room_in_front(kind: str, corner: str) -> None:
    """A wall's right end lies to the right of its left end for someone who faces it."""
    shape = kind_shape(kind, corner)
    for wall in shape.walls.values():
        (x1, y1), (x2, y2) = (shape.columns[end].place for end in wall.ends)
        out_x, out_y = wall.facing
        to_the_right = (x2 - x1) * -out_y + (y2 - y1) * out_x
        assert to_the_right == pytest.approx(math.hypot(x2 - x1, y2 - y1), rel=1e-6)


@pytest.mark.parametrize(("kind", "corner"), HANDS)
def test_a_plan_names_only_what_it_has(kind: str, corner: str) -> None:
    """Columns, walls and surfaces that are named anywhere exist; each wall's ends stand against it."""
    shape = kind_shape(kind, corner)
    columns = set(shape.columns)
    for pair in (shape.frame, *(line.columns for line in shape.lines), *(span.columns for span in shape.spans)):
        assert set(pair) <= columns
    assert set(shape.outline) == columns
    assert set(shape.feet) | set(shape.head) <= columns
    for slope in shape.slopes.values():
        assert set(slope.heads) | set(slope.ends) <= columns
    assert set(shape.walls) | set(shape.slopes) | {"floor"} == set(shape.surfaces)
    assert set(shape.tops.values()) <= {*shape.slopes, *shape.optional}
    for name, column in shape.columns.items():
        assert column.name == name
        assert set(column.walls) == {wall.name for wall in shape.walls.values() if name in wall.ends}
    for corner_wanted in shape.corners:
        first, second = (shape.walls[name] for name in corner_wanted.walls)
        assert first.ends[1] == second.ends[0] == corner_wanted.column
        assert corner_wanted.arms == (first.ends[0], second.ends[1])


@pytest.mark.parametrize("kind", KINDS)
def test_a_mirror_image_twice_is_the_same_room(kind: str) -> None:
    """And a kind that has no hand is its own mirror image, but for the order of its names."""
    shape = SHAPES[kind]
    there = mirrored(shape)
    back = mirrored(there)
    assert (back.walls, back.slopes, back.tops) == (shape.walls, shape.slopes, shape.tops)
    assert back.columns == {name: shape.columns[name] for name in sorted(shape.columns)}
    if kind == "free-plan":  # it may be any: its corners settle its hand
        return
    same = there.walls == shape.walls and there.slopes == shape.slopes
    assert same != (kind in HANDED)


def test_a_splayed_wall_is_written_along_x_and_leans_one_to_one() -> None:
    """By hand: through (0, 0) and (-500, -500) x = y; the room lies to its right."""
    wall = SHAPES["bay"].walls["left"]
    assert wall.axes == (0, 1, 2)
    assert wall.into_room == 1
    assert wall.tilt == pytest.approx(1.0)
    assert SHAPES["bay"].walls["right"].tilt == pytest.approx(-1.0)
    assert SHAPES["alcove"].walls["back"].axes == (1, 0, 2)


def test_spots_are_taken_apart_by_the_longest_column_name() -> None:
    """A column of two letters, a level of any length."""
    shape = SHAPES["twin-alcoves"]
    assert shape.taken_apart("NL12") == ("NL", "12")
    assert shape.taken_apart("XX1") == ("", "XX1")
