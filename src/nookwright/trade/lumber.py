"""Lumber by its nominal name: what a 2x4 really measures when dry."""

from __future__ import annotations

from dataclasses import dataclass

from nookwright.basics.lengths import read_length
from nookwright.trade._tables import rows_by


@dataclass(frozen=True, slots=True, kw_only=True)
class DressedSize:
    """The dressed, dry cross-section behind a nominal name. [mm]"""

    nominal: str
    thickness_mm: float
    width_mm: float
    source: str


def nominal_names() -> tuple[str, ...]:
    """Return every nominal name known, in table order."""
    return tuple(rows_by("lumber"))


def dressed_size(nominal: str) -> DressedSize | None:
    """Return the real size of lumber by its nominal name.

    Args:
        nominal: for example `2x4` or `5/4x6`; spaces and `×` do no harm.

    Returns:
        The dressed dry size; None when the name is not in the table.

    Valid:
        Softwood lumber surfaced on four sides, dry (19 % moisture or less).

    Source:
        [ps-20] dressed dry sizes. Status: read.
    """
    key = "".join(nominal.lower().replace("×", "x").split())
    row = rows_by("lumber").get(key)
    if row is None:
        return None
    return DressedSize(
        nominal=key,
        thickness_mm=read_length(row["thickness_inch"], unit="inch"),
        width_mm=read_length(row["width_inch"], unit="inch"),
        source=row["source"],
    )
