"""A surface of the room as a height field: its plane, the waviness seen at its spots, and what is between them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.stages.inputs.survey import SurfaceName, Tools
from nookwright.stages.room.beliefs import waviness
from nookwright.stages.room.strays import own_variances, places_of, strays_of
from nookwright.stages.survey.tools import GRAIN_SD_MM
from nookwright.stages.survey.unknowns import Unknowns


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class HeightField:
    """A surface w = d + a p + b q with waviness, conditioned on the places touched on it (kriging).

    Args:
        surface: which one.
        axes: coordinates (w, p, q) it uses: 0 = x, 1 = y, 2 = z.
        plane_at: place of d in the state; a and b follow.
        plane: d, a, b.
        points: the places touched on it: spots, stations, pieces of scans. [mm]
        pull: what each place's stray contributes: inverse of their covariance times the strays.
        pull_rows: its derivatives by the state.
        hold: inverse of the places' covariance.
        tools: how wavy plaster is.
        count: number of unknowns.
        about: the same surface as it is where spreads are told, see `reconcile`; None where that is this one.
    """

    surface: SurfaceName
    axes: tuple[int, int, int]
    plane_at: int
    plane: Vector
    points: Matrix
    pull: Vector
    pull_rows: Matrix
    hold: Matrix
    tools: Tools
    count: int
    about: HeightField | None = None

    @property
    def norm(self) -> float:
        """Length along the surface's axis of one millimetre square to it."""
        return float(np.sqrt(1 + self.plane[1] ** 2 + self.plane[2] ** 2))

    def values(self, p_mm: NDArray[np.float64], q_mm: NDArray[np.float64]) -> Vector:
        """Return the surface at places given by its two other coordinates. [mm]"""
        near = self._near(p_mm, q_mm)
        found: Vector = self._flat(p_mm, q_mm) + self.norm * (near @ self.pull)
        return found

    def rows(self, p_mm: NDArray[np.float64], q_mm: NDArray[np.float64]) -> Matrix:
        """Return the derivatives of those values by the state."""
        if self.about is not None:
            return self.about.rows(p_mm, q_mm)
        rows: Matrix = self.norm * (self._near(p_mm, q_mm) @ self.pull_rows)
        rows[:, self.plane_at] += 1.0
        rows[:, self.plane_at + 1] += p_mm
        rows[:, self.plane_at + 2] += q_mm
        return rows

    def own_variance(self, p_mm: NDArray[np.float64], q_mm: NDArray[np.float64]) -> Vector:
        """Return the variance of those values that exact spots would still leave: waviness between them. [mm2]"""
        if self.about is not None:
            return self.about.own_variance(p_mm, q_mm)
        near = self._near(p_mm, q_mm)
        seen = np.einsum("ij,ij->i", near @ self.hold, near)
        left: Vector = self.norm**2 * (np.maximum(self.tools.waviness_mm**2 - seen, 0.0) + GRAIN_SD_MM**2)
        return left

    def own_covariance(self, p_mm: NDArray[np.float64], q_mm: NDArray[np.float64]) -> Matrix:
        """Return the covariance between those values that exact spots would still leave. [mm2]"""
        if self.about is not None:
            return self.about.own_covariance(p_mm, q_mm)
        near = self._near(p_mm, q_mm)
        places = self._places(p_mm, q_mm)
        left: Matrix = waviness(places, None, self.tools) - near @ self.hold @ near.T
        left[np.diag_indices(len(left))] += GRAIN_SD_MM**2
        return self.norm**2 * left

    def sums(
        self, factors: Matrix, p_mm: NDArray[np.float64], q_mm: NDArray[np.float64]
    ) -> tuple[Vector, Matrix, Matrix]:
        """Return sums of the values at places: themselves, their derivatives by the state, and their own covariance.

        Args:
            factors: what each place (column) counts with in each sum (row).
            p_mm, q_mm: the places. [mm]
        """
        places = self._places(p_mm, q_mm)
        near = factors @ waviness(places, self.points, self.tools)
        values = factors @ self._flat(p_mm, q_mm) + self.norm * (near @ self.pull)
        if self.about is not None:
            return values, *self.about.sums(factors, p_mm, q_mm)[1:]
        rows = self.norm * (near @ self.pull_rows)
        rows[:, self.plane_at : self.plane_at + 3] += factors @ np.column_stack([np.ones(len(p_mm)), p_mm, q_mm])
        left = factors @ waviness(places, None, self.tools) @ factors.T - near @ self.hold @ near.T
        return values, rows, self.norm**2 * (left + GRAIN_SD_MM**2 * (factors @ factors.T))

    def _flat(self, p_mm: NDArray[np.float64], q_mm: NDArray[np.float64]) -> Vector:
        found: Vector = self.plane[0] + self.plane[1] * p_mm + self.plane[2] * q_mm
        return found

    def _places(self, p_mm: NDArray[np.float64], q_mm: NDArray[np.float64]) -> Matrix:
        places = np.empty((len(p_mm), 3))
        places[:, self.axes[0]] = self._flat(p_mm, q_mm)
        places[:, self.axes[1]], places[:, self.axes[2]] = p_mm, q_mm
        return places

    def _near(self, p_mm: NDArray[np.float64], q_mm: NDArray[np.float64]) -> Matrix:
        return waviness(self._places(p_mm, q_mm), self.points, self.tools)


def height_field(surface: SurfaceName, unknowns: Unknowns, state: Vector, tools: Tools) -> HeightField:
    """Return a surface of the adjusted room as a height field."""
    plane_at = unknowns.surface(surface)
    points = places_of(state, surface, unknowns)
    covariance = waviness(points, None, tools)
    covariance[np.diag_indices(len(points))] += own_variances(surface, unknowns)
    hold: Matrix = np.asarray(np.linalg.inv(covariance), dtype=np.float64)
    strays, rows = strays_of(state, surface, unknowns)
    return HeightField(
        surface=surface,
        axes=unknowns.shape.axes(surface),
        plane_at=plane_at,
        plane=state[plane_at : plane_at + 3].copy(),
        points=points,
        pull=hold @ strays,
        pull_rows=hold @ rows,
        hold=hold,
        tools=tools,
        count=unknowns.count,
    )
