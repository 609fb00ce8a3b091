"""The page model: lines, words and fills at millimetre places on paper. No furniture."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from nookwright.geometry.frame import Point2

Pen = Literal["wide", "narrow"]
"""wide: what is built or cut; narrow: everything else."""

Dash = Literal["solid", "dashed", "chain"]
Ink = Literal["black", "grey"]
Fill = Literal["none", "white", "tint", "grey", "black", "hatch", "counter-hatch"]
Anchor = Literal["start", "middle", "end"]
Paper = Literal["A4", "Letter", "Roll"]

PEN_MM: dict[Pen, float] = {"wide": 0.5, "narrow": 0.25}
PAPER_MM: dict[Paper, tuple[float, float]] = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4), "Roll": (190.0, 1260.0)}
"""Width and height upright. A roll's piece is cut to length by the copy shop. [mm]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Area:
    """A rectangle of paper. [mm]

    Args:
        x, y: its upper left corner.
        width, height: its size.
    """

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """Right edge. [mm]"""
        return self.x + self.width

    @property
    def bottom(self) -> float:
        """Lower edge. [mm]"""
        return self.y + self.height

    def inset(self, *, left: float = 0.0, top: float = 0.0, right: float = 0.0, bottom: float = 0.0) -> Area:
        """Return the area with strips taken off its sides. [mm]"""
        return Area(x=self.x + left, y=self.y + top, width=self.width - left - right, height=self.height - top - bottom)


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A straight line. [mm]"""

    start: Point2
    end: Point2
    pen: Pen = "narrow"
    dash: Dash = "solid"
    ink: Ink = "black"


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """A run of straight lines, closed or open. [mm]

    Args:
        points: its corners.
        closed: whether the last corner joins the first.
        pen: width of its outline; None draws the fill alone.
        fill: how its inside is filled; `hatch` is narrow lines at 45 degrees, `counter-hatch` the other way.
    """

    points: tuple[Point2, ...]
    closed: bool = True
    pen: Pen | None = "narrow"
    dash: Dash = "solid"
    ink: Ink = "black"
    fill: Fill = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """A circle. [mm]"""

    centre: Point2
    radius: float
    pen: Pen = "narrow"
    ink: Ink = "black"
    fill: Fill = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """One line of words. [mm]

    Args:
        at: the anchor, on the line the letters stand on.
        text: the words, fractions already set as true fractions.
        height_mm: drawn height of a figure.
        anchor: which point of the words lies at `at`.
        angle_deg: turned counter-clockwise as one sees it; 90 reads from the right-hand side. [deg]
    """

    at: Point2
    text: str
    height_mm: float = 3.5
    anchor: Anchor = "start"
    angle_deg: float = 0.0
    bold: bool = False
    ink: Ink = "black"


Item = Line | Shape | Circle | Text
Items = tuple[Item, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One sheet of paper with everything on it.

    Args:
        name: the sheet's name, as in the contents.
        paper: sheet size.
        landscape: whether the long side lies level.
        items: what is drawn, from the back to the front.
    """

    name: str
    paper: Paper
    landscape: bool
    items: Items

    @property
    def width_mm(self) -> float:
        """Width as one reads it. [mm]"""
        return PAPER_MM[self.paper][1 if self.landscape else 0]

    @property
    def height_mm(self) -> float:
        """Height as one reads it. [mm]"""
        return PAPER_MM[self.paper][0 if self.landscape else 1]
