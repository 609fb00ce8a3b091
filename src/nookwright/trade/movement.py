"""Wood movement across seasons: moisture from the air, width from moisture."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

SEASON_LOW_PCT = 6.0
"""Driest indoor moisture of wood, about 30 % humidity. Source: [emc-equation]. Status: read."""

SEASON_HIGH_PCT = 12.0
"""Wettest, about 65 % humidity. Source: [emc-equation]. Status: read."""

SLOT_PLAY_MM = 3.0
"""Slot longer than the movement by this. Source: [trade-practice]. Status: common practice."""

EDGE_PLAY_MM = 2.0
"""Gap at a free edge beyond half the movement. Source: [trade-practice]. Status: common practice."""

LEAST_PCT, MOST_PCT = 6.0, 14.0
"""The coefficients hold between these moistures. Source: [wood-handbook] Table 13-5. Status: read."""

FORMULA = "dD = D C (M2 - M1) from 6 to 14 %, beyond D (M2 - M1) / (3000 / S - 30 + M1), S = 3000 C / (1 + 20 C)"

PANEL_CHANGE = {
    "birch-plywood": 0.00015, "softwood-plywood": 0.00015, "mdf": 0.0005, "particleboard": 0.0005, "osb": 0.0003,
    "hardboard": 0.0004,
}  # fmt: skip
"""Change of length of boards per length and per 1 % moisture. Source: [panel-movement]. Status: recalled."""


def gap_to_leave(*, width_mm: float, coefficient: float, now_pct: float, high_pct: float, edges: int) -> float:
    r"""Return the gap to leave at each free edge when a piece is fitted at a moisture.

    $g = D C (M_{max} - M) / n + 2$ mm

    Args:
        width_mm: D, across the grain. [mm]
        coefficient: C, per 1 %.
        now_pct: M, when it is fitted. [%]
        high_pct: M_max, when it is widest. [%]
        edges: n, how many edges share the growth: 2 when it is held in its middle, 1 when along one edge.

    Returns:
        The gap; at its least when it is fitted at its widest. [mm]

    Source:
        [wood-handbook] dD = D C (M2 - M1), read; 2 mm of play: [trade-practice], common practice.

    Example:
        >>> round(gap_to_leave(width_mm=600, coefficient=0.00353, now_pct=6.2, high_pct=9.2, edges=1), 3)
        8.354
    """
    grows = board_change(width_mm=width_mm, coefficient=coefficient, from_pct=now_pct, to_pct=high_pct)
    return grows / edges + EDGE_PLAY_MM


def emc_fahrenheit(*, temperature_f: float, humidity_pct: float) -> float:
    r"""Return the moisture that wood comes to in air of a given warmth (in F) and humidity.

    $M = \frac{1800}{W} \left[ \frac{K h}{1 - K h}
    + \frac{K_1 K h + 2 K_1 K_2 K^2 h^2}{1 + K_1 K h + K_1 K_2 K^2 h^2} \right]$

    Args:
        temperature_f: T. [F]
        humidity_pct: 100 h, relative humidity. [%]

    Returns:
        Equilibrium moisture content. [%]

    Valid:
        30 to 120 F, 5 to 95 % humidity; the printed table may differ by up to 0.5.

    Source:
        [emc-equation]. Status: read.

    Example:
        >>> round(emc_fahrenheit(temperature_f=70, humidity_pct=50), 2)
        9.25
    """
    return _emc(emc_coefficients_fahrenheit(temperature_f), humidity_pct / 100)


def emc_celsius(*, temperature_c: float, humidity_pct: float) -> float:
    """Return the moisture that wood comes to in air of a given warmth (in C) and humidity.

    Args:
        temperature_c: T. [C]
        humidity_pct: 100 h, relative humidity. [%]

    Returns:
        Equilibrium moisture content. [%]

    Valid:
        0 to 50 C, 5 to 95 % humidity; within 0.013 of the form in F.

    Source:
        [emc-equation]. Status: read.

    Example:
        >>> round(emc_celsius(temperature_c=20, humidity_pct=65), 1)
        12.0
    """
    return _emc(emc_coefficients_celsius(temperature_c), humidity_pct / 100)


@dataclass(frozen=True, slots=True, kw_only=True)
class EmcCoefficients:
    """What the moisture equation takes from the temperature, in its source's letters."""

    W: float
    K: float
    K1: float
    K2: float


def emc_coefficients_fahrenheit(temperature_f: float) -> EmcCoefficients:
    """Return the equation's coefficients from a temperature in F.

    Source:
        [emc-equation]. Status: read.
    """
    T = temperature_f
    return EmcCoefficients(
        W=330 + 0.452 * T + 0.00415 * T**2,
        K=0.791 + 0.000463 * T - 0.000000844 * T**2,
        K1=6.34 + 0.000775 * T - 0.0000935 * T**2,
        K2=1.09 + 0.0284 * T - 0.0000904 * T**2,
    )


def emc_coefficients_celsius(temperature_c: float) -> EmcCoefficients:
    """Return the equation's coefficients from a temperature in C.

    Source:
        [emc-equation]. Status: read.
    """
    T = temperature_c
    return EmcCoefficients(
        W=349 + 1.29 * T + 0.0135 * T**2,
        K=0.805 + 0.000736 * T - 0.00000273 * T**2,
        K1=6.27 - 0.00938 * T - 0.000303 * T**2,
        K2=1.91 + 0.0407 * T - 0.000293 * T**2,
    )


def _emc(at: EmcCoefficients, h: float) -> float:
    """Return the equation's value from its coefficients."""
    K1, K2, Kh = at.K1, at.K2, at.K * h
    first = Kh / (1 - Kh)
    second = (K1 * Kh + 2 * K1 * K2 * Kh**2) / (1 + K1 * Kh + K1 * K2 * Kh**2)
    return 1800 / at.W * (first + second)


def dimension_change(*, width_mm: float, coefficient: float, from_pct: float, to_pct: float) -> float:
    r"""Return how much wider a board gets between two moistures.

    $\Delta D = D C (M_2 - M_1)$

    Args:
        width_mm: D, across the grain. [mm]
        coefficient: C, tangential (flat-sawn) or radial (quarter-sawn), per 1 %.
        from_pct: M_1. [%]
        to_pct: M_2. [%]

    Returns:
        The change; below 0 when it shrinks. [mm]

    Valid:
        6 to 14 % moisture.

    Source:
        [wood-handbook] Table 13-5 and its formula. Status: read.

    Example:
        >>> round(dimension_change(width_mm=300, coefficient=0.00369, from_pct=6, to_pct=10), 3)
        4.428
    """
    D, C, M1, M2 = width_mm, coefficient, from_pct, to_pct
    return D * C * (M2 - M1)


def dimension_change_from_shrinkage(*, width_mm: float, shrinkage_pct: float, from_pct: float, to_pct: float) -> float:
    r"""Return how much wider a board gets between two moistures, from its green-to-ovendry shrinkage.

    $\Delta D = D (M_2 - M_1) / (3000 / S - 30 + M_1)$

    Args:
        width_mm: D at the first moisture. [mm]
        shrinkage_pct: S. [%]
        from_pct: M_1. [%]
        to_pct: M_2. [%]

    Returns:
        The change; below 0 when it shrinks. [mm]

    Valid:
        0 to 30 % moisture; needed outside 6 to 14 %, where the coefficients end.

    Source:
        [shrinkage-equation]. Status: read; it follows from shrinkage in a straight line below 30 %.

    Example:
        >>> round(dimension_change_from_shrinkage(width_mm=232, shrinkage_pct=7.0, from_pct=8, to_pct=11), 2)
        1.71
    """
    D, S, M1, M2 = width_mm, shrinkage_pct, from_pct, to_pct
    return D * (M2 - M1) / (3000 / S - 30 + M1)


def shrinkage_at(*, shrinkage_pct: float, moisture_pct: float) -> float:
    r"""Return how far wood has shrunk from green at a moisture.

    $S_M = S (30 - M) / 30$

    Args:
        shrinkage_pct: S, green to ovendry. [%]
        moisture_pct: M. [%]

    Returns:
        Shrinkage from green; 0 above 30 %. [%]

    Source:
        [wood-handbook-recalled] ch. 4. Status: recalled.

    Example:
        >>> shrinkage_at(shrinkage_pct=9.0, moisture_pct=10.0)
        6.0
    """
    return shrinkage_pct * max(0.0, 30 - moisture_pct) / 30


def lumber_shrinkage(*, moisture_pct: float, of: Literal["width", "thickness"]) -> float:
    r"""Return how far sawn softwood has shrunk from green, when its grain direction is not known.

    $S_w = 6.031 - 0.215 M$, $S_t = 5.062 - 0.181 M$

    Args:
        moisture_pct: M. [%]
        of: across the face or the edge.

    Returns:
        Shrinkage from green. [%]

    Valid:
        8 to 19 % moisture.

    Source:
        [drying-lines]. Status: read.

    Example:
        >>> round(lumber_shrinkage(moisture_pct=10, of="width"), 3)
        3.881
    """
    if of == "width":
        return 6.031 - 0.215 * moisture_pct
    return 5.062 - 0.181 * moisture_pct


def dried_size(*, size_mm: float, from_pct: float, to_pct: float, of: Literal["width", "thickness"]) -> float:
    r"""Return the size of sawn softwood at another moisture.

    $D_2 = D_1 (100 - S(M_2)) / (100 - S(M_1))$

    Args:
        size_mm: D_1. [mm]
        from_pct: M_1. [%]
        to_pct: M_2. [%]
        of: across the face or the edge.

    Returns:
        D_2. [mm]

    Valid:
        8 to 19 % moisture.

    Source:
        [drying-lines]. Status: read.

    Example:
        >>> round(dried_size(size_mm=13.25, from_pct=19, to_pct=10, of="width"), 3)
        12.989
    """
    first, last = lumber_shrinkage(moisture_pct=from_pct, of=of), lumber_shrinkage(moisture_pct=to_pct, of=of)
    return size_mm * (100 - last) / (100 - first)


def coefficient_from_shrinkage(shrinkage_pct: float) -> float:
    r"""Return the movement coefficient behind a green-to-ovendry shrinkage.

    $C = S / (3000 - 20 S)$: fibre saturation at 30 %, referred to the size at 10 % moisture

    Args:
        shrinkage_pct: S, green to ovendry. [%]

    Returns:
        C, per 1 % moisture.

    Valid:
        6 to 14 % moisture.

    Source:
        [wood-handbook] Table 13-5 follows from Table 4-3 by this. Status: read; the formula was derived here.

    Example:
        >>> round(coefficient_from_shrinkage(11.9), 5)
        0.00431
    """
    S = shrinkage_pct
    return S / (3000 - 20 * S)


def shrinkage_from_coefficient(coefficient: float) -> float:
    r"""Return the green-to-ovendry shrinkage behind a movement coefficient.

    $S = 3000 C / (1 + 20 C)$

    Args:
        coefficient: C, per 1 % moisture.

    Returns:
        S. [%]

    Source:
        [wood-handbook] Table 4-3 follows from Table 13-5 by this. Status: read; the formula was derived here.

    Example:
        >>> round(shrinkage_from_coefficient(0.00431), 1)
        11.9
    """
    C = coefficient
    return 3000 * C / (1 + 20 * C)


def board_change(*, width_mm: float, coefficient: float, from_pct: float, to_pct: float) -> float:
    """Return how much wider a board gets, by its coefficient within 6 to 14 % and by its shrinkage beyond.

    Args:
        width_mm: across the grain. [mm]
        coefficient: per 1 %.
        from_pct, to_pct: moisture before and after. [%]

    Returns:
        The change; below 0 when it shrinks. [mm]

    Valid:
        0 to 30 % moisture.

    Source:
        [wood-handbook] Table 13-5 from 6 to 14 %, read; [shrinkage-equation] beyond, read.

    Example:
        >>> round(board_change(width_mm=300, coefficient=0.00369, from_pct=4, to_pct=10), 2)
        6.79
    """
    if min(from_pct, to_pct) >= LEAST_PCT and max(from_pct, to_pct) <= MOST_PCT:
        return dimension_change(width_mm=width_mm, coefficient=coefficient, from_pct=from_pct, to_pct=to_pct)
    return dimension_change_from_shrinkage(
        width_mm=width_mm,
        shrinkage_pct=shrinkage_from_coefficient(coefficient),
        from_pct=from_pct,
        to_pct=to_pct,
    )


def slot_length(*, from_fixed_line_mm: float, coefficient: float, low_pct: float, high_pct: float) -> float:
    """Return how long a screw slot must be, beyond the screw, at a distance from the line fixed tight.

    Args:
        from_fixed_line_mm: across the grain, from the line where the top is screwed tight. [mm]
        coefficient: per 1 %.
        low_pct, high_pct: driest and wettest moisture. [%]

    Returns:
        Movement there plus 3 mm of play. [mm]

    Valid:
        One line fixed tight, the rest free to slide.

    Source:
        [trade-practice] movement plus 3 mm. Status: common practice.

    Example:
        >>> round(slot_length(from_fixed_line_mm=500, coefficient=0.00369, low_pct=6, high_pct=12), 1)
        14.1
    """
    moved = board_change(width_mm=from_fixed_line_mm, coefficient=coefficient, from_pct=low_pct, to_pct=high_pct)
    return moved + SLOT_PLAY_MM
