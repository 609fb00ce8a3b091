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
        [nds-creep] k = 1.5 for seasoned wood. Status: read. Boards, k = 1 + kdef: [eurocode-5], recalled.
        Effects of warmth and unloading: [wood-handbook] p. 5-38, read.

    Example:
        >>> long_term_sag(initial_mm=2.0, creep=1.5)
        3.0
    """
    return initial_mm * (1 + permanent_share * (creep - 1))
