"""Cover of paint and varnish, and the film it leaves."""

from __future__ import annotations


def wet_film_um(cover_m2_per_litre: float) -> float:
    r"""Return the wet film that a spreading rate leaves.

    $f = 1000 / c$: a litre is a million cubic millimetres

    Args:
        cover_m2_per_litre: c. [m2/litre]

    Returns:
        Wet film thickness. [micrometres]

    Valid:
        No loss in the tool.

    Source:
        [coating-guides] the same identity in mils: 231000/(144 c). Status: read.

    Example:
        >>> wet_film_um(10)
        100.0
    """
    return 1000.0 / cover_m2_per_litre


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
