"""The cutting plan: what is cut from which sheet and board, in which order, with the bound it is judged by."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from nookwright.basics.lengths import Marks


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A blank to cut: its size along and across the grain, saw-clean. [mm]"""

    part: str
    length_mm: float
    width_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A blank on its sheet: lower left corner, and its size as it lies. [mm]

    Args:
        turned: whether it lies across the sheet's grain (only where grain is free).
    """

    part: str
    x_mm: float
    y_mm: float
    length_mm: float
    width_mm: float
    turned: bool

    @property
    def own_size_mm(self) -> tuple[float, float]:
        """Its length and width as its part has them: along the part's grain first, turned or not. [mm]"""
        size = (self.length_mm, self.width_mm)
        return size[::-1] if self.turned else size


CutBy = Literal["", "fence", "crosscut", "track"]
"""What a cut is made with: at the table saw's fence, on its sled, with a saw on its track; empty where any will do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One straight cut right through the piece in hand.

    Args:
        order: its number, from 1.
        along: `length` cuts parallel to the sheet's length (a rip), `width` across it (a crosscut).
        at_mm: distance of the cut's near side from the fence edge of the piece in hand. [mm]
        x1_mm, y1_mm, x2_mm, y2_mm: ends of its centre line on the sheet. [mm]
        by: what it is made with.
        from_far: whether the piece's edge farther from the sheet's corner lies at the fence; else the nearer one.
        kg: mass of the piece in hand before the cut. [kg]
    """

    order: int
    along: Literal["length", "width"]
    at_mm: float
    x1_mm: float
    y1_mm: float
    x2_mm: float
    y2_mm: float
    by: CutBy = ""
    from_far: bool = False
    kg: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Leftover:
    """A rectangle of sheet left over and worth keeping. [mm]"""

    x_mm: float
    y_mm: float
    length_mm: float
    width_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPlan:
    """One sheet to cut.

    Args:
        placed: its parts, in the order in which the cuts free them.
        offcut: whether it is an offcut on hand, with clean edges; else it is a sheet with factory edges.
    """

    stock: str
    index: int
    length_mm: float
    width_mm: float
    placed: tuple[Placed, ...]
    cuts: tuple[Cut, ...]
    leftovers: tuple[Leftover, ...]
    offcut: bool = False


Laid = Literal["as drawn", "end for end", "over", "over end for end"]
"""How a piece lies on its board: as drawn, face A up; turned end for end, face A up; turned over its long edge, face B
up; turned over end for end, face B up."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedCut:
    """One slanted cut that frees two pieces: the one before it in its lane and the one after it.

    Args:
        at_mm: where its near side meets the lane's near edge on the upper face, from the board's first end. [mm]
        mitre_rad: how far it is turned from square; above 0 where it gets farther from the first end across. [rad]
        tilt_rad: tilt of the blade; above 0 where it gets farther from the first end going down. [rad]
    """

    at_mm: float
    mitre_rad: float
    tilt_rad: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardPiece:
    """A length to cut from a board: where its near end lies, and its length. [mm]

    Args:
        across_mm: distance of its near edge from the board's edge; 0 when the board is not ripped. [mm]
        width_mm: width the board is ripped to for it; the board's own width when it is not ripped. [mm]
        laid: how it lies.
        shared: the slanted cut that parts it from the piece before it; None where that is cut off square.
    """

    part: str
    at_mm: float
    length_mm: float
    across_mm: float = 0.0
    width_mm: float = 0.0
    laid: Laid = "as drawn"
    shared: SharedCut | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardPlan:
    """One board to cut: pieces from its trimmed end on, and what is left.

    Args:
        pieces: lane after lane across the board, and within a lane from the trimmed end on.
        leftover_mm: length left at the far end over the full width. [mm]
        offcut: whether it is an offcut on hand, with clean ends; else it is bought.
        cut_from: of an offcut, the flawed board that it is cut out of, and from where to where; else empty.
        width_mm: of a strip on hand, narrower than the board; 0 for a board of full width. [mm]
        strip_mm: width of the strip that is left beyond the last lane and is kept; 0 for none. [mm]
        strip_length_mm: its length, from the first lane's start to where the board is ripped to. [mm]
    """

    stock: str
    index: int
    length_mm: float
    pieces: tuple[BoardPiece, ...]
    leftover_mm: float
    offcut: bool = False
    cut_from: str = ""
    width_mm: float = 0.0
    strip_mm: float = 0.0
    strip_length_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class StockSummary:
    """How well one stock is used.

    Args:
        used: sheets or boards in the plan.
        at_least: no plan at all can do with fewer; by area, length or conflicting pieces.
        yield_share: area or length of the blanks over that of the stock used, 0 to 1.
        bound_says: the bound's reason in one line.
        also_says: what else counts, each measured on the plan, with its bound where one is known.
    """

    stock: str
    used: int
    at_least: int
    yield_share: float
    bound_says: str
    also_says: tuple[str, ...] = ()


TENTHS_MM = Marks(units="mm", resolution=0.1)
"""How sizes are said where nobody tells in which units: as they are reckoned."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TooLarge:
    """A blank no stock can give, or no saw of the shop can make, with the cure.

    Args:
        why: what keeps it from being cut, in one sentence; empty where it is larger than its stock.
        gives_mm: length that its stock gives, where only its length is too large; else 0. [mm]
        split_mm: where it is best split, from the left end of its drawing. [mm]
    """

    part: str
    length_mm: float
    width_mm: float
    cure: str
    why: str = ""
    gives_mm: float = 0.0
    split_mm: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingPlan:
    """Every sheet and board to cut.

    Args:
        unmatched: numbers of parts that were to be cut side by side, and are not.
    """

    sheets: tuple[SheetPlan, ...]
    boards: tuple[BoardPlan, ...]
    summaries: tuple[StockSummary, ...]
    too_large: tuple[TooLarge, ...]
    unmatched: tuple[tuple[str, ...], ...] = ()
