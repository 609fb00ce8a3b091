"""Boards on hand with flaws -> the sound pieces between them."""

from __future__ import annotations

from nookwright.basics.lengths import UnreadableTextError, quoted, read_length, show_read
from nookwright.files.form import Form
from nookwright.stages.inputs.shop import BoardOffcut

_SHORTEST_MM = 50.0
"""A sound piece shorter than this is not kept, as with other offcuts."""


def board_offcuts(form: Form, kerf_mm: float, width_mm: float) -> tuple[BoardOffcut, ...]:
    """Return the pieces that a board on hand gives: the board itself, or what is sound of it between its flaws.

    Args:
        form: its length and width, how many there are, and its flaws from one end.
        width_mm: of a whole board: a piece on hand is narrower, or of full width. [mm]
        kerf_mm: width of a cut: of a flaw narrower than it the cut takes the rest off the next piece. [mm]
    """
    length, count, width = form.length("length"), form.count("count"), strip_width(form, width_mm)
    flaws = sorted(flaw for flaw in (_flaw(form, typed, length) for typed in form.texts("flaws")) if flaw is not None)
    if not flaws:
        return (BoardOffcut(length_mm=length, width_mm=width, count=count),)
    pieces: list[BoardOffcut] = []
    start = 0.0
    for low, high in (*flaws, (length, length)):
        if low - start >= _SHORTEST_MM:
            whole, first, last = (show_read(size, form.desk.units) for size in (length, start, low))
            said = f"the board of {whole}, from {first} to {last}"
            pieces.append(BoardOffcut(length_mm=low - start, width_mm=width, count=count, cut_from=said))
            start = low + kerf_mm
        start = max(start, high)
    return tuple(pieces)


def strip_width(form: Form, width_mm: float) -> float:
    """Return how wide a piece of board is; 0 for one of full width, after noting one that is wider. [mm]

    Args:
        form: the piece.
        width_mm: of a whole board, its edges straight. [mm]
    """
    if not form.has("width"):
        return 0.0
    width = form.length("width")
    if width > width_mm:
        found, whole = (show_read(size, form.desk.units) for size in (width, width_mm))
        form.note("width", found, f"no more than the {whole} that a board gives")
    return width if width < width_mm else 0.0


def _flaw(form: Form, typed: str, length_mm: float) -> tuple[float, float] | None:
    """Return where a flaw begins and ends; None after noting a problem. [mm]"""
    expected = "a stretch along the board, such as `800 to 860`"
    ends = typed.split(" to ")
    try:
        low, high = (read_length(end.strip(), unit=form.desk.units) for end in ends)
    except (UnreadableTextError, ValueError):
        form.note("flaws", quoted(typed), expected)
        return None
    if not 0 <= low < high <= length_mm:
        form.note("flaws", quoted(typed), f"{expected}, within its length")
        return None
    return low, high
