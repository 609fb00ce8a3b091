"""The air of a lived-in room, month by month, from the air outside: its warmth, and what people add to its vapour."""

from __future__ import annotations

from typing import Literal

from nookwright.trade.humid_air import saturation_pressure, warmed_humidity

Moisture = Literal["little", "normal", "much"]

VAPOUR_EXCESS_PA: dict[Moisture, tuple[float, float]] = {
    "little": (0.0, 270.0), "normal": (270.0, 540.0), "much": (540.0, 810.0),
}  # fmt: skip
"""Least and most vapour that a house adds in frost: classes 1 to 3, each between its limit and the one below.
Source: [iso-13788]. Status: read."""

SUMMER_C = 25.0
"""A room's warmth once it is 20 C and more outside. Source: [iso-13788]. Status: read."""

DRIEST_PCT, DAMPEST_PCT = 5.0, 95.0
"""The moisture equation ends here. Source: [emc-equation]. Status: read."""


def room_warmth(*, outside_c: float, heated_c: float) -> float:
    r"""Return how warm a room is: as heated up to 10 C outside, then rising evenly to 25 C at 20 C and more.

    $T_i = T_h + (25 - T_h) (T_e - 10) / 10$ between 10 and 20 C

    Args:
        outside_c: monthly mean outside. [C]
        heated_c: what it is heated to. [C]

    Returns:
        Monthly mean in the room. [C]

    Source:
        [iso-13788] Annex A, with 20 C for the heated room. Status: read.

    Example:
        >>> room_warmth(outside_c=15.0, heated_c=20.0)
        22.5
    """
    share = min(1.0, max(0.0, (outside_c - 10.0) / 10.0))
    return heated_c + max(0.0, SUMMER_C - heated_c) * share


def vapour_excess(*, outside_c: float, in_frost_pa: float) -> float:
    r"""Return how much vapour a lived-in house adds to the outside air's.

    $\Delta p = \Delta p_0 (1 - T_e / 20)$, whole at 0 C and below, none at 20 C and above

    Args:
        outside_c: monthly mean outside. [C]
        in_frost_pa: Delta p_0, by use (see `VAPOUR_EXCESS_PA`). [Pa]

    Returns:
        Vapour pressure added. [Pa]

    Source:
        [iso-13788] Annex A. Status: read.

    Example:
        >>> vapour_excess(outside_c=5.0, in_frost_pa=540.0)
        405.0
    """
    return in_frost_pa * min(1.0, max(0.0, 1.0 - outside_c / 20.0))


def room_humidity(*, outside_c: float, outside_pct: float, room_c: float, excess_pa: float) -> float:
    r"""Return how damp a room's air is.

    $h_i = h_e p_s(T_e) / p_s(T_i) + 100 \Delta p / p_s(T_i)$

    Args:
        outside_c, outside_pct: monthly means outside. [C, %]
        room_c: of the room. [C]
        excess_pa: vapour that people add. [Pa]

    Returns:
        Relative humidity, kept to 5 to 95. [%]

    Source:
        [humid-air], [iso-13788] Annex A. Status: read.

    Example:
        >>> round(room_humidity(outside_c=-5.0, outside_pct=80.0, room_c=20.0, excess_pa=0.0), 2)
        13.74
    """
    from_outside = warmed_humidity(outside_c=outside_c, outside_pct=outside_pct, inside_c=room_c)
    whole = from_outside + 100 * excess_pa / saturation_pressure(room_c)
    return min(DAMPEST_PCT, max(DRIEST_PCT, whole))
