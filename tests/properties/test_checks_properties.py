"""More is never less: frames, gaps, clamps, backs and damp rooms, whatever the sizes; and units change nothing."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.solvers.plane_frame import Bar, Node, framed, greatest_moment, greatest_sag
from nookwright.trade.glue_up import clamp_spacing, clamps_needed
from nookwright.trade.movement import gap_to_leave
from nookwright.trade.racking import couple_push, panel_push
from nookwright.trade.room_climate import room_humidity, vapour_excess
from nookwright.trade.tipping import Weight, fixing_pulls, righting_moment
from random_frames import RandomFrame, random_frame


def _loaded(frame: RandomFrame, times: float) -> RandomFrame:
    """Return a frame with every load so many times as large."""
    nodes = tuple(replace(node, load_n=(node.load_n[0] * times, node.load_n[1] * times)) for node in frame.nodes)
    return RandomFrame(nodes=nodes, bars=tuple(replace(bar, load_n_mm=bar.load_n_mm * times) for bar in frame.bars))


@given(seed=st.integers(0, 400), times=st.floats(1.1, 5.0))
def test_a_frame_bends_in_proportion_to_its_load(seed: int, times: float) -> None:
    """Twice the load, twice the sag, moment and reactions."""
    frame = random_frame(seed)
    once, more = (framed(each.nodes, each.bars) for each in (frame, _loaded(frame, times)))
    for light, heavy in zip(once.bars, more.bars, strict=True):
        assert greatest_sag(heavy) == pytest.approx(times * greatest_sag(light), rel=1e-6, abs=1e-9)
        assert greatest_moment(heavy) == pytest.approx(times * greatest_moment(light), rel=1e-6, abs=1e-6)


@given(seed=st.integers(0, 400))
def test_what_a_frame_carries_comes_down_at_its_feet(seed: int) -> None:
    """All loads and all reactions balance, across and up and down."""
    frame = random_frame(seed)
    done = framed(frame.nodes, frame.bars)
    lengths = [bar.length_mm for bar in done.bars]
    down = sum(bar.load_n_mm * length for bar, length in zip(frame.bars, lengths, strict=True))
    down -= sum(node.load_n[1] for node in frame.nodes)
    across = sum(node.load_n[0] for node in frame.nodes)
    held = [i for i, node in enumerate(frame.nodes) if node.held]
    assert sum(done.reactions_n[i][1] for i in held) == pytest.approx(down, rel=1e-6, abs=1e-3)
    assert sum(done.reactions_n[i][0] for i in held) == pytest.approx(-across, rel=1e-6, abs=1e-3)


@given(span=st.floats(200, 2000), load=st.floats(0.01, 2), stiff=st.floats(1e7, 1e11), inch=st.just(25.4))
def test_a_frame_in_inches_is_the_same_frame(span: float, load: float, stiff: float, inch: float) -> None:
    """Newtons and inches: E I over 25.4^2, load times 25.4, and the sag comes out over 25.4."""

    def sag(length: float, w: float, rigid: float) -> float:
        pin = frozenset({"x", "z"})
        nodes = (Node(x_mm=0, z_mm=0, held=pin), Node(x_mm=length, z_mm=0, held=pin))
        return greatest_sag(
            framed(nodes, (Bar(start=0, end=1, axial_n=1e6, bending_n_mm2=rigid, load_n_mm=w),)).bars[0]
        )

    assert sag(span / inch, load * inch, stiff / inch**2) == pytest.approx(sag(span, load, stiff) / inch, rel=1e-9)


@given(width=st.floats(50, 1200), coefficient=st.floats(0.0005, 0.005), dry=st.floats(3, 10), more=st.floats(0.1, 6))
def test_the_drier_the_day_the_wider_the_gap_to_leave(
    width: float, coefficient: float, dry: float, more: float
) -> None:
    """And a top held along one edge needs twice the growth of one held in its middle."""
    high = dry + more + 1

    def gap(at: float, edges: int) -> float:
        return gap_to_leave(width_mm=width, coefficient=coefficient, now_pct=at, high_pct=high, edges=edges)

    assert gap(dry, 1) > gap(dry + more, 1) >= 2.0
    assert gap(dry, 1) - 2.0 == pytest.approx(2 * (gap(dry, 2) - 2.0))


@given(length=st.floats(150, 4000), thick=st.floats(12, 80), pressure=st.floats(0.3, 2.5), more=st.floats(1, 500))
def test_longer_and_thicker_tops_take_no_fewer_clamps(
    length: float, thick: float, pressure: float, more: float
) -> None:
    """And the clamps named press at least the pressure asked."""
    apart = clamp_spacing(clamp_n=4500, pressure_n_mm2=pressure, thickness_mm=thick)
    assert apart * pressure * thick <= 4500 + 1e-6
    assert clamp_spacing(clamp_n=4500, pressure_n_mm2=pressure, thickness_mm=thick + more) <= apart
    count = clamps_needed(length_mm=length, spacing_mm=apart)
    assert count <= clamps_needed(length_mm=length + more, spacing_mm=apart)
    assert count == 2 or (length - 100) / (count - 1) <= apart + 1e-6


@given(width=st.floats(200, 2000), edge=st.floats(0.05, 5), more=st.floats(1.01, 3))
def test_stronger_edges_hold_more(width: float, edge: float, more: float) -> None:
    """Backs in proportion, rails likewise."""
    assert panel_push(width_mm=width, edge_n_mm=edge * more) == pytest.approx(
        more * panel_push(width_mm=width, edge_n_mm=edge)
    )
    assert couple_push(couples_n_mm=(edge, edge), height_mm=width) == pytest.approx(
        2 * couple_push(couples_n_mm=(edge,), height_mm=width)
    )


@given(outside=st.floats(-25, 35), humidity=st.floats(20, 95), room=st.floats(15, 28), more=st.floats(1, 300))
def test_people_never_dry_a_room(outside: float, humidity: float, room: float, more: float) -> None:
    """More vapour, more humidity; what is added lies between none and all."""
    added = vapour_excess(outside_c=outside, in_frost_pa=more)
    assert 0 <= added <= more

    def inside(excess: float) -> float:
        return room_humidity(outside_c=outside, outside_pct=humidity, room_c=room, excess_pa=excess)

    assert 5.0 <= inside(0.0) <= inside(added) <= 95.0


@given(
    mass=st.floats(5, 100), behind=st.floats(50, 400), up=st.floats(200, 1200), falls=st.floats(0.001, 0.1),
    pull=st.floats(100, 600),
)  # fmt: skip
def test_a_floor_that_falls_and_a_foot_set_back_pull_harder_on_the_wall(
    mass: float, behind: float, up: float, falls: float, pull: float
) -> None:
    """The nearer the weight is to the foot, the more the fixings hold."""

    def worst(righting: float) -> float:
        return max(
            fixing_pulls(pull_n=pull, pull_height_mm=2 * up, righting_n_mm=righting, fixing_heights_mm=(up, 1.9 * up))
        )

    level = righting_moment((Weight(mass_kg=mass, behind_mm=behind, up_mm=up),))
    sloping = righting_moment((Weight(mass_kg=mass, behind_mm=behind, up_mm=up),), falls_rad=falls)
    set_back = righting_moment((Weight(mass_kg=mass, behind_mm=behind - 30, up_mm=up),))
    assert max(sloping, set_back) < level
    assert worst(sloping) >= worst(level)
    assert worst(set_back) >= worst(level)
