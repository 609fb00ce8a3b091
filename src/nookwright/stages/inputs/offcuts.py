"""Offcuts: what earlier jobs left over and kept, shared between jobs; and a shop with them on its shelves."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Literal

from nookwright.stages.inputs.shop import BoardOffcut, SheetSize, Shop


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptSheet:
    """A piece of sheet that was kept; the face grain runs along its length. [mm]

    Args:
        stock: key of its stock.
        length_mm, width_mm: its size, its edges saw-clean. [mm]
        value: its share of a sheet's price, by area.
        left_from: which job left it.
    """

    stock: str
    length_mm: float
    width_mm: float
    value: Decimal
    left_from: str


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptBoard:
    """A piece of board that was kept.

    Args:
        stock: key of its stock.
        length_mm: its length. [mm]
        width_mm: of a strip narrower than the board, its edges straight; 0 for a piece of full width. [mm]
        value: its share of a board's price, by length and width.
        left_from: which job left it.
    """

    stock: str
    length_mm: float
    width_mm: float = 0.0
    value: Decimal
    left_from: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Offcuts:
    """The offcut file.

    Args:
        units: units its sizes are written in.
        sheets, boards: the pieces.
        done: the jobs whose leftovers were put in, so that none is put in twice.
    """

    units: Literal["mm", "inch"] = "mm"
    sheets: tuple[KeptSheet, ...] = ()
    boards: tuple[KeptBoard, ...] = ()
    done: tuple[str, ...] = ()

    @property
    def value(self) -> Decimal:
        """What all pieces together are worth."""
        return sum((one.value for one in self.sheets), Decimal(0)) + sum((one.value for one in self.boards), Decimal(0))


NO_OFFCUTS = Offcuts()


def with_offcuts(shop: Shop, offcuts: Offcuts) -> Shop:
    """Return the shop with the kept pieces among its stock: used first, and free.

    Args:
        shop: the shop.
        offcuts: the pieces kept.
    """
    sheets = []
    for sheet in shop.sheets:
        sizes = Counter((one.length_mm, one.width_mm) for one in offcuts.sheets if one.stock == sheet.key)
        more = tuple(
            SheetSize(length_mm=length, width_mm=width, offcut=True, count=count, shared=True)
            for (length, width), count in sizes.items()
        )
        sheets.append(replace(sheet, sizes=sheet.sizes + more))
    boards = []
    for board in shop.boards:
        pieces = Counter((one.length_mm, one.width_mm) for one in offcuts.boards if one.stock == board.key)
        more_boards = tuple(
            BoardOffcut(length_mm=length, width_mm=width, count=count, shared=True)
            for (length, width), count in pieces.items()
        )
        boards.append(replace(board, offcuts=board.offcuts + more_boards))
    return replace(shop, sheets=tuple(sheets), boards=tuple(boards))
