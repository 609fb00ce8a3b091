"""Pull on a tall piece: when it tips by itself, and what its wall fixings then hold."""

from __future__ import annotations

import math
from dataclasses import dataclass

GRAVITY_M_S2 = 9.81
"""Weight of a kilogram, in newtons. Source: [statics]."""

CHILD_KG = 60 * 0.45359237
"""Weight of the child that the tip-over rule thinks of, 60 lb. Source: [clothing-storage]. Status: read."""

RULE_HEIGHT_MM = 27 * 25.4
"""Clothes cabinets from this height on fall under the rule. Source: [clothing-storage]. Status: read."""

RULE_MASS_KG = 30 * 0.45359237
"""And from this mass on. Source: [clothing-storage]. Status: read."""

RULE_STORAGE_M3 = 3.2 * 0.3048**3
"""And from this closed space on. Source: [clothing-storage]. Status: read."""

INTERLOCK_N = 30 * 4.4482216152605
"""Pull that a drawer's interlock holds for five seconds. Source: [clothing-storage]. Status: read."""

CLOTHES_KG_M3 = 8.5 * 0.45359237 / 0.3048**3
"""Clothes in a full drawer, 8.5 lb/ft3. Source: [clothing-storage-recalled]. Status: recalled."""

RULE_PULL_N = 10 * 4.4482216152605
"""Outward pull at the top, or at 56 in where it is higher. Source: [clothing-storage-recalled]. Status: recalled."""

RULE_PULL_HEIGHT_MM = 56 * 25.4
"""Height of that pull. Source: [clothing-storage-recalled]. Status: recalled."""

RULE_BLOCK_MM = 0.43 * 25.4
"""Block under the rear feet that stands for a carpet. Source: [clothing-storage-recalled]. Status: recalled."""

RESTRAINT_N = 50 * 4.4482216152605
"""Pull that a tip-over strap must hold. Source: [clothing-storage]. Status: read."""

FIXING_FORMULA = "T_i = (F h - M) z_i / sum(z^2), M = sum m g x about the front foot"


def fixing_pulls(
    *, pull_n: float, pull_height_mm: float, righting_n_mm: float, fixing_heights_mm: tuple[float, ...]
) -> tuple[float, ...]:
    r"""Return what each wall fixing holds when a piece is pulled outward.

    $T_i = (F h - M) z_i / \sum z^2$

    Args:
        pull_n: F, outward pull. [N]
        pull_height_mm: h, above the foot. [mm]
        righting_n_mm: M, that keeps the piece on its feet by itself; below 0 when it falls by itself. [N mm]
        fixing_heights_mm: z of each fixing above the foot. [mm]

    Returns:
        Tension of each, in the same order; 0 when the piece stands by its own weight. [N]

    Valid:
        Stiff box turning about its front foot, so that a fixing's tension grows with its height; no bond to neighbours.

    Source:
        [statics]. Status: computed.

    Example:
        >>> [round(t) for t in fixing_pulls(
        ...     pull_n=350, pull_height_mm=2000, righting_n_mm=40 * 9.81 * 150, fixing_heights_mm=(1900, 1900))]
        [169, 169]
    """
    F, h, M = pull_n, pull_height_mm, righting_n_mm
    overturning = max(0.0, F * h - M)
    squares = sum(z**2 for z in fixing_heights_mm)
    return tuple(overturning * z / squares for z in fixing_heights_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Weight:
    """A mass that stands on, hangs in or sits on a piece.

    Args:
        mass_kg: how much. [kg]
        behind_mm: its centre behind the front foot; below 0 in front of it. [mm]
        up_mm: its centre above the floor. [mm]
    """

    mass_kg: float
    behind_mm: float
    up_mm: float


def righting_moment(weights: tuple[Weight, ...], *, falls_rad: float = 0.0) -> float:
    r"""Return the moment that keeps a piece on its feet, about its front foot.

    $M = \sum m_i g (x_i \cos\phi - z_i \sin\phi)$

    Args:
        weights: the piece, what it holds, doors and drawers where they stand, who climbs on it.
        falls_rad: phi, how steeply the floor falls towards the front; below 0 when it rises. [rad]

    Returns:
        Moment; below 0 when it falls over by itself. [N mm]

    Valid:
        Stiff piece on a stiff floor that does not slide.

    Source:
        [statics]. Status: computed.

    Example:
        >>> righting_moment((Weight(mass_kg=40, behind_mm=150, up_mm=900),)) / 1500
        39.24
    """
    cosine, sine = math.cos(falls_rad), math.sin(falls_rad)
    return sum(each.mass_kg * GRAVITY_M_S2 * (each.behind_mm * cosine - each.up_mm * sine) for each in weights)


def under_tipping_rule(*, height_mm: float, mass_kg: float, storage_m3: float) -> bool:
    """Return whether a free-standing clothes cabinet of that size falls under the tip-over rule.

    Args:
        height_mm: of the piece. [mm]
        mass_kg: of the empty piece. [kg]
        storage_m3: closed space for clothes. [m3]

    Returns:
        Whether all three limits are reached; built-in pieces fixed for good and bookcases are outside the rule.

    Source:
        [clothing-storage] 27 in, 30 lb, 3.2 ft3. Status: read.

    Example:
        >>> under_tipping_rule(height_mm=900, mass_kg=30, storage_m3=0.2)
        True
    """
    return height_mm >= RULE_HEIGHT_MM and mass_kg >= RULE_MASS_KG and storage_m3 >= RULE_STORAGE_M3
