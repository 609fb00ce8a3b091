"""What screws, lags and nails carry across their length: the ways a dowel and the wood round it yield."""

from __future__ import annotations

import math
from dataclasses import dataclass

from nookwright.trade.fixings import MM_PER_INCH, N_MM2_PER_PSI

THICK_INCH = 0.25
"""From this diameter on the grain's direction counts. Source: [nds] Table 12.3.3. Status: read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Dowel:
    """A screw, lag or nail as it yields.

    Args:
        diameter_mm: D that bends and bears: the root of a threaded fastener, the shank of a nail. [mm]
        yield_n_mm2: F_yb, bending yield strength. [N/mm2]
        rated_mm: diameter that the reduction term is read with: by the clause the same (the root); one solved example
            takes a screw's outside diameter, which gives less and is the cautious choice. [mm]
    """

    diameter_mm: float
    yield_n_mm2: float
    rated_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """One of the pieces a dowel goes through.

    Args:
        length_mm: of the dowel within it. [mm]
        bearing_n_mm2: F_e, dowel bearing strength of its wood. [N/mm2]
    """

    length_mm: float
    bearing_n_mm2: float


@dataclass(frozen=True, slots=True, kw_only=True)
class YieldModes:
    """What each way of yielding allows, for one shear plane. [N]

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
        """The least of them: a side piece on one side only. [N]"""
        return min(self.i_m, self.i_s, self.ii, self.iii_m, self.iii_s, self.iv)

    @property
    def governing(self) -> str:
        """The name of that way, as its source has it: `Im` to `IV`."""
        named = (("Im", self.i_m), ("Is", self.i_s), ("II", self.ii), ("IIIm", self.iii_m), ("IIIs", self.iii_s))
        return min((*named, ("IV", self.iv)), key=lambda mode: mode[1])[0]

    @property
    def double_n(self) -> float:
        """The least with a side piece on each side of the main one: two shear planes. [N]"""
        return min(self.i_m, 2 * self.i_s, 2 * self.iii_s, 2 * self.iv)


def bearing_strength(gravity: float) -> float:
    r"""Return the dowel bearing strength of wood under a fastener thinner than 1/4 in, at any angle to the grain.

    $F_e = 16600 G^{1.84}$ (psi)

    Args:
        gravity: G.

    Returns:
        F_e. [N/mm2]

    Valid:
        Fastener diameter below 6.35 mm.

    Source:
        [nds] Table 12.3.3. Status: read.

    Example:
        >>> round(bearing_strength(0.42), 2)
        23.2
    """
    G = gravity
    return float(16600 * G**1.84 * N_MM2_PER_PSI)


def thick_bearing_strength(*, gravity: float, diameter_mm: float, angle_rad: float) -> float:
    r"""Return the dowel bearing strength of wood under a lag or bolt of 1/4 in and more.

    $F_\parallel = 11200 G$, $F_\perp = 6100 G^{1.45} / \sqrt{D}$ (psi, in),
    $F = F_\parallel F_\perp / (F_\parallel \sin^2\theta + F_\perp \cos^2\theta)$

    Args:
        gravity: G.
        diameter_mm: D. [mm]
        angle_rad: theta, between load and grain. [rad]

    Returns:
        F_e. [N/mm2]

    Valid:
        Diameter from 6.35 to 25.4 mm.

    Source:
        [nds] Table 12.3.3 and Eq. 12.3-11. Status: read.

    Example:
        >>> round(thick_bearing_strength(gravity=0.50, diameter_mm=12.7, angle_rad=0.0) / 0.006894757)
        5600
    """
    G, D = gravity, diameter_mm / MM_PER_INCH
    along, across = 11200 * G, 6100 * G**1.45 / math.sqrt(D)
    sine, cosine = math.sin(angle_rad), math.cos(angle_rad)
    return float(along * across / (along * sine**2 + across * cosine**2) * N_MM2_PER_PSI)


def lateral_yield(*, dowel: Dowel, main: Held, side: Held, angle_rad: float = 0.0) -> YieldModes:
    r"""Return what a fastener carries across its length, for each way of yielding.

    $R_e = F_{em} / F_{es}$, $R_t = l_m / l_s$;
    $I_m = D l_m F_{em} / R_d$, $I_s = D l_s F_{es} / R_d$, $II = k_1 D l_s F_{es} / R_d$,
    $III_m = k_2 D l_m F_{em} / ((1 + 2 R_e) R_d)$, $III_s = k_3 D l_s F_{em} / ((2 + R_e) R_d)$,
    $IV = D^2 / R_d \sqrt{2 F_{em} F_{yb} / (3 (1 + R_e))}$

    Args:
        dowel: the fastener.
        main: the piece that holds its point (the middle one of three).
        side: the piece under its head.
        angle_rad: greatest angle between load and grain; counts from 1/4 in on. [rad]

    Returns:
        The six modes; the least governs. [N]

    Valid:
        Side grain, load of ten years, no factors yet (see `fixing_rules.py`).

    Source:
        [nds] Table 12.3.1A. Status: read; k1, k2 and k3 were derived again from plastic equilibrium.

    Example:
        >>> wood = bearing_strength(0.50)
        >>> nail = Dowel(diameter_mm=0.148 * 25.4, yield_n_mm2=90000 * 0.006894757, rated_mm=0.148 * 25.4)
        >>> main, side = (Held(length_mm=length, bearing_n_mm2=wood) for length in (57.15, 19.05))
        >>> modes = lateral_yield(dowel=nail, main=main, side=side)
        >>> round(modes.governing_n / 4.4482216, 1)
        105.1
    """
    D, lm, ls = dowel.diameter_mm, main.length_mm, side.length_mm
    Fem, Fes, Fyb = main.bearing_n_mm2, side.bearing_n_mm2, dowel.yield_n_mm2
    Re, Rt = Fem / Fes, lm / ls
    k1 = (math.sqrt(Re + 2 * Re**2 * (1 + Rt + Rt**2) + Rt**2 * Re**3) - Re * (1 + Rt)) / (1 + Re)
    k2 = -1 + math.sqrt(2 * (1 + Re) + 2 * Fyb * (1 + 2 * Re) * D**2 / (3 * Fem * lm**2))
    k3 = -1 + math.sqrt(2 * (1 + Re) / Re + 2 * Fyb * (2 + Re) * D**2 / (3 * Fem * ls**2))
    crushes, turns, bends = reduction_terms(dowel, angle_rad)
    return YieldModes(
        i_m=D * lm * Fem / crushes,
        i_s=D * ls * Fes / crushes,
        ii=k1 * D * ls * Fes / turns,
        iii_m=k2 * D * lm * Fem / ((1 + 2 * Re) * bends),
        iii_s=k3 * D * ls * Fem / ((2 + Re) * bends),
        iv=D**2 / bends * math.sqrt(2 * Fem * Fyb / (3 * (1 + Re))),
    )


def reduction_terms(dowel: Dowel, angle_rad: float) -> tuple[float, float, float]:
    r"""Return what yielding is divided by: for modes I, for mode II, for modes III and IV.

    $K_D = 2.2$ up to 0.17 in, $10 D + 0.5$ below 0.25 in;
    from 0.25 in on $4 K_\theta, 3.6 K_\theta, 3.2 K_\theta$ with $K_\theta = 1 + 0.25 \theta / 90$

    Args:
        dowel: the fastener; threaded ones of 1/4 in with a thinner root take K_D K_theta.
        angle_rad: greatest angle between load and grain. [rad]

    Returns:
        The three terms.

    Source:
        [nds] Table 12.3.1B. Status: read.

    Example:
        >>> reduction_terms(Dowel(diameter_mm=9.525, yield_n_mm2=310, rated_mm=9.525), 0.0)
        (4.0, 3.6, 3.2)
    """
    D, root = dowel.rated_mm / MM_PER_INCH, dowel.diameter_mm / MM_PER_INCH
    if D < THICK_INCH - 1e-9:
        return _thin(D), _thin(D), _thin(D)
    K = 1 + 0.25 * math.degrees(angle_rad) / 90
    if root < THICK_INCH - 1e-9:
        return _thin(root) * K, _thin(root) * K, _thin(root) * K
    return 4 * K, 3.6 * K, 3.2 * K


def _thin(diameter_inch: float) -> float:
    """Return K_D of a fastener thinner than 1/4 in."""
    return 2.2 if diameter_inch <= 0.17 else 10 * diameter_inch + 0.5
