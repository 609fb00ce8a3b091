"""What every step of the design looks at: the brief, the room, the shop, and the problems noted so far."""

from __future__ import annotations

from dataclasses import dataclass, replace

from nookwright.basics.lengths import Marks, show
from nookwright.basics.problems import Inspection, Where
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.shop import BoardStock, SheetStock, Shop
from nookwright.stages.room.room import Room


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """The job as the design sees it; `inspection` takes what cannot be worked with."""

    brief: Brief
    room: Room
    shop: Shop
    inspection: Inspection

    def said(self, mm: float) -> str:
        """Return a length as the reader says it, with its unit."""
        return show(mm, Marks(units=self.brief.units, resolution=self.brief.resolution), with_unit=True)

    def quiet(self) -> Setting:
        """Return the same setting with problems noted apart, for a trial."""
        return replace(self, inspection=Inspection())

    def sheet(self, key: str, field: str, where: Where) -> SheetStock:
        """Return the sheet stock of that key; notes a problem and lends another when there is none."""
        stock = self.shop.stock(key)
        if isinstance(stock, SheetStock):
            return stock
        keys = ", ".join(sheet.key for sheet in self.shop.sheets)
        self.inspection.expect(False, field, f"{field}: {key}", f"a sheet stock of the shop: {keys}", where=where)
        return self.shop.sheets[0]

    def stock(self, key: str, field: str, where: Where) -> SheetStock | BoardStock:
        """Return the stock of that key; notes a problem and lends another when there is none."""
        stock = self.shop.stock(key)
        if stock is not None:
            return stock
        keys = ", ".join([*(sheet.key for sheet in self.shop.sheets), *(board.key for board in self.shop.boards)])
        self.inspection.expect(False, field, f"{field}: {key}", f"a stock of the shop: {keys}", where=where)
        return self.shop.sheets[0]
