"""Views: model millimetres (x right, z up) onto paper at a scale, and walls as hatched bands."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from nookwright.drawings.page import Area, Dash, Fill, Ink, Items, Line, Pen, Shape
from nookwright.drawings.sheet import chosen_scale
from nookwright.geometry.frame import Point2


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """How model places come onto paper.

    Args:
        scale: 10 for 1:10.
        origin: where the model's (0, 0) lies on paper. [mm]
    """

    scale: int
    origin: Point2

    def at(self, point: Point2) -> Point2:
        """Return the place on paper of a model point. [mm]"""
        return (self.origin[0] + point[0] / self.scale, self.origin[1] - point[1] / self.scale)

    def all_at(self, points: Sequence[Point2]) -> tuple[Point2, ...]:
        """Return the places on paper of model points. [mm]"""
        return tuple(self.at(point) for point in points)

    def polygon(
        self,
        points: Sequence[Point2],
        *,
        pen: Pen | None = "wide",
        fill: Fill = "none",
        dash: Dash = "solid",
        ink: Ink = "black",
    ) -> Shape:
        """Return a closed outline."""
        return Shape(points=self.all_at(points), pen=pen, fill=fill, dash=dash, ink=ink)

    def line(
        self, start: Point2, end: Point2, *, pen: Pen = "narrow", dash: Dash = "solid", ink: Ink = "black"
    ) -> Line:
        """Return a straight line."""
        return Line(start=self.at(start), end=self.at(end), pen=pen, dash=dash, ink=ink)

    def wall(self, edge: Sequence[Point2], *, side: float, band_mm: float = 4.0) -> Items:
        """Return a room edge as measured: a wide line with a hatched band on the wall's side.

        Args:
            edge: model points along the edge, in order. [mm]
            side: +1 when the wall's body lies to the left of the way from first to last point, -1 to the right.
            band_mm: width of the band on paper. [mm]

        Returns:
            The band and the edge.
        """
        shown = self.all_at(edge)
        (x0, y0), (x1, y1) = shown[0], shown[-1]
        length = math.hypot(x1 - x0, y1 - y0)
        # On paper y runs down, so the left of the way (dx, dy) is (dy, -dx).
        nx, ny = side * (y1 - y0) / length * band_mm, -side * (x1 - x0) / length * band_mm
        band = (*shown, (x1 + nx, y1 + ny), (x0 + nx, y0 + ny))
        return (Shape(points=band, pen=None, fill="hatch"), Shape(points=shown, closed=False, pen="wide"))


def fitted(low: Point2, high: Point2, area: Area, *, scale: int | None = None) -> View:
    """Return the view that centres a model rectangle in an area, at the largest scale that fits.

    Args:
        low, high: lower left and upper right model corners. [mm]
        area: the paper it may take. [mm]
        scale: a scale to keep instead.

    Returns:
        The view.
    """
    wide, tall = high[0] - low[0], high[1] - low[1]
    chosen = scale or chosen_scale((wide, tall), (area.width, area.height))
    left = area.x + (area.width - wide / chosen) / 2
    bottom = area.bottom - (area.height - tall / chosen) / 2
    return View(scale=chosen, origin=(left - low[0] / chosen, bottom + low[1] / chosen))
