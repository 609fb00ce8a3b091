"""Boards glued edge to edge: the pressure a joint wants, how many clamps give it, and how much glue."""

from __future__ import annotations

import math

PSI_N_MM2 = 4.4482216152605 / 25.4**2

CLAMP_PRESSURE_PSI = ((0.45, 100.0, 150.0), (0.60, 150.0, 200.0), (1.5, 200.0, 300.0))
"""Pressure from and to, for soft, medium and hard wood. Source: [gluing-guides]. Status: read. The gravity up to which
a wood counts as soft and as medium: [trade-practice], common practice."""

WIDEST_SPACING_MM = 12 * 25.4
"""Greatest distance of clamps, 8 to 12 in. Source: [gluing-guides]. Status: read."""

CLAMP_END_MM = 50.0
"""First clamp from the end, 1 1/2 to 2 in. Source: [gluing-guides]. Status: read."""

LEAST_PCT, MOST_PCT = 6.0, 8.0
"""Moisture of wood for gluing. Source: [gluing-guides]. Status: read."""

FORMULA = "spacing = F / (p t), at most 12 in; clamps = (L - 100) / spacing + 1"


def clamp_pressure(gravity: float) -> tuple[float, float]:
    """Return the pressure a glue line wants.

    Args:
        gravity: specific gravity of the wood.

    Returns:
        From and to. [N/mm2]

    Source:
        [gluing-guides] 100 to 150, 150 to 200, 200 to 300 psi for soft, medium and hard wood. Status: read.

    Example:
        >>> [round(each, 2) for each in clamp_pressure(0.40)]
        [0.69, 1.03]
    """
    low, high = next((low, high) for most, low, high in CLAMP_PRESSURE_PSI if gravity <= most)
    return low * PSI_N_MM2, high * PSI_N_MM2


def clamp_spacing(*, clamp_n: float, pressure_n_mm2: float, thickness_mm: float) -> float:
    r"""Return how far apart clamps may stand so that each presses its share of the glue line.

    $s = F / (p t)$, at most 12 in

    Args:
        clamp_n: F, what one clamp presses. [N]
        pressure_n_mm2: p. [N/mm2]
        thickness_mm: t, of the boards. [mm]

    Returns:
        Greatest distance. [mm]

    Source:
        [statics]; 12 in: [gluing-guides], read.

    Example:
        >>> round(clamp_spacing(clamp_n=4500, pressure_n_mm2=0.69, thickness_mm=27))
        242
    """
    return min(WIDEST_SPACING_MM, clamp_n / (pressure_n_mm2 * thickness_mm))


def clamps_needed(*, length_mm: float, spacing_mm: float) -> int:
    """Return how many clamps a glue line takes, the first and the last 50 mm from its ends.

    Args:
        length_mm: of the line. [mm]
        spacing_mm: greatest distance. [mm]

    Returns:
        At least two.

    Source:
        [gluing-guides] 1 1/2 to 2 in from the ends. Status: read.

    Example:
        >>> clamps_needed(length_mm=1800, spacing_mm=242)
        9
    """
    return max(2, math.ceil((length_mm - 2 * CLAMP_END_MM) / spacing_mm - 1e-9) + 1)
