"""Plywood by its nominal thickness: what it may really measure."""

from __future__ import annotations

from dataclasses import dataclass

from nookwright.basics.lengths import read_length
from nookwright.trade._tables import rows_by


@dataclass(frozen=True, slots=True, kw_only=True)
class PlywoodThickness:
    """The thickness behind a performance category. [mm]

    Args:
        nominal: the category, for example `23/32`.
        least_mm, most_mm: what a sheet may measure.
        label_mm: the thickness to reckon with before the batch is measured.
        source: key of the standard.
    """

    nominal: str
    least_mm: float
    most_mm: float
    label_mm: float
    source: str


def plywood_thickness(nominal: str) -> PlywoodThickness | None:
    """Return the thickness of plywood by its nominal category.

    Args:
        nominal: for example `23/32` or `1-1/8`, with or without an inch mark.

    Returns:
        Least, greatest and label thickness; None when the category is not in the table.

    Valid:
        Unsanded, touch-sanded and overlaid panels at 9 % moisture. The batch itself should be measured.

    Source:
        [ps-1] thickness by performance category. Status: read.
    """
    key = nominal.strip().removesuffix('"').strip().replace(" ", "-")
    row = rows_by("plywood").get(key)
    if row is None:
        return None
    return PlywoodThickness(
        nominal=key,
        least_mm=read_length(row["least_inch"], unit="inch"),
        most_mm=read_length(row["most_inch"], unit="inch"),
        label_mm=read_length(row["label_inch"], unit="inch"),
        source=row["source"],
    )
