"""Is the room known well enough to cut by?"""

from __future__ import annotations

from nookwright.basics.findings import Finding
from nookwright.stages.checks.said import fine, reading
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.room.room import LeftOut, ReadingFit, Room, Slip

MUCH_WAVIER = 1.6
"""Waviness beyond the declared one by this factor is worth a word. Common practice, no source."""


def check_measuring(room: Room, brief: Brief) -> tuple[Finding, ...]:
    """Return what the readings themselves say against cutting by them.

    Args:
        room: the room as adjusted.
        brief: for the units people read.

    Returns:
        A fail for every reading that looks like a slip; a caution for each that the user left out, when the readings
        disagree as a whole, show wavier walls than were declared, or leave a figure open; a pass when nothing of the
        kind is found.
    """
    slips = [_slip(fit, brief) for fit in room.fits if fit.suspect]
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
    left_out = [_left_out(each, brief) for each in room.left_out]
    return (
        *slips,
        _whole(room),
        *_waviness(room, brief),
        *left_out,
        *open_figures,
        *_outlets(room, brief),
        *_studs(room, brief),
    )


def _slip(fit: ReadingFit, brief: Brief) -> Finding:
    """Return the finding of a reading that the others contradict."""
    return Finding(
        topic="survey",
        subject=fit.text,
        verdict="fail",
        summary=_slip_summary(fit, brief),
        demand=abs(fit.w),
        unit="standard deviations",
        formula="w = v / (s sqrt(r))",
        worked=f"{fit.read - fit.adjusted:.1f} / ({fit.sd:.2f} x sqrt({fit.redundancy:.2f})) = {abs(fit.w):.1f}",
        source_keys=("adjustment",),
        remedy="Measure it again before anything is cut. Until then it counts; `use: no` in room.yaml leaves it out.",
    )


def _slip_summary(fit: ReadingFit, brief: Brief) -> str:
    """Return what was read, what the others say, and what kind of slip that is."""
    read = reading(fit.read, fit.unit, brief)
    if fit.slip is None:
        says = reading(fit.adjusted, fit.unit, brief)
        return f"Read {read}; the other readings say {says}. It looks like a slip."
    kind = f" of {' or '.join(fit.slip.likely)}" if fit.slip.likely else ""
    instead = f" It may be {' or '.join(fit.slip.or_else)} instead." if fit.slip.or_else else ""
    says = reading(fit.slip.says(fit.read).value, fit.unit, brief)
    return (
        f"Read {read}; the other readings say {says}."
        f" It looks like a slip{kind}.{instead}{_effect_said(fit.slip, brief)}"
    )


def _effect_said(slip: Slip, brief: Brief) -> str:
    """Return what the reading changes most."""
    for effect in slip.effects:
        with_it = reading(effect.with_it.value, effect.unit, brief)
        without = reading(effect.without_it.value, effect.unit, brief)
        return f" The {effect.name} is {with_it} with it, {without} without it."
    return ""


def _outlets(room: Room, brief: Brief) -> tuple[Finding, ...]:
    """Return a fail for every outlet whose two references contradict each other."""
    found = []
    for fix in room.outlets:
        if not fix.disagrees:
            continue
        pairs = (("from the two ends of the wall", fix.along_off), ("from the floor and from the mark", fix.above_off))
        said = [f"{where}, {reading(abs(off.value), 'mm', brief)} apart" for where, off in pairs if off is not None]
        found.append(
            Finding(
                topic="survey",
                subject=fix.name,
                verdict="fail",
                summary=f"Its two places do not agree: {'; '.join(said)}. The first of each is kept.",
                source_keys=("adjustment",),
                remedy="Measure it again from both before a hole is cut.",
            )
        )
    return tuple(found)


def _studs(room: Room, brief: Brief) -> tuple[Finding, ...]:
    """Return a caution for every stud that was found as wide as no stud is."""
    return tuple(
        Finding(
            topic="survey",
            subject=f"stud {stud.number}",
            verdict="caution",
            summary=(
                f"Its edges were found {reading(stud.wide_mm, 'mm', brief)} apart: "
                "two studs together, or an edge found wrong."
            ),
            demand=stud.wide_mm,
            limit=room.survey.wall.stud_width_mm,
            unit="mm",
            source_keys=("adjustment",),
            remedy="Find its edges again, or prove it with a fine nail where the furniture hides the hole.",
        )
        for stud in room.studs
        if stud.wide_mm is not None
    )


def _left_out(each: LeftOut, brief: Brief) -> Finding:
    """Return the finding of a reading that the user left out."""
    says = "nothing" if each.says is None else reading(each.says.value, each.unit, brief)
    return Finding(
        topic="survey",
        subject=each.text,
        verdict="caution",
        summary=f"Left out by you: read {reading(each.read, each.unit, brief)}; the room says {says}.",
        source_keys=("adjustment",),
        remedy="Measure it again if you can, and let it count.",
    )


def _waviness(room: Room, brief: Brief) -> tuple[Finding, ...]:
    """Return a caution when the surfaces are much wavier than the field book says."""
    given, found = room.survey.tools.waviness_mm, room.waviness_mm
    if found < MUCH_WAVIER * given:
        return ()
    return (
        Finding(
            topic="survey",
            subject="walls, floor and ceiling",
            verdict="caution",
            summary="They are wavier than assumed, all over and not at one reading; every spread allows for it.",
            demand=found,
            limit=given,
            unit="mm",
            formula="waviness by restricted likelihood, one standard deviation, against what was given",
            source_keys=("adjustment",),
            remedy=f"Measure where the furniture meets the walls; `waviness: {fine(found, brief)}` suits them.",
        ),
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
