"""Whole job folders: what is read, and that every problem of every file is told at once."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path

import pytest

from nookwright.basics.problems import InvalidInputError
from nookwright.files.job_folder import read_job
from nookwright.stages.inputs.brief import Bought, Cases, Fixed, Front, Share, Top
from nookwright.stages.inputs.facts import NOTHING_BUILT_YET
from nookwright.stages.inputs.shop import Saw, Shop
from nookwright.stages.inputs.survey import (
    BevelReading,
    LevelReading,
    PlumbReading,
    Skirting,
    TapeReading,
    Tools,
    WallBuild,
)
from nookwright.stages.survey.spoken import told

WriteJob = Callable[..., Path]


def problems_of(folder: Path) -> list[str]:
    """Return the sentences a job is refused with."""
    with pytest.raises(InvalidInputError) as caught:
        read_job(folder)
    return str(caught.value).splitlines()


def test_the_field_book_is_read_as_typed(write_job: WriteJob) -> None:
    """Every reading keeps its place in the file."""
    survey = read_job(write_job()).survey
    assert survey.kind == "alcove"
    assert survey.heights_mm == (150, 900)
    tape, square, level, plumb, bevel = survey.readings
    assert tape == TapeReading(start="BL1", end="BR1", length_mm=1184, where=tape.where)
    assert square == TapeReading(start="BL0", end="right", length_mm=1180, where=square.where)
    assert level == LevelReading(spot="BL0", above_mm=-1003, where=level.where)
    assert plumb == PlumbReading(wall="left", first="BL0", second="BL2", into_room_mm=4, where=plumb.where)
    assert bevel == BevelReading(walls=("back", "left"), level="1", angle_deg=89.3, where=bevel.where)
    assert str(square.where) == "room.yaml:8:7 readings.tape[2]"
    assert survey.skirting == Skirting(height_mm=145, thickness_mm=20)
    assert survey.wall == WallBuild(kind="studs", stud_centres_mm=(372, 972))
    assert survey.tools == Tools()
    (outlet,) = survey.outlets
    assert (outlet.side, outlet.from_side_mm, outlet.plate_height_mm) == ("left", 430, 86)
    assert [(one.key, one.answer, one.note) for one in survey.questions] == [
        ("wiring", "none", ""),
        ("escape-window", "found", "painted shut"),
    ]


def test_figures_stand_among_the_words_of_an_answer(write_job: WriteJob) -> None:
    """A length in the file's unit or with its own, a bare number for warmth, the rest is the note."""
    typed = "wiring: none, stove: 'found, distance 61 cm, asked 450, brick'"
    (wiring, stove, *_) = read_job(write_job("room.yaml", "wiring: none", typed)).survey.questions
    assert (wiring.figures, stove.note) == ((), "brick")
    assert stove.figures == (("distance", 610.0), ("asked", 450.0))
    cold = "cold wall: 'found, surface 12.5, room 20, north side'"
    (wall, *_) = read_job(write_job("room.yaml", "wiring: none", cold)).survey.questions
    assert (wall.figure("surface"), wall.figure("humidity"), wall.note) == (12.5, None, "north side")


def test_a_climate_is_twelve_months_of_air(write_job: WriteJob) -> None:
    """C unless marked F: 14 F is -10 C."""
    months = ", ".join(["14 F at 84", "0 at 80%", *(["10.5 C at 70"] * 10)])
    climate = read_job(
        write_job("brief.yaml", "title:", f"climate: {{outdoor: [{months}], moisture: much}}\ntitle:")
    ).brief.climate
    assert climate is not None
    first, second, third = climate.outdoor[:3]
    assert (first.warmth_c, first.humidity_pct) == pytest.approx((-10.0, 84.0))
    assert (second.warmth_c, second.humidity_pct, third.warmth_c) == (0.0, 80.0, 10.5)
    assert (climate.moisture, climate.heated_c, climate.indoor) == ("much", 20.0, ())


def test_a_reading_may_carry_its_own_spread(write_job: WriteJob) -> None:
    """In place of the tool's."""
    reading = read_job(write_job("room.yaml", "BR1: 1184", "BR1: {reads: 1184, sd: 2}")).survey.readings[0]
    assert isinstance(reading, TapeReading)
    assert (reading.length_mm, reading.sd_mm) == (1184, 2)


def test_a_reading_may_be_taken_several_times(write_job: WriteJob) -> None:
    """As a list, with or without more about it; each one counts and keeps its own text and place."""
    survey = read_job(
        write_job("room.yaml", "BR1: 1184", "BR1: [1184, 118.3 cm]\n    - BL2 - BR2: {reads: [1180, 1181], sd: 2}")
    ).survey
    tapes = [one for one in survey.readings if isinstance(one, TapeReading)]
    assert [(one.end, one.length_mm, one.sd_mm, one.typed) for one in tapes[:4]] == [
        ("BR1", 1184, None, "1184"),
        ("BR1", 1183, None, "118.3 cm"),
        ("BR2", 1180, 2, "1180"),
        ("BR2", 1181, 2, "1181"),
    ]
    assert [str(one.where) for one in tapes[1:3]] == [
        "room.yaml:7:7 readings.tape[1][2]",
        "room.yaml:8:7 readings.tape[2][1]",
    ]


def test_a_distance_told_by_eye_is_far_less_sure(write_job: WriteJob) -> None:
    """8 mm either way, unless the line says otherwise; surfaces in any capitals."""
    lines = "  rough:\n    - BL0 - Right: 1200\n    - BL2 to BR2: {reads: 1190, sd: 15}\n  level:"
    readings = read_job(write_job("room.yaml", "  level:", lines)).survey.readings
    rough = [one for one in readings if isinstance(one, TapeReading) and one.rough]
    assert [(one.end, one.length_mm, one.sd_mm) for one in rough] == [("right", 1200, 8), ("BR2", 1190, 15)]
    assert told(rough[0]) == "rough BL0 - right"


def test_tools_are_told_by_their_kind_or_by_a_number(write_job: WriteJob) -> None:
    """A line laser 0.3 mm/m, a spirit level 0.5 mm/m (level-grades, read); a plumb of its own only when given."""
    folder = write_job("room.yaml", "tools: {tape: II, reading: 0.7}", "tools: {level: laser, bevel: Digital}")
    assert read_job(folder).survey.tools == Tools(level_mm_per_m=0.3, bevel_deg=0.1)
    folder = write_job("room.yaml", "tools: {tape: II, reading: 0.7}", "tools: {level: 0.2, plumb: spirit, bevel: 0.4}")
    assert read_job(folder).survey.tools == Tools(level_mm_per_m=0.2, plumb_mm_per_m=0.5, bevel_deg=0.4)


def test_a_reading_may_be_left_out_and_keeps_the_text_it_was_typed_as(write_job: WriteJob) -> None:
    """`use: no` takes it out of the reckoning, not out of the field book."""
    survey = read_job(write_job("room.yaml", "BR1: 1184", "BR1: {reads: 1148, use: no}")).survey
    reading = survey.readings[0]
    assert (reading.use, reading.typed) == (False, "1148")
    assert len(survey.readings) == 5
    assert len(survey.counted.readings) == 4
    assert survey.readings[1].use
    assert survey.units == "mm"


def test_the_waviness_may_be_held(write_job: WriteJob) -> None:
    """Where someone knows it for certain."""
    folder = write_job("room.yaml", "tools: {tape: II, reading: 0.7}", "tools: {waviness: 3, waviness fixed: yes}")
    assert read_job(folder).survey.tools == Tools(waviness_mm=3, waviness_fixed=True)


def test_inch_and_foot_marks_need_no_quotes(write_job: WriteJob) -> None:
    """Mixed units in one file: 3 ft 10-5/8 in is 46.625 x 25.4 = 1184.275 mm."""
    folder = write_job("room.yaml", "BR1: 1184", "BR1: 3' 10-5/8\"")
    assert read_job(folder).survey.readings[0] == TapeReading(
        start="BL1", end="BR1", length_mm=1184.275, where=read_job(folder).survey.readings[0].where
    )


def test_the_brief_is_read_with_all_its_cells(write_job: WriteJob) -> None:
    """Shares, fixed sizes, shelves, doors, a bought cabinet, a top."""
    brief = read_job(write_job()).brief
    low, top = brief.tiers
    assert isinstance(low, Cases)
    assert (low.height_mm, low.board, low.back_board) == (800, "birch-18", "birch-6")
    left, right = low.units
    assert left.width == Fixed(mm=600)
    wide, narrow = left.inside.cells
    assert left.inside.split == "columns"
    assert (wide.size, wide.shelves, wide.shelf_fixing, wide.front) == (Share(parts=2), 3, "pins", None)
    assert (narrow.size, narrow.shelf_fixing) == (Share(), "fixed")
    assert narrow.front == Front(leaves="pair", hang="inset", board="mdf-18")
    assert right.bought == Bought(width_mm=400, height_mm=720, depth_mm=300)
    assert right.width == Fixed(mm=400)
    assert top == Top(name="top", board="strip", where=top.where)
    assert (brief.units, brief.resolution, brief.start_mm) == ("mm", 0.5, None)


def test_a_door_takes_the_boxes_stock_unless_it_names_its_own(write_job: WriteJob) -> None:
    """Without `front board`."""
    folder = write_job("brief.yaml", ", front board: mdf-18", "")
    tier = read_job(folder).brief.tiers[0]
    assert isinstance(tier, Cases)
    assert tier.units[0].inside.cells[1].front == Front(leaves="pair", hang="inset", board="birch-18")


def test_a_tier_may_run_up_to_the_slope(write_job: WriteJob) -> None:
    """Then it has no height of its own."""
    tier = read_job(write_job("brief.yaml", "height: 800", "height: to slope")).brief.tiers[0]
    assert isinstance(tier, Cases)
    assert tier.height_mm is None


def test_the_shop_is_read_with_its_prices(write_job: WriteJob) -> None:
    """Lengths for sale come shortest first, prices as decimals."""
    shop = read_job(write_job()).shop
    assert shop.currency == "EUR"
    assert [(sheet.key, sheet.grained, sheet.on_hand) for sheet in shop.sheets] == [
        ("birch-18", True, 0),
        ("birch-6", True, 0),
        ("mdf-18", False, 2),
    ]
    assert [(sold.length_mm, sold.price) for sold in shop.boards[0].lengths] == [
        (2400, Decimal("6.40")),
        (3000, Decimal("8.00")),
    ]
    assert shop.saw == Saw()
    assert shop.screw_lengths_mm == Shop(currency="", sheets=(), boards=()).screw_lengths_mm


def test_lumber_may_be_given_by_its_nominal_name(write_job: WriteJob) -> None:
    """A 1x4 is 3/4 x 3-1/2 in, 19.05 x 88.9 mm."""
    board = read_job(write_job("shop.yaml", "section: 21 x 70", "nominal: 1x4")).shop.boards[0]
    assert (board.thickness_mm, board.width_mm) == (19.05, 88.9)


def test_what_is_built_is_read_when_there_is_a_file_of_it(write_job: WriteJob) -> None:
    """And nothing is built without it."""
    assert read_job(write_job()).facts == NOTHING_BUILT_YET
    facts = read_job(write_job(built="thicknesses:\n  - birch-18: 17.6\nparts:\n  - C3: 854 x 280\n")).facts
    assert [(fact.stock, fact.thickness_mm) for fact in facts.thicknesses] == [("birch-18", 17.6)]
    assert [(part.number, part.length_mm, part.width_mm) for part in facts.parts] == [("C3", 854, 280)]


@pytest.mark.parametrize("key", ["return skirting", "return-skirting", "return_skirting", "Return Skirting"])
def test_a_key_may_be_typed_with_hyphens_underscores_or_capitals(key: str, write_job: WriteJob) -> None:
    """One word per thing, however it is joined."""
    assert read_job(write_job("brief.yaml", "units: mm\n", f"units: mm\n{key}: yes\n")).brief.return_skirting


def test_jobs_may_share_one_shop_file(write_job: WriteJob) -> None:
    """The path starts from the folder of the file that names it."""
    folder = write_job("brief.yaml", "units: mm\n", "units: mm\nshop: ../shared-shop.yaml\n")
    (folder / "shop.yaml").rename(folder.parent / "shared-shop.yaml")
    assert read_job(folder).shop.currency == "EUR"


def test_every_problem_of_every_file_is_told_at_once(write_job: WriteJob) -> None:
    """Nobody mends one slip only to be shown the next."""
    folder = write_job("room.yaml", "BL1 - BR1: 1184", "BL1 - BR1:")
    for file, old, new in (
        ("room.yaml", "tape: II", "tape: IV"),
        ("brief.yaml", "board: birch-18", "bord: birch-18"),
        ("shop.yaml", "price: 30", "price: cheap"),
    ):
        path = folder / file
        path.write_text(path.read_text(encoding="utf-8").replace(old, new, 1), encoding="utf-8")
    (folder / "built.yaml").write_text("\tparts: none\n", encoding="utf-8")
    assert [line.split(":")[0] for line in problems_of(folder)] == [
        "room.yaml",
        "room.yaml",
        "brief.yaml",
        "brief.yaml",
        "shop.yaml",
        "built.yaml",
        "built.yaml",
    ]


def test_missing_files_are_named(tmp_path: Path) -> None:
    """All of them."""
    hint = "`nookwright new` writes a job to fill in."
    assert problems_of(tmp_path) == [
        f'{name}: found no file "{name}"; expected that file. {hint}'
        for name in ("room.yaml", "brief.yaml", "shop.yaml")
    ]


def test_text_in_another_encoding_is_refused_with_its_line(write_job: WriteJob) -> None:
    """Written by an old editor."""
    folder = write_job()
    (folder / "room.yaml").write_bytes("kind: alcove\n# größer\n".encode("latin-1"))
    assert problems_of(folder) == ["room.yaml:2: found a character that is not UTF-8; expected text in UTF-8."]


def test_a_shop_file_with_an_impossible_name_is_refused(write_job: WriteJob) -> None:
    """The place is where the brief names it."""
    folder = write_job("brief.yaml", "units: mm\n", f"units: mm\nshop: {'x' * 300}.yaml\n")
    found = "brief.yaml:3:7 shop: found a file that cannot be opened; expected a readable file."
    assert problems_of(folder) == [f"{found} The system says: File name too long."]


def test_a_huge_file_is_not_read(write_job: WriteJob) -> None:
    """It is no field book."""
    folder = write_job()
    (folder / "room.yaml").write_bytes(b"#" * 2_000_001)
    assert problems_of(folder) == ["room.yaml: found a very large file; expected 2,000,000 bytes at most."]


@pytest.mark.parametrize("name", ["landing-linen", "hall-stair", "alcove-records"])
def test_the_examples_are_read(name: str, repository: Path) -> None:
    """Whole jobs, in both unit systems."""
    job = read_job(repository / "examples" / name)
    assert len(job.survey.readings) > 20
    assert len({question.key for question in job.survey.questions}) >= 13


def test_the_hall_example_is_in_inches(repository: Path) -> None:
    """Its run starts 14 in along the wall, its pine is a 1x4; one tape was read in mm."""
    job = read_job(repository / "examples" / "hall-stair")
    assert job.brief.start_mm == pytest.approx(14 * 25.4)
    assert job.shop.boards[0].width_mm == 88.9
    assert 2542.0 in [reading.length_mm for reading in job.survey.readings if isinstance(reading, TapeReading)]


def test_reading_a_job_needs_no_numbers_library() -> None:
    """So that `nookwright new` and refusals are quick."""
    code = "import sys, nookwright.files.job_folder, nookwright.files.new_job; sys.exit('numpy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_edging_and_what_else_to_buy_are_read(write_job: WriteJob) -> None:
    """Screws by their length in the file's own units; one piece before cutting where nothing else is told."""
    told = """\
title: Shelves
edging:
  - {parts: [B6, loose shelf], item: birch edging}
also buy:
  - {item: cup hinge}
  - {item: wood screw 1 1/2 in, amount: 20, to have: before survey, why: a trial}
"""
    brief = read_job(write_job("brief.yaml", "title: Shelves\n", told)).brief
    (edging,) = brief.edging
    assert (edging.parts, edging.edges, edging.item) == (("B6", "loose shelf"), "one long", "birch edging")
    hinge, screw = brief.also_buy
    assert (hinge.item, hinge.amount, hinge.unit, hinge.to_have) == ("cup hinge", 1, "pieces", "before cutting")
    assert (screw.item, screw.amount, screw.to_have, screw.why) == ("wood screw 38.1", 20, "before survey", "a trial")


def test_one_text_stands_for_a_list_of_one(write_job: WriteJob) -> None:
    """`goals: turns` is `goals: [turns]`; the goals not named follow in their usual order."""
    saw = read_job(write_job("shop.yaml", "packs:", "saw: {goals: turns}\npacks:")).shop.saw
    assert saw.goals == ("turns", "leftover", "settings")


def test_a_square_section_is_none_the_wrong_way_round(write_job: WriteJob) -> None:
    """45 x 45 has no smaller size to stand first."""
    board = read_job(write_job("shop.yaml", "section: 21 x 70", "section: 45 x 45")).shop.boards[0]
    assert (board.thickness_mm, board.width_mm) == (45, 45)
