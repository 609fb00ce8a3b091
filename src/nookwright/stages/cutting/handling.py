"""What one person can do with a piece of sheet: what it weighs, and which of the shop's saws makes a cut in it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from nookwright.stages.cutting.blanks import TENTHS, tenths_down, tenths_up
from nookwright.stages.cutting.cutting_plan import CutBy
from nookwright.stages.inputs.shop import Saw, SheetStock
from nookwright.trade.woods import wood

Exact = Literal["near", "far", "neither"]
"""Which of the two pieces that a cut leaves has its size by this cut: a part or a strip of parts, not what is left."""

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

    def way(self, *, cut: int, near: int, far: int, heavy: bool, exact: Exact = "neither") -> Way | None:
        """Return how a cut is made; None where no saw makes it. Sizes in 0.1 mm.

        At the fence the edge must be at least as long as the fence is away, and no strip as thin as a trimmed-off
        edge is held there. A heavy piece is cut with the saw on its track where that is long enough. What has its size
        by this cut is measured itself wherever a saw allows it, not what is left beside it.

        Args:
            cut: length of the cut.
            near, far: width of the two pieces that it leaves.
            heavy: whether the piece is too heavy for one person.
            exact: which of the two has its size by this cut.
        """
        if not self.saw.limited:
            return ("", False, near)
        sides = ((False, near), (True, far)) if exact != "far" else ((True, far), (False, near))
        at_fence: list[Way | None] = [("fence", *side) if self._runs(cut, side[1]) else None for side in sides]
        sled: Way | None = ("crosscut", *sides[0]) if cut <= tenths_down(self.saw.crosscut_mm) else None
        track: Way | None = ("track", *sides[0]) if cut <= tenths_down(self.saw.track_mm) else None
        if heavy and track:
            return track
        if exact == "neither":
            return at_fence[0] or at_fence[1] or sled or track
        return at_fence[0] or sled or track or at_fence[1]

    def _runs(self, cut: int, distance: int) -> bool:
        """Whether an edge as long as the cut runs along the fence so far away. [0.1 mm]"""
        return tenths_up(self.saw.trim_mm) < distance <= min(cut, tenths_down(self.saw.rip_mm))


def handling_of(stock: SheetStock, saw: Saw) -> Handling:
    """Return how sheets of a stock are handled.

    Args:
        stock: the sheet, whose wood tells its density.
        saw: the saws.
    """
    return Handling(saw=saw, kg_per_m2=wood(stock.wood).density_kg_m3 * stock.thickness_mm / 1000)
