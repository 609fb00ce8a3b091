"""How much to leave on for scribing, and what closes the gap that is left."""

from __future__ import annotations

from typing import Literal

GapCover = Literal["caulk", "backing rod or slip of wood, then caulk", "strip or filler"]

SCRIBE_SDS = 2.0
"""Standard deviations of fit that an allowance covers. Source: [trade-practice]. Status: common practice."""

SCRIBE_EXTRA_MM = 3.0
"""Material beyond that, so that the line can be sawn and planed. Source: [trade-practice]. Status: common practice."""

WIDEST_SCRIBE_MM = 38.0
"""Widest scribe drawn, 1-1/2 in. Source: [aws-2009]. Status: read."""

LEAST_FILLER_MM = 25.0
"""Narrowest filler beside a wall. Source: [fitting-guides]. Status: read."""

_CAULK_MM = 6.4
_BACKED_MM = 12.7


def scribe_allowance(
    *,
    least_gap_mm: float,
    greatest_gap_mm: float,
    sd_mm: float,
    sds: float = SCRIBE_SDS,
    extra_mm: float = SCRIBE_EXTRA_MM,
) -> float:
    r"""Return the material to leave on an edge that will be scribed.

    $a = (g_{max} - g_{min}) + k s + e$

    Args:
        least_gap_mm: g_min, the least gap along the edge if it were cut straight. [mm]
        greatest_gap_mm: g_max, the greatest. [mm]
        sd_mm: s, standard deviation of those gaps. [mm]
        sds: k, how many standard deviations are covered.
        extra_mm: e, to saw and plane the line by. [mm]

    Returns:
        The allowance; never below `extra_mm`. [mm]

    Valid:
        The straight edge is first set to touch the wall at its least gap.

    Source:
        [trade-practice] rule of choice. Status: common practice.

    Example:
        >>> scribe_allowance(least_gap_mm=0, greatest_gap_mm=7, sd_mm=1.5)
        13.0
    """
    return (greatest_gap_mm - least_gap_mm) + sds * sd_mm + extra_mm


def gap_cover(gap_mm: float) -> GapCover:
    """Return what closes a gap that stays open after fitting.

    Args:
        gap_mm: the widest residual gap. [mm]

    Returns:
        `caulk` up to 6.4 mm; a backing up to 12.7 mm; a strip or filler above that.

    Valid:
        Painted work. Up to 3.2 mm caulk does not show; above it, it may.

    Source:
        [fitting-guides] painters' caulk 1/8 to 1/4 in, backing rod to 1/2 in, strip beyond. Status: read.

    Example:
        >>> gap_cover(9)
        'backing rod or slip of wood, then caulk'
    """
    if gap_mm <= _CAULK_MM:
        return "caulk"
    if gap_mm <= _BACKED_MM:
        return "backing rod or slip of wood, then caulk"
    return "strip or filler"


def filler_width(*, knob_mm: float, swing_clearance_mm: float = 6.0) -> float:
    """Return the filler that lets a door beside a wall open past its own knob.

    Args:
        knob_mm: how far the knob or pull stands out of the door's face. [mm]
        swing_clearance_mm: air left beyond the knob. [mm]

    Returns:
        Width of the filler, at least 25 mm. [mm]

    Valid:
        A hinge on the wall side and a door that opens to a right angle.

    Source:
        [fitting-guides] at least 1 in. Status: read. The clearance: [trade-practice], common practice.

    Example:
        >>> filler_width(knob_mm=32)
        38.0
    """
    return max(LEAST_FILLER_MM, knob_mm + swing_clearance_mm)
