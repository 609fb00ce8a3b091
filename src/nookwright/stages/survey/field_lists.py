"""Which readings to take in each kind of room, in walking order: at most 24, chosen so that slips show.

The lists follow one rule. A closed figure of four sides and both diagonals checks itself but cannot tell which of its
six tapes is wrong: each tape needs two checks that have nothing to do with each other. They come from a second figure
at another height or along the slope, tied to the first by plumb lines; from tapes that slant from one height to
another; or from a second look at the same tape. Where 24 readings do not suffice, bevels to be read when in doubt do.
`docs/decisions/0010` tells how the readings were chosen.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from nookwright.stages.inputs.survey import RoomKind, Side
from nookwright.stages.survey.kind_table import HANDED
from nookwright.stages.survey.shape import across

Tool = Literal["level", "tape", "plumb", "bevel", "slope"]

MOST_READINGS = 24
"""A field sheet is one page and half an hour: no list asks for more. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToTake:
    """One reading to take.

    Args:
        tool: what it is taken with.
        of: what is read: one spot for a level; two for a tape; a wall and two spots for a plumb line.
        purpose: what it is for, in a few words.
    """

    tool: Tool
    of: tuple[str, ...]
    purpose: str

    @property
    def text(self) -> str:
        """Return it as the room file names it, for example `left BL1 - BL3`."""
        return f"{self.of[0]} {self.of[1]} - {self.of[2]}" if self.tool == "plumb" else " - ".join(self.of)


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldList:
    """What to mark and read in one kind of room.

    Args:
        kind: the room's kind.
        heights_mm: heights to mark on the walls, above the floor at BL0. [mm]
        heights_in: the same in round inches. [in]
        readings: what to read, in walking order.
        in_doubt: columns of corners whose bevel at level 1 tells one wrong tape from another; read only when in doubt.
        if_tall: plumb lines on walls that lean unread otherwise; taken where furniture rises above level 1.
    """

    kind: RoomKind
    heights_mm: tuple[float, ...]
    heights_in: tuple[float, ...]
    readings: tuple[ToTake, ...]
    in_doubt: tuple[str, ...] = ()
    if_tall: tuple[ToTake, ...] = ()


def field_list(kind: RoomKind, corner: Side = "left") -> FieldList:
    """Return what to mark and read in a room.

    Args:
        kind: the room's kind.
        corner: the side of the slope's wall, or of the stair's low end; an alcove has none, and any will do.

    Returns:
        Heights and readings, in walking order.
    """
    found = _LISTS[kind]
    if corner == "left" or kind not in HANDED:
        return found
    readings = tuple(
        ToTake(tool=one.tool, of=tuple(across(name) for name in one.of), purpose=across(one.purpose))
        for one in found.readings
    )
    return replace(found, readings=readings)


def _levels(spots: str, purpose: str) -> tuple[ToTake, ...]:
    return tuple(ToTake(tool="level", of=(spot,), purpose=purpose) for spot in spots.split())


def _tapes(purpose: str, *pairs: str) -> tuple[ToTake, ...]:
    return tuple(ToTake(tool="tape", of=tuple(pair.split()), purpose=purpose) for pair in pairs)


def _plumbs(purpose: str, *places: str) -> tuple[ToTake, ...]:
    return tuple(ToTake(tool="plumb", of=tuple(place.rsplit(" ", 2)), purpose=purpose) for place in places)


def _figure(level: str) -> tuple[ToTake, ...]:
    """Return the closed figure at a level: four sides and both diagonals."""
    return (
        *_tapes("width", f"BL{level} BR{level}", f"FL{level} FR{level}"),
        *_tapes("depth", f"BL{level} FL{level}", f"BR{level} FR{level}"),
        *_tapes("corner angles", f"BL{level} FR{level}", f"BR{level} FL{level}"),
    )


def _bay_figure(level: str) -> tuple[ToTake, ...]:
    """Return the closed figure of a bay at a level."""
    return (
        *_tapes("back wall and mouth", f"BL{level} BR{level}", f"FL{level} FR{level}"),
        *_tapes("side walls", f"BL{level} FL{level}", f"BR{level} FR{level}"),
        *_tapes("corner angles", f"BL{level} FR{level}", f"BR{level} FL{level}"),
    )


_FLOOR = _levels("BL0 BR0 FR0 FL0", "floor, how it falls")
_UNDER_SLOPE = (
    *_FLOOR,
    *_levels("BLS BRS FRS FLS", "slope, its heights and pitch"),
    *_figure("0"),
    *_tapes("depths a second time, from the other end", "BL0 FL0", "BR0 FR0"),
    *_tapes("along the slope", "BLS BRS", "FLS FRS", "BLS FRS", "BRS FLS"),
)
"""What a corner under a slope and the space under a stair have in common: their front, where no wall stands, is held
by tapes alone."""

_LISTS: dict[RoomKind, FieldList] = {
    "alcove": FieldList(
        kind="alcove",
        heights_mm=(150.0, 900.0, 1800.0),
        heights_in=(6.0, 36.0, 72.0),
        readings=(
            *_FLOOR,
            *_levels("BLT BRT FLT", "ceiling, how it falls"),
            *_figure("1"),
            *_figure("3"),
            *_tapes("width half way up", "FL2 FR2"),
            *_plumbs("lean of the left wall", "left BL1 BL3"),
            *_plumbs("lean of the back wall", "back BL1 BL3", "back BR1 BR3"),
            *_plumbs("lean of the right wall", "right BR1 BR3"),
        ),
    ),
    "corner-under-slope": FieldList(
        kind="corner-under-slope",
        heights_mm=(500.0,),
        heights_in=(20.0,),
        readings=(
            *_UNDER_SLOPE,
            *_plumbs("lean of the left wall, up to the slope", "left BL0 BLS", "left FL0 FLS"),
            *_plumbs("lean of the back wall, up to the slope", "back BL0 BLS", "back BR0 BRS"),
        ),
    ),
    "under-stair": FieldList(
        kind="under-stair",
        heights_mm=(150.0,),
        heights_in=(6.0,),
        readings=(
            *_UNDER_SLOPE,
            *_plumbs("lean of the back wall, up to the slope", "back BL0 BLS", "back BR0 BRS"),
            *_plumbs("lean of the right wall, up to the slope", "right BR0 BRS", "right FR0 FRS"),
        ),
    ),
    "bay": FieldList(
        kind="bay",
        heights_mm=(150.0, 900.0, 1800.0),
        heights_in=(6.0, 36.0, 72.0),
        readings=(
            *_FLOOR,
            *_levels("BLT BRT FLT", "ceiling, how it falls"),
            *_bay_figure("1"),
            *_bay_figure("3"),
            *_plumbs("lean of the left wall", "left BL1 BL3", "left FL1 FL3"),
            *_plumbs("lean of the back wall", "back BL1 BL3", "back BR1 BR3"),
            *_plumbs("lean of the right wall", "right BR1 BR3"),
        ),
    ),
    "corner-two-slopes": FieldList(
        kind="corner-two-slopes",
        heights_mm=(150.0, 350.0, 500.0),
        heights_in=(6.0, 14.0, 20.0),
        readings=(
            *_levels("BL0 BR0 FL0", "floor, how it falls"),
            *_levels("BLS FLS FMS", "left slope, its heights and pitch"),
            *_levels("BLB BRB MRB", "back slope, its heights and pitch"),
            *_tapes("corner of the floor", "BL0 BR0", "BL0 FL0", "BR0 FL0"),
            *_tapes("from the floor up to FMS", "BL0 FMS", "FL0 FMS", "BR0 FMS"),
            *_tapes("from the floor up to MRB", "BL0 MRB", "BR0 MRB", "FL0 MRB"),
            *_tapes("from the floor up to BLS", "FL0 BLS"),
            *_tapes("along the slopes", "BLS FMS", "BLB MRB", "FMS MRB"),
            *_plumbs("lean of the left wall, up to the slope", "left FL0 FLS"),
            *_plumbs("lean of the back wall, up to the slope", "back BR0 BRB"),
        ),
    ),
    "free-plan": FieldList(
        kind="free-plan",
        heights_mm=(150.0, 900.0, 1800.0),
        heights_in=(6.0, 36.0, 72.0),
        readings=(
            *_levels("A0 B0 D0 F0", "floor, how it falls"),
            *_tapes("along the walls", "A1 B1", "B1 C1", "C1 D1", "D1 E1", "E1 F1", "F1 A1"),
            *_tapes("corner angles", "A1 C1", "A1 E1", "B1 D1", "D1 F1"),
            *_tapes("from high on the wall to the other corners", "A3 C1", "A3 D1", "A3 E1", "A3 F1"),
            *_tapes("leans of the walls", "B3 A1", "B3 F1", "C3 D1"),
            *_plumbs("leans of the other walls", "CD C1 C3", "DE D1 D3", "EF E1 E3"),
        ),
    ),
    "twin-alcoves": FieldList(
        kind="twin-alcoves",
        heights_mm=(150.0, 900.0, 1800.0),
        heights_in=(6.0, 36.0, 72.0),
        readings=(
            *_levels("BL0 FL0 FR0 BR0", "floor, how it falls"),
            *_tapes("left alcove", "BL1 CL1", "FL1 NL1", "BL1 FL1", "CL1 NL1", "BL1 NL1", "CL1 FL1"),
            *_tapes("across the breast", "NL1 NR1", "FL1 FR1", "FL1 NR1", "NL1 FR1"),
            *_tapes("right alcove", "CR1 BR1", "NR1 FR1", "BR1 FR1", "CR1 NR1", "BR1 NR1", "CR1 FR1"),
            *_plumbs("lean of the left alcove's sides", "left BL1 BL3", "left cheek NL1 NL3"),
            *_plumbs("lean of the right alcove's sides", "right cheek NR1 NR3", "right BR1 BR3"),
        ),
        in_doubt=("BL", "CL", "NL", "NR", "CR", "BR"),
        if_tall=_plumbs("lean of the back walls", "left back BL1 BL3", "right back BR1 BR3"),
    ),
}
