"""How much more a shelf sags with years."""

from __future__ import annotations

FORMULA = "sag after years = sag at once x (1 + share (k - 1))"


def long_term_sag(*, initial_mm: float, creep: float, permanent_share: float = 1.0) -> float:
    r"""Return the sag after years under a load that stays.

    $\delta_\infty = \delta (1 + \psi (k - 1))$

    Args:
        initial_mm: sag at once. [mm]
        creep: k, long-term over initial for a load that never leaves (see `woods.py`).
        permanent_share: share of the load that stays; books stay, so 1.

    Returns:
        Sag after years. [mm]

    Valid:
        Dry, heated room. Warmth of 28 K more makes creep 2 to 3 times larger; half recovers on unloading.

    Source:
        [nds-creep] k = 1.5 for seasoned wood. Status: read. Boards, k = 1 + kdef: [eurocode-5], read.
        Effects of warmth and unloading: [wood-handbook] p. 5-38, read.

    Example:
        >>> long_term_sag(initial_mm=2.0, creep=1.5)
        3.0
    """
    return initial_mm * (1 + permanent_share * (creep - 1))


DAMP_RATIO = 4 / 3
"""In a damp place the creep beyond the first sag is larger by this: 0.8 for 0.6, 3.0 for 2.25. Source: [eurocode-5]
Table 3.2, service class 2 over 1. Status: read."""


def damp_creep(creep: float) -> float:
    r"""Return the creep factor of a place that is damp for weeks at a time.

    $k_d = 1 + (k - 1) 4 / 3$

    Args:
        creep: k of the same wood in a dry, heated room.

    Returns:
        k_d.

    Valid:
        Inside, not in the weather; drying under load makes creep 4 to 6 times larger still.

    Source:
        [eurocode-5] kdef of service class 2 over class 1. Status: read.

    Example:
        >>> round(damp_creep(1.6), 2)
        1.8
    """
    return 1 + (creep - 1) * DAMP_RATIO


def sag_band(*, sag_mm: float, modulus_cv: float) -> tuple[float, float]:
    r"""Return between what two boards out of three sag.

    $\delta / (1 + v)$ to $\delta / (1 - v)$

    Args:
        sag_mm: of a board of mean stiffness. [mm]
        modulus_cv: v, standard deviation of the stiffness over its mean; 0 when it is not known.

    Returns:
        The stiffer and the softer board's sag. [mm]

    Source:
        [wood-handbook] Table 5-6, v = 0.22 for clear wood. Status: read.

    Example:
        >>> [round(sag, 2) for sag in sag_band(sag_mm=2.0, modulus_cv=0.22)]
        [1.64, 2.56]
    """
    return sag_mm / (1 + modulus_cv), sag_mm / (1 - modulus_cv)
