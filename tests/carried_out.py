"""Carries the steps of one board out, one by one, by their printed figures alone; it knows nothing of how they came about."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from nookwright.stages.cutting.board_steps import BoardStep
from nookwright.stages.cutting.cutting_plan import BoardPlan
from nookwright.stages.inputs.shop import BoardStock, Saw

Size = tuple[float, float]


@dataclass(slots=True)
class Bench:
    """What lies on the bench after the last step. [mm]

    Args:
        length, width: of the board in hand.
        pieces: every piece cut to length, in that order: how long it is at its near edge and at its far edge of its
            lane, how far its far end's start lies behind its near end's, and its width.
        kept: ends and strips that are kept.
        waste: what fell off and is not kept.
        sawdust: area that cuts took.
        trimmed: area that trims and straightening took.
    """

    length: float
    width: float
    pieces: list[tuple[str, float, float, float, float]] = field(default_factory=list)
    kept: list[Size] = field(default_factory=list)
    waste: list[Size] = field(default_factory=list)
    sawdust: float = 0.0
    trimmed: float = 0.0


def carried_out(steps: Sequence[BoardStep], board: BoardPlan, stock: BoardStock, saw: Saw) -> Bench:
    """Return what a sawyer has who does just what the steps say to a board just as long and wide as it is sold."""
    bench = Bench(length=board.length_mm, width=board.width_mm or stock.width_mm)
    lanes = [lane for step in steps if not step.lane or step.doing == "rip" for lane in _whole(step, saw, bench)]
    numbers = sorted({piece.across_mm for piece in board.pieces})
    if len(lanes) < len(numbers):
        lanes.append((bench.length, bench.width))
    elif not any(step.keeps for step in steps if step.doing == "rip"):
        bench.waste.append((bench.length, bench.width))
    for number, lane in enumerate(lanes, start=1):
        _crosscut([step for step in steps if step.lane == number], lane, saw, bench)
    for piece in (piece for step in steps if step.doing not in {"crosscut", "slant"} for piece in step.remains):
        length, width = lanes[numbers.index(piece.across_mm)]  # a lane that needs no crosscut is one piece
        bench.pieces.append((piece.part, length, length, 0.0, width))
    for step in steps:
        if step.narrowed is not None:
            _rip_narrow(step, step.narrowed.part, bench)
    return bench


def _whole(step: BoardStep, saw: Saw, bench: Bench) -> list[Size]:
    """Do a step to the whole board, and return the lane that it rips off, if any."""
    at = step.figures[0].mm if step.figures else 0.0
    if step.doing in {"trim first end", "trim far end"}:
        bench.length -= at
        bench.trimmed += at * bench.width
    elif step.doing == "keep end":
        bench.kept.append((bench.length - at - saw.kerf_mm, bench.width))
        bench.sawdust += saw.kerf_mm * bench.width
        bench.length = at
    elif step.doing == "true":
        bench.trimmed += bench.length * (bench.width - at)
        bench.width = at
    elif step.doing == "rip":
        took = min(saw.kerf_mm, bench.width - at)
        bench.sawdust += took * bench.length
        bench.width -= at + took
        bench.kept += [(bench.length, bench.width)] if step.keeps else []
        return [(bench.length, at)]
    return []


def _crosscut(steps: Sequence[BoardStep], lane: Size, saw: Saw, bench: Bench) -> None:
    """Cut one lane across: every figure is set off from where the cut before left the edge it runs along."""
    length, width = lane
    near = far = 0.0
    cuts = [step for step in steps if step.doing in {"crosscut", "slant"} or step.together]
    strip = length
    for at, step in enumerate(cuts):
        if step.doing == "narrow":
            parting = cuts[at + 1 : at + len(step.together)]
            _crosscut(parting, (strip, step.figures[0].mm), saw, bench)
            del cuts[at + 1 : at + len(step.together)]
            near, far = (near, far) if strip < length else (length, length)
            continue
        if step.together:
            strip, near = step.figures[0].mm, near + step.figures[0].mm + saw.kerf_mm
            far = near
            if step.keeps:
                bench.kept.append((length - near, width))
                near = far = length
            continue
        if step.doing == "slant":
            to_near, to_far = near + step.figures[0].mm, far + step.figures[1].mm
        else:
            to_near = to_far = min(near, far) + step.figures[0].mm
        took = min(_along(step, (to_far - to_near) / width, saw.kerf_mm), length - max(to_near, to_far))
        bench.pieces.append((step.frees[0].part, to_near - near, to_far - far, far - near, width))
        bench.sawdust += took * width
        near, far = to_near + took, to_far + took
        for piece in step.remains:
            bench.pieces.append((piece.part, length - near, length - far, far - near, width))
            near = far = length
        if step.keeps:
            bench.kept.append((length - near, width))
            near = far = length
    if cuts and length - near > 0:
        bench.waste.append((length - near, width))


def _along(step: BoardStep, run: float, kerf: float) -> float:
    """Return what a cut takes along the lane; a blade's tilt is told in words beside the figures."""
    shared = step.inside[1].piece.shared if step.doing == "slant" else None
    lean = math.tan(shared.tilt_rad) * math.sqrt(1 + run**2) if shared else 0.0
    return kerf * math.sqrt(1 + run**2 + lean**2)


def _rip_narrow(step: BoardStep, part: str, bench: Bench) -> None:
    """Rip a piece to its width, the near edge at the fence; of a glued-up part the first that is still wider."""
    wide = step.figures[0].mm
    at = next(i for i, one in enumerate(bench.pieces) if one[0] == part and one[4] > wide + 0.01)
    name, near, far, lag, width = bench.pieces[at]
    share = wide / width
    bench.pieces[at] = (name, near, near + share * (far - near), share * lag, wide)
