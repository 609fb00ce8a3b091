"""Which fastener, how long and how far apart, from the real stack it goes through."""

from __future__ import annotations

import itertools
from dataclasses import dataclass

from nookwright.basics.problems import Inspection

POINT_MARGIN_MM = 3.0
"""A screw's point stays this far inside the far face. Source: [trade-practice]. Status: common practice."""

LEAST_THREAD_MM = 25.0
"""Thread in the base piece against pull-out, 25 to 38 mm. Source: [fitting-guides]. Status: read."""

INTO_STUD_MM = 30.0
"""Least thread in a stud; 25 to 38 mm was read. Source: [fitting-guides]. Status: read."""

WALL_SCREW = "No. 8 or No. 10 cabinet screw, never a drywall screw"
"""Drywall screws are not permitted for casework. Source: [awi-0620] 3.1 f. Status: read."""

STUD_EDGE_MM = 10.0
"""A wall screw misses the stud's edge by at least this. Source: [trade-practice]. Status: common practice."""

POCKET_SPACING_MM = 200.0
"""Greatest spacing of pocket screws, 150 to 200 mm. Source: [trade-practice]. Status: common practice."""

POCKET_END_MM = 50.0
"""First pocket screw from the end of a joint, 20 to 50 mm. Source: [trade-practice]. Status: common practice."""

SCREW_SPACING_MM = 200.0
"""Greatest spacing of screws in a case joint. Source: [trade-practice]. Status: common practice."""

SCREW_END_MM = 50.0
"""First screw from a solid board's end without a pilot hole, 2 in. Source: [fitting-guides]. Status: read."""

BRAD_SPACING_MM = 250.0
"""Spacing of brads in a strip, 200 to 300 mm. Source: [trade-practice]. Status: common practice."""

BRAD_END_MM = 25.0
"""First brad from a strip's end; at least 19 mm in MDF was read. Source: [mdf-guide]. Status: read."""

BRAD_LENGTHS_MM = (15.0, 20.0, 25.0, 32.0, 38.0, 45.0, 50.0)
"""18-gauge brads commonly sold. Source: [trade-practice]. Status: common practice."""

_POCKET_TABLE = ((12.0, 25.0), (19.0, 32.0), (25.0, 38.0), (38.0, 64.0))


@dataclass(frozen=True, slots=True, kw_only=True)
class FastenerChoice:
    """The fastener chosen.

    Args:
        length_mm: its length, as sold. [mm]
        thread_mm: how much of it is in the piece that holds. [mm]
        enough: whether that reaches what the rule asks for.
        reason: how the length follows from the stack, in one sentence, in mm whatever the job's units.
    """

    length_mm: float
    thread_mm: float
    enough: bool
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FastenerRow:
    """A row of equal fasteners along a joint. [mm]"""

    count: int
    spacing_mm: float
    end_mm: float


def wood_screw(*, held_mm: float, base_mm: float, lengths_mm: tuple[float, ...]) -> FastenerChoice:
    """Return the screw that holds one piece to another.

    Args:
        held_mm: thickness of the piece under the head. [mm]
        base_mm: depth of wood behind it along the screw. [mm]
        lengths_mm: lengths the shop has. [mm]

    Returns:
        The choice; `enough` is False when no length gives the wanted thread without coming through.

    Raises:
        InvalidInputError: if even the shortest screw would come through.

    Valid:
        Screws square to the face, head flush.

    Source:
        [fitting-guides] 2.5 times the piece held; thread at least 2/3 of it, 25 to 38 mm against pull-out.
        Status: read. Taking the larger, capped 3 mm short of the stack: [trade-practice], common practice.

    Example:
        >>> wood_screw(held_mm=18, base_mm=300, lengths_mm=(32, 40, 45, 50)).length_mm
        45
    """
    by_rule = 2.5 * held_mm
    by_thread = held_mm + max(2 / 3 * held_mm, LEAST_THREAD_MM)
    wanted = max(by_rule, by_thread)
    cap = held_mm + base_mm - POINT_MARGIN_MM
    length = _pick(min(wanted, cap), cap, lengths_mm)
    thread = length - held_mm
    enough = thread >= 2 / 3 * held_mm - 1e-9
    capped = (
        f"; kept to {cap:.1f}, {POINT_MARGIN_MM:g} short of the {held_mm + base_mm:.1f} stack" if wanted > cap else ""
    )
    reason = (
        f"larger of 2.5 x {held_mm:g} = {by_rule:.1f} and {held_mm:g} + {by_thread - held_mm:.1f} thread = "
        f"{by_thread:.1f}{capped}: {length:g}, {thread:.1f} of it in the base (mm)"
    )
    return FastenerChoice(length_mm=length, thread_mm=thread, enough=enough, reason=reason)


def pocket_screw(*, held_mm: float, holder_mm: float, lengths_mm: tuple[float, ...]) -> FastenerChoice:
    """Return the pocket screw for a stock's real thickness.

    Args:
        held_mm: thickness of the piece with the pockets. [mm]
        holder_mm: depth of wood behind the joint along the screw. [mm]
        lengths_mm: lengths the shop has. [mm]

    Returns:
        The length sold that lies nearest to the table's, read at the thinner of the two.

    Valid:
        Pockets drilled at 15 degrees, thickness 12 to 38 mm; beyond, the nearest end of the table.

    Source:
        [trade-practice] 12, 19, 25, 38 mm stock takes 25, 32, 38, 64 mm. Status: common practice.

    Example:
        >>> pocket_screw(held_mm=18, holder_mm=18, lengths_mm=(25, 30, 32, 38)).length_mm
        32
    """
    thickness = min(held_mm, holder_mm)
    wanted = _between(_POCKET_TABLE, thickness)
    length = min(lengths_mm, key=lambda each: (abs(each - wanted), -each))
    reason = f"pocket screw for {thickness:g} stock: table gives {wanted:.1f}, nearest sold is {length:g} (mm)"
    return FastenerChoice(
        length_mm=length, thread_mm=length / 2, enough=abs(length - wanted) <= POINT_MARGIN_MM, reason=reason
    )


def brad(*, held_mm: float, base_mm: float) -> FastenerChoice:
    """Return the brad that holds a strip or moulding.

    Args:
        held_mm: thickness of the strip. [mm]
        base_mm: depth of wood behind it. [mm]

    Returns:
        The longest brad sold up to 2.5 times the strip, that stays 3 mm inside.

    Valid:
        18-gauge brads in painted trim, with glue or caulk.

    Source:
        [fitting-guides] nail 2.5 times the trim's thickness. Status: read.

    Example:
        >>> brad(held_mm=19, base_mm=60).length_mm
        45.0
    """
    wanted = 2.5 * held_mm
    cap = held_mm + base_mm - POINT_MARGIN_MM
    length = max((each for each in BRAD_LENGTHS_MM if each <= min(wanted, cap)), default=BRAD_LENGTHS_MM[0])
    reason = f"2.5 x {held_mm:g} = {wanted:.1f}, at most {cap:.1f} before it comes through: {length:g} (mm)"
    return FastenerChoice(length_mm=length, thread_mm=length - held_mm, enough=held_mm < length <= cap, reason=reason)


def wall_screw(*, through_mm: float, gap_mm: float, board_mm: float, lengths_mm: tuple[float, ...]) -> FastenerChoice:
    """Return the screw that holds a box's rail to a stud.

    Args:
        through_mm: wood under the head: rail, and back panel when the rail stands before it. [mm]
        gap_mm: gap to the wall, packed. [mm]
        board_mm: plasterboard or plaster over the stud. [mm]
        lengths_mm: lengths the shop has. [mm]

    Returns:
        The shortest length sold with at least 30 mm in the stud; the longest when none reaches.

    Valid:
        Wood or light steel-free studs; a masonry wall takes the anchor maker's own figure instead.

    Source:
        [fitting-guides] 25 to 38 mm of thread in the stud. Status: read.

    Example:
        >>> wall_screw(through_mm=18, gap_mm=6, board_mm=12.5, lengths_mm=(50, 64, 70, 75)).length_mm
        70
    """
    passed = through_mm + gap_mm + board_mm
    wanted = passed + INTO_STUD_MM
    length = min((each for each in lengths_mm if each >= wanted - 1e-9), default=max(lengths_mm))
    thread = length - passed
    reason = (
        f"{through_mm:.1f} rail + {gap_mm:.1f} gap + {board_mm:.1f} board + {INTO_STUD_MM:g} in the stud = "
        f"{wanted:.1f}: {length:g}, {thread:.1f} of it in the stud (mm)"
    )
    return FastenerChoice(length_mm=length, thread_mm=thread, enough=thread >= INTO_STUD_MM - 1e-9, reason=reason)


def row_of_fasteners(*, joint_mm: float, spacing_mm: float, end_mm: float) -> FastenerRow:
    """Return equal fasteners along a joint, at most `spacing_mm` apart.

    Args:
        joint_mm: length of the joint. [mm]
        spacing_mm: greatest centre to centre. [mm]
        end_mm: wished distance of the first from the end. [mm]

    Returns:
        Count, real spacing and end distance; one in the middle when the joint is below 40 mm.

    Valid:
        A short joint keeps two fasteners: the end distance shrinks to a quarter of the joint.

    Source:
        [trade-practice] two per frame joint, ends 20 to 50 mm. Status: common practice.

    Example:
        >>> row_of_fasteners(joint_mm=300, spacing_mm=200, end_mm=50)
        FastenerRow(count=2, spacing_mm=200.0, end_mm=50)
    """
    if joint_mm < 40.0:
        return FastenerRow(count=1, spacing_mm=0.0, end_mm=joint_mm / 2)
    end = min(end_mm, joint_mm / 4)
    inner = joint_mm - 2 * end
    gaps = max(1, -int(-(inner - 1e-9) // spacing_mm))
    return FastenerRow(count=gaps + 1, spacing_mm=inner / gaps, end_mm=end)


def _pick(wanted_mm: float, cap_mm: float, lengths_mm: tuple[float, ...]) -> float:
    """Return the shortest length that reaches `wanted_mm`, else the longest below the cap."""
    usable = [length for length in lengths_mm if length <= cap_mm + 1e-9]
    inspection = Inspection()
    inspection.expect(
        bool(usable), "screw_lengths_mm", min(lengths_mm, default=0.0), f"a screw of {cap_mm:.0f} mm or shorter",
        "Add a shorter screw to the shop file.",
    )  # fmt: skip
    inspection.finish()
    return min((length for length in usable if length >= wanted_mm - 1e-9), default=max(usable))


def _between(pairs: tuple[tuple[float, float], ...], at: float) -> float:
    """Return the value read straight between the table's rows; its ends beyond them."""
    if at <= pairs[0][0]:
        return pairs[0][1]
    for (x0, y0), (x1, y1) in itertools.pairwise(pairs):
        if at <= x1:
            return y0 + (y1 - y0) * (at - x0) / (x1 - x0)
    return pairs[-1][1]
