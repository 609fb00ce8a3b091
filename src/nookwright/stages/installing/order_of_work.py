"""The order of work on site: from taking the skirting off to loading the shelves."""

from __future__ import annotations

from collections.abc import Iterable

from nookwright.basics.lengths import Marks, show
from nookwright.stages.design.design import Box, Design, FittedTop
from nookwright.stages.installing.install_plan import PLATFORM, OutletHole, Packer, Step, WallFixing
from nookwright.stages.parts.part import Part, PartList
from nookwright.stages.room.room import Room


def order_of_work(
    design: Design,
    parts: PartList,
    room: Room,
    packers: tuple[Packer, ...],
    fixings: tuple[WallFixing, ...],
    holes: tuple[OutletHole, ...],
    marks: Marks,
) -> tuple[Step, ...]:
    """Return the steps in order, each with the parts new in it and what can hurt.

    Args:
        design: everything at its place.
        parts: every board.
        room: skirting and walls.
        packers, fixings, holes: what was set out.
        marks: the units people read.
    """
    steps = [_make_safe(holes), *_skirting_off(room), _mark_out(room, fixings)]
    if design.platform is not None:
        steps.append(_platform(design, parts, packers, fixings, room.origin, marks))
    for box in design.boxes:
        steps.extend(_box(box, parts, fixings, holes, marks))
        steps.extend(_top(top.name, parts, marks) for top in design.tops if _last_below(top, design) == box.letter)
    steps.extend(_face(parts))
    steps.extend(_finish(marks))
    return tuple(steps)


def _said(mm: float, marks: Marks) -> str:
    """Return a length as the reader says it."""
    return show(mm, marks, with_unit=True)


def _numbers(parts: Iterable[Part]) -> tuple[str, ...]:
    return tuple(part.number for part in parts)


def _of(parts: PartList, roles: set[str], module: str = "") -> tuple[Part, ...]:
    """Return the parts of some roles, in one module if named."""
    return tuple(part for part in parts.parts if part.role in roles and module in {"", part.module})


def _last_below(top: FittedTop, design: Design) -> str:
    """Return the letter of the last box below a top, so that the top follows it."""
    return [box.letter for box in design.boxes if box.z0_mm < top.z_mm][-1]


def _make_safe(holes: tuple[OutletHole, ...]) -> Step:
    wiring = ", ".join(hole.outlet for hole in holes)
    text = "Cover the floor, clear the way in, check that smoke alarms stay free of dust."
    if wiring:
        text += f" Switch off the circuit of: {wiring}; prove it dead before anything is touched."
    return Step(
        title="Make the room safe",
        text=text,
        caution=(
            "Electric work, gas and old paint or fibres are for licensed people and local codes to judge. "
            "Paint from before 1978 may hold lead: test before sanding."
        ),
    )


def _skirting_off(room: Room) -> list[Step]:
    skirting = room.survey.skirting
    if skirting is None:
        return []
    return [
        Step(
            title="Take the skirting off",
            text=(
                "Score the paint line, pry at a stud with a thin block behind the bar, pull nails through "
                "from the back. "
                "Number each length and mark left and right; keep it for the return."
            ),
            caution="Nails and splinters; cables may run behind a skirting.",
        )
    ]


def _mark_out(room: Room, fixings: tuple[WallFixing, ...]) -> Step:
    studs = sum(1 for fixing in fixings if fixing.into.startswith("stud"))
    corner = f"{room.origin}, the back left corner"
    text = f"Draw the level line and the furniture's ends on wall and floor, measured from {corner}."
    if studs:
        text += (
            " Prove both edges of every stud with a fine drill where the furniture will hide it; mark them above it."
        )
    if room.survey.wall.kind == "unknown":
        text += " Find out what the wall is made of before buying its fixings."
    return Step(title="Mark out", text=text, caution="Look for pipes and cables before drilling any wall.")


def _platform(
    design: Design,
    parts: PartList,
    packers: tuple[Packer, ...],
    fixings: tuple[WallFixing, ...],
    origin: str,
    marks: Marks,
) -> Step:
    platform = design.platform
    studs = [fixing.into for fixing in fixings if fixing.box == PLATFORM]
    held = (
        f"screw its back rail to {', '.join(studs)} where it is packed off the wall"
        if studs
        else "screw blocks to the floor inside its front and back rail, and the rails to the blocks"
    )
    high = platform.high_point if platform else None
    frames = len(platform.frames_x_mm) if platform else 1
    ladder = "Screw the ladder together."
    if frames > 1:
        ladder = f"Screw each of the {frames} ladders together, then their end bearers to each other, rails in line."
    thinnest = min((packer.height.value for packer in packers), default=0.0)
    thickest = max((packer.height.value for packer in packers), default=0.0)
    where = (
        f" The floor's high point is {_said(high[0], marks)} right of {origin} and {_said(-high[1], marks)} out."
        if high
        else ""
    )
    return Step(
        title="Set the platform",
        text=(
            f"{ladder} Pack it at the {len(packers)} numbered points, {_said(thinnest, marks)} to "
            f"{_said(thickest, marks)};"
            f" start at the high point and never go below its packer.{where} Check level along, across and "
            f"corner to corner, then {held}; trim the packers off."
        ),
        caution="Know what runs under the floor before screwing into it.",
        parts=_numbers(_of(parts, {"platform rail", "platform bearer"})),
    )


def _box(
    box: Box, parts: PartList, fixings: tuple[WallFixing, ...], holes: tuple[OutletHole, ...], marks: Marks
) -> list[Step]:
    """Return the steps of one box: put it together, bring outlets through, stand it, fix it."""
    boards = _of(
        parts,
        {"side", "bottom", "top", "raked board", "divider", "shelf", "loose shelf", "back", "fixing rail"},
        box.name,
    )
    mine = [fixing for fixing in fixings if fixing.box == box.name]
    steps: list[Step] = []
    if box.bought is None:
        steps.append(
            Step(
                title=f"Put {box.name} together",
                text=(
                    "Cut housings and drill pin holes first, from the foot of every upright. Glue and screw "
                    f"the {len(boards)} boards;"
                    " both diagonals of the front must agree before the back goes on."
                ),
                parts=_numbers(boards),
            )
        )
    elif box.bought.toe_height_mm > 0:
        steps.append(
            Step(
                title=f"Cut the toe off {box.name}",
                text=(
                    f"Cut {_said(box.bought.toe_height_mm, marks)} off its sides so that it stands on the platform."
                    " See first what carries the bottom, and add a rail where the cut takes it away; seal the raw edge."
                ),
                caution="The saw runs close to screws and clips: take them out first.",
            )
        )
    steps.extend(_bring_through(hole, marks) for hole in holes if hole.box == box.name)
    steps.append(_stand(box, mine, marks))
    return steps


def _bring_through(hole: OutletHole, marks: Marks) -> Step:
    place = (
        f"{_said(hole.left_mm, marks)} from the panel's left edge and "
        f"{_said(hole.bottom_mm, marks)} from its bottom, seen from "
        "the room"
    )
    return Step(
        title=f"Hole for {hole.outlet}",
        text=(
            f"Lower left corner {place}; {_said(hole.width_mm, marks)} x {_said(hole.height_mm, marks)}, known to "
            f"{_said(2 * hole.sd_mm, marks)}."
            " Cut it small, look, then enlarge. The box must come forward"
            f" {_said(hole.forward_mm, marks)} to stand flush with the panel's face."
        ),
        caution="Who may move or extend an outlet is for local law to say; power off and proven dead.",
    )


def _stand(box: Box, fixings: list[WallFixing], marks: Marks) -> Step:
    """Return the step that stands a box, packs it and screws it to the wall."""
    if fixings:
        packers = ", ".join(_said(fixing.packer.value, marks) for fixing in fixings)
        text = (
            f"Stand it in place, plumb it both ways, pack behind each of its {len(fixings)} wall fixings"
            f" ({packers} from left to right) and screw through the packers. Check plumb after each screw."
        )
    else:
        text = (
            "Stand it in place and plumb it. No stud lies behind its rails: screw it to its neighbours and the "
            "platform."
        )
    return Step(
        title=f"Stand and fix {box.name}",
        text=text,
        caution=(
            "It can fall over until it is fixed: keep a hand on it, and use a second person for anything heavy or tall."
        ),
    )


def _role(number: str, parts: PartList) -> str:
    return parts.part(number).role


def _top(name: str, parts: PartList, marks: Marks) -> Step:
    boards = tuple(part for part in parts.parts if part.role == "worktop" and part.module == name)
    glued = next((part.pieces for part in boards if part.pieces > 1), 0)
    text = (
        "Lay it in place on packers, pull it to the wall, scribe the back first and the ends after, cut, and try again."
    )
    if glued:
        text = (
            f"Glue up {glued} boards, clamps on alternate faces as many as the checks say under glue-up; leave a day. "
            + text
        )
    numbers = _numbers(boards)
    before = [joint.held for joint in parts.joints if joint.holder in numbers and _role(joint.held, parts) == "worktop"]
    if before:
        text += (
            f" Shoot its end and that of {before[0]} straight, one against the other; biscuits or a loose tongue, not "
            "in the buying list, keep their faces level; glue, and pull them up before both are screwed down."
        )
    return Step(
        title=f"Scribe and fix {name}",
        text=text + " Screw it from below, tight along the front, in slots behind.",
        parts=_numbers(boards),
    )


def _face(parts: PartList) -> list[Step]:
    strips, doors, skirting = (_of(parts, {role}) for role in ("strip", "door", "skirting"))
    steps: list[Step] = []
    if strips:
        steps.append(
            Step(
                title="Face trim",
                text=(
                    "Lay all strips dry. Fix the centre strips, then the level and raked ones; scribe the end "
                    "strips last. Glue and brads."
                ),
                caution="Brads can turn and come out sideways: keep fingers a hand's width away.",
                parts=_numbers(strips),
            )
        )
    if doors:
        steps.append(
            Step(
                title="Doors",
                text="Measure the built openings, cut each leaf to its own, hang and set the gaps.",
                parts=_numbers(doors),
            )
        )
    if skirting:
        steps.append(
            Step(
                title="Return the skirting",
                text="Cut the kept skirting to the base; scribe its lower edge to the floor where gaps show.",
                parts=_numbers(skirting),
            )
        )
    return steps


def _finish(marks: Marks) -> list[Step]:
    return [
        Step(
            title="Fill, sand, prime, paint",
            text=(
                f"Set nails {_said(1.5, marks)} deep, fill twice, sand flush, prime, caulk inside corners, "
                "sand 220, then the "
                "coats of the finishing sheet."
            ),
            caution="Dust mask when sanding, air when painting; follow the tins.",
        ),
        Step(
            title="Hand over",
            text="Write what came out different into built.yaml. Load the shelves only after the paint's curing days.",
        ),
    ]
