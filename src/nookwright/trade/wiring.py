"""Holes for socket boxes, and how far boxes must come forward. Raises questions; never approves wiring."""

from __future__ import annotations

from dataclasses import dataclass

GREATEST_CLEARANCE_MM = 6.0
"""A hole is at most this larger on each side. Source: [trade-practice]. Status: common practice."""

PLATE_REST_MM = 2.0
"""What the plate must still cover on each side. Source: [trade-practice]. Status: common practice."""

EXTENDER_MM = (3.0, 38.0)
"""What adjustable box extenders bridge, 1/8 to 1-1/2 in. Source: [fitting-guides]. Status: read."""

DEFER = "Wiring is under local code: have a licensed electrician decide and do it, with the power off and proven dead."

SET_BACK_RULE = (
    "A box in a wood or other combustible face must stand flush with it or proud of it; behind a noncombustible face "
    "it may lie back 6 mm (1/4 in)."
)

ACCESS_RULE = "Boxes must stay reachable without taking any part of the building down."


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleClearance:
    """The play round a socket box. [mm]

    Args:
        clearance_mm: hole larger than the box by this on each side.
        cover_left_mm: what the plate still covers at its worst side, with the hole's place as uncertain as given.
    """

    clearance_mm: float
    cover_left_mm: float


def hole_clearance(*, box_mm: float, plate_mm: float, sd_mm: float = 0.0, sds: float = 2.0) -> HoleClearance:
    """Return the play to cut round a box, in one direction.

    Args:
        box_mm: the box in the wall, in this direction. [mm]
        plate_mm: the cover plate. [mm]
        sd_mm: how surely the hole's place is known. [mm]
        sds: standard deviations covered.

    Returns:
        Play on each side, as much as the plate allows, 6 mm at most; and what the plate still covers.

    Valid:
        Plate centred on the box. `cover_left_mm` below 0 means that the hole may show.

    Source:
        [trade-practice] box plus 3 to 6 mm, less than the plate's overlap. Status: common practice.

    Example:
        >>> hole_clearance(box_mm=68, plate_mm=84).clearance_mm
        6.0
    """
    overlap = (plate_mm - box_mm) / 2
    clearance = max(0.0, min(GREATEST_CLEARANCE_MM, overlap - PLATE_REST_MM))
    return HoleClearance(clearance_mm=clearance, cover_left_mm=overlap - clearance - sds * sd_mm)
