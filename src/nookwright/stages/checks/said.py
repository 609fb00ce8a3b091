"""How findings say sizes: in the units that the reader uses."""

from __future__ import annotations

from nookwright.basics.lengths import Marks, show
from nookwright.stages.inputs.brief import Brief

_MM_PER_INCH = 25.4


def size(mm: float, brief: Brief) -> str:
    """Return a length to mark or buy, to the reader's own marks, with its unit."""
    return show(mm, Marks(units=brief.units, resolution=brief.resolution), with_unit=True)


def fine(mm: float, brief: Brief) -> str:
    """Return a small movement or sag, finer than people mark: `2.31 mm` or `0.091 in`."""
    return f"{mm:.2f} mm" if brief.units == "mm" else f"{mm / _MM_PER_INCH:.3f} in"
