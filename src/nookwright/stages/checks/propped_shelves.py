"""Findings of boards that dividers stand on or prop: sag, strength and ends by the box's frame."""

from __future__ import annotations

from dataclasses import replace

from nookwright.basics.findings import Finding, Verdict
from nookwright.stages.checks.box_frame import FramedBoard, framed_boards
from nookwright.stages.checks.masses import room_extent
from nookwright.stages.checks.said import fine
from nookwright.stages.checks.shelf_load import LoadedShelf, strength_finding
from nookwright.stages.design.design import Box, Design, Shelf
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.parts.part import Part
from nookwright.trade.creep import FORMULA as CREEP_FORMULA
from nookwright.trade.creep import long_term_sag

FRAME_FORMULA = "stiffness method: uprights carry, boards hinged to them and bent over the dividers they bear on"

SAME_MM = 25.0
"""A part whose faces lie this near to a shelf of the design is that shelf. Common practice, no source."""


def framed_parts(design: Design, parts: tuple[Part, ...], brief: Brief) -> dict[str, FramedBoard]:
    """Return what the boards do that dividers bear on, by part number.

    Args:
        design: the boxes.
        parts: to find each shelf's number.
        brief: the load.
    """
    found: dict[str, FramedBoard] = {}
    for box in design.boxes:
        if box.bought is None:
            for shelf, board in framed_boards(box, brief).items():
                found.update({part.number: board for part in parts if _is(part, shelf, box)})
    return found


def _is(part: Part, shelf: Shelf, box: Box) -> bool:
    """Return whether a part is a shelf of a box."""
    if part.module != box.name or part.role != "shelf":
        return False
    (x0, _, z0), (x1, _, _) = room_extent(part)
    return max(abs(x0 - shelf.x0_mm), abs(x1 - shelf.x1_mm), abs(z0 - shelf.z_mm)) <= SAME_MM


def at_its_ends(shelf: LoadedShelf, board: FramedBoard) -> LoadedShelf:
    """Return the shelf with the even load that would press its ends as the frame does."""
    return replace(shelf, carries_n_mm=2 * board.end_n / shelf.span_mm)


def framed_findings(shelf: LoadedShelf, board: FramedBoard, brief: Brief) -> list[Finding]:
    """Return a shelf's sag and strength as the frame has them.

    Args:
        shelf: its load, limit and wood.
        board: what the frame says.
        brief: for the units people read.
    """
    return [_sag(shelf, board, brief), _strength(shelf, board, brief)]


def _sag(shelf: LoadedShelf, board: FramedBoard, brief: Brief) -> Finding:
    """Return whether it stays within the sag accepted."""
    later = long_term_sag(initial_mm=board.sag_mm, creep=shelf.creep)
    verdict: Verdict = "fail" if board.sag_mm > shelf.limit_mm else ("caution" if later > shelf.limit_mm else "pass")
    stands = f" {len(board.stands_mm)} of the dividers on it stand on nothing below." if board.stands_mm else ""
    return Finding(
        topic="shelf sag",
        subject=f"{shelf.part.name} {shelf.part.number}",
        verdict=verdict,
        summary=(
            f"With the dividers that bear on it, it sags {fine(board.sag_mm, brief)} when loaded, {fine(later, brief)} "
            f"after years; {fine(shelf.limit_mm, brief)} is accepted.{stands}"
        ),
        demand=later,
        limit=shelf.limit_mm,
        unit="mm",
        formula=f"{FRAME_FORMULA}; {CREEP_FORMULA}",
        worked=(
            f"w = {shelf.load_n_mm:.4f} N/mm, E = {shelf.modulus_n_mm2:.0f}, b = {shelf.depth_mm:.0f}, "
            f"t = {shelf.part.thickness_mm:.1f}: {board.sag_mm:.2f} mm; x {shelf.creep:.3g} = {later:.2f} mm later"
        ),
        source_keys=("beam-tables", shelf.wood.along_n_mm2.source, shelf.wood.creep.source, shelf.standard.source),
        remedy="" if verdict == "pass" else _cure(shelf, board, brief),
    )


def _cure(shelf: LoadedShelf, board: FramedBoard, brief: Brief) -> str:
    """Return what keeps it up: the same dividers carried on below it, with what that gives."""
    if not board.stands_mm:
        return "Stand another divider below it, or take thicker stock."
    later = long_term_sag(initial_mm=board.propped_mm, creep=shelf.creep)
    enough = "" if later <= shelf.limit_mm else ", still too far: take thicker stock as well"
    return f"Carry the divider on below it, in line: {fine(later, brief)} after years{enough}."


def _strength(shelf: LoadedShelf, board: FramedBoard, brief: Brief) -> Finding:
    """Return whether it breaks."""
    b, t = shelf.depth_mm, shelf.part.thickness_mm
    return strength_finding(
        shelf, board.moment_n_mm / (b * t**2 / 6), brief, formula=f"{FRAME_FORMULA}; stress = M / (b t^2 / 6)",
        worked=f"{board.moment_n_mm:.0f} / ({b:.0f} x {t:.1f}^2 / 6)",
        remedy="Carry its dividers on below it, in line, or take thicker stock.",
    )  # fmt: skip
