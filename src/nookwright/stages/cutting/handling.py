"""What one person can do with a piece of sheet: what it weighs, and which of the shop's saws makes a cut in it."""

from __future__ import annotations

from dataclasses import dataclass

from nookwright.stages.cutting.blanks import TENTHS, tenths_down, tenths_up
from nookwright.stages.cutting.cutting_plan import CutBy
from nookwright.stages.inputs.shop import Saw, SheetStock
from nookwright.trade.woods import wood

Way = tuple[CutBy, bool, int]
"""What a cut is made with, whether the far edge lies at the fence, and the distance from that edge. [0.1 mm]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Handling:
    """Sheets of one stock on the shop's saws.

    Args:
        saw: the saws.
        kg_per_m2: mass of the stock, from its density and measured thickness. [kg/m2]
    """

    saw: Saw
    kg_per_m2: float

    def kg(self, length: int, width: int) -> float:
        """Return what a piece weighs; sizes in 0.1 mm. [kg]"""
        return max(0, length) * max(0, width) / (TENTHS * 1000) ** 2 * self.kg_per_m2

    def heavy(self, length: int, width: int) -> bool:
        """Whether a piece is too heavy to be turned on the saw by one person."""
        return self.kg(length, width) > self.saw.lift_kg

    def way(self, *, cut: int, near: int, far: int, heavy: bool) -> Way | None:
        """Return how a cut is made; None where no saw makes it. Sizes in 0.1 mm.

        At the fence the edge must be at least as long as the fence is away, and no strip as thin as a trimmed-off
        edge is held there. A heavy piece is cut with the saw on its track where that is long enough.

        Args:
            cut: length of the cut.
            near, far: width of the two pieces that it leaves.
            heavy: whether the piece is too heavy for one person.
        """
        if not self.saw.limited:
            return ("", False, near)
        trim = tenths_up(self.saw.trim_mm)
        by_track: Way | None = ("track", False, near) if cut <= tenths_down(self.saw.track_mm) else None
        if heavy and by_track:
            return by_track
        for distance, from_far in ((near, False), (far, True)):
            if trim < distance <= min(cut, tenths_down(self.saw.rip_mm)):
                return ("fence", from_far, distance)
        if cut <= tenths_down(self.saw.crosscut_mm):
            return ("crosscut", False, near)
        return by_track


def handling_of(stock: SheetStock, saw: Saw) -> Handling:
    """Return how sheets of a stock are handled.

    Args:
        stock: the sheet, whose wood tells its density.
        saw: the saws.
    """
    return Handling(saw=saw, kg_per_m2=wood(stock.wood).density_kg_m3 * stock.thickness_mm / 1000)
