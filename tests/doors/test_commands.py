"""The command line: it teaches, it refuses with every problem at once, and its exit codes can be relied on."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from example_jobs import copied
from nookwright import __version__
from nookwright.cli.main import KINDS, commands_of, main, parser

HEAVY = ("numpy", "shapely", "manifold3d", "mapbox_earcut", "typst", "ruamel", "pydantic")


@pytest.fixture
def examples(repository: Path, tmp_path: Path) -> Path:
    """Return a fresh copy of the examples."""
    return copied(repository, tmp_path / "examples")


def asked_for_help(*arguments: str, capsys: pytest.CaptureFixture[str]) -> str:
    """Return what a command prints for `--help`."""
    with pytest.raises(SystemExit) as left:
        main([*arguments, "--help"])
    assert left.value.code == 0
    return capsys.readouterr().out


def test_help_teaches_what_a_job_is_and_how_to_start(capsys: pytest.CaptureFixture[str]) -> None:
    """Every command and file has its line, and the exit codes are said."""
    text = asked_for_help(capsys=capsys)
    for command in ("new", "plan", "survey", "book"):
        assert re.search(rf"^    {command} +\S", text, re.MULTILINE)
    for name in ("room.yaml", "brief.yaml", "shop.yaml", "built.yaml"):
        assert re.search(rf"^  {name} +\S", text, re.MULTILINE)
    assert "Start one with `nookwright new`" in text
    assert "exit codes: 0 all is well, 1 planned but something fails its check, 2 the input has problems" in text


def test_every_command_explains_itself_and_its_arguments(capsys: pytest.CaptureFixture[str]) -> None:
    """With a sentence more than its line in the list."""
    for name in commands_of(parser()):
        text = asked_for_help(name, capsys=capsys)
        assert text.startswith(f"usage: nookwright {name}")
        assert re.search(r"^  FOLDER +\S", text, re.MULTILINE)


def test_help_of_new_tells_the_kinds_of_room(capsys: pytest.CaptureFixture[str]) -> None:
    """Each with what it is."""
    text = asked_for_help("new", capsys=capsys)
    for kind in KINDS:
        assert re.search(rf"^  {kind} +\S", text, re.MULTILINE)


def test_no_command_prints_the_help_and_is_no_success(capsys: pytest.CaptureFixture[str]) -> None:
    """Exit code 2, so that a script notices."""
    assert main([]) == 2
    assert "Start one with `nookwright new`" in capsys.readouterr().out


def test_the_version_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    """On one line."""
    assert main(["--version"]) == 0
    assert capsys.readouterr().out == f"nookwright {__version__}\n"


def test_an_unknown_kind_is_refused_with_the_known_ones(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """And nothing is written."""
    with pytest.raises(SystemExit) as left:
        main(["new", "cellar", str(tmp_path / "job")])
    assert left.value.code == 2
    assert f"(choose from {', '.join(map(repr, KINDS))})" in capsys.readouterr().err
    assert not (tmp_path / "job").exists()


def test_a_missing_folder_is_told_in_one_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """With what makes one; the folder is not made on the way."""
    nowhere = tmp_path / "nowhere"
    assert main(["plan", str(nowhere)]) == 2
    said = capsys.readouterr()
    assert said.err.splitlines()[-2:] == [
        "1 thing to put right:",
        f'  found no folder "{nowhere}"; expected a job folder. `nookwright new KIND FOLDER` makes one.',
    ]
    assert said.out == ""
    assert not nowhere.exists()


def test_the_files_a_folder_lacks_are_told_one_by_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """With where a job comes from."""
    assert main(["plan", str(tmp_path)]) == 2
    tail = "expected that file. `nookwright new` writes a job to fill in."
    assert capsys.readouterr().err.splitlines()[-4:] == [
        "3 things to put right:",
        f'  room.yaml: found no file "room.yaml"; {tail}',
        f'  brief.yaml: found no file "brief.yaml"; {tail}',
        f'  shop.yaml: found no file "shop.yaml"; {tail}',
    ]


def test_a_misspelled_key_is_refused_with_the_right_one(examples: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """With its file, line and column; nothing is written."""
    brief = examples / "alcove-records" / "brief.yaml"
    text = brief.read_text(encoding="utf-8")
    brief.write_text(text.replace("platform:", "platfrom:"), encoding="utf-8")
    line = next(i for i, each in enumerate(text.splitlines(), start=1) if each.startswith("platform:"))
    assert main(["plan", str(brief.parent)]) == 2
    said = capsys.readouterr().err.splitlines()
    assert said[-2] == "1 thing to put right:"
    assert said[-1].startswith(f'  brief.yaml:{line}:1 platfrom: found "platfrom"')
    assert "platform" in said[-1].split("expected")[1]
    assert not (brief.parent / "out").exists()


def test_problems_of_two_files_are_told_together(examples: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """So that both are mended in one go."""
    folder = examples / "alcove-records"
    for name, right, wrong in (
        ("room.yaml", "BL0 - BR0: 1186", "BL0 - BR0: eleven"), ("brief.yaml", "depth: 250", "depth: deep"),
    ):  # fmt: skip
        path = folder / name
        text = path.read_text(encoding="utf-8")
        assert right in text
        path.write_text(text.replace(right, wrong), encoding="utf-8")
    assert main(["plan", str(folder)]) == 2
    said = capsys.readouterr().err
    assert "2 things to put right:" in said
    assert 'found "eleven"' in said
    assert 'found "deep"' in said


def test_a_brief_no_room_can_hold_is_refused_at_its_own_line(
    examples: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A bought cabinet wider than the run: what is found comes from the plan, yet names the brief's line."""
    brief = examples / "landing-linen" / "brief.yaml"
    text = brief.read_text(encoding="utf-8")
    brief.write_text(text.replace("{width: 800,", "{width: 1900,"), encoding="utf-8")
    assert main(["plan", str(brief.parent)]) == 2
    line = capsys.readouterr().err.splitlines()[-1]
    assert re.match(r"  brief\.yaml:\d+:\d+ ", line)
    assert "widths of the units of base that need 1900 mm and more" in line


@pytest.mark.parametrize(("name", "code"), [("hall-stair", 0), ("alcove-records", 1)])
def test_book_writes_only_the_book(examples: Path, name: str, code: int, capsys: pytest.CaptureFixture[str]) -> None:
    """0 when everything holds, 1 when something fails; failures come with cures, progress goes to stderr."""
    folder = examples / name
    assert main(["book", str(folder)]) == code
    assert [path.name for path in (folder / "out").rglob("*") if path.is_file()] == ["book.pdf"]
    said = capsys.readouterr()
    assert ("FAILS: fixed shelf" in said.out) == (code == 1)
    assert ("stand a divider at mid-span" in said.out) == (code == 1)
    assert re.search(r"^  \d+ parts from \d+ sheets and \d+ boards$", said.out, re.MULTILINE)
    assert said.err.splitlines()[:2] == ["reading the job ...", "working it out ..."]
    assert "..." not in said.out


def test_money_that_leaves_parts_out_says_so(examples: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Two backs of the linen cupboard are too wide for fence and sled: their sheet is not among what is to buy."""
    shop = examples / "shop.yaml"
    text = shop.read_text(encoding="utf-8")
    shop.write_text(text.replace("saw: {", "saw: {rip: 650, crosscut: 800, "), encoding="utf-8")
    assert main(["book", str(examples / "landing-linen")]) == 1
    said = capsys.readouterr().out
    assert re.search(r"sheets and \d+ boards; 2 parts are on none of them$", said, re.MULTILINE)
    assert re.search(r"^  to buy: [\d.]+ EUR, without what those are cut from$", said, re.MULTILINE)
    assert "or use a track of 1587.5 mm at least; its sheet is not on the buying list." in said


def test_survey_prints_the_room_in_the_readers_units(examples: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """In inches where the job is in inches, with how sure each figure is; nothing is written."""
    assert main(["survey", str(examples / "hall-stair")]) == 0
    said = capsys.readouterr().out
    assert "slope pitch" in said
    assert " +- " in said
    assert "as measured, in inch;" in said
    assert not (examples / "hall-stair" / "out").exists()


def test_survey_json_is_json(examples: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Spots, derived figures and one entry for every reading of the room file."""
    assert main(["survey", "--json", str(examples / "landing-linen")]) == 0
    data = json.loads(capsys.readouterr().out)
    assert {"spots", "derived", "readings"} <= set(data)
    text = (examples / "landing-linen" / "room.yaml").read_text(encoding="utf-8")
    assert len(data["readings"]) == len(re.findall(r"^    - ", text, re.MULTILINE))
    origin = next(spot for spot in data["spots"] if spot["name"] == "BL0")
    assert origin["xyz"] == [0.0, 0.0, 0.0]


def test_a_slip_in_the_survey_shows_in_the_exit_code(examples: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A tape read 100 mm short is named, with what the other readings say, and the code is 1."""
    room = examples / "alcove-records" / "room.yaml"
    text = room.read_text(encoding="utf-8")
    room.write_text(text.replace("BL2 - BR2: 1179", "BL2 - BR2: 1079"), encoding="utf-8")
    assert main(["survey", str(room.parent)]) == 1
    said = capsys.readouterr().out
    line = next(each for each in said.splitlines() if "read 1079" in each)
    assert "BL2 - BR2" in line


def test_survey_says_what_a_slip_does_and_what_to_measure_next(
    examples: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The slip is named, its effect told with and without it, the suspect is read again first; JSON says the same."""
    room = examples / "alcove-records" / "room.yaml"
    text = room.read_text(encoding="utf-8")
    room.write_text(text.replace("BL2 - BR2: 1179", "BL2 - BR2: 1079"), encoding="utf-8")
    assert main(["survey", str(room.parent)]) == 1
    said = capsys.readouterr().out
    assert "    it looks like: 100 mm" in said.splitlines()
    assert "    width at the back at level 2: " in said
    assert " with it, " in said
    assert "  1. tape BL2 - BR2 again: it looks like a slip (0.5 min)" in said.splitlines()
    assert main(["survey", "--json", str(room.parent)]) == 1
    data = json.loads(capsys.readouterr().out)
    slip = next(each["slip"] for each in data["readings"] if each["suspect"])
    assert slip["likely"][0] == "100 mm"
    assert data["next"][0]["text"] == "tape BL2 - BR2"
    assert all({"findable", "redundancy"} <= set(each) for each in data["readings"])
    assert 0.5 < data["waviness_mm"] < 6


def test_a_reading_left_out_in_the_file_is_listed_as_such(examples: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The slip no longer counts, and is still there to be seen."""
    room = examples / "alcove-records" / "room.yaml"
    text = room.read_text(encoding="utf-8")
    room.write_text(text.replace("BL2 - BR2: 1179", "BL2 - BR2: {reads: 1079, use: no}"), encoding="utf-8")
    assert main(["survey", str(room.parent)]) == 0
    lines = capsys.readouterr().out.splitlines()
    place = lines.index("Left out by you")
    assert lines[place + 1].startswith("  tape BL2 - BR2: read 1079, the room says 11")


def test_new_then_plan_lists_what_is_still_to_be_measured(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The blanks are refused one by one, and nothing is written beside them."""
    folder = tmp_path / "job"
    assert main(["new", "corner-under-slope", str(folder)]) == 0
    assert f"and: nookwright plan {folder}" in capsys.readouterr().out
    assert main(["plan", str(folder)]) == 2
    said = capsys.readouterr().err
    assert said.count("Still to be measured: ") >= 20
    assert "Still to be measured: tape BL0 - BR0." in said
    assert {path.name for path in folder.iterdir()} == {"room.yaml", "brief.yaml", "shop.yaml"}


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize(("units", "corner"), [("mm", "left"), ("inch", "right")])
def test_survey_of_a_new_job_prints_the_field_sheet(
    kind: str, units: str, corner: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Where it is, how many readings, how long, and how surely they will tell; that is no failure."""
    folder = tmp_path / "job"
    assert main(["new", kind, str(folder), "--units", units, "--corner", corner]) == 0
    capsys.readouterr()
    assert main(["survey", str(folder)]) == 0
    said = capsys.readouterr()
    assert said.err == ""
    assert f"Field sheet to take to the room: {folder / 'out' / 'field-sheet.pdf'}, 3 pages" in said.out
    assert re.search(r"^  \d+ readings, about \d+ minutes", said.out, re.MULTILINE)
    assert re.search(r"^    corner angles +\+- [01]\.\d deg$", said.out, re.MULTILINE)
    assert (folder / "out" / "field-sheet.pdf").read_bytes().startswith(b"%PDF")
    assert max(map(len, said.out.replace(str(folder), "job").splitlines())) <= 100


def test_survey_of_a_half_filled_job_says_what_is_missing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Line by line, then what to do; the sheet is written only when asked for."""
    folder = tmp_path / "job"
    assert main(["new", "alcove", str(folder)]) == 0
    room = folder / "room.yaml"
    text = room.read_text(encoding="utf-8")
    room.write_text(re.sub(r"- BL1 - BR1:", "- BL1 - BR1: 1203", text), encoding="utf-8")
    capsys.readouterr()
    assert main(["survey", str(folder)]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.count("Still to be measured: ") == 23
    assert said.err.splitlines()[-3:] == [
        "1 of 24 readings are in. Take the rest, or take their lines out of room.yaml:",
        "the room is worked out once nothing it names is blank.",
        f"To print the field sheet again: nookwright survey {folder} --sheet",
    ]
    assert not (folder / "out").exists()
    assert main(["survey", str(folder), "--sheet"]) == 0
    assert "Nothing is read yet." not in capsys.readouterr().out
    assert (folder / "out" / "field-sheet.pdf").is_file()


def test_survey_works_before_the_furniture_is_decided(examples: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A brief that cannot be read yet: the room all the same, and what to measure next for the room itself."""
    folder = examples / "alcove-records"
    (folder / "brief.yaml").write_text("title: later\n", encoding="utf-8")
    assert main(["survey", str(folder)]) == 0
    said = capsys.readouterr().out
    assert "back left corner" in said
    assert "Measure next" in said
    assert "base" not in said.split("Measure next")[1].split("The room as measured")[0]


def test_survey_says_first_what_to_look_at(examples: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The slip with its line in the file, what to measure next, then the room; no line wider than 100."""
    room = examples / "alcove-records" / "room.yaml"
    text = room.read_text(encoding="utf-8")
    room.write_text(text.replace("BL2 - BR2: 1179", "BL2 - BR2: 1079"), encoding="utf-8")
    line = next(i for i, each in enumerate(text.splitlines(), start=1) if "BL2 - BR2: 1179" in each)
    assert main(["survey", str(room.parent)]) == 1
    said = capsys.readouterr().out
    heads = [part.splitlines()[0] for part in said.split("\n\n")]
    assert heads[0].startswith("Readings that look like slips")
    assert heads[1] == "Measure next"
    assert heads[2].startswith("The room as measured")
    assert f"  tape BL2 - BR2 (room.yaml, line {line}): read 1079" in said.splitlines()
    assert max(map(len, said.splitlines())) <= 100


def test_a_good_field_book_is_told_so(examples: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """First of all."""
    assert main(["survey", str(examples / "landing-linen")]) == 0
    assert capsys.readouterr().out.startswith("Nothing looks like a slip\n")


def test_survey_json_of_a_new_job_tells_of_the_sheet(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The file, the readings, and what they will tell."""
    assert main(["new", "under-stair", str(tmp_path / "job")]) == 0
    capsys.readouterr()
    assert main(["survey", "--json", str(tmp_path / "job")]) == 0
    data = json.loads(capsys.readouterr().out)
    assert Path(data["file"]).is_file()
    assert data["readings"] == data["missing"] == len(data["findable"])
    assert all(each["sd"] > 0 for each in data["spreads"])


def test_new_never_overwrites(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A folder with one of its files is refused, and stays as it was."""
    (tmp_path / "shop.yaml").write_text("mine\n", encoding="utf-8")
    assert main(["new", "alcove", str(tmp_path)]) == 2
    assert capsys.readouterr().err == (
        "1 thing to put right:\n"
        "  shop.yaml: found a file; expected none by that name. Nothing was written; choose another folder.\n"
    )
    assert [(path.name, path.read_text(encoding="utf-8")) for path in tmp_path.iterdir()] == [("shop.yaml", "mine\n")]


def test_planning_again_replaces_what_was_written_and_leaves_the_rest(examples: Path) -> None:
    """A sheet of an earlier, longer book goes; a stranger's file in `out` stays."""
    folder = examples / "hall-stair"
    sheets = folder / "out" / "sheets"
    sheets.mkdir(parents=True)
    (sheets / "999.svg").write_text("old", encoding="utf-8")
    (folder / "out" / "notes.txt").write_text("mine", encoding="utf-8")
    assert main(["plan", str(folder)]) == 0
    assert not (sheets / "999.svg").exists()
    assert (folder / "out" / "notes.txt").read_text(encoding="utf-8") == "mine"


def started(repository: Path, code: str) -> str:
    """Return what a fresh Python prints."""
    done = subprocess.run(
        [sys.executable, "-c", code], env={**os.environ, "PYTHONPATH": str(repository / "src")},
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    return done.stdout


def test_help_starts_without_the_heavy_packages(repository: Path) -> None:
    """Neither numbers nor geometry, neither reader nor typesetter is loaded to print the help."""
    code = (
        "import sys\nfrom nookwright.cli.main import main\n"
        "try:\n    main(['--help'])\nexcept SystemExit:\n    pass\n"
        f"print('loaded:', sorted(set({HEAVY!r}) & set(sys.modules)))"
    )
    assert started(repository, code).splitlines()[-1] == "loaded: []"


def test_the_module_opens_the_same_door(repository: Path) -> None:
    """`python -m nookwright` is the command."""
    done = subprocess.run(
        [sys.executable, "-m", "nookwright", "--version"], env={**os.environ, "PYTHONPATH": str(repository / "src")},
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert (done.returncode, done.stdout) == (0, f"nookwright {__version__}\n")


def test_a_full_disk_or_closed_folder_is_no_wrong_input(examples: Path) -> None:
    """Where `out` is a file the system's own error stands; it is not reported as the user's input."""
    folder = examples / "hall-stair"
    (folder / "out").write_text("in the way", encoding="utf-8")
    with pytest.raises(OSError, match="out"):
        main(["book", str(folder)])


def test_keep_tells_what_it_did_and_refuses_to_do_it_twice(examples: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A job in inches: sizes in its units, what to do by hand, what the file is worth; then the cure."""
    folder = examples / "hall-stair"
    shop = folder / "shop.yaml"
    shop.write_text(shop.read_text(encoding="utf-8") + "offcuts: offcuts.yaml\n", encoding="utf-8")
    assert main(["keep", str(folder)]) == 2
    assert "Run `nookwright plan` and cut by what it prints" in capsys.readouterr().err
    main(["plan", str(folder), "--cut-by-cut"])
    assert (folder / "out" / "cut-by-cut.pdf").read_bytes().startswith(b"%PDF")
    capsys.readouterr()
    assert main(["keep", str(folder)]) == 0
    said = capsys.readouterr().out
    assert re.search(r"^  put in: birch-3/4, [\d /]+ x [\d /]+\"$", said, re.MULTILINE)
    assert re.search(r"offcuts\.yaml now holds \d+ pieces worth \d+\.\d\d$", said, re.MULTILINE)
    assert main(["keep", str(folder)]) == 2
    assert "give it another `revision`" in capsys.readouterr().err


def test_strip_writes_the_marker_strip(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Sheets and cards, and what to check on paper; a length it cannot have is refused."""
    assert main(["strip", str(tmp_path / "job"), "--length", "480"]) == 0
    said = capsys.readouterr().out.splitlines()
    assert said == [
        f"Marker strip and cards: {tmp_path / 'job' / 'out' / 'strip.pdf'}, 5 pages",
        "Print it at full size (100 %): its ruler must measure 200 mm (7 7/8 in).",
    ]
    assert (tmp_path / "job" / "out" / "strip.pdf").read_bytes().startswith(b"%PDF")
    with pytest.raises(SystemExit):
        main(["strip", str(tmp_path), "--length", "20"])


def test_a_second_interrupt_is_one_sentence_and_no_success(
    examples: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The exit code is that of shells for Ctrl-C: 128 and the number of the signal, 2 (POSIX, `kill`)."""

    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("nookwright.jobs.plan_job", interrupted)
    assert main(["book", str(examples / "landing-linen")]) == 130
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith("Broken off.")
    assert said.err.count("\n") == 1


@pytest.mark.parametrize(
    ("option", "typed", "said"),
    [
        ("--search", "-5", "seconds from 0 to 86400"),
        ("--search", "nan", "seconds from 0 to 86400"),
        ("--search", "inf", "seconds from 0 to 86400"),
        ("--search", "long", "seconds from 0 to 86400"),
        ("--workers", "0", "a whole number from 1 to 64"),
        ("--workers", "two", "a whole number from 1 to 64"),
    ],
)
def test_times_and_workers_that_cannot_be_are_refused(
    option: str, typed: str, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Before anything is worked out."""
    with pytest.raises(SystemExit) as caught:
        main(["week", "job", "--out", "out", f"{option}={typed}"])
    assert caught.value.code == 2
    assert f"found '{typed}'; expected {said}" in capsys.readouterr().err
