"""Jobs cut together: what they used and left goes through the offcut file once for all of them, and never twice."""

from __future__ import annotations

import json
from collections import Counter
from pathlib import Path

import pytest

from example_jobs import copied
from nookwright import week_folders
from nookwright.after_cutting import keep_leftovers
from nookwright.basics.problems import InvalidInputError
from nookwright.files.job_folder import read_job
from nookwright.files.week_file import week_json
from nookwright.week import Week

FIRST, SECOND = "landing-linen", "alcove-records"
NAMES = [FIRST, SECOND]
KEPT = "boards:\n  - {stock: pine-21x70, length: 1900, value: 9.00, left from: 'an earlier job'}\n"


@pytest.fixture(scope="module")
def cut(tmp_path_factory: pytest.TempPathFactory, repository: Path) -> tuple[Path, Week]:
    """Return the examples with an offcut on the shelf, and the two of them planned together."""
    place = copied(repository, tmp_path_factory.mktemp("kept") / "jobs")
    shop = place / "shop.yaml"
    shop.write_text(shop.read_text(encoding="utf-8") + "offcuts: offcuts.yaml\n", encoding="utf-8")
    (place / "offcuts.yaml").write_text(KEPT, encoding="utf-8")
    return place, week_folders.plan_week([place / name for name in NAMES])


@pytest.fixture
def shared(cut: tuple[Path, Week], tmp_path: Path) -> Path:
    """Return a fresh copy of the jobs, the week's file beside them as if the papers had been written."""
    place = tmp_path / "jobs"
    for file in cut[0].rglob("*.yaml"):
        (place / file.relative_to(cut[0])).parent.mkdir(parents=True, exist_ok=True)
        (place / file.relative_to(cut[0])).write_bytes(file.read_bytes())
    (place / "together").mkdir()
    text = week_json(cut[1], [f"../{name}" for name in NAMES])
    (place / "together" / "week.json").write_text(text, encoding="utf-8")
    return place


def test_offcuts_go_out_and_come_in_once_for_the_whole_week(cut: tuple[Path, Week], shared: Path) -> None:
    """The piece on the shelf is used up; every leftover of the plan is there, named after the jobs on its sheet."""
    plan = cut[1].cutting
    assert [(one.stock, one.length_mm) for one in plan.boards if one.offcut] == [("pine-21x70", 1900.0)]
    kept = keep_leftovers(shared / "together").changed
    assert len(kept.used) == 1
    left = Counter((one.stock, one.length_mm, one.width_mm) for one in kept.offcuts.sheets)
    assert left == Counter((s.stock, one.length_mm, one.width_mm) for s in plan.sheets for one in s.leftovers)
    keep_mm = cut[1].shop.saw.keep_mm
    ends = Counter((one.stock, one.leftover_mm) for one in plan.boards if one.leftover_mm >= keep_mm)
    assert Counter((one.stock, one.length_mm) for one in kept.offcuts.boards) == ends
    assert ends
    names = [f"{share.brief.title}, revision {share.brief.revision}" for share in cut[1].shares]
    assert kept.offcuts.done == tuple(names)
    marks = dict(zip(("1-", "2-"), names, strict=True))
    for sheet in plan.sheets:
        held = "; ".join(name for mark, name in marks.items() if any(one.part.startswith(mark) for one in sheet.placed))
        for one in sheet.leftovers:
            assert (one.length_mm, held) in {(each.length_mm, each.left_from) for each in kept.offcuts.sheets}
    assert read_job(shared / SECOND).offcuts.done == tuple(names)


def test_no_job_of_a_week_is_kept_twice(shared: Path) -> None:
    """Neither the week once more, nor one of its jobs alone, by a plan of its own."""
    week = json.loads((shared / "together" / "week.json").read_text(encoding="utf-8"))["plan"]
    alone = json.dumps({"plan": {**week["shares"][1], "shop": week["shop"], "cutting": week["cutting"]}})
    before = keep_leftovers(shared / "together").file.read_bytes()
    with pytest.raises(InvalidInputError, match=r"week\.json.*whose leftovers are not in there yet"):
        keep_leftovers(shared / "together")
    (shared / SECOND / "out").mkdir()
    (shared / SECOND / "out" / "plan.json").write_text(alone, encoding="utf-8")
    with pytest.raises(InvalidInputError, match="whose leftovers are not in there yet"):
        keep_leftovers(shared / SECOND)
    assert (shared / "offcuts.yaml").read_bytes() == before


@pytest.mark.parametrize(
    ("file", "more", "told"),
    [
        (f"{SECOND}/brief.yaml", "allowances: {scribe: 4}\n", r"a plan of another brief\.yaml of "),
        (f"{FIRST}/built.yaml", "thicknesses:\n  - birch-18: 17.6\n", "a plan of another built.yaml"),
    ],
)
def test_a_week_of_other_inputs_is_refused(shared: Path, file: str, more: str, told: str) -> None:
    """The job that changed is named, and the offcut file stays as it was."""
    path = shared / file
    text = path.read_text(encoding="utf-8") if path.exists() else ""
    path.write_text(f"{text}\n{more}", encoding="utf-8")
    with pytest.raises(InvalidInputError, match=told):
        keep_leftovers(shared / "together")
    assert (shared / "offcuts.yaml").read_text(encoding="utf-8") == KEPT


def test_a_piece_used_meanwhile_a_job_gone_and_two_of_one_name_are_refused(shared: Path) -> None:
    """Each with what to do."""
    (shared / "offcuts.yaml").write_text("units: mm\n", encoding="utf-8")
    with pytest.raises(InvalidInputError, match="offcuts that are still in the offcut file"):
        keep_leftovers(shared / "together")
    (shared / "offcuts.yaml").write_text(KEPT, encoding="utf-8")
    week_file = shared / "together" / "week.json"
    told = json.loads(week_file.read_text(encoding="utf-8"))
    told["folders"], told["plan"]["shares"] = ["../landing-linen"] * 2, [told["plan"]["shares"][0]] * 2
    week_file.write_text(json.dumps(told), encoding="utf-8")
    with pytest.raises(InvalidInputError, match="two jobs called"):
        keep_leftovers(shared / "together")
    told["folders"][1] = "../gone"
    week_file.write_text(json.dumps(told), encoding="utf-8")
    with pytest.raises(InvalidInputError, match="gone: found no folder"):
        keep_leftovers(shared / "together")
    told["folders"] = ["../landing-linen"]
    week_file.write_text(json.dumps(told), encoding="utf-8")
    with pytest.raises(InvalidInputError, match="a file that is no plan"):
        keep_leftovers(shared / "together")
    assert (shared / "offcuts.yaml").read_text(encoding="utf-8") == KEPT
