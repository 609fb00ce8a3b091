"""What keeps a box square against a sideways push: a sheet fastened round its edges, or couples of screws."""

from __future__ import annotations

SHEAR_FORMULA = "V = q b, q = what the weakest edge's screws carry per length"
COUPLE_FORMULA = "V = sum(Z e) / h, Z one screw, e between the two of a rail's end"


def panel_push(*, width_mm: float, edge_n_mm: float) -> float:
    r"""Return the sideways push that a sheet carries when it is fastened to a frame along all its edges.

    $V = q b$: the same shear q along every edge holds the sheet in balance, horizontally $q b$, and the couple
    $V h$ of the push at the top is $q h b$ of the two uprights.

    Args:
        width_mm: b, of the sheet across the push. [mm]
        edge_n_mm: q, what the weakest edge's fasteners carry per length. [N/mm]

    Returns:
        V. [N]

    Valid:
        Frame pinned at its corners, its foot held down; the sheet stiff enough not to buckle between its fasteners.

    Source:
        [statics] any loads in balance that no fastener exceeds can be carried. Status: computed.

    Example:
        >>> panel_push(width_mm=800.0, edge_n_mm=1.5)
        1200.0
    """
    return width_mm * edge_n_mm


def couple_push(*, couples_n_mm: tuple[float, ...], height_mm: float) -> float:
    r"""Return the sideways push that couples at the ends of rails carry.

    $V = \sum M_i / h$: each end turns with the box, and gives work $M_i \theta$ against the push's $V h \theta$.

    Args:
        couples_n_mm: M, what each rail's end holds before its screws slip. [N mm]
        height_mm: h, of the push above the foot. [mm]

    Returns:
        V. [N]

    Source:
        [statics] virtual work. Status: computed.

    Example:
        >>> couple_push(couples_n_mm=(20000.0, 20000.0), height_mm=800.0)
        50.0
    """
    return sum(couples_n_mm) / height_mm
