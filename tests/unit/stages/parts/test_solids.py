"""Parts as solids: what grooves and cut-outs take, what fouls what, what sticks through the room."""

from __future__ import annotations

import math
import time
from dataclasses import dataclass, replace

import numpy as np
import pytest

from nookwright.basics.measured import Measured
from nookwright.geometry.frame import Frame
from nookwright.stages.parts.part import SQUARE, CutOut, Edge, Groove, Part, PartList
from nookwright.stages.parts.solids import interferences, outside_room, solid_of

FACING_UP = Frame(origin=(0.0, 0.0, 0.0), u=(1.0, 0.0, 0.0), v=(0.0, 1.0, 0.0))


def board(
    number: str,
    length: float,
    width: float,
    thickness: float,
    origin: tuple[float, float, float],
    frame: Frame = FACING_UP,
) -> Part:
    """A plain board whose face A starts at `origin`."""
    return Part(
        number=number,
        name="board",
        role="shelf",
        module="box",
        stock="ply",
        wood="ply",
        thickness_mm=thickness,
        outline=((0.0, 0.0), (length, 0.0), (length, width), (0.0, width)),
        edges=(SQUARE,) * 4,
        frame=Frame(origin=origin, u=frame.u, v=frame.v),
    )


def in_list(*parts: Part) -> PartList:
    """The parts without joints."""
    return PartList(parts=parts, joints=())


PLAIN = board("A1", 400.0, 200.0, 20.0, (0.0, 0.0, 0.0))


def test_a_cut_out_goes_right_through() -> None:
    """400 x 200 x 20 less a hole of 100 x 50."""
    part = replace(PLAIN, cutouts=(CutOut(u_mm=150, v_mm=60, width_mm=100, height_mm=50, purpose="outlet"),))
    assert solid_of(part).volume_mm3 == pytest.approx((400 * 200 - 100 * 50) * 20)


@pytest.mark.parametrize("face", ["A", "B"])
def test_a_groove_across_takes_its_own_section_and_no_more(face: str) -> None:
    """18 wide, 6 deep, right across 200."""
    groove = Groove(face=face, start=(100.0, 0.0), end=(100.0, 200.0), width_mm=18, depth_mm=6, receives="A2")
    solid = solid_of(replace(PLAIN, grooves=(groove,)))
    assert solid.volume_mm3 == pytest.approx(400 * 200 * 20 - 18 * 6 * 200)
    assert solid.bounds == ((0.0, 0.0, -20.0), (400.0, 200.0, 0.0))


def test_a_stopped_groove_stops() -> None:
    """From the front edge to 150: the last 50 stay whole."""
    groove = Groove(face="A", start=(100.0, 0.0), end=(100.0, 150.0), width_mm=18, depth_mm=6, receives="A2")
    assert solid_of(replace(PLAIN, grooves=(groove,))).volume_mm3 == pytest.approx(400 * 200 * 20 - 18 * 6 * 150)


def test_a_groove_in_face_b_runs_out_through_a_bevelled_end() -> None:
    """The end leans out at 45 degrees: mean groove length is 400 + 20 - 3 at mid-depth of the groove."""
    bevelled = replace(PLAIN, edges=(SQUARE, Edge(bevel_rad=math.pi / 4), SQUARE, SQUARE))
    groove = Groove(face="B", start=(0.0, 100.0), end=(400.0, 100.0), width_mm=10, depth_mm=6, receives="A2")
    whole = (400 + 10) * 200 * 20
    solid = solid_of(replace(bevelled, grooves=(groove,)))
    assert solid.volume_mm3 == pytest.approx(whole - 10 * 6 * (400 + 20 - 3))


def test_a_scribe_allowance_is_no_part_of_the_solid() -> None:
    """The board stands in the room as it is once scribed."""
    scribed = replace(PLAIN, edges=(SQUARE, Edge(scribe_mm=12.0), SQUARE, SQUARE))
    assert solid_of(scribed).volume_mm3 == pytest.approx(400 * 200 * 20)


def test_a_shelf_in_its_housing_fouls_nothing_and_without_the_housing_it_does() -> None:
    """An upright 20 thick with its face at x = 20; the shelf enters it by 6, 18 thick, 200 deep."""
    upright = board("A1", 700.0, 200.0, 20.0, (20.0, 200.0, 0.0), Frame(origin=(0, 0, 0), u=(0, 0, 1), v=(0, -1, 0)))
    shelf = board("A2", 300.0, 200.0, 18.0, (14.0, 0.0, 318.0))
    housing = Groove(face="A", start=(309.0, 0.0), end=(309.0, 200.0), width_mm=18, depth_mm=6, receives="A2")
    assert interferences(in_list(replace(upright, grooves=(housing,)), shelf)) == ()
    found = interferences(in_list(shelf, upright))
    assert [(one.first, one.second) for one in found] == [("A2", "A1")]
    assert found[0].volume_mm3 == pytest.approx(6 * 18 * 200)


def test_touching_and_distant_boards_do_not_foul() -> None:
    """One beside, one above, one far away."""
    beside = board("A2", 400.0, 200.0, 20.0, (400.0, 0.0, 0.0))
    above = board("A3", 400.0, 200.0, 20.0, (0.0, 0.0, 20.0))
    away = board("A4", 400.0, 200.0, 20.0, (5000.0, 0.0, 0.0))
    assert interferences(in_list(PLAIN, beside, above, away)) == ()


def test_the_sweep_finds_every_pair_that_trying_all_pairs_finds() -> None:
    """A pile of boards shifted by 130 along x and 10 up: each meets the next one only half-way up."""
    pile = tuple(board(f"A{i}", 400.0, 200.0, 20.0, (130.0 * i, 0.0, 10.0 * i)) for i in range(8))
    found = {(one.first, one.second): one.volume_mm3 for one in interferences(in_list(*pile))}
    assert set(found) == {(f"A{i}", f"A{i + 1}") for i in range(7)}
    assert all(volume == pytest.approx(270 * 200 * 10) for volume in found.values())


def test_sixty_boards_are_tried_in_well_under_a_second() -> None:
    """Bevelled, grooved boards that all touch a neighbour; the limit leaves room for a busy machine."""
    groove = Groove(face="B", start=(100.0, 0.0), end=(100.0, 200.0), width_mm=18, depth_mm=6, receives="")
    edges = (SQUARE, Edge(bevel_rad=0.5), SQUARE, Edge(bevel_rad=-0.5))
    boards = tuple(
        replace(
            board(f"A{i}", 400.0, 200.0, 20.0, (410.0 * (i % 6), 0.0, 15.0 * (i // 6))), edges=edges, grooves=(groove,)
        )
        for i in range(60)
    )
    start = time.perf_counter()
    found = interferences(in_list(*boards))
    assert found
    assert time.perf_counter() - start < 2.0


@dataclass(frozen=True)
class BulgingRoom:
    """A room 1000 wide, deep and high whose back wall bulges out by 10 in its middle, and whose floor is 5 high."""

    without: tuple[str, ...] = ()

    def has(self, surface: str) -> bool:
        """Return whether the room has that surface."""
        return surface not in self.without

    def at(self, surface: str, p: float, q: float) -> Measured:
        """Return the surface's height field: p is x (y on side walls), q the other of the two."""
        value = {
            "floor": 5.0,
            "back": -10.0 if 300 < p < 700 and 300 < q < 700 else 0.0,
            "left": 0.0,
            "right": 1000.0,
            "slope": 1400.0 - p,
            "ceiling": 1000.0,
        }[surface]
        return Measured(value=value, sd=1.0)

    @property
    def fields(self) -> dict[str, BulgingField]:
        """The surfaces it has."""
        names = ("floor", "back", "left", "right", "slope", "ceiling")
        return {name: BulgingField(room=self, surface=name) for name in names if self.has(name)}


@dataclass(frozen=True)
class BulgingField:
    """One surface of that room."""

    room: BulgingRoom
    surface: str

    def values(self, p_mm: list[float], q_mm: list[float]) -> np.ndarray:
        """Return the surface at each place."""
        return np.array([self.room.at(self.surface, p, q).value for p, q in zip(p_mm, q_mm, strict=True)])


STANDING = Frame(origin=(0.0, 0.0, 0.0), u=(1.0, 0.0, 0.0), v=(0.0, 0.0, 1.0))


def through(part: Part) -> list[tuple[str, str, float]]:
    """What sticks through, rounded to a thousandth."""
    found = outside_room(in_list(part), BulgingRoom())  # type: ignore[arg-type]
    return [(one.number, one.surface, round(one.depth_mm, 3)) for one in found]


def test_a_board_inside_the_room_sticks_through_nothing() -> None:
    """It stands on the floor, 1 mm off the walls."""
    assert through(board("A1", 290.0, 500.0, 20.0, (1.0, -21.0, 5.0), STANDING)) == []


@pytest.mark.parametrize(
    ("origin", "surface", "depth"),
    [
        ((100.0, -500.0, 2.0), "floor", 3.0),
        ((-4.0, -500.0, 100.0), "left", 4.0),
        ((702.0, -500.0, 100.0), "right", 2.0),
        ((100.0, -16.0, 20.0), "back", 4.0),
        ((400.0, -500.0, 705.0), "slope", 5.0),  # upper right corner (700, 705) against 1400 - 700
        ((10.0, -500.0, 1001.0), "ceiling", 1.0),
    ],
)
def test_a_board_through_a_surface_is_named_with_its_depth(
    origin: tuple[float, float, float], surface: str, depth: float
) -> None:
    """A strip of 300 x 20 x 20, no more than 0.5 mm through any other surface."""
    height = 0.001 if surface in {"slope", "ceiling"} else 20.0
    part = board("A1", 300.0, height, 20.0, origin, STANDING)
    assert through(part) == [("A1", surface, pytest.approx(depth, abs=0.002))]


def test_a_bulge_between_the_corners_is_found_along_the_edge() -> None:
    """The corners stand 4 mm clear of the wall, the middle of the upper edge 6 mm inside the bulge."""
    part = board("A1", 800.0, 480.0, 20.0, (50.0, -24.0, 20.0), STANDING)
    assert through(part) == [("A1", "back", 6.0)]


def test_a_surface_that_the_room_has_not_is_not_asked_for() -> None:
    """A shelf through where a left wall would be sticks through nothing in a room without one."""
    part = board("A1", 300.0, 20.0, 20.0, (-4.0, -500.0, 100.0), STANDING)
    assert outside_room(in_list(part), BulgingRoom(without=("left",))) == ()  # type: ignore[arg-type]
