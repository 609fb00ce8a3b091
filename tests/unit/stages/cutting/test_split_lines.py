"""Tests of where parts that are too long are split: over what stands across them, worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from nookwright.basics.lengths import Marks
from nookwright.drawings.page_check import faults
from nookwright.drawings.pages.splits import split_pages
from nookwright.drawings.sheet import Issue, finished
from nookwright.geometry.frame import Frame
from nookwright.stages.cutting.cutting_plan import CuttingPlan, TooLarge
from nookwright.stages.cutting.lay_out import lay_out
from nookwright.stages.inputs.shop import Saw, SheetStock, Shop
from nookwright.stages.parts.part import SQUARE, JointMade, Part, PartList, Role

PLY = SheetStock(
    key="ply", name="ply", wood="birch-plywood", length_mm=2010, width_mm=1010, thickness_mm=18, grained=True,
    price=Decimal(80),
)  # fmt: skip
SHOP = Shop(currency="EUR", sheets=(PLY,), boards=(), saw=Saw(trim_mm=5.0))


def part(number: str, name: str, role: Role, length: float, width: float, frame: Frame, thick: float = 18) -> Part:
    """Return a plain board standing in the room."""
    return Part(
        number=number, name=name, role=role, module="A", stock="ply", wood="birch-plywood", thickness_mm=thick,
        outline=((0, 0), (length, 0), (length, width), (0, width)), edges=(SQUARE,) * 4, frame=frame,
    )  # fmt: skip


def shelf(number: str, length: float, y: float = 0.0) -> Part:
    """Return a board that lies level from x = 100 on."""
    return part(number, "long shelf", "shelf", length, 300, Frame(origin=(100, y, 500), u=(1, 0, 0), v=(0, 1, 0)))


def upright(number: str, x: float, thick: float = 18) -> Part:
    """Return a divider whose left face stands at x: its face A looks left, its length runs up."""
    return part(
        number, "divider", "divider", 480, 300, Frame(origin=(x, 0, 0), u=(0, 0, 1), v=(0, 1, 0)), thick
    )  # fmt: skip


def joint(held: str, holder: str) -> JointMade:
    """Return a joint of two parts."""
    return JointMade(held=held, holder=holder, joint="butt and screws", length_mm=300, fastenings=())


def misfits(*parts: Part, joints: tuple[JointMade, ...]) -> tuple[TooLarge, ...]:
    """Return what is too large, with its cures."""
    return lay_out(PartList(parts=parts, joints=joints), SHOP).too_large


def test_a_long_part_is_split_over_the_upright_nearest_to_its_middle() -> None:
    """3000 from x = 100; dividers' middles at 100 + 900, 1600 and 1200 along it: 1600 is nearest to 1500."""
    found = misfits(
        shelf("A1", 3000), *(upright(f"C{i}", 100 + at - 9) for i, at in enumerate((900, 1600, 1200))),
        joints=tuple(joint("A1", f"C{i}") for i in range(3)),
    )  # fmt: skip
    ((one,),) = ([each for each in found if each.part == "A1"],)
    assert one.split_mm == (1600,)
    assert one.cure == (
        "split it 1600 mm from the left end of its drawing, over divider C1: pieces of 1600 mm and 1400 mm; "
        "glue a batten beside it, so that both ends can be screwed"
    )


def test_an_upright_of_30_mm_carries_both_ends() -> None:
    """15 mm for each end: no batten."""
    (one,) = misfits(shelf("A1", 3000), upright("C1", 100 + 1500 - 15, thick=30), joints=(joint("C1", "A1"),))
    assert one.split_mm == (1500,)
    assert "batten" not in one.cure


def test_what_is_not_joined_or_too_near_the_end_carries_nothing() -> None:
    """A piece of 2001 would still be too long for 2000; a divider that is not joined may be moved or taken out."""
    parts = (shelf("A1", 3000), upright("C1", 100 + 999 - 9), upright("C2", 100 + 1500 - 9))
    (one,) = misfits(*parts, joints=(joint("A1", "C1"),))
    assert one.split_mm == ()
    assert one.cure.startswith("split it at mid length and join the halves over an upright")


def test_three_pieces_where_two_are_not_enough() -> None:
    """5000 over 2000, 3500 and 4200: the farthest within reach each time."""
    places = (1500, 2000, 3500, 4200)
    found = misfits(
        shelf("A1", 5000), *(upright(f"C{i}", 100 + at - 9) for i, at in enumerate(places)),
        joints=tuple(joint("A1", f"C{i}") for i in range(4)),
    )  # fmt: skip
    assert found[0].split_mm == (2000, 3500)


def test_two_parts_side_by_side_are_split_over_different_uprights() -> None:
    """Both could be split at the middle; the second takes the other divider."""
    found = misfits(
        shelf("A1", 3000), shelf("A2", 3000, y=400), upright("C1", 100 + 1500 - 9), upright("C2", 100 + 1900 - 9),
        joints=tuple(joint(shelf_, f"C{i}") for shelf_ in ("A1", "A2") for i in (1, 2)),
    )  # fmt: skip
    assert [one.split_mm for one in found] == [(1500,), (1900,)]


def test_the_page_of_split_parts_can_be_read() -> None:
    """One page a few parts, nothing over anything; no page where nothing is split."""
    issue = Issue(job="job", date="", revision="A", marks=Marks(units="mm", resolution=0.5), paper="A4")
    plan = CuttingPlan(sheets=(), boards=(), summaries=(), too_large=())
    assert split_pages(plan, issue) == ()
    some = tuple(
        TooLarge(part=f"A{i}", length_mm=3000, width_mm=90 * i, cure="split it " * 20, split_mm=(1600.0,))
        for i in range(1, 6)
    )
    drafts = split_pages(replace(plan, too_large=some), issue)
    assert len(drafts) > 1
    for number, draft in enumerate(drafts, start=1):
        assert faults(finished(draft, issue, number=number, total=len(drafts))) == ()


def test_a_box_too_long_is_better_made_as_two() -> None:
    """Its bottom may still be split over a divider; a shelf of that length is only split."""
    lies = Frame(origin=(100, 0, 0), u=(1, 0, 0), v=(0, 1, 0))
    bottom = part("A3", "bottom", "bottom", 3000, 300, lies)
    (found,) = misfits(bottom, upright("C1", 1591), joints=(joint("A3", "C1"),))
    assert found.cure.startswith(
        "make two boxes of it, by one more under `units` in brief.yaml; or split it 1500 mm from"
    )
    (shelved,) = misfits(shelf("A1", 3000), upright("C1", 1591), joints=(joint("A1", "C1"),))
    assert shelved.cure.startswith("split it 1500 mm from")
