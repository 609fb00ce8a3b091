"""What must hold for every fastener, section, beam, top and breath of air: monotone, and the same in any units."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.solvers.beam_on_supports import EvenLoad, PointLoad, Support, bent, greatest_sag, sink_at
from nookwright.trade.creep import damp_creep, long_term_sag, sag_band
from nookwright.trade.fixing_rules import slanted_load, slanted_nail_load
from nookwright.trade.fixings import head_pull_through, lag_withdrawal, nail_withdrawal, screw_withdrawal
from nookwright.trade.humid_air import dew_point, saturation_pressure, warmed_humidity
from nookwright.trade.lateral import Dowel, Held, bearing_strength, lateral_yield
from nookwright.trade.movement import dimension_change, dimension_change_from_shrinkage
from nookwright.trade.sag import shelf_sag
from nookwright.trade.sections import Strip, greatest_stress, loose, transformed
from nookwright.trade.tipping import Weight, righting_moment

gravities = st.floats(0.31, 0.73)
thin_mm = st.floats(2.5, 6.3)
lengths_mm = st.floats(5, 80)
strips = st.builds(
    Strip, modulus_n_mm2=st.floats(1500, 15000), width_mm=st.floats(10, 600), height_mm=st.floats(6, 80),
    top_mm=st.floats(-60, 60),
)  # fmt: skip


@given(gravity=gravities, diameter=thin_mm, more=st.floats(1.0, 1.5))
def test_heavier_wood_and_thicker_fasteners_never_hold_less(gravity: float, diameter: float, more: float) -> None:
    """Withdrawal of screws, lags and nails, and the pull through of heads."""
    for holds in (screw_withdrawal, lag_withdrawal, nail_withdrawal):
        once = holds(gravity=gravity, diameter_mm=diameter)
        assert holds(gravity=min(0.73, gravity * more), diameter_mm=diameter) >= once
        assert holds(gravity=gravity, diameter_mm=diameter * more) >= once
    head = head_pull_through(gravity=gravity, head_mm=8, side_mm=12)
    assert head_pull_through(gravity=gravity, head_mm=8 * more, side_mm=12 * more) >= head


@given(main=gravities, side=gravities, diameter=thin_mm, lm=lengths_mm, ls=lengths_mm, more=st.floats(1.0, 2.0))
def test_no_yield_mode_falls_when_a_piece_grows(
    main: float, side: float, diameter: float, lm: float, ls: float, more: float
) -> None:
    """Longer bearing never carries less; the governing mode never exceeds either piece's crushing; all are above 0."""
    dowel = Dowel(diameter_mm=diameter, rated_mm=diameter, yield_n_mm2=600)

    def modes(main_mm: float, side_mm: float) -> tuple[float, float]:
        found = lateral_yield(
            dowel=dowel,
            main=Held(length_mm=main_mm, bearing_n_mm2=bearing_strength(main)),
            side=Held(length_mm=side_mm, bearing_n_mm2=bearing_strength(side)),
        )
        assert found.governing_n > 0
        assert found.governing_n <= min(found.i_m, found.i_s)
        return found.governing_n, found.double_n

    single, double = modes(lm, ls)
    assert double > 0
    longer, _ = modes(lm * more, ls)
    wider, _ = modes(lm, ls * more)
    assert longer >= single * (1 - 1e-9)
    assert wider >= single * (1 - 1e-9)


@given(main=gravities, side=gravities, lm=lengths_mm, ls=lengths_mm, scale=st.floats(0.8, 1.2))
def test_yield_modes_scale_with_the_square_of_all_lengths(
    main: float, side: float, lm: float, ls: float, scale: float
) -> None:
    """Twice as large in every way carries four times as much, as long as the reduction term is the same."""

    def governing(factor: float) -> float:
        dowel = Dowel(diameter_mm=3.0 * factor, rated_mm=3.0, yield_n_mm2=600)
        return lateral_yield(
            dowel=dowel,
            main=Held(length_mm=lm * factor, bearing_n_mm2=bearing_strength(main)),
            side=Held(length_mm=ls * factor, bearing_n_mm2=bearing_strength(side)),
        ).governing_n

    assert governing(scale) == pytest.approx(governing(1.0) * scale**2)


@given(withdrawal=st.floats(50, 2000), lateral=st.floats(50, 2000), angle=st.floats(0, math.pi / 2))
def test_a_slanted_load_lies_between_its_two_pulls(withdrawal: float, lateral: float, angle: float) -> None:
    """A nail never holds more than a screw of the same two loads."""
    low, high = min(withdrawal, lateral), max(withdrawal, lateral)
    screw = slanted_load(withdrawal_n=withdrawal, lateral_n=lateral, angle_rad=angle)
    nail = slanted_nail_load(withdrawal_n=withdrawal, lateral_n=lateral, angle_rad=angle)
    assert low * (1 - 1e-9) <= screw <= high * (1 + 1e-9)
    assert nail <= screw * (1 + 1e-9)


@given(pieces=st.lists(strips, min_size=1, max_size=4), moment=st.floats(1e3, 1e7), shift=st.floats(-500, 500))
def test_glue_stiffens_and_height_zero_is_anywhere(pieces: list[Strip], moment: float, shift: float) -> None:
    """Glued strips are at least as stiff as loose ones, wherever heights are counted from; stress balances moment."""
    section = transformed(tuple(pieces))
    assert section.stiffness_n_mm2 >= loose(tuple(pieces)) * (1 - 1e-9)
    moved = tuple(
        Strip(modulus_n_mm2=s.modulus_n_mm2, width_mm=s.width_mm, height_mm=s.height_mm, top_mm=s.top_mm + shift)
        for s in pieces
    )
    assert transformed(moved).stiffness_n_mm2 == pytest.approx(section.stiffness_n_mm2, rel=1e-6)
    assert min(greatest_stress(section, moment)) > 0
    doubled = greatest_stress(section, 2 * moment)
    assert doubled == pytest.approx(tuple(2 * each for each in greatest_stress(section, moment)))


@settings(max_examples=50)
@given(
    spans=st.lists(st.floats(200, 1200), min_size=1, max_size=4),
    w=st.floats(0.01, 1.0),
    point=st.floats(0, 800),
    share=st.floats(0.02, 0.98),
    scale=st.floats(0.5, 2.0),
)
def test_loads_add_up_and_units_do_not_matter(
    spans: list[float], w: float, point: float, share: float, scale: float
) -> None:
    """Two loads together sink it by the sum of each; all lengths scaled, sinking scales, forces with the square.

    A single span under more load never sags less, whatever else lies on it.
    """
    length = sum(spans)
    places = [sum(spans[:i]) for i in range(len(spans) + 1)]

    def sinks(even: float, load: float, factor: float) -> float:
        beam = bent(
            length_mm=length * factor,
            steps=((0.0, 1e9 * factor**4),),
            supports=tuple(Support(x_mm=x * factor) for x in places),
            loads=(
                EvenLoad(start_mm=0.0, end_mm=length * factor, load_n_mm=even * factor),
                PointLoad(x_mm=share * length * factor, load_n=load * factor**2),
            ),
        )
        if len(spans) == 1:
            assert greatest_sag(beam, 0.0, length * factor) >= 0
        return sink_at(beam, 0.37 * length * factor)

    together, apart = sinks(w, point, 1.0), sinks(w, 0.0, 1.0) + sinks(0.0, point, 1.0)
    assert together == pytest.approx(apart, rel=1e-6, abs=1e-9)
    assert sinks(w, point, scale) == pytest.approx(together * scale, rel=1e-5, abs=1e-8)


@given(load=st.floats(0.01, 2), more=st.floats(0, 2), span=st.floats(200, 2000), thickness=st.floats(6, 50))
def test_heavier_never_sags_less_and_thicker_never_more(
    load: float, more: float, span: float, thickness: float
) -> None:
    """Sag at once and after years, dry and damp; the band holds its middle."""

    def sag(load_n_mm: float, thickness_mm: float) -> float:
        return shelf_sag(
            load_n_mm=load_n_mm, span_mm=span, modulus_n_mm2=8000, depth_mm=300, thickness_mm=thickness_mm
        ).total_mm

    once = sag(load, thickness)
    assert sag(load + more, thickness) >= once
    assert sag(load, thickness * (1 + more)) <= once
    dry = long_term_sag(initial_mm=once, creep=1.8)
    assert once <= dry <= long_term_sag(initial_mm=once, creep=damp_creep(1.8))
    low, high = sag_band(sag_mm=once, modulus_cv=0.22)
    assert low < once < high


@given(celsius=st.floats(-20, 40), more=st.floats(0.1, 20), humidity=st.floats(5, 99))
def test_warm_air_holds_more(celsius: float, more: float, humidity: float) -> None:
    """Saturation rises with warmth; warmed air is drier; the dew point lies below the air's own warmth."""
    assert saturation_pressure(celsius + more) > saturation_pressure(celsius)
    assert warmed_humidity(outside_c=celsius, outside_pct=humidity, inside_c=celsius + more) < humidity
    assert dew_point(temperature_c=celsius, humidity_pct=humidity) < celsius


@given(shrinkage=st.floats(2, 12), change=st.floats(-4, 4))
def test_both_ways_to_reckon_movement_agree_at_ten_percent(shrinkage: float, change: float) -> None:
    """The coefficient is the shrinkage formula at 10 % moisture."""
    coefficient = shrinkage / (3000 - 20 * shrinkage)
    plain = dimension_change(width_mm=300, coefficient=coefficient, from_pct=10, to_pct=10 + change)
    exact = dimension_change_from_shrinkage(width_mm=300, shrinkage_pct=shrinkage, from_pct=10, to_pct=10 + change)
    assert plain == pytest.approx(exact, abs=1e-9)


@given(mass=st.floats(1, 100), behind=st.floats(-300, 600), up=st.floats(0, 2000), falls=st.floats(0, 0.05))
def test_a_floor_that_falls_forward_never_helps(mass: float, behind: float, up: float, falls: float) -> None:
    """And a weight in front of the foot takes away what one behind it gives."""
    level = righting_moment((Weight(mass_kg=mass, behind_mm=abs(behind), up_mm=up),))
    assert righting_moment((Weight(mass_kg=mass, behind_mm=abs(behind), up_mm=up),), falls_rad=falls) <= level + 1e-6
    both = (Weight(mass_kg=mass, behind_mm=behind, up_mm=up), Weight(mass_kg=mass, behind_mm=-behind, up_mm=up))
    assert righting_moment(both) == pytest.approx(0.0, abs=1e-6)
