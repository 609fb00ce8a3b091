"""Every wrong input is told in one plain sentence: where, what was read, what would be right."""

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
            'room.yaml:3:1 hieghts: found "hieghts"; expected one of kind, corner, corners, units, heights, tools, readings, skirting, wall, outlets, scans, photos, questions. Did you mean heights?',
            "room.yaml:1:1 heights: found nothing; expected a list of lengths from 20 mm to 6000 mm. `heights` is missing here.",
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
    (
        "brief.yaml",
        "title:",
        "wall fixing: {pull: 900 N, anchor: plug}\ntitle:",
        [
            "brief.yaml:1:21 wall fixing.pull: found 900 N; expected the `anchor` and the maker's `paper` beside its figure."
        ],
    ),
    (
        "brief.yaml",
        "title:",
        "climate: {outdoor: [wet, 300 at 20]}\ntitle:",
        [
            'brief.yaml:1:20 climate.outdoor: found "wet"; expected a month\'s mean warmth and humidity, such as `-2 at 84` or `28 F at 84`.',
            'brief.yaml:1:20 climate.outdoor: found "300 at 20"; expected -50 to 50 C and 1 to 100 % humidity.',
            "brief.yaml:1:20 climate.outdoor: found 1 months; expected twelve, from January to December.",
        ],
    ),
    (
        "brief.yaml",
        "title:",
        "climate: {room: 21}\ntitle:",
        ["brief.yaml:1:10 climate: found neither; expected `outdoor` or `indoor`, twelve months each."],
    ),
    (
        "brief.yaml",
        "board: birch-18",
        "board: birch-81",
        [
            'brief.yaml:8:14 tiers[1].cases.board: found "birch-81"; expected the key of a sheet in shop.yaml: birch-18, birch-6, mdf-18. Did you mean birch-18?',
        ],
    ),
    (
        "brief.yaml",
        "back: birch-6",
        "back: strip",
        [
            'brief.yaml:9:13 tiers[1].cases.back: found "strip"; expected the key of a sheet in shop.yaml: birch-18, birch-6, mdf-18. strip is a board.',
        ],
    ),
    (
        "brief.yaml",
        "coat: satin",
        "coat: gloss",
        [
            'brief.yaml:21:16 finish.coat: found "gloss"; expected the key of a product in shop.yaml: satin.',
        ],
    ),
    (
        "brief.yaml",
        "width: 600 mm",
        "width: 6 parts of 8",
        [
            'brief.yaml:12:18 tiers[1].cases.units[1].width: found "6 parts of 8"; expected a length from 50 mm to 6000 mm, `equal`, or a share such as `2 parts`.',
        ],
    ),
    (
        "brief.yaml",
        "width: 600 mm",
        "width: 6",
        [
            'brief.yaml:12:18 tiers[1].cases.units[1].width: found "6"; expected a length from 50 mm to 6000 mm, `equal`, or a share such as `2 parts`.',
        ],
    ),
    (
        "brief.yaml",
        "3 on pins",
        "three on pins",
        [
            'brief.yaml:15:42 tiers[1].cases.units[1].inside.columns[1].shelves: found "three on pins"; expected a number with `on pins` or `fixed`, such as `3 on pins`.',
        ],
    ),
    (
        "brief.yaml",
        "3 on pins",
        "50 on pins",
        [
            'brief.yaml:15:42 tiers[1].cases.units[1].inside.columns[1].shelves: found "50 on pins"; expected a whole number from 0 to 40 with `on pins` or `fixed`, such as `3 on pins`.',
        ],
    ),
    (
        "brief.yaml",
        "pair inset",
        "sliding overlay",
        [
            'brief.yaml:16:56 tiers[1].cases.units[1].inside.columns[2].front: found "sliding overlay"; expected one, pair or sliding, then inset or overlay, such as `pair inset`. Sliding doors are always inset.',
        ],
    ),
    (
        "brief.yaml",
        "height: 800",
        "height: to the sky",
        [
            'brief.yaml:6:15 tiers[1].cases.height: found "to the sky"; expected a length from 50 mm to 4000 mm, `to slope` or `to ceiling`.',
        ],
    ),
    (
        "brief.yaml",
        "name: right box",
        "name: platform",
        [
            'brief.yaml:17:11 tiers[1].cases.units[2]: found the name "platform"; expected another name; the drawings use this one for parts of their own.',
        ],
    ),
    (
        "brief.yaml",
        "name: right box",
        "name: left box",
        [
            'brief.yaml:17:11 tiers[1].cases.units[2]: found the name "left box" a second time; expected a name of its own; line 11 has it too.',
        ],
    ),
    (
        "brief.yaml",
        "  - top: {name: top",
        "  - tops: {name: top",
        [
            'brief.yaml:19:5 tiers[2].tops: found "tops"; expected one of cases, top. Did you mean top?',
            "brief.yaml:19:5 tiers[2]: found neither; expected either `cases` or `top`.",
        ],
    ),
    (
        "brief.yaml",
        "units: mm\n",
        "units: mm\nresolution: 1/16\n",
        [
            'brief.yaml:3:13 resolution: found "1/16"; expected 0.5 or 1 with units mm, 1/16 or 1/32 with units inch.',
        ],
    ),
    (
        "brief.yaml",
        "title: Shelves",
        "title:",
        [
            "brief.yaml:1:1 title: found nothing; expected a text. Fill it in.",
        ],
    ),
    (
        "brief.yaml",
        "{size: 2 parts, shelves: 3 on pins}",
        "{size: 2 parts, shelves: 3 on pins, rows: [{}, {}]}",
        [
            "brief.yaml:15:17 tiers[1].cases.units[1].inside.columns[1]: found rows and shelves in one cell; expected one of columns, rows or shelves.",
        ],
    ),
    (
        "brief.yaml",
        "units: mm\n",
        "units: mm\nshop: ../sheds/shop.yaml\n",
        [
            'brief.yaml:3:7 shop: found no file "../sheds/shop.yaml"; expected that file. The path starts from the folder of the file that names it.',
        ],
    ),
    (
        "brief.yaml",
        "          bought: {",
        "          width: 500\n          bought: {",
        [
            "brief.yaml:18:18 tiers[1].cases.units[2].width: found a width beside a bought cabinet; expected its width once, under `bought`.",
        ],
    ),
    (
        "shop.yaml",
        "price: 74.00",
        "price: 74 EUR",
        [
            'shop.yaml:3:101 sheets[1].price: found "74 EUR"; expected a price such as 62.50. Say the currency once, in `currency`, and use a point before the cents.',
        ],
    ),
    (
        "shop.yaml",
        "wood: mdf",
        "wood: mfd",
        [
            'shop.yaml:5:39 sheets[3].wood: found "mfd"; expected one of birch-plywood, softwood-plywood, mdf, particleboard, osb, hardboard, pine, spruce, douglas-fir, red-oak, white-oak, hard-maple, poplar, beech, red-maple, walnut, cherry, southern-pine, ash, yellow-birch. Did you mean mdf?',
        ],
    ),
    (
        "shop.yaml",
        "key: birch-6,",
        "key: birch-18,",
        [
            'shop.yaml:4:5 sheets[2]: found "birch-18" a second time; expected each key once; it stands on line 3 too.',
        ],
    ),
    (
        "shop.yaml",
        "on hand: 2",
        "on hand: two",
        [
            'shop.yaml:5:109 sheets[3].on hand: found "two"; expected a whole number.',
        ],
    ),
    (
        "shop.yaml",
        "grain: no",
        "grain: maybe",
        [
            'shop.yaml:5:85 sheets[3].grain: found "maybe"; expected yes or no.',
        ],
    ),
    (
        "shop.yaml",
        "section: 21 x 70",
        "nominal: 1x5",
        [
            'shop.yaml:7:52 boards[1].nominal: found "1x5"; expected a nominal name: 1x2, 1x3, 1x4, 1x6, 1x8, 1x10, 1x12, 5/4x6, 2x2, 2x3, 2x4, 2x6, 2x8, 2x10, 2x12, 4x4.',
        ],
    ),
    (
        "shop.yaml",
        "section: 21 x 70, ",
        "",
        [
            "shop.yaml:7:5 boards[1]: found neither section nor nominal; expected one of them: the real section, or the nominal name.",
        ],
    ),
    (
        "shop.yaml",
        "{3000: 8.00, 2400: 6.40}",
        "{3000: 8.00, tall: 6.40}",
        [
            'shop.yaml:7:83 boards[1].lengths[2]: found "tall"; expected a length such as 854, 854 mm, 85.4 cm, 33 5/8" or 2\' 9-5/8".',
        ],
    ),
    (
        "shop.yaml",
        "thickness: 17.8",
        "thickness: 178",
        [
            'shop.yaml:3:88 sheets[1].thickness: found "178"; expected a length from 1 mm to 100 mm.',
        ],
    ),
    (
        "shop.yaml",
        "covers: 12",
        "covers: 12 m",
        [
            'shop.yaml:11:45 products[1].covers: found "12 m"; expected a number, bare or in m2/l or ft2/gal.',
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
