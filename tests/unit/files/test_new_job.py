"""New jobs: files to fill in that are refused, blank by blank, until they are filled in."""

from __future__ import annotations

import re
from pathlib import Path
from typing import get_args

import pytest

from nookwright.basics.lengths import Units
from nookwright.basics.problems import InvalidInputError
from nookwright.files.job_folder import read_job
from nookwright.files.new_job import new_job, new_job_files
from nookwright.stages.inputs.survey import RoomKind, TapeReading
from nookwright.stages.survey.asked import sheet_list
from nookwright.stages.survey.kind_table import HANDED, SHAPES
from nookwright.stages.survey.kinds import shape_of
from nookwright.stages.survey.spots import spot_names, spots_named_by

KINDS: tuple[RoomKind, ...] = tuple(SHAPES)
UNITS: tuple[Units, ...] = get_args(Units)
EVERY_JOB = [(kind, units) for kind in KINDS for units in UNITS]


def refusal(folder: Path) -> list[str]:
    """Return the sentences the job is refused with."""
    with pytest.raises(InvalidInputError) as caught:
        read_job(folder)
    return str(caught.value).splitlines()


@pytest.mark.parametrize(("kind", "units"), EVERY_JOB)
def test_a_new_job_is_refused_with_every_blank_by_name(kind: RoomKind, units: Units, tmp_path: Path) -> None:
    """And with nothing else: what is not blank is right."""
    new_job(kind, tmp_path, units=units)
    blanks = 0
    for path in tmp_path.glob("*.yaml"):
        for line in path.read_text(encoding="utf-8").splitlines():
            if not line.lstrip().startswith("#"):
                bare = line.split(" #")[0].rstrip()
                parent = re.fullmatch(r"\s*(tiers|readings|tape|level|plumb|bevel|slope|sheets|boards|packs|products|units"
                                      r"|inside|columns|questions|- cases):", bare)  # fmt: skip
                blanks += bool(bare.endswith(":")) and parent is None
                blanks += len(re.findall(r": *(?=[,}])", bare))
    sentences = refusal(tmp_path)
    assert all(": found nothing; expected " in sentence for sentence in sentences)
    assert len(sentences) == blanks
    assert sum("Still to be measured: " in sentence for sentence in sentences) >= 20


def test_a_blank_reading_says_what_is_still_to_be_measured(tmp_path: Path) -> None:
    """With the line to write it on."""
    new_job("alcove", tmp_path)
    lines = (tmp_path / "room.yaml").read_text(encoding="utf-8").splitlines()
    line = next(number for number, text in enumerate(lines, start=1) if "BL1 - BR1" in text)
    place = next(number for number, text in enumerate(lines[: line - 1], start=1) if text.startswith("  tape:"))
    expected = "expected a length from 1 mm to 30000 mm. Still to be measured: tape BL1 - BR1."
    assert f"room.yaml:{line}:7 readings.tape[{line - place}]: found nothing; {expected}" in refusal(tmp_path)


@pytest.mark.parametrize("kind", KINDS)
def test_readings_stand_in_the_order_of_the_field_sheet_with_its_numbers(kind: RoomKind) -> None:
    """Numbered 1, 2, 3... down the file, on either side."""
    for corner in ("left", "right"):
        text = new_job_files(kind, corner=corner)["room.yaml"]
        lines = re.findall(r"^    - ([^:]+):\s+# (\d+)", text, re.MULTILINE)
        asked = sheet_list(kind, corner if kind in HANDED else "left").readings
        assert lines == [(one.text, str(number)) for number, one in enumerate(asked, start=1)]


def test_a_corner_on_the_right_is_written_so() -> None:
    """No wall stands at the columns on the left; the run ends at the wall on the right."""
    pages = new_job_files("corner-under-slope", corner="right")
    assert "corner: right" in pages["room.yaml"]
    assert "- right BR0 - BRS:" in pages["room.yaml"]
    assert "left" not in pages["room.yaml"].split("readings:")[1].split("# skirting")[0]
    assert re.search(r"^start: +# where the furniture begins.*\nend: wall$", pages["brief.yaml"], re.MULTILINE)


@pytest.mark.parametrize(("kind", "units"), EVERY_JOB)
def test_a_new_job_filled_in_is_read(kind: RoomKind, units: Units, tmp_path: Path) -> None:
    """Any length will do for that; every spot it asks for is one such a room has."""
    new_job(kind, tmp_path, units=units)
    fill = {"title": "Job", "start": "300 mm", "end": "1500 mm", "price": "10.00", "pitch": "40"}
    for path in tmp_path.glob("*.yaml"):
        text = path.read_text(encoding="utf-8")
        for key, value in fill.items():
            text = re.sub(rf"\b{key}:(?= *(?:[,}}\n]|#))", f"{key}: {value}", text)
        text = re.sub(r"((?:[BCFMN][LMR]|[A-F])\w|back|ceiling):(?= *(?:\n|#))", r"\1: 100 mm", text)
        text = re.sub(r"(at \d):(?= *(?:\n|#))", r"\1: 90", text)
        text = re.sub(r"(\d{2,4}): *(?=[,}])", r"\1: 5.00", text)
        path.write_text(text, encoding="utf-8")
    job = read_job(tmp_path)
    assert job.survey.kind == kind
    assert job.brief.units == units
    shape = shape_of(kind, job.survey.corner)
    names = spot_names(shape, len(job.survey.heights_mm))
    for reading in job.survey.readings:
        spots = spots_named_by(reading)
        if isinstance(reading, TapeReading) and shape.may_have(reading.end):
            spots = spots[:1]
        assert set(spots) <= set(names)


def test_a_new_job_overwrites_nothing(tmp_path: Path) -> None:
    """Not one file, and it writes no other either."""
    (tmp_path / "brief.yaml").write_text("mine", encoding="utf-8")
    with pytest.raises(InvalidInputError) as caught:
        new_job("alcove", tmp_path)
    hint = "Nothing was written; choose another folder."
    assert str(caught.value) == f"brief.yaml: found a file; expected none by that name. {hint}"
    assert [path.name for path in tmp_path.iterdir()] == ["brief.yaml"]
    assert (tmp_path / "brief.yaml").read_text(encoding="utf-8") == "mine"


def test_a_new_job_makes_its_folder(tmp_path: Path) -> None:
    """With those above it, unless a file stands in the way."""
    written = new_job("under-stair", tmp_path / "jobs" / "hall", units="inch")
    assert [path.name for path in written] == ["room.yaml", "brief.yaml", "shop.yaml"]
    (tmp_path / "note").write_text("", encoding="utf-8")
    with pytest.raises(InvalidInputError) as caught:
        new_job("alcove", tmp_path / "note" / "hall")
    assert str(caught.value) == f"{tmp_path / 'note'}: found a file; expected a folder for the new job."


def test_no_either_or_mark_is_left_in_a_new_job() -> None:
    """Each size is written in the one unit system asked for."""
    for kind, units in EVERY_JOB:
        for text in new_job_files(kind, units=units).values():
            assert "<<" not in text
            assert ">>" not in text
