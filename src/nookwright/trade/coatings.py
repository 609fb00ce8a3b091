"""Cover of paint and varnish, and the film it leaves."""

from __future__ import annotations


def litres(*, area_m2: float, cover_m2_per_litre: float, waste_factor: float = 1.0) -> float:
    """Return what one coat takes.

    Args:
        area_m2: area coated. [m2]
        cover_m2_per_litre: by the tin. [m2/litre]
        waste_factor: 1.1 for a tenth lost in tools and trays.

    Returns:
        Quantity for one coat. [litre]

    Valid:
        Smooth sealed wood; raw MDF edges take about half as far.

    Source:
        [coating-guides]. Status: read.

    Example:
        >>> litres(area_m2=25, cover_m2_per_litre=10, waste_factor=1.1)
        2.75
    """
    return area_m2 / cover_m2_per_litre * waste_factor
