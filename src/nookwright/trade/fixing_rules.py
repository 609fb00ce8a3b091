"""What becomes of a fastener's tabled load in a real joint: how long it is carried, grain, depth, slant, edges."""

from __future__ import annotations

import math
from dataclasses import dataclass

PERMANENT = 0.9
"""C_D of a load that never leaves, such as books. Source: [nds] Table 2.3.2. Status: read."""

TEN_YEARS = 1.0
"""C_D of people on a floor or seat. Source: [nds] Table 2.3.2. Status: read."""

TWO_MONTHS = 1.15
"""C_D of a load of some weeks. Source: [nds] Table 2.3.2. Status: read."""

SEVEN_DAYS = 1.25
"""C_D of a load while building. Source: [nds] Table 2.3.2. Status: read."""

TEN_MINUTES = 1.6
"""C_D of a short pull, such as a child that climbs. Source: [nds] Table 2.3.2. Status: read."""

END_GRAIN_LAG = 0.75
"""Lag screws pulled from end grain hold this share; screws and nails nothing to rely on. Source: [nds] 12.5.2.
Status: read."""

END_GRAIN_LATERAL = 0.67
"""Any dowel in end grain carries this share across. Source: [nds] 12.5.2. Status: read."""

TOE_NAIL_PULL = 0.67
"""A slanting nail is pulled with this share. Source: [nds] 12.5.4. Status: read."""

TOE_NAIL_LATERAL = 0.83
"""A slanting nail carries this share across. Source: [nds] 12.5.4. Status: read."""

LEAST_DEPTHS = 6.0
"""Screws and nails count across from this many diameters deep on, point included. Source: [nds] 12.1.5.6, 12.1.6.4.
Status: read."""

LEAST_LAG_DEPTHS = 4.0
"""Lags count from this many diameters deep on, tip left out. Source: [nds] 12.1.4.6. Status: read."""

TIP_DIAMETERS = 2.0
"""A screw's or nail's point is this many diameters long. Source: [nds] 12.3.5.3. Status: read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LeastDistances:
    """How far a fastener keeps from edges and from the next one. [mm]

    Args:
        edge_mm: to the edge along the grain.
        end_mm: to the end of the grain.
        along_mm, across_mm: to the next one, along and across the grain.
    """

    edge_mm: float
    end_mm: float
    along_mm: float
    across_mm: float


def bearing_length(*, diameter_mm: float, depth_mm: float) -> float:
    r"""Return the length of a screw or nail that bears in the piece that holds its point.

    $l_m = p - E / 2$, $E = 2 D$; nothing counts below $p = 6 D$

    Args:
        diameter_mm: D, outside. [mm]
        depth_mm: p, of the fastener in that piece, point included. [mm]

    Returns:
        l_m; 0 when it does not stand deep enough to count. [mm]

    Source:
        [nds] 12.1.5.6, 12.1.6.4 and 12.3.5.3. Status: read.

    Example:
        >>> bearing_length(diameter_mm=4.0, depth_mm=32.0)
        28.0
    """
    if depth_mm < LEAST_DEPTHS * diameter_mm:
        return 0.0
    return depth_mm - TIP_DIAMETERS * diameter_mm / 2


def slanted_load(*, withdrawal_n: float, lateral_n: float, angle_rad: float) -> float:
    r"""Return what a screw or lag holds when it is pulled at a slant to the surface of its wood.

    $Z_\alpha = W Z / (W \cos^2\alpha + Z \sin^2\alpha)$

    Args:
        withdrawal_n: W, straight out. [N]
        lateral_n: Z, along the surface. [N]
        angle_rad: alpha, of the load from the surface: 0 is across the fastener, a right angle straight out. [rad]

    Returns:
        Allowable load at that slant. [N]

    Valid:
        Wood screws and lags.

    Source:
        [nds] Eq. 12.4-1. Status: read.

    Example:
        >>> round(slanted_load(withdrawal_n=300, lateral_n=200, angle_rad=0.0))
        200
    """
    W, Z = withdrawal_n, lateral_n
    return W * Z / (W * math.cos(angle_rad) ** 2 + Z * math.sin(angle_rad) ** 2)


def slanted_nail_load(*, withdrawal_n: float, lateral_n: float, angle_rad: float) -> float:
    r"""Return what a nail holds when it is pulled at a slant.

    $Z_\alpha = W Z / (W \cos\alpha + Z \sin\alpha)$

    Args:
        withdrawal_n: W. [N]
        lateral_n: Z. [N]
        angle_rad: alpha, of the load from the surface. [rad]

    Returns:
        Allowable load at that slant. [N]

    Source:
        [nds] Eq. 12.4-2. Status: read.

    Example:
        >>> round(slanted_nail_load(withdrawal_n=100, lateral_n=100, angle_rad=0.7853981634), 1)
        70.7
    """
    W, Z = withdrawal_n, lateral_n
    return W * Z / (W * math.cos(angle_rad) + Z * math.sin(angle_rad))


def least_distances(*, diameter_mm: float, drilled: bool) -> LeastDistances:
    """Return how far thin screws and nails keep from edges, so that wood does not split.

    Args:
        diameter_mm: outside. [mm]
        drilled: whether a hole is drilled first.

    Returns:
        Distances in diameters as the commentary suggests. [mm]

    Valid:
        Below 6.35 mm; wood that splits easily wants more. Boards of fibres and chips: [mdf-guide] instead.

    Source:
        [nds-recalled] Commentary C12.1.5.7: edge 2.5 D; end 15 D, drilled 10 D; along 15 D, drilled 10 D; across 5 D,
        drilled 3 D. Status: recalled.

    Example:
        >>> least_distances(diameter_mm=4.0, drilled=True).end_mm
        40.0
    """
    D = diameter_mm
    along, across = (10 * D, 3 * D) if drilled else (15 * D, 5 * D)
    return LeastDistances(edge_mm=2.5 * D, end_mm=along, along_mm=along, across_mm=across)


def lag_edge_distance(*, diameter_mm: float, across_grain: bool) -> float:
    """Return how far a lag of 1/4 in or more keeps from an edge.

    Args:
        diameter_mm: shank. [mm]
        across_grain: whether the load pushes across the grain towards that edge.

    Returns:
        4 D towards a loaded edge, else 1.5 D. [mm]

    Source:
        [nds] Table 12.5.1C. Status: read.

    Example:
        >>> lag_edge_distance(diameter_mm=10.0, across_grain=False)
        15.0
    """
    return (4.0 if across_grain else 1.5) * diameter_mm


def lag_thread_depth(*, length_mm: float, side_mm: float, tip_mm: float) -> float:
    """Return how much thread of a lag lies in the main piece, its tapered tip left out.

    Args:
        length_mm: under the head. [mm]
        side_mm: of the piece it passes. [mm]
        tip_mm: of the tapered tip. [mm]

    Returns:
        Depth that counts, never below 0. [mm]

    Source:
        [nds] solved example E2.3. Status: read.

    Example:
        >>> lag_thread_depth(length_mm=4 * 25.4, side_mm=1.5 * 25.4, tip_mm=0.3125 * 25.4) / 25.4
        2.1875
    """
    return max(0.0, length_mm - side_mm - tip_mm)
