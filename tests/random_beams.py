"""Random beams, shelves and composite sections, and what an independent finite-element package says to them."""

from __future__ import annotations

import itertools
import random
from dataclasses import dataclass

from Pynite import FEModel3D

from nookwright.solvers.beam_on_supports import BeamLoad, BentBeam, EvenLoad, PointLoad, Steps, Support, bent, sink_at
from nookwright.trade.sections import Strip, transformed

E_FE = 10000.0
"""Modulus in the finite elements; stiffness comes in through the moment of inertia. [N/mm2]"""

AT = 40
"""Places in each piece where sinking is compared."""


@dataclass(frozen=True)
class RandomBeam:
    """A beam made by chance: one to five bays, overhangs, a step in stiffness, springs, fixed ends, any loads."""

    length_mm: float
    steps: Steps
    supports: tuple[Support, ...]
    loads: tuple[BeamLoad, ...]


def random_beam(seed: int) -> RandomBeam:
    """Return the beam of that number: the same one everywhere."""
    chance = random.Random(seed)  # noqa: S311  sizes, not secrets
    bays = [chance.uniform(250.0, 1300.0) for _ in range(chance.randint(1, 5))]
    left, right = (chance.choice((0.0, chance.uniform(50.0, 300.0))) for _ in range(2))
    places = [left]
    for bay in bays:
        places.append(places[-1] + bay)
    length = places[-1] + right
    supports = tuple(_support(chance, x, inner=0 < i < len(places) - 1) for i, x in enumerate(places))
    steps: Steps = ((0.0, _shelf_stiffness(chance)),)
    if chance.random() < 0.4:
        steps = (*steps, (chance.uniform(0.2, 0.8) * length, _shelf_stiffness(chance)))
    loads: list[BeamLoad] = [EvenLoad(start_mm=0.0, end_mm=length, load_n_mm=chance.uniform(0.02, 0.9))]
    if chance.random() < 0.6:
        a, b = sorted(chance.uniform(0.0, length) for _ in range(2))
        loads.append(EvenLoad(start_mm=a, end_mm=b, load_n_mm=chance.uniform(0.1, 1.5)))
    loads += [
        PointLoad(x_mm=chance.uniform(0.0, length), load_n=chance.uniform(20, 1000))
        for _ in range(chance.randint(0, 2))
    ]
    return RandomBeam(length_mm=length, steps=steps, supports=supports, loads=tuple(loads))


def _support(chance: random.Random, x: float, *, inner: bool) -> Support:
    """Return a pin; sometimes a spring within, or a fixed end."""
    if inner and chance.random() < 0.3:
        return Support(x_mm=x, spring_n_mm=chance.uniform(20, 2000))
    return Support(x_mm=x, kind="fixed" if not inner and chance.random() < 0.2 else "pin")


def _shelf_stiffness(chance: random.Random) -> float:
    """Return E I of a board, half of them with a lip in front."""
    board = Strip(
        modulus_n_mm2=chance.uniform(2000, 13000), width_mm=chance.uniform(150, 600), height_mm=chance.uniform(12, 40)
    )
    if chance.random() < 0.5:
        return transformed((board,)).stiffness_n_mm2
    lip = Strip(
        modulus_n_mm2=chance.uniform(7000, 13000), width_mm=chance.uniform(12, 26), height_mm=chance.uniform(25, 80)
    )
    return transformed((board, lip)).stiffness_n_mm2


def ours(beam: RandomBeam) -> BentBeam:
    """Return what our own beam does."""
    return bent(length_mm=beam.length_mm, steps=beam.steps, supports=beam.supports, loads=beam.loads)


def finite_elements(
    beam: RandomBeam, stations: tuple[float, ...]
) -> tuple[list[list[tuple[float, float]]], list[float]]:
    """Return how far places in each piece sink, and the supports' reactions, by finite elements.

    Args:
        beam: the beam.
        stations: where it is cut into pieces. [mm]
    """
    model = FEModel3D()
    model.add_material("wood", E_FE, 4000.0, 0.25, 1e-9)
    held = {round(support.x_mm, 6): support for support in beam.supports}
    for i, x in enumerate(stations):
        model.add_node(f"N{i}", x, 0, 0)
        support = held.get(round(x, 6))
        rigid = support is not None and support.spring_n_mm is None
        turned = support is not None and support.kind == "fixed"
        model.def_support(f"N{i}", i == 0, rigid, True, True, True, turned)
        if support is not None and support.spring_n_mm is not None:
            model.def_support_spring(f"N{i}", "DY", support.spring_n_mm)
    for i, (a, b) in enumerate(itertools.pairwise(stations)):
        middle = (a + b) / 2
        EI = [each for start, each in beam.steps if start <= middle][-1]
        # Iy is far off on purpose: loads along local y must bend it about z.
        model.add_section(f"S{i}", 5000.0, 1.0e9, EI / E_FE, 1.0e6)
        model.add_member(f"M{i}", f"N{i}", f"N{i + 1}", "wood", f"S{i}")
        for load in beam.loads:
            if isinstance(load, EvenLoad) and load.start_mm < middle < load.end_mm:
                model.add_member_dist_load(f"M{i}", "Fy", -load.load_n_mm, -load.load_n_mm)
    for load in beam.loads:
        if isinstance(load, PointLoad):
            nearest = min(range(len(stations)), key=lambda i: abs(stations[i] - load.x_mm))
            model.add_node_load(f"N{nearest}", "FY", -load.load_n)
    model.analyze_linear()
    curves = []
    for i, a in enumerate(stations[:-1]):
        xs, shape = model.members[f"M{i}"].deflection_array("dy", AT)
        curves.append([(a + float(x), -float(y)) for x, y in zip(xs, shape, strict=True)])
    return curves, [float(model.nodes[f"N{i}"].RxnFY["Combo 1"]) for i in range(len(stations))]


def disagreement(beam: RandomBeam) -> float:
    """Return the greatest difference in sinking over the greatest sinking, and in reactions over the whole load."""
    mine = ours(beam)
    curves, reactions = finite_elements(beam, mine.stations_mm)
    greatest = max(abs(v) for curve in curves for _, v in curve)
    worst = max(abs(sink_at(mine, x) - v) for curve in curves for x, v in curve) / greatest
    total = sum(abs(each) for each in reactions) or 1.0
    for support, mine_n in zip(beam.supports, mine.reactions_n, strict=True):
        if support.spring_n_mm is None:
            at = min(range(len(mine.stations_mm)), key=lambda i: abs(mine.stations_mm[i] - support.x_mm))
            worst = max(worst, abs(mine_n - reactions[at]) / total)
    return worst
