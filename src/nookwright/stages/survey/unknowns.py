"""The unknowns of a room and their places in the state: spots, surfaces, and the tools' own errors."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nookwright.stages.inputs.survey import SurfaceName, Survey, TapeReading
from nookwright.stages.survey.kinds import shape_of
from nookwright.stages.survey.spots import Spot, spot_called, spots_used, surfaces_present


@dataclass(frozen=True, slots=True, kw_only=True)
class Unknowns:
    """Where each unknown stands in the state.

    First x, y, z of every spot [mm], then offset [mm] and two tilts of every surface: w = d + a p + b q with the
    axes of `kinds.AXES`; then the level line's tilt along x and y [mm/m], its height [mm], and the tape's zero
    error [mm].

    Args:
        spots: the named spots and, after them, the feet of tapes held square to a surface.
        named: how many of the spots have names of the user's.
        surfaces: the surfaces.
    """

    spots: tuple[Spot, ...]
    named: int
    surfaces: tuple[SurfaceName, ...]

    @property
    def count(self) -> int:
        """Number of unknowns."""
        return 3 * len(self.spots) + 3 * len(self.surfaces) + 4

    def spot(self, name: str) -> int:
        """Return the place of a spot's x; y and z follow."""
        return 3 * next(i for i, spot in enumerate(self.spots) if spot.name == name)

    def surface(self, name: SurfaceName) -> int:
        """Return the place of a surface's offset; its two tilts follow."""
        return 3 * (len(self.spots) + self.surfaces.index(name))

    @property
    def line_tilt(self) -> int:
        """Place of the level line's tilt along x; along y follows."""
        return self.count - 4

    @property
    def line_height(self) -> int:
        """Place of the level line's height above the origin."""
        return self.count - 2

    @property
    def tape_zero(self) -> int:
        """Place of the tape's zero error."""
        return self.count - 1

    def spots_on(self, surface: SurfaceName) -> NDArray[np.intp]:
        """Return the places of the x of every spot on a surface."""
        return np.array([3 * i for i, spot in enumerate(self.spots) if surface in spot.surfaces], dtype=np.intp)


def foot_name(reading: TapeReading) -> str:
    """Return the name of the place where a tape held square to a surface touches it."""
    return f"{reading.start} to {reading.end}"


def end_name(reading: TapeReading, survey: Survey) -> str:
    """Return the spot a tape ends at: the named one, or its foot on a surface."""
    return foot_name(reading) if shape_of(survey.kind, survey.corner).may_have(reading.end) else reading.end


def unknowns_of(survey: Survey) -> Unknowns:
    """Return the unknowns of a surveyed room; the order of its readings does not matter."""
    shape = shape_of(survey.kind, survey.corner)
    spots = spots_used(survey)
    surfaces = surfaces_present(survey)
    feet: dict[str, Spot] = {}
    for reading in survey.readings:
        if isinstance(reading, TapeReading) and shape.may_have(reading.end):
            start = spot_called(reading.start, shape)
            touched = next(surface for surface in surfaces if surface == reading.end)
            feet[foot_name(reading)] = Spot(
                name=foot_name(reading), column=start.column, level="foot", surfaces=(touched,)
            )
    return Unknowns(spots=spots + tuple(feet[name] for name in sorted(feet)), named=len(spots), surfaces=surfaces)
