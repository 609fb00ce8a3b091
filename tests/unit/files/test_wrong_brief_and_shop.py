"""Every wrong brief and shop file is told in one plain sentence: where, what was read, what would be right."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from nookwright.basics.problems import InvalidInputError
from nookwright.files.job_folder import read_job

SPOILT = [
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
        "section: 21 x 70",
        "section: 70 x 21",
        ["shop.yaml:7:52 boards[1].section: found 70 mm x 21 mm; expected thickness x width, the smaller size first."],
    ),
    (
        "shop.yaml",
        "products:",
        "tax: {percent: 0.2, included: yes}\nproducts:",
        ["shop.yaml:10:16 tax.percent: found 0.2; expected a rate of 1 % or more, or 0. Write 20 for 20 %."],
    ),
    (
        "shop.yaml",
        "price: 10.90}",
        "price: 10.90, serves: wood screws 38}",
        [
            'shop.yaml:9:64 packs[1].serves: found "wood screws 38"; expected an item as it is counted. Did you mean wood screw?'
        ],
    ),
    (
        "shop.yaml",
        "price: 10.90}",
        "price: 10.90, serves: [wood screw, cup hinge]}",
        ['shop.yaml:9:64 packs[1].serves: found "wood screw"; expected `wood screw` and a length.'],
    ),
    (
        "shop.yaml",
        "products:",
        "saw: {goals: 'leftover, turns'}\nproducts:",
        [
            'shop.yaml:10:14 saw.goals: found "leftover, turns"; expected a text, or a list of texts. Put several into brackets: [leftover, turns].'
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
    (
        "shop.yaml",
        "price: 74.00",
        "price: 74.00, sizes: [{size: 2440 x 1220, price: 9}, {size: 3000 x 1500, price: 8}, {size: 3000 x 1500, price: 7}]",
        [
            "shop.yaml:3:123 sheets[1].sizes[1].size: found 2440 mm x 1220 mm a second time; expected each size once, the sheet's own among them.",
            "shop.yaml:3:185 sheets[1].sizes[3].size: found 3000 mm x 1500 mm a second time; expected each size once, the sheet's own among them.",
        ],
    ),
    (
        "shop.yaml",
        "price: 74.00",
        "price: 74.00, offcuts: [{size: 3000 x 300}, {size: 1200 x 2400}, {size: 2440 x 1220}, {size: 1200 y 2}]",
        [
            "shop.yaml:3:125 sheets[1].offcuts[1].size: found 3000 mm x 300 mm; expected a piece of a sheet for sale, the largest 2440 mm x 1220 mm. Another size of sheet goes under `sizes`; length first, along the grain.",
            "shop.yaml:3:145 sheets[1].offcuts[2].size: found 1200 mm x 2400 mm; expected a piece of a sheet for sale, the largest 2440 mm x 1220 mm. Another size of sheet goes under `sizes`; length first, along the grain.",
            'shop.yaml:3:187 sheets[1].offcuts[4].size: found "1200 y 2"; expected two lengths with x between them, such as 74 x 86.',
        ],
    ),
    (
        "shop.yaml",
        "name: birch 6,",
        "name: birch 18,",
        [
            'shop.yaml:4:5 sheets[2]: found "birch 18" a second time; expected each name once, for labels and cutting pages go by it; it stands on line 3 too.',
        ],
    ),
    (
        "shop.yaml",
        "packs:",
        "saw: {goals: [turns, cheap, Turns]}\npacks:",
        [
            'shop.yaml:8:14 saw.goals: found "cheap"; expected leftover, settings, turns in any order. Money always comes first.',
            'shop.yaml:8:14 saw.goals: found "turns" a second time; expected each goal once.',
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
