"""Where parts that are too long for their stock are split: each as a bar with its split lines and what they lie on."""

from __future__ import annotations

from itertools import pairwise

from nookwright.basics.lengths import show
from nookwright.drawings.clearance import Taken
from nookwright.drawings.dimensions import Chain, chain
from nookwright.drawings.lettering import drawable, line_pitch_mm, wrapped
from nookwright.drawings.page import Item, Line, Text
from nookwright.drawings.sheet import Draft, Issue, body, chosen_scale
from nookwright.drawings.view import View
from nookwright.stages.cutting.cutting_plan import CuttingPlan

_LOWEST_BAR_MM, _HIGHEST_BAR_MM = 6.0, 30.0
_BELOW_MM = 24.0


def split_pages(cutting: CuttingPlan, issue: Issue) -> tuple[Draft, ...]:
    """Return pages of split parts; none where no part is split.

    Args:
        cutting: what is too long, and where it is split.
        issue: units and paper.
    """
    split = [one for one in cutting.too_large if one.split_mm]
    if not split:
        return ()
    area = body(issue.paper, landscape=True, scaled=True)
    scale = chosen_scale((max(one.length_mm for one in split), 0.0), (area.width - 4.0, 1.0))
    pages: list[list[Item]] = [[]]
    y = area.y
    for one in split:
        lines = wrapped(drawable(f"{one.part}: {one.cure}."), area.width, 3.5, bold=True)
        tall = min(_HIGHEST_BAR_MM, max(_LOWEST_BAR_MM, one.width_mm / scale))
        needed = len(lines) * line_pitch_mm(3.5) + tall + _BELOW_MM
        if y + needed > area.bottom and pages[-1]:
            pages.append([])
            y = area.y
        words = [
            Text(at=(area.x, y + 3.5 + i * line_pitch_mm(3.5)), text=line, bold=True) for i, line in enumerate(lines)
        ]
        top = y + len(lines) * line_pitch_mm(3.5) + 3.0
        view = View(scale=scale, origin=(area.x + 2.0, top + tall))
        bar = view.polygon(((0, 0), (one.length_mm, 0), (one.length_mm, tall * scale), (0, tall * scale)), fill="tint")
        cuts = [
            Line(start=(x, top - 2.0), end=(x, top + tall + 2.0), pen="wide", dash="dashed")
            for x in (view.at((place, 0.0))[0] for place in one.split_mm)
        ]
        taken = Taken(within=area)
        taken.note((*words, bar, *cuts))
        places = (0.0, *one.split_mm, one.length_mm)
        sizes = chain(
            Chain(
                direction="level",
                points=tuple(view.at((place, 0.0)) for place in places),
                labels=tuple(show(b - a, issue.marks) for a, b in pairwise(places)),
                line_at=top + tall + 8.0,
                overall=show(one.length_mm, issue.marks),
            ),
            taken,
        )
        pages[-1] += [bar, *words, *cuts, *sizes]
        y += needed
    return tuple(
        Draft(name="Cutting: where to split", items=tuple(items), scale=scale, landscape=True) for items in pages
    )
