"""The blanks parts are cut from, in the whole tenths of a millimetre that the search counts in."""

from __future__ import annotations

import math

from nookwright.basics.lengths import Marks
from nookwright.stages.inputs.shop import BoardStock
from nookwright.stages.parts.part import Part
from nookwright.stages.parts.sizes import cut_size_mm

TENTHS = 10


def tenths_up(size_mm: float) -> int:
    """Return a size in tenths of a millimetre, rounded up so that nothing is lost; float dust does not count."""
    return math.ceil(size_mm * TENTHS - 1e-6)


def tenths_down(size_mm: float) -> int:
    """Return a size in tenths of a millimetre, rounded down: for what stock really gives."""
    return math.floor(size_mm * TENTHS + 1e-6)


def cut_tenths(part: Part, marks: Marks) -> tuple[int, int]:
    """Return the length along the grain and the width that a part's blank is set to at the saw. [0.1 mm]"""
    length_mm, width_mm = cut_size_mm(part, marks)
    return tenths_up(length_mm), tenths_up(width_mm)


def board_tenths(part: Part, stock: BoardStock, marks: Marks) -> tuple[int, int]:
    """Return the length along the grain and the width of the pieces that a part takes of a board. [0.1 mm]

    A part glued up takes boards of full width, and so does one that is as wide as its board.
    """
    length, width = cut_tenths(part, marks)
    board, true = tenths_down(stock.straight_width_mm), tenths_up(part.blank_mm[1])
    return length, board if part.pieces > 1 or true <= board <= max(true, width) else width
