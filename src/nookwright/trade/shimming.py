"""Packers under a base: what kind a height asks for, and how far apart they stand."""

from __future__ import annotations

from typing import Literal

PackerKind = Literal["thin piece", "tapered pair", "solid piece and tapered pair"]

GREATEST_TAPER_MM = 12.7
"""Greatest height made with tapered shims alone, 1/2 in. Source: [aws-2009] toe base shimming. Status: read."""

_THIN_MM = 3.0


def packer_kind(height_mm: float) -> PackerKind:
    """Return what fills the height between floor and base.

    Args:
        height_mm: floor to underside of the base. [mm]

    Returns:
        The kind of packer.

    Valid:
        Wood packers under a wood base, fixed through the packer.

    Source:
        [aws-2009] shims to level a toe base at most 1/2 in. Status: read.

    Example:
        >>> packer_kind(18)
        'solid piece and tapered pair'
    """
    if height_mm <= _THIN_MM:
        return "thin piece"
    return "tapered pair" if height_mm <= GREATEST_TAPER_MM else "solid piece and tapered pair"


def solid_packer(height_mm: float, *, taper_mm: float = 6.0) -> float:
    """Return the thickness to rip a solid packer to, so that a pair of tapered shims makes up the rest.

    Args:
        height_mm: floor to underside of the base. [mm]
        taper_mm: what is left for the tapered pair. [mm]

    Returns:
        Thickness of the solid packer; 0 when shims alone reach. [mm]

    Valid:
        Tapered shims adjust by about half their height either way.

    Source:
        [trade-practice]. Status: common practice.

    Example:
        >>> solid_packer(18)
        12.0
    """
    return 0.0 if height_mm <= GREATEST_TAPER_MM else height_mm - taper_mm
