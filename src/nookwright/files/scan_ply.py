"""PLY -> points: the x, y, z of a point cloud's vertices, from text or binary of either byte order."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]

MOST_POINTS = 4_000_000
"""More points than this are thinned evenly: they no longer make a wall's place surer. Common practice, no source."""

LONGEST_HEADER = 100_000
"""A header longer than this is none. [bytes]"""

NO_POINTS = "no points"

_FORMATS = {"ascii": "", "binary_little_endian": "<", "binary_big_endian": ">"}

_TYPES = {
    **dict.fromkeys(("char", "int8"), "i1"),
    **dict.fromkeys(("uchar", "uint8"), "u1"),
    **dict.fromkeys(("short", "int16"), "i2"),
    **dict.fromkeys(("ushort", "uint16"), "u2"),
    **dict.fromkeys(("int", "int32"), "i4"),
    **dict.fromkeys(("uint", "uint32"), "u4"),
    **dict.fromkeys(("float", "float32"), "f4"),
    **dict.fromkeys(("double", "float64"), "f8"),
}
"""Names of the number types in a header. Source: the PLY file format, G. Turk, Stanford. Status: recalled."""


class UnreadableScanError(ValueError):
    """A point cloud that cannot be read; its text says what is wrong, as in "found X"."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Element:
    """One list of the file: its name, its number of rows, and each column's name and type; None for a list in a row."""

    name: str
    count: int
    columns: tuple[tuple[str, str | None], ...]

    def row_type(self, order: str) -> np.dtype[np.void]:
        """Return a row as it stands in the file.

        Raises:
            UnreadableScanError: if its length differs from row to row.
        """
        if any(kind is None for _, kind in self.columns):
            message = f'a list inside "{self.name}", before or among the points'
            raise UnreadableScanError(message)
        return np.dtype([(name, f"{order}{kind}") for name, kind in self.columns])


def read_ply(path: Path) -> Points:
    """Return the points of a PLY file, at most `MOST_POINTS`, taken evenly.

    Args:
        path: the file.

    Returns:
        One point a row, in the file's own units; points that are not numbers are left out.

    Raises:
        UnreadableScanError: if the file is no PLY file with x, y and z, or breaks off.
        OSError: if it cannot be opened.
    """
    with path.open("rb") as file:
        start = file.read(LONGEST_HEADER)
    order, elements, size = _header(start)
    before, vertices = _vertices(elements)
    every = max(1, -(-vertices.count // MOST_POINTS))
    if order:
        points = _binary(path, order, before, vertices, size, every)
    else:
        points = _text(path, before, vertices, size, every)
    points = points[np.isfinite(points).all(axis=1)]
    if len(points) == 0:
        raise UnreadableScanError(NO_POINTS)
    return points


def _header(start: bytes) -> tuple[str, list[_Element], int]:
    """Return the byte order (empty for text), the elements and the header's length."""
    if not start.startswith((b"ply\n", b"ply\r")):
        message = "a file that does not begin with the word ply"
        raise UnreadableScanError(message)
    end = start.find(b"end_header")
    line_end = start.find(b"\n", end)
    if end < 0 or line_end < 0:
        message = "a header without its end"
        raise UnreadableScanError(message)
    order: str | None = None
    elements: list[_Element] = []
    for line in start[:end].decode("latin-1").splitlines()[1:]:
        words = line.split()
        match words:
            case ["format", form, *_] if form in _FORMATS:
                order = _FORMATS[form]
            case ["element", name, count] if count.isdigit():
                elements.append(_Element(name=name, count=int(count), columns=()))
            case ["property", *rest] if elements and rest:
                elements[-1] = _with_column(elements[-1], rest, line)
            case [] | ["comment" | "obj_info", *_]:
                pass
            case _:
                message = f'a header line "{line.strip()[:60]}"'
                raise UnreadableScanError(message)
    if order is None:
        message = "a header that names no format"
        raise UnreadableScanError(message)
    return order, elements, line_end + 1


def _with_column(element: _Element, words: list[str], line: str) -> _Element:
    """Return an element with one property more."""
    match words:
        case ["list", *_, name]:
            column: tuple[str, str | None] = (name, None)
        case [kind, name] if kind in _TYPES and all(name != known for known, _ in element.columns):
            column = (name, _TYPES[kind])
        case _:
            message = f'a header line "{line.strip()[:60]}"'
            raise UnreadableScanError(message)
    return _Element(name=element.name, count=element.count, columns=(*element.columns, column))


def _vertices(elements: list[_Element]) -> tuple[list[_Element], _Element]:
    """Return the elements before the points, and the points."""
    for place, element in enumerate(elements):
        if element.name == "vertex":
            missing = [axis for axis in "xyz" if axis not in dict(element.columns)]
            if missing:
                message = f"points without {' and '.join(missing)}"
                raise UnreadableScanError(message)
            if element.count == 0:
                break
            return elements[:place], element
    raise UnreadableScanError(NO_POINTS)


def _binary(path: Path, order: str, before: list[_Element], vertices: _Element, size: int, every: int) -> Points:
    row = vertices.row_type(order)
    first = size + sum(element.count * element.row_type(order).itemsize for element in before)
    held = max(path.stat().st_size - first, 0) // row.itemsize
    if held < vertices.count:
        raise UnreadableScanError(_broken_off(held, vertices.count))
    rows = np.memmap(path, dtype=row, mode="r", offset=first, shape=(vertices.count,))[::every]
    return np.column_stack([rows[axis].astype(np.float64) for axis in "xyz"])


def _text(path: Path, before: list[_Element], vertices: _Element, size: int, every: int) -> Points:
    vertices.row_type("=")  # a list among the points has no fixed place for what follows it
    lines = path.read_bytes()[size:].splitlines()
    first = sum(element.count for element in before)
    lines = lines[first : first + vertices.count : every]
    wanted = -(-vertices.count // every)
    if len(lines) < wanted:
        raise UnreadableScanError(_broken_off(len(lines) * every, vertices.count))
    columns = [[name for name, _ in vertices.columns].index(axis) for axis in "xyz"]
    try:
        return np.loadtxt(lines, dtype=np.float64, usecols=columns, comments=None, ndmin=2, encoding="latin-1")
    except ValueError:
        message = "a point that is not written as numbers"
        raise UnreadableScanError(message) from None


def _broken_off(held: int, promised: int) -> str:
    return f"{held:,} points where {promised:,} are promised"
