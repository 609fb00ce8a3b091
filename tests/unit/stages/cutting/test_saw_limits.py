"""Tests of saws with limits, of pieces too heavy for one person, and of what counts once the money is settled."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from nookwright.geometry.frame import Frame
from nookwright.stages.cutting.at_the_saw import cut_steps
from nookwright.stages.cutting.cut_check import cut_faults
from nookwright.stages.cutting.cutting_plan import CuttingPlan, SheetPlan
from nookwright.stages.cutting.goals import largest_left_mm2, leftover_share, settings_of, turns_of
from nookwright.stages.cutting.handling import Exact, Handling
from nookwright.stages.cutting.lay_out import lay_out, not_cuttable
from nookwright.stages.inputs.shop import Goal, Saw, SheetStock, Shop
from nookwright.stages.parts.part import SQUARE, Part, PartList

FRAME = Frame(origin=(0, 0, 0), u=(1, 0, 0), v=(0, 0, 1))
TABLE = Saw(kerf_mm=3.0, trim_mm=5.0, rip_mm=650.0, crosscut_mm=800.0)
TRACK = Saw(kerf_mm=3.0, trim_mm=5.0, track_mm=1400.0)
PLY = SheetStock(
    key="birch", name="birch ply", wood="birch-plywood", length_mm=2500, width_mm=1250, thickness_mm=18,
    grained=True, price=Decimal(80),
)  # fmt: skip


def part(number: str, length: float, width: float) -> Part:
    """Return a plain rectangular part."""
    return Part(
        number=number, name="shelf", role="shelf", module="A", stock="birch", wood="birch-plywood", thickness_mm=18,
        outline=((0, 0), (length, 0), (length, width), (0, width)), edges=(SQUARE,) * 4, frame=FRAME,
    )  # fmt: skip


MANY = [part(f"A{i}", 300 + 71 * i % 500, 150 + 53 * i % 300) for i in range(1, 15)]


def laid(parts: list[Part], saw: Saw) -> CuttingPlan:
    """Return the plan for one stock."""
    return lay_out(PartList(parts=tuple(parts), joints=()), Shop(currency="EUR", sheets=(PLY,), boards=(), saw=saw))


def made_with(sheet: SheetPlan) -> set[str]:
    """Return what the cuts of a sheet are made with."""
    return {cut.by for cut in sheet.cuts}


@pytest.mark.parametrize(
    ("near", "far", "cut", "expected"),
    [
        (600, 1800, 2000, ("fence", False, 600)),  # 60 mm from the fence, 200 mm long
        (9000, 600, 2000, ("fence", True, 600)),  # only the other side comes under the fence
        (9000, 9000, 8000, ("crosscut", False, 9000)),  # 900 from both sides: the sled takes 800 of length
        (900, 9000, 500, ("crosscut", False, 900)),  # 50 mm of edge are too short to run 90 mm off the fence
        (9000, 9000, 8001, ("track", False, 9000)),
        (9000, 9000, 14001, None),
        (24, 9000, 14001, None),  # a trimmed-off edge of 2.4 mm is not held at the fence
    ],
)
def test_each_cut_is_made_with_a_saw_that_can(
    near: int, far: int, cut: int, expected: tuple[str, bool, int] | None
) -> None:
    """Fence to 650 mm, sled to 800 mm, track to 1400 mm; sizes in tenths."""
    handling = Handling(saw=replace(TABLE, track_mm=1400.0), kg_per_m2=12.0)
    assert handling.way(cut=cut, near=near, far=far, heavy=False) == expected


def test_a_heavy_piece_is_cut_on_the_track_where_it_reaches() -> None:
    """A person turns 18 kg: 1.5 m2 of 12 kg/m2 is just that, a tenth of a millimetre more is heavy."""
    handling = Handling(saw=replace(TABLE, track_mm=1400.0), kg_per_m2=12.0)
    assert not handling.heavy(15000, 10000)
    assert handling.heavy(15001, 10000)
    assert handling.way(cut=12500, near=600, far=20000, heavy=True) == ("track", False, 600)
    assert handling.way(cut=25000, near=600, far=11000, heavy=True) == ("fence", False, 600)


@pytest.mark.parametrize(
    ("near", "far", "cut", "exact", "expected"),
    [
        (5700, 150, 5300, "near", ("crosscut", False, 5700)),  # not the waste of 15 mm at the fence
        (26, 8000, 3000, "far", ("crosscut", True, 8000)),  # not the factory edge of 2.6 mm
        (9000, 600, 9000, "near", ("track", False, 9000)),
        (9000, 600, 15000, "near", ("fence", True, 600)),  # neither sled nor track reaches
        (600, 500, 3000, "far", ("fence", True, 500)),
        (600, 500, 3000, "near", ("fence", False, 600)),
    ],
)
def test_what_has_its_size_by_a_cut_is_measured_itself(
    near: int, far: int, cut: int, exact: Exact, expected: tuple[str, bool, int]
) -> None:
    """A waste strip at the fence would leave the part as wrong as the piece was before."""
    handling = Handling(saw=replace(TABLE, track_mm=1400.0), kg_per_m2=12.0)
    assert handling.way(cut=cut, near=near, far=far, heavy=False, exact=exact) == expected


@pytest.mark.parametrize("saw", [replace(TABLE, crosscut_mm=2600.0), replace(TRACK, track_mm=2600.0)])
def test_the_only_part_that_a_cut_frees_stands_at_the_stop(saw: Saw) -> None:
    """With a sled or track for any cut the printed distance is always the part's own length or width."""
    steps = [step for sheet in laid(MANY, saw).sheets for step in cut_steps(sheet, saw.kerf_mm)]
    freed = [step for step in steps if len(step.frees) == 1]
    assert len(freed) > 8
    for step in freed:
        (one,) = step.frees
        assert step.cut.at_mm == pytest.approx(one.width_mm if step.cut.along == "length" else one.length_mm)


@pytest.mark.parametrize("saw", [TABLE, TRACK, replace(TABLE, crosscut_mm=500.0, track_mm=1250.0)])
def test_every_part_is_cut_with_the_saws_there_are(saw: Saw) -> None:
    """No cut beyond fence, sled or track; the checker, which knows nothing of the search, agrees."""
    plan = laid(MANY, saw)
    assert plan.too_large == ()
    for sheet in plan.sheets:
        assert cut_faults(sheet, saw) == ()
        assert "" not in made_with(sheet)
        for cut in sheet.cuts:
            long = abs(cut.x2_mm - cut.x1_mm) + abs(cut.y2_mm - cut.y1_mm)
            reach = {"fence": saw.rip_mm, "crosscut": saw.crosscut_mm, "track": saw.track_mm}[cut.by]
            assert (cut.at_mm if cut.by == "fence" else long) <= reach + 0.05


def test_a_part_that_no_saw_makes_says_why_and_what_to_do() -> None:
    """1600 x 900 needs a cut of 1600: the track is 1400, and 900 does not come under the fence."""
    (misfit,) = laid([part("A1", 1600, 900)], TRACK).too_large
    assert misfit.part == "A1"
    assert misfit.why == "No saw of the shop cuts 1600 x 900 mm out of a sheet: the track is 1400 mm."
    (finding,) = not_cuttable(laid([part("A1", 1600, 900)], TRACK))
    assert (finding.verdict, finding.summary) == ("fail", misfit.why)
    assert finding.remedy == (
        "Have it cut where the sheet is bought, or use a track of 1600 mm at least; its sheet is not on the buying list."
    )


@pytest.mark.parametrize(
    ("length", "width", "saw", "track"),
    [
        (1600, 900, TRACK, "1600"),
        (170, 290, replace(TABLE, rip_mm=60, crosscut_mm=0), "1250"),  # first a cut right across the sheet
        (2400, 1000, replace(TABLE, rip_mm=0), "2400"),
        (900, 900, TABLE, "1250"),
    ],
)
def test_the_track_that_is_told_cuts_the_part_and_a_shorter_one_does_not(
    length: float, width: float, saw: Saw, track: str
) -> None:
    """However small a part, the first cut goes right through the whole sheet."""
    (misfit,) = laid([part("A1", length, width)], saw).too_large
    assert f"a track of {track} mm at least" in misfit.cure
    assert laid([part("A1", length, width)], replace(saw, track_mm=float(track))).too_large == ()
    assert laid([part("A1", length, width)], replace(saw, track_mm=float(track) - 11)).too_large


def test_a_plan_for_a_limited_saw_is_never_called_cheaper_than_any_plan() -> None:
    """What limits cost is seen in the money: the bound stays that of any plan."""
    free, limited = laid(MANY, replace(TABLE, rip_mm=0, crosscut_mm=0)), laid(MANY, replace(TRACK, track_mm=1250.0))
    assert len(limited.sheets) >= len(free.sheets)
    assert limited.summaries[0].at_least == free.summaries[0].at_least


def test_the_checker_refuses_cuts_made_wrong_in_every_way() -> None:
    """Moved, measured wrongly, left out, numbered wrongly, made with a saw that cannot, or with none."""
    sheet = laid(MANY, TABLE).sheets[0]
    assert cut_faults(sheet, TABLE) == ()
    for i, cut in enumerate(sheet.cuts):
        moved = replace(cut, y1_mm=cut.y1_mm + 1, y2_mm=cut.y2_mm + 1, x1_mm=cut.x1_mm + 1, x2_mm=cut.x2_mm + 1)
        wrong = [
            moved,
            replace(cut, at_mm=cut.at_mm + 0.2),
            replace(cut, order=99),
            replace(cut, by=""),
            replace(cut, x2_mm=cut.x2_mm - 1, y2_mm=cut.y2_mm - 1),
        ]
        for each in wrong:
            cuts = (*sheet.cuts[:i], each, *sheet.cuts[i + 1 :])
            assert cut_faults(replace(sheet, cuts=cuts), TABLE)
    assert cut_faults(replace(sheet, cuts=sheet.cuts[1:]), TABLE)
    assert cut_faults(replace(sheet, cuts=sheet.cuts[:-2]), TABLE)
    assert cut_faults(sheet, replace(TABLE, rip_mm=100.0, crosscut_mm=100.0))


def test_settings_and_turns_are_counted_as_at_the_saw() -> None:
    """Four strips of 200 and one of 300 ripped one after the other: two settings, no turn."""
    strips = [part(f"A{i}", 2490, 200) for i in range(4)] + [part("B1", 2490, 300)]
    (sheet,) = laid(strips, replace(TABLE, rip_mm=0, crosscut_mm=0, trim_mm=0, lift_kg=100.0)).sheets
    rips = [cut for cut in sheet.cuts if cut.along == "length"]
    assert sorted(cut.at_mm for cut in rips) == [200, 200, 200, 200, 300]
    assert settings_of(rips) == 2
    assert turns_of(rips) == 0


@pytest.mark.parametrize("goals", [("leftover", "settings", "turns"), ("settings", "turns", "leftover")])
def test_the_goal_named_first_is_reached_no_worse(goals: tuple[Goal, ...]) -> None:
    """For the same money the plan asked for few settings has no more of them, and that for few turns no more turns."""
    saw = replace(TABLE, rip_mm=0, crosscut_mm=0)
    counted = {}
    for first in ("settings", "turns"):
        rest: tuple[Goal, ...] = tuple(goal for goal in goals if goal != first)
        named: Goal = "settings" if first == "settings" else "turns"
        sheets = laid(MANY, replace(saw, goals=(named, *rest))).sheets
        counted[first] = (sum(settings_of(one.cuts) for one in sheets), sum(turns_of(one.cuts) for one in sheets))
    assert counted["settings"][0] <= counted["turns"][0]
    assert counted["turns"][1] <= counted["settings"][1]


def test_no_other_order_of_goals_leaves_a_larger_piece_than_the_leftover_first() -> None:
    """Sheets proven fewest at once are still looked at again for what they leave."""
    free = replace(TABLE, rip_mm=0, crosscut_mm=0)
    orders: tuple[tuple[Goal, ...], ...] = (
        ("leftover", "settings", "turns"), ("settings", "leftover", "turns"), ("turns", "leftover", "settings"),
    )  # fmt: skip
    sizes = [
        (2269, 293), (1749, 293), (1590, 293), (963, 553), (963, 553), (620, 553), (620, 553), (584, 553), (470, 550),
        (470, 550), (470, 550), (862, 290), (862, 290), (850, 293), (767, 272), (520, 275), (375, 272), (1176, 90),
        (1176, 90), (472, 90), (472, 90), (167, 293),
    ]  # fmt: skip
    parts = [part(f"A{i}", *size) for i, size in enumerate(sizes)]
    plans = [laid(parts, replace(free, goals=goals)).sheets for goals in orders]
    assert len({len(sheets) for sheets in plans}) == 1
    first, *others = (largest_left_mm2(sheets) for sheets in plans)
    assert first >= max(others)


def test_a_leftover_is_measured_against_all_that_is_free() -> None:
    """A strip 200 wide off 2490 x 1240 leaves 1040 in width; its kerf of 3 is lost, 1037 stay in one piece."""
    (sheet,) = laid([part("A1", 2490, 200)], replace(TABLE, rip_mm=0, crosscut_mm=0)).sheets
    assert leftover_share((sheet,), TABLE) == pytest.approx(1037 / 1040, abs=1e-4)


def test_goals_are_told_in_the_user_s_order_with_a_bound_where_one_is_known() -> None:
    """One part of 1245 x 1240 leaves 1242 x 1240 of 2490 x 1240: nothing larger can be left but a kerf's width.

    Four edges are trimmed, then it is cut off: five figures.
    """
    goals: tuple[Goal, ...] = ("turns", "leftover", "settings")
    (summary,) = laid([part("A1", 1245, 1240)], replace(TABLE, rip_mm=0, crosscut_mm=0, goals=goals)).summaries
    assert summary.also_says[0] == "1 turn of a piece, the fewest possible on these sheets"
    assert summary.also_says[1] == "the largest piece left over is within 1 % of the most these sheets could leave"
    assert summary.also_says[2] == "5 settings of fence or stop, 1 at least on any such sheets"
