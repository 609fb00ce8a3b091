"""Boards on end: when one that is pressed along its length springs aside."""

from __future__ import annotations

BOARD_CV = 0.11
"""Spread of a board's stiffness over its mean where nobody tells it. Source: [column-recalled]. Status: recalled."""

SLENDEREST = 50.0
"""Columns more slender than this are not covered. Source: [column-recalled] 3.7.1.4. Status: recalled."""

FORMULA = "F = 0.822 E_min / (L / t)^2, E_min = E (1 - 1.645 v) 1.03 / 1.66"


def least_modulus(*, modulus_n_mm2: float, modulus_cv: float) -> float:
    r"""Return the stiffness that columns are judged by: of a board softer than 19 in 20, with a margin.

    $E_{min} = E (1 - 1.645 v) 1.03 / 1.66$

    Args:
        modulus_n_mm2: E, mean along the grain. [N/mm2]
        modulus_cv: v, standard deviation over mean.

    Returns:
        E_min. [N/mm2]

    Source:
        [column-recalled] Appendix D. Status: recalled.

    Example:
        >>> round(least_modulus(modulus_n_mm2=10000, modulus_cv=0.25))
        3653
    """
    E, v = modulus_n_mm2, modulus_cv
    return E * (1 - 1.645 * v) * 1.03 / 1.66


def buckling_stress(*, least_modulus_n_mm2: float, length_mm: float, thickness_mm: float) -> float:
    r"""Return the stress at which a board on end springs aside, held at both ends only.

    $F_{cE} = 0.822 E_{min} / (l / t)^2$

    Args:
        least_modulus_n_mm2: E_min, see `least_modulus`. [N/mm2]
        length_mm: l, between the places that hold it. [mm]
        thickness_mm: t, in the direction it gives way. [mm]

    Returns:
        F_cE, pressed along its length. [N/mm2]

    Valid:
        Slender boards; 0.822 is pi^2 / 12.

    Source:
        [column-example], which follows [column-recalled] 3.7.1. Status: read.

    Example:
        >>> round(buckling_stress(least_modulus_n_mm2=510000, length_mm=87.6, thickness_mm=3.5))
        669
    """
    return 0.822 * least_modulus_n_mm2 / (length_mm / thickness_mm) ** 2
