"""What our own formulas say to each published figure: the quantity's name picks the formula, its inputs the numbers."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

from nookwright.trade import creep, fixing_rules, fixings, humid_air, lateral, sections, shelf_standards, tipping
from published.by_hand import (
    _allowable,
    _band,
    _cold_surface,
    _column_share,
    _damp,
    _frozen_bulb,
    _heads,
    _lag_edges,
    _lag_row,
    _later,
    _least_distances,
    _least_modulus,
    _shelf_sag,
    _shelf_stress,
    _shrunk,
    _slanted,
    _slanted_bearing,
    _slot,
    _strip_stresses,
    _textbook_modes,
    _thick_reductions,
    _thin_reduction,
    _thin_root_reduction,
    _two_fixings,
    _yield_strengths,
)
from published.computing import (
    DURATIONS,
    INCH,
    LB,
    PSF,
    PSI,
    SPAN,
    Numbers,
    P,
    W,
    _case,
    _coefficient,
    _derived_coefficients,
    _double_shear,
    _dried,
    _emc,
    _emc_at_70_f,
    _emc_column,
    _equal_droop,
    _kitchen,
    _laboratory,
    _lag,
    _lag_breaking,
    _lag_example,
    _limit,
    _lines,
    _lipped,
    _middle_of_three,
    _moments_of_three,
    _movement_coefficients,
    _nail,
    _nail_example,
    _nail_lateral,
    _off_middle,
    _overhangs,
    _printed_lines,
    _printed_polynomial,
    _printed_screw_sizes,
    _ratios,
    _screw,
    _screw_lateral,
    _screw_sizes,
    _shares,
    _span,
    _spans,
    _stack,
    _thick_bearing,
    _tips,
    _two_loads,
    _typings_apart,
    _unequal,
    _unlike,
    _wet_bulb,
    _white_fir,
    _width_change,
    _winter,
)
from published.rooms_and_frames import (
    _beyond,
    _cantilever_bow,
    _clamp_pressure,
    _clamp_spacing,
    _clamps_needed,
    _end_shares,
    _frost_vapour,
    _gap_to_leave,
    _kdef,
    _on_posts,
    _portal,
    _push_of_back,
    _push_of_couples,
    _radial_and_tangential,
    _rod,
    _room_humidity,
    _room_warmth,
    _shrinkage_behind,
    _two_bars,
    _vapour_excess,
)
from published.rows import Row, half_steps, numbers


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


@cache
def formula_for(row: Row) -> Formula | None:
    """Return the first formula whose pattern the row's quantity fits."""
    return next((each for each in FORMULAS if re.search(each.quantity, row.quantity)), None)


def reason_not_computed(row: Row) -> str:
    """Return why nothing of ours is set beside a row: it prints words, a formula itself, or what goes into others."""
    return next((reason for pattern, reason in NOT_COMPUTED if re.search(pattern, row.quantity)), "")


def _first(row: Row) -> list[float]:
    return numbers(row.value)[:1]


def _twice(row: Row) -> list[float]:
    return numbers(row.value)[:1] * 2


def _figure(quantity: str, by: str, *ours: float, slack: float | None = None) -> Formula:
    """Return a row that a figure of ours stands for."""
    return Formula(quantity, lambda _: ours, by, slack)


def _both_ends(row: Row) -> list[float]:
    return [float(each) for each in row.value.split("-")]


_BOTH_PRINTED = (
    r"^(alder|ash|aspen|basswood|beech|birch|buckeye|butternut|cherry|chestnut|cottonwood|elm|hackberry|hickory|maple|"
    r"oak, live|oak, overcup|sassafras|sweetgum|sycamore|tanoak|tupelo|walnut)\b.*: shrinkage"
)
"""Species whose shrinkage and whose movement coefficients are both printed, in tables apart."""


FORMULAS: tuple[Formula, ...] = (
    Formula(r"^lag screws, a whole row", _lag_row, "fixings.lag_withdrawal"),
    Formula(r"^bending yield strength", _yield_strengths, "fixings.yield_strength", 1e-6),
    Formula(r"^yield modes, textbook", _textbook_modes, "lateral.lateral_yield"),
    Formula(r"^column stability", _column_share, "columns.buckling_stress", 1e-6),
    Formula(r"^stiffness columns", _least_modulus, "columns.least_modulus"),
    Formula(r"^pull of a head", _heads, "fixings.head_pull_through"),
    Formula(r"^screw pulled at a slant", _slanted, "fixing_rules.slanted_load"),
    Formula(r"^nail pulled at a slant", _slanted, "fixing_rules.slanted_nail_load"),
    Formula(r"^least distances", _least_distances, "fixing_rules.least_distances", 1e-9),
    Formula(r"^lag of 10 mm near", _lag_edges, "fixing_rules.lag_edge_distance", 1e-9),
    Formula(r"^bearing strength at a slant", _slanted_bearing, "lateral.thick_bearing_strength"),
    Formula(r"^reduction terms of a 3/8", _thick_reductions, "lateral.reduction_terms", 1e-9),
    Formula(r"^reduction term of a 1/4", _thin_root_reduction, "lateral.reduction_terms", 1e-6),
    Formula(r"^reduction term of a No. 10", _thin_reduction, "lateral.reduction_terms", 1e-9),
    Formula(r"^slot for a screw", _slot, "movement.slot_length"),
    Formula(r"^shrinkage on the way", _shrunk, "movement.shrinkage_at"),
    Formula(r"^air at a cold surface", _cold_surface, "humid_air.surface_humidity"),
    Formula(r"^RH from wet bulb below", _frozen_bulb, "humid_air.humidity_from_wet_bulb"),
    Formula(r"^pulls of two wall", _two_fixings, "tipping.fixing_pulls"),
    Formula(r"^sag of a shelf", _shelf_sag, "sag.shelf_sag"),
    Formula(r"^stress of a shelf", _shelf_stress, "sag.bending_stress"),
    Formula(r"^stress a board may", _allowable, "sag.allowable_stress"),
    Formula(r"^stress in two unlike", _strip_stresses, "sections.greatest_stress"),
    Formula(r"^sag after years", _later, "creep.long_term_sag"),
    Formula(r"^creep factor in a damp", _damp, "creep.damp_creep"),
    Formula(r"^band of sag", _band, "creep.sag_band"),
    Formula(r"^kdef service class 1", _kdef, "woods.wood"),
    _figure(r"^kdef service class 2 over 1", "creep.DAMP_RATIO", creep.DAMP_RATIO),
    Formula(r"^vapour excess in frost", _frost_vapour, "room_climate.VAPOUR_EXCESS_PA"),
    Formula(r"^vapour excess by outside", _vapour_excess, "room_climate.vapour_excess"),
    Formula(r"^room warmth", _room_warmth, "room_climate.room_warmth"),
    Formula(r"^room humidity", _room_humidity, "room_climate.room_humidity"),
    Formula(r"^gap to leave", _gap_to_leave, "movement.gap_to_leave"),
    Formula(r"^clamp pressure", _clamp_pressure, "glue_up.clamp_pressure", 1e-6, _both_ends),
    Formula(r"^clamp spacing", _clamp_spacing, "glue_up.clamp_spacing"),
    Formula(r"^clamps needed", _clamps_needed, "glue_up.clamps_needed"),
    Formula(r"^push of a back", _push_of_back, "racking.panel_push", 0.1),
    Formula(r"^push of couples", _push_of_couples, "racking.couple_push"),
    Formula(r"^portal, fixed feet", _portal, "plane_frame.framed"),
    Formula(r"^shares of a beam stiff", _end_shares, "plane_frame.framed"),
    Formula(r"^rod pulled", _rod, "plane_frame.framed"),
    Formula(r"^(cantilever of two bars|beam of two unequal bars)", _two_bars, "plane_frame.framed"),
    Formula(r"^bow of an evenly loaded cantilever", _cantilever_bow, "plane_frame.bow_at"),
    Formula(r"^beam (hinged to two|stiff at one)", _on_posts, "plane_frame.framed"),
    Formula(r"^EMC from equation", _emc, "movement.emc_fahrenheit, emc_celsius"),
    Formula(r"^EMC coefficient", _coefficient, "movement.emc_coefficients", 1e-9, _printed_polynomial),
    Formula(r"^max difference F-form", _typings_apart, "movement.emc_fahrenheit, emc_celsius"),
    Formula(r"^EMC published point", _emc, "movement.emc_fahrenheit", 0.05, _first),
    Formula(r"^EMC rule of thumb", _emc_at_70_f, "movement.emc_fahrenheit", 0.5),
    Formula(r"^EMC table row", _emc_at_70_f, "movement.emc_fahrenheit", 0.061),
    Formula(r"^EMC table at", _emc_column, "movement.emc_fahrenheit", 0.061),
    Formula(
        _BOTH_PRINTED,
        _shrinkage_behind,
        "movement.shrinkage_from_coefficient",
        0.0500001,
        _radial_and_tangential,
    ),
    Formula(r"^change beyond the coefficients", _beyond, "movement.board_change"),
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
    Formula(r"^tip-over check example", _tips, "tipping.righting_moment", 0.005, lambda _: [39.24]),
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
