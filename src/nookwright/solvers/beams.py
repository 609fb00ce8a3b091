"""Bending and shear of straight beams on supports."""

from __future__ import annotations

import math
from typing import Literal

BeamCase = Literal[
    "even, simple ends",
    "even, fixed ends",
    "even, one end fixed",
    "even, cantilever",
    "middle load, simple ends",
    "middle load, fixed ends",
    "end load, cantilever",
]  # fmt: skip

BENDING: dict[BeamCase, float] = {
    "even, simple ends": 5 / 384,
    "even, fixed ends": 1 / 384,
    "even, one end fixed": 1 / 184.634,
    "even, cantilever": 1 / 8,
    "middle load, simple ends": 1 / 48,
    "middle load, fixed ends": 1 / 192,
    "end load, cantilever": 1 / 3,
}
"""k_b of each case, for the total load. Source: [beam-tables]. Status: computed. Tables print 185 for 184.634."""

SHEAR: dict[BeamCase, float] = {
    "even, simple ends": 1 / 8,
    "even, fixed ends": 1 / 8,
    "even, one end fixed": 1 / 8,
    "even, cantilever": 1 / 2,
    "middle load, simple ends": 1 / 4,
    "middle load, fixed ends": 1 / 4,
    "end load, cantilever": 1.0,
}
"""k_s of each case: the shear force's area. Source: [wood-handbook-recalled]. Status: recalled."""


def deflection(*, case: BeamCase, load_n: float, span_mm: float, stiffness_n_mm2: float) -> float:
    r"""Return the greatest bending deflection of a single-span beam.

    $\delta = k_b W L^3 / (E I)$

    Args:
        case: load and supports.
        load_n: W, total load. [N]
        span_mm: L. [mm]
        stiffness_n_mm2: E I. [N mm2]

    Returns:
        Greatest deflection (at the free end of a cantilever). [mm]

    Valid:
        Elastic, small deflection, constant section.

    Source:
        [beam-tables]. Status: computed, agreed by finite elements.

    Example:
        >>> round(deflection(
        ...     case="even, simple ends", load_n=270, span_mm=900, stiffness_n_mm2=1312.2e6
        ... ), 5)
        1.95312
    """
    k_b, W, L, EI = BENDING[case], load_n, span_mm, stiffness_n_mm2
    return float(k_b * W * L**3 / EI)


def shear_deflection(*, case: BeamCase, load_n: float, span_mm: float, shear_stiffness_n: float) -> float:
    r"""Return the deflection that shear adds.

    $\delta_s = k_s W L / (G A')$

    Args:
        case: load and supports.
        load_n: W, total load. [N]
        span_mm: L. [mm]
        shear_stiffness_n: G A', with A' = 5/6 of a rectangle's area. [N]

    Returns:
        The deflection to add. [mm]

    Valid:
        Elastic; matters above about a tenth in depth over span.

    Source:
        [wood-handbook] general form. Status: read. k_s: [wood-handbook-recalled].
    """
    k_s, W, L = SHEAR[case], load_n, span_mm
    return k_s * W * L / shear_stiffness_n


def point_load_deflection(*, load_n: float, span_mm: float, from_end_mm: float, stiffness_n_mm2: float) -> float:
    r"""Return the greatest deflection under one load anywhere on a simple span.

    $\delta = P a b (a + 2 b) \sqrt{3 a (a + 2 b)} / (27 E I L)$, $a > b$

    Args:
        load_n: P. [N]
        span_mm: L. [mm]
        from_end_mm: distance of the load from either end. [mm]
        stiffness_n_mm2: E I. [N mm2]

    Returns:
        Greatest deflection, between the load and mid-span. [mm]

    Valid:
        Elastic, simple supports.

    Source:
        [beam-tables]. Status: computed, agreed by finite elements.
    """
    P, L, EI = load_n, span_mm, stiffness_n_mm2
    a = max(from_end_mm, L - from_end_mm)
    b = L - a
    return P * a * b * (a + 2 * b) * math.sqrt(3 * a * (a + 2 * b)) / (27 * EI * L)
