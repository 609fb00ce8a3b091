"""Boards cut by their printed figures, piece after piece: the parts come out in the sizes that the parts list prints."""

from __future__ import annotations

import math
import re
from decimal import Decimal
from random import Random

import pytest

from corrupted_boards import FRAME
from nookwright.basics.lengths import Marks, read_length, show
from nookwright.drawings.pages.shared_cuts import Lane, shared_cuts_said
from nookwright.stages.cutting.board_layout import lay_out_boards
from nookwright.stages.cutting.cutting_plan import BoardPiece, BoardPlan
from nookwright.stages.inputs.shop import BoardLength, BoardStock, Saw
from nookwright.stages.parts.part import SQUARE, Edge, Part
from nookwright.stages.parts.sizes import sizes, way_of

KERF_MM = 3.2
PINE = BoardStock(
    key="pine", name="pine", wood="pine", thickness_mm=20, width_mm=120,
    lengths=tuple(BoardLength(length_mm=mm, price=Decimal(mm) / 100) for mm in (1800, 2400, 3000)),
)  # fmt: skip
SLOPE = math.tan(math.radians(38.4))
MARKS = (
    Marks(units="mm", resolution=0.5),
    Marks(units="mm", resolution=1),
    Marks(units="inch", resolution=1 / 16),
    Marks(units="inch", resolution=1 / 32),
)
SCRIBE_MM, NEAR_MM = 7.3, 0.1
"""What is left on to scribe; and what tenths leave of a size, less than anybody cuts to."""


def a_strip(number: int, chance: Random) -> Part:
    """Return a strip or a rail of any size, its ends square, mitred one way or the other, or both alike."""
    length, width = chance.uniform(250, 900), chance.choice((44.37, 44.37, 31.2))
    left, right = chance.choice(((0, 0), (0, -1), (0, 1), (-1, -1), (1, 1), (1, -1)))
    low, high = (max(0.0, -left) * SLOPE * width, max(0.0, left) * SLOPE * width)
    end = length + chance.uniform(60, 90)
    outline = ((low, 0.0), (end, 0.0), (end + right * SLOPE * width, width), (high, width))
    scribed = Edge(scribe_mm=SCRIBE_MM) if chance.random() < 0.2 else SQUARE
    return Part(
        number=f"S{number}", name="strip", role=chance.choice(("strip", "platform rail")), module="A", stock="pine",
        wood="pine", thickness_mm=20, outline=outline, edges=(SQUARE, SQUARE, scribed, SQUARE), frame=FRAME,
    )  # fmt: skip


def listed(part: Part, marks: Marks) -> tuple[float, float]:
    """Return length at the long point and width as the parts list prints them. [mm]"""
    size, way = sizes(part), way_of(part)
    return tuple(read_length(show(mm, marks, way=way), unit=marks.units) for mm in (size.long_mm, size.width_mm))


def slanted_ends(part: Part) -> int:
    """Return how many of its ends are mitred."""
    (low, _), (end, _), (far_end, _), (high, _) = part.outline
    return (low != high) + (end != far_end)


def printed(mm: float, marks: Marks) -> float:
    """Return what a sawyer sets who reads the printed figure. [mm]"""
    return read_length(show(mm, marks), unit=marks.units)


def lanes(board: BoardPlan) -> list[tuple[BoardPiece, ...]]:
    """Return a board's pieces lane by lane."""
    return [
        tuple(sorted((p for p in board.pieces if p.across_mm == at), key=lambda p: p.at_mm))
        for at in sorted({p.across_mm for p in board.pieces})
    ]


def sawn(lane: tuple[BoardPiece, ...], marks: Marks) -> list[tuple[BoardPiece, float]]:
    """Return every piece and how long it is at its longer edge, each cut set off as printed. [mm]"""
    said = shared_cuts_said(Lane(pieces=lane, kerf_mm=KERF_MM), marks)
    figures = [
        tuple(read_length(one, unit=marks.units) for one in pair)
        for pair in re.findall(r"near edge ([\d ./]+) \(.*?far edge ([\d ./]+) \(", said)
    ]
    drawn, found, start = Lane(pieces=lane, kerf_mm=KERF_MM), [], (0.0, 0.0)
    for number, piece in enumerate(lane):
        wide = printed(max(one.width_mm for one in drawn.strip(number)), marks)
        if number + 1 < len(lane) and lane[number + 1].shared is not None:
            near, far = figures.pop(0)
            end = (start[0] + near, start[1] + far)
            kerf = KERF_MM * math.hypot(wide, end[1] - end[0]) / wide
        else:
            end = (min(start) + printed(piece.length_mm, marks),) * 2
            kerf = KERF_MM
        along, own = [b - a for a, b in zip(start, end, strict=True)], printed(piece.width_mm, marks)
        found.append((piece, max(along[0], along[0] + (along[1] - along[0]) * own / wide)))
        start = (end[0] + kerf, end[1] + kerf)
    assert not figures
    return found


@pytest.mark.parametrize("marks", MARKS, ids=lambda marks: f"{marks.units}-{marks.resolution:g}")
def test_boards_cut_as_printed_give_the_parts_as_listed(marks: Marks) -> None:
    """Ends square or shared: the long point is as listed, to what nobody can see. Ends mitred later have enough."""
    seen = {"shared": 0, "square": 0, "later": 0}
    for seed in range(8):
        chance = Random(seed)  # noqa: S311
        parts = [a_strip(i, chance) for i in range(9)]
        plans, _, misfits = lay_out_boards(parts, PINE, Saw(kerf_mm=KERF_MM, end_trim_mm=10), marks=marks)
        assert not misfits
        by_number = {part.number: part for part in parts}
        for lane in (lane for board in plans for lane in lanes(board)):
            for number, (piece, got) in enumerate(sawn(lane, marks)):
                part = by_number[piece.part]
                (long, width), own = listed(part, marks), printed(piece.width_mm, marks)
                if any(edge.scribe_mm for edge in part.edges):
                    assert own >= sizes(part).width_mm + SCRIBE_MM - NEAR_MM
                else:
                    assert own == pytest.approx(width)
                shared = (piece.shared is not None) + any(
                    one.shared is not None for one in lane[number + 1 : number + 2]
                )
                kind = "later" if shared < slanted_ends(part) else "shared" if shared else "square"
                seen[kind] += 1
                assert got >= long - NEAR_MM, (seed, piece.part)
                if kind != "later" and part.edges == (SQUARE,) * 4:
                    assert got == pytest.approx(long, abs=NEAR_MM), (seed, piece.part)
    assert min(seen.values()) > 4, seen
