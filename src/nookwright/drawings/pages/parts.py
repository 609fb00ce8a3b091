"""Parts chapter: the list with saw settings, then a drawing of every part that is more than a plain rectangle."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from nookwright.basics.lengths import Marks, show
from nookwright.drawings.blocks import Paragraph
from nookwright.drawings.flow import flow
from nookwright.drawings.lettering import NOTES_MM
from nookwright.drawings.pages.part_sheets import numbers_said, part_sheets
from nookwright.drawings.part_sizes import EdgeCut, alike, degrees, edge_cuts, plain, turned
from nookwright.drawings.sheet import Draft, Issue
from nookwright.drawings.tables import Column, Table
from nookwright.stages.parts.part import Part, PartList
from nookwright.stages.parts.sizes import SAME_MM, as_printed, sizes


def list_pages(parts: PartList, issue: Issue) -> tuple[Draft, ...]:
    """Return the parts list: one table, module after module; parts that are alike share a row.

    Args:
        parts: every part.
        issue: units and paper.
    """
    words = Paragraph(
        text="LP: length at the long point; SP: at the short point. Sizes are finished sizes without scribe "
        "allowance, rounded down for what must enter a gap and up for what covers one. Off square: edge, angle across "
        "the board, blade tilt; all other edges are square. A star marks a part that has a drawing of its own.",
        height_mm=NOTES_MM,
    )
    rows: list[tuple[str, ...]] = []
    for module in sorted({part.module for part in parts.parts}, key=lambda name: _first(parts, name)):
        own = [part for part in parts.parts if part.module == module]
        rows += [(module[0].upper() + module[1:],), *(_row(same, issue.marks) for same in grouped(own))]
    table = Table(columns=_COLUMNS, rows=tuple(rows), pad_mm=0.5)
    return flow("Parts list", (words, table, *_edging(parts)), issue.paper, landscape=True)


def _edging(parts: PartList) -> Iterator[Paragraph]:
    """Yield what is glued on edges, for the list has no room for it in its rows."""
    for item, edged in sorted({(part.edging, part.edged) for part in parts.parts if part.edging}):
        numbers = numbers_said([part.number for part in parts.parts if (part.edging, part.edged) == (item, edged)])
        yield Paragraph(text=f"Edging, on top of these sizes: {item} on {edged} of {numbers}.")


def drawing_pages(parts: PartList, issue: Issue) -> tuple[Draft, ...]:
    """Return the drawings of every part that is more than a plain rectangle, as many a sheet as fit.

    Args:
        parts: every part.
        issue: units and paper.

    Returns:
        The sheets; parts that are alike share a drawing, and all on one sheet share its scale.
    """
    groups = grouped([part for part in parts.parts if not plain(part)])
    return part_sheets(groups, issue)


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
    Column(title="No.", share=35, bold=True),
    Column(title="Pcs", share=14, bold=True, align="end"),
    Column(title="Part", share=42),
    Column(title="Stock", share=34),
    Column(title="LP", share=22),
    Column(title="SP", share=22),
    Column(title="Width", share=20),
    Column(title="Thick", share=19),
    Column(title="Off square", share=42),
    Column(title="Scribe", share=25),
)


def _off_square(cut: EdgeCut) -> str:
    """Return an edge's letter with its angle across the board, its blade tilt, or both."""
    across = f" {degrees(cut.mitre_deg)}" if turned(cut.mitre_deg) else ""
    return f"{cut.letter}{across}" + (f" tilt {degrees(cut.tilt_deg)}" if turned(cut.tilt_deg) else "")


def _row(same: tuple[Part, ...], marks: Marks) -> tuple[str, ...]:
    part = same[0]
    printed, way = as_printed(part, marks)
    size = sizes(printed)
    differs = size.long_mm - size.short_mm > SAME_MM
    cuts = edge_cuts(part)
    angled = [_off_square(cut) for cut in cuts if turned(cut.mitre_deg) or turned(cut.tilt_deg)]
    scribes = [f"{cut.letter} + {show(cut.scribe_mm, marks, way='up')}" for cut in cuts if cut.scribe_mm]
    return (
        numbers_said([each.number for each in same]) + ("" if plain(part) else "*"),
        str(len(same) * part.pieces),
        part.name,
        part.stock,
        show(size.long_mm, marks, way=way),
        show(size.short_mm, marks, way=way) if differs else "",
        show(size.width_mm, marks, way=way),
        show(part.thickness_mm, marks),
        ", ".join(angled),
        "\n".join(scribes),
    )
