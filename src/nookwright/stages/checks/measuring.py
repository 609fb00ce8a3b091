"""Is the room known well enough to cut by?"""

from __future__ import annotations

from nookwright.basics.findings import Finding
from nookwright.stages.room.room import ReadingFit, Room


def check_measuring(room: Room) -> tuple[Finding, ...]:
    """Return what the readings themselves say against cutting by them.

    Args:
        room: the room as adjusted.

    Returns:
        A fail for every reading that looks like a slip, a caution when the readings disagree as a whole or leave a
        figure open; a pass when nothing of the kind is found.
    """
    slips = [_slip(fit) for fit in room.fits if fit.suspect]
    open_figures = [
        Finding(
            topic="survey",
            subject=each.name,
            verdict="caution",
            summary=f"The {each.name} is not fixed by what was measured.",
            source_keys=("adjustment",),
            remedy=each.advice,
        )
        for each in room.derived
        if not each.fixed
    ]
    whole = _whole(room)
    return (*slips, whole, *open_figures)


def _slip(fit: ReadingFit) -> Finding:
    """Return the finding of a reading that the others contradict."""
    return Finding(
        topic="survey",
        subject=fit.text,
        verdict="fail",
        summary=f"Read {fit.read:.1f} {fit.unit}; the other readings say {fit.adjusted:.1f}. It looks like a slip.",
        demand=abs(fit.w),
        unit="standard deviations",
        formula="w = v / (s sqrt(r))",
        worked=f"{fit.read - fit.adjusted:.1f} / ({fit.sd:.2f} x sqrt({fit.redundancy:.2f})) = {abs(fit.w):.1f}",
        source_keys=("adjustment",),
        remedy="Measure it again before anything is cut.",
    )


def _whole(room: Room) -> Finding:
    """Return the outcome of the test of all readings together."""
    test = room.global_test
    says = "agree with each other as well as the tools allow" if test.passed else "disagree more than the tools allow"
    return Finding(
        topic="survey",
        subject="all readings",
        verdict="pass" if test.passed else "caution",
        summary=f"The readings {says}.",
        demand=test.statistic,
        limit=test.limit,
        formula="sum of (v / s)^2 against the chi-square limit, 5 in 100",
        worked=f"{test.statistic:.1f} against {test.limit:.1f} with {test.dof} spare readings",
        source_keys=("adjustment",),
        remedy="" if test.passed else "Look for a slip, or give the walls more waviness under `tools`.",
    )
