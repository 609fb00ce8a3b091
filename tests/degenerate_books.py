"""Field books that leave something open, for every kind of room: its usual list with some readings left out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from nookwright.basics.problems import InvalidInputError
from nookwright.stages.inputs.survey import (
    LevelReading,
    PlanCorner,
    PlumbReading,
    Reading,
    RoomKind,
    Survey,
    TapeReading,
)
from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.survey.field_lists import field_list
from nookwright.stages.survey.kinds import shape_in
from simulated_rooms import Person, Waviness, field_book, simulated_room

Keep = Callable[[Reading, Survey], bool]


@dataclass(frozen=True)
class Gap:
    """Something not measured.

    Args:
        title: in plain words.
        keep: which readings of the usual list are left in.
        open_: for each kind of room, one thing that is then open: a value's name; empty for a book that is refused.
    """

    title: str
    keep: Keep
    open_: dict[RoomKind, str]


def usual(kind: RoomKind) -> Survey:
    """Return the field book of a room of slightly wavy walls, with the usual list."""
    found = field_list(kind)
    room = simulated_room(kind, 3, wavy=Waviness(1.0), heights_mm=found.heights_mm)
    return field_book(Person(room), [(one.tool, *one.of) for one in found.readings])[0]


def _side(reading: Reading, survey: Survey) -> bool:
    """Return whether a reading is no tape, or one along a side of the plan."""
    if not isinstance(reading, TapeReading):
        return True
    shape = shape_in(survey)
    columns = {shape.taken_apart(spot)[0] for spot in (reading.start, reading.end)}
    return any(columns == set(line.columns) for line in shape.lines)


def _one_height(reading: Reading, survey: Survey) -> bool:
    """Return whether a reading says nothing of a second height."""
    if isinstance(reading, PlumbReading):
        return False
    levels = {reading.start[-1], reading.end[-1]} if isinstance(reading, TapeReading) else {"0"}
    tapes = [one for one in survey.readings if isinstance(one, TapeReading)]
    return levels == {"0"} or not isinstance(reading, TapeReading) or levels == {min(one.start[-1] for one in tapes)}


def _without(*columns: str) -> Keep:
    def keep(reading: Reading, survey: Survey) -> bool:
        names = [getattr(reading, key, "") for key in ("start", "end", "first", "second")]
        return not any(name.startswith(columns) for name in names if name)

    return keep


CORNER: dict[RoomKind, str] = {
    "alcove": "back left corner",
    "bay": "back left corner",
    "corner-under-slope": "back left corner",
    "corner-two-slopes": "back left corner",
    "under-stair": "back right corner",
    "twin-alcoves": "back left corner",
    "free-plan": "corner A",
}
LEAN: dict[RoomKind, str] = {
    "alcove": "left wall lean",
    "bay": "left wall lean",
    "corner-under-slope": "left wall lean",
    "corner-two-slopes": "left wall lean",
    "under-stair": "right wall lean",
    "twin-alcoves": "left cheek lean",
    "free-plan": "wall AB lean",
}

LEVEL_ROOMS: tuple[RoomKind, ...] = ("alcove", "bay", "twin-alcoves", "free-plan")

GAPS = (
    Gap("no tape", lambda reading, _: not isinstance(reading, TapeReading), dict.fromkeys(CORNER, "")),
    Gap("no diagonal", _side, CORNER),
    Gap(
        "no level",
        lambda reading, _: not isinstance(reading, LevelReading),
        {kind: "floor fall to the right" if kind in LEVEL_ROOMS else "" for kind in CORNER},
    ),
    Gap(
        "no plumb line",
        lambda reading, _: not isinstance(reading, PlumbReading),
        {kind: LEAN[kind] for kind in ("alcove", "twin-alcoves")},
    ),
    Gap(
        "one height only, no plumb line",
        _one_height,
        {kind: name for kind, name in LEAN.items() if kind != "corner-two-slopes"},
    ),
    Gap(
        "the left wall read at its back edge only",
        _without("FL"),
        {"alcove": "back left corner", "bay": "", "corner-under-slope": "", "twin-alcoves": ""},
    ),
    Gap("the breast read at its left nose only", _without("NR"), {"twin-alcoves": "left nose"}),
)


def said(gap: Gap, kind: RoomKind) -> str:
    """Return what the survey says of the open thing, or of the whole book when it is refused."""
    survey = usual(kind)
    spoilt = replace(survey, readings=tuple(one for one in survey.readings if gap.keep(one, survey)))
    if not gap.open_[kind]:
        try:
            reconcile(spoilt)
        except InvalidInputError as refusal:
            return str(refusal)
    return next(one.advice for one in reconcile(spoilt).derived if one.name == gap.open_[kind])


def flat_corner(*, third: bool) -> Survey:
    """Return a room whose right wall bends at C by an angle nobody could say: tapes from B and D fit a bend in or out.

    By hand: B and D stand 4000 apart, C half way between them and 200 off their line. With `third` C is taped from A.
    """
    corners = tuple(
        PlanCorner(name=name, angle_deg=angle)
        for name, angle in (("A", 90), ("B", 90), ("C", 180), ("D", 90), ("E", 90))
    )
    places = {"A": (0.0, 0.0), "B": (3000.0, 0.0), "C": (2800.0, -2000.0), "D": (3000.0, -4000.0), "E": (0.0, -4000.0)}
    pairs = ["AB", "BC", "CD", "DE", "EA", "AD", "BE", "BD"] + (["AC"] if third else [])
    readings = []
    for first, second in pairs:
        (x1, y1), (x2, y2) = places[first], places[second]
        size = round(((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5)
        readings.append(TapeReading(start=f"{first}0", end=f"{second}0", length_mm=float(size)))
    return Survey(kind="free-plan", corner="left", heights_mm=(), readings=tuple(readings), plan=corners)
