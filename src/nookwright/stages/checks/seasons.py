"""The wood's year in this room: how moist it becomes in each month, from the brief's climate or from common figures."""

from __future__ import annotations

from dataclasses import dataclass

from nookwright.basics.findings import Finding
from nookwright.stages.inputs.brief import Brief, Climate, MonthAir
from nookwright.trade.movement import SEASON_HIGH_PCT, SEASON_LOW_PCT, emc_celsius, emc_coefficients_celsius
from nookwright.trade.room_climate import VAPOUR_EXCESS_PA, room_humidity, room_warmth, vapour_excess

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


@dataclass(frozen=True, slots=True, kw_only=True)
class Month:
    """A month in the room, between its dry and its damp side.

    Args:
        name: as printed.
        room_pct: the room's humidity, least and most. [%]
        moisture_pct: what wood comes to in it, least and most. [%]
        warmth_c: of the room where it is driest. [C]
    """

    name: str
    warmth_c: float
    room_pct: tuple[float, float]
    moisture_pct: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Year:
    """The wood's year.

    Args:
        low_pct, high_pct: driest and dampest moisture of wood. [%]
        months: month by month; empty where the brief tells no climate.
    """

    low_pct: float
    high_pct: float
    months: tuple[Month, ...] = ()

    @property
    def driest(self) -> str:
        """When wood is narrowest, in words."""
        return "when heating ends" if not self.months else f"in {driest_month(self).name}"

    @property
    def dampest(self) -> str:
        """When wood is widest, in words."""
        return "when the damp season ends" if not self.months else f"in {dampest_month(self).name}"


def driest_month(year: Year) -> Month:
    """Return the month in which wood can become driest."""
    return min(year.months, key=lambda month: month.moisture_pct[0])


def dampest_month(year: Year) -> Month:
    """Return the month in which wood can become dampest."""
    return max(year.months, key=lambda month: month.moisture_pct[1])


def year_of(brief: Brief) -> Year:
    """Return the wood's year: from the climate told, else 6 to 12 % as is common in heated houses."""
    if brief.climate is None:
        return Year(low_pct=SEASON_LOW_PCT, high_pct=SEASON_HIGH_PCT)
    sides = tuple(_room_air(brief.climate, side) for side in (0, 1))
    months = tuple(_month(name, dry, damp) for name, dry, damp in zip(MONTHS, *sides, strict=True))
    return Year(
        low_pct=min(month.moisture_pct[0] for month in months),
        high_pct=max(month.moisture_pct[1] for month in months),
        months=months,
    )


def _room_air(climate: Climate, side: int) -> tuple[MonthAir, ...]:
    """Return the room's air month by month: as measured, else worked out with least (0) or most (1) vapour added."""
    in_frost = VAPOUR_EXCESS_PA[climate.moisture][side]
    return climate.indoor or tuple(_warmed(outside, climate.heated_c, in_frost) for outside in climate.outdoor)


def _warmed(outside: MonthAir, heated_c: float, in_frost_pa: float) -> MonthAir:
    """Return a month's air in the room from the air outside."""
    room = room_warmth(outside_c=outside.warmth_c, heated_c=heated_c)
    excess = vapour_excess(outside_c=outside.warmth_c, in_frost_pa=in_frost_pa)
    humidity = room_humidity(
        outside_c=outside.warmth_c, outside_pct=outside.humidity_pct, room_c=room, excess_pa=excess
    )
    return MonthAir(warmth_c=room, humidity_pct=humidity)


def _month(name: str, dry: MonthAir, damp: MonthAir) -> Month:
    """Return a month with the moisture that wood comes to."""
    low, high = (emc_celsius(temperature_c=air.warmth_c, humidity_pct=air.humidity_pct) for air in (dry, damp))
    return Month(
        name=name, warmth_c=dry.warmth_c, room_pct=(dry.humidity_pct, damp.humidity_pct), moisture_pct=(low, high)
    )


EMC_FORMULA = (
    "M = 1800 / W (K h / (1 - K h) + (K1 K h + 2 K1 K2 K^2 h^2) / (1 + K1 K h + K1 K2 K^2 h^2)), W, K, K1, K2 from T"
)


def _worked(month: Month) -> str:
    """Return the moisture equation of a month's dry side with its numbers put in."""
    at, h = emc_coefficients_celsius(month.warmth_c), month.room_pct[0] / 100
    return (
        f"{month.name} at {month.warmth_c:.1f} C, h {h:.3f}: W {at.W:.1f}, K {at.K:.4f}, K1 {at.K1:.3f}, K2 "
        f"{at.K2:.3f} "
        f"= {month.moisture_pct[0]:.2f}."
    )


def check_climate(brief: Brief) -> tuple[Finding, ...]:
    """Return what wood comes to in this room through the year, and when to caulk: gaps are widest when it is driest.

    Args:
        brief: the climate; where it tells none, the common range of heated houses is said to stand for it.
    """
    year = year_of(brief)
    if not year.months:
        return (_untold(year),)
    dry, damp = driest_month(year), dampest_month(year)
    told = ", ".join(f"{each.name} {each.moisture_pct[0]:.1f} to {each.moisture_pct[1]:.1f}" for each in year.months)
    return (
        Finding(
            topic="room climate",
            subject="wood in this room",
            verdict="pass",
            summary=(
                f"The wood's year in this room. It comes down to {year.low_pct:.1f} % moisture in {dry.name} "
                f"({dry.room_pct[0]:.0f} % air) and up to {year.high_pct:.1f} % in {damp.name} "
                f"({damp.room_pct[1]:.0f} % air). Thin bare boards follow within weeks; thick finished ones lag behind "
                f"and move less. Caulk along walls in {dry.name}, when gaps are widest, or as near to it as you can."
            ),
            formula=f"h_i = (h_e p_s(T_e) + 100 dp) / p_s(T_i); {EMC_FORMULA}",
            worked=f"{_worked(dry)} Moisture of wood, in %: {told}",
            source_keys=("humid-air", "iso-13788", "emc-equation", "trade-practice"),
        ),
    )


def _untold(year: Year) -> Finding:
    """Return what is taken of the room's air where the brief tells no climate."""
    return Finding(
        topic="room climate",
        subject="wood in this room",
        verdict="pass",
        summary=(
            f"No climate is told. Wood is taken to go from {year.low_pct:g} % moisture {year.driest} to "
            f"{year.high_pct:g} % {year.dampest}, as is common in heated houses. Caulk along walls {year.driest}: "
            "gaps are "
            "widest then. Write `climate` into the brief for gaps month by month."
        ),
        source_keys=("emc-equation", "trade-practice"),
    )
