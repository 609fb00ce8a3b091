"""Takes parts that are nearly alike for the smaller of them, so that fewer kinds are left to prove things about.

Sheets that do not hold the smaller parts do not hold the true ones: a proof about the smaller ones is a proof. Sides
and shelves of a case often differ by a few millimetres; told apart, they make many times the patterns, which say the
same.
"""

from __future__ import annotations

from collections.abc import Sequence

from nookwright.solvers.sheet_grids import PartKind

NEARLY = 40
"""Parts are nearly alike when neither side differs by more than one part in so many."""


def taken_for_alike(parts: Sequence[PartKind]) -> list[PartKind]:
    """Return as many parts, of fewer kinds: each no longer and no wider than the part that it stands for.

    Args:
        parts: kinds of parts, sizes in any unit.
    """
    groups: list[list[PartKind]] = []
    for part in sorted(parts, key=lambda one: (one.length, one.width)):
        for group in groups:
            if all(_nearly_alike(one, part) for one in group):
                group.append(part)
                break
        else:
            groups.append([part])
    return [
        PartKind(
            length=min(part.length for part in group), width=min(part.width for part in group),
            turnable=group[0].turnable, wanted=sum(part.wanted for part in group),
        )
        for group in groups
    ]  # fmt: skip


def _nearly_alike(one: PartKind, other: PartKind) -> bool:
    return one.turnable == other.turnable and all(
        NEARLY * abs(a - b) <= max(a, b) for a, b in ((one.length, other.length), (one.width, other.width))
    )
