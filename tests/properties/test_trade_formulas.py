"""What must hold for clamps, backs, gaps, slots, room air, standards and stresses: monotone, and the same in any units."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.trade.columns import buckling_stress, least_modulus
from nookwright.trade.fixing_rules import bearing_length, lag_edge_distance, lag_thread_depth, least_distances
from nookwright.trade.glue_up import clamp_pressure, clamp_spacing, clamps_needed
from nookwright.trade.humid_air import humidity_from_wet_bulb, humidity_ratio, surface_humidity
from nookwright.trade.lateral import thick_bearing_strength
from nookwright.trade.movement import (
    board_change,
    coefficient_from_shrinkage,
    gap_to_leave,
    shrinkage_at,
    shrinkage_from_coefficient,
    slot_length,
)
from nookwright.trade.racking import couple_push, panel_push
from nookwright.trade.room_climate import room_humidity, room_warmth, vapour_excess
from nookwright.trade.sag import allowable_stress, bending_stress
from nookwright.trade.shelf_standards import SHELF_LIMITS, sag_allowed, stack_pressure, standard_load

scales = st.floats(0.2, 5.0)
more = st.floats(1.0, 3.0)


@given(force=st.floats(500, 9000), pressure=st.floats(0.3, 2.5), thick=st.floats(12, 60), bigger=more, scale=scales)
def test_stronger_clamps_stand_further_apart(
    force: float, pressure: float, thick: float, bigger: float, scale: float
) -> None:
    """Thicker boards and harder pressing bring them closer; forces and lengths scaled together scale the distance."""
    apart = clamp_spacing(clamp_n=force, pressure_n_mm2=pressure, thickness_mm=thick)
    assert clamp_spacing(clamp_n=force * bigger, pressure_n_mm2=pressure, thickness_mm=thick) >= apart
    assert clamp_spacing(clamp_n=force, pressure_n_mm2=pressure * bigger, thickness_mm=thick) <= apart
    assert clamp_spacing(clamp_n=force, pressure_n_mm2=pressure, thickness_mm=thick * bigger) <= apart
    if apart < 300 and apart * scale < 300:
        scaled = clamp_spacing(clamp_n=force * scale**2, pressure_n_mm2=pressure, thickness_mm=thick * scale)
        assert scaled == pytest.approx(apart * scale)


@given(length=st.floats(150, 3000), apart=st.floats(75, 304), bigger=more)
def test_clamps_reach_along_the_line(length: float, apart: float, bigger: float) -> None:
    """Never fewer for a longer line; the gaps between them never exceed the distance allowed."""
    count = clamps_needed(length_mm=length, spacing_mm=apart)
    assert clamps_needed(length_mm=length * bigger, spacing_mm=apart) >= count >= 2
    assert (length - 100) / (count - 1) <= apart * (1 + 1e-6)


@given(gravity=st.floats(0.3, 1.0), heavier=more)
def test_harder_wood_is_never_pressed_less(gravity: float, heavier: float) -> None:
    """And from never exceeds to."""
    low, high = clamp_pressure(gravity)
    assert low < high
    assert clamp_pressure(min(1.5, gravity * heavier))[0] >= low


@given(width=st.floats(100, 2000), edge=st.floats(0.1, 5), bigger=more, scale=scales)
def test_a_wider_or_better_screwed_back_carries_more(width: float, edge: float, bigger: float, scale: float) -> None:
    """Forces scale with the square of lengths at one stress: an edge's force for its length with the first power."""
    push = panel_push(width_mm=width, edge_n_mm=edge)
    assert panel_push(width_mm=width * bigger, edge_n_mm=edge) >= push
    assert panel_push(width_mm=width, edge_n_mm=edge * bigger) >= push
    assert panel_push(width_mm=width * scale, edge_n_mm=edge * scale) == pytest.approx(push * scale**2)


@given(couples=st.lists(st.floats(1e2, 1e5), max_size=6), height=st.floats(300, 2500), bigger=more)
def test_couples_add_up_and_a_taller_box_racks_more(couples: list[float], height: float, bigger: float) -> None:
    """Twice as high, half the push."""
    push = couple_push(couples_n_mm=tuple(couples), height_mm=height)
    assert couple_push(couples_n_mm=tuple(couples), height_mm=height * bigger) <= push
    assert couple_push(couples_n_mm=(*couples, 500.0), height_mm=height) == pytest.approx(push + 500.0 / height)
    assert couple_push(couples_n_mm=tuple(couples), height_mm=2 * height) == pytest.approx(push / 2)


@given(width=st.floats(50, 1200), shrinks=st.floats(2, 12), low=st.floats(1, 20), up=st.floats(0, 8), scale=scales)
def test_boards_come_back_and_gaps_shrink_with_damp(
    width: float, shrinks: float, low: float, up: float, scale: float
) -> None:
    """There and back is nothing; a damper board needs less gap, a wider one more; lengths scale with lengths."""
    C, high = coefficient_from_shrinkage(shrinks), low + up
    grown = board_change(width_mm=width, coefficient=C, from_pct=low, to_pct=high)
    back = board_change(width_mm=width + grown, coefficient=C, from_pct=high, to_pct=low)
    assert grown >= 0
    assert grown + back == pytest.approx(0.0, abs=0.012 * grown * up + 1e-9)  # to the second order of the change
    gaps = [
        gap_to_leave(width_mm=width, coefficient=C, now_pct=now, high_pct=high, edges=1)
        for now in (low, low + up / 2, high)
    ]
    assert gaps == sorted(gaps, reverse=True)
    assert gaps[-1] == pytest.approx(2.0)
    slot = slot_length(from_fixed_line_mm=width, coefficient=C, low_pct=low, high_pct=high)
    assert slot - 3.0 == pytest.approx(grown)
    assert board_change(width_mm=width * scale, coefficient=C, from_pct=low, to_pct=high) == pytest.approx(
        grown * scale
    )
    assert shrinkage_from_coefficient(C) == pytest.approx(shrinks)
    assert shrinkage_at(shrinkage_pct=shrinks, moisture_pct=high) <= shrinkage_at(
        shrinkage_pct=shrinks, moisture_pct=low
    )


@given(outside=st.floats(-20, 34), warmer=st.floats(0, 10), heated=st.floats(12, 26), excess=st.floats(0, 810))
def test_a_lived_in_room_is_damper_than_an_empty_one(
    outside: float, warmer: float, heated: float, excess: float
) -> None:
    """More vapour never dries; a warmer day never cools the room nor adds vapour; a colder wall is never drier."""
    room = room_warmth(outside_c=outside, heated_c=heated)
    assert heated <= room <= room_warmth(outside_c=outside + warmer, heated_c=heated)
    assert vapour_excess(outside_c=outside + warmer, in_frost_pa=excess) <= vapour_excess(
        outside_c=outside, in_frost_pa=excess
    )
    damp, dry = (
        room_humidity(outside_c=outside, outside_pct=70, room_c=room, excess_pa=each) for each in (excess, 0.0)
    )
    assert 5 <= dry <= damp <= 95
    assert surface_humidity(room_c=room, room_pct=damp, surface_c=room - warmer) >= damp - 1e-9


@given(dry=st.floats(1, 40), down=st.floats(0, 8), further=st.floats(0.1, 2), humidity=st.floats(5, 95))
def test_a_colder_wet_thermometer_means_drier_air(dry: float, down: float, further: float, humidity: float) -> None:
    """No difference is full air; damper air holds more for each mass of dry air."""
    wet = dry - min(down, dry - 0.5)
    assert humidity_from_wet_bulb(dry_c=dry, wet_c=dry) == pytest.approx(100.0)
    if wet - further > 0:
        assert humidity_from_wet_bulb(dry_c=dry, wet_c=wet - further) < humidity_from_wet_bulb(dry_c=dry, wet_c=wet)
    assert humidity_ratio(temperature_c=dry, humidity_pct=humidity) < humidity_ratio(
        temperature_c=dry, humidity_pct=humidity + 5
    )


@given(span=st.floats(200, 2500), depth=st.floats(100, 700), bigger=more, shelves=st.integers(1, 12))
def test_standards_ask_no_less_of_deeper_shelves(span: float, depth: float, bigger: float, shelves: int) -> None:
    """The whole load never falls with the span, the sag allowed never either."""
    for limit in SHELF_LIMITS:
        load, deeper = (standard_load(limit, span_mm=span, depth_mm=each) for each in (depth, depth * bigger))
        longer = standard_load(limit, span_mm=span * bigger, depth_mm=depth)
        if load is not None and deeper is not None and longer is not None:
            assert deeper >= load
            assert longer * span * bigger >= load * span * (1 - 1e-9)
        assert sag_allowed(limit, span * bigger) >= sag_allowed(limit, span)
    once = stack_pressure(shelves=shelves, load_n_mm=0.4, depth_mm=depth)
    assert stack_pressure(shelves=shelves + 1, load_n_mm=0.4, depth_mm=depth) > once
    assert stack_pressure(shelves=shelves, load_n_mm=0.4, depth_mm=2 * depth) == pytest.approx(once / 2)


@given(w=st.floats(0.01, 2), span=st.floats(200, 2000), thick=st.floats(9, 50), bigger=more, scale=scales)
def test_stress_grows_with_load_and_span(w: float, span: float, thick: float, bigger: float, scale: float) -> None:
    """Thicker never strains more; with all lengths scaled at one load for each length it falls as they grow."""
    stress = bending_stress(load_n_mm=w, span_mm=span, depth_mm=300, thickness_mm=thick)
    assert bending_stress(load_n_mm=w * bigger, span_mm=span, depth_mm=300, thickness_mm=thick) >= stress
    assert bending_stress(load_n_mm=w, span_mm=span * bigger, depth_mm=300, thickness_mm=thick) >= stress
    assert bending_stress(load_n_mm=w, span_mm=span, depth_mm=300, thickness_mm=thick * bigger) <= stress
    scaled = bending_stress(load_n_mm=w * scale, span_mm=span * scale, depth_mm=300 * scale, thickness_mm=thick * scale)
    assert scaled == pytest.approx(stress)
    wild, calm = (allowable_stress(strength_n_mm2=60, strength_cv=each) for each in (0.25, 0.05))
    assert wild < calm < 60
    assert allowable_stress(strength_n_mm2=60, duration=0.9) < allowable_stress(strength_n_mm2=60, duration=1.6)


@given(gravity=st.floats(0.31, 0.73), diameter=st.floats(6.35, 25.4), angle=st.floats(0, math.pi / 2), heavier=more)
def test_thick_dowels_bear_least_across_the_grain(
    gravity: float, diameter: float, angle: float, heavier: float
) -> None:
    """Between both ends at every slant; heavier wood never bears less."""
    along, at, across = (
        thick_bearing_strength(gravity=gravity, diameter_mm=diameter, angle_rad=each)
        for each in (0.0, angle, math.pi / 2)
    )
    assert min(along, across) * (1 - 1e-9) <= at <= max(along, across) * (1 + 1e-9)
    heavy = thick_bearing_strength(gravity=gravity * heavier, diameter_mm=diameter, angle_rad=angle)
    assert heavy >= at


@given(diameter=st.floats(2.5, 6.2), depth=st.floats(0, 90), deeper=st.floats(0, 30), thicker=more)
def test_depths_and_distances_grow_with_diameters(diameter: float, depth: float, deeper: float, thicker: float) -> None:
    """Deeper never counts less; what is drilled may stand nearer; distances scale with the diameter."""
    assert bearing_length(diameter_mm=diameter, depth_mm=depth + deeper) >= bearing_length(
        diameter_mm=diameter, depth_mm=depth
    )
    drilled, driven = (least_distances(diameter_mm=diameter, drilled=each) for each in (True, False))
    assert drilled.end_mm <= driven.end_mm
    assert drilled.edge_mm <= driven.edge_mm
    large = least_distances(diameter_mm=diameter * thicker, drilled=True)
    assert large.end_mm == pytest.approx(drilled.end_mm * thicker)
    edges = [lag_edge_distance(diameter_mm=diameter, across_grain=each) for each in (False, True)]
    assert edges == sorted(edges)
    threads = [lag_thread_depth(length_mm=depth, side_mm=18, tip_mm=each) for each in (5.0, 4.0)]
    assert 0 <= threads[0] <= threads[1] <= depth


@given(E=st.floats(1500, 15000), v=st.floats(0, 0.3), length=st.floats(200, 2500), thick=st.floats(6, 45), bigger=more)
def test_a_longer_board_springs_aside_sooner(E: float, v: float, length: float, thick: float, bigger: float) -> None:  # noqa: N803
    """With the square of its length; a wilder wood counts less; scaled in every way it is the same."""
    least = least_modulus(modulus_n_mm2=E, modulus_cv=v)
    assert least_modulus(modulus_n_mm2=E, modulus_cv=v + 0.05) < least < E
    stress = buckling_stress(least_modulus_n_mm2=least, length_mm=length, thickness_mm=thick)
    longer = buckling_stress(least_modulus_n_mm2=least, length_mm=length * bigger, thickness_mm=thick)
    scaled = buckling_stress(least_modulus_n_mm2=least, length_mm=length * bigger, thickness_mm=thick * bigger)
    assert longer == pytest.approx(stress / bigger**2)
    assert scaled == pytest.approx(stress)
