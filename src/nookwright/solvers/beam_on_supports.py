"""A straight beam on any supports under even and point loads: overhangs, unequal spans, springs, steps in stiffness."""

from __future__ import annotations

import bisect
import itertools
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Support:
    """Something the beam rests on.

    Args:
        x_mm: where. [mm]
        kind: `pin` lets the beam turn; `fixed` holds it straight.
        spring_n_mm: force for each mm that it gives; None when it does not give. [N/mm]
    """

    x_mm: float
    kind: Literal["pin", "fixed"] = "pin"
    spring_n_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class EvenLoad:
    """An even load over part of the beam, down above 0. [mm, N/mm]"""

    start_mm: float
    end_mm: float
    load_n_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PointLoad:
    """One load, down above 0. [mm, N]"""

    x_mm: float
    load_n: float


BeamLoad = EvenLoad | PointLoad
Steps = tuple[tuple[float, float], ...]
"""Where each piece begins and its E I, from x = 0. [mm, N mm2]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class BentBeam:
    """What the beam does under its loads.

    Args:
        stations_mm: the places it was worked at, left to right. [mm]
        sinks_mm: how far each sinks; below 0 where it rises. [mm]
        turns: slope at each, down to the right above 0.
        moments_n_mm: bending moment just right of each, sagging above 0. [N mm]
        shears_n: shear just right of each station, the last one left of it. [N]
        reactions_n: of each support, up above 0, in the order given. [N]
        loads_n_mm: even load on each piece between two stations. [N/mm]
        stiffness_n_mm2: E I of each piece. [N mm2]
    """

    stations_mm: tuple[float, ...]
    sinks_mm: tuple[float, ...]
    turns: tuple[float, ...]
    moments_n_mm: tuple[float, ...]
    shears_n: tuple[float, ...]
    reactions_n: tuple[float, ...]
    loads_n_mm: tuple[float, ...]
    stiffness_n_mm2: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SpanResult:
    """One span of a continuous beam.

    Args:
        sag_mm: greatest deflection within the span; below 0 where it only rises. [mm]
        moment_n_mm: greatest bending moment in size, supports included. [N mm]
    """

    sag_mm: float
    moment_n_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ContinuousBeam:
    """What a beam over several supports does: each span, and what each support carries. [N]"""

    spans: tuple[SpanResult, ...]
    reactions_n: tuple[float, ...]


def bent(*, length_mm: float, steps: Steps, supports: tuple[Support, ...], loads: tuple[BeamLoad, ...]) -> BentBeam:
    r"""Return what a beam does: the stiffness method with cubic pieces, exact between stations.

    $E I v^{(4)} = w$; a piece of length L has $k_{11} = 12 E I / L^3$, $k_{12} = 6 E I / L^2$, $k_{22} = 4 E I / L$

    Args:
        length_mm: of the beam, from x = 0. [mm]
        steps: its stiffness along it; one pair when it is the same all along.
        supports: at least two, or one that is fixed.
        loads: any.

    Returns:
        Sinking, slope, moment and shear at every station, and reactions.

    Valid:
        Bending only, small deflection, supports that hold both ways.

    Source:
        [beam-tables]. Status: computed, agreed by an independent finite-element package.

    Example:
        >>> beam = bent(
        ...     length_mm=900, steps=((0.0, 1312.2e6),), supports=(Support(x_mm=0), Support(x_mm=900)),
        ...     loads=(EvenLoad(start_mm=0, end_mm=900, load_n_mm=0.3),))
        >>> round(greatest_sag(beam, 0, 900), 4)
        1.9531
    """
    xs = _stations(length_mm, steps, supports, loads)
    middles = [(a + b) / 2 for a, b in itertools.pairwise(xs)]
    rigid, even = [_at(steps, x) for x in middles], [_even(loads, x) for x in middles]
    matrix, force = np.zeros((2 * len(xs), 2 * len(xs))), np.zeros(2 * len(xs))
    for i, (EI, w) in enumerate(zip(rigid, even, strict=True)):
        L = xs[i + 1] - xs[i]
        matrix[2 * i : 2 * i + 4, 2 * i : 2 * i + 4] += _piece(EI, L)
        force[2 * i : 2 * i + 4] += _carried(w, L)
    for load in loads:
        if isinstance(load, PointLoad):
            force[2 * _index(xs, load.x_mm)] += load.load_n
    sunk = _solved(matrix, force, xs, supports)
    moments, shears = _inside(xs, sunk, rigid, even)
    return BentBeam(
        stations_mm=tuple(xs),
        sinks_mm=tuple(float(v) for v in sunk[::2]),
        turns=tuple(float(v) for v in sunk[1::2]),
        moments_n_mm=moments,
        shears_n=shears,
        reactions_n=_reactions(xs, sunk, matrix @ sunk - force, supports),
        loads_n_mm=tuple(even),
        stiffness_n_mm2=tuple(rigid),
    )


def continuous(*, spans_mm: tuple[float, ...], loads_n_mm: tuple[float, ...], stiffness_n_mm2: float) -> ContinuousBeam:
    """Return what a beam over several supports does, each span evenly loaded with its own load.

    Args:
        spans_mm: length of each span, left to right. [mm]
        loads_n_mm: even load on each. [N/mm]
        stiffness_n_mm2: E I, the same all along. [N mm2]

    Returns:
        Sag and moment of each span, reaction of each support.

    Valid:
        Elastic, supports that neither sink nor lift; a reaction below 0 means that it would lift.

    Source:
        [beam-tables]. Status: computed, agreed by finite elements.
    """
    ends = tuple(itertools.accumulate(spans_mm, initial=0.0))
    pairs = tuple(itertools.pairwise(ends))
    beam = bent(
        length_mm=ends[-1],
        steps=((0.0, stiffness_n_mm2),),
        supports=tuple(Support(x_mm=x) for x in ends),
        loads=tuple(EvenLoad(start_mm=a, end_mm=b, load_n_mm=w) for (a, b), w in zip(pairs, loads_n_mm, strict=True)),
    )
    return ContinuousBeam(
        spans=tuple(
            SpanResult(sag_mm=greatest_sag(beam, a, b), moment_n_mm=greatest_moment(beam, a, b)) for a, b in pairs
        ),
        reactions_n=beam.reactions_n,
    )


def sink_at(beam: BentBeam, x_mm: float) -> float:
    """Return how far a beam sinks at a place. [mm]"""
    i = min(max(bisect.bisect_right(beam.stations_mm, x_mm) - 1, 0), len(beam.loads_n_mm) - 1)
    s = x_mm - beam.stations_mm[i]
    return sum(c * s**power for power, c in enumerate(_shape(beam, i)))


def greatest_sag(beam: BentBeam, start_mm: float, end_mm: float) -> float:
    """Return the greatest sinking between two places.

    Args:
        beam: as bent.
        start_mm, end_mm: from where to where. [mm]

    Returns:
        The greatest; below 0 where the beam only rises there. [mm]
    """
    found = [sink_at(beam, start_mm), sink_at(beam, end_mm)]
    for i, (a, b) in enumerate(itertools.pairwise(beam.stations_mm)):
        low, high = max(a, start_mm), min(b, end_mm)
        if low >= high:
            continue
        _, c1, c2, c3, c4 = _shape(beam, i)
        slope = np.trim_zeros(np.array([4 * c4, 3 * c3, 2 * c2, c1]), "f")
        flat = np.roots(slope) if slope.size > 1 else np.array([])
        places = [a + float(s.real) for s in flat if abs(s.imag) <= 1e-6 * (b - a)]
        found += [sink_at(beam, x) for x in (low, high, *places) if low <= x <= high]
    return max(found)


def greatest_moment(beam: BentBeam, start_mm: float, end_mm: float) -> float:
    """Return the greatest bending moment between two places.

    Args:
        beam: as bent.
        start_mm, end_mm: from where to where. [mm]

    Returns:
        The greatest in size, sagging or hogging. [N mm]
    """
    found = [0.0]
    for i, (a, b) in enumerate(itertools.pairwise(beam.stations_mm)):
        low, high = max(a, start_mm) - a, min(b, end_mm) - a
        if low <= high:
            M, V, w = beam.moments_n_mm[i], beam.shears_n[i], beam.loads_n_mm[i]
            top = V / w if w else low
            found += [abs(M + V * s - w * s**2 / 2) for s in (low, min(max(top, low), high), high)]
    return max(found)


def equal_droop_support() -> float:
    """Return how far from each end two supports stand, as a share of the length, so that middle and ends sink alike.

    Returns:
        Share of the length.

    Source:
        [beam-tables] root of 5 c^4 / 384 - c^2 a^2 / 16 = a (3 a^3 + 6 a^2 c - c^3) / 24 with c = 1 - 2 a.
        Status: computed, agreed by finite elements.

    Example:
        >>> round(equal_droop_support(), 4)
        0.2231
    """
    low, high = 0.1, 0.4
    for _ in range(60):
        a = (low + high) / 2
        c = 1 - 2 * a
        middle = 5 * c**4 / 384 - c**2 * a**2 / 16
        end = a * (3 * a**3 + 6 * a**2 * c - c**3) / 24
        low, high = (a, high) if middle > end else (low, a)
    return (low + high) / 2


def _stations(length: float, steps: Steps, supports: tuple[Support, ...], loads: tuple[BeamLoad, ...]) -> list[float]:
    """Return every place where something begins, ends or bears, left to right."""
    places = [0.0, length, *(x for x, _ in steps), *(support.x_mm for support in supports)]
    for load in loads:
        places += [load.x_mm] if isinstance(load, PointLoad) else [load.start_mm, load.end_mm]
    kept: list[float] = []
    for x in sorted(min(max(place, 0.0), length) for place in places):
        if not kept or x - kept[-1] > 1e-6:
            kept.append(x)
    return kept


def _index(xs: list[float], x: float) -> int:
    """Return the station nearest to a place."""
    return min(range(len(xs)), key=lambda i: abs(xs[i] - x))


def _at(steps: Steps, x: float) -> float:
    """Return the stiffness of the piece that a place lies in."""
    return [EI for start, EI in steps if start <= x][-1]


def _even(loads: tuple[BeamLoad, ...], x: float) -> float:
    """Return the even load at a place."""
    return sum(load.load_n_mm for load in loads if isinstance(load, EvenLoad) and load.start_mm < x < load.end_mm)


def _piece(EI: float, L: float) -> Floats:  # noqa: N803  the source's symbols
    """Return a piece's stiffness in sinking and turning of its two ends."""
    rows = [
        [12.0, 6 * L, -12.0, 6 * L],
        [6 * L, 4 * L**2, -6 * L, 2 * L**2],
        [-12.0, -6 * L, 12.0, -6 * L],
        [6 * L, 2 * L**2, -6 * L, 4 * L**2],
    ]
    return np.array(rows) * (EI / L**3)


def _carried(w: float, L: float) -> Floats:  # noqa: N803
    """Return what an even load gives to a piece's two ends."""
    return np.array([w * L / 2, w * L**2 / 12, w * L / 2, -w * L**2 / 12])


def _solved(matrix: Floats, force: Floats, xs: list[float], supports: tuple[Support, ...]) -> Floats:
    """Return sinking and turning of every station."""
    held: set[int] = set()
    stiff = matrix.copy()
    for support in supports:
        at = 2 * _index(xs, support.x_mm)
        if support.spring_n_mm is None:
            held.add(at)
        else:
            stiff[at, at] += support.spring_n_mm
        if support.kind == "fixed":
            held.add(at + 1)
    free = [i for i in range(len(force)) if i not in held]
    sunk = np.zeros(len(force))
    sunk[free] = np.linalg.solve(stiff[np.ix_(free, free)], force[free])
    return sunk


def _inside(
    xs: list[float], sunk: Floats, rigid: list[float], even: list[float]
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return moment and shear at every station. What ends do to a piece: sagging moment, and minus the shear."""
    moments, shears = [], []
    ends = np.zeros(4)
    for i, (EI, w) in enumerate(zip(rigid, even, strict=True)):
        L = xs[i + 1] - xs[i]
        ends = _piece(EI, L) @ sunk[2 * i : 2 * i + 4] - _carried(w, L)
        moments.append(float(ends[1]))
        shears.append(float(-ends[0]))
    return (*moments, float(-ends[3])), (*shears, float(ends[2]))


def _reactions(xs: list[float], sunk: Floats, given: Floats, supports: tuple[Support, ...]) -> tuple[float, ...]:
    """Return what each support pushes up with."""
    found = []
    for support in supports:
        at = 2 * _index(xs, support.x_mm)
        found.append(float(-given[at]) if support.spring_n_mm is None else float(support.spring_n_mm * sunk[at]))
    return tuple(found)


def _shape(beam: BentBeam, i: int) -> tuple[float, float, float, float, float]:
    """Return a piece's curve as what multiplies 1, s, s^2, s^3 and s^4 from its left end."""
    EI = beam.stiffness_n_mm2[i]
    bend, shear = -beam.moments_n_mm[i] / (2 * EI), -beam.shears_n[i] / (6 * EI)
    return beam.sinks_mm[i], beam.turns[i], bend, shear, beam.loads_n_mm[i] / (24 * EI)
