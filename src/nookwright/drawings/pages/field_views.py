"""The pictures of a field sheet: the room from above and its walls folded out, every spot at its place."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from nookwright.basics.lengths import Marks, show
from nookwright.drawings.clearance import Taken
from nookwright.drawings.lettering import NOTES_MM, text_corners, width_mm
from nookwright.drawings.page import Anchor, Area, Circle, Item, Items, Line, Shape, Text
from nookwright.drawings.view import View, fitted
from nookwright.geometry.frame import Point2
from nookwright.stages.inputs.survey import Survey
from nookwright.stages.survey.nominal import NominalRoom
from nookwright.stages.survey.shape import Wall
from nookwright.stages.survey.spots import spots_named_by

NAME_MM = 3.5
DOT_MM = 0.9
LEAST_SHARE = 0.17
"""Least width of a wall folded out, as a share of all of them together: a sketch has no scale. Our choice."""

MOST_STRETCH = 2.5
"""How much deeper than it is a plan may be drawn. Our choice."""

BEYOND = 0.1
"""How much further than its last column an open wall is drawn, as a share of the sketch. Our choice."""


def levels_used(survey: Survey, room: NominalRoom) -> dict[str, tuple[str, ...]]:
    """Return the levels at which each column's spots are read, from the floor up."""
    spots = {room.shape.taken_apart(name) for reading in survey.readings for name in spots_named_by(reading)}
    return {column: tuple(sorted(level for found, level in spots if found == column)) for column in room.columns}


PLAIN_MM = 1.0
"""A note nearer to one name than to the next by so much on paper is plainly that one's. Our choice."""

Upright = tuple[str, float]
"""A column with how far along the folded-out walls it stands."""


def plan_view(survey: Survey, room: NominalRoom, area: Area) -> Items:
    """Return the room from above: walls by name, columns by name with their levels, where to stand.

    Args:
        survey: says which spots are read.
        room: where they stand.
        area: the paper it may take.

    Returns:
        The picture.
    """
    inner = area.inset(left=9.0, right=9.0, top=9.0, bottom=21.0)
    shown = _stretched(room, inner)
    xs, ys = zip(*shown.columns.values(), strict=True)
    reach = BEYOND * max(max(xs) - min(xs), max(ys) - min(ys))
    low, high = (min(xs) - reach / 2, min(ys) - reach), (max(xs) + reach / 2, max(ys))
    view = _sketch(low, high, inner)
    walls = tuple(shown.shape.walls.values())
    items: list[Item] = []
    told = Taken()
    for wall in walls:
        for item in _wall_from_above(wall, walls, shown, view, reach):
            if not isinstance(item, Text) or told.free(text_corners(item)):  # else the walls folded out tell its name
                items.append(item)
                told.note((item,) if isinstance(item, Text) else ())
    foot = view.at(((min(xs) + max(xs)) / 2, low[1]))
    items.extend(_person((foot[0], foot[1] + 11.0)))
    items.extend(_columns_from_above(survey, shown, view, items, area))
    return tuple(items)


def _stretched(room: NominalRoom, area: Area) -> NominalRoom:
    """Return a room whose plan fills an area better, drawn deeper than it is; slanting walls keep their angles."""
    xs, ys = zip(*room.columns.values(), strict=True)
    wide, deep = max(xs) - min(xs), max(ys) - min(ys)
    if any(wall.tilt for wall in room.shape.walls.values()):
        return room
    factor = min(max(area.height / area.width * wide / deep, 1.0), MOST_STRETCH)
    return replace(room, columns={name: (x, factor * y) for name, (x, y) in room.columns.items()})


def folded_view(survey: Survey, room: NominalRoom, area: Area, marks: Marks) -> Items:
    """Return the walls folded out flat, seen from inside: heights to mark, slope or ceiling, level line.

    Args:
        survey: says which spots are read.
        room: where they stand.
        area: the paper it may take.
        marks: the reader's units.

    Returns:
        The picture.
    """
    walls = tuple(room.shape.walls.values())
    inner = area.inset(left=17.0, right=6.0, top=2.5, bottom=8.0)
    top = max(room.headroom(column) for column in room.columns)
    along = _unrolled(walls, room, top * inner.width / inner.height)
    right = along[-1][1]
    view = _sketch((0.0, 0.0), (right, top), inner)
    items: list[Item] = [
        view.line((0.0, 0.0), (right, 0.0), pen="wide"),
        view.line((0.0, room.line_mm), (right, room.line_mm), dash="chain"),
    ]
    for ends in pairwise(along):
        edge = [(at, room.headroom(column)) for column, at in ends]
        items.append(Shape(points=view.all_at(edge), closed=False, pen="wide"))
    for column, at in along:
        items.append(view.line((at, 0.0), (at, room.headroom(column)), ink="grey"))
        items.extend(_dots_folded(survey, room, view, column, at))
    items.extend(_heights_folded(survey, room, view, marks))
    taken = Taken(within=area)
    taken.note(items)
    for places in _words_folded(survey, room, walls, along, view):
        free = (words for words in places if all(taken.free(text_corners(word)) for word in words))
        chosen = next(free, places[-1])
        taken.note(chosen)
        items.extend(chosen)
    return tuple(items)


def _sketch(low: Point2, high: Point2, area: Area) -> View:
    """Return the view that fills an area as well as a whole number to 1 can: a sketch has no scale."""
    scale = max((high[0] - low[0]) / area.width, (high[1] - low[1]) / area.height, 1.0)
    return fitted(low, high, area, scale=math.ceil(scale))


def _middle(room: NominalRoom) -> Point2:
    xs, ys = zip(*room.columns.values(), strict=True)
    return (sum(xs) / len(xs), sum(ys) / len(ys))


def _wall_from_above(wall: Wall, walls: Sequence[Wall], room: NominalRoom, view: View, reach: float) -> Items:
    """Return one wall as a hatched band with its name outside it; an open end runs on."""
    start, end = room.columns[wall.ends[0]], room.columns[wall.ends[1]]
    length = math.dist(start, end)
    along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    shared = [name for other in walls if other is not wall for name in other.ends]
    before, after = (0.0 if wall.ends[place] in shared else reach for place in (0, -1))
    edge = (
        (start[0] - before * along[0], start[1] - before * along[1]),
        (end[0] + after * along[0], end[1] + after * along[1]),
    )
    outward = (-along[1], along[0])
    x, y = view.at(((start[0] + end[0]) / 2, (start[1] + end[1]) / 2))
    turn = math.degrees(math.atan2(along[1], along[0]))
    turn = turn - 180 if turn > 90 else turn + 180 if turn <= -90 else turn
    above = -math.sin(math.radians(turn)) * outward[0] + math.cos(math.radians(turn)) * outward[1] > 0
    off = 5.2 if above else 5.2 + NOTES_MM
    at = (x + off * outward[0], y - off * outward[1])
    name = Text(at=at, text=wall.told, height_mm=NOTES_MM, anchor="middle", angle_deg=turn)
    band = view.wall(edge, side=1.0, band_mm=3.5)
    if wall.name.isupper() or width_mm(wall.told, NOTES_MM) > 0.7 * math.dist(*edge) / view.scale:
        return band  # its name stands on the walls folded out, or the letters of its corners say it
    return (*band, name)


def _columns_from_above(survey: Survey, room: NominalRoom, view: View, drawn: Sequence[Item], area: Area) -> Items:
    """Return every column's dot with its name, and beside or under that the levels read there."""
    places = {column: view.at(place) for column, place in room.columns.items()}
    items: list[Item] = [Circle(centre=place, radius=DOT_MM, fill="grey", pen="wide") for place in places.values()]
    taken = Taken(within=area)
    taken.note((*drawn, *items))
    taken.lines.extend(item.points for item in drawn if isinstance(item, Shape) and item.fill == "hatch")
    used, names = levels_used(survey, room), dict[str, Text]()
    for column in room.columns:
        names[column] = _first_free(_names_of(column, places[column], room), taken)
    for column, name in names.items():
        (x, y), half = name.at, width_mm(column, NAME_MM, bold=True) / 2
        way = 1 if x > places[column][0] - 0.1 else -1
        beside = (((half + 2.0) * way, 0.0, way), (0.0, 4.5, 0), (-half * way, 4.5, way), (half * way, 4.5, -way))
        beyond = ((0.0, -5.2, 0), (-half * way, -5.2, way), ((-half - 2.0) * way, 0.0, -way), (-half * way, 8.6, way))
        spots = (*beside, *beyond)
        words = " ".join(used[column])
        found = tuple(_note((x + dx, y + dy), words, _anchor(to)) for dx, dy, to in spots)
        free = next(
            (note for note in found if taken.free(text_corners(note)) and _plainly_of(column, note, names)), None
        )
        if free is not None:  # else the walls folded out tell its levels
            taken.note((free,))
            items.append(free)
    return (*items, *names.values())


def _plainly_of(column: str, note: Text, names: dict[str, Text]) -> bool:
    """Return whether a note stands nearer to its column's name than to any other: it is read as the nearest one's."""
    apart = {name: _apart(text_corners(note), text_corners(word)) for name, word in names.items()}
    return all(apart[column] + PLAIN_MM < far for name, far in apart.items() if name != column)


def _apart(one: Sequence[Point2], other: Sequence[Point2]) -> float:
    """Return how far two upright boxes stand apart."""
    (left, right), (top, bottom) = ((min(c[i] for c in one), max(c[i] for c in one)) for i in (0, 1))
    (west, east), (north, south) = ((min(c[i] for c in other), max(c[i] for c in other)) for i in (0, 1))
    return math.hypot(max(west - right, left - east, 0.0), max(north - bottom, top - south, 0.0))


def _first_free(words: tuple[Text, ...], taken: Taken) -> Text:
    """Return the words at the first free of their places, which they then take."""
    chosen = words[taken.first_free(words)]
    taken.note((chosen,))
    return chosen


def _names_of(column: str, place: Point2, room: NominalRoom) -> tuple[Text, ...]:
    """Return a column's name at the places it may take, on the room's side of its walls first."""
    facing = [room.shape.walls[wall].facing for wall in room.shape.columns[column].walls]
    into = (sum(x for x, _ in facing), sum(y for _, y in facing))
    around = [(x if y else 1.56 * x, 5.2 * y) for x in (-4.1, 0, 4.1) for y in (-1, 0, 1) if x or y]
    if not facing:
        (x, y), (middle_x, middle_y) = room.columns[column], _middle(room)
        into = (middle_x - x, middle_y - y)
    around.sort(key=lambda way: -(way[0] * into[0] + way[1] * into[1]) / math.hypot(*way))
    return tuple(
        Text(
            at=(place[0] + dx, place[1] - dy + NAME_MM / 2), text=column, height_mm=NAME_MM, anchor="middle", bold=True
        )
        for dx, dy in around
    )


def _anchor(way: int) -> Anchor:
    return "start" if way > 0 else "end" if way < 0 else "middle"


def _person(foot: Point2) -> Items:
    """Return a person seen from above, facing the back wall, with words."""
    x, y = foot
    shoulders = Shape(
        points=((x - 4.0, y - 3.0), (x + 4.0, y - 3.0), (x + 3.2, y - 0.8), (x - 3.2, y - 0.8)), fill="tint"
    )
    head = Circle(centre=(x, y - 2.4), radius=1.5, fill="white")
    arrow = (
        Line(start=(x, y - 5.0), end=(x, y - 9.5), pen="wide"),
        Shape(points=((x - 1.2, y - 8.0), (x, y - 10.5), (x + 1.2, y - 8.0)), closed=False, pen="wide"),
    )
    words = Text(
        at=(x, y + 3.6), text="left and right are yours, facing the back wall", height_mm=NOTES_MM, anchor="middle"
    )
    return (shoulders, head, *arrow, words)


def _unrolled(walls: Sequence[Wall], room: NominalRoom, wide_mm: float) -> tuple[Upright, ...]:
    """Return the columns with how far along the folded-out walls they stand: so wide in all, short walls stretched.

    Where the walls close round a room its first column stands at both ends.
    """
    lengths = [math.dist(*(room.columns[end] for end in wall.ends)) for wall in walls]
    lengths = [max(length, LEAST_SHARE * sum(lengths)) for length in lengths]
    along = [(walls[0].ends[0], 0.0)]
    for wall, length in zip(walls, lengths, strict=True):
        along.append((wall.ends[1], along[-1][1] + length * wide_mm / sum(lengths)))
    return tuple(along)


def _dots_folded(survey: Survey, room: NominalRoom, view: View, column: str, at: float) -> Items:
    """Return a column's spots as dots."""
    spots = [view.at((at, room.height_of(column + level))) for level in levels_used(survey, room)[column]]
    return tuple(Circle(centre=spot, radius=DOT_MM, fill="grey", pen="wide") for spot in spots)


def _words_folded(
    survey: Survey, room: NominalRoom, walls: Sequence[Wall], along: Sequence[Upright], view: View
) -> Iterator[tuple[tuple[Text, ...], ...]]:
    """Give the words of the folded walls at the places it may take, the best first."""
    for column, at in along:
        x, floor = view.at((at, 0.0))
        yield tuple(
            (Text(at=(x, floor + dy), text=column, height_mm=NAME_MM, anchor="middle", bold=True),)
            for dy in (6.2, 10.8)
        )
    for column, at in along:
        for level in levels_used(survey, room)[column]:
            x, y = view.at((at, room.height_of(column + level)))
            if level != "0":
                yield tuple(
                    (_note((x + dx, y + dy), level, anchor),)
                    for dy in (1.2, -0.7, -1.5, 3.7, 4.7)
                    for dx, anchor in _BESIDE
                )
    for wall, ends in zip(walls, pairwise(along), strict=True):
        (x0, left), (x1, right) = (view.at((at, room.headroom(column))) for column, at in ends)
        low = max(left, right)
        floor = view.at((0.0, 0.0))[1]
        heights = [
            low + share * (floor - low) for share in (0.3, 0.4, 0.5, 0.2, 0.6, 0.7, 0.25, 0.35, 0.45, 0.55, 0.65)
        ]
        x = (x0 + x1) / 2
        lines = wall.name.split(" ")
        upright = tuple((replace(_note((x + 1.2, y), wall.name, "middle"), angle_deg=90.0),) for y in heights)
        yield (
            *(tuple(_note((x, y + 3.8 * i), line, "middle") for i, line in enumerate(lines)) for y in heights),
            *upright,
            (),  # between columns that near, none: the plan tells which wall it is
        )
    line = view.at((0.0, room.line_mm))[1]
    spans = sorted((right - left, view.at(((left + right) / 2, 0.0))[0]) for (_, left), (_, right) in pairwise(along))
    widest = spans[-1][1]
    middles = sorted((x for _, x in spans), key=lambda x: abs(x - widest))
    yield tuple((_note((x, line + dy), "level line", "middle"),) for x in middles for dy in (-1.0, 3.5))


_BESIDE: tuple[tuple[float, Anchor], ...] = ((2.7, "start"), (-2.7, "end"))


def _note(at: Point2, words: str, anchor: Anchor) -> Text:
    return Text(at=at, text=words, height_mm=NOTES_MM, anchor=anchor)


def _heights_folded(survey: Survey, room: NominalRoom, view: View, marks: Marks) -> Items:
    """Return the heights to mark, beside the first column."""
    used = {level for levels in levels_used(survey, room).values() for level in levels}
    items: list[Item] = []
    for number, height in enumerate(survey.heights_mm, start=1):
        if str(number) in used:
            x, y = view.at((0.0, height))
            words = f"{number}: {show(height, marks)}"
            items.append(Text(at=(x - 4.0, y + 1.2), text=words, height_mm=NOTES_MM, anchor="end", bold=True))
            items.append(Line(start=(x - 3.4, y), end=(x - 1.2, y)))
    return tuple(items)
