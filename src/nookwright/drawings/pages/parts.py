"""Parts chapter: the list with saw settings, then a drawing of every part that is more than a plain rectangle."""

from __future__ import annotations

from collections.abc import Sequence

from nookwright.basics.lengths import Marks, show
from nookwright.drawings.flow import Block, Heading, Paragraph, flow
from nookwright.drawings.part_drawing import draw_part, drawing_area, extent
from nookwright.drawings.part_sizes import SAME_MM, alike, degrees, edge_cuts, plain, sizes, turned, way_of
from nookwright.drawings.sheet import Draft, Issue, body, chosen_scale
from nookwright.drawings.tables import Column, Table
from nookwright.stages.parts.part import Part, PartList


def pages(parts: PartList, issue: Issue) -> tuple[Draft, ...]:
    """Return the chapter's sheets.

    Args:
        parts: every part.
        issue: units and paper.

    Returns:
        The list, then the drawings, one part a sheet; parts that are alike share theirs.
    """
    return (*_list(parts, issue), *_drawings(parts, issue))


def _list(parts: PartList, issue: Issue) -> tuple[Draft, ...]:
    """Return the parts list, one table for each module."""
    blocks: list[Block] = [
        Paragraph(
            text="LP: length at the long point; SP: at the short point. Sizes are finished sizes without scribe "
            "allowance, rounded down for what must enter a gap and up for what covers one. Off square: how far the "
            "saw's fence or blade is turned from square. A star marks a part that has a drawing of its own."
        )
    ]
    modules = sorted({part.module for part in parts.parts}, key=lambda name: _first(parts, name))
    for module in modules:
        own = [part for part in parts.parts if part.module == module]
        rows = tuple(_row(same, issue.marks) for same in grouped(own))
        blocks += [Heading(text=module), Table(columns=_COLUMNS, rows=rows)]
    return flow("Parts list", blocks, issue.paper, landscape=True)


def grouped(parts: Sequence[Part]) -> tuple[tuple[Part, ...], ...]:
    """Return parts in groups that one line and one drawing serve, in the order of their first.

    Args:
        parts: any parts.

    Returns:
        The groups.
    """
    groups: dict[tuple[object, ...], list[Part]] = {}
    for part in parts:
        groups.setdefault(alike(part), []).append(part)
    return tuple(tuple(group) for group in groups.values())


def _first(parts: PartList, module: str) -> int:
    return next(i for i, part in enumerate(parts.parts) if part.module == module)


_COLUMNS = (
    Column(title="No.", share=26, bold=True),
    Column(title="Pcs", share=18, bold=True, align="end"),
    Column(title="Part", share=44),
    Column(title="Stock", share=34),
    Column(title="LP", share=24),
    Column(title="SP", share=24),
    Column(title="Width", share=24),
    Column(title="Thick", share=23),
    Column(title="Off square: edge, angle, tilt", share=52),
    Column(title="Scribe", share=26),
)


def _row(same: tuple[Part, ...], marks: Marks) -> tuple[str, ...]:
    part = same[0]
    size, way = sizes(part), way_of(part)
    differs = size.long_mm - size.short_mm > SAME_MM
    cuts = edge_cuts(part)
    angled = [
        f"{cut.letter} {degrees(cut.mitre_deg)}" + (f" tilt {degrees(cut.tilt_deg)}" if turned(cut.tilt_deg) else "")
        for cut in cuts
        if turned(cut.mitre_deg) or turned(cut.tilt_deg)
    ]
    scribes = [f"{cut.letter} + {show(cut.scribe_mm, marks, way='up')}" for cut in cuts if cut.scribe_mm]
    return (
        ", ".join(each.number for each in same) + ("" if plain(part) else "*"),
        str(len(same) * part.pieces),
        part.name,
        part.stock,
        show(size.long_mm, marks, way=way),
        show(size.short_mm, marks, way=way) if differs else "same",
        show(size.width_mm, marks, way=way),
        show(part.thickness_mm, marks),
        "\n".join(angled) or "all square",
        "\n".join(scribes) or "none",
    )


def _drawings(parts: PartList, issue: Issue) -> tuple[Draft, ...]:
    """Return one sheet for each part that is more than a plain rectangle."""
    drawn = [part for part in parts.parts if not plain(part)]
    return tuple(_sheet(same, issue) for same in grouped(drawn))


def _sheet(same: tuple[Part, ...], issue: Issue) -> Draft:
    """Return the sheet of a part and those like it, upright or lying, whichever shows it larger."""
    part = same[0]
    lying, upright = (_scale(part, issue, landscape=landscape) for landscape in (True, False))
    landscape = lying <= upright
    area = body(issue.paper, landscape=landscape, scaled=True)
    scale = min(lying, upright)
    items = draw_part(part, area, issue.marks, scale)
    numbers = ", ".join(each.number for each in same)
    name = f"Part {numbers}" if len(same) == 1 else f"Parts {numbers}: {len(same)} alike"
    return Draft(name=name, items=items, scale=scale, landscape=landscape)


def _scale(part: Part, issue: Issue, *, landscape: bool) -> int:
    low, high = extent(part)
    space = drawing_area(part, body(issue.paper, landscape=landscape, scaled=True), issue.marks)
    return chosen_scale((high[0] - low[0], high[1] - low[1]), (space.width, space.height))
