"""Facts: what is already bought, cut or built, and how it really came out."""

from __future__ import annotations

from dataclasses import dataclass, replace

from nookwright.basics.problems import NOWHERE, Where
from nookwright.stages.inputs.shop import Shop


@dataclass(frozen=True, slots=True, kw_only=True)
class RealThickness:
    """A stock's thickness as measured on the batch that was bought. [mm]"""

    stock: str
    thickness_mm: float
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltPart:
    """A part as it was really cut. [mm]"""

    number: str
    length_mm: float
    width_mm: float
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """Everything known to be so, whatever was planned."""

    thicknesses: tuple[RealThickness, ...] = ()
    parts: tuple[BuiltPart, ...] = ()

    def applied_to(self, shop: Shop) -> Shop:
        """Return the shop with every batch at its measured thickness."""
        real = {fact.stock: fact.thickness_mm for fact in self.thicknesses}
        sheets = tuple(replace(s, thickness_mm=real.get(s.key, s.thickness_mm)) for s in shop.sheets)
        boards = tuple(replace(b, thickness_mm=real.get(b.key, b.thickness_mm)) for b in shop.boards)
        return replace(shop, sheets=sheets, boards=boards)


NOTHING_BUILT_YET = Facts()
