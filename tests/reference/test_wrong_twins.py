"""For each formula, deliberately wrong twins: one of its numbers or signs changed, which the published figures reject.

A twin is made from the formula's own source: every number in it (exponents too) is made a tenth larger, every + and -,
every * and / is swapped, one at a time. The twin takes the formula's place, and the figures of docs/validation.md are
computed again: at least one must no longer agree.
"""

from __future__ import annotations

import ast
import importlib
import inspect
import re
import sys
import textwrap
from collections.abc import Iterator
from functools import cache
from types import ModuleType

import pytest

from published.formulas import FORMULAS, compared, formula_for
from published.rows import Row, published_rows

# Where a formula stands, and the pattern of the published figures that must notice.
TRIED = (
    ("trade.movement", "emc_coefficients_fahrenheit", "EMC from|EMC coefficient"),
    ("trade.movement", "emc_coefficients_celsius", "EMC from|EMC coefficient|max difference"),
    ("trade.movement", "_emc", "EMC from"),
    ("trade.movement", "dimension_change", "width change"),
    ("trade.movement", "coefficient_from_shrinkage", "C_R"),
    ("trade.movement", "lumber_shrinkage", "lumber shrinkage lines"),
    ("trade.movement", "dried_size", "width after drying"),
    ("trade.humid_air", "dew_point", "dew point"),
    ("trade.humid_air", "warmed_humidity", "winter"),
    ("trade.humid_air", "humidity_ratio", "wet bulb"),
    ("trade.fixings", "lag_withdrawal", "lag screw reference|E2.3"),
    ("trade.fixings", "screw_withdrawal", "wood screw reference|wood screw withdrawal example"),
    ("trade.fixings", "nail_withdrawal", "nail reference|E2.1a"),
    ("trade.fixings", "screw_breaking_pull", "max withdrawal|ultimate"),
    ("trade.fixings", "nail_breaking_pull", "ultimate|nail max"),
    ("trade.fixings", "lag_breaking_pull", "lag screw max "),
    ("trade.lateral", "bearing_strength", "dowel bearing strength D<"),
    ("trade.lateral", "lateral_yield", "nail lateral|screw lateral|E2.4|unlike"),
    ("trade.lateral", "_thin", "nail lateral|screw lateral|E2.4"),
    ("trade.fixing_rules", "bearing_length", "E2.4|bearing length"),
    ("trade.fixing_rules", "lag_thread_depth", "E2.3"),
    ("trade.sag", "span_limit", "max shelf span"),
    ("trade.sag", "shelf_sag", "sag of a shelf"),
    ("trade.sag", "bending_stress", "stress of a shelf"),
    ("trade.sag", "allowable_stress", "stress a board may"),
    ("trade.creep", "long_term_sag", "sag after years"),
    ("trade.creep", "damp_creep", "damp place"),
    ("trade.creep", "sag_band", "band of sag"),
    ("trade.sections", "greatest_stress", "two unlike"),
    ("trade.fixings", "head_pull_through", "pull of a head"),
    ("trade.fixings", "yield_strength", "bending yield"),
    ("trade.fixing_rules", "slanted_load", "screw pulled at a slant"),
    ("trade.fixing_rules", "slanted_nail_load", "nail pulled at a slant"),
    ("trade.fixing_rules", "least_distances", "least distances"),
    ("trade.fixing_rules", "lag_edge_distance", "lag of 10 mm"),
    ("trade.lateral", "thick_bearing_strength", "bearing strength at a slant"),
    ("trade.lateral", "reduction_terms", "reduction term"),
    ("trade.movement", "slot_length", "slot for a screw"),
    ("trade.movement", "shrinkage_at", "shrinkage on the way"),
    ("trade.movement", "board_change", "change beyond"),
    ("trade.humid_air", "saturation_pressure", "saturation pressure"),
    ("trade.humid_air", "surface_humidity", "cold surface"),
    ("trade.humid_air", "humidity_from_wet_bulb", "wet bulb"),
    ("trade.glue_up", "clamp_pressure", "clamp pressure"),
    ("trade.columns", "buckling_stress", "column stability"),
    ("trade.columns", "least_modulus", "stiffness columns"),
    ("trade.tipping", "fixing_pulls", "pulls of two wall"),
    ("trade.shelf_standards", "standard_load", "maximum total load"),
    ("trade.shelf_standards", "sag_allowed", "shelf deflection limit|cabinet shelf test"),
    ("trade.shelf_standards", "stack_pressure", "stack load check"),
    ("trade.tipping", "righting_moment", "tip-over check|righting"),
    ("trade.sections", "transformed", "lipped|two strips"),
    ("trade.sections", "loose", "lipped"),
    ("trade.room_climate", "room_warmth", "room warmth"),
    ("trade.room_climate", "vapour_excess", "vapour excess by outside"),
    ("trade.room_climate", "room_humidity", "room humidity"),
    ("trade.movement", "shrinkage_from_coefficient", "shrinkage green|shrinkage R / T|change beyond"),
    ("trade.movement", "dimension_change_from_shrinkage", "change beyond"),
    ("trade.movement", "gap_to_leave", "gap to leave"),
    ("trade.glue_up", "clamp_spacing", "clamp spacing"),
    ("trade.glue_up", "clamps_needed", "clamps needed"),
    ("trade.racking", "panel_push", "push of a back"),
    ("trade.racking", "couple_push", "push of couples"),
    ("solvers.plane_frame", "_stiffness", "portal|beam hinged to two|beam stiff|of two|rod pulled|bow of|shares of"),
    ("solvers.plane_frame", "_let_go", "portal|beam hinged to two|beam stiff|of two|rod pulled|bow of|shares of"),
    ("solvers.plane_frame", "_bow", "portal|beam hinged to two|beam stiff|of two|rod pulled|bow of|shares of"),
    ("solvers.beams", "deflection", "deflection:"),
    ("solvers.beams", "point_load_deflection", "P at a=300"),
    ("solvers.beam_on_supports", "_piece", "deflection:|two-span|three-span|overhang"),
    ("solvers.beam_on_supports", "_carried", "deflection:|two-span|three-span|overhang"),
    ("solvers.beam_on_supports", "_inside", "deflection:|two-span|three-span|unequal"),
    ("solvers.beam_on_supports", "greatest_moment", "three-span|unequal"),
    ("solvers.beam_on_supports", "_shape", "deflection:|three-span|overhang"),
    ("solvers.beam_on_supports", "equal_droop_support", "equal overhangs"),
)

SAME = {
    ("_thin", "0.17"), ("clamps_needed", "1e-09"), ("yield_strength", "1e-09"), ("yield_strength", "Add"),
    ("reduction_terms", "1e-09"), ("reduction_terms", "Sub"),
}  # fmt: skip
"""Changes that no figure could notice: nothing printed lies between 0.17 and 0.187 in with another term, and a billionth
of a clamp or of an inch, which only keeps rounding noise from asking for one more."""

NO_NUMBERS = {
    "lipped_stiffness": "hands its two strips to `transformed`",
    "emc_fahrenheit": "hands its coefficients to `_emc`",
    "emc_celsius": "hands its coefficients to `_emc`",
}
"""Formulas without a number or sign of their own, and where those stand."""


def _twins(source: str) -> Iterator[tuple[str, str]]:
    """Return what was changed and the changed source, one change at a time."""
    count = sum(1 for _ in _places(ast.parse(source)))
    for i in range(count):
        tree = ast.parse(source)
        node, what = list(_places(tree))[i]
        if isinstance(node, ast.Constant):
            node.value = node.value * 1.1
        else:
            assert isinstance(node, ast.BinOp)
            swapped: dict[type[ast.operator], ast.operator] = {
                ast.Add: ast.Sub(), ast.Sub: ast.Add(), ast.Mult: ast.Div(), ast.Div: ast.Mult()
            }  # fmt: skip
            node.op = swapped[type(node.op)]
        yield what, ast.unparse(tree)


def _places(tree: ast.Module) -> Iterator[tuple[ast.AST, str]]:
    """Return every number and every + - * / of a function, in order."""
    function = tree.body[0]
    assert isinstance(function, ast.FunctionDef)
    indexed = {
        id(part) for node in ast.walk(function) if isinstance(node, ast.Subscript) for part in ast.walk(node.slice)
    }
    looped = {
        id(part)
        for node in ast.walk(function)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "range"
        for part in ast.walk(node)
    }
    for statement in function.body:
        if _begins_a_search(statement):
            continue
        for node in ast.walk(statement):
            if id(node) in indexed or id(node) in looped:
                continue
            if isinstance(node, ast.Constant) and type(node.value) in {int, float} and node.value:
                yield node, f"{node.value!r} on line {node.lineno}"
            if isinstance(node, ast.BinOp) and isinstance(node.op, (ast.Add, ast.Sub, ast.Mult, ast.Div)):
                yield node, f"{type(node.op).__name__} on line {node.lineno}, {node.col_offset}"


def _begins_a_search(statement: ast.stmt) -> bool:
    """Return whether it sets the two ends between which a root is then halved: any that hold it are right."""
    return isinstance(statement, ast.Assign) and ast.unparse(statement.targets[0]) == "(low, high)"


def _cases() -> Iterator[object]:
    for module, function, figures in TRIED:
        source = textwrap.dedent(inspect.getsource(getattr(importlib.import_module(f"nookwright.{module}"), function)))
        for what, twin in _twins(source):
            if (function, what.partition(" ")[0]) not in SAME:
                yield pytest.param(module, function, figures, twin, id=f"{function}: {what}")


@cache
def _users(function: object) -> list[tuple[ModuleType, str]]:
    """Return every loaded module of ours that holds the function under some name."""
    ours = [module for name, module in list(sys.modules.items()) if name.startswith(("nookwright", "published"))]
    return [(module, name) for module in ours for name, held in list(vars(module).items()) if held is function]


def _notice(row: Row) -> bool:
    """Return whether a published figure no longer agrees; a twin that cannot even be computed is noticed too."""
    try:
        each = compared(row)
    except (ArithmeticError, ValueError, TypeError, IndexError, RuntimeError, RuntimeWarning):
        return True
    return each is None or not each.agrees


@cache
def _rows(figures: str) -> list[Row]:
    """Return the published figures of a formula, with which the true one agrees."""
    rows = [row for row in published_rows() if re.search(figures, row.quantity) and formula_for(row) is not None]
    assert rows
    assert not any(_notice(row) for row in rows), "the true formula agrees"
    return rows


@pytest.mark.parametrize(("module", "function", "figures", "twin"), list(_cases()))
def test_a_wrong_twin_is_rejected(
    module: str, function: str, figures: str, twin: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Some published figure notices the change."""
    home = importlib.import_module(f"nookwright.{module}")
    true = getattr(home, function)
    rows = _rows(figures)
    names: dict[str, object] = dict(vars(home))
    exec(compile(twin, "a twin", "exec"), names)  # noqa: S102  our own source with one change
    for user, name in _users(true):
        monkeypatch.setattr(user, name, names[function])
    assert any(_notice(row) for row in rows), twin


def test_every_formula_of_the_trade_is_tried() -> None:
    """Whatever stands as a formula in a module of the trade that any entry above names has its twins."""
    tried = {(module, function) for module, function, _ in TRIED}
    left = []
    for module in sorted({module for module, _ in tried if module.startswith("trade.")}):
        home = importlib.import_module(f"nookwright.{module}")
        for name, function in inspect.getmembers(home, inspect.isfunction):
            if function.__module__ != home.__name__ or name.startswith("_") or name in NO_NUMBERS:
                continue
            if "$" in (function.__doc__ or "") and (module, name) not in tried:
                left.append(f"{module}.{name}")
    assert left == []


def test_every_formula_entry_is_used() -> None:
    """No pattern that fits nothing stays behind."""
    used = {formula_for(row) for row in published_rows()}
    assert [formula.quantity for formula in FORMULAS if formula not in used] == []
