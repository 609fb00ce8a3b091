"""What counts once the money is settled: the largest leftover, few fence settings, few turns; measured on the plan."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from nookwright.stages.cutting.cutting_plan import Cut, SheetPlan
from nookwright.stages.inputs.shop import Goal, Saw


def settings_of(cuts: Sequence[Cut]) -> int:
    """Return how often a fence, stop or track is set: cuts at one setting that follow each other count once."""
    ways = [(cut.by, cut.at_mm) for cut in cuts]
    return len(ways[:1]) + sum(one != other for one, other in pairwise(ways))


def turns_of(cuts: Sequence[Cut]) -> int:
    """Return how often a piece is turned: once where a cut runs across the one before it."""
    return sum(one.along != other.along for one, other in pairwise(cuts))


def largest_left_mm2(sheets: Sequence[SheetPlan]) -> float:
    """Return the area of the largest piece left over and worth keeping. [mm2]"""
    return max((left.length_mm * left.width_mm for sheet in sheets for left in sheet.leftovers), default=0.0)


def leftover_share(sheets: Sequence[SheetPlan], saw: Saw) -> float:
    """Return the largest piece left over as a share of the most that these sheets could leave in one, 0 to 1.

    No piece left over is larger than what is left in all, nor than the largest sheet inside its trimmed edges.
    """
    usable = [_usable_mm2(sheet, saw) for sheet in sheets]
    parts = sum(one.length_mm * one.width_mm for sheet in sheets for one in sheet.placed)
    most = min(sum(usable) - parts, max(usable, default=0.0))
    return largest_left_mm2(sheets) / most if most > 0 else 1.0


def goals_said(sheets: Sequence[SheetPlan], saw: Saw) -> tuple[str, ...]:
    """Return what a plan reaches of each goal, in the user's order, with its bound where one is known.

    A sheet that is cut takes a setting at least. A part free of the factory edges on all sides takes cuts both ways, so
    a turn on every sheet that has such edges.

    Args:
        sheets: the sheets of one stock.
        saw: what is trimmed off factory edges, and the goals.
    """
    left = largest_left_mm2(sheets)
    settings = sum(settings_of(sheet.cuts) for sheet in sheets)
    turns = sum(turns_of(sheet.cuts) for sheet in sheets)
    cut = sum(bool(sheet.cuts) for sheet in sheets)
    least = sum(not sheet.offcut and saw.trim_mm > 0 and bool(sheet.cuts) for sheet in sheets)
    less = math.ceil(100 * (1 - leftover_share(sheets, saw)) - 1e-6)
    said: dict[Goal, str] = {
        "leftover": f"the largest piece left over is within {less} % of the most these sheets could leave",
        "settings": f"{_counted(settings, 'setting')} of fence or stop, {_fewest(settings, cut)}",
        "turns": f"{_counted(turns, 'turn')} of a piece, {_fewest(turns, least)}",
    }
    return tuple(said[goal] for goal in saw.goals if goal != "leftover" or left)


def _fewest(count: int, least: int) -> str:
    """Return how near to the fewest settings or turns possible."""
    if count <= least:
        return "the fewest possible on these sheets"
    return f"{least} at least on any such sheets" if least else "no bound known"


def _counted(count: int, what: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'}"


def _usable_mm2(sheet: SheetPlan, saw: Saw) -> float:
    trim = 0.0 if sheet.offcut else 2 * saw.trim_mm
    return (sheet.length_mm - trim) * (sheet.width_mm - trim)


def handling_rank(cuts: Sequence[Cut], goals: Sequence[Goal]) -> tuple[int, ...]:
    """Return what makes one order of cuts better than another, the first goal first; less is better."""
    measured = {"settings": settings_of(cuts), "turns": turns_of(cuts)}
    return tuple(measured[goal] for goal in goals if goal in measured)


def plan_rank(sheets: Sequence[SheetPlan], goals: Sequence[Goal]) -> tuple[float, ...]:
    """Return what makes one plan for the same money better than another; less is better."""
    measured = {
        "leftover": -largest_left_mm2(sheets),
        "settings": float(sum(settings_of(sheet.cuts) for sheet in sheets)),
        "turns": float(sum(turns_of(sheet.cuts) for sheet in sheets)),
    }
    return tuple(measured[goal] for goal in goals)
