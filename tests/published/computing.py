"""How our own formulas are asked for each published figure: from a row's inputs to the numbers we compute."""

from __future__ import annotations

import re
from collections.abc import Callable

from nookwright.solvers import beam_on_supports as bars
from nookwright.solvers import beams
from nookwright.trade import (
    fixing_rules,
    fixings,
    humid_air,
    lateral,
    movement,
    sag,
    sections,
    shelf_standards,
    tipping,
    woods,
)
from published.rows import Row, numbers, published_rows

INCH = fixings.MM_PER_INCH
LB = fixings.N_PER_LB
LB_PER_INCH = LB / INCH
PSI = fixings.N_MM2_PER_PSI
PSF = shelf_standards.N_MM2_PER_PSF

Numbers = tuple[float, ...]


def _named(text: str, name: str) -> float:
    """Return the number after `name=` in a text."""
    found = re.search(rf"(?<![A-Za-z]){name}\s?=\s?([\d.]+(?:e\d+)?)", text)
    assert found is not None, (name, text)
    return float(found.group(1))


# Moisture and movement.


def _emc(row: Row) -> Numbers:
    degrees, humidity = numbers(row.inputs)
    if " C," in row.inputs:
        return (movement.emc_celsius(temperature_c=degrees, humidity_pct=humidity),)
    return (movement.emc_fahrenheit(temperature_f=degrees, humidity_pct=humidity),)


def _emc_at_70_f(row: Row) -> Numbers:
    return (movement.emc_fahrenheit(temperature_f=70, humidity_pct=numbers(row.inputs)[0]),)


def _emc_column(row: Row) -> Numbers:
    warmth = numbers(row.quantity)[0]
    return tuple(movement.emc_fahrenheit(temperature_f=warmth, humidity_pct=each) for each in numbers(row.inputs))


def _coefficient(row: Row) -> Numbers:
    name = re.search(r"coefficient (\w+)", row.quantity)
    assert name is not None
    at = (
        movement.emc_coefficients_fahrenheit(70.0)
        if "in F" in row.quantity
        else movement.emc_coefficients_celsius(20.0)
    )
    return (float(getattr(at, name.group(1))),)


def _printed_polynomial(row: Row) -> list[float]:
    T = 70.0 if "in F" in row.quantity else 20.0
    constant, linear, square = numbers(row.value.replace("T^2", " ").replace("T", " "))
    return [constant + linear * T + square * T**2]


def _typings_apart(_: Row) -> Numbers:
    worst = 0.0
    for fahrenheit in range(30, 121):
        for humidity in range(5, 96):
            in_f = movement.emc_fahrenheit(temperature_f=fahrenheit, humidity_pct=humidity)
            in_c = movement.emc_celsius(temperature_c=(fahrenheit - 32) / 1.8, humidity_pct=humidity)
            worst = max(worst, abs(in_f - in_c))
    return (worst,)


def _shrinkage(species: str) -> tuple[float, float]:
    rows = {row.quantity.partition(":")[0]: row for row in published_rows() if ": shrinkage" in row.quantity}
    same = {"Douglas-fir coast": "Douglas-fir, coast", "basswood": "basswood, American"}
    row = rows.get(same.get(species, species))
    assert row is not None, species
    radial, tangential = numbers(row.value)[:2]
    return radial, tangential


def _movement_coefficients(row: Row) -> Numbers:
    radial, tangential = _shrinkage(row.quantity.partition(":")[0].removesuffix(" derived").strip())
    return movement.coefficient_from_shrinkage(radial), movement.coefficient_from_shrinkage(tangential)


def _derived_coefficients(row: Row) -> Numbers:
    radial, tangential = _shrinkage(row.quantity.partition(":")[0])
    return movement.coefficient_from_shrinkage(radial), movement.coefficient_from_shrinkage(tangential)


WIDTH_COEFFICIENTS = {
    "red oak flat": ("red-oak", "tangential"),
    "sugar maple flat": ("hard-maple", "tangential"),
    "white oak quarter": ("white-oak", "radial"),
    "beech flat": ("beech", "tangential"),
}


def _width_change(row: Row) -> Numbers:
    wood, across = next(found for start, found in WIDTH_COEFFICIENTS.items() if row.inputs.startswith(start))
    width, low, high = (abs(each) for each in numbers(row.inputs))
    figure = getattr(woods.wood(wood), across)
    return (movement.dimension_change(width_mm=width, coefficient=figure.value, from_pct=low, to_pct=high),)


def _white_fir(row: Row) -> Numbers:
    width, low, high, coefficient = numbers(row.inputs)
    moved = movement.dimension_change(width_mm=width, coefficient=coefficient, from_pct=low, to_pct=high)
    return moved, width + moved


def _lines(_: Row) -> Numbers:
    return (
        movement.lumber_shrinkage(moisture_pct=10, of="width"),
        movement.lumber_shrinkage(moisture_pct=10, of="thickness"),
    )


def _printed_lines(row: Row) -> list[float]:
    width, width_slope, thickness, thickness_slope, *_ = (
        abs(each) for each in numbers(row.inputs.replace("M", " ").replace("=", " "))
    )
    return [width - 10 * width_slope, thickness - 10 * thickness_slope]


def _dried(row: Row) -> Numbers:
    width, low, high = numbers(row.inputs)
    return (movement.dried_size(size_mm=width, from_pct=low, to_pct=high, of="width"),)


def _wet_bulb(row: Row) -> Numbers:
    dry, wet, pressure = numbers(row.inputs)
    humidity = humid_air.humidity_from_wet_bulb(dry_c=dry, wet_c=wet, pressure_pa=pressure)
    return humidity, humidity


def _winter(row: Row) -> Numbers:
    outside, humidity, inside = numbers(row.inputs)
    return (humid_air.warmed_humidity(outside_c=outside, outside_pct=humidity, inside_c=inside),)


# Fasteners.


def _lag(row: Row) -> Numbers:
    gravity, diameter = numbers(row.inputs)
    return (fixings.lag_withdrawal(gravity=gravity, diameter_mm=diameter * INCH) / LB_PER_INCH,)


def _screw(row: Row) -> Numbers:
    gravity, diameter = _named(row.inputs, "G"), _named(row.inputs, "D")
    return (fixings.screw_withdrawal(gravity=gravity, diameter_mm=diameter * INCH) / LB_PER_INCH,)


def _nail(row: Row) -> Numbers:
    gravity, diameter = _named(row.inputs, "G"), _named(row.inputs, "D")
    return (fixings.nail_withdrawal(gravity=gravity, diameter_mm=diameter * INCH) / LB_PER_INCH,)


def _lag_example(row: Row) -> Numbers:
    text = row.inputs
    gravity, diameter, length = _named(text, "G"), _named(text, "D") * INCH, _named(text, "L") * INCH
    side, tip = (float(each) * INCH for each in re.findall(r"(?:side|tip) ([\d.]+)", text))
    per_mm = fixings.lag_withdrawal(gravity=gravity, diameter_mm=diameter)
    depth = fixing_rules.lag_thread_depth(length_mm=length, side_mm=side, tip_mm=tip)
    return per_mm / LB_PER_INCH, per_mm * depth / LB


def _nail_example(row: Row) -> Numbers:
    gravity, diameter = _named(row.inputs, "G"), _named(row.inputs, "D") * INCH
    per_mm = fixings.nail_withdrawal(gravity=gravity, diameter_mm=diameter)
    return per_mm / LB_PER_INCH, per_mm * _named(row.inputs, "p") * INCH / LB


def _nail_lateral(row: Row) -> Numbers:
    text = row.inputs
    diameter, side = _named(text, "D") * INCH, _named(text, "ts") * INCH
    wood = lateral.bearing_strength(_named(text, "G"))
    nail = lateral.Dowel(diameter_mm=diameter, rated_mm=diameter, yield_n_mm2=_named(text, "Fyb") * PSI)
    modes = lateral.lateral_yield(
        dowel=nail,
        main=lateral.Held(length_mm=_named(text, "L") * INCH - side, bearing_n_mm2=wood),
        side=lateral.Held(length_mm=side, bearing_n_mm2=wood),
    )
    found = (modes.governing_n, modes.i_m, modes.i_s, modes.ii, modes.iii_m, modes.iv)
    return tuple(each / LB for each in found)


def _screw_lateral(row: Row) -> Numbers:
    text = row.inputs.replace("3/4", "0.75")
    outside, root = _named(text, "D") * INCH, _named(text, "Dr") * INCH
    wood = lateral.bearing_strength(_named(text, "G"))
    psi = float(re.findall(r"Fyb (\d+)k", text)[0]) * 1000
    modes = lateral.lateral_yield(
        dowel=lateral.Dowel(diameter_mm=root, rated_mm=root, yield_n_mm2=psi * PSI),
        main=lateral.Held(length_mm=10 * outside, bearing_n_mm2=wood),
        side=lateral.Held(length_mm=_named(text, "ts") * INCH, bearing_n_mm2=wood),
    )
    return (modes.governing_n / LB,)


def _double_shear(row: Row) -> Numbers:
    text = row.inputs
    outside, root = _named(text, "D") * INCH, _named(text, "Dr") * INCH
    wood = lateral.bearing_strength(_named(text, "G"))
    main, side = (float(each) * INCH for each in re.findall(r"(?:main|side) ([\d.]+)", text))
    far = fixing_rules.bearing_length(diameter_mm=outside, depth_mm=_named(text, "L") * INCH - main - side)
    modes = lateral.lateral_yield(
        dowel=lateral.Dowel(
            diameter_mm=root, rated_mm=root if text.endswith("Dr") else outside, yield_n_mm2=80000 * PSI
        ),
        main=lateral.Held(length_mm=main, bearing_n_mm2=wood),
        side=lateral.Held(length_mm=far, bearing_n_mm2=wood),
    )
    return (modes.double_n / LB,)


def _unlike(row: Row) -> Numbers:
    text = row.inputs
    diameter = _named(text, "D") * INCH
    main, side = (float(each) * INCH for each in re.findall(r"(?:main|side) ([\d.]+)", text))
    modes = lateral.lateral_yield(
        dowel=lateral.Dowel(diameter_mm=diameter, rated_mm=diameter, yield_n_mm2=_named(text, "Fyb") * PSI),
        main=lateral.Held(length_mm=main, bearing_n_mm2=lateral.bearing_strength(_named(text, "Gm"))),
        side=lateral.Held(length_mm=side, bearing_n_mm2=lateral.bearing_strength(_named(text, "Gs"))),
    )
    return tuple(each / LB for each in (modes.i_m, modes.i_s, modes.ii, modes.iii_m, modes.iii_s, modes.iv))


def _thick_bearing(row: Row) -> Numbers:
    gravity, *diameter = numbers(row.inputs)
    angle = 1.5707963267948966 if "across" in row.quantity else 0.0
    size = diameter[0] * INCH if diameter else 12.7
    return (lateral.thick_bearing_strength(gravity=gravity, diameter_mm=size, angle_rad=angle) / PSI,)


DURATIONS = {
    "permanent": fixing_rules.PERMANENT,
    "ten years": fixing_rules.TEN_YEARS,
    "two months": fixing_rules.TWO_MONTHS,
    "seven days": fixing_rules.SEVEN_DAYS,
    "ten minutes": fixing_rules.TEN_MINUTES,
}


def _screw_sizes(_: Row) -> Numbers:
    sizes = ("No. 6", "No. 8", "No. 10", "No. 12")
    return tuple(
        size / INCH for name in sizes for size in (fixings.SCREW_DIAMETERS_MM[name], fixings.SCREW_ROOTS_MM[name])
    )


def _printed_screw_sizes(row: Row) -> list[float]:
    return [float(each) for each in re.findall(r"(?<![\w.])\.\d+", row.inputs)]


def _lag_breaking(_: Row) -> Numbers:
    inches = fixings.lag_breaking_pull(gravity=1.0, diameter_mm=INCH, depth_mm=INCH) / LB
    return inches, fixings.lag_breaking_pull(gravity=1.0, diameter_mm=1.0, depth_mm=1.0)


def _ratios(_: Row) -> Numbers:
    one = {"gravity": 0.5, "diameter_mm": 4.0}
    screw = fixings.screw_breaking_pull(depth_mm=1.0, **one) / fixings.screw_withdrawal(**one)
    nail = fixings.nail_breaking_pull(depth_mm=1.0, **one) / fixings.nail_withdrawal(**one)
    return screw, nail


# Loads and stability.


def _span(row: Row) -> Numbers:
    thickness, load, psi = numbers(row.inputs)
    depth = 10 * INCH
    span = sag.span_limit(
        load_n_mm=load * PSF * depth,
        sag_ratio=shelf_standards.shelf_limit("woodwork").span_ratio or 0.0,
        modulus_n_mm2=psi * PSI,
        depth_mm=depth,
        thickness_mm=thickness * INCH,
    )
    return (span / INCH,)


def _limit(key: shelf_standards.ShelfLimitKey) -> shelf_standards.ShelfLimit:
    return shelf_standards.shelf_limit(key)


def _kitchen(_: Row) -> Numbers:
    return (
        (_limit("kitchen").pressure_n_mm2 or 0.0) / PSF,
        shelf_standards.sag_allowed(_limit("kitchen"), 12 * INCH) / INCH,
        shelf_standards.sag_allowed(_limit("kitchen"), 100 * INCH) / INCH,
    )


def _laboratory(_: Row) -> Numbers:
    return (_limit("laboratory").pressure_n_mm2 or 0.0) / PSF, (_limit("laboratory").most_sag_mm or 0.0) / INCH


def _stack(row: Row) -> Numbers:
    shelves, per_foot, depth = numbers(row.inputs)
    pressure = shelf_standards.stack_pressure(
        shelves=int(shelves), load_n_mm=per_foot * LB / (12 * INCH), depth_mm=depth * INCH
    )
    return (pressure / shelf_standards.KPA_PER_PSF,)


def _tips(row: Row) -> Numbers:
    mass, depth, _, height = numbers(row.inputs)
    weights = (tipping.Weight(mass_kg=mass, behind_mm=depth / 2, up_mm=height / 2),)
    return (tipping.righting_moment(weights) / height,)


# Beams.

EI = 1312.2e6
SPAN = 900.0
W, P = 0.3, 200.0


def _case(case: beams.BeamCase, load: float) -> Callable[[Row], Numbers]:
    return lambda _: (beams.deflection(case=case, load_n=load, span_mm=SPAN, stiffness_n_mm2=EI),)


def _bar(length: float, at: tuple[float, ...], loads: tuple[bars.BeamLoad, ...]) -> bars.BentBeam:
    supports = tuple(bars.Support(x_mm=x) for x in at)
    return bars.bent(length_mm=length, steps=((0.0, EI),), supports=supports, loads=loads)


def _even(spans: int, loaded: int | None = None) -> bars.BentBeam:
    length = spans * SPAN
    load = bars.EvenLoad(start_mm=0.0, end_mm=(loaded or spans) * SPAN, load_n_mm=W)
    return _bar(length, tuple(SPAN * i for i in range(spans + 1)), (load,))


def _off_middle(_: Row) -> Numbers:
    closed = beams.point_load_deflection(load_n=P, span_mm=SPAN, from_end_mm=300, stiffness_n_mm2=EI)
    beam = _bar(SPAN, (0.0, SPAN), (bars.PointLoad(x_mm=300, load_n=P),))
    return closed, bars.greatest_sag(beam, 0, SPAN)


def _two_loads(_: Row) -> Numbers:
    loads = tuple(bars.PointLoad(x_mm=SPAN * share, load_n=P) for share in (0.25, 0.75))
    return (bars.greatest_sag(_bar(SPAN, (0.0, SPAN), loads), 0, SPAN),)


def _spans(spans: int, loaded: int, which: int) -> Callable[[Row], Numbers]:
    return lambda _: (bars.greatest_sag(_even(spans, loaded), which * SPAN, (which + 1) * SPAN),)


def _overhangs(_: Row) -> Numbers:
    beam = _bar(SPAN, (200.0, 700.0), (bars.EvenLoad(start_mm=0.0, end_mm=SPAN, load_n_mm=W),))
    return (bars.greatest_sag(beam, 200, 700),)


def _shares(spans: int) -> Callable[[Row], Numbers]:
    return lambda _: tuple(each / (W * SPAN) for each in _even(spans).reactions_n[:2])


def _unequal(_: Row) -> Numbers:
    beam = bars.continuous(spans_mm=(600.0, 900.0), loads_n_mm=(0.3, 0.5), stiffness_n_mm2=EI)
    return -max(span.moment_n_mm for span in beam.spans), *beam.reactions_n


def _moments_of_three(_: Row) -> Numbers:
    beam = _even(3)
    middle = 1.5 * SPAN
    places = ((0.0, SPAN / 2), (0.0, 3 * SPAN), (middle, middle))
    found = [bars.greatest_moment(beam, start, end) for start, end in places]
    return tuple(each / (W * SPAN**2) for each in found)


def _middle_of_three(_: Row) -> Numbers:
    return (W * SPAN**4 / (EI * bars.greatest_sag(_even(3), SPAN, 2 * SPAN)),)


def _equal_droop(_: Row) -> Numbers:
    share = bars.equal_droop_support()
    beam = _bar(SPAN, (share * SPAN, (1 - share) * SPAN), (bars.EvenLoad(start_mm=0, end_mm=SPAN, load_n_mm=W),))
    middle, simple = bars.sink_at(beam, SPAN / 2), bars.greatest_sag(_even(1), 0, SPAN)
    return share, 100 * middle / simple, 100 * bars.sink_at(beam, 0.0) / simple


def _lipped(_: Row) -> Numbers:
    shelf = sections.Strip(modulus_n_mm2=9000, width_mm=282, height_mm=18)
    lip = sections.Strip(modulus_n_mm2=12500, width_mm=18, height_mm=38)
    stiffness = sections.transformed((shelf, lip)).stiffness_n_mm2
    whole = sections.loose((sections.Strip(modulus_n_mm2=9000, width_mm=300, height_mm=18),))
    return stiffness / 1e6, stiffness / whole
