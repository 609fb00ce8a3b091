"""The scans and photos that room.yaml names, not yet opened."""

from __future__ import annotations

from nookwright.basics.amounts import read_amount
from nookwright.basics.lengths import UnreadableTextError
from nookwright.files.edge_book import read_line
from nookwright.files.form import Form, kind_of
from nookwright.files.tree import Listing, Node, Text, at
from nookwright.stages.inputs.scan import UNITS_MM, Scan, ScanSpot
from nookwright.stages.inputs.survey import Reading, ScaleReading, StripPhoto
from nookwright.stages.survey.marker_strip import RULER_MM

PLACE = "three numbers, such as `0.132, 1.204, -0.011`"


def read_scans(form: Form) -> tuple[tuple[Scan, ...], tuple[Reading, ...]]:
    """Return the scans named in room.yaml, not yet opened, and what each says of its own scale.

    Args:
        form: the file's outermost keys.
    """
    scans: list[Scan] = []
    scales: list[Reading] = []
    for one in form.forms("scans"):
        name, size = one.text("file"), UNITS_MM[one.choice("units")]
        scan = Scan(
            name=name,
            mm_per_unit=size,
            spots=_spots(one, size),
            sd_mm=one.length("noise"),
            pick_mm=one.length("pick"),
            level_mm_per_m=one.amount("level"),
            farthest_mm=one.length("farthest") if one.has("farthest") else None,
            use=one.yes_no("use"),
            where=one.where,
        )
        scans.append(scan)
        scale = one.amount("scale")
        scales.append(ScaleReading(scan=name, sd_mm_per_m=scale, use=scan.use, where=one.place("scale")))
    return tuple(scans), tuple(scales)


def read_photos(form: Form) -> tuple[StripPhoto, ...]:
    """Return the photos of the marker strip named in room.yaml, not yet opened.

    Args:
        form: the file's outermost keys.
    """
    found: list[StripPhoto] = []
    for one in form.forms("photos"):
        photo = StripPhoto(
            name=one.text("file"),
            line=read_line(one, "line"),
            zero_mm=one.length("zero at"),
            one_piece=one.choice("strip") == "one piece",
            ruler=one.length("ruler") / RULER_MM,
            use=one.yes_no("use"),
            where=one.where,
        )
        found.append(photo)
    return tuple(found)


def _spots(form: Form, size: float) -> tuple[ScanSpot, ...]:
    """Return the spots picked in a scan. [mm]"""
    found: list[ScanSpot] = []
    for name, node, path in form.pairs_in("spots"):
        xyz = _place(node)
        if xyz is None:
            form.desk.note(at(node.where, path), kind_of(node), PLACE)
            continue
        x, y, z = (value * size for value in xyz)
        found.append(ScanSpot(name=name.value.strip(), xyz=(x, y, z), where=at(name.where, path)))
    return tuple(found)


def _place(node: Node) -> tuple[float, ...] | None:
    """Return three numbers, typed with commas, with spaces or as a list; None when they are not that."""
    if isinstance(node, Listing):
        pieces = [item.value for item in node.items if isinstance(item, Text)]
    else:
        pieces = node.value.replace(",", " ").split() if isinstance(node, Text) else []
    try:
        values = tuple(read_amount(piece, unit="") for piece in pieces)
    except UnreadableTextError:
        return None
    return values if len(values) == 3 else None
