"""Shelf deflection: bending, shear, spans, lips, and the stress in the wood."""

from __future__ import annotations

from dataclasses import dataclass

from nookwright.basics.problems import Inspection
from nookwright.solvers.beams import BeamCase, deflection, shear_deflection
from nookwright.trade.sections import Strip, transformed

MODULUS_OVER_SHEAR = 16.0
"""E/G of solid wood. Source: [shear-modulus]. Status: read. Lower in MDF and particleboard; perhaps three times that
in plywood laid flat, whose published moduli hold their own shear. The part is 0.96 E/G (t/L)^2 of the bending."""

SHEAR_AREA_SHARE = 5 / 6
"""A' = 5/6 b h of a rectangle. Source: [wood-handbook]. Status: read."""

FORMULA = "sag = 5 w L^4 / (384 E I) + w L^2 / (8 G A'), I = b t^3 / 12, A' = 5/6 b t, G = E / 16"


@dataclass(frozen=True, slots=True, kw_only=True)
class Sag:
    """Deflection of a shelf. [mm]

    Args:
        bending_mm: from bending.
        shear_mm: from shear.
    """

    bending_mm: float
    shear_mm: float

    @property
    def total_mm(self) -> float:
        """Both together. [mm]"""
        return self.bending_mm + self.shear_mm


def shelf_sag(
    *,
    load_n_mm: float,
    span_mm: float,
    modulus_n_mm2: float,
    depth_mm: float,
    thickness_mm: float,
    case: BeamCase = "even, simple ends",
) -> Sag:
    r"""Return the sag of a plain shelf as it is loaded, before creep.

    $\delta = k_b W L^3 / (E I) + k_s W L / (G A')$ with $W = w L$, $I = b t^3 / 12$, $A' = 5 b t / 6$

    Args:
        load_n_mm: w, load per length of shelf. [N/mm]
        span_mm: L, clear distance between supports. [mm]
        modulus_n_mm2: E, along the span. [N/mm2]
        depth_mm: b, front to back. [mm]
        thickness_mm: t, in the direction of the load. [mm]
        case: load and supports; for a point load `load_n_mm` is still the load over the span.

    Returns:
        Bending and shear parts; downward is positive. [mm]

    Raises:
        InvalidInputError: if a size or the modulus is not above zero.

    Valid:
        Elastic; creep left out (see `creep.py`).

    Source:
        [wood-handbook] deflection equation. Status: read. k_b: [beam-tables]. k_s: [wood-handbook-recalled].
        G = E/16: [shear-modulus].

    Example:
        >>> sag = shelf_sag(load_n_mm=0.3, span_mm=900, modulus_n_mm2=9000, depth_mm=300, thickness_mm=18)
        >>> round(sag.bending_mm, 4), round(sag.shear_mm, 4)
        (1.9531, 0.012)
    """
    inspection = Inspection()
    inspection.expect(span_mm > 0, "span_mm", span_mm, "a length above 0 mm")
    inspection.expect(modulus_n_mm2 > 0, "modulus_n_mm2", modulus_n_mm2, "a modulus above 0 N/mm2")
    inspection.expect(depth_mm > 0, "depth_mm", depth_mm, "a size above 0 mm")
    inspection.expect(thickness_mm > 0, "thickness_mm", thickness_mm, "a size above 0 mm")
    inspection.finish()
    w, L, E, b, t = load_n_mm, span_mm, modulus_n_mm2, depth_mm, thickness_mm
    W, I = w * L, b * t**3 / 12
    G, A = E / MODULUS_OVER_SHEAR, SHEAR_AREA_SHARE * b * t
    return Sag(
        bending_mm=deflection(case=case, load_n=W, span_mm=L, stiffness_n_mm2=E * I),
        shear_mm=shear_deflection(case=case, load_n=W, span_mm=L, shear_stiffness_n=G * A),
    )


def span_limit(
    *, load_n_mm: float, sag_ratio: float, modulus_n_mm2: float, depth_mm: float, thickness_mm: float
) -> float:
    r"""Return the longest span whose elastic sag stays within a share of it.

    $L = (384 E I / (5 w n))^{1/3}$

    Args:
        load_n_mm: w. [N/mm]
        sag_ratio: n, span over sag allowed, for example 144 or 384.
        modulus_n_mm2: E. [N/mm2]
        depth_mm: b. [mm]
        thickness_mm: t. [mm]

    Returns:
        The span. [mm]

    Valid:
        Simple ends, even load, bending only, no creep: divide n's demand by the creep factor for years.

    Source:
        [aws-2009] span table, which this reproduces. Status: read.

    Example:
        >>> round(span_limit(load_n_mm=0.3, sag_ratio=384, modulus_n_mm2=9000, depth_mm=300, thickness_mm=18))
        956
    """
    w, n, E, b, t = load_n_mm, sag_ratio, modulus_n_mm2, depth_mm, thickness_mm
    I = b * t**3 / 12
    return float((384 * E * I / (5 * w * n)) ** (1 / 3))


def lipped_stiffness(
    *,
    shelf_modulus_n_mm2: float,
    shelf_depth_mm: float,
    shelf_thickness_mm: float,
    lip_modulus_n_mm2: float,
    lip_thickness_mm: float,
    lip_height_mm: float,
) -> float:
    r"""Return E I of a shelf with a strip glued along its front edge, tops flush.

    $E I = \sum E_i (b_i h_i^3 / 12 + b_i h_i (c_i - c)^2)$, $c = \sum E_i A_i c_i / \sum E_i A_i$

    Args:
        shelf_modulus_n_mm2: of the shelf along its span. [N/mm2]
        shelf_depth_mm: depth of the shelf board alone, without the strip. [mm]
        shelf_thickness_mm: of the shelf board. [mm]
        lip_modulus_n_mm2: of the strip along its length. [N/mm2]
        lip_thickness_mm: of the strip, front to back. [mm]
        lip_height_mm: of the strip, up and down. [mm]

    Returns:
        E I about the common neutral axis. [N mm2]

    Valid:
        Glued all along; the shelf bends without twisting.

    Source:
        [transformed-section]. Status: computed.

    Example:
        >>> round(lipped_stiffness(
        ...     shelf_modulus_n_mm2=9000, shelf_depth_mm=282, shelf_thickness_mm=18,
        ...     lip_modulus_n_mm2=12500, lip_thickness_mm=18, lip_height_mm=38) / 1e6, 2)
        2982.53
    """
    shelf = Strip(modulus_n_mm2=shelf_modulus_n_mm2, width_mm=shelf_depth_mm, height_mm=shelf_thickness_mm)
    lip = Strip(modulus_n_mm2=lip_modulus_n_mm2, width_mm=lip_thickness_mm, height_mm=lip_height_mm)
    return transformed((shelf, lip)).stiffness_n_mm2


def bending_stress(*, load_n_mm: float, span_mm: float, depth_mm: float, thickness_mm: float) -> float:
    r"""Return the greatest bending stress of an evenly loaded shelf on two supports.

    $\sigma = (w L^2 / 8) / (b t^2 / 6)$

    Args:
        load_n_mm: w. [N/mm]
        span_mm: L. [mm]
        depth_mm: b. [mm]
        thickness_mm: t. [mm]

    Returns:
        Stress at mid-span. [N/mm2]

    Valid:
        Elastic, rectangular section.

    Source:
        [beam-tables]. Status: computed.

    Example:
        >>> bending_stress(load_n_mm=0.3, span_mm=900, depth_mm=300, thickness_mm=18)
        1.875
    """
    w, L, b, t = load_n_mm, span_mm, depth_mm, thickness_mm
    return (w * L**2 / 8) / (b * t**2 / 6)


def allowable_stress(*, strength_n_mm2: float, strength_cv: float = 0.16, duration: float = 0.9) -> float:
    r"""Return the bending stress a board may carry for good.

    $F = R (1 - 1.645 v) C_D / 2.1$

    Args:
        strength_n_mm2: R, mean modulus of rupture of clear wood. [N/mm2]
        strength_cv: v, standard deviation over mean; 16 % for clear wood.
        duration: C_D, 0.9 for a permanent load.

    Returns:
        Allowable stress. [N/mm2]

    Valid:
        Clear wood and sound boards: a knot in the middle of the front edge weakens a board beyond this.

    Source:
        [wood-stress-practice] fifth percentile over 2.1. Status: read. v: [wood-handbook] Table 5-6, read.
        C_D: [nds], read.

    Example:
        >>> round(allowable_stress(strength_n_mm2=65.0), 1)
        20.5
    """
    R, v, C_D = strength_n_mm2, strength_cv, duration
    return R * (1 - 1.645 * v) * C_D / 2.1
