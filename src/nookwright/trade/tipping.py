"""Pull on a tall piece: when it tips by itself, and what its wall fixings then hold."""

from __future__ import annotations

GRAVITY_M_S2 = 9.81
"""Weight of a kilogram, in newtons. Source: [statics]."""

TIP_FORMULA = "F = m g (d / 2) / h"
FIXING_FORMULA = "T_i = (F h - m g d / 2) z_i / sum(z^2)"


def tipping_pull(*, mass_kg: float, depth_mm: float, height_mm: float) -> float:
    r"""Return the outward pull at a height that tips a free-standing piece over its front foot.

    $F = m g (d / 2) / h$

    Args:
        mass_kg: m. [kg]
        depth_mm: d, front to back; the centre of mass lies in the middle. [mm]
        height_mm: h, of the pull above the foot. [mm]

    Returns:
        The pull. [N]

    Valid:
        Stiff box on a stiff floor that does not slide; shelves empty.

    Source:
        [statics]. Status: computed.

    Example:
        >>> round(tipping_pull(mass_kg=40, depth_mm=300, height_mm=1500), 2)
        39.24
    """
    m, d, h = mass_kg, depth_mm, height_mm
    return m * GRAVITY_M_S2 * (d / 2) / h


def fixing_pulls(
    *, pull_n: float, pull_height_mm: float, mass_kg: float, depth_mm: float, fixing_heights_mm: tuple[float, ...]
) -> tuple[float, ...]:
    r"""Return what each wall fixing holds when a piece is pulled outward.

    $T_i = (F h - m g d / 2) z_i / \sum z^2$

    Args:
        pull_n: F, outward pull. [N]
        pull_height_mm: h, above the foot. [mm]
        mass_kg: m, of the empty piece. [kg]
        depth_mm: d, front to back. [mm]
        fixing_heights_mm: z of each fixing above the foot. [mm]

    Returns:
        Tension of each, in the same order; 0 when the piece stands by its own weight. [N]

    Valid:
        Stiff box turning about its front foot, so that a fixing's tension grows with its height; no bond to neighbours.

    Source:
        [statics]. Status: computed.

    Example:
        >>> [round(t) for t in fixing_pulls(
        ...     pull_n=350, pull_height_mm=2000, mass_kg=40, depth_mm=300, fixing_heights_mm=(1900, 1900))]
        [169, 169]
    """
    F, h, m, d = pull_n, pull_height_mm, mass_kg, depth_mm
    overturning = max(0.0, F * h - m * GRAVITY_M_S2 * d / 2)
    squares = sum(z**2 for z in fixing_heights_mm)
    return tuple(overturning * z / squares for z in fixing_heights_mm)
