"""What must hold for every example job, from field book to buying list."""

from __future__ import annotations

import csv
import io
import json
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from example_jobs import Run
from nookwright.basics.lengths import Marks, read_length
from nookwright.files.lists_out import buying_csv, cutting_csv, parts_csv
from nookwright.files.plan_file import plan_json
from nookwright.jobs import plan_job
from nookwright.plan import Plan, plan
from nookwright.stages.parts.solids import interferences, outside_room
from nookwright.trade.sources import SOURCES


def test_no_two_boards_fill_the_same_space(job: Run) -> None:
    """All parts as solids, cut as the list says, stand together without a clash."""
    clashes = interferences(job.plan.parts)
    assert [(clash.first, clash.second, clash.volume_mm3) for clash in clashes] == []


def test_every_board_stands_inside_the_room(job: Run) -> None:
    """Nothing reaches through a surface, scribe allowances aside."""
    assert outside_room(job.plan.parts, job.plan.room, 0.6) == ()


def test_every_box_goes_in_with_at_least_the_promised_chance(job: Run) -> None:
    """Play of 2.33 standard deviations at each side lets 99 in 100 boxes in."""
    assert all(fit.chance >= 0.99 for fit in job.plan.design.fits)


def test_every_part_is_cut_exactly_once(job: Run) -> None:
    """Each board lies once on the sheets and boards, a glued-up one as often as it has pieces.

    Only the room's own skirting comes from no stock.
    """
    cutting = job.plan.cutting
    cut = Counter(placed.part for sheet in cutting.sheets for placed in sheet.placed)
    cut.update(piece.part for board in cutting.boards for piece in board.pieces)
    wished = {part.number: part.pieces for part in job.plan.parts.parts if part.stock != "room skirting"}
    assert cutting.too_large == ()
    assert cut == Counter(wished)


def test_every_blank_lies_on_its_own_stock_and_within_it(job: Run) -> None:
    """A blank is its part to less than a mark, and never reaches over the sheet's edge."""
    shop, brief = job.plan.shop, job.plan.brief
    mark_mm = float(Marks(units=brief.units, resolution=brief.resolution).step_mm)
    for sheet in job.plan.cutting.sheets:
        for placed in sheet.placed:
            part = job.plan.parts.part(placed.part)
            assert part.stock == sheet.stock
            lies = (placed.width_mm, placed.length_mm) if placed.turned else (placed.length_mm, placed.width_mm)
            assert all(abs(there - asked) < mark_mm + 0.1 for there, asked in zip(lies, part.blank_mm, strict=True))
            assert placed.x_mm >= shop.saw.trim_mm - 1e-6
            assert placed.y_mm >= shop.saw.trim_mm - 1e-6
            assert placed.x_mm + placed.length_mm <= sheet.length_mm - shop.saw.trim_mm + 1e-6
            assert placed.y_mm + placed.width_mm <= sheet.width_mm - shop.saw.trim_mm + 1e-6


def test_every_fastening_is_on_the_buying_list(job: Run) -> None:
    """Screws and brads of the joints and wall screws, counted here anew, are bought in full with some to spare."""
    needed: Counter[tuple[str, float]] = Counter()
    for joint in job.plan.parts.joints:
        for row in joint.fastenings:
            if row.kind != "glue":
                needed[row.kind, row.length_mm] += row.count
    for fixing in job.plan.installing.fixings:
        if fixing.screw_mm > 0:
            needed["wood screw", fixing.screw_mm] += 1
    bought: dict[tuple[str, float], float] = {}
    for line in job.plan.buying.lines:
        for kind in ("pocket screw", "wood screw", "brad"):
            if line.item.startswith(f"{kind} "):
                bought[kind, read_length(line.item.removeprefix(kind), unit="mm")] = line.needed
    assert needed
    for (kind, length), count in needed.items():
        nearest = min((abs(at - length), pieces) for (other, at), pieces in bought.items() if other == kind)
        assert nearest[0] <= 3.2  # half a step of the quarter inches that screws are sold in
        assert nearest[1] >= count * 1.1 - 1e-9


def test_as_many_sheets_are_bought_as_are_cut(job: Run) -> None:
    """Less those on hand."""
    used = Counter(sheet.stock for sheet in job.plan.cutting.sheets)
    for stock in job.plan.shop.sheets:
        lines = [line for line in job.plan.buying.lines if line.group == "sheets" and line.item == stock.name]
        assert sum(line.packs for line in lines) == max(0, used[stock.key] - stock.on_hand)


def test_every_source_a_finding_names_is_in_the_reference_list(job: Run) -> None:
    """A reader can look every key up."""
    named = {key for finding in job.plan.findings for key in finding.source_keys}
    assert named
    assert named <= {source.key for source in SOURCES}


def test_every_failure_comes_with_a_cure(job: Run) -> None:
    """A check that fails says what would help."""
    assert all(finding.remedy for finding in job.plan.findings if finding.verdict == "fail")


def test_every_part_appears_in_one_step_of_the_work(job: Run) -> None:
    """No board is forgotten and none is put in twice."""
    placed = Counter(number for step in job.plan.installing.steps for number in step.parts)
    assert placed == Counter(part.number for part in job.plan.parts.parts)


def test_joints_join_parts_of_the_list(job: Run) -> None:
    """Every held and every holding board has a number in the parts list, and no board holds itself."""
    numbers = {part.number for part in job.plan.parts.parts}
    for joint in job.plan.parts.joints:
        assert {joint.held, joint.holder} <= numbers
        assert joint.held != joint.holder


def test_every_groove_receives_a_part(job: Run) -> None:
    """And is as wide as that part is thick."""
    for part in job.plan.parts.parts:
        for groove in part.grooves:
            assert groove.width_mm == job.plan.parts.part(groove.receives).thickness_mm


def test_the_written_files_are_all_there(job: Run) -> None:
    """Book, sheets, lists, data and model, and nothing half written."""
    names = set(job.files)
    assert {
        "book.pdf",
        "plan.json",
        "parts.csv",
        "cutting.csv",
        "buying.csv",
        "model.glb",
        "labels.pdf",
        "page.html",
        "sheets/01.svg",
    } <= names
    assert not [name for name in names if name.endswith(".part")]
    assert job.files["book.pdf"].startswith(b"%PDF-")
    assert job.files["model.glb"].startswith(b"glTF")


def test_the_lists_agree_with_the_plan(job: Run) -> None:
    """One row a part; the data says which version of its format it is."""
    rows = list(csv.reader(io.StringIO(job.files["parts.csv"].decode())))
    assert [row[0] for row in rows[1:]] == [part.number for part in job.plan.parts.parts]
    data = json.loads(job.files["plan.json"])
    assert (data["format"], data["version"]) == ("nookwright plan", 1)
    assert len(data["plan"]["parts"]["parts"]) == len(rows) - 1


def test_planning_twice_writes_the_same_lists(job: Run) -> None:
    """The plan the command wrote and one made anew give the same bytes."""
    again = plan_job(job.folder)
    marks = Marks(units=again.brief.units, resolution=again.brief.resolution)
    anew = {
        "plan.json": plan_json(again),
        "parts.csv": parts_csv(again.parts, marks),
        "cutting.csv": cutting_csv(again.cutting, marks),
        "buying.csv": buying_csv(again.buying),
    }
    assert {name: job.files[name] for name in anew} == {name: text.encode() for name, text in anew.items()}


def test_a_plan_does_not_hang_on_the_order_of_the_readings(job: Run) -> None:
    """The same field book written bottom to top gives the same boards."""
    survey = job.plan.survey
    turned = plan(replace(survey, readings=survey.readings[::-1]), job.plan.brief, job.plan.shop)
    assert _blanks(turned) == pytest.approx(_blanks(job.plan), abs=1e-3)


def _blanks(planned: Plan) -> list[float]:
    return [size for part in planned.parts.parts for size in part.blank_mm]


def test_the_folder_itself_is_left_as_it_was(job: Run, repository: Path) -> None:
    """Only `out` is written."""
    kept = repository / "examples" / job.folder.name
    for path in kept.glob("*.yaml"):
        assert (job.folder / path.name).read_bytes() == path.read_bytes()
    assert {path.name for path in job.folder.iterdir()} == {path.name for path in kept.glob("*.yaml")} | {"out"}
