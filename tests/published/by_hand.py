"""How our formulas are asked for the figures of whole tables and for those worked out by hand."""

from __future__ import annotations

import math
import re

from nookwright.trade import columns, creep, fixing_rules, fixings, humid_air, lateral, movement, sag, sections, tipping
from published.computing import INCH, LB, LB_PER_INCH, PSI, Numbers, _named
from published.rows import Row, numbers

LAG_DIAMETERS_INCH = (1 / 4, 5 / 16, 3 / 8, 7 / 16, 1 / 2, 5 / 8, 3 / 4, 7 / 8, 1.0, 1.125, 1.25)


def _lag_row(row: Row) -> Numbers:
    gravity = numbers(row.inputs)[0]
    return tuple(
        fixings.lag_withdrawal(gravity=gravity, diameter_mm=each * INCH) / LB_PER_INCH for each in LAG_DIAMETERS_INCH
    )


def _yield_strengths(row: Row) -> Numbers:
    return tuple(fixings.yield_strength(each * INCH) / PSI / 1000 for each in _decimals(row.inputs))


def _decimals(text: str) -> list[float]:
    return [float(each) for each in re.findall(r"\.\d+", text)]


def _heads(_: Row) -> Numbers:
    return tuple(
        fixings.head_pull_through(gravity=0.5, head_mm=0.312 * INCH, side_mm=thick * INCH) / LB for thick in (0.75, 1.5)
    )


def _slanted(row: Row) -> Numbers:
    withdrawal, across, degrees = numbers(row.inputs)
    rule = fixing_rules.slanted_nail_load if row.quantity.startswith("nail") else fixing_rules.slanted_load
    return (rule(withdrawal_n=withdrawal, lateral_n=across, angle_rad=math.radians(degrees)),)


def _least_distances(_: Row) -> Numbers:
    found = [fixing_rules.least_distances(diameter_mm=4.0, drilled=drilled) for drilled in (True, False)]
    return tuple(size for each in found for size in (each.edge_mm, each.end_mm, each.along_mm, each.across_mm))


def _lag_edges(_: Row) -> Numbers:
    return tuple(fixing_rules.lag_edge_distance(diameter_mm=10.0, across_grain=across) for across in (False, True))


def _slanted_bearing(row: Row) -> Numbers:
    gravity, diameter, degrees = numbers(row.inputs)
    angle = math.radians(degrees)
    return (lateral.thick_bearing_strength(gravity=gravity, diameter_mm=diameter * INCH, angle_rad=angle) / PSI,)


def _thick_reductions(_: Row) -> Numbers:
    bolt = lateral.Dowel(diameter_mm=0.375 * INCH, rated_mm=0.375 * INCH, yield_n_mm2=310)
    return lateral.reduction_terms(bolt, 0.0) + lateral.reduction_terms(bolt, math.pi / 2)


def _thin_root_reduction(_: Row) -> Numbers:
    lag = lateral.Dowel(diameter_mm=0.173 * INCH, rated_mm=0.25 * INCH, yield_n_mm2=310)
    return lateral.reduction_terms(lag, math.pi / 2)


def _thin_reduction(_: Row) -> Numbers:
    screw = lateral.Dowel(diameter_mm=0.152 * INCH, rated_mm=0.190 * INCH, yield_n_mm2=550)
    return lateral.reduction_terms(screw, 0.0)


def _slot(_: Row) -> Numbers:
    return (movement.slot_length(from_fixed_line_mm=500, coefficient=0.00369, low_pct=6, high_pct=12),)


def _shrunk(_: Row) -> Numbers:
    return (movement.shrinkage_at(shrinkage_pct=9.0, moisture_pct=10.0),)


def _cold_surface(_: Row) -> Numbers:
    return (humid_air.surface_humidity(room_c=20.0, room_pct=50.0, surface_c=12.0),)


def _frozen_bulb(row: Row) -> Numbers:
    dry, wet, pressure = numbers(row.inputs)
    return (humid_air.humidity_from_wet_bulb(dry_c=dry, wet_c=wet, pressure_pa=pressure),)


def _two_fixings(_: Row) -> Numbers:
    return tipping.fixing_pulls(pull_n=350, pull_height_mm=2000, righting_n_mm=58860, fixing_heights_mm=(1900.0, 950.0))


def _shelf_sag(_: Row) -> Numbers:
    found = sag.shelf_sag(load_n_mm=0.3, span_mm=900, modulus_n_mm2=9000, depth_mm=300, thickness_mm=18)
    return found.bending_mm, found.shear_mm


def _shelf_stress(_: Row) -> Numbers:
    return (sag.bending_stress(load_n_mm=0.3, span_mm=900, depth_mm=300, thickness_mm=18),)


def _allowable(_: Row) -> Numbers:
    return (sag.allowable_stress(strength_n_mm2=65.0, strength_cv=0.16, duration=0.9),)


def _strip_stresses(_: Row) -> Numbers:
    upper = sections.Strip(modulus_n_mm2=9000, width_mm=100, height_mm=10)
    lower = sections.Strip(modulus_n_mm2=12000, width_mm=100, height_mm=20, top_mm=10)
    return sections.greatest_stress(sections.transformed((upper, lower)), 30000.0)


def _later(_: Row) -> Numbers:
    return (creep.long_term_sag(initial_mm=2.0, creep=1.5, permanent_share=0.5),)


def _damp(_: Row) -> Numbers:
    return (creep.damp_creep(1.6),)


def _band(_: Row) -> Numbers:
    return creep.sag_band(sag_mm=2.0, modulus_cv=0.22)


def _textbook_modes(row: Row) -> Numbers:
    diameter = _named(row.inputs, "D") * INCH
    main, side = (
        lateral.Held(length_mm=_named(row.inputs, l) * INCH, bearing_n_mm2=_named(row.inputs, Fe) * PSI)
        for l, Fe in (("lm", "Fem"), ("ls", "Fes"))
    )
    nail = lateral.Dowel(diameter_mm=diameter, rated_mm=diameter, yield_n_mm2=_named(row.inputs, "Fyb") * PSI)
    modes = lateral.lateral_yield(dowel=nail, main=main, side=side)
    return tuple(each / LB for each in (modes.i_m, modes.i_s, modes.ii, modes.iii_m, modes.iii_s, modes.iv))


def _column_share(_: Row) -> Numbers:
    """The share of its crushing strength that a column of sawn wood keeps, from the stress at which it springs aside."""
    springs = columns.buckling_stress(least_modulus_n_mm2=510000, length_mm=87.6, thickness_mm=3.5)
    r, c = springs / (1150 * 1.15), 0.8
    return ((1 + r) / (2 * c) - math.sqrt(((1 + r) / (2 * c)) ** 2 - r / c),)


def _least_modulus(_: Row) -> Numbers:
    return (columns.least_modulus(modulus_n_mm2=10000, modulus_cv=0.25),)
