"""Survey: what was read in the room with tape, level, plumb line and bevel, as it was read.

Spots are named by a column and a level. Columns stand where walls meet or end, seen facing the back wall:
`BL` back left, `BR` back right, `FL` front left, `FR` front right. The level is `0` on the floor, `1`, `2`, `3`...
at the marked heights, `S` on the slope or stair soffit, `T` on the level ceiling. `BL0` is the room's origin.

Every reading may carry its own standard deviation, may be left out of the reckoning by the user (`use`), and keeps
the text it was typed as (`typed`): a slip is often seen in its figures.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Literal

from nookwright.basics.lengths import Units
from nookwright.basics.problems import NOWHERE, Where
from nookwright.stages.inputs.scan import Scan

RoomKind = str
"""A room's kind: one of those in `stages/survey/kind_table.py`."""

SurfaceName = str
"""A surface of the room, as its kind names it: `floor`, `back`, `left cheek`, `slope`..."""

Side = Literal["left", "right"]
TapeClass = Literal["I", "II", "III"]
Way = Literal["up", "down", "left", "right", "out", "back"]
"""A direction in the room, facing the back wall; `out` is away from the back wall."""
Covering = Literal["skirting", "studs"]
"""What a tape's ends touch in place of the walls: the face of the skirting, or the studs behind the board."""

Answer = Literal["none", "found", "unknown"]


@dataclass(frozen=True, slots=True, kw_only=True)
class TapeReading:
    """A tape pulled from a spot to another spot, or square to a surface. [mm]

    Args:
        start: the spot it begins at.
        end: the spot or surface it ends at.
        length_mm: what it reads. [mm]
        rough: whether it was only told by eye.
        over: what its ends touched in place of the walls they stand at; None for the walls.
    """

    start: str
    end: str
    length_mm: float
    rough: bool = False
    over: Covering | None = None
    sd_mm: float | None = None
    use: bool = True
    typed: str = field(default="", compare=False)
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelReading:
    """How far a spot lies above (+) or below (-) the level line. [mm]"""

    spot: str
    above_mm: float
    sd_mm: float | None = None
    use: bool = True
    typed: str = field(default="", compare=False)
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class PlumbReading:
    """How far the second spot of a wall stands further into the room than the first, by plumb line or level. [mm]"""

    wall: SurfaceName
    first: str
    second: str
    into_room_mm: float
    sd_mm: float | None = None
    use: bool = True
    typed: str = field(default="", compare=False)
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class BevelReading:
    """The angle between two walls, read inside the room at a marked height. [deg]"""

    walls: tuple[SurfaceName, SurfaceName]
    level: str
    angle_deg: float
    sd_deg: float | None = None
    use: bool = True
    typed: str = field(default="", compare=False)
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class PitchReading:
    """A slope's angle from level, along or square to the back wall; above 0 whichever way it rises. [deg]"""

    pitch_deg: float
    surface: SurfaceName = "slope"
    sd_deg: float | None = None
    use: bool = True
    typed: str = field(default="", compare=False)
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeReading:
    """The angle between two surfaces, read inside the room square to the edge they meet in. [deg]

    Args:
        surfaces: for example a wall and a slope, or two slopes; two walls have a `BevelReading`.
        angle_deg: the angle. [deg]
    """

    surfaces: tuple[SurfaceName, SurfaceName]
    angle_deg: float
    sd_deg: float | None = None
    use: bool = True
    typed: str = field(default="", compare=False)
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Line:
    """A straight line on a surface, where a straightedge lies.

    Args:
        surface: the surface.
        start: the spot it begins at, or beside.
        towards: another spot of that surface, or a way along it such as `up`.
        aside_mm: how far from the spot it begins. [mm]
        aside: which way from the spot that is.
        aside_typed: that distance as typed, with its unit.
    """

    surface: SurfaceName
    start: str
    towards: str
    aside_mm: float = 0.0
    aside: Way = "right"
    aside_typed: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class GapReading:
    """How far a surface stands back from a straightedge laid on it. [mm]

    Args:
        line: where the straightedge lies.
        set_up: which laying of it on that line; an edge lies each time as it pleases.
        at_mm: how far from the line's beginning the gap was read. [mm]
        gap_mm: the gap, square to the edge. [mm]
        at_typed: that distance as typed, with its unit.
    """

    line: Line
    at_mm: float
    gap_mm: float
    set_up: int = 1
    sd_mm: float | None = None
    use: bool = True
    typed: str = field(default="", compare=False)
    at_typed: str = field(default="", compare=False)
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class SpanReading:
    """A tape from one surface straight to the one it faces: the clear width, or plumb the clear height. [mm]

    Args:
        first, second: the two surfaces.
        start: the spot it is taken at the height of, or beside.
        length_mm: the distance. [mm]
        aside_mm: how far beside the spot. [mm]
        aside: which way from the spot that is.
        aside_typed: that distance as typed, with its unit.
        over: what both ends touched in place of the walls; None for the walls.
    """

    first: SurfaceName
    second: SurfaceName
    start: str
    length_mm: float
    aside_mm: float = 0.0
    aside: Way = "out"
    aside_typed: str = field(default="", compare=False)
    over: Covering | None = None
    sd_mm: float | None = None
    use: bool = True
    typed: str = field(default="", compare=False)
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class OffsetReading:
    """How far a spot of a wall is from a plumb line, or an upright laser plane, set up before that wall. [mm]

    Args:
        wall: the wall.
        spot: the spot.
        offset_mm: the distance, level and square to the wall. [mm]
        set_up: which setting-up of line or plane before that wall.
    """

    wall: SurfaceName
    spot: str
    offset_mm: float
    set_up: int = 1
    sd_mm: float | None = None
    use: bool = True
    typed: str = field(default="", compare=False)
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class ScaleReading:
    """How many millimetres a metre of a scan is in the room: 1000, it says by itself. [mm/m]"""

    scan: str
    sd_mm_per_m: float
    mm_per_m: float = 1000.0
    use: bool = True
    typed: str = field(default="", compare=False)
    where: Where = NOWHERE


Reading = (
    TapeReading
    | LevelReading
    | PlumbReading
    | BevelReading
    | PitchReading
    | EdgeReading
    | GapReading
    | SpanReading
    | OffsetReading
    | ScaleReading
)


@dataclass(frozen=True, slots=True, kw_only=True)
class StripPhoto:
    """A photo of the marker strip, its cards' ends on a surface.

    Args:
        name: the file's name, as the user typed it.
        line: the line of the surface that the strip lay beside; its numbers grow the way the line runs.
        zero_mm: how far along the line the strip's zero lay. [mm]
        one_piece: whether the strip was printed in one piece, not on sheets glued side by side.
        ruler: how long its ruler really is, as a share of what is printed.
        use: whether it counts.
        where: its place in the field book.
    """

    name: str
    line: Line
    zero_mm: float = 0.0
    one_piece: bool = False
    ruler: float = 1.0
    use: bool = True
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Tools:
    """The measuring tools' precision.

    Args:
        tape: accuracy class of the tape (MID Annex MI-008).
        reading_mm: how closely a tape is read, one standard deviation. [mm]
        level_mm_per_m: what the level line was shot with, laser or spirit level. [mm/m]
        plumb_mm_per_m: what was plumbed with; None for the same. [mm/m]
        bevel_deg: bevel or digital angle finder, one standard deviation. [deg]
        gap_mm: how closely the gap under a straightedge is read, the edge's own bend included, likewise. [mm]
        waviness_mm: how far plaster strays from a plane, one standard deviation, as far as anyone knows. [mm]
        waviness_fixed: whether that is certain; else the readings may say otherwise.
    """

    tape: TapeClass = "II"
    reading_mm: float = 0.7
    level_mm_per_m: float = 0.5
    plumb_mm_per_m: float | None = None
    bevel_deg: float = 0.2
    gap_mm: float = 0.5
    waviness_mm: float = 2.0
    waviness_fixed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Outlet:
    """A socket or switch box on a wall.

    Args:
        name: what the user calls it.
        wall: the wall it sits on.
        side: the end of that wall it was measured from, seen facing the wall.
        from_side_mm: box centre from that end. [mm]
        above_floor_mm: box centre above the floor right below it. [mm]
        from_side_sd_mm, above_floor_sd_mm: how closely people read those, one standard deviation. [mm]
        from_other_side_mm: box centre from the wall's other end, when that was measured too. [mm]
        mark: the marked level it was measured from too, 1 for the lowest; None when it was not.
        above_mark_mm: box centre above (+) or below (-) that mark. [mm]
        box_width_mm, box_height_mm: the box in the wall. [mm]
        plate_width_mm, plate_height_mm: the cover plate. [mm]
    """

    name: str
    wall: SurfaceName
    side: Side
    from_side_mm: float
    above_floor_mm: float
    box_width_mm: float
    box_height_mm: float
    plate_width_mm: float
    plate_height_mm: float
    from_side_sd_mm: float = 1.5
    above_floor_sd_mm: float = 1.5
    from_other_side_mm: float | None = None
    mark: int | None = None
    above_mark_mm: float = 0.0
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class StudReading:
    """An edge or the centre of a stud, found through the board, along the back wall from `BL0`. [mm]

    Args:
        stud: which stud, 1 for the first from the left.
        part: what of it was found.
        from_left_mm: how far from `BL0`. [mm]
    """

    stud: int
    part: Literal["left edge", "right edge", "centre"]
    from_left_mm: float
    sd_mm: float | None = None
    use: bool = True
    typed: str = field(default="", compare=False)
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class WallBuild:
    """What the back wall is made of.

    Args:
        kind: studs, masonry, or unknown.
        board_mm: plasterboard or plaster over the studs. [mm]
        board_sd_mm: how sure that is, one standard deviation; None when nobody said. [mm]
        stud_width_mm: a stud's width as seen from the room. [mm]
        stud_centres_mm: stud centres along the back wall from the back left corner `BL0`. [mm]
        stud_readings: edges and centres found, which the centres are worked out from.
        stud_spacing_mm: the spacing they are believed to have; None when nothing is believed. [mm]
        outside: whether the wall is an external one.
    """

    kind: Literal["studs", "masonry", "unknown"] = "unknown"
    board_mm: float = 12.5
    board_sd_mm: float | None = None
    stud_width_mm: float = 38.0
    stud_centres_mm: tuple[float, ...] = ()
    stud_readings: tuple[StudReading, ...] = ()
    stud_spacing_mm: float | None = None
    outside: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Skirting:
    """The skirting (baseboard) found in the room; it is taken off behind the furniture and returned along its base.

    Args:
        height_mm: from the floor to its top. [mm]
        thickness_mm: from the wall to its face. [mm]
        thickness_sd_mm: how sure that is, one standard deviation. [mm]
    """

    height_mm: float
    thickness_mm: float
    thickness_sd_mm: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteQuestion:
    """A question only someone on site can answer: none, found (with a note and figures), or unknown.

    Args:
        key: the question.
        answer: none, found or unknown.
        note: what was found.
        figures: each by its name, such as `distance`: lengths in mm, warmth in C, humidity in %.
    """

    key: str
    answer: Answer
    note: str = ""
    figures: tuple[tuple[str, float], ...] = ()

    def figure(self, name: str) -> float | None:
        """Return a figure by its name; None when it was not told."""
        return next((value for told, value in self.figures if told == name), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanCorner:
    """A corner of a room of any plan: one letter, and its rough angle inside the room. [deg]"""

    name: str
    angle_deg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Survey:
    """The field book: everything read in the room.

    Args:
        kind: the room's kind; names its surfaces and spots (see `stages/survey/kinds.py`).
        corner: which side the slope's wall or the stair's low end is on, seen facing the back wall.
        plan: of a room of any plan its corners in order, left to right for someone inside who faces the walls; empty
            for other kinds.
        heights_mm: heights above the floor at the origin of the marked levels 1, 2, 3... [mm]
        readings: every reading, in the order typed.
        tools: precision of the tools used.
        wall: what the back wall is made of.
        skirting: the skirting found; None when there is none.
        outlets: sockets and switches.
        questions: answers to the site questions.
        scans: point clouds of the room.
        photos: photos of the marker strip; what they show is among the readings once they have been read.
        units: units the readings were typed in.
        place: where in it the furniture stands: the room is then laid out along that place's wall; empty for its own
            back wall.
    """

    kind: RoomKind
    corner: Side
    heights_mm: tuple[float, ...]
    readings: tuple[Reading, ...]
    tools: Tools = Tools()
    wall: WallBuild = WallBuild()
    skirting: Skirting | None = None
    outlets: tuple[Outlet, ...] = ()
    questions: tuple[SiteQuestion, ...] = ()
    plan: tuple[PlanCorner, ...] = ()
    scans: tuple[Scan, ...] = ()
    photos: tuple[StripPhoto, ...] = ()
    units: Units = "mm"
    place: str = ""

    @property
    def counted(self) -> Survey:
        """The same field book without the readings and scans that the user left out."""
        return replace(
            self,
            readings=tuple(reading for reading in self.readings if reading.use),
            scans=tuple(scan for scan in self.scans if scan.use),
        )
