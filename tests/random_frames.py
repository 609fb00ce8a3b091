"""Random frames of uprights and shelves with points fixed at the back, and composite sections, for other programs to judge."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass

from Pynite import FEModel3D

from nookwright.solvers.plane_frame import Bar, BentFrame, Node, bow_at, framed
from nookwright.trade.sections import Strip, greatest_stress, transformed

E_FE = 10000.0
"""Modulus in the finite elements; stiffness comes in through areas and moments of inertia. [N/mm2]"""

BAR_MM = 1000.0
"""Length of the bars that a section is tried with; under a moment alone any length is exact."""

AT = (0.1, 0.25, 0.5, 0.63, 0.9)
"""Places in each bar where bending is compared, as shares of its length."""


@dataclass(frozen=True)
class RandomFrame:
    """A frame made by chance."""

    nodes: tuple[Node, ...]
    bars: tuple[Bar, ...]


def random_frame(seed: int) -> RandomFrame:
    """Return the frame of that number: two to four uprights, up to four shelves between each pair, some fixed back."""
    chance = random.Random(seed)  # noqa: S311  sizes, not secrets
    xs = [0.0]
    for _ in range(chance.randint(1, 3)):
        xs.append(xs[-1] + chance.uniform(250.0, 1100.0))
    zs = [0.0]
    for _ in range(chance.randint(1, 4)):
        zs.append(zs[-1] + chance.uniform(200.0, 700.0))
    rake = chance.choice((0.0, chance.uniform(-0.6, 0.6)))
    rake = max(rake, (150.0 - (zs[-1] - zs[-2])) / xs[-1])  # the top stays above the shelf below it
    nodes, place = [], {}
    for i, x in enumerate(xs):
        for j, z in enumerate(zs):
            place[i, j] = len(nodes)
            top = j == len(zs) - 1
            held = _held(chance, foot=j == 0)
            if i == j == 0:
                held = frozenset({"x", "z", "turn"})  # so that a frame of hinged shelves does not fold
            load = (chance.uniform(-200, 200), chance.uniform(-400, 0)) if chance.random() < 0.2 else (0.0, 0.0)
            nodes.append(Node(x_mm=x, z_mm=z + (rake * x if top else 0.0), held=held, load_n=load))
    bars = []
    for i in range(len(xs)):
        stiff = _board(chance)
        bars += [
            Bar(start=place[i, j], end=place[i, j + 1], axial_n=stiff[0], bending_n_mm2=stiff[1])
            for j in range(len(zs) - 1)
        ]
    for i in range(len(xs) - 1):
        for j in range(1, len(zs)):
            axial, bending = _board(chance)
            hinges = (chance.random() < 0.6, chance.random() < 0.6)
            load = chance.uniform(0.02, 0.9)
            bars.append(
                Bar(start=place[i, j], end=place[i + 1, j], axial_n=axial, bending_n_mm2=bending, load_n_mm=load, hinges=hinges)
            )  # fmt: skip
    return RandomFrame(nodes=tuple(nodes), bars=tuple(bars))


def _held(chance: random.Random, *, foot: bool) -> frozenset[str]:
    """Return what of a node is held: feet pinned or fixed, now and then a point fixed back to the wall."""
    if foot:
        return frozenset({"x", "z", "turn"} if chance.random() < 0.3 else {"x", "z"})
    return frozenset({"x", "z"} if chance.random() < 0.15 else ())


def _board(chance: random.Random) -> tuple[float, float]:
    """Return E A and E I of a board. [N, N mm2]"""
    modulus, width, thick = chance.uniform(2000, 13000), chance.uniform(200, 600), chance.uniform(12, 40)
    return modulus * width * thick, modulus * width * thick**3 / 12


def finite_elements(frame: RandomFrame) -> FEModel3D:
    """Return the same frame in finite elements, solved."""
    model = FEModel3D()
    model.add_material("wood", E_FE, 4000.0, 0.25, 1e-9)
    for i, node in enumerate(frame.nodes):
        model.add_node(f"N{i}", node.x_mm, node.z_mm, 0)
        model.def_support(f"N{i}", "x" in node.held, "z" in node.held, True, True, True, "turn" in node.held)
        for direction, force in zip(("FX", "FY"), node.load_n, strict=True):
            model.add_node_load(f"N{i}", direction, force)
    for i, bar in enumerate(frame.bars):
        model.add_section(f"S{i}", bar.axial_n / E_FE, 1.0e9, bar.bending_n_mm2 / E_FE, 1.0e6)
        model.add_member(f"M{i}", f"N{bar.start}", f"N{bar.end}", "wood", f"S{i}")
        model.def_releases(f"M{i}", Rzi=bar.hinges[0], Rzj=bar.hinges[1])
        if bar.load_n_mm:
            model.add_member_dist_load(f"M{i}", "FY", -bar.load_n_mm, -bar.load_n_mm)
    model.analyze_linear()
    return model


def disagreement(frame: RandomFrame) -> float:
    """Return the greatest difference: moves over the greatest move, bending over the greatest bend, reactions over load."""
    mine: BentFrame = framed(frame.nodes, frame.bars)
    theirs = finite_elements(frame)
    at = [theirs.nodes[f"N{i}"] for i in range(len(frame.nodes))]
    moves = [(float(node.DX["Combo 1"]), float(node.DY["Combo 1"])) for node in at]
    greatest = max(abs(each) for pair in moves for each in pair) or 1.0
    worst = _apart(mine.moves_mm, moves) / greatest
    bends = []
    for i, bar in enumerate(mine.bars):
        member = theirs.members[f"M{i}"]
        first, last = (float(member.deflection("dy", x)) for x in (0.0, bar.length_mm))
        for share in AT:
            straight = first + share * (last - first)
            bends.append((bow_at(bar, share), float(member.deflection("dy", share * bar.length_mm)) - straight))
    most = max(abs(other) for _, other in bends) or 1.0
    worst = max([worst, *(abs(a - b) / most for a, b in bends)])
    reactions = [(float(node.RxnFX["Combo 1"]), float(node.RxnFY["Combo 1"])) for node in at]
    total = sum(abs(each) for pair in reactions for each in pair) or 1.0
    held = [i for i, node in enumerate(frame.nodes) if node.held]
    return max(worst, _apart([mine.reactions_n[i] for i in held], [reactions[i] for i in held]) / total)


def _apart(ours: Sequence[tuple[float, float]], theirs: Sequence[tuple[float, float]]) -> float:
    """Return the greatest difference between pairs."""
    return max(abs(a - b) for mine, other in zip(ours, theirs, strict=True) for a, b in zip(mine, other, strict=True))


def random_section(seed: int) -> tuple[Strip, ...]:
    """Return the composite section of that number: a board with a lip, a cleat behind, a board below, in any woods."""
    chance = random.Random(seed)  # noqa: S311  sizes, not secrets
    thick = chance.uniform(12, 40)
    strips = [Strip(modulus_n_mm2=chance.uniform(2000, 13000), width_mm=chance.uniform(150, 600), height_mm=thick)]
    for _ in range(chance.randint(1, 2)):
        tall = chance.uniform(thick, 90)
        top = chance.choice((0.0, thick - tall, thick))
        strips.append(
            Strip(
                modulus_n_mm2=chance.uniform(2000, 13000), width_mm=chance.uniform(12, 60), height_mm=tall, top_mm=top
            )
        )
    return tuple(strips)


def strip_forces(strips: tuple[Strip, ...], pulled_mm: float, turned_rad: float) -> list[tuple[float, float]]:
    """Return pull and moment in each strip when one end of all is moved as one stiff plane, by finite elements.

    Each strip is a bar at its own height below the section's top, fixed at one end. At the other the plane that glue
    holds together is drawn out and turned about the section's top.
    """
    model = FEModel3D()
    model.add_material("wood", E_FE, 4000.0, 0.25, 1e-9)
    for i, strip in enumerate(strips):
        height, axial = -strip.top_mm - strip.height_mm / 2, strip.modulus_n_mm2 * strip.width_mm * strip.height_mm
        model.add_section(f"S{i}", axial / E_FE, 1.0, axial * strip.height_mm**2 / 12 / E_FE, 1.0)
        model.add_node(f"A{i}", 0, height, 0)
        model.add_node(f"B{i}", BAR_MM, height, 0)
        model.def_support(f"A{i}", *(True,) * 6)
        model.def_support(f"B{i}", True, False, True, True, True, True)
        model.def_node_disp(f"B{i}", "DX", pulled_mm - turned_rad * height)
        model.def_node_disp(f"B{i}", "RZ", turned_rad)
        model.add_member(f"M{i}", f"A{i}", f"B{i}", "wood", f"S{i}")
    model.analyze_linear()
    ends = [model.nodes[f"B{i}"] for i in range(len(strips))]
    return [(float(end.RxnFX["Combo 1"]), float(end.RxnMZ["Combo 1"])) for end in ends]


def bars_disagreement(strips: tuple[Strip, ...]) -> float:
    """Return the greatest relative difference in stiffness and in each strip's stress from finite elements."""
    drawn, turned = strip_forces(strips, 0.1, 0.0), strip_forces(strips, 0.0, 0.001)
    # Both together so that nothing pulls along: bending alone.
    share = -sum(pull for pull, _ in turned) / sum(pull for pull, _ in drawn)
    bent = [(a + share * c, b + share * d) for (a, b), (c, d) in zip(turned, drawn, strict=True)]
    moment = sum(
        turn - pull * (-each.top_mm - each.height_mm / 2) for (pull, turn), each in zip(bent, strips, strict=True)
    )
    mine = transformed(strips)
    worst = abs(mine.stiffness_n_mm2 * 0.001 / BAR_MM / moment - 1)
    for strip, (pull, turn), ours in zip(strips, bent, greatest_stress(mine, moment), strict=True):
        b, h = strip.width_mm, strip.height_mm
        worst = max(worst, abs((abs(pull) / (b * h) + abs(turn) / (b * h**2 / 6)) / ours - 1))
    return worst


def section_disagreement(strips: tuple[Strip, ...]) -> float:
    """Return the greatest relative difference in stiffness and in each strip's stress from sectionproperties."""
    from sectionproperties.analysis import Section
    from sectionproperties.pre import CompoundGeometry, Material
    from sectionproperties.pre.library import rectangular_section

    pieces, right = [], 0.0
    for i, strip in enumerate(strips):
        wood = Material(
            name=f"wood {i}", elastic_modulus=strip.modulus_n_mm2, poissons_ratio=0.0, yield_strength=1.0, density=1e-9,
            color="w",
        )  # fmt: skip
        low = -strip.top_mm - strip.height_mm
        pieces.append(rectangular_section(d=strip.height_mm, b=strip.width_mm, material=wood).shift_section(right, low))
        right += strip.width_mm + 5.0  # apart: pieces that met in a corner only would have no mesh
    geometry = CompoundGeometry(pieces)
    geometry.create_mesh(mesh_sizes=[1000.0])
    section = Section(geometry)
    section.calculate_geometric_properties()
    mine = transformed(strips)
    theirs = float(section.get_eic()[0])
    worst = abs(mine.stiffness_n_mm2 / theirs - 1)
    _, down = section.get_c()
    worst = max(worst, abs(-float(down) - mine.axis_mm) / sum(strip.height_mm for strip in strips))
    stresses = greatest_stress(mine, 1e5)
    for strip, ours in zip(strips, stresses, strict=True):
        far = max(abs(-strip.top_mm - float(down)), abs(-strip.top_mm - strip.height_mm - float(down)))
        worst = max(worst, abs(ours / (1e5 * strip.modulus_n_mm2 * far / theirs) - 1))
    return worst
