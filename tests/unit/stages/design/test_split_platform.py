"""A platform too long for its stock: made of frames end to end, packed where they meet, each rail judged by itself."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from itertools import pairwise
from pathlib import Path

import pytest

from nookwright.basics.problems import InvalidInputError
from nookwright.files.job_folder import Job, read_job
from nookwright.stages.checks.platform_rails import check_platform
from nookwright.stages.cutting.lay_out import lay_out
from nookwright.stages.design.design import Design
from nookwright.stages.design.fit import fit
from nookwright.stages.inputs.brief import Brief, Cases, Platform, Unit
from nookwright.stages.installing.set_out import set_out
from nookwright.stages.parts.break_down import break_down
from nookwright.stages.parts.part import Part, PartList
from nookwright.stages.room.room import Room
from nookwright.stages.room.standing import standing_room

T = 18.0
"""Thickness of the platform's plywood. [mm]"""


@dataclass(frozen=True)
class Made:
    """Low cases 3.3 m long on a platform, split or not."""

    job: Job
    room: Room
    brief: Brief
    design: Design
    parts: PartList


def made(job: Job, *split_mm: float) -> Made:
    """Return the job with its platform split there, as far as the parts."""
    units = tuple(Unit(name=f"{name} case") for name in ("left", "middle", "right"))
    cases = Cases(name="base", height_mm=500.0, depth_mm=400.0, units=units, board="birch-18", back_board="birch-6")
    platform = Platform(height_mm=100.0, board="spruce-ply-18", split_mm=split_mm)
    brief = replace(job.brief, platform=platform, trim=None, end_mm=3300.0, tiers=(cases,), return_skirting=False)
    room = standing_room(job.survey, brief)
    design = fit(brief, room, job.shop)
    return Made(job, room, brief, design, break_down(design, brief, room, job.shop))


@pytest.fixture(scope="module")
def job(repository: Path) -> Job:
    """The linen cupboard's room and shop."""
    return read_job(repository / "examples" / "landing-linen")


@pytest.fixture(scope="module")
def told_mm(job: Job) -> float:
    """Where the cutting plan says to split it, the same for both rails. [mm]"""
    whole = made(job)
    misfits = lay_out(whole.parts, job.shop).too_large
    assert [misfit.part for misfit in misfits] == ["P1", "P2"]
    told = {place for misfit in misfits for place in re.findall(r"`split: \[([\d.]+)\]` at platform", misfit.cure)}
    assert len(told) == 1
    return float(told.pop())


@pytest.fixture(scope="module")
def split(job: Job, told_mm: float) -> Made:
    """The platform split where it is told to be."""
    return made(job, told_mm)


def of(made: Made, role: str) -> list[Part]:
    """Return the parts of a role."""
    return [part for part in made.parts.parts if part.role == role]


def test_the_frames_are_as_long_as_the_platform_and_are_cut(split: Made, told_mm: float) -> None:
    """Two rails in front, two behind; nothing is too large any more."""
    platform = split.design.platform
    assert platform is not None
    whole = platform.x1_mm - platform.x0_mm
    lengths = [part.blank_mm[0] for part in of(split, "platform rail")]
    assert lengths == pytest.approx([told_mm, whole - told_mm] * 2)
    assert lay_out(split.parts, split.job.shop).too_large == ()


def test_each_frame_ends_on_bearers_of_its_own(split: Made, told_mm: float) -> None:
    """At the joint two bearers stand against each other, screwed together; no bearer is joined to a far rail."""
    platform = split.design.platform
    assert platform is not None
    joint = platform.x0_mm + told_mm
    lefts = [part.frame.origin[0] - T for part in of(split, "platform bearer")]
    assert [x for x in lefts if abs(x - joint) < 2 * T] == pytest.approx([joint - T, joint])
    rails = {part.number: part for part in of(split, "platform rail")}
    for joined in split.parts.joints:
        if joined.held.startswith("P") and joined.holder in rails:
            x = split.parts.part(joined.held).frame.origin[0] - T / 2
            start = rails[joined.holder].frame.origin[0]
            assert start < x < start + rails[joined.holder].blank_mm[0]
    bearers = {part.number for part in of(split, "platform bearer")}
    (frames,) = [one for one in split.parts.joints if one.held in bearers and one.holder in bearers]
    assert sum(row.count for row in frames.fastenings) == 4


def test_a_case_is_screwed_to_the_rails_under_it(split: Made) -> None:
    """The left one to the left frame's two, the middle one, over the joint, to all four for as far as it lies on each."""
    rails = {part.number for part in of(split, "platform rail")}
    lengths: dict[str, list[float]] = {}
    for joint in split.parts.joints:
        if joint.holder in rails and not joint.held.startswith("P"):
            lengths.setdefault(split.parts.part(joint.held).module, []).append(joint.length_mm)
    assert {name: len(each) for name, each in lengths.items()} == {"left case": 2, "middle case": 4, "right case": 2}
    bottom = next(p for p in split.parts.parts if p.role == "bottom" and p.module == "middle case")
    assert sum(lengths["middle case"]) == pytest.approx(2 * bottom.blank_mm[0], abs=0.5)


def test_one_packer_stands_under_both_bearers_where_frames_meet(split: Made, told_mm: float) -> None:
    """Front and back; elsewhere one under every bearer."""
    platform = split.design.platform
    assert platform is not None
    installing = set_out(split.design, split.parts, split.brief, split.room, split.job.shop)
    xs = sorted({packer.x_mm for packer in installing.packers})
    assert len(xs) == len(platform.bearers_x_mm) - 1
    assert any(x == pytest.approx(platform.x0_mm + told_mm) for x in xs)
    assert min(b - a for a, b in pairwise(xs)) > 2 * T
    assert "each of the 2 ladders" in next(step.text for step in installing.steps if step.title == "Set the platform")
    found = check_platform(split.design, split.parts, installing, split.brief)
    assert [finding.subject for finding in found] == [
        f"platform {name}, piece {i} of 2" for name in ("front rail", "back rail") for i in (1, 2)
    ]


def test_no_bending_goes_from_frame_to_frame(split: Made, told_mm: float) -> None:
    """What the first frame's rails do is the same with the second frame's packers taken away."""
    platform = split.design.platform
    assert platform is not None
    installing = set_out(split.design, split.parts, split.brief, split.room, split.job.shop)
    first = tuple(packer for packer in installing.packers if packer.x_mm < platform.x0_mm + told_mm + 1.0)
    both = check_platform(split.design, split.parts, installing, split.brief)
    alone = check_platform(split.design, split.parts, replace(installing, packers=first), split.brief)
    assert [finding.demand for finding in alone] == [both[0].demand, both[2].demand]


def test_frames_too_short_are_refused(job: Job) -> None:
    """Within 100 mm of an end."""
    with pytest.raises(InvalidInputError, match="platform split at 60 mm; expected places along its"):
        made(job, 60.0)
