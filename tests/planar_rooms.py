"""Rooms of exact planes for tests of what stands in them: each surface is value = d + a p + b q, with one spread."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal

import numpy as np

from nookwright.basics.measured import Measured
from nookwright.geometry.plane import spaced
from nookwright.stages.inputs.shop import BoardLength, BoardStock, SheetStock, Shop
from nookwright.stages.inputs.survey import SurfaceName, Survey, WallBuild
from nookwright.stages.room.room import SpotFix

Plane = tuple[float, float, float]


@dataclass(frozen=True)
class PlaneField:
    """One plane, asked at many places at once."""

    plane: Plane

    def values(self, p_mm: np.ndarray, q_mm: np.ndarray) -> np.ndarray:
        """Return the plane at each place."""
        d, a, b = self.plane
        return d + a * p_mm + b * q_mm


@dataclass(frozen=True)
class PlanarRoom:
    """A room whose surfaces are known planes; answers as `Room` does."""

    planes: dict[SurfaceName, Plane]
    end_mm: float = 1800.0
    mouth_mm: float = -700.0
    sd_mm: float = 0.0
    waviness_mm: float = 2.0
    survey: Survey = field(
        default_factory=lambda: Survey(
            kind="alcove", corner="left", heights_mm=(), readings=(), wall=WallBuild(kind="studs", stud_centres_mm=(400.0, 800.0, 1200.0, 1600.0))
        )
    )  # fmt: skip

    @property
    def spots(self) -> tuple[SpotFix, ...]:
        """The three floor corners that set the run's ends and the mouth."""
        still = (0.0, 0.0, 0.0)
        return (
            SpotFix(name="BL0", xyz=still, sd=still),
            SpotFix(name="BR0", xyz=(self.end_mm, 0.0, 0.0), sd=still),
            SpotFix(name="FL0", xyz=(0.0, self.mouth_mm, 0.0), sd=still),
        )

    ends = ("BL", "BR")
    origin = "BL0"
    closed = False

    @property
    def beside(self) -> tuple[SpotFix, ...]:
        """All its spots."""
        return self.spots

    def column(self, spot: str) -> str:
        """The letters of a spot's name."""
        return spot[:2]

    def is_nose(self, column: str) -> bool:
        """None of its corners turns away."""
        return False

    def stations(self, surface: SurfaceName) -> np.ndarray:
        """No straightedge was laid."""
        return np.empty((0, 3))

    def told(self, surface: SurfaceName) -> str:
        """A surface in words."""
        return f"{surface} wall"

    @property
    def fields(self) -> dict[SurfaceName, PlaneField]:
        """Its surfaces."""
        return {surface: PlaneField(plane) for surface, plane in self.planes.items()}

    def has(self, surface: SurfaceName) -> bool:
        """Whether the room has this surface."""
        return surface in self.planes

    def at(self, surface: SurfaceName, p: float, q: float) -> Measured:
        """The surface's value at its two other coordinates."""
        d, a, b = self.planes[surface]
        return Measured(value=d + a * p + b * q, sd=self.sd_mm)

    def profile(self, surface: SurfaceName, line: Sequence[tuple[float, float]]) -> tuple[Measured, ...]:
        """The surface at each place of a line."""
        return tuple(self.at(surface, p, q) for p, q in line)

    def governing(
        self, surface: SurfaceName, p_range: tuple[float, float], q_range: tuple[float, float], want: str
    ) -> Measured:
        """The extreme over a rectangle; a plane's lies at a corner."""
        here = [self.at(surface, p, q) for p in spaced(*p_range, 150.0) for q in spaced(*q_range, 150.0)]
        return (max if want == "greatest" else min)(here, key=lambda each: each.value)


SQUARE_ALCOVE: dict[SurfaceName, Plane] = {
    "floor": (0.0, 0.0, 0.0),
    "back": (0.0, 0.0, 0.0),
    "left": (0.0, 0.0, 0.0),
    "right": (1800.0, 0.0, 0.0),
}


def mirrored(room: PlanarRoom) -> PlanarRoom:
    """The same room seen in a mirror: x becomes end - x."""
    end = room.end_mm
    flipped: dict[SurfaceName, Plane] = {}
    for name, (d, a, b) in room.planes.items():
        if name in {"left", "right"}:
            flipped["right" if name == "left" else "left"] = (end - d, -a, -b)
        else:
            flipped[name] = (d + a * end, -a, b)
    return PlanarRoom(planes=flipped, end_mm=end, mouth_mm=room.mouth_mm, sd_mm=room.sd_mm, survey=room.survey)


def a_shop(thickness_mm: float = 18.0) -> Shop:
    """A shop with one sheet for boards, one for backs, and boards for trim."""

    def sheet(key: str, thickness: float) -> SheetStock:
        return SheetStock(
            key=key, name=key, wood="birch-plywood", length_mm=2500, width_mm=1250, thickness_mm=thickness,
            grained=True, price=Decimal("80.00"),
        )  # fmt: skip

    def board(key: str, thickness: float, width: float) -> BoardStock:
        lengths = (
            BoardLength(length_mm=2400, price=Decimal("9.00")),
            BoardLength(length_mm=3600, price=Decimal("14.00")),
        )
        return BoardStock(key=key, name=key, wood="pine", thickness_mm=thickness, width_mm=width, lengths=lengths)

    return Shop(
        currency="EUR",
        sheets=(sheet("ply", thickness_mm), sheet("thin", 6.0)),
        boards=(board("strip", 20.0, 120.0), board("top", 27.0, 140.0)),
    )
