"""Checks a cutting plan, knowing nothing of how it was found: parts, sizes, edges, kerfs, cuts right through."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What a part must measure; `turnable` when it may lie turned. Any one unit, whole numbers."""

    length: int
    width: int
    turnable: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """A part as it lies on a sheet: which sheet, lower left corner, size along the sheet's length and width."""

    part: str
    sheet: int
    x: int
    y: int
    length: int
    width: int


def sheet_faults(
    wanted: Mapping[str, Wanted], laid: Sequence[Laid], *, length: int, width: int, trim: int, kerf: int
) -> tuple[str, ...]:
    """Return everything wrong with a plan for equal sheets; empty when it can be cut.

    Args:
        wanted: every part that must be there, exactly once.
        laid: the plan.
        length, width: full size of a sheet.
        trim: width of edge on every side that no part may lie in.
        kerf: least distance a saw needs between neighbours.

    Returns:
        One plain sentence per fault.
    """
    faults = count_faults(wanted, [piece.part for piece in laid])
    for piece in laid:
        want = wanted.get(piece.part)
        if want is None:
            continue
        as_is = (piece.length, piece.width) == (want.length, want.width)
        turned = (piece.width, piece.length) == (want.length, want.width)
        if not as_is and not turned:
            faults.append(f"{piece.part} lies as {piece.length} x {piece.width}, not {want.length} x {want.width}")
        elif not as_is and not want.turnable:
            faults.append(f"{piece.part} lies across the grain")
        inside_length = trim <= piece.x and piece.x + piece.length <= length - trim
        inside_width = trim <= piece.y and piece.y + piece.width <= width - trim
        if not (inside_length and inside_width):
            faults.append(f"{piece.part} reaches outside sheet {piece.sheet}")
    for sheet in sorted({piece.sheet for piece in laid}):
        together = [piece for piece in laid if piece.sheet == sheet]
        faults.extend(_overlaps(together))
        faults.extend(_stuck(together, kerf))
    return tuple(faults)


def length_faults(
    wanted: Mapping[str, int], laid: Sequence[tuple[str, int, int]], *, length: int, end_trim: int, kerf: int
) -> tuple[str, ...]:
    """Return everything wrong with the pieces along ONE length of stock; each named piece may come once.

    Args:
        wanted: the length every named piece must have.
        laid: name, near end and length of each piece.
        length, end_trim, kerf: the stock, what its first end loses, and the saw.

    Returns:
        One plain sentence per fault.
    """
    faults = [f"{name} is cut {n} times" for name, n in Counter(name for name, _, _ in laid).items() if n > 1]
    free_from = end_trim
    for name, at, size in sorted(laid, key=lambda piece: piece[1]):
        if wanted.get(name) != size:
            faults.append(f"{name} is cut {size} long, not {wanted.get(name)}")
        if at < free_from:
            faults.append(f"{name} starts at {at}, before {free_from}")
        if at + size > length:
            faults.append(f"{name} ends at {at + size}, beyond {length}")
        free_from = at + size + kerf
    return tuple(faults)


def count_faults(wanted: Mapping[str, Wanted], names: Sequence[str]) -> list[str]:
    """Return a fault for every part that is missing, laid more than once, or not asked for."""
    count = Counter(names)
    faults = [f"{name} is missing" for name in wanted if count[name] == 0]
    faults += [f"{name} is laid {n} times" for name, n in count.items() if n > 1]
    return faults + [f"{name} is not asked for" for name in count if name not in wanted]


def matched_faults(group: Sequence[Wanted], laid: Sequence[Laid | None], *, kerf: int) -> list[str]:
    """Return what keeps matched parts from lying side by side, lengths in line, one cut between neighbours.

    Args:
        group: what the matched parts measure, in order; the figure runs over across their widths.
        laid: where each lies; None where it is on no sheet.
        kerf: width of a cut.

    Returns:
        One plain sentence per fault.
    """
    faults: list[str] = []
    pairs = list(zip(group, laid, strict=True))
    for (want, one), (beside, other) in pairwise(pairs):
        if one is None or other is None:
            faults.append("a matched part is on no sheet")
            continue
        names = f"{one.part} and {other.part}"
        straight = (one.length, other.length) == (want.length, beside.length)
        straight = straight and (one.width, other.width) == (want.width, beside.width)
        upright = (one.width, other.width) == (want.length, beside.length)
        upright = upright and (one.length, other.length) == (want.width, beside.width)
        in_line = straight and other.x == one.x and other.y == one.y + one.width + kerf
        in_column = upright and other.y == one.y and other.x == one.x + one.length + kerf
        if one.sheet != other.sheet:
            faults.append(f"{names} are matched but lie on two sheets")
        elif not in_line and not in_column:
            faults.append(f"{names} are matched but do not lie side by side")
    return faults


def _overlaps(pieces: Sequence[Laid]) -> list[str]:
    faults = []
    for i, a in enumerate(pieces):
        for b in pieces[i + 1 :]:
            apart_x = a.x + a.length <= b.x or b.x + b.length <= a.x
            apart_y = a.y + a.width <= b.y or b.y + b.width <= a.y
            if not (apart_x or apart_y):
                faults.append(f"{a.part} and {b.part} overlap on sheet {a.sheet}")
    return faults


def _stuck(pieces: Sequence[Laid], kerf: int) -> list[str]:
    """Return a fault for every group that no cut right through, one kerf wide, can part."""
    groups = [list(pieces)]
    faults = []
    while groups:
        group = groups.pop()
        if len(group) < 2:
            continue
        spans_x = [(piece.x, piece.x + piece.length) for piece in group]
        spans_y = [(piece.y, piece.y + piece.width) for piece in group]
        parted = _parted(group, spans_x, kerf) or _parted(group, spans_y, kerf)
        if parted:
            groups.extend(parted)
        else:
            names = ", ".join(sorted(piece.part for piece in group))
            faults.append(f"no cut right through parts {names} on sheet {group[0].sheet}")
    return faults


def _parted(group: Sequence[Laid], spans: Sequence[tuple[int, int]], kerf: int) -> list[list[Laid]]:
    """Return the groups left after every possible cut in one direction; empty when there is none."""
    order = sorted(range(len(group)), key=lambda i: spans[i])
    parts: list[list[Laid]] = [[group[order[0]]]]
    reach = spans[order[0]][1]
    for i in order[1:]:
        start, end = spans[i]
        if start >= reach + kerf:
            parts.append([])
        parts[-1].append(group[i])
        reach = max(reach, end)
    return parts if len(parts) > 1 else []
