"""What screws, lags and nails carry in wood: out of it, and across it."""

from __future__ import annotations

import math
from dataclasses import dataclass

MM_PER_INCH = 25.4
N_PER_LB = 4.4482216152605
N_MM2_PER_PSI = N_PER_LB / MM_PER_INCH**2

SCREW_DIAMETERS_MM = {"No. 6": 0.138 * 25.4, "No. 8": 0.164 * 25.4, "No. 10": 0.190 * 25.4, "No. 12": 0.216 * 25.4}
"""Outside diameters of wood screws. Source: [nds] Appendix L. Status: read."""

STUD_GRAVITY = 0.42
"""Spruce-pine-fir, the lightest common stud wood. Source: [nds] Table 12.3.3A. Status: read."""

END_GRAIN_LAG = 0.75
"""Lag screws in end grain hold this share; screws and nails nothing to rely on. Source: [nds] 12.5.2. Status: read."""

SCREW_FORMULA = "W = 2850 G^2 D (lb per inch of thread, side grain)"


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


def bearing_strength(gravity: float) -> float:
    r"""Return the dowel bearing strength of wood under a fastener thinner than 1/4 in.

    $F_e = 16600 G^{1.84}$ (psi)

    Args:
        gravity: G.

    Returns:
        F_e. [N/mm2]

    Valid:
        Fastener diameter below 6.35 mm.

    Source:
        [nds] Table 12.3.3. Status: read.
    """
    G = gravity
    return float(16600 * G**1.84 * N_MM2_PER_PSI)


@dataclass(frozen=True, slots=True, kw_only=True)
class YieldModes:
    """What each way of yielding allows, single shear. [N]

    Args:
        i_m, i_s: wood crushes in the main or the side piece.
        ii: fastener turns in both, straight.
        iii_m, iii_s: it bends once, in the main or the side piece.
        iv: it bends twice.
    """

    i_m: float
    i_s: float
    ii: float
    iii_m: float
    iii_s: float
    iv: float

    @property
    def governing_n(self) -> float:
        """The least of them. [N]"""
        return min(self.i_m, self.i_s, self.ii, self.iii_m, self.iii_s, self.iv)


def lateral_yield(
    *,
    diameter_mm: float,
    main_mm: float,
    side_mm: float,
    main_gravity: float,
    side_gravity: float,
    yield_n_mm2: float,
) -> YieldModes:
    r"""Return what a thin fastener carries across its length, for each way of yielding.

    $R_e = F_{em} / F_{es}$, $R_t = l_m / l_s$; modes $I_m = D l_m F_{em} / R_d$ to $IV$ as the source's table

    Args:
        diameter_mm: D; for a threaded fastener take the root diameter. [mm]
        main_mm: l_m, length in the main piece. [mm]
        side_mm: l_s, thickness of the side piece. [mm]
        main_gravity: G of the main piece.
        side_gravity: G of the side piece.
        yield_n_mm2: F_yb, bending yield strength of the fastener. [N/mm2]

    Returns:
        The six modes; the least governs. [N]

    Valid:
        D below 6.35 mm, side grain, no load-duration factor.

    Source:
        [nds] Table 12.3.1A. Status: read; k2 and k3 were derived again here.

    Example:
        >>> modes = lateral_yield(
        ...     diameter_mm=0.148 * 25.4, main_mm=2.25 * 25.4, side_mm=0.75 * 25.4,
        ...     main_gravity=0.50, side_gravity=0.50, yield_n_mm2=90000 * 0.006894757,
        ... )
        >>> round(modes.governing_n / 4.4482216, 1)
        105.1
    """
    # The reduction term is empirical in inches, so all is worked in inches and pounds as printed.
    D, lm, ls = diameter_mm / MM_PER_INCH, main_mm / MM_PER_INCH, side_mm / MM_PER_INCH
    Fem, Fes = bearing_strength(main_gravity) / N_MM2_PER_PSI, bearing_strength(side_gravity) / N_MM2_PER_PSI
    Fyb = yield_n_mm2 / N_MM2_PER_PSI
    Rd = 2.2 if D <= 0.17 else 10 * D + 0.5
    Re, Rt = Fem / Fes, lm / ls
    k1 = (math.sqrt(Re + 2 * Re**2 * (1 + Rt + Rt**2) + Rt**2 * Re**3) - Re * (1 + Rt)) / (1 + Re)
    k2 = -1 + math.sqrt(2 * (1 + Re) + 2 * Fyb * (1 + 2 * Re) * D**2 / (3 * Fem * lm**2))
    k3 = -1 + math.sqrt(2 * (1 + Re) / Re + 2 * Fyb * (2 + Re) * D**2 / (3 * Fem * ls**2))
    return YieldModes(
        i_m=N_PER_LB * D * lm * Fem / Rd,
        i_s=N_PER_LB * D * ls * Fes / Rd,
        ii=N_PER_LB * k1 * D * ls * Fes / Rd,
        iii_m=N_PER_LB * k2 * D * lm * Fem / ((1 + 2 * Re) * Rd),
        iii_s=N_PER_LB * k3 * D * ls * Fem / ((2 + Re) * Rd),
        iv=N_PER_LB * D**2 / Rd * math.sqrt(2 * Fem * Fyb / (3 * (1 + Re))),
    )
