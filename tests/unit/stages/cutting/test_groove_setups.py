"""Tests of housings and rebates grouped by set-up, on boards with grooves placed by hand."""

from __future__ import annotations

from dataclasses import replace

from nookwright.basics.lengths import Marks
from nookwright.drawings.page import Text
from nookwright.drawings.page_check import faults
from nookwright.drawings.pages.groove_setups import setup_pages
from nookwright.drawings.sheet import Issue, finished
from nookwright.geometry.frame import Frame
from nookwright.stages.cutting.groove_setups import groove_setups
from nookwright.stages.parts.part import SQUARE, Edge, Groove, Part, PartList

FRAME = Frame(origin=(0, 0, 0), u=(0, 0, 1), v=(0, 1, 0))
ISSUE = Issue(job="job", date="", revision="A", marks=Marks(units="mm", resolution=0.5), paper="A4")


def side(number: str, *grooves: Groove) -> Part:
    """Return a side of 800 x 300."""
    return Part(
        number=number, name="side", role="side", module="A", stock="ply", wood="birch-plywood", thickness_mm=18,
        outline=((0, 0), (800, 0), (800, 300), (0, 300)), edges=(SQUARE,) * 4, frame=FRAME, grooves=grooves,
    )  # fmt: skip


def across(at: float, face: str = "A", receives: str = "shelf A3", to: float = 300, depth: float = 6) -> Groove:
    """Return a housing of 18 across the board, its middle at a distance from the left end."""
    return Groove(
        face="A" if face == "A" else "B", start=(at, 0), end=(at, to), width_mm=18, depth_mm=depth, receives=receives
    )  # fmt: skip


def test_a_pair_of_sides_shares_one_setting() -> None:
    """A housing with its middle 309 from the end begins 300 from it, in the left side and in the right one."""
    (one,) = groove_setups(PartList(parts=(side("A1", across(309)), side("A2", across(309, "B"))), joints=()))
    assert (one.width_mm, one.depth_mm, one.edge, one.from_edge_mm) == (18, 6, "left end", 300)
    assert [(cut.part, cut.face, cut.stopped) for cut in one.cuts] == [("A1", "A", False), ("A2", "B", False)]


def test_settings_go_by_cutter_then_by_fence() -> None:
    """Three distances at one depth, one at another: the cutter is set twice, the fence four times."""
    part = side("A1", across(509), across(109), across(309), across(409, depth=9))
    found = [(one.depth_mm, one.from_edge_mm) for one in groove_setups(PartList(parts=(part,), joints=()))]
    assert found == [(6, 100), (6, 300), (6, 500), (9, 400)]


def test_what_is_left_on_for_scribing_counts_into_the_distance() -> None:
    """4 mm left on the lower end: the fence stands 4 mm farther away."""
    part = replace(side("A1", across(309)), edges=(SQUARE, SQUARE, SQUARE, Edge(scribe_mm=4)))
    (one,) = groove_setups(PartList(parts=(part,), joints=()))
    assert one.from_edge_mm == 304


def test_grooves_along_the_board_stopped_and_slanting_ones_say_so() -> None:
    """A rebate along the lower edge from 9 to 15, a housing that stops at 280 of 300, one that slants."""
    along = Groove(face="A", start=(0, 12), end=(800, 12), width_mm=6, depth_mm=6, receives="back A9")
    slant = Groove(face="A", start=(100, 0), end=(200, 300), width_mm=18, depth_mm=6, receives="shelf A4")
    found = groove_setups(PartList(parts=(side("A1", along, across(309, to=280), slant),), joints=()))
    assert [(one.width_mm, one.edge, one.from_edge_mm) for one in found] == [
        (6, "lower edge", 9), (18, "left end", 300), (18, "slanting", 0),
    ]  # fmt: skip
    assert [cut.stopped for one in found for cut in one.cuts] == [False, True, False]


def test_the_page_names_every_groove_and_can_be_read() -> None:
    """No page for a job without grooves."""
    assert setup_pages(PartList(parts=(side("A1"),), joints=()), ISSUE) == ()
    parts = PartList(parts=(side("A1", across(309)), side("A2", across(309, "B", to=280))), joints=())
    (draft,) = setup_pages(parts, ISSUE)
    page = finished(draft, ISSUE, number=1, total=1)
    assert faults(page) == ()
    words = [item.text for item in page.items if isinstance(item, Text)]
    assert "A1 A, A2 B stopped" in words
    assert "18 wide, 6 deep: 2 grooves" in words
