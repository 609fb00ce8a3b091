"""Every wrong room file is told in one plain sentence: where, what was read, what would be right."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from nookwright.basics.problems import InvalidInputError
from nookwright.files.job_folder import read_job

SPOILT = [
    (
        "room.yaml",
        "heights:",
        "hieghts:",
        [
            "room.yaml:1:1 heights: found nothing; expected a list of lengths from 20 mm to 6000 mm. `heights` is missing here.",
            'room.yaml:3:1 hieghts: found "hieghts"; expected one of kind, corner, corners, units, heights, tools, readings, skirting, wall, outlets, scans, photos, questions. Did you mean heights?',
        ],
    ),
    (
        "room.yaml",
        "kind: alcove\n",
        "",
        [
            "room.yaml:1:1 kind: found nothing; expected alcove, bay, corner-under-slope, corner-two-slopes, free-plan, twin-alcoves or under-stair. `kind` is missing here.",
        ],
    ),
    (
        "room.yaml",
        "kind: alcove",
        "kind: alcoves",
        [
            'room.yaml:1:7 kind: found "alcoves"; expected alcove, bay, corner-under-slope, corner-two-slopes, free-plan, twin-alcoves or under-stair. Did you mean alcove?',
        ],
    ),
    (
        "room.yaml",
        "units: mm\n",
        "units: mm\nunits: inch\n",
        [
            'room.yaml:3:1 units: found "units" a second time; expected it once; it stands on line 2 too.',
        ],
    ),
    (
        "room.yaml",
        "  tape:\n",
        "\ttape:\n",
        [
            "room.yaml:6:1: found a tab; expected spaces at the start of a line. Use two a level.",
        ],
    ),
    (
        "room.yaml",
        "BL1 - BR1: 1184",
        "BL1 - BR1: 33 5/8",
        [
            'room.yaml:7:18 readings.tape[1]: found "33 5/8"; expected a length in mm, or an inch mark after the fraction. Numbers without a mark are mm in this file; write 33 5/8" if inches are meant.',
        ],
    ),
    (
        "room.yaml",
        "BL1 - BR1: 1184",
        "BL1 - BR1:",
        [
            "room.yaml:7:7 readings.tape[1]: found nothing; expected a length from 1 mm to 30000 mm. Still to be measured: tape BL1 - BR1.",
        ],
    ),
    (
        "room.yaml",
        "BL1 - BR1: 1184",
        "BL1 - BR1: 40 m",
        [
            'room.yaml:7:18 readings.tape[1]: found "40 m"; expected a length from 1 mm to 30000 mm.',
        ],
    ),
    (
        "room.yaml",
        "BL1 - BR1: 1184",
        "BL1 and BR1: 1184",
        [
            'room.yaml:7:7 readings.tape[1]: found "BL1 and BR1"; expected two spots, or a spot and a surface, such as `BL1 - BR1`.',
        ],
    ),
    (
        "room.yaml",
        "BL1 - BR1: 1184",
        "BL1 - BR1: [1184, '', 1O85, [1]]",
        [
            "room.yaml:7:25 readings.tape[1][2]: found nothing; expected a length from 1 mm to 30000 mm. Still to be measured: tape BL1 - BR1.",
            'room.yaml:7:29 readings.tape[1][3]: found "1O85"; expected a length such as 854, 854 mm, 85.4 cm, 33 5/8" or 2\' 9-5/8".',
            "room.yaml:7:35 readings.tape[1][4]: found a list; expected a length from 1 mm to 30000 mm.",
        ],
    ),
    (
        "room.yaml",
        "BL1 - BR1: 1184",
        "BL1 - BR1: {reads: 1184, sd: 0}",
        [
            "room.yaml:7:36 readings.tape[1].sd: found 0; expected a standard deviation above 0.",
        ],
    ),
    (
        "room.yaml",
        "BL1 - BR1: 1184",
        "BL1 - BR1: {sd: 2}",
        [
            "room.yaml:7:18 readings.tape[1].reads: found nothing; expected a length from 1 mm to 30000 mm. Still to be measured: tape BL1 - BR1.",
        ],
    ),
    (
        "room.yaml",
        "BL1 - BR1: 1184",
        "1184",
        [
            'room.yaml:7:7 readings.tape[1]: found "1184"; expected one `name: value`, such as `BL1 - BR1: 1184`.',
        ],
    ),
    (
        "room.yaml",
        "tools: {tape: II, reading: 0.7}",
        "tools: {level: lazer, plumb: 20 mm/m, bevel: bevil}",
        [
            'room.yaml:4:16 tools.level: found "lazer"; expected spirit, laser or a number from 0.01 mm/m to 10 mm/m.',
            'room.yaml:4:30 tools.plumb: found "20 mm/m"; expected spirit, laser or a number from 0.01 mm/m to 10 mm/m.',
            'room.yaml:4:46 tools.bevel: found "bevil"; expected bevel, digital or a number from 0.01 deg to 5 deg.',
        ],
    ),
    (
        "room.yaml",
        "left BL0 - BL2",
        "BL0 - BL2",
        [
            'room.yaml:12:7 readings.plumb[1]: found "BL0 - BL2"; expected a wall and two spots on it, such as `left BL0 - BL3`.',
        ],
    ),
    (
        "room.yaml",
        "back/left at 1: 89.3",
        "back/left at 1: 893",
        [
            'room.yaml:14:23 readings.bevel[1]: found "893"; expected an angle from 20 deg to 160 deg.',
        ],
    ),
    (
        "room.yaml",
        "back/left at 1",
        "back-left at 1",
        [
            'room.yaml:14:7 readings.bevel[1]: found "back-left at 1"; expected two walls and a level, such as `back/left at 1`.',
        ],
    ),
    (
        "room.yaml",
        "[150, 900]",
        "[900, 150]",
        [
            "room.yaml:3:10 heights: found heights out of order; expected each height once, from the lowest up.",
        ],
    ),
    (
        "room.yaml",
        "[150, 900]",
        "150",
        [
            'room.yaml:3:10 heights: found "150"; expected a list of lengths from 20 mm to 6000 mm.',
        ],
    ),
    (
        "room.yaml",
        "[150, 900]",
        "[150, tall]",
        [
            'room.yaml:3:16 heights[2]: found "tall"; expected a length such as 854, 854 mm, 85.4 cm, 33 5/8" or 2\' 9-5/8".',
        ],
    ),
    (
        "room.yaml",
        "tape: II,",
        "tape: IV,",
        [
            'room.yaml:4:15 tools.tape: found "IV"; expected I, II or III.',
        ],
    ),
    (
        "room.yaml",
        "{height: 145, thickness: 20}",
        "145 x 20",
        [
            'room.yaml:15:11 skirting: found "145 x 20"; expected a group of keys such as height, thickness or thickness sd.',
        ],
    ),
    (
        "room.yaml",
        "{height: 145, thickness: 20}",
        "{height: 145}",
        [
            "room.yaml:15:11 skirting.thickness: found nothing; expected a length from 1 mm to 100 mm. `thickness` is missing here.",
        ],
    ),
    (
        "room.yaml",
        "box: 74 x 74",
        "box: 74",
        [
            'room.yaml:18:82 outlets[1].box: found "74"; expected two lengths with x between them, such as 74 x 86.',
        ],
    ),
    (
        "room.yaml",
        "from: left, ",
        "from: middle, ",
        [
            'room.yaml:18:38 outlets[1].from: found "middle"; expected left or right.',
        ],
    ),
    (
        "room.yaml",
        "wiring: none",
        "wiring: maybe",
        [
            'room.yaml:19:21 questions.wiring: found "maybe"; expected none, found or unknown. A note may follow found: `found, two cables`.',
        ],
    ),
    (
        "room.yaml",
        "wiring: none",
        "stove: 'found, distance far, asked 450'",
        ['room.yaml:19:20 questions.stove: found "distance far"; expected a length after `distance`.'],
    ),
    (
        "room.yaml",
        "wiring: none",
        "floor structure: 'found, along 40'",
        [
            'room.yaml:19:30 questions.floor-structure: found "along 40"; expected the joists\' spacing after `along`, 100 mm (4 in) or more.'
        ],
    ),
    (
        "room.yaml",
        "kind: alcove",
        "kind: [alcove",
        [
            "room.yaml:1:7: found a list without its comma or closing ]; expected `[a, b, c]`.",
        ],
    ),
    (
        "room.yaml",
        "kind: alcove",
        "kind: a: b",
        [
            "room.yaml:1:8: found a second colon on one line; expected one `key: value` a line, or quotes round text that holds a colon.",
        ],
    ),
]


@pytest.mark.parametrize(("file", "old", "new", "sentences"), SPOILT, ids=range(len(SPOILT)))
def test_a_spoilt_file_is_refused_in_plain_words(
    file: str, old: str, new: str, sentences: list[str], write_job: Callable[..., Path]
) -> None:
    """The good job with one thing put wrong."""
    with pytest.raises(InvalidInputError) as caught:
        read_job(write_job(file, old, new))
    assert str(caught.value).splitlines() == sentences
