"""How much to leave on for scribing, and what closes the gap that is left."""

from __future__ import annotations

SCRIBE_SDS = 2.0
"""Standard deviations of fit that an allowance covers. Source: [trade-practice]. Status: common practice."""

SCRIBE_EXTRA_MM = 3.0
"""Material beyond that, so that the line can be sawn and planed. Source: [trade-practice]. Status: common practice."""

WIDEST_SCRIBE_MM = 38.0
"""Widest scribe drawn, 1-1/2 in. Source: [aws-2009]. Status: read."""

CAULK_MM = 6.4
"""Widest gap that caulk alone closes, 1/4 in; from half of that it may show. Source: [fitting-guides]. Status:
read."""

BACKED_MM = 12.7
"""Widest gap that caulk closes over a backing rod, 1/2 in; a strip covers wider ones. Source: [fitting-guides]. Status:
read."""


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
