"""A box as a frame: boards that dividers stand on or hang over, and what that does to their sag, strength and ends."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

from nookwright.solvers.plane_frame import Bar, BentFrame, Node, bow_at, framed, greatest_moment
from nookwright.stages.design.design import Box, Shelf, Upright
from nookwright.stages.inputs.brief import Brief
from nookwright.trade.shelf_standards import shelf_limit, standard_load
from nookwright.trade.tipping import GRAVITY_M_S2
from nookwright.trade.woods import wood

TOUCHES_MM = 1.5
"""A divider whose end is this near to a board's face bears on it. Common practice, no source."""

STATIONS = tuple(i / 20 for i in range(21))
"""Where each piece of a board is looked at, as shares of its length."""

STIFF = frozenset({"x", "z"})


@dataclass(frozen=True, slots=True, kw_only=True)
class FramedBoard:
    """What a board of a box does that dividers stand on or prop from below.

    Args:
        sag_mm: greatest sinking below the line between its ends, at once. [mm]
        moment_n_mm: greatest bending moment. [N mm]
        end_n: what its heavier end carries. [N]
        stands_mm: x of the dividers that stand on it without one below. [mm]
        propped_mm: the same sag if those dividers went on below it. [mm]
    """

    sag_mm: float
    moment_n_mm: float
    end_n: float
    stands_mm: tuple[float, ...]
    propped_mm: float


@dataclass(slots=True, kw_only=True)
class _Frame:
    """A frame as it is put together."""

    nodes: list[Node]
    bars: list[Bar]
    boards: dict[Shelf, list[int]]

    def node(self, x_mm: float, z_mm: float, held: frozenset[str] = frozenset({"x"})) -> int:
        """Return the node at a place, made if there is none. Nothing sways: the box stands fixed."""
        for i, node in enumerate(self.nodes):
            if abs(node.x_mm - x_mm) < TOUCHES_MM and abs(node.z_mm - z_mm) < TOUCHES_MM:
                if held - node.held:
                    self.nodes[i] = replace(node, held=node.held | held)
                return i
        self.nodes.append(Node(x_mm=x_mm, z_mm=z_mm, held=held))
        return len(self.nodes) - 1


def framed_boards(box: Box, brief: Brief) -> dict[Shelf, FramedBoard]:
    """Return what the boards do that dividers bear on; nothing for a box whose dividers run from bottom to top.

    Args:
        box: one of ours.
        brief: what its shelves carry.

    Returns:
        By the design's own shelf.
    """
    rows = [shelf for shelf in box.shelves if shelf.fixing == "row" and _touching(box, shelf)]
    if not rows:
        return {}
    frame = _put_together(box, brief)
    done = framed(tuple(frame.nodes), tuple(frame.bars))
    found = {}
    for row in rows:
        stands = tuple(
            _middle(each) for each, above in _touching(box, row) if above and not _below(box, row, _middle(each))
        )
        propped = _sag(frame, _held(frame, row, stands), row)
        found[row] = FramedBoard(
            sag_mm=_sag(frame, done, row),
            moment_n_mm=max(greatest_moment(done.bars[i]) for i in frame.boards[row]),
            end_n=max(abs(done.bars[frame.boards[row][0]].forces[1]), abs(done.bars[frame.boards[row][-1]].forces[4])),
            stands_mm=stands,
            propped_mm=propped,
        )
    return found


def _middle(upright: Upright) -> float:
    """Return the middle of an upright. [mm]"""
    return upright.x_mm + upright.thickness_mm / 2


def _level(shelf: Shelf) -> float:
    """Return the middle of a board's thickness. [mm]"""
    return shelf.z_mm + shelf.thickness_mm / 2


def _touching(box: Box, shelf: Shelf) -> list[tuple[Upright, bool]]:
    """Return the dividers that bear on a board, and whether they stand on it."""
    found = []
    for upright in box.uprights:
        if upright.kind != "divider" or not shelf.x0_mm < _middle(upright) < shelf.x1_mm:
            continue
        on = abs(upright.z0_mm - shelf.z_mm - shelf.thickness_mm) < TOUCHES_MM
        under = abs(max(upright.z1_left_mm, upright.z1_right_mm) - shelf.z_mm) < TOUCHES_MM
        if on or under:
            found.append((upright, on))
    return found


def _below(box: Box, shelf: Shelf, x_mm: float) -> bool:
    """Return whether a divider below a board stands within its own thickness of a place."""
    return any(not on and abs(_middle(each) - x_mm) <= each.thickness_mm for each, on in _touching(box, shelf))


def _put_together(box: Box, brief: Brief) -> _Frame:
    """Return the box as a frame: uprights that carry, boards hinged to them, dividers hinged to boards they bear on."""
    frame = _Frame(nodes=[], bars=[], boards={})
    ends: dict[int, list[int]] = {i: [] for i in range(len(box.uprights))}
    for shelf in box.shelves:
        left, right = (_end(box, x, _level(shelf)) for x in (shelf.x0_mm, shelf.x1_mm))
        xs = [left[0], *sorted({round(_middle(each), 3) for each, _ in _touching(box, shelf)}), right[0]]
        at = [frame.node(x, _level(shelf)) for x in xs]
        for (_, number), node in ((left, at[0]), (right, at[-1])):
            if number is not None:
                ends[number].append(node)
        frame.boards[shelf] = _lay(frame, at, shelf, box, brief)
    for i, upright in enumerate(box.uprights):
        _carry(frame, box, upright, ends[i])
    return frame


def _lay(frame: _Frame, at: list[int], shelf: Shelf, box: Box, brief: Brief) -> list[int]:
    """Add a board from node to node, loaded with things and itself; return the places of its bars."""
    made_of = wood(box.board.wood)
    E, b, t = made_of.along_n_mm2.value, shelf.depth_mm, shelf.thickness_mm
    own = brief.load.shelf_kg_per_m * GRAVITY_M_S2 / 1000
    asked = standard_load(shelf_limit(brief.load.shelf_limit), span_mm=shelf.x1_mm - shelf.x0_mm, depth_mm=b)
    load = max(own, asked or 0.0) + b * t * 1e-9 * made_of.density_kg_m3 * GRAVITY_M_S2
    laid = []
    for i, (start, end) in enumerate(pairwise(at)):
        laid.append(len(frame.bars))
        hinges = (i == 0, i == len(at) - 2)
        frame.bars.append(
            Bar(start=start, end=end, axial_n=E * b * t, bending_n_mm2=E * b * t**3 / 12, load_n_mm=load, hinges=hinges)
        )
    return laid


def _end(box: Box, x_mm: float, z_mm: float) -> tuple[float, int | None]:
    """Return the middle of the upright that a board's end meets at a height, and which one it is."""
    gaps = [
        (min(abs(each.x_mm - x_mm), abs(each.x_mm + each.thickness_mm - x_mm)), i)
        for i, each in enumerate(box.uprights)
        if each.z0_mm - TOUCHES_MM <= z_mm <= max(each.z1_left_mm, each.z1_right_mm) + TOUCHES_MM
    ]
    gap, i = min(gaps, default=(1e9, -1))
    return (_middle(box.uprights[i]), i) if gap <= box.board.thickness_mm else (x_mm, None)


def _carry(frame: _Frame, box: Box, upright: Upright, ends: list[int]) -> None:
    """Add an upright: it stands on the bottom or on a board, carries what ends at it, and may prop a board above."""
    x, E, t = _middle(upright), wood(box.board.wood).along_n_mm2.value, upright.thickness_mm
    depth = box.depth_mm - (box.back.thickness_mm if box.back else 0.0)
    foot = next((shelf for shelf in box.shelves if (upright, True) in _touching(box, shelf)), None)
    head = next((shelf for shelf in box.shelves if (upright, False) in _touching(box, shelf)), None)
    at = {*ends, frame.node(x, box.z0_mm, STIFF) if foot is None else frame.node(x, _level(foot))}
    if head is not None:
        at.add(frame.node(x, _level(head)))
    ordered = sorted(at, key=lambda i: frame.nodes[i].z_mm)
    for i, (start, end) in enumerate(pairwise(ordered)):
        hinges = (i == 0 and foot is not None, i == len(ordered) - 2 and head is not None)
        frame.bars.append(
            Bar(start=start, end=end, axial_n=E * depth * t, bending_n_mm2=E * depth * t**3 / 12, hinges=hinges)
        )


def _held(frame: _Frame, row: Shelf, stands_mm: tuple[float, ...]) -> BentFrame:
    """Return the frame with a board held where dividers stand on it, as one below them would."""
    nodes = list(frame.nodes)
    for x in stands_mm:
        i = frame.node(x, _level(row))
        nodes[i] = replace(nodes[i], held=nodes[i].held | {"z"})
    return framed(tuple(nodes), tuple(frame.bars))


def _sag(frame: _Frame, done: BentFrame, row: Shelf) -> float:
    """Return how far a board sinks below the straight line between its ends. [mm]"""
    bars = frame.boards[row]
    first, last = frame.bars[bars[0]].start, frame.bars[bars[-1]].end
    (x0, z0), (x1, z1) = ((frame.nodes[i].x_mm, done.moves_mm[i][1]) for i in (first, last))
    worst = 0.0
    for i in bars:
        bar, bent = frame.bars[i], done.bars[i]
        (xa, za), (xb, zb) = ((frame.nodes[n].x_mm, done.moves_mm[n][1]) for n in (bar.start, bar.end))
        for share in STATIONS:
            x = xa + share * (xb - xa)
            straight = z0 + (x - x0) / (x1 - x0) * (z1 - z0)
            worst = max(worst, straight - (za + share * (zb - za) + bow_at(bent, share)))
    return worst
