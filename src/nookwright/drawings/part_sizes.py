"""How the edges of a part are cut: mitres, tilts and what is left on; and which parts one drawing serves."""

from __future__ import annotations

import math
from dataclasses import dataclass

from nookwright.stages.parts.part import Part

SQUARE_DEG = 0.05
"""A cut nearer to square than this is square; angles are printed to 0.1 degree. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeCut:
    """How one edge is cut.

    Args:
        letter: its letter on the drawing.
        length_mm: on face A. [mm]
        mitre_deg: how far it lies from square to the grain, or from along it, whichever is nearer. [deg]
        tilt_deg: blade tilt from square; above 0 where face B is larger. [deg]
        scribe_mm: allowance left on. [mm]
        meets: what it meets.
    """

    letter: str
    length_mm: float
    mitre_deg: float
    tilt_deg: float
    scribe_mm: float
    meets: str


def edge_cuts(part: Part) -> tuple[EdgeCut, ...]:
    """Return how every edge is cut, lettered in the outline's order."""
    cuts: list[EdgeCut] = []
    for i, edge in enumerate(part.edges):
        (u1, v1), (u2, v2) = part.outline[i], part.outline[(i + 1) % len(part.outline)]
        direction = math.degrees(math.atan2(v2 - v1, u2 - u1)) % 90.0
        cuts.append(
            EdgeCut(
                letter=chr(ord("a") + i), length_mm=math.hypot(u2 - u1, v2 - v1),
                mitre_deg=min(direction, 90.0 - direction), tilt_deg=math.degrees(edge.bevel_rad),
                scribe_mm=edge.scribe_mm, meets=edge.meets,
            )
        )  # fmt: skip
    return tuple(cuts)


def plain(part: Part) -> bool:
    """Whether its sizes in the list say everything: a rectangle with nothing cut in it and nothing left on."""
    return part.plain and not any(edge.scribe_mm for edge in part.edges)


def alike(part: Part) -> tuple[object, ...]:
    """Return what two parts share when one drawing serves both: all but their numbers, places and neighbours."""

    def rounded(*values: float) -> tuple[float, ...]:
        return tuple(round(value, 2) + 0.0 for value in values)

    return (
        part.name,
        part.stock,
        part.pieces,
        part.notes,
        tuple(rounded(*corner) for corner in part.outline),
        tuple((*rounded(math.degrees(edge.bevel_rad), edge.scribe_mm), edge.meets) for edge in part.edges),
        tuple((*rounded(h.u_mm, h.v_mm, h.width_mm, h.height_mm), h.purpose) for h in part.cutouts),
        tuple((g.face, *rounded(*g.start, *g.end, g.width_mm, g.depth_mm)) for g in part.grooves),
        tuple((h.face, *rounded(h.u_mm, *h.v_mm, h.diameter_mm)) for h in part.pin_holes),
    )


def degrees(angle_deg: float) -> str:
    """Return an angle to a tenth of a degree, `square` when the saw cannot tell it from square."""
    return "square" if abs(angle_deg) < SQUARE_DEG else f"{abs(angle_deg):.1f}°"


def turned(angle_deg: float) -> bool:
    """Return whether the saw must be turned off square for it."""
    return abs(angle_deg) >= SQUARE_DEG
