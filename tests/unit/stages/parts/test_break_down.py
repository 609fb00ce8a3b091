"""Boxes and all that goes with them become boards: sizes worked out by hand for rooms of known planes."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from nookwright.stages.design.fit import fit
from nookwright.stages.inputs.brief import (
    Allowances,
    Bought,
    Brief,
    Cases,
    Cell,
    Fixed,
    Front,
    Joinery,
    Platform,
    Top,
    Trim,
    Unit,
)
from nookwright.stages.inputs.shop import Saw, Shop
from nookwright.stages.inputs.survey import Skirting
from nookwright.stages.parts.break_down import break_down
from nookwright.stages.parts.part import JointMade, Part, PartList
from planar_rooms import SQUARE_ALCOVE, PlanarRoom, a_shop

NO_PLAY = Allowances(sds=0.0, least_gap_mm=0.0, top_gap_mm=0.0)
COLUMNS = Cell(split="columns", cells=(Cell(), Cell()))


def brief(*tiers: Cases | Top, **changed: object) -> Brief:
    """A brief with those tiers, without play."""
    given: dict[str, object] = {"allowances": NO_PLAY, **changed}
    return Brief(title="job", units="mm", resolution=0.5, tiers=tiers, **given)  # type: ignore[arg-type]


def cases(*units: Unit, height: float | None = 700.0, **changed: object) -> Cases:
    """A tier 300 deep of 18 mm boards without a back."""
    given: dict[str, object] = {"name": "tier", "depth_mm": 300.0, "board": "ply", **changed}
    return Cases(height_mm=height, units=units, **given)  # type: ignore[arg-type]


def one(inside: Cell = Cell(), **changed: object) -> Unit:
    """A built unit that takes what is left."""
    return Unit(name="case", inside=inside, **changed)  # type: ignore[arg-type]


def parts_of(wished: Brief, room: PlanarRoom | None = None, shop: Shop | None = None) -> PartList:
    """Break a brief down in a square alcove 1800 wide unless another room is given."""
    room, shop = room or PlanarRoom(planes=SQUARE_ALCOVE), shop or a_shop()
    return break_down(fit(wished, room, shop), wished, room, shop)  # type: ignore[arg-type]


def named(parts: PartList, name: str) -> list[Part]:
    """Return the parts of that name."""
    return [part for part in parts.parts if part.name == name]


def joint(parts: PartList, held: Part, holder: Part) -> JointMade:
    """Return the one joint of two parts."""
    (found,) = (each for each in parts.joints if (each.held, each.holder) == (held.number, holder.number))
    return found


def under_slope(slope: float = 0.8, height: float = 900.0) -> PlanarRoom:
    """A corner whose slope rises to the right from a height at the left wall."""
    planes = {**SQUARE_ALCOVE, "slope": (height, slope, 0.0)}
    del planes["right"]
    return PlanarRoom(planes=planes)  # type: ignore[arg-type]


def corner_spots(part: Part) -> list[tuple[float, float, float]]:
    """Return the corners of face A in the room, rounded."""
    return [tuple(round(c, 6) for c in part.frame.to_room(u, v)) for u, v in part.outline]  # type: ignore[misc]


# ---- level boxes ----


def test_a_butted_box_has_its_bottom_and_top_between_its_sides() -> None:
    """1800 less two sides of 18 is 1764; the sides run the full 700; all are 300 deep."""
    parts = parts_of(brief(cases(one()), joinery=Joinery(corners="butt and screws")))
    assert [(part.number, part.name, part.blank_mm) for part in parts.parts[:4]] == [
        ("A1", "left side", (700.0, 300.0)),
        ("A2", "right side", (700.0, 300.0)),
        ("A3", "bottom", (1764.0, 300.0)),
        ("A4", "top", (1764.0, 300.0)),
    ]
    assert all(not part.grooves for part in parts.parts)


def test_boards_stand_where_the_box_stands() -> None:
    """The box stands 3 up: its bottom's upper face at 21, its top's at 703; the sides' outer faces are face A."""
    left, right, bottom, top = parts_of(brief(cases(one()))).parts[:4]
    assert {z for _, _, z in corner_spots(bottom)} == {21.0}
    assert {z for _, _, z in corner_spots(top)} == {703.0}
    assert {x for x, _, _ in corner_spots(left)} == {0.0}
    assert {x for x, _, _ in corner_spots(right)} == {1800.0}
    assert (left.frame.out_of_face[0], right.frame.out_of_face[0]) == (-1.0, 1.0)


def test_a_back_takes_its_thickness_off_the_boards() -> None:
    """A box 300 deep with a back of 6 mm has boards 294 deep."""
    parts = parts_of(brief(cases(one(), back_board="thin")))
    assert {part.blank_mm[1] for part in parts.parts if part.role in {"side", "bottom", "top"}} == {294.0}


def test_a_housed_box_grows_its_boards_by_both_housings() -> None:
    """6 mm in each side: 1776; the housings lie at 9 and 700 - 9 up, 18 wide, on the inner faces."""
    parts = parts_of(brief(cases(one()), joinery=Joinery(corners="housing", housing_mm=6.0)))
    left, right, bottom, top = parts.parts[:4]
    assert bottom.blank_mm[0] == top.blank_mm[0] == 1776.0
    for side in (left, right):
        assert [(g.start[0], g.end[0], g.width_mm, g.depth_mm, g.receives) for g in side.grooves] == [
            (9.0, 9.0, 18.0, 6.0, bottom.number),
            (691.0, 691.0, 18.0, 6.0, top.number),
        ]
        assert {groove.face for groove in side.grooves} == {"B"}
    assert [row.kind for row in joint(parts, bottom, left).fastenings] == ["glue"]


@pytest.mark.parametrize(
    ("thickness", "in_side", "in_divider"), [(18.0, 8.0, 4.5), (12.0, 6.0, 3.0), (25.0, 8.0, 6.25)]
)
def test_a_housing_is_no_deeper_than_half_a_side_or_a_quarter_of_a_divider(
    thickness: float, in_side: float, in_divider: float
) -> None:
    """8 wished: all of it where half a side allows, else half; in a divider a quarter of its thickness."""
    inside = Cell(split="columns", cells=(Cell(shelves=1, shelf_fixing="fixed"), Cell()))
    wished = brief(cases(one(inside), height=1000.0), joinery=Joinery(dividers="housing", housing_mm=8.0))
    parts = parts_of(wished, shop=a_shop(thickness))
    (shelf,) = named(parts, "fixed shelf")
    bay = (1800 - 3 * thickness) / 2
    assert shelf.blank_mm[0] == pytest.approx(bay + in_side + in_divider)
    depths = {part.name: groove.depth_mm for part in parts.parts for groove in part.grooves}
    assert depths == {"left side": in_side, "divider": in_divider}


def test_a_housing_runs_through_to_the_front_of_a_set_back_shelf() -> None:
    """Behind an inset door of 18 without strips a fixed shelf stands 18 + 2 + 3 = 23 back; its housing runs through."""
    inside = Cell(shelves=1, shelf_fixing="fixed", front=Front(leaves="one", hang="inset", board="ply"))
    parts = parts_of(brief(cases(one(inside), height=1000.0)))
    (shelf,) = named(parts, "fixed shelf")
    assert shelf.blank_mm[1] == 277.0
    left = named(parts, "left side")[0]
    (groove,) = left.grooves
    assert (groove.start[1], groove.end[1]) == (0.0, 300.0)


def test_a_loose_shelf_is_shorter_and_rests_on_four_pins() -> None:
    """3 mm shorter than its bay of 1764 and 3 mm back; pins of 5 mm stand half below its underside.

    Inside 1000 - 36 = 964; one shelf in the middle: (964 - 18) / 2 = 473 above the bottom's face at 21.
    """
    parts = parts_of(brief(cases(one(Cell(shelves=1)), height=1000.0)))
    (shelf,) = named(parts, "shelf on pins")
    assert shelf.blank_mm == pytest.approx((1761.0, 297.0))
    left, right = parts.parts[:2]
    for side in (left, right):
        (holes,) = side.pin_holes
        assert holes.receives == shelf.number
        assert holes.face == "B"
        assert holes.u_mm == pytest.approx(18.0 + 473.0 - 2.5)
    assert not [each for each in parts.joints if shelf.number in {each.held, each.holder}]


def test_a_divider_is_held_above_and_below() -> None:
    """It stands between bottom and top: 700 - 36 = 664 high, screwed through both."""
    parts = parts_of(brief(cases(one(COLUMNS))))
    (divider,) = named(parts, "divider")
    assert divider.blank_mm == (664.0, 300.0)
    assert [row.kind for row in joint(parts, divider, named(parts, "bottom")[0]).fastenings] == ["wood screw", "glue"]
    assert joint(parts, divider, named(parts, "top")[0]).length_mm == 300.0


def test_a_divider_below_a_row_board_is_not_fixed_to_the_top() -> None:
    """A row of 300 below: its divider is 300 high, and only the bottom holds it from below."""
    rows = Cell(split="rows", cells=(replace(COLUMNS, size=Fixed(mm=300)), Cell()))
    parts = parts_of(brief(cases(one(rows))))
    (divider,) = named(parts, "divider")
    assert divider.blank_mm[0] == 300.0
    holders = [each.holder for each in parts.joints if each.held == divider.number]
    assert named(parts, "bottom")[0].number in holders
    assert named(parts, "top")[0].number not in holders


def test_a_narrow_back_is_one_panel_a_millimetre_in() -> None:
    """Behind a box 900 x 700: 898 x 698, its grain upright."""
    wished = brief(cases(one(), back_board="thin"), end_mm=900.0)
    (back,) = named(parts_of(wished), "back")
    assert back.blank_mm == pytest.approx((698.0, 898.0))
    assert back.frame.u == (0.0, 0.0, 1.0)
    assert {y for _, y, _ in corner_spots(back)} == {-6.0}


def test_a_back_is_screwed_to_everything_it_covers() -> None:
    """Both sides, bottom and top."""
    parts = parts_of(brief(cases(one(), back_board="thin"), end_mm=900.0))
    holders = [parts.part(joint.holder).role for joint in parts.joints if parts.part(joint.held).role == "back"]
    assert sorted(holders) == ["bottom", "side", "side", "top"]


def test_a_wide_back_is_divided_over_the_divider() -> None:
    """1798 is wider than the sheet's 1250: two panels meet at the divider's middle, 900."""
    first, second = named(parts_of(brief(cases(one(COLUMNS), back_board="thin"))), "back")
    assert (first.blank_mm[1], second.blank_mm[1]) == pytest.approx((899.0, 899.0))
    assert max(x for x, _, _ in corner_spots(first)) == 900.0
    assert min(x for x, _, _ in corner_spots(second)) == 900.0
    assert all("meets its neighbour over an upright" in part.notes[0] for part in (first, second))


def test_fixing_rails_lie_under_the_top_in_every_bay() -> None:
    """90 high and as long as the bay, (1800 - 54) / 2 = 873, pocket-screwed to both uprights."""
    parts = parts_of(brief(cases(one(COLUMNS))))
    rails = named(parts, "fixing rail")
    assert [rail.blank_mm for rail in rails] == [pytest.approx((873.0, 90.0))] * 2
    assert {z for rail in rails for _, _, z in corner_spots(rail)} == {595.0, 685.0}
    for rail in rails:
        assert [each.joint for each in parts.joints if each.held == rail.number] == ["pocket screws"] * 2


# ---- raked boxes ----


def test_the_raked_board_lies_over_the_short_side_and_stops_at_the_tall_one() -> None:
    """From x 0 to 1782 along a slope of 0.8: 1782 x sqrt(1.64) on its upper face."""
    parts = parts_of(brief(cases(one(), height=None)), under_slope())
    (raked,) = named(parts, "raked board")
    upper = max(u for u, _ in raked.outline)
    assert upper == pytest.approx(1782.0 * math.sqrt(1.64))
    assert sorted(abs(math.degrees(edge.bevel_rad)) for edge in raked.edges)[2:] == pytest.approx(
        [38.66, 38.66], abs=0.005
    )


def test_the_sides_of_a_raked_box_end_where_the_raked_board_does() -> None:
    """Short side, below the board: 900 - 18 x sqrt(1.64) - 3 at its outer face. Tall side, beside it: 2340 - 3."""
    parts = parts_of(brief(cases(one(), height=None)), under_slope())
    (short,), (tall,) = named(parts, "short left side"), named(parts, "tall right side")
    at_outer_face = max(u for u, _ in short.outline)
    assert at_outer_face == pytest.approx(900.0 - 18.0 * math.sqrt(1.64) - 3.0)
    assert max(u for u, _ in tall.outline) == pytest.approx(2340.0 - 3.0)


def test_a_ceiling_gives_a_level_top_mitred_to_the_raked_board() -> None:
    """Level at 2000 from x (2000 - 900) / 0.8 = 1375 to the tall side at 1782: 407 on its upper face."""
    room = under_slope()
    room.planes["ceiling"] = (2000.0, 0.0, 0.0)
    parts = parts_of(brief(cases(one(), height=None)), room)
    (top,), (raked,) = named(parts, "level top"), named(parts, "raked board")
    assert max(u for u, _ in top.outline) == pytest.approx(407.0)
    mitre = math.degrees(math.atan(0.8)) / 2
    assert max(abs(math.degrees(edge.bevel_rad)) for edge in top.edges) == pytest.approx(mitre)
    assert joint(parts, top, raked).joint == "butt and brads"


def test_a_slope_that_falls_to_the_right_swaps_short_and_tall() -> None:
    """The mirrored room gives the short side on the right."""
    planes = {**SQUARE_ALCOVE, "slope": (2340.0, -0.8, 0.0)}
    del planes["left"]
    parts = parts_of(brief(cases(one(), height=None)), PlanarRoom(planes=planes))
    (short,), (tall,) = named(parts, "short right side"), named(parts, "tall left side")
    assert max(u for u, _ in short.outline) == pytest.approx(900.0 - 18.0 * math.sqrt(1.64) - 3.0)
    assert max(u for u, _ in tall.outline) == pytest.approx(2337.0)


def test_a_shelf_into_a_gentle_rake_is_cut_square_where_the_saw_cannot_tilt() -> None:
    """At 21.8 deg (0.4) the end of the highest of three would need 68.2 deg of tilt; the saw has 47.

    It is held by the raked board all the same.
    """
    room = under_slope(slope=0.4)
    inside = Cell(shelves=3, shelf_fixing="fixed")
    shelf = named(parts := parts_of(brief(cases(one(inside), height=None)), room), "fixed shelf")[-1]
    assert all(edge.bevel_rad == 0.0 for edge in shelf.edges)
    assert shelf.notes == ("the raked end would need 68.2 deg: cut square, its upper edge touches the raked board",)
    assert joint(parts, shelf, named(parts, "raked board")[0]).joint == "butt and screws"


def test_a_shelf_into_a_steep_rake_is_bevelled() -> None:
    """At 50.2 deg (1.2) it needs 39.8 deg; its upper face is shorter than its lower one by 18 / 1.2 = 15."""
    inside = Cell(shelves=1, shelf_fixing="fixed")
    (shelf,) = named(parts_of(brief(cases(one(inside), height=None)), under_slope(slope=1.2)), "fixed shelf")
    (cut,) = (edge for edge in shelf.edges if edge.bevel_rad)
    assert math.degrees(cut.bevel_rad) == pytest.approx(90 - math.degrees(math.atan(1.2)))
    assert cut.meets == "raked board"
    face_b = shelf.face_b()
    assert (max(u for u, _ in face_b) - min(u for u, _ in face_b)) - max(u for u, _ in shelf.outline) == pytest.approx(
        15
    )


# ---- what joins boxes ----


def test_neighbouring_sides_are_screwed_together() -> None:
    """Four screws through 18 into 18: 32 would leave 1 less than the 3 short of 36 wanted, so 32 it is."""
    parts = parts_of(brief(cases(one(), replace(one(), name="other"))))
    (pair,) = (each for each in parts.joints if each.fastenings[0].count == 4 and len(each.fastenings) == 1)
    assert (parts.part(pair.held).name, parts.part(pair.holder).name) == ("right side", "left side")
    assert pair.fastenings[0].length_mm == 32


def test_boxes_are_screwed_to_the_platform_without_glue() -> None:
    """To both rails, and nothing is glued so that they come out again."""
    parts = parts_of(brief(cases(one()), platform=Platform(height_mm=100, board="ply")))
    (bottom,) = named(parts, "bottom")
    down = [each for each in parts.joints if each.held == bottom.number and each.holder.startswith("P")]
    assert [parts.part(each.holder).name for each in down] == ["front rail", "back rail"]
    assert all(row.kind == "wood screw" for each in down for row in each.fastenings)


def test_a_box_on_a_box_is_screwed_to_the_top_below_it() -> None:
    """Without a platform and a worktop the lower box's top carries the upper one."""
    parts = parts_of(brief(cases(one()), cases(replace(one(), name="upper"), name="upper tier")))
    upper = next(part for part in parts.parts if part.role == "bottom" and part.module == "upper")
    lower = next(part for part in parts.parts if part.role == "top" and part.module == "case")
    assert [row.kind for row in joint(parts, upper, lower).fastenings] == ["wood screw"]


def test_a_box_on_a_worktop_is_screwed_to_it() -> None:
    """And the worktop is screwed from below, in a front and a rear row."""
    parts = parts_of(
        brief(cases(one()), Top(name="worktop", board="ply"), cases(replace(one(), name="upper"), name="up"))
    )
    (worktop,) = named(parts, "worktop")
    upper = next(part for part in parts.parts if part.role == "bottom" and part.module == "upper")
    lid = next(part for part in parts.parts if part.role == "top" and part.module == "case")
    assert joint(parts, upper, worktop).length_mm == 1764.0
    fixing = joint(parts, lid, worktop).fastenings[0]
    # 1764 long, first screw 50 in: 1664 at most 400 apart makes 5 gaps, 6 screws, in two rows
    assert (fixing.count, fixing.spacing_mm) == (12, pytest.approx(1664 / 5))
    assert fixing.reason.startswith("front and rear row from below; ")


def test_a_solid_worktop_is_glued_up_and_left_free_to_move() -> None:
    """300 + 25 deep from boards 140 wide: three; its screws go through slots."""
    parts = parts_of(brief(cases(one()), Top(name="worktop", board="top")))
    (worktop,) = named(parts, "worktop")
    assert worktop.pieces == 3
    assert worktop.notes == ("glued up from 3 boards, then cut; leave it free to move across the grain",)
    lid = next(part for part in parts.parts if part.role == "top")
    assert "through slots along the depth" in joint(parts, lid, worktop).fastenings[0].reason


# ---- all that is not a box ----


def test_the_platform_is_a_ladder() -> None:
    """Rails 1800 x 97 (100 less the packer of 3); bearers between them, 300 - 2 x 18 = 264 long."""
    parts = parts_of(brief(cases(one()), platform=Platform(height_mm=100, board="ply")))
    rails = [part for part in parts.parts if part.role == "platform rail"]
    bearers = [part for part in parts.parts if part.role == "platform bearer"]
    assert [rail.blank_mm for rail in rails] == [(1800.0, 97.0)] * 2
    assert {bearer.blank_mm for bearer in bearers} == {(264.0, 97.0)}
    # clear from 0 to 1782 at most 400 apart: five gaps, six bearers
    assert [bearer.frame.origin[0] - 18.0 for bearer in bearers] == pytest.approx([1782.0 / 5 * i for i in range(6)])
    assert len([each for each in parts.joints if each.held in {b.number for b in bearers}]) == 12


def test_a_toe_space_shortens_the_bearers() -> None:
    """50 back: 214 long."""
    parts = parts_of(brief(cases(one()), platform=Platform(height_mm=100, board="ply", toe_mm=50.0)))
    assert {part.blank_mm[0] for part in parts.parts if part.role == "platform bearer"} == {214.0}


def test_a_scribed_edge_keeps_its_allowance_outside_the_outline() -> None:
    """A straight alcove and no spread: 3 mm on the back and both ends of a worktop 1800 x 325."""
    (top,) = named(parts_of(brief(cases(one()), Top(name="worktop", board="ply"))), "worktop")
    assert [edge.scribe_mm for edge in top.edges] == pytest.approx([0.0, 3.0, 3.0, 3.0])
    assert [edge.meets for edge in top.edges] == ["", "right wall", "back wall", "left wall"]
    assert top.blank_mm == pytest.approx((1806.0, 328.0))


def test_skirting_is_mitred_round_a_seen_end() -> None:
    """The front run, 1800 behind, is 20 longer at its outside corner; the return, 300, likewise."""
    planes = {name: plane for name, plane in SQUARE_ALCOVE.items() if name != "right"}
    survey = replace(PlanarRoom(planes=planes).survey, skirting=Skirting(height_mm=90, thickness_mm=20))
    wished = brief(cases(one()), platform=Platform(height_mm=100, board="ply"), return_skirting=True)
    parts = parts_of(wished, PlanarRoom(planes=planes, survey=survey))
    front, side = (part for part in parts.parts if part.role == "skirting")
    assert [round(u) for u, _ in front.outline] == [0, 1820, 1820, 0]
    assert [round(u) for u, _ in side.outline] == [0, 320, 320, 0]
    assert [round(math.degrees(edge.bevel_rad)) for edge in front.edges] == [0, -45, 0, 0]
    assert [round(math.degrees(edge.bevel_rad)) for edge in side.edges] == [0, 0, 0, -45]
    # the two outer faces meet in one plumb edge, 20 mm outside both runs
    assert (1820.0, -320.0) in {(x, y) for x, y, _ in corner_spots(front)}
    assert (1820.0, -320.0) in {(x, y) for x, y, _ in corner_spots(side)}
    held = {each.held for each in parts.joints if each.holder == "P1"}
    assert {front.number, side.number} <= held


def test_strips_show_their_face_to_the_room_and_are_nailed() -> None:
    """20 thick before the box's front at y -300; every one is held, with brads and glue."""
    parts = parts_of(brief(cases(one(COLUMNS)), trim=Trim(board="strip")))
    strips = [part for part in parts.parts if part.role == "strip"]
    assert {y for strip in strips for _, y, _ in corner_spots(strip)} == {-320.0}
    for strip in strips:
        (nailed,) = (each for each in parts.joints if each.held == strip.number)
        assert [row.kind for row in nailed.fastenings] == ["brad", "glue"]
    left = named(parts, "left end strip")[0]
    assert left.notes == ("scribe to the left; back-bevel 3 to 10 deg behind the line",)
    assert [edge.meets for edge in left.edges if edge.scribe_mm] == ["left"]


def test_strips_on_a_bought_cabinet_alone_have_no_board_to_be_nailed_to() -> None:
    """It has no parts of ours, so no joint names one."""
    unit = Unit(name="bought", bought=Bought(width_mm=1800, height_mm=700, depth_mm=300))
    parts = parts_of(brief(cases(unit), trim=Trim(board="strip")))
    assert {part.role for part in parts.parts} == {"strip"}
    assert parts.joints == ()


def test_a_door_is_cut_with_its_grain_upright() -> None:
    """659.2 high (664 - 4.8) and 1759.2 wide (1764 - 4.8), to be checked against what was built."""
    parts = parts_of(brief(cases(one(Cell(front=Front(leaves="one", hang="inset", board="ply"))))))
    (door,) = (part for part in parts.parts if part.role == "door")
    assert door.blank_mm == pytest.approx((659.2, 1759.2))
    assert door.frame.u == (0.0, 0.0, 1.0)
    assert door.notes == ("check against the built opening before cutting",)


def test_a_saw_that_tilts_further_bevels_a_gentle_rake() -> None:
    """With 70 deg of tilt the shelf of a 0.4 rake gets its 68.2 deg bevel."""
    inside = Cell(shelves=3, shelf_fixing="fixed")
    shop = replace(a_shop(), saw=Saw(max_tilt_deg=70.0))
    shelf = named(parts_of(brief(cases(one(inside), height=None)), under_slope(slope=0.4), shop), "fixed shelf")[-1]
    assert max(math.degrees(edge.bevel_rad) for edge in shelf.edges) == pytest.approx(68.2, abs=0.05)
