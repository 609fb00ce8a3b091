"""What is in and behind the back wall, as the readings leave it: studs, and outlets measured from two references."""

from __future__ import annotations

from dataclasses import dataclass

from nookwright.basics.measured import Measured
from nookwright.solvers.chance import normal_quantile

FALSE_ALARM = 0.001
"""Chance that a stud or an outlet measured well is told to be odd."""

ODD_SDS = normal_quantile(1 - FALSE_ALARM / 2)
"""So many standard deviations apart, two readings disagree."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StudFix:
    """A stud of the back wall.

    Args:
        number: from the left, beginning with 1.
        centre: how far along the back wall from `BL0`, with its spread. [mm]
        wide_mm: how far apart its two edges were found, where that is no stud's width; None where all agrees. [mm]
    """

    number: int
    centre: Measured
    wide_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OutletFix:
    """An outlet measured from two references.

    Args:
        name: the outlet's name.
        along: `from_side_mm` as both distances along the wall agree on it; None with one distance only. [mm]
        along_off: what the second distance gives less the first, with its spread; None likewise. [mm]
        above: `above_floor_mm` as floor and mark agree on it; None without a mark. [mm]
        above_off: what the mark gives less the floor, with its spread; None likewise. [mm]
    """

    name: str
    along: Measured | None
    along_off: Measured | None
    above: Measured | None
    above_off: Measured | None

    @property
    def disagrees(self) -> bool:
        """Whether two references contradict each other."""
        return any(off is not None and abs(off.value) > ODD_SDS * off.sd for off in (self.along_off, self.above_off))
