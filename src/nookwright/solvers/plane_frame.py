"""A plane frame of straight bars: ends stiff or hinged, points held, even and point loads; uprights with boards."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Node:
    """A point of the frame.

    Args:
        x_mm, z_mm: where; z up. [mm]
        held: which of `x`, `z` and `turn` cannot move.
        load_n: force on it, to the right and up above 0. [N]
    """

    x_mm: float
    z_mm: float
    held: frozenset[str] = frozenset()
    load_n: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """A straight bar between two nodes.

    Args:
        start, end: places of its nodes in the list.
        axial_n: E A. [N]
        bending_n_mm2: E I. [N mm2]
        load_n_mm: even load, down above 0, per length of the bar. [N/mm]
        hinges: whether its start and its end turn freely.
    """

    start: int
    end: int
    axial_n: float
    bending_n_mm2: float
    load_n_mm: float = 0.0
    hinges: tuple[bool, bool] = (False, False)


@dataclass(frozen=True, slots=True, kw_only=True)
class BentBar:
    """What a bar does, in its own directions: along it, and square to it to its left.

    Args:
        length_mm: of the bar. [mm]
        moves: along and square at its start, turn there, the same at its end; mm and rad.
        forces: what its ends are pushed with, in the same order; N and N mm.
        across_n_mm: even load square to it, to its left. [N/mm]
        bending_n_mm2: E I. [N mm2]
    """

    length_mm: float
    moves: tuple[float, float, float, float, float, float]
    forces: tuple[float, float, float, float, float, float]
    across_n_mm: float
    bending_n_mm2: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BentFrame:
    """What a frame does: to the right and up of every node [mm], every bar, and what held nodes are pushed with [N]."""

    moves_mm: tuple[tuple[float, float], ...]
    bars: tuple[BentBar, ...]
    reactions_n: tuple[tuple[float, float], ...]


def framed(nodes: tuple[Node, ...], bars: tuple[Bar, ...]) -> BentFrame:
    r"""Return what a frame does: the stiffness method, hinged ends let go before the bars are joined.

    $k = E A / L$ along, $12 E I / L^3$, $6 E I / L^2$, $4 E I / L$, $2 E I / L$ square to it

    Args:
        nodes: its points; enough of them held that it stands.
        bars: its bars; at every node at least one of them is stiff, or the node cannot turn.

    Returns:
        Moves, end forces and reactions.

    Valid:
        Elastic, small moves, bending and length only: no shear, no buckling.

    Source:
        [beam-tables]. Status: computed, agreed by an independent finite-element package.

    Example:
        >>> pinned = frozenset({"x", "z"})
        >>> pair = (Node(x_mm=0, z_mm=0, held=pinned), Node(x_mm=900, z_mm=0, held=pinned))
        >>> shelf = Bar(start=0, end=1, axial_n=1e6, bending_n_mm2=1312.2e6, load_n_mm=0.3)
        >>> round(greatest_sag(framed(pair, (shelf,)).bars[0]), 4)
        1.9531
    """
    size = 3 * len(nodes)
    matrix, force = np.zeros((size, size)), np.zeros(size)
    for i, node in enumerate(nodes):
        force[3 * i : 3 * i + 2] = node.load_n
    worked = [_worked(nodes, bar) for bar in bars]
    for bar, (_, turned, stiff, given) in zip(bars, worked, strict=True):
        at = [3 * bar.start, 3 * bar.start + 1, 3 * bar.start + 2, 3 * bar.end, 3 * bar.end + 1, 3 * bar.end + 2]
        matrix[np.ix_(at, at)] += turned.T @ stiff @ turned
        force[at] += turned.T @ given
    moved = _moved(matrix, force, nodes, bars)
    left = matrix @ moved - force
    return BentFrame(
        moves_mm=tuple((float(moved[3 * i]), float(moved[3 * i + 1])) for i in range(len(nodes))),
        bars=tuple(_bent(bar, each, moved) for bar, each in zip(bars, worked, strict=True)),
        reactions_n=tuple((float(left[3 * i]), float(left[3 * i + 1])) for i in range(len(nodes))),
    )


def greatest_sag(bar: BentBar) -> float:
    """Return how far a bar bends away from the straight line between its ends, to its right; a level one down. [mm]

    Args:
        bar: as bent.

    Returns:
        The greatest; never below 0.
    """
    sunk = -_bow(bar, np.linspace(0.0, bar.length_mm, 201))
    i = int(np.argmax(sunk))
    if i in {0, len(sunk) - 1}:
        return max(0.0, float(sunk[i]))
    # The top of the parabola through the greatest and its neighbours.
    before, at, after = (float(each) for each in sunk[i - 1 : i + 2])
    return at - (after - before) ** 2 / (8 * (after - 2 * at + before))


def greatest_moment(bar: BentBar) -> float:
    """Return the greatest bending moment in a bar, in size. [N mm]"""
    _, V, M, *_ = bar.forces
    s = np.linspace(0.0, bar.length_mm, 101)
    return float(np.max(np.abs(-M + V * s + bar.across_n_mm * s**2 / 2)))


def bow_at(bar: BentBar, share: float) -> float:
    """Return how far a place of a bar stands to the left of the line between its ends. [mm]

    Args:
        bar: as bent.
        share: of its length, from its start.
    """
    return float(_bow(bar, np.array([share * bar.length_mm]))[0])


def _bow(bar: BentBar, s: Floats) -> Floats:
    """Return the curve of a bar over the line between its ends. [mm]"""
    L, EI, q = bar.length_mm, bar.bending_n_mm2, bar.across_n_mm
    _, v0, t0, _, v1, t1 = bar.moves
    lean = (v1 - v0) / L
    a, b = t0 - lean, t1 - lean
    cubic = a * s * (1 - s / L) ** 2 - b * s**2 / L * (1 - s / L)
    return cubic + q * s**2 * (L - s) ** 2 / (24 * EI)


def _worked(nodes: tuple[Node, ...], bar: Bar) -> tuple[float, Floats, Floats, Floats]:
    """Return a bar's length, what turns its directions, its stiffness and what its load gives to its ends."""
    start, end = nodes[bar.start], nodes[bar.end]
    dx, dz = end.x_mm - start.x_mm, end.z_mm - start.z_mm
    L = math.hypot(dx, dz)
    c, s = dx / L, dz / L
    turned = np.kron(np.eye(2), np.array([[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]]))
    along, across = -bar.load_n_mm * s, -bar.load_n_mm * c
    given = np.array([along / 2, across / 2, across * L / 12, along / 2, across / 2, -across * L / 12]) * L
    stiff, given = _let_go(_stiffness(bar, L), given, bar.hinges)
    return L, turned, stiff, given


def _stiffness(bar: Bar, L: float) -> Floats:  # noqa: N803  the source's symbol
    """Return a bar's stiffness in its own directions, both ends stiff."""
    a, b = bar.axial_n / L, bar.bending_n_mm2 / L**3
    rows = [
        [a, 0.0, 0.0, -a, 0.0, 0.0],
        [0.0, 12 * b, 6 * b * L, 0.0, -12 * b, 6 * b * L],
        [0.0, 6 * b * L, 4 * b * L**2, 0.0, -6 * b * L, 2 * b * L**2],
        [-a, 0.0, 0.0, a, 0.0, 0.0],
        [0.0, -12 * b, -6 * b * L, 0.0, 12 * b, -6 * b * L],
        [0.0, 6 * b * L, 2 * b * L**2, 0.0, -6 * b * L, 4 * b * L**2],
    ]
    return np.array(rows)


def _let_go(stiff: Floats, given: Floats, hinges: tuple[bool, bool]) -> tuple[Floats, Floats]:
    """Return stiffness and load of a bar whose hinged ends carry no moment."""
    stiff, given = stiff.copy(), given.copy()
    for hinged, i in zip(hinges, (2, 5), strict=True):
        if hinged:
            column, pivot = stiff[:, i].copy(), stiff[i, i]
            given -= column * given[i] / pivot
            stiff -= np.outer(column, column) / pivot
    return stiff, given


def _moved(matrix: Floats, force: Floats, nodes: tuple[Node, ...], bars: tuple[Bar, ...]) -> Floats:
    """Return how far every node moves and turns."""
    stiff_at = {i for bar in bars for i, hinge in zip((bar.start, bar.end), bar.hinges, strict=True) if not hinge}
    free = []
    for i, node in enumerate(nodes):
        free += [3 * i + k for k, name in enumerate(("x", "z")) if name not in node.held]
        # Where every bar is hinged nothing turns the node: its turn means nothing.
        if "turn" not in node.held and i in stiff_at:
            free.append(3 * i + 2)
    moved = np.zeros(len(force))
    moved[free] = np.linalg.solve(matrix[np.ix_(free, free)], force[free])
    return moved


def _bent(bar: Bar, worked: tuple[float, Floats, Floats, Floats], moved: Floats) -> BentBar:
    """Return what a bar does, the turn of its hinged ends found again."""
    L, turned, stiff, given = worked
    at = [3 * bar.start, 3 * bar.start + 1, 3 * bar.start + 2, 3 * bar.end, 3 * bar.end + 1, 3 * bar.end + 2]
    own = turned @ moved[at]
    ends = stiff @ own - given
    across = -bar.load_n_mm * float(turned[0, 0])
    loose = [i for hinged, i in zip(bar.hinges, (2, 5), strict=True) if hinged]
    if loose:
        whole = _stiffness(bar, L)
        own[loose] = 0.0
        carried = np.array([0.0, across * L / 2, across * L**2 / 12, 0.0, across * L / 2, -across * L**2 / 12])
        own[loose] = np.linalg.solve(whole[np.ix_(loose, loose)], carried[loose] - (whole @ own)[loose])
    return BentBar(
        length_mm=L,
        moves=_six(own),
        forces=_six(ends),
        across_n_mm=across,
        bending_n_mm2=bar.bending_n_mm2,
    )


def _six(values: Floats) -> tuple[float, float, float, float, float, float]:
    """Return six numbers as a tuple."""
    a, b, c, d, e, f = (float(each) for each in values)
    return a, b, c, d, e, f
