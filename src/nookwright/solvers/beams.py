"""Bending and shear of straight beams on supports."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

BeamCase = Literal[
    "even, simple ends",
    "even, fixed ends",
    "even, one end fixed",
    "even, cantilever",
    "middle load, simple ends",
    "middle load, fixed ends",
    "end load, cantilever",
]  # fmt: skip

BENDING: dict[BeamCase, float] = {
    "even, simple ends": 5 / 384,
    "even, fixed ends": 1 / 384,
    "even, one end fixed": 1 / 184.634,
    "even, cantilever": 1 / 8,
    "middle load, simple ends": 1 / 48,
    "middle load, fixed ends": 1 / 192,
    "end load, cantilever": 1 / 3,
}
"""k_b of each case, for the total load. Source: [beam-tables]. Status: computed. Tables print 185 for 184.634."""

SHEAR: dict[BeamCase, float] = {
    "even, simple ends": 1 / 8,
    "even, fixed ends": 1 / 8,
    "even, one end fixed": 1 / 8,
    "even, cantilever": 1 / 2,
    "middle load, simple ends": 1 / 4,
    "middle load, fixed ends": 1 / 4,
    "end load, cantilever": 1.0,
}
"""k_s of each case: the shear force's area. Source: [wood-handbook-recalled]. Status: recalled."""


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


def deflection(*, case: BeamCase, load_n: float, span_mm: float, stiffness_n_mm2: float) -> float:
    r"""Return the greatest bending deflection of a single-span beam.

    $\delta = k_b W L^3 / (E I)$

    Args:
        case: load and supports.
        load_n: W, total load. [N]
        span_mm: L. [mm]
        stiffness_n_mm2: E I. [N mm2]

    Returns:
        Greatest deflection (at the free end of a cantilever). [mm]

    Valid:
        Elastic, small deflection, constant section.

    Source:
        [beam-tables]. Status: computed, agreed by finite elements.

    Example:
        >>> round(deflection(
        ...     case="even, simple ends", load_n=270, span_mm=900, stiffness_n_mm2=1312.2e6
        ... ), 5)
        1.95312
    """
    k_b, W, L, EI = BENDING[case], load_n, span_mm, stiffness_n_mm2
    return float(k_b * W * L**3 / EI)


def shear_deflection(*, case: BeamCase, load_n: float, span_mm: float, shear_stiffness_n: float) -> float:
    r"""Return the deflection that shear adds.

    $\delta_s = k_s W L / (G A')$

    Args:
        case: load and supports.
        load_n: W, total load. [N]
        span_mm: L. [mm]
        shear_stiffness_n: G A', with A' = 5/6 of a rectangle's area. [N]

    Returns:
        The deflection to add. [mm]

    Valid:
        Elastic; matters above about a tenth in depth over span.

    Source:
        [wood-handbook] general form. Status: read. k_s: [wood-handbook-recalled].
    """
    k_s, W, L = SHEAR[case], load_n, span_mm
    return k_s * W * L / shear_stiffness_n


def point_load_deflection(*, load_n: float, span_mm: float, from_end_mm: float, stiffness_n_mm2: float) -> float:
    r"""Return the greatest deflection under one load anywhere on a simple span.

    $\delta = P a b (a + 2 b) \sqrt{3 a (a + 2 b)} / (27 E I L)$, $a > b$

    Args:
        load_n: P. [N]
        span_mm: L. [mm]
        from_end_mm: distance of the load from either end. [mm]
        stiffness_n_mm2: E I. [N mm2]

    Returns:
        Greatest deflection, between the load and mid-span. [mm]

    Valid:
        Elastic, simple supports.

    Source:
        [beam-tables]. Status: computed, agreed by finite elements.
    """
    P, L, EI = load_n, span_mm, stiffness_n_mm2
    a = max(from_end_mm, L - from_end_mm)
    b = L - a
    return P * a * b * (a + 2 * b) * math.sqrt(3 * a * (a + 2 * b)) / (27 * EI * L)


def continuous(*, spans_mm: tuple[float, ...], loads_n_mm: tuple[float, ...], stiffness_n_mm2: float) -> ContinuousBeam:
    """Return what a beam over several supports does, each span evenly loaded with its own load.

    Three moments: $M_{i-1} L_i + 2 M_i (L_i + L_{i+1}) + M_{i+1} L_{i+1} = -w_i L_i^3/4 - w_{i+1} L_{i+1}^3/4$

    Args:
        spans_mm: length of each span, left to right. [mm]
        loads_n_mm: even load on each. [N/mm]
        stiffness_n_mm2: E I, the same all along. [N mm2]

    Returns:
        Sag and moment of each span, reaction of each support.

    Valid:
        Elastic, supports that neither sink nor lift; a reaction below 0 means that it would lift.

    Source:
        [beam-tables] theorem of three moments. Status: computed, agreed by finite elements.
    """
    moments = _support_moments(spans_mm, loads_n_mm)
    results = [
        _span(w, L, m0, m1, stiffness_n_mm2)
        for L, w, m0, m1 in zip(spans_mm, loads_n_mm, moments, moments[1:], strict=False)
    ]
    reactions = [0.0] * len(moments)
    for i, (L, w) in enumerate(zip(spans_mm, loads_n_mm, strict=True)):
        # End shears of a simple span, shifted by the end moments' couple.
        couple = (moments[i + 1] - moments[i]) / L
        reactions[i] += w * L / 2 + couple
        reactions[i + 1] += w * L / 2 - couple
    return ContinuousBeam(spans=tuple(results), reactions_n=tuple(reactions))


def _support_moments(spans: tuple[float, ...], loads: tuple[float, ...]) -> list[float]:
    """Return the moment over each support, sagging above 0, ends free: a tridiagonal system."""
    inner = len(spans) - 1
    diagonal = [2 * (spans[i] + spans[i + 1]) for i in range(inner)]
    right = [-(loads[i] * spans[i] ** 3 + loads[i + 1] * spans[i + 1] ** 3) / 4 for i in range(inner)]
    for i in range(1, inner):
        factor = spans[i] / diagonal[i - 1]
        diagonal[i] -= factor * spans[i]
        right[i] -= factor * right[i - 1]
    moments = [0.0] * (inner + 2)
    for i in reversed(range(inner)):
        carried = spans[i + 1] * moments[i + 2] if i + 1 < inner else 0.0
        moments[i + 1] = (right[i] - carried) / diagonal[i]
    return moments


def _span(w: float, span: float, m0: float, m1: float, stiffness: float) -> SpanResult:
    """Return one span's greatest sag and moment, by its load and end moments."""
    L, EI = span, stiffness

    def sag(x: float) -> float:
        even = w * x * (L**3 - 2 * L * x**2 + x**3) / 24
        ends = m0 * x * (L - x) * (2 * L - x) + m1 * x * (L - x) * (L + x)
        return (even + ends / (6 * L)) / EI

    deepest = max(_peak(sag, L * i / 8, L * (i + 2) / 8) for i in range(7))
    end_shear = w * L / 2 + (m1 - m0) / L
    middle = m0 + end_shear**2 / (2 * w) if w > 0 and 0 < end_shear < w * L else 0.0
    return SpanResult(sag_mm=deepest, moment_n_mm=max(abs(m0), abs(m1), abs(middle)))


def _peak(sag: Callable[[float], float], low: float, high: float) -> float:
    """Return the greatest value of a curve with one peak between two places, by golden section."""
    ratio = (5**0.5 - 1) / 2
    for _ in range(60):
        a, b = high - ratio * (high - low), low + ratio * (high - low)
        if sag(a) > sag(b):
            high = b
        else:
            low = a
    return sag((low + high) / 2)
