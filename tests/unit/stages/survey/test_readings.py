"""Each reading as an observation: values by hand, derivatives by central differences."""

from __future__ import annotations

import numpy as np
import pytest

from nookwright.solvers.whitened import Block
from nookwright.stages.inputs.survey import (
    BevelReading,
    EdgeReading,
    GapReading,
    LevelReading,
    Line,
    OffsetReading,
    PitchReading,
    PlumbReading,
    Reading,
    SpanReading,
    Survey,
    TapeReading,
)
from nookwright.stages.room.beliefs import belief_block, beliefs_of, square_block
from nookwright.stages.room.rows import rows_of
from nookwright.stages.survey.kinds import shape_of
from nookwright.stages.survey.readings import corner_angle_deg, observe
from nookwright.stages.survey.unknowns import Station, Unknowns, edge_names, plane_names, unknowns_of

EDGES = (
    Line(surface="left", start="BL0", towards="up", aside_mm=250, aside="out"),
    Line(surface="slope", start="BLS", towards="BRS"),
)
READINGS: tuple[Reading, ...] = (
    TapeReading(start="BL1", end="BR0", length_mm=1500),
    TapeReading(start="FL1", end="back", length_mm=600),
    TapeReading(start="BR1", end="left", length_mm=1500, sd_mm=3),
    TapeReading(start="BL0", end="FR0", length_mm=1500, over="skirting"),
    TapeReading(start="FL1", end="back", length_mm=600, over="studs"),
    LevelReading(spot="BRS", above_mm=300),
    LevelReading(spot="BLS", above_mm=-900),
    PlumbReading(wall="left", first="BL0", second="FL1", into_room_mm=4),
    PlumbReading(wall="back", first="BR0", second="BR1", into_room_mm=-3),
    BevelReading(walls=("back", "left"), level="1", angle_deg=91),
    PitchReading(pitch_deg=40),
    EdgeReading(surfaces=("slope", "left"), angle_deg=130),
    EdgeReading(surfaces=("back", "slope"), angle_deg=95, sd_deg=0.5),
    SpanReading(first="floor", second="slope", start="BR0", length_mm=900),
    *(GapReading(line=EDGES[0], at_mm=at, gap_mm=1.0, set_up=1 + at // 900) for at in (0, 300, 900, 1200)),
    SpanReading(first="floor", second="slope", start="BL0", aside_mm=400, aside="right", length_mm=900),
    OffsetReading(wall="left", spot="BL0", offset_mm=60),
    OffsetReading(wall="left", spot="FL1", offset_mm=55, sd_mm=2),
    OffsetReading(wall="back", spot="BR1", offset_mm=55, set_up=2),
    *(GapReading(line=EDGES[1], at_mm=at, gap_mm=2.0, sd_mm=0.9) for at in (100, 500, 800)),
)
SURVEY = Survey(kind="corner-under-slope", corner="left", heights_mm=(700,), readings=READINGS)


def made_up_state(unknowns: Unknowns) -> np.ndarray:
    """Return a crooked state, far from any symmetry."""
    rng = np.random.default_rng(5)
    state = rng.normal(scale=300, size=unknowns.count)
    for surface in unknowns.surfaces:
        at = unknowns.surface(surface)
        state[at + 1 : at + 3] = rng.normal(scale=0.2, size=2)
    state[unknowns.surface("slope") + 1] = 0.8
    state[unknowns.line_tilt : unknowns.line_tilt + 2] = (0.7, -0.4)
    return state


def all_blocks() -> tuple[Unknowns, np.ndarray, list[Block]]:
    """Return every block a room with every kind of reading has."""
    unknowns = unknowns_of(SURVEY)
    state = made_up_state(unknowns)
    blocks = [one.block for one in observe(SURVEY, unknowns, state)]
    beliefs = beliefs_of(SURVEY, unknowns, state)
    blocks.append(belief_block(beliefs))
    square = square_block(SURVEY, unknowns)
    assert square is not None
    blocks.append(square)
    rows = rows_of(SURVEY, unknowns, state, beliefs)
    blocks += rows.blocks(rows.sds(2.0), np.arange(len(rows.fixed)), 2.0)
    return unknowns, state, blocks


def test_derivatives_agree_with_central_differences() -> None:
    """Every block, every unknown."""
    _, state, blocks = all_blocks()
    assert len(blocks) == 9 + 1 + 1 + (1 + 4)  # each kind of reading, beliefs, squareness; all these, and each surface
    for block in blocks:
        jacobian = block.by_all(block.evaluate(state)[1], len(state))
        for place in range(len(state)):
            step = 1e-4 if abs(state[place]) > 1.5 else 1e-6
            up, down = state.copy(), state.copy()
            up[place] += step
            down[place] -= step
            slope = (block.evaluate(up)[0] - block.evaluate(down)[0]) / (2 * step)
            assert jacobian[:, place] == pytest.approx(slope, rel=2e-5, abs=2e-6)


def test_readings_of_a_known_room_leave_no_residual() -> None:
    """By hand: a 3-4-5 tape, a level line at 1000, a wall leaning 6 mm, a slope of 3 in 4, a square corner."""
    readings: tuple[Reading, ...] = (
        TapeReading(start="BL0", end="BR1", length_mm=1500),
        LevelReading(spot="BR1", above_mm=-100),
        PlumbReading(wall="back", first="BR0", second="BR1", into_room_mm=6),
        PlumbReading(wall="left", first="BL0", second="BL1", into_room_mm=6),
        BevelReading(walls=("left", "back"), level="0", angle_deg=90),
        PitchReading(pitch_deg=np.degrees(np.arctan(0.75))),
        EdgeReading(surfaces=("left", "slope"), angle_deg=90 - np.degrees(np.arctan(0.75))),  # it falls to the right
        EdgeReading(surfaces=("slope", "back"), angle_deg=90),
        SpanReading(first="floor", second="slope", start="BL0", aside_mm=400, aside="right", length_mm=700),
        OffsetReading(wall="left", spot="BL0", offset_mm=70),
        OffsetReading(wall="left", spot="BL1", offset_mm=70 - 6 + 0.9),
        *(GapReading(line=EDGES[0], at_mm=at, gap_mm=gap) for at, gap in ((0, 5.0), (500, 4.0), (1000, 9.0))),
    )
    survey = Survey(kind="corner-under-slope", corner="left", heights_mm=(900,), readings=readings)
    unknowns = unknowns_of(survey)
    state = np.zeros(unknowns.count)
    state[unknowns.spot("BR0") : unknowns.spot("BR0") + 3] = (1200, 6, 0)
    state[unknowns.spot("BR1") : unknowns.spot("BR1") + 3] = (1200, 0, 900)
    state[unknowns.spot("BL1") : unknowns.spot("BL1") + 3] = (6, 0, 900)
    state[unknowns.surface("slope") + 1] = -0.75
    state[unknowns.line_height] = 1000
    # a slope that is 1000 mm high at the back left corner is 700 mm high 400 mm to the right of it
    state[unknowns.surface("slope")] = 1000
    # the plumb plane stands 70 mm off the wall's foot and leans into the room by 1 mm/m, so by 0.9 mm at 900 mm
    stand_off, _, lean = plane_names(readings[-4])
    state[unknowns.set_up(stand_off)], state[unknowns.set_up(lean)] = 70, 1
    # the edge stands 5 mm off and turns away by 4 mm/m; half way up the wall bellies 3 mm into the room
    off, turn = edge_names(readings[-1])
    state[unknowns.set_up(off)], state[unknowns.set_up(turn)] = 5, 4
    state[unknowns.station(Station(line=EDGES[0], at_mm=500))] = 3
    for one in observe(survey, unknowns, state):
        assert one.block.evaluate(state)[0] == pytest.approx(0, abs=1e-9)


def test_corner_angles_open_the_right_way() -> None:
    """By hand: a side wall that runs away from the corner's mouth opens the angle; mirrored on the right."""
    one_degree = float(np.tan(np.radians(1)))
    shape = shape_of("alcove", "left")
    left, right = shape.corners
    assert corner_angle_deg(shape, left, one_degree, 0.0) == pytest.approx(91)  # further front (y falls), further left
    assert corner_angle_deg(shape, right, 0.0, -one_degree) == pytest.approx(91)
    assert corner_angle_deg(shape, left, 0.0, one_degree) == pytest.approx(91)
    assert corner_angle_deg(shape, right, one_degree, 0.0) == pytest.approx(89)


def test_angles_of_a_bay_and_of_a_breast_come_from_their_own_walls() -> None:
    """By hand: at 135 degrees the left wall runs x = y; turned to x = 0 the corner is square. A nose is 270 inside."""
    bay, twin = shape_of("bay", "left"), shape_of("twin-alcoves", "left")
    assert corner_angle_deg(bay, bay.corners[0], 1.0, 0.0) == pytest.approx(135)
    assert corner_angle_deg(bay, bay.corners[0], 0.0, 0.0) == pytest.approx(90)
    assert corner_angle_deg(bay, bay.corners[1], 0.0, -1.0) == pytest.approx(135)
    noses = {corner.column: corner for corner in twin.corners}
    assert corner_angle_deg(twin, noses["NL"], 0.0, 0.0) == pytest.approx(270)
    one_degree = float(np.tan(np.radians(1)))
    assert corner_angle_deg(twin, noses["NL"], 0.0, one_degree) == pytest.approx(271)  # the face gives way to the right


def test_a_typed_precision_replaces_the_tools_own() -> None:
    """The third tape was typed with 3 mm."""
    unknowns = unknowns_of(SURVEY)
    tapes = observe(SURVEY, unknowns, made_up_state(unknowns))[0]
    assert tapes.places == (0, 1, 2, 3, 4)
    assert tapes.sds[2] == 3
    assert tapes.sds[0] != 3
