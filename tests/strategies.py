"""Random rooms and briefs: crooked alcoves and corners under slopes, and furniture from plain to unreasonable."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import strategies as st

from nookwright.stages.inputs.brief import (
    Allowances,
    Bought,
    Brief,
    Cases,
    Cell,
    Fixed,
    Front,
    Joinery,
    Platform,
    Share,
    Tier,
    Top,
    Trim,
    Unit,
)
from nookwright.stages.inputs.survey import Outlet, Skirting, WallBuild
from planar_rooms import PlanarRoom


def mm(low: float, high: float) -> st.SearchStrategy[float]:
    """Lengths to a tenth of a millimetre."""
    return st.integers(round(low * 10), round(high * 10)).map(lambda tenths: tenths / 10.0)


def tilt(most: float) -> st.SearchStrategy[float]:
    """A gradient, in millimetres a metre over a thousand."""
    return st.integers(-1000, 1000).map(lambda share: share / 1000.0 * most)


@st.composite
def rooms(draw: st.DrawFn) -> PlanarRoom:
    """Alcoves, and corners under a slope that rises either way, with or without a ceiling; all walls lean."""
    end = draw(mm(1300, 2600))
    planes = {
        "floor": (0.0, draw(tilt(0.01)), draw(tilt(0.01))),
        "back": (0.0, draw(tilt(0.005)), draw(tilt(0.01))),
        "left": (0.0, draw(tilt(0.03)), draw(tilt(0.01))),
        "right": (end, draw(tilt(0.03)), draw(tilt(0.01))),
    }
    kind = draw(st.sampled_from(["alcove", "rises right", "rises left"]))
    if kind != "alcove":
        slope = draw(mm(0.4, 2.0)) if kind == "rises right" else -draw(mm(0.4, 2.0))
        low = draw(mm(300, 1000))
        planes["slope"] = (low if slope > 0 else low - slope * end, slope, draw(tilt(0.02)))
        del planes["right" if kind == "rises right" else "left"]
    if kind == "alcove" or draw(st.booleans()):
        planes["ceiling"] = (draw(mm(2200, 2600)), draw(tilt(0.005)), draw(tilt(0.005)))
    return PlanarRoom(planes=planes, end_mm=end, sd_mm=draw(mm(0.0, 3.0)))  # type: ignore[arg-type]


FRONTS = st.one_of(
    st.none(),
    st.builds(
        Front,
        leaves=st.sampled_from(["one", "pair", "sliding"]),
        hang=st.sampled_from(["inset", "overlay"]),
        board=st.just("ply"),
    ).filter(lambda front: front.leaves != "sliding" or front.hang == "inset"),
)
LEAVES = st.builds(
    Cell,
    size=st.one_of(st.builds(Share, parts=st.sampled_from([1.0, 2.0])), st.builds(Fixed, mm=mm(150, 300))),
    shelves=st.integers(0, 4),
    shelf_fixing=st.sampled_from(["pins", "fixed"]),
    front=FRONTS,
)


def split(cells: st.SearchStrategy[Cell]) -> st.SearchStrategy[Cell]:
    """Two or three cells side by side or above each other, at least one of them a share."""
    return st.builds(
        Cell, split=st.sampled_from(["columns", "rows"]), cells=st.lists(cells, min_size=2, max_size=3).map(tuple)
    ).filter(lambda cell: any(isinstance(each.size, Share) for each in cell.cells))


INSIDES = st.one_of(LEAVES.map(lambda cell: replace(cell, size=Share())), split(st.one_of(LEAVES, split(LEAVES))))


@st.composite
def briefs(draw: st.DrawFn) -> Brief:
    """Lower cases, sometimes with a bought cabinet, a top, and an upper tier up to the slope or ceiling."""
    low = draw(mm(300, 700))
    depth = draw(mm(350, 600))
    units = [Unit(name=f"low {i}", inside=draw(INSIDES)) for i in range(draw(st.integers(1, 2)))]
    if draw(st.booleans()):
        bought = Bought(width_mm=draw(mm(300, 500)), height_mm=low + 80.0, depth_mm=depth, toe_height_mm=80.0)
        units.insert(0, Unit(name="bought", bought=bought))
    ends = {
        "rake_low": draw(st.sampled_from(["over", "between"])),
        "rake_high": draw(st.sampled_from(["over", "between"])),
    }
    tiers: list[Tier] = [
        Cases(name="lower", height_mm=low, depth_mm=depth, units=tuple(units), board="ply", back_board="thin", **ends)
    ]
    if draw(st.booleans()):
        tiers.append(Top(name="worktop", board=draw(st.sampled_from(["top", "ply"]))))
    if draw(st.booleans()):
        upper = Unit(name="upper", inside=draw(INSIDES))
        back = draw(st.sampled_from(["", "thin"]))
        tiers.append(
            Cases(
                name="upper", height_mm=None, depth_mm=draw(mm(220, 340)), units=(upper,), board="ply", back_board=back,
                **ends,
            )
        )  # fmt: skip
    joinery = Joinery(
        corners=draw(st.sampled_from(["pocket screws", "housing", "rebate", "butt and screws"])),
        dividers=draw(st.sampled_from(["housing", "butt and screws", "pocket screws"])),
    )
    return Brief(
        title="job",
        units="mm",
        resolution=0.5,
        tiers=tuple(tiers),
        platform=Platform(height_mm=draw(mm(60, 150)), board="ply", toe_mm=draw(mm(0, 60)))
        if draw(st.booleans())
        else None,
        trim=Trim(board="strip") if draw(st.booleans()) else None,
        joinery=joinery,
    )


JOINTS = st.sampled_from(["pocket screws", "housing", "rebate", "butt and screws", "butt and brads"])


@st.composite
def outlets(draw: st.DrawFn, number: int) -> Outlet:
    """A socket anywhere on the back wall or the left one, perhaps where no wall is."""
    return Outlet(
        name=f"socket {number}", wall=draw(st.sampled_from(["back", "left"])),
        side=draw(st.sampled_from(["left", "right"])), from_side_mm=draw(mm(0, 1500)),
        above_floor_mm=draw(mm(50, 1500)), box_width_mm=74.0, box_height_mm=74.0, plate_width_mm=86.0,
        plate_height_mm=86.0,
    )  # fmt: skip


@st.composite
def hard_rooms(draw: st.DrawFn) -> PlanarRoom:
    """Rooms down to a cupboard's size: walls missing, low ceilings, gentle slopes down to the floor, outlets."""
    room = draw(rooms())
    planes, end = dict(room.planes), draw(mm(250, 2600))
    if "right" in planes:
        planes["right"] = (end, *planes["right"][1:])
    if "slope" in planes:
        slope, low = planes["slope"][1], draw(mm(0, 1200))
        if draw(st.booleans()):
            slope = (1 if slope > 0 else -1) * draw(mm(0.1, 0.5))
        planes["slope"] = (low if slope > 0 else low - slope * end, slope, planes["slope"][2])
    if "ceiling" in planes:
        planes["ceiling"] = (draw(mm(900, 2600)), *planes["ceiling"][1:])
    for wall in ("left", "right"):
        if draw(st.integers(0, 5)) == 0:
            planes.pop(wall, None)  # type: ignore[call-overload]
    survey = replace(
        room.survey,
        wall=WallBuild(
            kind=draw(st.sampled_from(["studs", "masonry", "unknown"])),
            stud_centres_mm=tuple(sorted(draw(st.lists(mm(0, 2600), max_size=5)))),
            outside=draw(st.booleans()),
        ),
        skirting=draw(st.none() | st.builds(Skirting, height_mm=mm(40, 200), thickness_mm=mm(8, 25))),
        outlets=tuple(draw(outlets(i)) for i in range(draw(st.integers(0, 2)))),
    )
    return PlanarRoom(planes=planes, end_mm=end, mouth_mm=-draw(mm(200, 900)), sd_mm=room.sd_mm, survey=survey)


@st.composite
def hard_briefs(draw: st.DrawFn) -> Brief:
    """Briefs nobody thought over: any depth and height, chosen ends, wide strips, two tops, units beside units."""
    brief = draw(briefs())
    tiers: list[Tier] = []
    for tier in brief.tiers:
        if isinstance(tier, Top):
            tiers.append(tier)
            continue
        units = tier.units
        if draw(st.booleans()):
            width = draw(st.builds(Fixed, mm=mm(100, 700)) | st.builds(Share, parts=st.sampled_from([1.0, 3.0])))
            units += (Unit(name=f"{tier.name} more", width=width, inside=draw(INSIDES)),)
        height = tier.height_mm and draw(mm(120, 1500))
        back = draw(st.sampled_from(["", "thin", "ply"]))
        tiers.append(replace(tier, depth_mm=draw(mm(100, 700)), height_mm=height, back_board=back, units=units))
    if draw(st.integers(0, 3)) == 0:
        tiers.append(Top(name="second top", board="ply", overhang_mm=draw(mm(0, 60))))
    trim = Trim(
        board=draw(st.sampled_from(["strip", "top"])), reveal_mm=draw(mm(0, 8)), centre_mm=draw(mm(18, 70)),
        rail_mm=draw(mm(18, 90)),
    )  # fmt: skip
    return replace(
        brief,
        tiers=tuple(tiers),
        joinery=Joinery(corners=draw(JOINTS), dividers=draw(JOINTS), housing_mm=draw(mm(1, 15))),
        start_mm=draw(st.none() | mm(0, 400)),
        end_mm=draw(st.none() | mm(300, 2400)),
        trim=trim if brief.trim else None,
        return_skirting=draw(st.booleans()),
        allowances=Allowances(
            sds=draw(st.sampled_from([0.0, 1.0, 2.33])), least_gap_mm=draw(mm(0, 10)), top_gap_mm=draw(mm(0, 30)),
            scribe_mm=draw(mm(0, 5)),
        ),
    )  # fmt: skip
