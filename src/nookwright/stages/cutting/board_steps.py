"""What is done to a board, step by step: what is in hand, what is set, where the cut runs, what comes free.

Its ends are trimmed and an end to keep comes off; it is planed and straightened; it is ripped into lanes; each lane is
crosscut; pieces narrower than their lane are ripped last. The first end of a crooked board is trimmed once its edges
are straight, for only then can it be cut square.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from nookwright.geometry.frame import Point2
from nookwright.stages.cutting.board_lanes import Ends, Lane, lanes_of
from nookwright.stages.cutting.cutting_plan import BoardPiece, BoardPlan
from nookwright.stages.inputs.shop import BoardStock, Saw
from nookwright.stages.parts.sizes import SAME_MM

REST_MM = 0.25
"""A piece within this of what remains needs no cut more: sizes are laid out in tenths, and a kerf in tenths, up."""

Doing = Literal["trim first end", "trim far end", "keep end", "plane", "straighten", "true", "rip", "crosscut", "slant",
                "narrow"]  # fmt: skip
"""`plane`: both faces flat. `straighten`: the near edge. `true`: rip the far edge straight, the straightened one at the
fence. `slant`: the slanted cut that ends two pieces. `narrow`: rip a piece that is narrower than its lane."""

_TOOL: dict[Doing, str] = {
    "true": "fence", "rip": "fence", "narrow": "fence", "keep end": "stop", "crosscut": "stop",
}  # fmt: skip
"""What a step is set at; the others are marked out, or need no figure."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetOff:
    """A distance set at fence or stop, or marked, to the cut's near side; of a trim what comes off, the cut counted in.

    Args:
        mm: the distance. [mm]
        start, end: between where it lies on the upper face. [mm]
    """

    mm: float
    start: Point2
    end: Point2


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A piece with its corners on the upper face of the board. [mm]"""

    piece: BoardPiece
    corners: tuple[Point2, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardStep:
    """One step as the sawyer sees it. Places: along the board from its first end, across from its near edge. [mm]

    Args:
        order: its number, from 1.
        doing: what is done.
        hand: corners of what is in hand, on the upper face. [mm]
        inside: pieces still in it.
        lane: number of the lane in hand or ripped off, from 1; 0 for the board.
        place: place in its lane of the piece cut off or ripped, from 0.
        cut: ends of the cut's centre line; None where nothing is sawn. [mm]
        figures: what is set off; a slanted cut has one along the near edge and one along the far edge.
        frees: pieces that are cut to length after it.
        remains: those of them that no further cut ends: they are what remains.
        narrowed: the piece that is ripped to its width.
        together: pieces that share slanted cuts and are cut off, or ripped, in one before these part them.
        keeps: length and width of what comes free and is kept. [mm]
        left: length and width of what is left over and not kept. [mm]
        new_setting: whether fence or stop is set anew.
    """

    order: int = 0
    doing: Doing
    hand: tuple[Point2, ...]
    inside: tuple[Drawn, ...]
    lane: int = 0
    place: int = 0
    cut: tuple[Point2, Point2] | None = None
    figures: tuple[SetOff, ...] = ()
    frees: tuple[BoardPiece, ...] = ()
    remains: tuple[BoardPiece, ...] = ()
    narrowed: BoardPiece | None = None
    together: tuple[BoardPiece, ...] = ()
    keeps: tuple[float, float] | None = None
    left: tuple[float, float] | None = None
    new_setting: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class _Board:
    """A board in hand. [mm]"""

    lanes: tuple[Lane, ...]
    first: float
    far: float
    low: float
    high: float
    kerf_mm: float

    @property
    def corners(self) -> tuple[Point2, ...]:
        return _box((self.first, self.far), (self.low, self.high))

    @property
    def inside(self) -> tuple[Drawn, ...]:
        return tuple(one for lane in self.lanes for one in _drawn(lane, 0))

    def across(self, x: float) -> tuple[Point2, Point2]:
        """Return the ends of a cut across it."""
        return (x, self.low), (x, self.high)

    def along(self, y: float) -> tuple[Point2, Point2]:
        """Return the ends of a cut along it."""
        return (self.first, y), (self.far, y)


def board_steps(board: BoardPlan, stock: BoardStock, saw: Saw) -> tuple[BoardStep, ...]:
    """Return every step of one board, in order; a board that is used as it lies there has none.

    Args:
        board: a board that the checker has found fit to be cut.
        stock: what it is of.
        saw: kerf, what the ends lose, and what is kept.
    """
    crook = 0.0 if board.width_mm else stock.straighten_mm
    full, kerf = board.width_mm or stock.straight_width_mm, saw.kerf_mm
    hand = _Board(
        lanes=lanes_of(board, kerf), first=0.0, far=board.length_mm, low=-crook / 2, high=full + crook / 2, kerf_mm=kerf
    )
    trims = (0.0, 0.0) if board.offcut else (saw.end_trim_mm, saw.far_end_trim_mm)
    kept = board.leftover_mm if board.leftover_mm >= saw.kept_from_mm else 0.0
    ripped = full - hand.lanes[0].width_mm > SAME_MM
    steps: list[BoardStep] = []
    if not crook:
        hand = _first_end_trimmed(hand, trims[0], steps)
    hand = _far_end_trimmed(hand, trims[1], steps)
    if kept and ripped:
        hand = _end_kept(hand, kept, steps)
    if stock.flatten_mm:
        steps.append(BoardStep(doing="plane", hand=hand.corners, inside=hand.inside))
    if crook:
        hand = _straightened(hand, full, steps)
        hand = _first_end_trimmed(hand, trims[0], steps)
    _rip(hand, board, steps)
    for number, lane in enumerate(hand.lanes, start=1):
        steps += _crosscuts(lane, number, (hand.first, hand.far), 0.0 if ripped else kept)
        steps += _narrowed(lane, number)
    return tuple(_numbered(steps))


def _numbered(steps: Sequence[BoardStep]) -> Iterator[BoardStep]:
    """Yield steps with their numbers; one set like the step before it, at the same tool, is no new setting."""
    stands: tuple[str, float] = ("", 0.0)
    for order, step in enumerate(steps, start=1):
        tool, at = _TOOL.get(step.doing, ""), step.figures[0].mm if step.figures else 0.0
        same = tool != "" and tool == stands[0] and abs(at - stands[1]) <= SAME_MM
        yield replace(step, order=order, new_setting=not same)
        stands = (tool, at)


def _first_end_trimmed(hand: _Board, trim: float, steps: list[BoardStep]) -> _Board:
    if trim <= 0:
        return hand
    after = replace(hand, first=hand.first + trim)
    figure = SetOff(mm=trim, start=(hand.first, hand.low), end=(after.first, hand.low))
    cut = hand.across(max(hand.first, after.first - hand.kerf_mm / 2))
    steps.append(
        BoardStep(doing="trim first end", hand=hand.corners, inside=hand.inside, cut=cut, figures=(figure,))
    )  # fmt: skip
    return after


def _far_end_trimmed(hand: _Board, trim: float, steps: list[BoardStep]) -> _Board:
    if trim <= 0:
        return hand
    after = replace(hand, far=hand.far - trim)
    figure = SetOff(mm=trim, start=(hand.far, hand.low), end=(after.far, hand.low))
    cut = hand.across(min(hand.far, after.far + hand.kerf_mm / 2))
    steps.append(
        BoardStep(doing="trim far end", hand=hand.corners, inside=hand.inside, cut=cut, figures=(figure,))
    )  # fmt: skip
    return after


def _end_kept(hand: _Board, kept: float, steps: list[BoardStep]) -> _Board:
    """Return the board once the end that is kept is off, in the width the board has then."""
    # Measured from the first end: so pieces have their length whatever the board's is, seldom just what it is sold as.
    at = hand.far - kept - hand.kerf_mm
    figure = SetOff(mm=at - hand.first, start=(hand.first, hand.low), end=(at, hand.low))
    steps.append(
        BoardStep(
            doing="keep end", hand=hand.corners, inside=hand.inside, cut=hand.across(at + hand.kerf_mm / 2),
            figures=(figure,), keeps=(kept, hand.high - hand.low),
        )
    )  # fmt: skip
    return replace(hand, far=at)


def _straightened(hand: _Board, full: float, steps: list[BoardStep]) -> _Board:
    """Straighten the near edge, then rip the far edge parallel to it."""
    steps.append(
        BoardStep(doing="straighten", hand=hand.corners, inside=hand.inside, cut=hand.along(hand.low / 2))
    )  # fmt: skip
    half = replace(hand, low=0.0)
    figure = SetOff(mm=full, start=(half.first, 0.0), end=(half.first, full))
    cut = half.along(min(full + hand.kerf_mm / 2, half.high))
    steps.append(BoardStep(doing="true", hand=half.corners, inside=half.inside, cut=cut, figures=(figure,)))
    return replace(half, high=full)


def _rip(hand: _Board, board: BoardPlan, steps: list[BoardStep]) -> None:
    """Rip a board into its lanes; a lane as wide as what remains needs no cut."""
    lanes = hand.lanes
    for number, lane in enumerate(lanes, start=1):
        if hand.high - hand.low - lane.width_mm > REST_MM:
            last = number == len(lanes)
            edge = hand.low + lane.width_mm
            after = replace(hand, lanes=lanes[number:], low=edge + hand.kerf_mm)
            rest = (after.far - after.first, after.high - after.low) if last and after.high - after.low > 0 else None
            keeps = (board.strip_length_mm, board.strip_mm) if last and board.strip_mm else None
            steps.append(
                BoardStep(
                    doing="rip", hand=hand.corners, inside=hand.inside, lane=number,
                    cut=hand.along(edge + hand.kerf_mm / 2), keeps=keeps, left=None if keeps else rest,
                    figures=(SetOff(mm=lane.width_mm, start=(hand.first, hand.low), end=(hand.first, edge)),),
                )
            )  # fmt: skip
            hand = after
        whole = len(lane.pieces) == 1 and _remains(lane, hand.far)
        if whole and steps:
            before = steps[-1]
            steps[-1] = replace(
                before, frees=(*before.frees, *lane.pieces), remains=(*before.remains, *lane.pieces)
            )  # fmt: skip


def _remains(lane: Lane, far: float) -> bool:
    """Return whether the last piece of a lane needs no cut at its end."""
    return far - max(lane.end_mm(len(lane.pieces) - 1)) <= REST_MM


def _crosscuts(lane: Lane, number: int, ends: Ends, kept: float) -> Iterator[BoardStep]:
    """Yield the cuts across a lane, each measured anew from the one before.

    Pieces that share slanted cuts and are all narrower than the lane come off in one, which is ripped and then cut.

    Args:
        lane: the lane.
        number: its number, from 1.
        ends: where it starts and ends. [mm]
        kept: length that is kept of its end; 0 for none. [mm]
    """
    low, high = lane.across_mm, lane.across_mm + lane.width_mm
    start, last = (ends[0], ends[0]), len(lane.pieces) - 1
    for place, piece in enumerate(lane.pieces):
        if lane.cut_off_together(place):
            strip = lane.strip(place)
            if piece is strip[0]:
                yield from _strip_crosscut(lane, number, place, (start[0], ends[1]), kept)
            if piece is strip[-1]:
                start = (piece.at_mm + piece.length_mm + lane.kerf_mm,) * 2
            continue
        if place == last and _remains(lane, ends[1]):
            return
        end = lane.end_mm(place)
        slanted = place < last and lane.pieces[place + 1].shared is not None
        after = lane.start_mm(place + 1) if place < last else (end[0] + lane.kerf_mm, end[1] + lane.kerf_mm)
        middle = ((end[0] + after[0]) / 2, low), ((end[1] + after[1]) / 2, high)
        edges = [SetOff(mm=end[i] - start[i], start=(start[i], y), end=(end[i], y)) for i, y in enumerate((low, high))]
        remains = lane.pieces[last:] if place == last - 1 and _remains(lane, ends[1]) else ()
        left = ends[1] - after[0] if place == last else 0.0
        step = BoardStep(
            doing="slant" if slanted else "crosscut", lane=number, place=place, inside=_drawn(lane, place),
            hand=((start[0], low), (ends[1], low), (ends[1], high), (start[1], high)),
            cut=middle if slanted else ((end[0] + lane.kerf_mm / 2, low), (end[0] + lane.kerf_mm / 2, high)),
            figures=tuple(edges) if slanted else (edges[1] if start[1] < start[0] else edges[0],),
            frees=(piece, *remains), remains=remains, keeps=(kept, lane.width_mm) if place == last and kept else None,
            left=(left, lane.width_mm) if left > 0 and not kept else None,
        )  # fmt: skip
        yield step
        start = after


def _strip_crosscut(lane: Lane, number: int, place: int, ends: Ends, kept: float) -> Iterator[BoardStep]:
    """Yield how pieces come off together, are ripped to the widest of them, and are parted by their shared cuts."""
    strip = lane.strip(place)
    after = place + len(strip)
    low, high, wide = lane.across_mm, lane.across_mm + lane.width_mm, lane.strip_mm(place)
    end = max(lane.end_mm(after - 1))
    last = after == len(lane.pieces)
    if not (last and _remains(lane, ends[1])):
        left = ends[1] - end - lane.kerf_mm if last else 0.0
        middle = end + lane.kerf_mm / 2
        yield BoardStep(
            doing="crosscut", lane=number, place=place, together=strip, inside=_drawn(lane, place),
            hand=_box(ends, (low, high)), cut=((middle, low), (middle, high)),
            figures=(SetOff(mm=end - ends[0], start=(ends[0], low), end=(end, low)),),
            keeps=(kept, lane.width_mm) if last and kept else None,
            left=(left, lane.width_mm) if left > 0 and not kept else None,
        )  # fmt: skip
    edge, rest = low + wide, lane.width_mm - wide - lane.kerf_mm
    yield BoardStep(
        doing="narrow", lane=number, place=place, together=strip, hand=_box((ends[0], end), (low, high)),
        inside=_drawn(lane, place)[: len(strip)], left=(end - ends[0], rest) if rest > 0 else None,
        cut=((ends[0], edge + lane.kerf_mm / 2), (end, edge + lane.kerf_mm / 2)),
        figures=(SetOff(mm=wide, start=(ends[0], low), end=(ends[0], edge)),),
    )  # fmt: skip
    for step in _crosscuts(Lane(pieces=strip, kerf_mm=lane.kerf_mm), number, (ends[0], end), 0.0):
        yield replace(step, place=place + step.place)


def _narrowed(lane: Lane, number: int) -> Iterator[BoardStep]:
    """Yield the rips of pieces narrower than what they were cut from, the widest first: one setting for all alike."""
    narrow = [
        (place, piece) for place, piece in enumerate(lane.pieces) if lane.strip_mm(place) - piece.width_mm > SAME_MM
    ]  # fmt: skip
    for place, piece in sorted(narrow, key=lambda one: -one[1].width_mm):
        low, edge = lane.across_mm, lane.across_mm + piece.width_mm
        start, end = lane.start_mm(place), lane.end_mm(place)
        share = piece.width_mm / lane.strip_mm(place)
        own = ((start[0], low), (end[0], low), (_between(end, share), edge), (_between(start, share), edge))
        middle = edge + lane.kerf_mm / 2
        left = lane.strip_mm(place) - piece.width_mm - lane.kerf_mm
        yield BoardStep(
            doing="narrow", lane=number, place=place, inside=(Drawn(piece=piece, corners=own),), narrowed=piece,
            hand=_corners(lane, place), cut=((min(start), middle), (max(end), middle)),
            figures=(SetOff(mm=piece.width_mm, start=(start[0], low), end=(start[0], edge)),),
            left=(max(end) - min(start), left) if left > 0 else None,
        )  # fmt: skip


def _between(ends: Ends, share: float) -> float:
    return ends[0] + share * (ends[1] - ends[0])


def _drawn(lane: Lane, first: int) -> tuple[Drawn, ...]:
    """Return the pieces of a lane from one on, each as wide as what it is cut from."""
    return tuple(
        Drawn(piece=lane.pieces[place], corners=_corners(lane, place)) for place in range(first, len(lane.pieces))
    )


def _corners(lane: Lane, place: int) -> tuple[Point2, ...]:
    low, high = lane.across_mm, lane.across_mm + lane.strip_mm(place)
    (start, far_start), (end, far_end) = lane.start_mm(place), lane.end_mm(place)
    return ((start, low), (end, low), (far_end, high), (far_start, high))


def _box(along: tuple[float, float], across: tuple[float, float]) -> tuple[Point2, ...]:
    return ((along[0], across[0]), (along[1], across[0]), (along[1], across[1]), (along[0], across[1]))
