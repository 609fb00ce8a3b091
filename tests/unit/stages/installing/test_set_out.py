"""Setting the installation out in rooms of known planes: packers, wall screws, outlet holes and the order of work."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nookwright.stages.design.fit import fit
from nookwright.stages.inputs.brief import Allowances, Bought, Brief, Cases, Cell, Platform, Top, Trim, Unit, WallScrew
from nookwright.stages.inputs.survey import Outlet, Skirting, WallBuild
from nookwright.stages.installing.install_plan import InstallPlan, Step
from nookwright.stages.installing.set_out import set_out
from nookwright.stages.parts.break_down import break_down
from planar_rooms import SQUARE_ALCOVE, PlanarRoom, a_shop

NO_PLAY = Allowances(sds=0.0, least_gap_mm=0.0, top_gap_mm=0.0)
COLUMNS = Cell(split="columns", cells=(Cell(), Cell()))
SOCKET = Outlet(
    name="socket", wall="back", side="left", from_side_mm=500.0, above_floor_mm=300.0, box_width_mm=74.0,
    box_height_mm=74.0, plate_width_mm=86.0, plate_height_mm=86.0,
)  # fmt: skip
BOUGHT = Unit(name="bought", bought=Bought(width_mm=1800, height_mm=780, depth_mm=300, toe_height_mm=80))


def brief(*tiers: Cases | Top, **changed: object) -> Brief:
    """A brief with those tiers, without play."""
    given: dict[str, object] = {"allowances": NO_PLAY, "units": "mm", "resolution": 0.5, **changed}
    return Brief(title="job", tiers=tiers, **given)  # type: ignore[arg-type]


def cases(*units: Unit, height: float | None = 700.0, **changed: object) -> Cases:
    """A tier 300 deep of 18 mm boards with a 6 mm back."""
    given: dict[str, object] = {"name": "tier", "depth_mm": 300.0, "board": "ply", "back_board": "thin", **changed}
    return Cases(height_mm=height, units=units, **given)  # type: ignore[arg-type]


def one(inside: Cell = Cell(), **changed: object) -> Unit:
    """A built unit that takes what is left."""
    return Unit(name="case", inside=inside, **changed)  # type: ignore[arg-type]


def room_with(
    wall: WallBuild | None = None, outlets: tuple[Outlet, ...] = (), **planes: tuple[float, float, float]
) -> PlanarRoom:
    """A square alcove with some planes, another wall or outlets."""
    room = PlanarRoom(planes={**SQUARE_ALCOVE, **planes})  # type: ignore[dict-item]
    survey = replace(room.survey, outlets=outlets, wall=wall or room.survey.wall)
    return replace(room, survey=survey)


def installed(wished: Brief, room: PlanarRoom | None = None) -> InstallPlan:
    """Set a brief out in a square alcove 1800 wide unless another room is given."""
    room, shop = room or room_with(), a_shop()
    design = fit(wished, room, shop)  # type: ignore[arg-type]
    parts = break_down(design, wished, room, shop)  # type: ignore[arg-type]
    return set_out(design, parts, wished, room, shop)  # type: ignore[arg-type]


def step(plan: InstallPlan, title: str) -> Step:
    """Return the step of that title."""
    return next(each for each in plan.steps if each.title == title)


# ---- packers ----


def test_packers_grow_away_from_the_floors_high_point() -> None:
    """A floor that rises 0.005 to the right and falls 0.01 to the front (y below 0).

    High point right behind: 9 at (1800, 0); the underside is 3 above it, 12. Under the first bearer's front end,
    x 9 and y -291, the floor is at 0.045 - 2.91 = -2.865, so the packer is 14.865.
    """
    room = room_with(floor=(0.0, 0.005, 0.01))
    packers = installed(brief(cases(one()), platform=Platform(height_mm=100, board="ply")), room).packers
    first, last = packers[0], packers[-1]
    assert (first.station, first.x_mm, first.y_mm) == (1, 9.0, -291.0)
    assert first.height.value == pytest.approx(14.865)
    # rear right: x 1791, y -9: floor 8.955 - 0.09 = 8.865, packer 3.135
    assert (last.x_mm, last.y_mm) == (1791.0, -9.0)
    assert last.height.value == pytest.approx(3.135)
    assert [packer.station for packer in packers] == list(range(1, 13))
    assert min(packer.height.value for packer in packers) >= 3.0


def test_without_a_platform_there_are_no_packers() -> None:
    """Nothing to pack at bearers."""
    assert installed(brief(cases(one()))).packers == ()


# ---- wall fixings ----


def test_screws_go_into_studs_through_the_middle_of_the_rail() -> None:
    """Studs at 400, 800, 1200, 1600; the rail under the top runs from 595 to 685, so z 640.

    18 rail + 6 back + 0 gap + 12.5 board + 30 in the stud = 66.5: the next sold is 70.
    """
    fixings = installed(brief(cases(one()))).fixings
    assert [(fixing.x_mm, fixing.z_mm, fixing.into) for fixing in fixings] == [
        (400.0, 640.0, "stud 1"), (800.0, 640.0, "stud 2"), (1200.0, 640.0, "stud 3"), (1600.0, 640.0, "stud 4"),
    ]  # fmt: skip
    assert {fixing.screw_mm for fixing in fixings} == {70.0}
    assert fixings[0].reason.startswith("24.0 rail + 0.0 gap + 12.5 board + 30 in the stud = 66.5")


def test_a_gap_behind_is_packed_and_lengthens_the_screw() -> None:
    """A wall that runs back 0.01 to the right stands 4 behind at 400 and 16 behind at 1600: 70.5 and 82.5."""
    fixings = installed(brief(cases(one())), room_with(back=(0.0, 0.01, 0.0))).fixings
    assert [fixing.packer.value for fixing in fixings] == pytest.approx([4.0, 8.0, 12.0, 16.0])
    assert [fixing.screw_mm for fixing in fixings] == [75.0, 75.0, 80.0, 90.0]


def test_a_stud_at_a_rails_very_end_is_left_out() -> None:
    """A rail from 18 to 891: a stud at 27 is 9 from its end, one at 28 is 10."""
    for centre, kept in ((27.0, False), (28.0, True)):
        wall = WallBuild(kind="studs", stud_centres_mm=(centre, 400.0))
        fixings = installed(brief(cases(one(COLUMNS))), room_with(wall)).fixings
        assert (centre in {fixing.x_mm for fixing in fixings}) is kept


def test_a_masonry_wall_takes_its_makers_fixings() -> None:
    """A rail 1764 long in five parts of 352.8, one in the middle of each: none further apart than 400."""
    fixings = installed(brief(cases(one())), room_with(WallBuild(kind="masonry"))).fixings
    assert [fixing.x_mm for fixing in fixings] == pytest.approx([18.0 + 352.8 * (i + 0.5) for i in range(5)])
    assert {(fixing.into, fixing.screw_mm) for fixing in fixings} == {("masonry", 0.0)}
    assert fixings[0].reason == (
        "24.0 of rail and back + 0.0 gap (mm); length and plug by the anchor maker's own figure"
    )


def test_the_platform_is_screwed_to_every_stud_behind_it() -> None:
    """Its back rail, 18 thick, stands 3 to 100 up: z 51.5; 18 + 12.5 + 30 in the stud = 60.5: 64 is sold, of the kind asked.

    A wall that runs back 0.02 to the right stands 8, 16, 24 and 32 behind: what is further than 25 is left out.
    """
    wished = brief(cases(one()), platform=Platform(height_mm=100, board="ply"), wall_screw=WallScrew(screw="lag 1/4"))
    mine = [each for each in installed(wished).fixings if each.box == "platform"]
    assert [(each.x_mm, each.z_mm, each.into) for each in mine] == [
        (400.0, 51.5, "stud 1"), (800.0, 51.5, "stud 2"), (1200.0, 51.5, "stud 3"), (1600.0, 51.5, "stud 4"),
    ]  # fmt: skip
    assert {(each.screw_mm, each.screw) for each in mine} == {(64.0, "lag 1/4")}
    away = installed(wished, room_with(back=(0.0, 0.02, 0.0)))
    assert [each.packer.value for each in away.fixings if each.box == "platform"] == pytest.approx([8.0, 16.0, 24.0])
    assert "stud 1, stud 2, stud 3" in step(away, "Set the platform").text
    masonry = installed(wished, room_with(WallBuild(kind="masonry")))
    assert "platform" not in {each.box for each in masonry.fixings}
    assert "screw blocks to the floor" in step(masonry, "Set the platform").text


def test_a_short_rail_on_an_unknown_wall_still_gets_two() -> None:
    """In a case 300 wide the rail is 264 long: two, 132 apart."""
    fixings = installed(brief(cases(one()), end_mm=300.0), room_with(WallBuild(kind="unknown"))).fixings
    assert [fixing.x_mm for fixing in fixings] == pytest.approx([84.0, 216.0])
    assert {fixing.into for fixing in fixings} == {"unknown wall"}


def test_a_bought_cabinet_is_screwed_through_its_own_rail() -> None:
    """On a platform of 100 its top is at 800, the rail 90 below it: z 755; 16 rail + 6 back, 64.5 in all: 70."""
    wished = brief(cases(BOUGHT), platform=Platform(height_mm=100, board="ply"))
    fixings = [each for each in installed(wished).fixings if each.box == "bought"]
    assert {(fixing.z_mm, fixing.screw_mm) for fixing in fixings} == {(755.0, 70.0)}
    assert [fixing.x_mm for fixing in fixings] == [400.0, 800.0, 1200.0, 1600.0]


def test_on_an_outside_wall_the_gap_of_fifty_is_packed() -> None:
    """18 + 6 + 50 + 12.5 + 30 = 116.5: no screw sold reaches, so the longest is named and the book can say so."""
    wall = WallBuild(kind="studs", stud_centres_mm=(900.0,), outside=True)
    (fixing,) = installed(brief(cases(one())), room_with(wall)).fixings
    assert fixing.packer.value == 50.0
    assert fixing.screw_mm == 100.0
    assert "= 116.5" in fixing.reason


# ---- outlet holes ----


def test_a_hole_is_told_from_the_panels_own_edges() -> None:
    """Centre (500, 300), hole 80 x 80 from (460, 260); the panel's corner is 1 mm in at (1, 4): 459 and 256.

    One panel of 1798 would be too wide, so the panel ends at the divider's middle, 900.
    """
    plan = installed(brief(cases(one(COLUMNS))), room_with(outlets=(SOCKET,)))
    (hole,) = plan.holes
    assert (hole.left_mm, hole.bottom_mm) == pytest.approx((459.0, 256.0))
    assert (hole.width_mm, hole.height_mm, hole.box) == (80.0, 80.0, "case")
    # from the wall's face to the back's inner face: the back's own 6 mm
    assert hole.forward_mm == pytest.approx(6.0)


def test_a_hole_in_a_bought_cabinet_is_told_from_its_outside() -> None:
    """It has no panel of ours: 460 from its side, 300 - 40 - 100 = 160 from its foot on the platform."""
    plan = installed(brief(cases(BOUGHT), platform=Platform(height_mm=100, board="ply")), room_with(outlets=(SOCKET,)))
    (hole,) = plan.holes
    assert (hole.part, hole.left_mm, hole.bottom_mm) == ("", 460.0, 160.0)


def test_an_outlet_beside_the_furniture_is_told_from_the_room() -> None:
    """Above a box 250 high: no box, its hole's corner from BL0, and nothing to bring forward."""
    (hole,) = installed(brief(cases(one(), height=250.0)), room_with(outlets=(SOCKET,))).holes
    assert (hole.box, hole.part, hole.left_mm, hole.bottom_mm, hole.forward_mm) == ("", "", 460.0, 260.0, 0.0)


# ---- the order of work ----


def test_the_order_of_work_of_a_whole_job() -> None:
    """Safe first, platform before boxes, the top after what it lies on, trim before skirting, paint last."""
    room = room_with(outlets=(SOCKET,))
    room = replace(room, survey=replace(room.survey, skirting=Skirting(height_mm=90, thickness_mm=20)))
    wished = brief(
        cases(one(COLUMNS)),
        Top(name="worktop", board="top"),
        cases(replace(one(), name="shelves"), name="upper", depth_mm=250.0),
        platform=Platform(height_mm=100, board="ply"), trim=Trim(board="strip"), return_skirting=True,
    )  # fmt: skip
    assert [each.title for each in installed(wished, room).steps] == [
        "Make the room safe", "Take the skirting off", "Mark out", "Set the platform", "Put case together",
        "Hole for socket", "Stand and fix case", "Scribe and fix worktop", "Put shelves together",
        "Stand and fix shelves", "Face trim", "Return the skirting", "Fill, sand, prime, paint", "Hand over",
    ]  # fmt: skip


def test_the_platform_step_says_where_to_start() -> None:
    """High point at the right end, 1800 right of BL0 and 0 out; packers 3.5 to 12.5 to the half millimetre.

    The floor rises 0.005: under the last bearer, at 1791, it lies 0.045 below the high point, under the first, at 9,
    8.955 below: packers 3.045 and 11.955.
    """
    room = room_with(floor=(0.0, 0.005, 0.0))
    text = step(
        installed(brief(cases(one()), platform=Platform(height_mm=100, board="ply")), room), "Set the platform"
    ).text
    assert "Pack it at the 12 numbered points, 3 mm to 12 mm;" in text
    assert "The floor's high point is 1800 mm right of BL0" in text


def test_steps_speak_the_readers_units() -> None:
    """In inches: a toe of 80 is 3 1/8 inches to the sixteenth (3.1496)."""
    wished = brief(cases(BOUGHT), platform=Platform(height_mm=100, board="ply"), units="inch", resolution=1 / 16)
    text = step(installed(wished), "Cut the toe off bought").text
    assert text.startswith('Cut 3 1/8" off its sides')


def test_a_box_without_a_stud_behind_it_says_what_holds_it() -> None:
    """No stud between 0 and 300."""
    text = step(installed(brief(cases(one()), end_mm=300.0)), "Stand and fix case").text
    assert text.startswith("Stand it in place and plumb it. No stud lies behind its rails")


def test_an_unknown_wall_is_to_be_found_out_first() -> None:
    """Before its fixings are bought."""
    text = step(installed(brief(cases(one())), room_with(WallBuild(kind="unknown"))), "Mark out").text
    assert "Find out what the wall is made of before buying its fixings." in text


def test_a_solid_top_is_glued_a_day_before() -> None:
    """Three boards of 140 for 325; a sheet top needs no glue."""
    glued = step(installed(brief(cases(one()), Top(name="worktop", board="top"))), "Scribe and fix worktop").text
    assert glued.startswith("Glue up 3 boards, ")
    plain = step(installed(brief(cases(one()), Top(name="worktop", board="ply"))), "Scribe and fix worktop").text
    assert plain.startswith("Lay it in place on packers")


def test_a_bought_cabinet_without_a_toe_is_only_stood() -> None:
    """Nothing to cut, nothing of ours to put together."""
    unit = Unit(name="bought", bought=Bought(width_mm=1800, height_mm=700, depth_mm=300))
    assert [each.title for each in installed(brief(cases(unit))).steps] == [
        "Make the room safe", "Mark out", "Stand and fix bought", "Fill, sand, prime, paint", "Hand over",
    ]  # fmt: skip


def test_each_of_two_tops_follows_what_it_lies_on() -> None:
    """The second top lies on the upper tier and cannot be scribed before that stands."""
    wished = brief(
        cases(one()), Top(name="low top", board="ply"), cases(replace(one(), name="upper"), name="upper tier"),
        Top(name="high top", board="ply"),
    )  # fmt: skip
    titles = [each.title for each in installed(wished).steps]
    order = ["Stand and fix case", "Scribe and fix low top", "Stand and fix upper", "Scribe and fix high top"]
    assert [title for title in titles if title in order] == order
