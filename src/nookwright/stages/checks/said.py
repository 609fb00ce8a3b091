"""How findings say sizes, forces, masses and stresses: in the units that the reader uses."""

from __future__ import annotations

from typing import Literal

from nookwright.basics.amounts import show_mass
from nookwright.basics.lengths import RATE_UNITS, Marks, show, show_rate
from nookwright.stages.inputs.brief import Brief
from nookwright.trade.fixings import N_MM2_PER_PSI, N_PER_LB

_MM_PER_INCH = 25.4
_G_PER_OZ = 28.349523125
_FOOT_M = 0.3048


def size(mm: float, brief: Brief) -> str:
    """Return a length to mark or buy, to the reader's own marks, with its unit."""
    return show(mm, Marks(units=brief.units, resolution=brief.resolution), with_unit=True)


def fine(mm: float, brief: Brief) -> str:
    """Return a small movement or sag, finer than people mark: `2.31 mm` or `0.091 in`."""
    return f"{mm:.2f} mm" if brief.units == "mm" else f"{mm / _MM_PER_INCH:.3f} in"


def reading(value: float, unit: Literal["mm", "deg", "mm/m"], brief: Brief) -> str:
    """Return a reading of the survey: `1003.2 mm` or `39 1/2"`, `88.4 deg`, `5.1 mm/m` or `0.061 in/ft`."""
    if unit == "deg":
        return f"{value:.1f} deg"
    if unit == "mm/m":
        return slope(value, brief)
    if brief.units == "mm":
        return f"{value:.1f} mm"
    return show(value, Marks(units="inch", resolution=1 / 32), with_unit=True)


def force(newton: float, brief: Brief) -> str:
    """Return a force: `356 N` or `80 lbf`."""
    return f"{newton:.0f} N" if brief.units == "mm" else f"{newton / N_PER_LB:.0f} lbf"


def great_force(newton: float, brief: Brief) -> str:
    """Return a force that need not be told to the newton: `3.9 kN` or `880 lbf`."""
    return f"{newton / 1000:.1f} kN" if brief.units == "mm" else f"{newton / N_PER_LB / 10:.0f}0 lbf"


def mass(kilogram: float, brief: Brief) -> str:
    """Return a mass: `26 kg` or `58 lb`."""
    return show_mass(kilogram, brief.units)


def small_mass(gram: float, brief: Brief) -> str:
    """Return the mass of glue: `50 g` or `1.8 oz`."""
    return f"{gram:.0f} g" if brief.units == "mm" else f"{gram / _G_PER_OZ:.1f} oz"


def stress(n_mm2: float, brief: Brief) -> str:
    """Return a stress: `1.69 N/mm2` or `245 psi`."""
    return f"{n_mm2:.2f} N/mm2" if brief.units == "mm" else f"{n_mm2 / N_MM2_PER_PSI:.0f} psi"


def along(kn_m: float, brief: Brief) -> str:
    """Return a load along a line: `1.17 kN/m` or `80 lb/ft`."""
    return f"{kn_m:.2f} kN/m" if brief.units == "mm" else f"{1000 * kn_m / N_PER_LB * _FOOT_M:.0f} lb/ft"


def pressure(kpa: float, brief: Brief) -> str:
    """Return a load on an area: `2.0 kPa` or `41 lb/ft2`."""
    return f"{kpa:.1f} kPa" if brief.units == "mm" else f"{1000 * kpa / N_PER_LB * _FOOT_M**2:.0f} lb/ft2"


def slope(mm_per_m: float, brief: Brief) -> str:
    """Return a fall: `4.2 mm/m` or `0.050 in/ft`."""
    return f"{show_rate(mm_per_m, brief.units)} {RATE_UNITS[brief.units]}"


def warmth(celsius: float, brief: Brief) -> str:
    """Return a temperature: `20 C` or `68 F`."""
    return f"{celsius:g} C" if brief.units == "mm" else f"{celsius * 1.8 + 32:.0f} F"


def area(m2: float, brief: Brief) -> str:
    """Return an area: `0.53 m2` or `5.7 ft2`."""
    return f"{m2:.2f} m2" if brief.units == "mm" else f"{m2 / _FOOT_M**2:.1f} ft2"
