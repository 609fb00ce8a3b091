"""Outlets cut holes in backs: places worked out by hand for rooms of known planes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from nookwright.stages.design.fit import fit
from nookwright.stages.inputs.brief import Allowances, Brief, Cases, Cell, Unit
from nookwright.stages.inputs.survey import Outlet
from nookwright.stages.parts.break_down import break_down
from nookwright.stages.parts.part import PartList
from planar_rooms import SQUARE_ALCOVE, PlanarRoom, a_shop

COLUMNS = Cell(split="columns", cells=(Cell(), Cell()))


def backed(inside: Cell = Cell(), *, height: float = 700.0, board: str | None = "thin") -> Brief:
    """A brief of one box of 18 mm boards, 300 deep, with a back, without play."""
    box = Cases(
        name="tier",
        height_mm=height,
        depth_mm=300.0,
        board="ply",
        back_board=board,
        units=(Unit(name="case", inside=inside),),
    )
    return Brief(
        title="job",
        units="mm",
        resolution=0.5,
        tiers=(box,),
        allowances=Allowances(sds=0.0, least_gap_mm=0.0, top_gap_mm=0.0),
    )


def broken_down(wished: Brief, room: PlanarRoom) -> PartList:
    """Return the boards of a brief."""
    return break_down(fit(wished, room, a_shop()), wished, room, a_shop())  # type: ignore[arg-type]


def socket(**changed: object) -> Outlet:
    """A box of 74 x 74, 500 from the left end, 300 above the floor below it."""
    given: dict[str, object] = {"side": "left", "from_side_mm": 500.0, "wall": "back", **changed}
    return Outlet(
        name="socket", above_floor_mm=300.0, box_width_mm=74.0, box_height_mm=74.0, plate_width_mm=86.0,
        plate_height_mm=86.0, **given,  # type: ignore[arg-type]
    )  # fmt: skip


def with_outlets(
    planes: dict[str, tuple[float, float, float]], outlets: Sequence[Outlet], **changed: object
) -> PlanarRoom:
    """A room of those planes with outlets."""
    room = PlanarRoom(planes=planes, **changed)  # type: ignore[arg-type]
    return replace(room, survey=replace(room.survey, outlets=tuple(outlets)))


def test_an_outlets_hole_follows_the_chain_from_the_true_corner_and_floor() -> None:
    """The left wall stands 6 proud at 300 up (0.02), the floor is 2 higher at 506 (0.002 x 506 = 1.012).

    Centre: x 6 + 500 = 506, z 1.012 + 300 = 301.012. Hole 80 x 80: from x 466, z 261.012.
    The box's left side stands at 0.02 x 703.6 (its top; 3.6 is the floor's high point at 1800), its back 1 mm in,
    its foot at 3.6 + 3.
    """
    planes = {**SQUARE_ALCOVE, "left": (0.0, 0.0, 0.02), "floor": (0.0, 0.002, 0.0)}
    room = with_outlets(planes, [socket()])
    design = fit(wished := backed(COLUMNS), room, a_shop())  # type: ignore[arg-type]
    parts = break_down(design, wished, room, a_shop())  # type: ignore[arg-type]
    (panel,) = (part for part in parts.parts if part.cutouts)
    (hole,) = panel.cutouts
    low_left = panel.frame.to_room(hole.u_mm, hole.v_mm + hole.height_mm)
    assert low_left[0] == pytest.approx(506.0 - 40.0)
    assert low_left[2] == pytest.approx(301.012 - 40.0)
    assert (hole.width_mm, hole.height_mm) == (80.0, 80.0)
    foot = design.boxes[0].z0_mm
    assert hole.u_mm == pytest.approx(261.012 - (foot + 1.0))
    assert hole.purpose == "outlet: socket"


def test_an_outlet_measured_from_the_right_counts_back_from_the_right_wall() -> None:
    """500 from a wall at 1800: x 1300; through the second of two panels that meet at 900."""
    room = with_outlets(SQUARE_ALCOVE, [socket(side="right")])  # type: ignore[arg-type]
    parts = broken_down(backed(COLUMNS), room)
    (panel,) = (part for part in parts.parts if part.cutouts)
    (hole,) = panel.cutouts
    assert panel.frame.to_room(hole.u_mm, hole.v_mm + hole.height_mm)[0] == pytest.approx(1300.0 - 40.0)
    assert panel is [part for part in parts.parts if part.name == "back"][1]


def test_an_outlet_at_an_open_end_counts_from_the_corner_spot() -> None:
    """Without a right wall the spot BR0 at 1800 is the end it was measured from."""
    planes = {name: plane for name, plane in SQUARE_ALCOVE.items() if name != "right"}
    room = with_outlets(planes, [socket(side="right")])  # type: ignore[arg-type]
    parts = broken_down(backed(COLUMNS), room)
    (panel,) = (part for part in parts.parts if part.cutouts)
    (hole,) = panel.cutouts
    assert panel.frame.to_room(hole.u_mm, hole.v_mm + hole.height_mm)[0] == pytest.approx(1260.0)


def test_outlets_elsewhere_cut_nothing() -> None:
    """On another wall, above the box, or where the box has no back."""
    for room, wished in (
        (with_outlets(SQUARE_ALCOVE, [socket(wall="left")]), backed()),  # type: ignore[arg-type]
        (with_outlets(SQUARE_ALCOVE, [socket()]), backed(height=250.0)),  # type: ignore[arg-type]
        (with_outlets(SQUARE_ALCOVE, [socket()]), backed(board=None)),  # type: ignore[arg-type]
    ):
        assert not [part for part in broken_down(wished, room).parts if part.cutouts]
