"""What must hold for every shelf, screw and tall box."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.solvers.beam_on_supports import continuous
from nookwright.trade.fastener_choice import row_of_fasteners, wall_screw, wood_screw
from nookwright.trade.fixings import screw_withdrawal
from nookwright.trade.movement import dimension_change, emc_celsius
from nookwright.trade.sag import lipped_stiffness, shelf_sag, span_limit
from nookwright.trade.scribing import scribe_allowance
from nookwright.trade.tipping import Weight, fixing_pulls, righting_moment

spans = st.floats(200, 2000)
thicknesses = st.floats(6, 50)
loads = st.floats(0.01, 2)
moduli = st.floats(1000, 15000)
depths = st.floats(100, 700)
LENGTHS = (16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 100.0)


@given(load=loads, span=spans, modulus=moduli, depth=depths, thickness=thicknesses)
def test_twice_the_span_bends_sixteen_times(
    load: float, span: float, modulus: float, depth: float, thickness: float
) -> None:
    """Bending goes with the fourth power of span, shear with the second; both with the load."""
    once = shelf_sag(load_n_mm=load, span_mm=span, modulus_n_mm2=modulus, depth_mm=depth, thickness_mm=thickness)
    twice = shelf_sag(load_n_mm=load, span_mm=2 * span, modulus_n_mm2=modulus, depth_mm=depth, thickness_mm=thickness)
    heavy = shelf_sag(load_n_mm=3 * load, span_mm=span, modulus_n_mm2=modulus, depth_mm=depth, thickness_mm=thickness)
    assert twice.bending_mm / once.bending_mm == pytest.approx(16)
    assert twice.shear_mm / once.shear_mm == pytest.approx(4)
    assert heavy.total_mm / once.total_mm == pytest.approx(3)


@given(load=loads, ratio=st.floats(100, 500), modulus=moduli, depth=depths, thickness=thicknesses)
def test_the_span_limit_sags_just_its_share(
    load: float, ratio: float, modulus: float, depth: float, thickness: float
) -> None:
    """The limit put back into the sag gives span over ratio."""
    span = span_limit(load_n_mm=load, sag_ratio=ratio, modulus_n_mm2=modulus, depth_mm=depth, thickness_mm=thickness)
    sag = shelf_sag(load_n_mm=load, span_mm=span, modulus_n_mm2=modulus, depth_mm=depth, thickness_mm=thickness)
    assert sag.bending_mm == pytest.approx(span / ratio)


@given(modulus=moduli, depth=depths, thickness=thicknesses, lip=moduli, width=st.floats(10, 40), more=st.floats(0, 60))
def test_a_taller_lip_never_weakens_a_shelf(
    modulus: float, depth: float, thickness: float, lip: float, width: float, more: float
) -> None:
    """A lip at least as tall as the shelf adds stiffness, more the taller it is."""

    def stiffness(height: float) -> float:
        return lipped_stiffness(
            shelf_modulus_n_mm2=modulus, shelf_depth_mm=depth, shelf_thickness_mm=thickness, lip_modulus_n_mm2=lip,
            lip_thickness_mm=width, lip_height_mm=height,
        )  # fmt: skip

    low = stiffness(thickness)
    assert low >= modulus * depth * thickness**3 / 12
    assert stiffness(thickness + more) >= low * (1 - 1e-12)


@given(
    spans_mm=st.lists(st.floats(100, 1500), min_size=1, max_size=6),
    data=st.data(),
)
def test_supports_carry_all_of_the_load(spans_mm: list[float], data: st.DataObject) -> None:
    """Forces and moments about the left end balance, and a mirrored beam gives mirrored results."""
    loads_n_mm = [data.draw(loads) for _ in spans_mm]
    beam = continuous(spans_mm=tuple(spans_mm), loads_n_mm=tuple(loads_n_mm), stiffness_n_mm2=1e9)
    total = sum(w * span for w, span in zip(loads_n_mm, spans_mm, strict=True))
    assert sum(beam.reactions_n) == pytest.approx(total)
    places = [sum(spans_mm[:i]) for i in range(len(spans_mm) + 1)]
    about = sum(w * span * (place + span / 2) for w, span, place in zip(loads_n_mm, spans_mm, places, strict=False))
    turned = sum(reaction * place for reaction, place in zip(beam.reactions_n, places, strict=True))
    assert turned == pytest.approx(about)
    mirrored = continuous(spans_mm=tuple(spans_mm[::-1]), loads_n_mm=tuple(loads_n_mm[::-1]), stiffness_n_mm2=1e9)
    assert mirrored.reactions_n[::-1] == pytest.approx(beam.reactions_n, abs=1e-6)


@given(held=st.floats(6, 40), base=st.floats(18, 400))
def test_no_screw_comes_through(held: float, base: float) -> None:
    """Its point stays 3 mm inside whatever the stack."""
    choice = wood_screw(held_mm=held, base_mm=base, lengths_mm=LENGTHS)
    assert choice.length_mm <= held + base - 3 + 1e-6
    assert choice.length_mm in LENGTHS


@given(rail=st.floats(12, 40), gap=st.floats(0, 60), board=st.floats(0, 30))
def test_a_wall_screw_said_to_be_enough_holds_30_in_the_stud(rail: float, gap: float, board: float) -> None:
    """And is the shortest that does."""
    choice = wall_screw(through_mm=rail, gap_mm=gap, board_mm=board, lengths_mm=LENGTHS)
    into = choice.length_mm - rail - gap - board
    assert choice.enough == (into >= 30 - 1e-9)
    shorter = [length for length in LENGTHS if length < choice.length_mm]
    assert all(length - rail - gap - board < 30 for length in shorter)


@given(joint=st.floats(10, 3000), spacing=st.floats(50, 400), end=st.floats(10, 60))
def test_a_row_of_fasteners_fills_its_joint(joint: float, spacing: float, end: float) -> None:
    """Ends and gaps add up to the joint; no gap is wider than asked."""
    row = row_of_fasteners(joint_mm=joint, spacing_mm=spacing, end_mm=end)
    assert 2 * row.end_mm + (row.count - 1) * row.spacing_mm == pytest.approx(joint)
    assert row.spacing_mm <= spacing + 1e-6


@given(
    pull=st.floats(50, 1000),
    height=st.floats(500, 2500),
    mass=st.floats(5, 200),
    depth=st.floats(200, 700),
    fixings=st.lists(st.floats(100, 2400), min_size=1, max_size=8),
)
def test_fixings_just_balance_the_pull(
    pull: float, height: float, mass: float, depth: float, fixings: list[float]
) -> None:
    """Their moments about the foot make up what the weight does not; none below the tipping pull."""
    righting = righting_moment((Weight(mass_kg=mass, behind_mm=depth / 2, up_mm=height / 2),))
    tensions = fixing_pulls(
        pull_n=pull, pull_height_mm=height, righting_n_mm=righting, fixing_heights_mm=tuple(fixings)
    )
    moment = sum(tension * z for tension, z in zip(tensions, fixings, strict=True))
    tips = righting / height
    assert moment == pytest.approx(max(0.0, (pull - tips) * height), abs=1e-6)


@given(temperature=st.floats(0, 45), low=st.floats(5, 90), more=st.floats(1, 5))
def test_damper_air_makes_damper_wood(temperature: float, low: float, more: float) -> None:
    """Moisture of wood rises with humidity at every warmth."""
    dry = emc_celsius(temperature_c=temperature, humidity_pct=low)
    assert emc_celsius(temperature_c=temperature, humidity_pct=low + more) > dry


@given(width=st.floats(50, 1000), coefficient=st.floats(0.001, 0.005), low=st.floats(6, 10), high=st.floats(10, 14))
def test_what_swells_shrinks_back(width: float, coefficient: float, low: float, high: float) -> None:
    """The change back is the change there, with the other sign; half the board moves half."""
    there = dimension_change(width_mm=width, coefficient=coefficient, from_pct=low, to_pct=high)
    back = dimension_change(width_mm=width, coefficient=coefficient, from_pct=high, to_pct=low)
    half = dimension_change(width_mm=width / 2, coefficient=coefficient, from_pct=low, to_pct=high)
    assert there == pytest.approx(-back)
    assert half == pytest.approx(there / 2)


@given(least=st.floats(0, 20), more=st.floats(0, 40), sd=st.floats(0, 5), worse=st.floats(0, 5))
def test_a_worse_tape_never_gives_a_smaller_allowance(least: float, more: float, sd: float, worse: float) -> None:
    """Doubt only adds."""
    known = scribe_allowance(least_gap_mm=least, greatest_gap_mm=least + more, sd_mm=sd)
    doubted = scribe_allowance(least_gap_mm=least, greatest_gap_mm=least + more, sd_mm=sd + worse)
    assert doubted >= known >= 3 - 1e-9


@given(gravity=st.floats(0.3, 0.7), diameter=st.floats(3, 6))
def test_denser_wood_holds_with_the_square_of_its_gravity(gravity: float, diameter: float) -> None:
    """Twice the gravity holds four times as much."""
    assert screw_withdrawal(gravity=2 * gravity, diameter_mm=diameter) == pytest.approx(
        4 * screw_withdrawal(gravity=gravity, diameter_mm=diameter)
    )
