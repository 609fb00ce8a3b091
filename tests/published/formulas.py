"""What our own formulas say to each published figure: the quantity's name picks the formula, its inputs the numbers."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass

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
from published.rows import Row, half_steps, numbers, published_rows

INCH = fixings.MM_PER_INCH
LB = fixings.N_PER_LB
LB_PER_INCH = LB / INCH
PSI = fixings.N_MM2_PER_PSI
PSF = shelf_standards.N_MM2_PER_PSF

Numbers = tuple[float, ...]


@dataclass(frozen=True)
class Formula:
    """How a kind of published figure is computed.

    Args:
        quantity: pattern of its name.
        ours: the numbers we compute from a row.
        by: the function or table that does it, as people look it up.
        slack: what it may differ by; None for half a unit in the last printed place.
        printed: the printed numbers to compare with; None for all of those in the value.
    """

    quantity: str
    ours: Callable[[Row], Numbers]
    by: str
    slack: float | None = None
    printed: Callable[[Row], list[float]] | None = None


@dataclass(frozen=True)
class Compared:
    """A published figure beside ours.

    Args:
        row: the figure.
        formula: what computed ours.
        ours, printed: the numbers.
        slack: what each may differ by.
    """

    row: Row
    formula: Formula
    ours: Numbers
    printed: Numbers
    slack: Numbers

    @property
    def agrees(self) -> bool:
        """Whether every number lies within its slack."""
        pairs = zip(self.ours, self.printed, self.slack, strict=True)
        return all(abs(mine - theirs) <= slack for mine, theirs, slack in pairs)


def compared(row: Row) -> Compared | None:
    """Return a figure beside ours; None when no formula answers it."""
    formula = formula_for(row)
    if formula is None:
        return None
    printed = numbers(row.value) if formula.printed is None else formula.printed(row)
    steps = half_steps(row.value) if formula.printed is None else [formula.slack or 0.0] * len(printed)
    slack = steps if formula.slack is None else [formula.slack] * len(printed)
    return Compared(row=row, formula=formula, ours=formula.ours(row), printed=tuple(printed), slack=tuple(slack))


def formula_for(row: Row) -> Formula | None:
    """Return the first formula whose pattern the row's quantity fits."""
    return next((each for each in FORMULAS if re.search(each.quantity, row.quantity)), None)


def reason_not_computed(row: Row) -> str:
    """Return why nothing of ours is set beside a row: it prints words, a formula itself, or what goes into others."""
    return next((reason for pattern, reason in NOT_COMPUTED if re.search(pattern, row.quantity)), "")


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


RECALLED_SHRINKAGE = {
    "ash, white": (4.9, 7.8),
    "cherry, black": (3.7, 7.1),
    "walnut, black": (5.5, 7.8),
    "sycamore": (5.0, 8.4),
    "sweetgum": (5.3, 10.2),
    "white fir": (3.3, 7.0),
}
"""Table 4-3, recalled: radial and tangential of species whose printed row was not seen. [%]"""


def _shrinkage(species: str) -> tuple[float, float]:
    rows = {row.quantity.partition(":")[0]: row for row in published_rows() if ": shrinkage" in row.quantity}
    same = {"Douglas-fir coast": "Douglas-fir, coast", "basswood": "basswood, American"}
    row = rows.get(same.get(species, species))
    radial, tangential = RECALLED_SHRINKAGE[species] if row is None else numbers(row.value)[:2]
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
    pull = tipping.tipping_pull(mass_kg=mass, depth_mm=depth, height_mm=height)
    weights = (tipping.Weight(mass_kg=mass, behind_mm=depth / 2, up_mm=height / 2),)
    return pull, tipping.righting_moment(weights) / height


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


def _first(row: Row) -> list[float]:
    return numbers(row.value)[:1]


def _twice(row: Row) -> list[float]:
    return numbers(row.value)[:1] * 2


def _figure(quantity: str, by: str, *ours: float, slack: float | None = None) -> Formula:
    """Return a row that a figure of ours stands for."""
    return Formula(quantity, lambda _: ours, by, slack)


FORMULAS: tuple[Formula, ...] = (
    Formula(r"^EMC from equation", _emc, "movement.emc_fahrenheit, emc_celsius"),
    Formula(r"^EMC coefficient", _coefficient, "movement.emc_coefficients", 1e-9, _printed_polynomial),
    Formula(r"^max difference F-form", _typings_apart, "movement.emc_fahrenheit, emc_celsius"),
    Formula(r"^EMC published point", _emc, "movement.emc_fahrenheit", 0.05, _first),
    Formula(r"^EMC rule of thumb", _emc_at_70_f, "movement.emc_fahrenheit", 0.5),
    Formula(r"^EMC table row", _emc_at_70_f, "movement.emc_fahrenheit", 0.5),
    Formula(r"C_R ; C_T per 1% MC", _movement_coefficients, "movement.coefficient_from_shrinkage", 6.5e-6),
    Formula(r"C_R ; C_T derived", _derived_coefficients, "movement.coefficient_from_shrinkage"),
    Formula(r"^worked example, flat-grained white fir", _white_fir, "movement.dimension_change", 0.05),
    Formula(r"^width change", _width_change, "movement.dimension_change"),
    Formula(r"^lumber shrinkage lines", _lines, "movement.lumber_shrinkage", 1e-9, _printed_lines),
    Formula(r"^width after drying", _dried, "movement.dried_size"),
    Formula(r"^dew point", lambda _: (humid_air.dew_point(temperature_c=20, humidity_pct=50),), "humid_air.dew_point"),
    Formula(r"^RH from wet bulb", _wet_bulb, "humid_air.humidity_from_wet_bulb", 0.051),
    Formula(r"^winter indoor RH", _winter, "humid_air.warmed_humidity"),
    Formula(
        r"^saturation pressure",
        lambda row: (humid_air.saturation_pressure(numbers(row.inputs)[0]),),
        "humid_air.saturation_pressure",
    ),
    Formula(r"^lag screw reference withdrawal", _lag, "fixings.lag_withdrawal"),
    Formula(r"^wood screw withdrawal example", _screw, "fixings.screw_withdrawal", 1.0),
    Formula(r"^wood screw reference withdrawal", _screw, "fixings.screw_withdrawal"),
    Formula(r"^common nail reference withdrawal", _nail, "fixings.nail_withdrawal"),
    Formula(r"^worked example E2.3", _lag_example, "fixings.lag_withdrawal, fixing_rules.lag_thread_depth"),
    Formula(r"^worked example E2.1a", _nail_example, "fixings.nail_withdrawal"),
    Formula(r"^worked example nail lateral", _nail_lateral, "lateral.lateral_yield", 0.06),
    Formula(r"^worked example E2.4", _double_shear, "lateral.lateral_yield"),
    Formula(
        r"^dowel bearing strength D<1/4",
        lambda row: (lateral.bearing_strength(numbers(row.inputs)[0]) / PSI,),
        "lateral.bearing_strength",
    ),
    Formula(r"^dowel bearing strength D>=1/4 in, a", _thick_bearing, "lateral.thick_bearing_strength", 25.0),
    Formula(r"^wood screw lateral Z", _screw_lateral, "lateral.lateral_yield"),
    Formula(
        r"^load duration factor",
        lambda row: (DURATIONS[row.quantity.partition(", ")[2]],),
        "fixing_rules: duration factors",
    ),
    _figure(r"^end-grain factor for lag", "fixing_rules.END_GRAIN_LAG", fixing_rules.END_GRAIN_LAG),
    _figure(r"^end-grain factor, across", "fixing_rules.END_GRAIN_LATERAL", fixing_rules.END_GRAIN_LATERAL),
    _figure(r"^toe-nail factor, across", "fixing_rules.TOE_NAIL_LATERAL", fixing_rules.TOE_NAIL_LATERAL),
    _figure(r"^toe-nail factor, withdrawal", "fixing_rules.TOE_NAIL_PULL", fixing_rules.TOE_NAIL_PULL),
    Formula(
        r"^assigned specific gravity",
        lambda row: (fixings.ASSIGNED_GRAVITY[row.quantity.removeprefix("assigned specific gravity ").lower()],),
        "fixings.ASSIGNED_GRAVITY",
    ),
    Formula(
        r"^wood screw max withdrawal",
        lambda _: (fixings.screw_breaking_pull(gravity=1.0, diameter_mm=INCH, depth_mm=INCH) / LB,),
        "fixings.screw_breaking_pull",
        0.5,
        lambda row: [max(numbers(row.inputs.replace("p=", " ")))],
    ),
    Formula(
        r"^lag screw max withdrawal",
        _lag_breaking,
        "fixings.lag_breaking_pull",
        0.05,
        lambda row: [each for each in numbers(row.inputs.replace("p=", " ")) if each > 100],
    ),
    Formula(r"^ultimate/allowable ratio", _ratios, "fixings: breaking over allowable"),
    Formula(r"^wood screw size", _screw_sizes, "fixings.SCREW_DIAMETERS_MM, SCREW_ROOTS_MM", 1e-9, _printed_screw_sizes),
    Formula(r"^max shelf span", _span, "sag.span_limit", 0.75),
    Formula(
        r"^shelf design load, library",
        lambda _: ((_limit("woodwork library").pressure_n_mm2 or 0.0) / PSF,),
        "shelf_standards.SHELF_LIMITS",
    ),
    Formula(
        r"^shelf design load, other",
        lambda _: ((_limit("woodwork").pressure_n_mm2 or 0.0) / PSF,),
        "shelf_standards.SHELF_LIMITS",
    ),
    Formula(
        r"^maximum total load on one shelf",
        lambda _: ((shelf_standards.standard_load(_limit("woodwork"), span_mm=9e3, depth_mm=300) or 0.0) * 9e3 / LB,),
        "shelf_standards.standard_load",
    ),
    Formula(
        r"^shelf deflection limit",
        lambda _: (1000 / shelf_standards.sag_allowed(_limit("woodwork"), 1000),),
        "shelf_standards.sag_allowed",
        1e-9,
        lambda row: numbers(row.value.replace("L/", "")),
    ),
    Formula(r"^cabinet shelf test", _kitchen, "shelf_standards", 1e-9, lambda _: [15.0, 1 / 16, 1 / 4]),
    Formula(r"^laboratory shelf test", _laboratory, "shelf_standards", 1e-9, lambda _: [40.0, 0.25]),
    Formula(
        r"^shelf visibly-noticeable sag",
        lambda _: (1000 / shelf_standards.sag_allowed(_limit("panel"), 1000),),
        "shelf_standards.sag_allowed",
        1e-9,
        lambda row: numbers(row.value.replace("L/", "")),
    ),
    _figure(
        r"^library stack room live load", "shelf_standards.STACK_KPA",
        shelf_standards.STACK_KPA / shelf_standards.KPA_PER_PSF, slack=1e-9,
    ),
    Formula(
        r"^stack conditions",
        lambda _: (shelf_standards.STACK_HEIGHT_MM / INCH, shelf_standards.STACK_AISLE_MM / INCH),
        "shelf_standards",
        1e-9,
        lambda row: numbers(row.inputs + row.value)[:2],
    ),
    Formula(
        r"^stack shelf depth",
        lambda _: (shelf_standards.STACK_DEPTH_MM / INCH,),
        "shelf_standards.STACK_DEPTH_MM",
        1e-9,
        lambda row: numbers(row.inputs)[:1],
    ),
    _figure(
        r"^older IBC alternative", "shelf_standards.STACK_KN_M3",
        shelf_standards.STACK_KN_M3 * 1e-6 * (12 * INCH) ** 3 / LB, slack=1e-9,
    ),
    Formula(r"^stack load check", _stack, "shelf_standards.stack_pressure"),
    Formula(
        r"^mass/force equivalence",
        lambda _: (shelf_standards.TEST_N_PER_KG, 1.0),
        "shelf_standards.TEST_N_PER_KG",
        1e-9,
    ),
    _figure(r"scope: height$", "tipping.RULE_HEIGHT_MM", tipping.RULE_HEIGHT_MM / INCH, slack=1e-9),
    _figure(r"scope: mass$", "tipping.RULE_MASS_KG", tipping.RULE_MASS_KG / 0.45359237, slack=1e-9),
    _figure(
        r"scope: enclosed storage volume$", "tipping.RULE_STORAGE_M3", tipping.RULE_STORAGE_M3 / 0.3048**3, slack=1e-9
    ),
    _figure(r"child weight simulated", "tipping.CHILD_KG", tipping.CHILD_KG / 0.45359237, slack=1e-9),
    Formula(r"interlock must hold", lambda _: (tipping.INTERLOCK_N / LB,), "tipping.INTERLOCK_N", 1e-9, _first),
    Formula(
        r"test 1: all drawers open",
        lambda _: (tipping.CLOTHES_KG_M3 / 0.45359237 * 0.3048**3,),
        "tipping.CLOTHES_KG_M3",
        1e-9,
        _first,
    ),
    Formula(
        r"test 2: horizontal force",
        lambda _: (tipping.RULE_PULL_N / LB, tipping.RULE_PULL_HEIGHT_MM / INCH),
        "tipping.RULE_PULL_N, RULE_PULL_HEIGHT_MM",
        1e-9,
    ),
    Formula(
        r"test 3: carpet block",
        lambda _: (tipping.RULE_BLOCK_MM / INCH, tipping.CHILD_KG / 0.45359237),
        "tipping.RULE_BLOCK_MM, CHILD_KG",
        1e-9,
    ),
    Formula(r"^tipover restraint", lambda _: (tipping.RESTRAINT_N / LB,), "tipping.RESTRAINT_N", 1e-9, _first),
    Formula(r"^tip-over check example", _tips, "tipping.tipping_pull, righting_moment", 0.005, lambda _: [39.24] * 2),
    Formula(r"simple, UDL$", _case("even, simple ends", W * SPAN), "beams.deflection"),
    Formula(r"fixed-fixed, UDL", _case("even, fixed ends", W * SPAN), "beams.deflection"),
    Formula(r"fixed-pinned, UDL", _case("even, one end fixed", W * SPAN), "beams.deflection"),
    Formula(r"cantilever, UDL", _case("even, cantilever", W * SPAN), "beams.deflection"),
    Formula(r"cantilever, end P", _case("end load, cantilever", P), "beams.deflection"),
    Formula(r"simple, centre P", _case("middle load, simple ends", P), "beams.deflection"),
    Formula(r"fixed, centre P", _case("middle load, fixed ends", P), "beams.deflection"),
    Formula(r"simple, P at a=300", _off_middle, "beams.point_load_deflection, bent", 5e-6, _twice),
    Formula(r"simple, two P at L/4", _two_loads, "beam_on_supports.bent"),
    Formula(r"two equal spans, UDL on one", _spans(2, 1, 0), "beam_on_supports.bent"),
    Formula(r"two equal spans, UDL on both", _spans(2, 2, 0), "beam_on_supports.bent"),
    Formula(r"three equal spans, UDL, end span", _spans(3, 3, 0), "beam_on_supports.bent"),
    Formula(r"overhangs 200, middle 500", _overhangs, "beam_on_supports.bent"),
    Formula(r"^two-span end ; middle", _shares(2), "beam_on_supports.bent", 1e-9, lambda _: [3 / 8, 10 / 8]),
    Formula(r"^three-span end ; inner", _shares(3), "beam_on_supports.bent", 1e-9, lambda _: [0.4, 1.1]),
    Formula(r"^three-span moments", _moments_of_three, "beam_on_supports.greatest_moment", 1e-9),
    Formula(r"^unequal spans", _unequal, "beam_on_supports.continuous", 1e-6),
    Formula(
        r"^two strips one on the other",
        lambda _: (
            sections.transformed((
                sections.Strip(modulus_n_mm2=1.0, width_mm=100, height_mm=10),
                sections.Strip(modulus_n_mm2=1.0, width_mm=100, height_mm=20, top_mm=10),
            )).stiffness_n_mm2,
        ),
        "sections.transformed",
    ),
    Formula(
        r"^righting moment on a floor",
        lambda _: (
            tipping.righting_moment(
                (tipping.Weight(mass_kg=10, behind_mm=100, up_mm=1000),), falls_rad=math.asin(0.6)
            ),
        ),
        "tipping.righting_moment",
    ),
    Formula(r"^yield modes, unlike", _unlike, "lateral.lateral_yield"),
    Formula(
        r"^nail max withdrawal",
        lambda _: (fixings.nail_breaking_pull(gravity=0.25, diameter_mm=0.1 * INCH, depth_mm=2 * INCH) / LB,),
        "fixings.nail_breaking_pull",
    ),
    Formula(
        r"^lag screw max pull",
        lambda _: (fixings.lag_breaking_pull(gravity=0.25, diameter_mm=INCH / 16, depth_mm=INCH) / LB,),
        "fixings.lag_breaking_pull",
    ),
    Formula(
        r"^bearing length of a screw",
        lambda _: tuple(
            fixing_rules.bearing_length(diameter_mm=0.19 * INCH, depth_mm=p * INCH) / INCH for p in (1.69, 1.13)
        ),
        "fixing_rules.bearing_length",
        1e-9,
    ),
    Formula(r"^three-span, middle-span", _middle_of_three, "beam_on_supports.bent", 1e-6, lambda _: [1920.0]),
    Formula(
        r"^uniform beam, equal overhangs",
        _equal_droop,
        "beam_on_supports.equal_droop_support, bent",
        0.0051,
        lambda row: [*(abs(each) for each in numbers(row.value)), abs(numbers(row.value)[1])],
    ),
    Formula(r"^lipped shelf flexural stiffness", _lipped, "sections.transformed", 0.005, lambda _: [2982.53, 2.273]),
)  # fmt: skip


NOT_COMPUTED: tuple[tuple[str, str], ...] = (
    (r"^EMC equation$", "the formula itself; its values are the rows below it"),
    (r"shrinkage green to ovendry|: shrinkage R / T", "goes into the movement coefficients"),
    (r"^dimension change formula|^coefficient from shrinkage", "the formula itself; its values are other rows"),
    (
        r"^lag screw withdrawal$|^wood screw withdrawal$|^nail withdrawal",
        "the formula itself; its values are other rows",
    ),
    (r"^dowel bearing strength D>=1/4 in,Fe_par|^dowel bearing strength D>=1/4 in$", "the formula itself"),
    (r"^yield modes single|^k2 warning", "the formula itself; its values are other rows"),
    (r"^test tolerances|^shelf load values kg/dm2", "a remark on tests, or figures that nobody could read"),
    (r"applies to units made after|out of scope|bookcases|built-in units", "says what the rule is for, no figure"),
    (r"^stability test|^floor unit fixed to wall|^wall unit overload", "says how a test is made; no result is printed"),
)
