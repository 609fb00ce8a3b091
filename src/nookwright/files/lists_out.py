"""The parts, cutting and buying lists as CSV, for spreadsheets."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterable

from nookwright.basics.lengths import Marks, show
from nookwright.stages.buying.buy_list import BuyList
from nookwright.stages.cutting.cutting_plan import CuttingPlan, SharedCut
from nookwright.stages.parts.part import Edge, Part, PartList
from nookwright.stages.parts.sizes import cut_size_mm

_FINE = {"mm": Marks(units="mm", resolution=0.1), "inch": Marks(units="inch", resolution=1 / 64)}
"""Marks for thicknesses: a batch of board is measured with a calliper, finer than a saw is set."""


def parts_csv(parts: PartList, marks: Marks) -> str:
    """Return the parts list: one row a part, blank sizes as the sawyer sets them, scribe allowances left on.

    Args:
        parts: every part.
        marks: the marks people read.
    """
    unit = marks.units
    heading = (
        "part", "name", "module", "stock", f"blank length [{unit}]", f"blank width [{unit}]", f"thickness [{unit}]",
        "boards glued", "bevels [deg]", f"scribe [{unit}]", "cut-outs", "notes",
    )  # fmt: skip
    return _csv(heading, (_part_row(part, marks) for part in parts.parts))


def _part_row(part: Part, marks: Marks) -> tuple[object, ...]:
    length, width = cut_size_mm(part, marks)
    return (
        part.number,
        part.name,
        part.module,
        part.stock,
        show(length, marks),
        show(width, marks),
        show(part.thickness_mm, _FINE[marks.units]),
        part.pieces,
        "; ".join(
            _bevel(number, edge) for number, edge in enumerate(part.edges, start=1) if abs(edge.bevel_rad) > 1e-9
        ),
        "; ".join(
            f"edge {number} {show(edge.scribe_mm, marks, way='up')}"
            for number, edge in enumerate(part.edges, start=1)
            if edge.scribe_mm > 0
        ),
        "; ".join(cutout.purpose for cutout in part.cutouts),
        "; ".join(part.notes),
    )


def _bevel(number: int, edge: Edge) -> str:
    """Return an edge's saw tilt; above 0 where the far face is the larger."""
    return f"edge {number} {math.degrees(edge.bevel_rad):.1f}"


def cutting_csv(plan: CuttingPlan, marks: Marks) -> str:
    """Return every piece with the sheet or board it comes from, in cutting order.

    A piece turned on its sheet has its grain across it; its length is the part's own. Where it starts is told along and
    across its sheet or board: across a board, its lane.

    Args:
        plan: the cutting plan.
        marks: the marks people read.
    """
    unit = marks.units
    heading = (
        "stock", "piece of stock", "part", f"length [{unit}]", f"width [{unit}]", f"from its start [{unit}]", "turned",
        "cut before it: mitre / tilt [deg]", f"size of that piece of stock [{unit}]",
    )  # fmt: skip
    rows: list[tuple[object, ...]] = [
        (sheet.stock, sheet.index, placed.part, *(show(size, marks) for size in placed.own_size_mm),
         f"{show(placed.x_mm, marks)} / {show(placed.y_mm, marks)}", "turned" if placed.turned else "", "",
         _stock_size(f"{show(sheet.length_mm, marks)} x {show(sheet.width_mm, marks)}", offcut=sheet.offcut))
        for sheet in plan.sheets
        for placed in sheet.placed
    ]  # fmt: skip
    rows += [
        (
            board.stock,
            board.index,
            piece.part,
            show(piece.length_mm, marks),
            show(piece.width_mm, marks),
            f"{show(piece.at_mm, marks)} / {show(piece.across_mm, marks)}",
            "" if piece.laid == "as drawn" else piece.laid,
            _slant(piece.shared),
            _stock_size(
                show(board.length_mm, marks) + (f" x {show(board.width_mm, marks)}" if board.width_mm else ""),
                offcut=board.offcut,
            ),
        )
        for board in plan.boards
        for piece in board.pieces
    ]
    return _csv(heading, rows)


def _stock_size(size: str, *, offcut: bool) -> str:
    return f"offcut {size}" if offcut else size


def _slant(cut: SharedCut | None) -> str:
    if cut is None:
        return ""
    return f"{abs(math.degrees(cut.mitre_rad)):.1f} / {abs(math.degrees(cut.tilt_rad)):.1f}"


def buying_csv(buying: BuyList) -> str:
    """Return the buying list; a line without a price has none in the shop file.

    Args:
        buying: the list.
    """
    money = buying.currency
    heading = (
        "to have",
        "group",
        "item",
        "needed",
        "unit",
        "packs",
        "pack",
        f"price [{money}]",
        f"cost [{money}]",
        "why",
    )
    rows: list[tuple[object, ...]] = [
        (line.to_have, line.group, line.item, f"{line.needed:.3f}".rstrip("0").rstrip("."), line.unit,
         line.packs, line.pack,
         "" if line.price is None else line.price, "" if line.cost is None else line.cost, line.why)
        for line in buying.lines
    ]  # fmt: skip
    rows.append(("total", "", "", "", "", "", "", "", buying.total, ""))
    if buying.tax_percent is not None:
        held = "held by the total" if buying.to_pay == buying.total else "on top of the total"
        rows.append(("tax", "", "", "", "", "", "", "", buying.tax, f"{buying.tax_percent} %, {held}"))
        rows.append(("to pay", "", "", "", "", "", "", "", buying.to_pay, ""))
    return _csv(heading, rows)


def _csv(heading: tuple[str, ...], rows: Iterable[tuple[object, ...]]) -> str:
    """Return rows as CSV (RFC 4180); a text that a spreadsheet would take for a formula gets a leading apostrophe."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(heading)
    writer.writerows([_plain(value) for value in row] for row in rows)
    return out.getvalue()


def _plain(value: object) -> object:
    return f"'{value}" if isinstance(value, str) and value[:1] in ("=", "+", "@") else value
