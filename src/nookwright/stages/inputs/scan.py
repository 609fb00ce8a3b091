"""Scan: a point cloud of the room, registered by the named spots that were picked in it."""

from __future__ import annotations

from dataclasses import dataclass, field

from nookwright.basics.problems import NOWHERE, Where

Place = tuple[float, float, float]

UNITS_MM = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "inch": 25.4, "foot": 304.8}
"""Units that a scan's numbers may be in. [mm]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class ScanSpot:
    """A named spot as it was picked in a scan: its place in the scan's own coordinates. [mm]"""

    name: str
    xyz: Place
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Patch:
    """A piece of a surface as a scan shows it: the mean of many points. [mm]

    Args:
        surface: the surface it lies on.
        xyz: its middle, in the scan's own coordinates. [mm]
        sd_mm: how well it is known square to the surface, one standard deviation. [mm]
    """

    surface: str
    xyz: Place
    sd_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Scan:
    """A point cloud of the room.

    Args:
        name: the file's name, as the user typed it.
        mm_per_unit: size of the file's unit. [mm]
        spots: named spots picked in it, three or more.
        sd_mm: noise of one point, one standard deviation. [mm]
        pick_mm: how closely a spot can be picked in it, likewise. [mm]
        level_mm_per_m: how plumb its upright axis is, likewise. [mm/m]
        farthest_mm: points farther than this from the scan's own zero are not used; None for no limit. [mm]
        patches: pieces of the room's surfaces; empty until the file has been read.
        turn: rows of the turn that laid it on the room as first guessed; empty until then.
        place: where the middle of its spots then came to lie. [mm]
        use: whether it counts.
        where: its place in the field book.
    """

    name: str
    spots: tuple[ScanSpot, ...]
    mm_per_unit: float = 1000.0
    sd_mm: float = 3.0
    pick_mm: float = 5.0
    level_mm_per_m: float = 5.0
    farthest_mm: float | None = None
    patches: tuple[Patch, ...] = field(default=(), repr=False)
    turn: tuple[Place, ...] = field(default=(), repr=False)
    place: Place = field(default=(0.0, 0.0, 0.0), repr=False)
    use: bool = True
    where: Where = NOWHERE
