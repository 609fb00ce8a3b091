"""Racking by a screwed back, by rails alone, and what is not known."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from nookwright.basics.findings import Finding
from nookwright.stages.checks.racking import NOT_KNOWN, check_racking
from nookwright.stages.checks.screwed import row_holds
from nookwright.stages.inputs.brief import Bought
from nookwright.stages.parts.part import Fastening, JointMade, PartList


def _row(kind: Any, length_mm: float, count: int, spacing_mm: float = 200.0) -> Fastening:
    return Fastening(kind=kind, length_mm=length_mm, count=count, spacing_mm=spacing_mm, end_mm=50, reason="")


def _joint(holder: str, length_mm: float, row: Fastening, held: str = "C8") -> JointMade:
    return JointMade(held=held, holder=holder, joint="butt and screws", length_mm=length_mm, fastenings=(row,))


def _backed(job: Any, *joints: JointMade) -> PartList:
    """Return the left case with a 6 mm back 782 wide and a bottom."""
    back = replace(
        job.parts.part("C3"), number="C8", role="back", thickness_mm=6.0,
        outline=((0.0, 0.0), (1998.0, 0.0), (1998.0, 782.0), (0.0, 782.0)),
    )  # fmt: skip
    bottom = replace(job.parts.part("C1"), number="C9", role="bottom")
    return PartList(parts=(*job.parts.parts, back, bottom), joints=joints)


def _racks(job: Any, parts: PartList, **changed: Any) -> Finding:
    """Return the finding of the left case."""
    return check_racking(job.design, parts, changed.get("installing", job.installing), job.brief)[0]


def test_a_screwed_back_by_hand(job: Any) -> None:
    """Eleven 32 mm screws along 2000 mm, six along 764: the side is the weaker edge.

    26 mm deep counts; 6 mm of board crush first: mode Is = 3.327 x 6 x 23.196 / 2.2 = 210.5 N, x 0.9 = 189.5 N a screw;
    11 x 189.5 / 2000 = 1.042 N/mm, over 782 mm 814.8 N.
    """
    parts = _backed(job, _joint("C3", 2000, _row("wood screw", 32, 11)), _joint("C9", 764, _row("wood screw", 32, 6)))
    finding = _racks(job, parts)
    assert finding.limit == pytest.approx(814.8, abs=0.5)
    assert finding.verdict == "pass"


def test_the_weaker_edge_rules(job: Any) -> None:
    """Two screws along the bottom: 2 x 189.5 / 764 x 782 = 387.9 N."""
    parts = _backed(job, _joint("C3", 2000, _row("wood screw", 32, 11)), _joint("C9", 764, _row("wood screw", 32, 2)))
    assert _racks(job, parts).limit == pytest.approx(387.9, abs=0.5)


def test_rails_alone_hardly_hold_by_hand(job: Any) -> None:
    """Two pocket screws 60 mm apart at either end of the rail, 86.3 N each: 2 x 86.3 x 60 / 2000 = 5.2 N."""
    joint = _joint("C3", 100, _row("pocket screw", 30, 2, 60), held="C2")
    finding = _racks(job, replace(job.parts, joints=(joint, joint)))
    assert finding.limit == pytest.approx(5.18, abs=0.02)
    assert finding.verdict == "caution"
    assert NOT_KNOWN in finding.summary
    assert "Once its wall fixings are in they keep it square." in finding.summary
    assert finding.remedy.startswith("Screw a plywood back on, 6 mm thick, a screw every 150 mm all round: it carries ")


def test_the_back_that_cures_it_is_reckoned_as_a_back_would_be(job: Any) -> None:
    """25 mm screws stand 19 mm deep in the side, too shallow: half counts.

    Rt (19 - 4.166) / 6 = 2.472, k1 = (sqrt(1 + 2 (1 + 2.472 + 6.112) + 6.112) - 3.472) / 2 = 0.827: II 174.1 N is the
    least, x 0.45 = 78.3 N; every 150 mm over 800 mm: 418 N.
    """
    text = _racks(job, job.parts).remedy
    assert "it carries 418 N" in text


def test_a_back_without_screws_holds_nothing(job: Any) -> None:
    """Glue alone is not counted."""
    finding = _racks(job, _backed(job))
    assert (finding.limit, finding.verdict) == (0.0, "caution")


def test_bought_cabinets_are_their_makers(job: Any) -> None:
    """Their joints are not ours to judge."""
    bought = replace(job.design.boxes[0], bought=Bought(width_mm=800, height_mm=2000, depth_mm=300))
    assert check_racking(replace(job.design, boxes=(bought,)), job.parts, job.installing, job.brief) == ()


def test_a_leaning_pocket_screw_counts_the_less_of_two_by_hand(job: Any) -> None:
    """52 mm from red oak of 0.67 into 36 mm of spruce of 0.36, 26 deep: the thread gives before the crossing.

    W = 2850 x 0.36^2 x 0.164 lb/in = 10.608 N/mm x 26 = 275.8 N. Across, lm 26 - 4.166 = 21.83, ls 26, Fem 17.47, Fes
    54.78: Re 0.3189, k2 = -1 + sqrt(2.638 + 2 x 620.5 x 1.638 x 11.07 / (3 x 17.47 x 476.6)) = 0.8811, IIIm = 0.8811 x
    3.327 x 21.83 x 17.47 / (1.638 x 2.2) = 310.3 N, the least. At 15 deg W Z / (W cos^2 + Z sin^2) = 275.8 x 310.3 /
    (257.3 + 20.8) = 307.7 N, x 0.9 = 277.0.
    """
    spruce = replace(job.parts.part("C3"), wood="spruce", thickness_mm=36.0)
    oak = replace(spruce, wood="red-oak", thickness_mm=26.0)
    hold = row_holds(oak, spruce, _row("pocket screw", 52, 1))
    assert hold.holds_n == pytest.approx(277.0, abs=0.1)
    assert not hold.shallow
