"""How our own formulas are asked for published figures on creep, room climate, glue-up, racking and frames."""

from __future__ import annotations

from nookwright.solvers import plane_frame
from nookwright.trade import glue_up, movement, racking, room_climate, woods
from published.computing import EI, PSI, SPAN, Numbers, P, W
from published.rows import Row, numbers, published_rows


def _kdef(row: Row) -> Numbers:
    return (woods.wood(row.inputs).creep.value - 1,)


def _frost_vapour(row: Row) -> Numbers:
    use: room_climate.Moisture = "normal" if row.inputs == "class 2" else "much"
    return (room_climate.VAPOUR_EXCESS_PA[use][1],)


def _vapour_excess(row: Row) -> Numbers:
    outside, in_frost = numbers(row.inputs)
    return (room_climate.vapour_excess(outside_c=outside, in_frost_pa=in_frost),)


def _room_warmth(row: Row) -> Numbers:
    outside, heated = numbers(row.inputs)
    return (room_climate.room_warmth(outside_c=outside, heated_c=heated),)


def _room_humidity(row: Row) -> Numbers:
    outside, humidity, room, added = numbers(row.inputs)
    return (room_climate.room_humidity(outside_c=outside, outside_pct=humidity, room_c=room, excess_pa=added),)


def _gap_to_leave(row: Row) -> Numbers:
    width, low, high = (abs(each) for each in numbers(row.inputs))
    figure = woods.wood("hard-maple").tangential
    assert figure is not None
    edges = 1 if "one edge" in row.inputs else 2
    gap = movement.gap_to_leave(width_mm=width, coefficient=figure.value, now_pct=low, high_pct=high, edges=edges)
    return (gap,)


def _clamp_pressure(row: Row) -> Numbers:
    gravity = {"softwood": 0.40, "medium wood": 0.50, "hardwood": 0.67}[row.inputs]
    return tuple(each / PSI for each in glue_up.clamp_pressure(gravity))


def _clamp_spacing(row: Row) -> Numbers:
    force, pressure, *rest = numbers(row.inputs)
    return (glue_up.clamp_spacing(clamp_n=force, pressure_n_mm2=pressure, thickness_mm=rest[-1]),)


def _clamps_needed(row: Row) -> Numbers:
    length, spacing, _ = numbers(row.inputs)
    return (float(glue_up.clamps_needed(length_mm=length, spacing_mm=spacing)),)


def _push_of_back(row: Row) -> Numbers:
    per_mm, width = numbers(row.inputs)
    return (racking.panel_push(width_mm=width, edge_n_mm=per_mm),)


def _push_of_couples(row: Row) -> Numbers:
    count, couple, height = numbers(row.inputs)
    return (racking.couple_push(couples_n_mm=(couple,) * int(count), height_mm=height),)


def _portal(_: Row) -> Numbers:
    foot = frozenset({"x", "z", "turn"})
    nodes = (
        plane_frame.Node(x_mm=0, z_mm=0, held=foot), plane_frame.Node(x_mm=0, z_mm=2000, load_n=(100.0, 0.0)),
        plane_frame.Node(x_mm=1000, z_mm=2000), plane_frame.Node(x_mm=1000, z_mm=0, held=foot),
    )  # fmt: skip
    bars = tuple(plane_frame.Bar(start=i, end=i + 1, axial_n=1e12, bending_n_mm2=1e9) for i in range(3))
    return (plane_frame.framed(nodes, bars).moves_mm[1][0],)


def _on_posts(row: Row) -> Numbers:
    foot, sides = frozenset({"x", "z", "turn"}), frozenset({"x"})
    nodes = tuple(
        plane_frame.Node(x_mm=x, z_mm=z, held=foot if z == 0 else sides)
        for x, z in ((0, 0), (0, 500), (SPAN, 500), (SPAN, 0))
    )
    stiff = 1e15
    posts = [plane_frame.Bar(start=a, end=b, axial_n=stiff, bending_n_mm2=stiff) for a, b in ((0, 1), (3, 2))]
    hinges = ("stiff" not in row.quantity, True)
    shelf = plane_frame.Bar(start=1, end=2, axial_n=stiff, bending_n_mm2=EI, load_n_mm=W, hinges=hinges)
    return (plane_frame.greatest_sag(plane_frame.framed(nodes, (*posts, shelf)).bars[2]),)


def _rod(_: Row) -> Numbers:
    nodes = (
        plane_frame.Node(x_mm=0, z_mm=0, held=frozenset({"x", "z", "turn"})),
        plane_frame.Node(x_mm=1000, z_mm=0, load_n=(100.0, 0.0)),
    )
    return (
        plane_frame.framed(nodes, (plane_frame.Bar(start=0, end=1, axial_n=1e6, bending_n_mm2=1e9),)).moves_mm[1][0],
    )


def _two_bars(row: Row) -> Numbers:
    held, middle = frozenset({"x", "z", "turn"}), 300.0
    tip = "tip" in row.quantity
    nodes = (
        plane_frame.Node(x_mm=0, z_mm=0, held=held),
        plane_frame.Node(x_mm=middle, z_mm=0, load_n=(0.0, 0.0) if tip else (0.0, -P)),
        plane_frame.Node(x_mm=SPAN, z_mm=0, held=frozenset() if tip else held, load_n=(0.0, -P) if tip else (0.0, 0.0)),
    )
    bars = tuple(plane_frame.Bar(start=i, end=i + 1, axial_n=1e9, bending_n_mm2=EI) for i in (0, 1))
    return (-plane_frame.framed(nodes, bars).moves_mm[2 if tip else 1][1],)


def _cantilever_bow(row: Row) -> Numbers:
    held = frozenset({"x", "z", "turn"})
    right = "right end" in row.inputs
    nodes = tuple(plane_frame.Node(x_mm=x, z_mm=0, held=held if (x > 0) == right else frozenset()) for x in (0.0, SPAN))
    bar = plane_frame.Bar(start=0, end=1, axial_n=1e9, bending_n_mm2=EI, load_n_mm=W)
    return (plane_frame.bow_at(plane_frame.framed(nodes, (bar,)).bars[0], 0.5 if "mid" in row.inputs else 0.25),)


def _end_shares(_: Row) -> Numbers:
    held = frozenset({"x", "z", "turn"})
    nodes = tuple(plane_frame.Node(x_mm=x, z_mm=0, held=held) for x in (0.0, SPAN))
    bar = plane_frame.Bar(start=0, end=1, axial_n=1e9, bending_n_mm2=EI, load_n_mm=W, hinges=(False, True))
    done = plane_frame.framed(nodes, (bar,))
    return done.reactions_n[0][1], done.reactions_n[1][1]


def _shrinkage_behind(row: Row) -> Numbers:
    """From the coefficients printed in another table, apart from this one."""
    name = row.quantity.partition(":")[0].removesuffix(", American" if row.quantity.startswith("basswood") else "")
    printed = next(each for each in published_rows() if each.quantity == f"{name}: C_R ; C_T per 1% MC")
    return tuple(movement.shrinkage_from_coefficient(C) for C in numbers(printed.value))


def _radial_and_tangential(row: Row) -> list[float]:
    return numbers(row.value)[:2]


def _beyond(row: Row) -> Numbers:
    width, low, high = (abs(each) for each in numbers(row.inputs))
    figure = woods.wood("beech").tangential
    assert figure is not None
    return (movement.board_change(width_mm=width, coefficient=figure.value, from_pct=low, to_pct=high),)
