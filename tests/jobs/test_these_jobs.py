"""The three example jobs one by one: what their briefs ask for, counted by hand, and what is known to come out."""

from __future__ import annotations

import csv
import io
import os
import shutil
import subprocess
import sys
from collections import Counter
from pathlib import Path

import pytest

from example_jobs import Run, Runs, written
from nookwright.basics.problems import InvalidInputError
from nookwright.jobs import plan_job
from nookwright.plan import Plan


def counted(run: Run) -> dict[str, int]:
    """Return how many parts there are of every role that a brief counts out."""
    roles = Counter(part.role for part in run.plan.parts.parts)
    asked = ("side", "divider", "bottom", "door", "worktop", "raked board", "platform rail")
    return {role: roles[role] for role in asked}


def shelves(run: Run) -> Counter[str]:
    """Return how many shelves and row boards stand in every box, however they are held."""
    held = {"shelf", "loose shelf"}
    return Counter(part.module for part in run.plan.parts.parts if part.role in held)


def failing(run: Run) -> set[tuple[str, str]]:
    """Return topic and subject of what fails."""
    return {(finding.topic, finding.subject) for finding in run.plan.findings if finding.verdict == "fail"}


def test_the_alcove_has_what_its_brief_asks_for(run_of: Runs) -> None:
    """Two cases of two sides; a divider between two doors; one shelf behind each, four above."""
    run = run_of("alcove-records")
    assert counted(run) == {
        "side": 4, "divider": 1, "bottom": 2, "door": 2, "worktop": 1, "raked board": 0, "platform rail": 2,
    }  # fmt: skip
    assert shelves(run) == {"cupboard": 2, "shelf case": 4}


def test_the_alcove_is_planned_but_fails_its_checks(run_of: Runs) -> None:
    """Long MDF shelves sag, and the socket's box lies 50 mm behind: exit code 1, and each failure is named."""
    run = run_of("alcove-records")
    assert run.exit_code == 1
    assert {topic for topic, _ in failing(run)} == {"shelf sag", "outlet"}
    long_ones = {part.number for part in run.plan.parts.parts if part.name == "fixed shelf"}
    assert {f"fixed shelf {number}" for number in long_ones} <= {subject for _, subject in failing(run)}


def test_the_alcove_socket_comes_through_the_cupboard(run_of: Runs) -> None:
    """A box of 134 x 74 needs a hole of 140 x 80, 3 mm more on each side; an outside wall keeps 50 mm behind it."""
    run = run_of("alcove-records")
    (hole,) = run.plan.installing.holes
    assert (hole.box, hole.width_mm, hole.height_mm) == ("cupboard", 140.0, 80.0)
    cut = [part for part in run.plan.parts.parts if part.cutouts]
    assert [part.number for part in cut] == [hole.part]
    assert hole.forward_mm > 50.0


def test_the_stair_has_what_its_brief_asks_for(run_of: Runs) -> None:
    """Three bays of two sides under the soffit; 1 and 3 shelves, and one board between two rows."""
    run = run_of("hall-stair")
    assert counted(run) == {
        "side": 6, "divider": 0, "bottom": 3, "door": 0, "worktop": 0, "raked board": 3, "platform rail": 2,
    }  # fmt: skip
    assert shelves(run) == {"boots": 1, "parcels": 3, "coats": 1}
    assert run.exit_code == 0


def test_the_stair_bays_are_equally_wide_and_neighbours(run_of: Runs) -> None:
    """From 14 inches, 355.6 mm, to the right wall in thirds."""
    boxes = run_of("hall-stair").plan.design.boxes
    assert boxes[0].x0_mm == pytest.approx(14 * 25.4)
    widths = [box.x1_mm - box.x0_mm for box in boxes]
    assert widths == pytest.approx([widths[0]] * 3)
    assert [box.x1_mm for box in boxes[:-1]] == pytest.approx([box.x0_mm for box in boxes[1:]])


def test_the_stair_screws_go_into_its_studs(run_of: Runs) -> None:
    """Each one stands at a stud's centre as the field book gives it, in inches."""
    studs = {f"stud {i}": inches * 25.4 for i, inches in enumerate((15.75, 31.75, 47.875, 63.75, 79.75), start=1)}
    fixings = run_of("hall-stair").plan.installing.fixings
    assert fixings
    for fixing in fixings:
        assert fixing.x_mm == pytest.approx(studs[fixing.into])


def test_the_landing_has_what_its_brief_asks_for(run_of: Runs) -> None:
    """A bought cabinet without parts of ours; two cases with a divider each; 2 + 1 and 1 + 4 shelves."""
    run = run_of("landing-linen")
    assert counted(run) == {
        "side": 4, "divider": 2, "bottom": 2, "door": 2, "worktop": 1, "raked board": 1, "platform rail": 2,
    }  # fmt: skip
    assert shelves(run) == {"side case": 3, "raked case": 5}
    assert run.exit_code == 0
    assert not [part for part in run.plan.parts.parts if part.module == "bought cabinet"]


def test_the_landing_cabinet_keeps_its_size(run_of: Runs) -> None:
    """800 wide, 720 less a toe of 100 high, on a platform 100 above the floor's high point."""
    plan = run_of("landing-linen").plan
    cabinet = plan.design.boxes[0]
    platform = plan.design.platform
    assert platform is not None
    assert cabinet.x1_mm - cabinet.x0_mm == pytest.approx(800.0)
    assert cabinet.z1_left_mm - cabinet.z0_mm == pytest.approx(620.0)
    assert cabinet.z0_mm == pytest.approx(platform.high_point[2].value + 100.0)


def test_the_landing_run_ends_where_the_brief_says(run_of: Runs) -> None:
    """At 1820 right of BL0 in both tiers, with seen sides there."""
    boxes = run_of("landing-linen").plan.design.boxes
    assert [boxes[1].x1_mm, boxes[2].x1_mm] == pytest.approx([1820.0, 1820.0])
    assert (boxes[1].finished_right, boxes[2].finished_right) == (True, True)
    assert not boxes[0].finished_left


def test_the_landing_top_is_glued_up(run_of: Runs) -> None:
    """Boards 120 wide: 560 deep + 20 over, and what scribing takes, need six."""
    top = next(part for part in run_of("landing-linen").plan.parts.parts if part.role == "worktop")
    assert 5 * 120 < top.blank_mm[1] <= 6 * 120
    assert top.pieces == 6


def test_another_process_writes_the_same_bytes(run_of: Runs, tmp_path: Path, repository: Path) -> None:
    """Book, sheets, model and lists do not hang on the hash seed, the folder or the moment."""
    first = run_of("alcove-records")
    shutil.copytree(repository / "examples", tmp_path / "again", ignore=shutil.ignore_patterns("out"))
    folder = tmp_path / "again" / "alcove-records"
    environment = {**os.environ, "PYTHONHASHSEED": "4711", "PYTHONPATH": str(repository / "src"), "TZ": "Asia/Tokyo"}
    done = subprocess.run(
        [sys.executable, "-m", "nookwright", "plan", str(folder)], env=environment, capture_output=True, check=False
    )
    assert done.returncode == 1, done.stderr.decode()
    assert written(folder) == first.files


def planned_with(built: str, run: Run, place: Path) -> Plan:
    """Plan a copy of a job with this built.yaml."""
    shutil.copytree(run.folder.parent, place / "jobs", ignore=shutil.ignore_patterns("out"))
    folder = place / "jobs" / run.folder.name
    (folder / "built.yaml").write_text(built, encoding="utf-8")
    return plan_job(folder)


def test_a_thinner_batch_makes_what_stands_between_longer(run_of: Runs, tmp_path: Path) -> None:
    """Boards of 17.2 instead of 17.8: the bottom between two sides grows by 2 x 0.6, a bay beside a divider by 0.9.

    The bay: (width - 3 t) / 2. Loose shelves are 3 mm shorter than their bay either way.
    """
    before = run_of("landing-linen").plan
    after = planned_with("thicknesses: {birch-18: 17.2}\n", run_of("landing-linen"), tmp_path)

    def length(plan: Plan, number: str) -> float:
        return plan.parts.part(number).blank_mm[0]

    bottoms = [p.number for p in before.parts.parts if p.role == "bottom"]
    assert bottoms
    for number in bottoms:
        assert length(after, number) - length(before, number) == pytest.approx(1.2)
    loose = [p.number for p in before.parts.parts if p.role == "loose shelf" and p.module == "side case"]
    assert len(loose) == 3
    for number in loose:
        assert length(after, number) - length(before, number) == pytest.approx(0.9)
    assert {p.thickness_mm for p in after.parts.parts if p.stock == "birch-18"} == {17.2}
    assert {p.thickness_mm for p in after.parts.parts if p.stock == "mdf-18"} == {18.1}
    assert [p.number for p in after.parts.parts] == [p.number for p in before.parts.parts]


def test_what_is_already_built_must_be_in_the_shop(run_of: Runs, tmp_path: Path) -> None:
    """A misspelled stock is refused with the nearest one."""
    with pytest.raises(InvalidInputError) as caught:
        planned_with("thicknesses: {brich-18: 17.2}\n", run_of("landing-linen"), tmp_path)
    assert "brich-18" in str(caught.value)
    assert "birch-18" in str(caught.value)


def test_boards_cut_as_their_list_says_are_built_as_planned(run_of: Runs, tmp_path: Path) -> None:
    """Every part that is cut from a board, typed into built.yaml with its printed sixteenths: none is cut again."""
    run = run_of("hall-stair")
    rows = csv.DictReader(io.StringIO(run.files["parts.csv"].decode("utf-8")))
    boards = {board.key for board in run.plan.shop.boards}
    cut = [row for row in rows if row["stock"] in boards]
    assert {row["part"] for row in cut} > {"P1", "S1", "S2", "S3", "S6"}
    built = "".join(f"  - {row['part']}: {row['blank length [inch]']} x {row['blank width [inch]']}\n" for row in cut)
    plan = planned_with(f"units: inch\nparts:\n{built}", run, tmp_path)
    found = [finding for finding in plan.findings if finding.topic == "built size"]
    assert len(found) == len(cut)
    assert {finding.verdict for finding in found} == {"pass"}
