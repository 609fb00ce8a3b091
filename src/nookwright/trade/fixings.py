"""What screws, lags and nails hold when they are pulled out of wood, and the sizes they come in."""

from __future__ import annotations

import math

MM_PER_INCH = 25.4
N_PER_LB = 4.4482216152605
N_MM2_PER_PSI = N_PER_LB / MM_PER_INCH**2

SCREW_DIAMETERS_MM = {
    "No. 6": 0.138 * 25.4, "No. 7": 0.151 * 25.4, "No. 8": 0.164 * 25.4, "No. 9": 0.177 * 25.4,
    "No. 10": 0.190 * 25.4, "No. 12": 0.216 * 25.4, "No. 14": 0.242 * 25.4,
}  # fmt: skip
"""Outside diameters of wood screws. Source: [nds] Table L3. Status: read."""

SCREW_ROOTS_MM = {
    "No. 6": 0.113 * 25.4, "No. 7": 0.122 * 25.4, "No. 8": 0.131 * 25.4, "No. 9": 0.142 * 25.4,
    "No. 10": 0.152 * 25.4, "No. 12": 0.171 * 25.4, "No. 14": 0.196 * 25.4,
}  # fmt: skip
"""Root diameters of wood screws, which bend and bear. Source: [nds] Table L3. Status: read."""

SCREW_HEADS_MM = {"No. 6": 0.262 * 25.4, "No. 8": 0.312 * 25.4, "No. 10": 0.363 * 25.4, "No. 12": 0.414 * 25.4}
"""Diameter of their heads. Source: [nds] Table L3. Status: read."""

BOARD_GRAVITY = 0.42
"""Boards without a gravity of their own hold dowels and heads as wood of this. Source: [nds-recalled] Table 12.3.3B.
Status: recalled."""

LAG_ROOTS_MM = {
    0.25 * 25.4: 0.173 * 25.4, 0.3125 * 25.4: 0.227 * 25.4, 0.375 * 25.4: 0.265 * 25.4, 0.4375 * 25.4: 0.328 * 25.4,
    0.5 * 25.4: 0.371 * 25.4,
}  # fmt: skip
"""Root diameter of a lag by its shank. Source: [nds] Table L2. Status: read."""

LAG_SIZES_MM = {"lag 1/4": 0.25 * 25.4, "lag 5/16": 0.3125 * 25.4, "lag 3/8": 0.375 * 25.4}
"""Shank diameters of the lags that hold furniture. Source: [nds] Table L2. Status: read."""

LAG_TIPS_MM = {"lag 1/4": 5 / 32 * 25.4, "lag 5/16": 3 / 16 * 25.4, "lag 3/8": 7 / 32 * 25.4}
"""Length of their tapered tips. Source: [nds-recalled] Table L2. Status: recalled."""

WASHER_MM = 16.0
"""Washer under a lag's head, about 5/8 in. Source: [trade-practice]. Status: common practice."""

BRAD_MM = 1.2
"""Thickness of an 18-gauge brad. Source: [trade-practice]. Status: common practice."""

YIELD_BANDS_PSI = ((0.142, 100_000), (0.177, 90_000), (0.236, 80_000), (0.273, 70_000), (0.344, 60_000), (9.0, 45_000))
"""Bending yield strength of nails and screws up to each outside diameter [in]. Source: [nds] Table I1. Status: read."""

ASSIGNED_GRAVITY = {
    "spruce-pine-fir": 0.42, "hem-fir": 0.43, "douglas-fir-larch": 0.50, "southern pine": 0.55, "red oak": 0.67,
    "red maple": 0.58, "beech-birch-hickory": 0.71, "aspen": 0.39,
}  # fmt: skip
"""Specific gravity that fastenings in framing are reckoned with. Source: [nds] Table 12.3.3A. Status: read."""

STUD_GRAVITY = ASSIGNED_GRAVITY["spruce-pine-fir"]
"""The lightest common stud wood. Source: [nds] Table 12.3.3A. Status: read."""

SCREW_FORMULA = "W = 2850 G^2 D (lb per inch of thread, side grain)"
LAG_FORMULA = "W = 1800 G^1.5 D^0.75 (lb per inch of thread, tip left out)"
NAIL_FORMULA = "W = 1380 G^2.5 D (lb per inch)"
HEAD_FORMULA = "W_H = 690 pi D_H G^2 t (lb, in)"


def screw_withdrawal(*, gravity: float, diameter_mm: float) -> float:
    r"""Return what a wood screw may be pulled with, per length of thread in side grain.

    $W = 2850 G^2 D$ (lb/in)

    Args:
        gravity: G, specific gravity of the wood that holds.
        diameter_mm: D, outside diameter. [mm]

    Returns:
        Allowable pull per thread length. [N/mm]

    Valid:
        Side grain, ten years' load; about a fifth of the breaking load. End grain holds nothing to rely on.

    Source:
        [nds] Eq. 12.2-2. Status: read.

    Example:
        >>> round(screw_withdrawal(gravity=0.42, diameter_mm=0.164 * 25.4), 1)
        14.4
    """
    G, D = gravity, diameter_mm / MM_PER_INCH
    return float(2850 * G**2 * D * N_PER_LB / MM_PER_INCH)


def lag_withdrawal(*, gravity: float, diameter_mm: float) -> float:
    r"""Return what a lag screw may be pulled with, per length of thread in side grain.

    $W = 1800 G^{3/2} D^{3/4}$ (lb/in)

    Args:
        gravity: G.
        diameter_mm: D, shank diameter. [mm]

    Returns:
        Allowable pull per thread length. [N/mm]

    Valid:
        Side grain; in end grain 0.75 of it.

    Source:
        [nds] Eq. 12.2-1. Status: read.

    Example:
        >>> round(lag_withdrawal(gravity=0.50, diameter_mm=6.35) * 25.4 / 4.4482216)
        225
    """
    G, D = gravity, diameter_mm / MM_PER_INCH
    return float(1800 * G**1.5 * D**0.75 * N_PER_LB / MM_PER_INCH)


def nail_withdrawal(*, gravity: float, diameter_mm: float) -> float:
    r"""Return what a smooth nail may be pulled with, per length in side grain.

    $W = 1380 G^{5/2} D$ (lb/in)

    Args:
        gravity: G.
        diameter_mm: D. [mm]

    Returns:
        Allowable pull per length. [N/mm]

    Valid:
        Side grain, smooth shank.

    Source:
        [nds] Eq. 12.2-3. Status: read.

    Example:
        >>> round(nail_withdrawal(gravity=0.42, diameter_mm=0.131 * 25.4) * 25.4 / 4.4482216, 3)
        20.667
    """
    G, D = gravity, diameter_mm / MM_PER_INCH
    return float(1380 * G**2.5 * D * N_PER_LB / MM_PER_INCH)


def head_pull_through(*, gravity: float, head_mm: float, side_mm: float) -> float:
    r"""Return the pull at which a head is allowed to draw into the piece it holds.

    $W_H = 690 \pi D_H G^2 t$ up to $t = 2.5 D_H$, beyond it $1725 \pi D_H^2 G^2$ (lb, in)

    Args:
        gravity: G of the piece under the head.
        head_mm: D_H, diameter of the round head. [mm]
        side_mm: t, thickness of that piece. [mm]

    Returns:
        Allowable pull. [N]

    Valid:
        Round heads of nails and screws on wood; ten years' load.

    Source:
        [nds] Eq. 12.2-6a and 6b. Status: read.

    Example:
        >>> round(head_pull_through(gravity=0.50, head_mm=0.312 * 25.4, side_mm=0.75 * 25.4) / 4.4482216, 1)
        126.8
    """
    D, t = head_mm / MM_PER_INCH, side_mm / MM_PER_INCH
    return float(690 * math.pi * D * gravity**2 * min(t, 2.5 * D) * N_PER_LB)


def screw_breaking_pull(*, gravity: float, diameter_mm: float, depth_mm: float) -> float:
    r"""Return the pull at which wood screws tear out of side grain on average: no allowable load.

    $p = 15700 G^2 D L$ (lb, in)

    Args:
        gravity: G.
        diameter_mm: D, outside. [mm]
        depth_mm: L, of thread. [mm]

    Returns:
        Breaking load. [N]

    Source:
        [wood-handbook] Eq. 8-10. Status: read.

    Example:
        >>> round(screw_breaking_pull(gravity=1.0, diameter_mm=1.0, depth_mm=1.0), 2)
        108.25
    """
    return 15700 * gravity**2 * diameter_mm * depth_mm * N_MM2_PER_PSI


def nail_breaking_pull(*, gravity: float, diameter_mm: float, depth_mm: float) -> float:
    r"""Return the pull at which smooth nails come out of side grain on average: no allowable load.

    $p = 7850 G^{5/2} D L$ (lb, in)

    Args:
        gravity: G.
        diameter_mm: D. [mm]
        depth_mm: L. [mm]

    Returns:
        Breaking load. [N]

    Source:
        [wood-handbook] fastenings chapter. Status: read.

    Example:
        >>> round(nail_breaking_pull(gravity=1.0, diameter_mm=1.0, depth_mm=1.0), 2)
        54.12
    """
    return float(7850 * gravity**2.5 * diameter_mm * depth_mm * N_MM2_PER_PSI)


def lag_breaking_pull(*, gravity: float, diameter_mm: float, depth_mm: float) -> float:
    r"""Return the pull at which lag screws tear out of side grain on average: no allowable load.

    $p = 8100 G^{3/2} D^{3/4} L$ (lb, in)

    Args:
        gravity: G.
        diameter_mm: D, shank. [mm]
        depth_mm: L, of thread. [mm]

    Returns:
        Breaking load. [N]

    Source:
        [wood-handbook-recalled] Eq. 8-16. Status: recalled.

    Example:
        >>> round(lag_breaking_pull(gravity=1.0, diameter_mm=1.0, depth_mm=1.0), 1)
        125.4
    """
    G, D, L = gravity, diameter_mm / MM_PER_INCH, depth_mm / MM_PER_INCH
    return float(8100 * G**1.5 * D**0.75 * L * N_PER_LB)


def yield_strength(diameter_mm: float) -> float:
    """Return the bending yield strength of a nail or screw.

    Args:
        diameter_mm: outside diameter. [mm]

    Returns:
        F_yb. [N/mm2]

    Source:
        [nds] Table I1. Status: read.

    Example:
        >>> round(yield_strength(0.190 * 25.4) / 0.006894757)
        80000
    """
    D = diameter_mm / MM_PER_INCH
    return next(psi for most, psi in YIELD_BANDS_PSI if most + 1e-9 >= D) * N_MM2_PER_PSI
