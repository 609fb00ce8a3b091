"""How far one walks for the readings of a field sheet, against three other orders of the same readings.

    python bench/walking.py

Distances are those on the nominal plan, from beside the tools to the last reading, past the tools at every change of
tool; a tape's hook stays where it lies as long as the next tape starts there. Seeds are fixed.
"""

from __future__ import annotations

import random
import statistics
from collections.abc import Mapping, Sequence
from itertools import groupby, pairwise

from nookwright.stages.survey.asked import sheet_list
from nookwright.stages.survey.field_lists import ToTake, field_list
from nookwright.stages.survey.kind_table import SHAPES, kind_shape
from nookwright.stages.survey.walking import Place, station, walked_mm

TRIES = 200
HEAD = (
    "| Kind | As listed, by what it is for [m] | Shuffled within tool and level [m] | Shuffled wholly [m] | Sheet [m] "
    "| less than as listed | less than shuffled within | less than shuffled | Changes of tool | Changes of level |"
)


def shuffled(readings: Sequence[ToTake], places: Mapping[str, Place], dice: random.Random) -> list[ToTake]:
    """Return the readings in any order within each tool and level."""
    found: list[ToTake] = []
    for _, group in groupby(
        sorted(readings, key=lambda one: station(one, places)), key=lambda one: station(one, places)
    ):
        these = list(group)
        dice.shuffle(these)
        found += these
    return found


def main() -> None:
    """Print the table."""
    print(f"{HEAD}\n|{'---|' * HEAD.count(' |')}")
    dice = random.Random(1)  # noqa: S311  orders to compare with, nothing secret
    for kind in SHAPES:
        places = {name: column.place for name, column in kind_shape(kind).columns.items()}
        listed, sheet = field_list(kind).readings, sheet_list(kind).readings
        within = statistics.mean(walked_mm(shuffled(listed, places, dice), places) for _ in range(TRIES))
        wholly = statistics.mean(walked_mm(dice.sample(listed, len(listed)), places) for _ in range(TRIES))
        other, ours = walked_mm(listed, places), walked_mm(sheet, places)
        stations = [station(one, places) for one in sheet]
        tools = sum(first[0] != second[0] for first, second in pairwise(stations))
        levels = sum(first[0] == second[0] and first[1] != second[1] for first, second in pairwise(stations))
        metres = " | ".join(f"{size / 1000:.1f}" for size in (other, within, wholly, ours))
        saved = " | ".join(f"{1 - ours / size:.2f}" for size in (other, within, wholly))
        print(f"| {kind} | {metres} | {saved} | {tools} | {levels} |")


if __name__ == "__main__":
    main()
