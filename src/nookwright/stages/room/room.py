"""The Room: walls, corners and surfaces with their uncertainty, as the readings leave them.

Every surface is a plane plus waviness, written as a height field along its own axis:

    surface          value   over
    back             y       x, z
    left, right      x       y, z
    floor, slope,    z       x, y
    ceiling
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal

import numpy as np

from nookwright.basics.measured import Measured
from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.stages.inputs.survey import SurfaceName, Survey
from nookwright.stages.room.behind_wall import OutletFix, StudFix
from nookwright.stages.room.height_field import HeightField
from nookwright.stages.survey.shape import Pair, Place
from nookwright.stages.survey.unknowns import Unknowns

Range = tuple[float, float]

GRID_MM = 150.0
"""Widest spacing at which a surface is sampled for its extreme. [mm] Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Effect:
    """What a suspect reading does to a thing the room is judged by; every other suspect is left out.

    Args:
        name: the thing, as in `Derived`.
        unit: its unit.
        with_it, without_it: its value with the reading in, and with it left out.
    """

    name: str
    unit: Literal["mm", "deg", "mm/m"]
    with_it: Measured
    without_it: Measured


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """What is known of a reading that is probably a slip.

    Args:
        error: what was read less what the others say, with its spread.
        likely: what kind of slip that looks like, the likeliest first; empty when it looks like none known.
        or_else: other readings that, wrong in its place, would explain the rest nearly as well.
        effects: what it does to what the room is judged by, the most affected first.
    """

    error: Measured
    likely: tuple[str, ...]
    or_else: tuple[str, ...]
    effects: tuple[Effect, ...]

    def says(self, read: float) -> Measured:
        """Return what the other readings say in place of what was read."""
        return Measured(value=read - self.error.value, sd=self.error.sd)


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingFit:
    """One reading beside what the adjusted room says of it.

    Args:
        text: the reading as a person would say it, for example `tape BL1 - BR1`.
        unit: `mm`, `deg` or, of a scan's scale, `mm/m`.
        read, adjusted: what was read, and what the adjusted room gives.
        sd: the reading's own standard deviation, in `unit`.
        redundancy: share of an error that would show in the residual, 0 to 1.
        w: residual over its own standard deviation.
        suspect: whether it is probably a slip; then `slip` says more.
        findable: smallest error of it that would be found, in `unit`; None when nothing checks it.
        slip: what is known of the slip; None when it is none.
    """

    text: str
    unit: Literal["mm", "deg", "mm/m"]
    read: float
    adjusted: float
    sd: float
    redundancy: float
    w: float
    suspect: bool
    findable: float | None = None
    slip: Slip | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """A reading that the user left out, beside what the room says of it.

    Args:
        text: the reading as a person would say it.
        unit: `mm`, `deg` or, of a scan's scale, `mm/m`.
        read: what was read.
        says: what the room says, with the spread to compare the reading with; None when it says nothing of it.
    """

    text: str
    unit: Literal["mm", "deg", "mm/m"]
    read: float
    says: Measured | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Derived:
    """A thing the room is judged by: a corner angle, a lean, a fall, a width.

    Args:
        name: in the trade's words, for example `back left corner at level 2`.
        unit: `mm`, `deg` or `mm/m`.
        measured: its value and standard deviation.
        fixed: False when the readings do not determine it; then `advice` says what to measure.
        advice: the reading that would fix it.
    """

    name: str
    unit: Literal["mm", "deg", "mm/m"]
    measured: Measured
    fixed: bool
    advice: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SpotFix:
    """An adjusted spot in the room frame, with standard deviations. [mm]"""

    name: str
    xyz: tuple[float, float, float]
    sd: tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class GlobalTest:
    """Whether the readings as a whole agree as well as their tools promise (chi-square test at 5 %).

    Args:
        statistic: weighted sum of squared residuals.
        limit: what it exceeds once in twenty times when all is well.
        dof: degrees of freedom.
        passed: whether it stays below the limit.
    """

    statistic: float
    limit: float
    dof: int
    passed: bool


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Room:
    """The room's true shape, as the readings leave it.

    Positions are asked for in the room frame (see `geometry/frame.py`); every answer carries the readings' errors
    and the waviness of the surface between the spots that were measured.

    Args:
        survey: the field book it came from.
        surfaces: the surfaces it has.
        spots: every spot that was named in a reading, and the origin.
        fits: every reading beside what the room says of it, in the order typed.
        derived: what the room is judged by: corner angles, leans, falls, widths, pitch.
        global_test: whether the readings agree with each other.
        waviness_mm: how wavy the surfaces are, as the readings show, suspects left out. [mm]
        left_out: readings the user left out.
        doubts: what may be its own mirror image, in a sentence each.
        studs: the studs of the back wall; `survey.wall` holds the same centres.
        outlets: outlets measured from two references; `survey.outlets` are where both agree.
        unknowns: where each unknown stands in the state.
        state: the adjusted unknowns.
        fields: the surfaces as height fields, for the methods below.
        covariance: of the adjusted unknowns, for the methods below.
        place: where in it the furniture stands, once that is settled; then the surfaces are called what they are to it.
    """

    survey: Survey
    surfaces: tuple[SurfaceName, ...]
    spots: tuple[SpotFix, ...]
    fits: tuple[ReadingFit, ...]
    derived: tuple[Derived, ...]
    global_test: GlobalTest
    waviness_mm: float
    left_out: tuple[LeftOut, ...]
    doubts: tuple[str, ...] = ()
    unknowns: Unknowns = field(repr=False)
    state: Vector = field(repr=False)
    fields: dict[SurfaceName, HeightField] = field(repr=False)
    covariance: Matrix = field(repr=False)
    studs: tuple[StudFix, ...] = ()
    outlets: tuple[OutletFix, ...] = ()
    place: Place | None = None

    @property
    def ends(self) -> Pair:
        """The columns at the left and right end of the back wall."""
        return self.place.ends if self.place else self.unknowns.shape.frame

    @property
    def fronts(self) -> tuple[str, ...]:
        """The columns at the front ends of the side walls."""
        return self.place.fronts if self.place else self.unknowns.shape.outline

    @property
    def origin(self) -> str:
        """Name of the spot from which sizes along the back wall count."""
        return self.unknowns.shape.origin

    @property
    def datum(self) -> str:
        """Name of the spot from which heights count."""
        return self.unknowns.datum

    @property
    def closed(self) -> bool:
        """Whether its walls go all round."""
        return self.unknowns.shape.closed

    @property
    def beside(self) -> tuple[SpotFix, ...]:
        """The spots at the ends of the back wall and of its side walls."""
        columns = {*self.ends, *self.fronts}
        return tuple(spot for spot in self.spots if self.column(spot.name) in columns)

    def front_of(self, side: SurfaceName) -> str:
        """Return the column at the front end of a side wall; empty where the room has none on that side."""
        if not self.fronts or (self.place and side not in self.surfaces):
            return ""
        return self.fronts[0] if side == "left" else self.fronts[-1]

    def is_nose(self, column: str) -> bool:
        """Return whether walls turn away from the room there, as at the nose of a chimney breast."""
        shape = self.unknowns.shape
        return any(corner.column == column and shape.nominal_deg(corner) > 180.0 for corner in shape.corners)

    def column(self, spot: str) -> str:
        """Return the column a spot stands on."""
        return self.unknowns.shape.taken_apart(spot)[0]

    def stations(self, surface: SurfaceName) -> Matrix:
        """Return the places of a surface, one a row, that a straightedge, a strip, a span or a scan touched. [mm]"""
        shape = self.fields[surface]
        return shape.points[len(self.unknowns.spots_on(shape.surface)) :]

    def told(self, surface: SurfaceName) -> str:
        """Return a surface as a person says it, for example `left cheek`."""
        return self.unknowns.shape.told(self.fields[surface].surface)

    def into_room(self, surface: SurfaceName) -> int:
        """Return which way along its own axis the room lies, seen from the surface: 1 or -1."""
        return self.unknowns.shape.into_room(self.fields[surface].surface)

    @property
    def dof(self) -> int:
        """Degrees of freedom of the adjustment."""
        return self.global_test.dof

    def has(self, surface: SurfaceName) -> bool:
        """Return whether the room has this surface."""
        return surface in self.surfaces

    def spot(self, name: str) -> SpotFix | None:
        """Return the adjusted spot of this name, or None when no reading mentioned it."""
        return next((spot for spot in self.spots if spot.name == name), None)

    def at(self, surface: SurfaceName, p_mm: float, q_mm: float) -> Measured:
        """Return where a surface is.

        Args:
            surface: a surface the room has.
            p_mm, q_mm: the two other coordinates, in the order of the table above. [mm]

        Returns:
            The coordinate along the surface's own axis. [mm]
        """
        return self.profile(surface, ((p_mm, q_mm),))[0]

    def between(self, low: SurfaceName, high: SurfaceName, p_mm: float, q_mm: float) -> Measured:
        """Return the distance from one surface to another along the axis they share.

        Args:
            low, high: for example `left` and `right`, `floor` and `slope`.
            p_mm, q_mm: the two other coordinates. [mm]

        Returns:
            High less low. [mm]
        """
        self._expect_shared_axis(low, high)
        p, q = np.array([p_mm]), np.array([q_mm])
        value = float((self.fields[high].values(p, q) - self.fields[low].values(p, q))[0])
        return Measured(value=value, sd=float(self._gap_sds(low, high, p, q)[0]))

    def governing(
        self, surface: SurfaceName, p_range: Range, q_range: Range, want: Literal["least", "greatest"]
    ) -> Measured:
        """Return a surface's extreme over a rectangle, sampled at no more than 150 mm.

        Args:
            surface: a surface the room has.
            p_range, q_range: the rectangle in its two other coordinates. [mm]
            want: which extreme.

        Returns:
            The extreme with the standard deviation at its place. [mm]
        """
        p, q = _grid(p_range, q_range)
        values = self.fields[surface].values(p, q)
        place = int(np.argmin(values) if want == "least" else np.argmax(values))
        return self.at(surface, float(p[place]), float(q[place]))

    def profile(self, surface: SurfaceName, line: Sequence[tuple[float, float]]) -> tuple[Measured, ...]:
        """Return where a surface is at each place of a line.

        Args:
            surface: a surface the room has.
            line: places in its two other coordinates. [mm]

        Returns:
            The coordinate along the surface's own axis at each. [mm]
        """
        p, q = (np.array(column, dtype=np.float64) for column in zip(*line, strict=True))
        shape = self.fields[surface]
        rows = shape.rows(p, q)
        variances = np.einsum("ij,jk,ik->i", rows, self.covariance, rows) + shape.own_variance(p, q)
        sds = np.sqrt(variances)
        return tuple(Measured(value=float(v), sd=float(sd)) for v, sd in zip(shape.values(p, q), sds, strict=True))

    def _gap_sds(self, low: SurfaceName, high: SurfaceName, p: Vector, q: Vector) -> Vector:
        rows = self.fields[high].rows(p, q) - self.fields[low].rows(p, q)
        own = self.fields[high].own_variance(p, q) + self.fields[low].own_variance(p, q)
        sds: Vector = np.sqrt(np.einsum("ij,jk,ik->i", rows, self.covariance, rows) + own)
        return sds

    def _expect_shared_axis(self, low: SurfaceName, high: SurfaceName) -> None:
        if self.fields[low].axes != self.fields[high].axes:
            message = f"the {low} and the {high} face different ways: there is no one distance between them"
            raise ValueError(message)


def _grid(p_range: Range, q_range: Range) -> tuple[Vector, Vector]:
    """Return the places of a grid over a rectangle, edges included."""
    lines = [
        np.linspace(low, high, 1 + max(1, math.ceil(abs(high - low) / GRID_MM)) if high != low else 1)
        for low, high in (p_range, q_range)
    ]
    p, q = np.meshgrid(*lines, indexing="ij")
    return p.ravel(), q.ravel()
