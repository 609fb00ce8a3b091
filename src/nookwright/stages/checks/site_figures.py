"""Figures told beside what was found on site: distances its own paper asks, an escape's opening, a cold wall's air."""

from __future__ import annotations

from dataclasses import dataclass

from nookwright.basics.findings import Verdict
from nookwright.stages.checks.question_table import KEEPS_AWAY, StandardQuestion
from nookwright.stages.checks.said import area, size, warmth
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.survey import SiteQuestion
from nookwright.trade.escape import ESCAPE_AREA_M2, ESCAPE_HEIGHT_MM, ESCAPE_SILL_MM, ESCAPE_WIDTH_MM, LOW_GLASS_MM
from nookwright.trade.humid_air import dew_point, surface_humidity

MOULD_PCT = 80.0
"""A surface that stays damper than this grows mould. Source: [surface-humidity]. Status: read."""

ROOM_C, ROOM_PCT = 20.0, 50.0
"""Air of a heated room, where nobody measured it. Source: [trade-practice]. Status: common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """What the figures say.

    Args:
        verdict: fail where a figure breaks its rule; caution else, for the tool approves nothing.
        says: in a sentence.
        demand, limit, unit: in numbers.
        formula, worked: how.
        cure: what to do where it fails.
    """

    verdict: Verdict
    says: str
    demand: float
    limit: float
    unit: str = "mm"
    formula: str = ""
    worked: str = ""
    cure: str = ""


def missing(question: StandardQuestion, answer: SiteQuestion) -> tuple[str, ...]:
    """Return the figures that must still be told."""
    return tuple(name for name in question.figures if answer.figure(name) is None)


def judged(answer: SiteQuestion, brief: Brief) -> Judged | None:
    """Return what the figures of an answer say; None where it has none to judge.

    Args:
        answer: found, with every figure it needs.
        brief: for the units people read.
    """
    if answer.key == "escape-window":
        return _escape(answer, brief)
    if answer.key == "low-glass":
        return _low_glass(answer, brief)
    if answer.key == "cold-wall":
        return _cold_wall(answer, brief)
    distance, asked = (answer.figure(name) for name in KEEPS_AWAY)
    return None if distance is None or asked is None else _keeps_away(distance, asked, brief)


def _keeps_away(distance_mm: float, asked_mm: float, brief: Brief) -> Judged:
    """Return whether the nearest board stands as far off as the thing's own paper asks."""
    short = distance_mm < asked_mm
    return Judged(
        verdict="fail" if short else "caution",
        says=f"It keeps {size(distance_mm, brief)} from the nearest board; its own paper asks {size(asked_mm, brief)}.",
        demand=asked_mm,
        limit=distance_mm,
        formula="distance to the nearest board >= what its own paper asks",
        cure=f"Move the furniture {size(asked_mm - distance_mm, brief)} away." if short else "",
    )


def _escape(answer: SiteQuestion, brief: Brief) -> Judged:
    """Return whether the opening left with the furniture in place is as large as the one code that was read asks."""
    sill, width, height = (answer.figure(name) or 0.0 for name in ("sill", "width", "height"))
    clear = width * height * 1e-6
    broken = [
        text
        for bad, text in (
            (sill > ESCAPE_SILL_MM, f"its sill above {size(ESCAPE_SILL_MM, brief)}"),
            (width < ESCAPE_WIDTH_MM, f"narrower than {size(ESCAPE_WIDTH_MM, brief)}"),
            (height < ESCAPE_HEIGHT_MM, f"lower than {size(ESCAPE_HEIGHT_MM, brief)}"),
            (clear < ESCAPE_AREA_M2, f"smaller than {area(ESCAPE_AREA_M2, brief)}"),
        )
        if bad
    ]
    left = f"{size(width, brief)} x {size(height, brief)} stay clear, its sill {size(sill, brief)} up"
    return Judged(
        verdict="fail" if broken else "caution",
        says=f"{left}{': ' + ', '.join(broken) if broken else ', as that code asks'}.",
        demand=ESCAPE_AREA_M2,
        limit=clear,
        unit="m2",
        formula="clear width, height and area, sill above the floor that people stand on",
        worked=f"{width:.0f} x {height:.0f} mm = {clear:.2f} m2, sill {sill:.0f} mm",
        cure="Leave the escape free, or have local building control say in writing what is enough." if broken else "",
    )


def _low_glass(answer: SiteQuestion, brief: Brief) -> Judged:
    """Return whether glass lies low above what people will stand on."""
    height = answer.figure("height") or 0.0
    low = height < LOW_GLASS_MM
    where = "below" if low else "at or above"
    return Judged(
        verdict="caution",
        says=f"It begins {size(height, brief)} above floor or seat, {where} {size(LOW_GLASS_MM, brief)}.",
        demand=LOW_GLASS_MM,
        limit=height,
        formula="lower edge of the glass above the surface that people stand on, once the furniture is in",
        cure="Have it glazed with safety glass, or put a rail before it." if low else "",
    )


def _cold_wall(answer: SiteQuestion, brief: Brief) -> Judged | None:
    """Return how damp the room's air is against the wall's cold surface; None when nobody measured that."""
    surface = answer.figure("surface")
    if surface is None:
        return None
    told = answer.figure("room")
    room, humidity = ROOM_C if told is None else told, answer.figure("humidity") or ROOM_PCT
    at = surface_humidity(room_c=room, room_pct=humidity, surface_c=surface)
    dew = dew_point(temperature_c=room, humidity_pct=humidity)
    says = "wet" if at >= 100 else ("damp enough for mould" if at >= MOULD_PCT else "dry enough as it is")
    return Judged(
        verdict="caution",
        says=(
            f"Room air of {warmth(room, brief)} and {humidity:g} % is at {min(at, 100):.0f} % against its "
            f"{warmth(surface, brief)}: {says}; it wets a surface below {warmth(round(dew, 1), brief)}, and a closed "
            "back makes the wall colder still."
        ),
        demand=at,
        limit=MOULD_PCT,
        unit="%",
        formula="h_s = h p_s(T) / p_s(T_s)",
        worked=f"{humidity:g} x p_s({room:g}) / p_s({surface:g}) = {at:.0f} %",
    )
