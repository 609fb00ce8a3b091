"""Distances from edges and ends, brads in bowed strips, and wall fixings of other kinds: by hand."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from nookwright.stages.checks.anchoring import check_anchoring
from nookwright.stages.checks.splitting import check_splitting, check_trim_brads
from nookwright.stages.inputs.brief import WallScrew
from nookwright.stages.parts.part import Fastening, JointMade, Part, PartList


def _row(kind: Any, length_mm: float, count: int, end_mm: float) -> Fastening:
    return Fastening(kind=kind, length_mm=length_mm, count=count, spacing_mm=200, end_mm=end_mm, reason="")


def _platform(job: Any, thickness_mm: float) -> PartList:
    """Return a spruce rail from 0 to 764 with a bearer in its end."""
    rail = replace(job.parts.part("C2"), number="P1", role="platform rail", module="platform", wood="spruce")
    end = ((0.0, 0.0), (300.0, 0.0), (300.0, 90.0), (0.0, 90.0))
    bearer = replace(
        rail, number="P3", role="platform bearer", thickness_mm=thickness_mm, outline=end,
        frame=replace(rail.frame, origin=(thickness_mm, -300.0, 0.0), u=(0.0, 1.0, 0.0), v=(0.0, 0.0, 1.0)),
    )  # fmt: skip
    joint = JointMade(
        held="P3", holder="P1", joint="butt and screws", length_mm=90, fastenings=(_row("wood screw", 60, 2, 20),)
    )
    return PartList(parts=(rail, bearer), joints=(joint,))


def _found(job: Any, parts: PartList, screw: Any = "No. 8") -> dict[str, Any]:
    """Return the findings by subject."""
    brief = replace(job.brief, wall_screw=WallScrew(screw=screw))
    return {each.subject: each for each in check_splitting(parts, job.survey, brief)}


def test_a_bearer_in_the_end_of_a_rail_by_hand(job: Any) -> None:
    """38 mm: 19 from the rail's end where 10 x 4.166 = 41.7 are wanted; 19 from the bearer's own edges, 10.4 wanted."""
    found = _found(job, _platform(job, 38.0))
    assert found["platform rails"].verdict == "caution"
    assert found["platform rails"].demand == pytest.approx(41.66, abs=0.01)
    assert found["platform rails"].limit == pytest.approx(19.0)
    assert found["platform rails"].remedy.startswith("Drill a hole of the screw's root")
    assert found["platform bearers"].verdict == "pass"


def test_a_thin_bearer_takes_a_thinner_screw(job: Any) -> None:
    """18 mm: 9 from the edge, 10.4 wanted by No. 8, 8.8 by No. 6."""
    bearers = _found(job, _platform(job, 18.0))["platform bearers"]
    assert (bearers.verdict, bearers.remedy) == ("caution", "Take No. 6 screws there, and drill first.")


@pytest.mark.parametrize(
    ("screw", "wants"), [("No. 8", 2.5 * 4.1656), ("No. 12", 2.5 * 5.4864), ("lag 3/8", 1.5 * 9.525)]
)
def test_the_wall_screw_in_a_stud(job: Any, screw: str, wants: float) -> None:
    """38 mm studs leave 19 mm on either side."""
    studs = _found(job, PartList(parts=(), joints=()), screw)["studs"]
    assert (studs.verdict, studs.limit) == ("pass", 19.0)
    assert studs.demand == pytest.approx(wants)
    masonry = replace(job.survey, wall=replace(job.survey.wall, kind="masonry"))
    assert check_splitting(PartList(parts=(), joints=()), masonry, job.brief) == ()


def _strip(job: Any, **changed: Any) -> Part:
    """Return an oak strip 1000 x 40 x 20."""
    made = replace(
        job.parts.part("C1"), number="S1", name="end strip", role="strip", module="face trim", wood="red-oak",
        thickness_mm=20.0, outline=((0.0, 0.0), (1000.0, 0.0), (1000.0, 40.0), (0.0, 40.0)),
    )  # fmt: skip
    return replace(made, **changed)


def _nailed(job: Any, strip: Part, row: Fastening) -> PartList:
    joint = JointMade(held="S1", holder="C3", joint="butt and brads", length_mm=1000, fastenings=(row,))
    return PartList(parts=(strip, job.parts.part("C3")), joints=(joint,))


def test_brads_near_the_end_of_a_strip(job: Any) -> None:
    """15 x 1.2 = 18 mm: 25 will do, 10 will not; plywood does not split."""
    near = check_splitting(_nailed(job, _strip(job), _row("brad", 45, 5, 10)), job.survey, job.brief)
    assert (near[0].subject, near[0].verdict) == ("face trim", "caution")
    far = check_splitting(_nailed(job, _strip(job), _row("brad", 45, 5, 25)), job.survey, job.brief)
    assert far[0].verdict == "pass"
    ply = check_splitting(
        _nailed(job, _strip(job, wood="birch-plywood"), _row("brad", 45, 5, 10)), job.survey, job.brief
    )
    assert [each.subject for each in ply] == ["studs"]


def test_brads_pull_a_bowed_strip_flat_by_hand(job: Any) -> None:
    """6 mm in 2.4 m is 1.042 in a metre, to be closed to 0.5: 384 x 12550 x 40 x 20^3 / 12 x 0.542 / (5 x 1000^3) = 13.9 N.

    Five brads 25 deep in 0.42 wood: 1380 x 0.42^2.5 x 0.04724 lb/in = 7.453 lb/in = 1.305 N/mm; 32.6 N each, 147 N for
    good. A strip 40 thick pulls with 111.4 N and leaves brads of 45 only 5 mm: 5.87 N each for good, 19 of them.
    """
    (finding,) = check_trim_brads(_nailed(job, _strip(job), _row("brad", 45, 5, 25)), job.brief)
    assert finding.demand == pytest.approx(13.92, abs=0.05)
    assert finding.limit == pytest.approx(146.8, abs=0.3)
    assert finding.verdict == "pass"
    thick = _strip(job, thickness_mm=40.0)
    (weak,) = check_trim_brads(_nailed(job, thick, _row("brad", 45, 1, 25)), job.brief)
    assert (weak.verdict, weak.remedy) == ("caution", "Use 19 brads, or a straighter strip.")
    (short,) = check_trim_brads(_nailed(job, thick, _row("brad", 35, 5, 25)), job.brief)
    assert short.remedy == "The brads do not reach: take longer ones."


def _wall(job: Any, wish: WallScrew, **changed: Any) -> Any:
    """Return the finding of the left case's wall fixings."""
    fixings = tuple(replace(each, **changed) for each in job.installing.fixings)
    brief = replace(job.brief, wall_screw=wish)
    installing = replace(job.installing, fixings=fixings)
    return check_anchoring(job.design, job.parts, installing, job.survey, brief)[0]


def test_a_lag_in_the_stud_by_hand(job: Any) -> None:
    """1/4 in: 1800 x 0.42^1.5 x 0.25^0.75 = 173.2 lb/in (the printed 173) = 30.336 N/mm.

    75 - 18 rail - 6 packer - 12.5 board - 3.97 tip = 34.53 mm: 1048 N; its washer of 16 mm in 18 mm of board of 0.42:
    690 pi x 0.6299 x 0.42^2 x 0.70866 lb = 170.7 lb = 759.3 N rules.
    """
    finding = _wall(job, WallScrew(screw="lag 1/4"))
    assert finding.limit == pytest.approx(759.3, abs=0.5)
    assert "holds 1048 N" in finding.summary
    assert "4 screws: lag 1/4 with a washer." in finding.summary


def test_an_anchor_is_believed_by_its_makers_figure_only(job: Any) -> None:
    """900 N typed in with its paper passes the 141 N pull; 100 N fails and tells how many; without it a question."""
    masonry = {"screw_mm": 0.0, "into": "masonry"}
    plug = WallScrew(anchor="frame plug 10 x 100", anchor_pull_n=900, paper="data sheet, brick, table 3")
    finding = _wall(job, plug, **masonry)
    assert (finding.verdict, finding.limit) == ("pass", 900)
    assert "its maker allows 900 N (data sheet, brick, table 3). 4 anchors: frame plug 10 x 100." in finding.summary
    weak = _wall(job, replace(plug, anchor_pull_n=100), **masonry)
    assert weak.verdict == "fail"
    assert weak.remedy == "Use 6 anchors instead of 4 at the same heights, or a stronger kind."
    assert _wall(job, WallScrew(), **masonry).verdict == "question"
