"""Fixed sizes and shares of what is left over."""

from __future__ import annotations

from collections.abc import Sequence

from nookwright.basics.problems import Inspection, Where
from nookwright.stages.inputs.brief import Fixed, Size

LEAST_CELL_MM = 40.0
"""A space narrower than this is a typing error rather than a wish. Common practice, no source."""


def shared_out(
    sizes: Sequence[Size], total_mm: float, *, what: str, where: Where, inspection: Inspection
) -> tuple[float, ...]:
    """Return every size in millimetres: fixed ones as given, shares from what they leave.

    Args:
        sizes: fixed sizes and shares, in order.
        total_mm: what they divide; boards between them already taken off. [mm]
        what: for the problem, for example `widths of the units`.
        where: the place in the brief.
        inspection: takes the problem when they do not fit.

    Returns:
        One size each; equal shares of the total when they do not fit, so that work can go on to the next problem. [mm]
    """
    fixed = sum(size.mm for size in sizes if isinstance(size, Fixed))
    parts = sum(size.parts for size in sizes if not isinstance(size, Fixed))
    left = total_mm - fixed
    least = min((left * size.parts / parts for size in sizes if not isinstance(size, Fixed)), default=LEAST_CELL_MM)
    if left < -0.05 or least < LEAST_CELL_MM:
        inspection.expect(
            False,
            what,
            f"{what} that need {fixed:.0f} mm and more",
            f"sizes that go into {max(0.0, total_mm):.0f} mm, with at least {LEAST_CELL_MM:.0f} mm for each share",
            "Make a fixed size smaller, or take one out.",
            where,
        )
        return tuple(total_mm / len(sizes) for _ in sizes)
    return tuple(size.mm if isinstance(size, Fixed) else left * size.parts / parts for size in sizes)
