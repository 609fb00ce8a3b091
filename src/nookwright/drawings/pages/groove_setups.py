"""Housings and rebates of the cutting chapter: what is cut at each setting of cutter and fence, all parts together."""

from __future__ import annotations

from itertools import groupby

from nookwright.basics.lengths import Marks, show
from nookwright.drawings.blocks import Heading, Paragraph
from nookwright.drawings.flow import flow
from nookwright.drawings.sheet import Draft, Issue
from nookwright.drawings.tables import Column, Table
from nookwright.stages.cutting.groove_setups import GrooveCut, GrooveSetup, groove_setups
from nookwright.stages.parts.part import PartList

_FINE = {"mm": Marks(units="mm", resolution=0.1), "inch": Marks(units="inch", resolution=1 / 64)}
_COLUMNS = (
    Column(title="Fence", share=28, bold=True, height_mm=5.0),
    Column(title="From the drawing's", share=36),
    Column(title="Part and face", share=50, bold=True),
    Column(title="For", share=72),
)


def setup_pages(parts: PartList, issue: Issue) -> tuple[Draft, ...]:
    """Return the set-ups, a table for each width and depth; nothing for a job without housings and rebates.

    Args:
        parts: every part.
        issue: units and paper.
    """
    setups = groove_setups(parts)
    if not setups:
        return ()
    fine = _FINE[issue.marks.units]
    blocks: list[Paragraph | Heading | Table] = [
        Paragraph(
            text="Set the cutter for one width and depth, then the fence for one distance after the other; cut every "
            "part of that line before the next. The distance is from the edge of the blank to the near side of the "
            "groove. Stopped: it ends inside the board, as its drawing shows. On face B work from the same edge. "
            "Try each setting on waste of the same batch.",
        )
    ]
    for (width, depth), group in groupby(setups, key=lambda one: (one.width_mm, one.depth_mm)):
        cuts = list(group)
        count = sum(len(one.cuts) for one in cuts)
        grooves = "1 groove" if count == 1 else f"{count} grooves"
        title = f"{show(width, fine)} wide, {show(depth, fine)} deep: {grooves}"
        blocks.append(Heading(text=title))
        blocks.append(Table(columns=_COLUMNS, rows=tuple(_row(one, issue.marks) for one in cuts), pad_mm=0.6))
    return flow("Cutting: housings and rebates", blocks, issue.paper)


def _row(setup: GrooveSetup, marks: Marks) -> tuple[str, ...]:
    fence = "by hand" if setup.edge == "slanting" else show(setup.from_edge_mm, marks)
    edge = "own drawing" if setup.edge == "slanting" else setup.edge
    return fence, edge, ", ".join(_named(cut) for cut in setup.cuts), ", ".join(_received(setup))


def _named(cut: GrooveCut) -> str:
    return f"{cut.part} {cut.face}{' stopped' if cut.stopped else ''}"


def _received(setup: GrooveSetup) -> list[str]:
    return list(dict.fromkeys(cut.receives for cut in setup.cuts))
