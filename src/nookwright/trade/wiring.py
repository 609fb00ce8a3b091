"""Holes for socket boxes, and how far boxes must come forward. Raises questions; never approves wiring."""

from __future__ import annotations

EXTENDER_MM = (3.0, 38.0)
"""What adjustable box extenders bridge, 1/8 to 1-1/2 in. Source: [fitting-guides]. Status: read."""

DEFER = "Wiring is under local code: have a licensed electrician decide and do it, with the power off and proven dead."

SET_BACK_RULE = (
    "A box in a wood or other combustible face must stand flush with it or proud of it; behind a noncombustible face "
    "it may lie back 6 mm (1/4 in)."
)

ACCESS_RULE = "Boxes must stay reachable without taking any part of the building down."


def plate_cover(*, plate_mm: float, hole_mm: float, sd_mm: float, sds: float = 2.0) -> float:
    """Return what a cover plate surely covers beyond its hole on each side, in one direction.

    Args:
        plate_mm: the cover plate. [mm]
        hole_mm: the hole cut for the box. [mm]
        sd_mm: how surely the hole's place is known. [mm]
        sds: standard deviations covered.

    Returns:
        The cover left on the worse side; below 0 the hole may show. [mm]

    Valid:
        Plate centred on the box, hole meant to be.

    Source:
        [trade-practice] hole 3 to 6 mm round the box, less than the plate's overlap. Status: common practice.

    Example:
        >>> plate_cover(plate_mm=86, hole_mm=74, sd_mm=1.5)
        3.0
    """
    return (plate_mm - hole_mm) / 2 - sds * sd_mm
