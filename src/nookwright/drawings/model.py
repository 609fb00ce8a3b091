"""The furniture as solids to show: every part under its number and name."""

from __future__ import annotations

from nookwright.drawings.export.model3d import Solid
from nookwright.geometry.mesh import mesh_of
from nookwright.stages.parts.part import Part, PartList, Role
from nookwright.stages.parts.solids import solid_of

Colour = tuple[float, float, float]

WOOD: Colour = (0.8, 0.72, 0.58)
TONES: dict[Role, Colour] = {
    "worktop": (0.62, 0.48, 0.33),
    "door": (0.86, 0.86, 0.83),
    "strip": (0.9, 0.88, 0.82),
    "skirting": (0.9, 0.88, 0.82),
    "platform rail": (0.7, 0.66, 0.58),
    "platform bearer": (0.7, 0.66, 0.58),
}
"""Roles that are shown in another tone than plain wood."""


def solids(parts: PartList) -> tuple[Solid, ...]:
    """Return every part as a solid in the room, in the order of the parts list.

    Args:
        parts: the parts.
    """
    return tuple(_shown(part) for part in parts.parts)


def _shown(part: Part) -> Solid:
    mesh = mesh_of(solid_of(part))
    return Solid(
        name=f"{part.number} {part.name}",
        vertices=mesh.vertices,
        triangles=mesh.triangles,
        colour=TONES.get(part.role, WOOD),
    )
