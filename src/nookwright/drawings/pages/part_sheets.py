"""Part drawings on sheets: one below another as long as they fit, all on a sheet at one scale."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise

from nookwright.drawings.page import Area, Item, Line
from nookwright.drawings.part_drawing import draw_part, room_needed
from nookwright.drawings.sheet import SCALES, Draft, Issue, body
from nookwright.stages.parts.part import Part

READABLE_SCALE = 20
"""Parts are drawn smaller than this only where even a whole sheet leaves no choice. Our choice."""

_LARGEST_SCALE = 5
"""Small parts need not be drawn larger: their figures would stay the same. Our choice."""

_GAP_MM = 6.0

Alike = tuple[Part, ...]
"""Parts that one drawing serves."""


def part_sheets(groups: Sequence[Alike], issue: Issue) -> tuple[Draft, ...]:
    """Return the sheets of part drawings.

    Args:
        groups: parts that are alike, in the order of the list.
        issue: units and paper.

    Returns:
        Sheets from the largest scale to the smallest, parts in the order of the list within a scale.
    """
    area = body(issue.paper, scaled=True)
    chosen = [(same, *_scale(same, area, issue)) for same in groups]
    drafts: list[Draft] = []
    lone: list[Alike] = []
    for scale in [scale for scale in SCALES if scale >= _LARGEST_SCALE]:
        upright = [same for same, of_scale, lying in chosen if not lying and (of_scale == scale or same in lone)]
        sheets = _filled(upright, scale, area, issue)
        # A part alone on its sheet may share one at the next smaller scale, so that few sheets are half empty.
        lone = [sheet[0][0] for sheet in sheets if len(sheet) == 1 and scale < READABLE_SCALE]
        drafts += [_sheet(sheet, scale, area, issue, landscape=False) for sheet in sheets if sheet[0][0] not in lone]
        paper = body(issue.paper, landscape=True, scaled=True)
        level = [same for same, of_scale, lying in chosen if lying and of_scale == scale]
        drafts += [_sheet(sheet, scale, paper, issue, landscape=True) for sheet in _filled(level, scale, paper, issue)]
    return tuple(drafts)


def numbers_said(numbers: Sequence[str]) -> str:
    """Return part numbers with runs of three or more shortened.

    Example:
        >>> numbers_said(["P3", "P4", "P5", "B6", "B7"])
        'P3 to P5, B6, B7'
    """
    runs: list[list[str]] = []
    for number in numbers:
        if runs and _follows(runs[-1][-1], number):
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(run) for run in runs)


def _follows(before: str, number: str) -> bool:
    """Whether a number is the next one of the same letter."""
    a, b = (re.fullmatch(r"(\D*)(\d+)", text) for text in (before, number))
    return a is not None and b is not None and a[1] == b[1] and int(b[2]) == int(a[2]) + 1


def _needs(same: Alike, scale: int, area: Area, issue: Issue) -> tuple[float, float]:
    return room_needed(same[0], [part.number for part in same[1:]], issue.marks, scale, area.width)


def _scale(same: Alike, area: Area, issue: Issue) -> tuple[int, bool]:
    """Return the largest scale at which a part takes half an upright sheet, and whether it needs a lying one.

    Where no readable scale gives that, the largest that fits a whole sheet either way.
    """
    allowed = [scale for scale in SCALES if scale >= _LARGEST_SCALE]
    for scale in (each for each in allowed if each <= READABLE_SCALE):
        wide, tall = _needs(same, scale, area, issue)
        if wide <= area.width and tall <= (area.height - _GAP_MM) / 2:
            return scale, False
    lying = body(issue.paper, landscape=True, scaled=True)
    for scale in allowed:
        for landscape, paper in ((False, area), (True, lying)):
            wide, tall = _needs(same, scale, paper, issue)
            if wide <= paper.width and tall <= paper.height:
                return scale, landscape
    return SCALES[-1], True


def _filled(groups: Sequence[Alike], scale: int, area: Area, issue: Issue) -> list[list[tuple[Alike, float]]]:
    """Return the parts sheet by sheet, each on the first with room, with the height it takes. [mm]"""
    sheets: list[list[tuple[Alike, float]]] = []
    for same in groups:
        tall = _needs(same, scale, area, issue)[1]
        for sheet in sheets:
            if sum(other + _GAP_MM for _, other in sheet) + tall <= area.height:
                sheet.append((same, tall))
                break
        else:
            sheets.append([(same, tall)])
    return sheets


def _sheet(on_sheet: Sequence[tuple[Alike, float]], scale: int, area: Area, issue: Issue, *, landscape: bool) -> Draft:
    """Return one sheet; what height is left over is shared out between its parts."""
    spare = max(0.0, area.height - sum(tall + _GAP_MM for _, tall in on_sheet) + _GAP_MM)
    share = min(spare / len(on_sheet), _MOST_SPARE_MM)
    items: list[Item] = []
    ys = [area.y]
    for same, tall in on_sheet:
        block = Area(x=area.x, y=ys[-1], width=area.width, height=tall + share)
        items.extend(draw_part(same[0], [part.number for part in same[1:]], block, issue.marks, scale))
        ys.append(block.bottom + _GAP_MM)
    for _, y in pairwise(ys[:-1]):
        items.append(Line(start=(area.x, y - _GAP_MM / 2), end=(area.right, y - _GAP_MM / 2), ink="grey"))
    numbers = numbers_said([part.number for same, _ in on_sheet for part in same])
    name = f"Part {numbers}" if "," not in numbers and " to " not in numbers else f"Parts {numbers}"
    return Draft(name=name, items=tuple(items), scale=scale, landscape=landscape)


_MOST_SPARE_MM = 30.0
"""Height shared out to each part at most, so that a lone part keeps its table near. Our choice."""
