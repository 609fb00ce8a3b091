"""How the buying list says sizes and amounts: in the units its reader asks for in a shop."""

from __future__ import annotations

from nookwright.basics.amounts import AmountUnit
from nookwright.basics.lengths import Marks, show
from nookwright.stages.buying.buy_list import Unit

WALL_SCREWS = {
    "No. 8": "wood screw", "No. 10": "No. 10 screw", "No. 12": "No. 12 screw",
    "lag 1/4": "lag screw 1/4 x", "lag 5/16": "lag screw 5/16 x", "lag 3/8": "lag screw 3/8 x",
}  # fmt: skip
"""What the screws that hold furniture to studs are asked for by; their length follows."""

SCREWS = ("pocket screw", "brad", *WALL_SCREWS.values())
"""Items whose name ends in their length."""

SAME_SCREW_MM = 1.0
"""Two lengths nearer than this are one screw: 38 mm and 1-1/2 in. Common practice, no source."""

_COUNTED = ("shelf pin", "packer", "maker's wall fixing", "sandpaper")
_POURED = ("wood glue", "filler")

COUNTED_ITEMS = (*SCREWS, *_COUNTED, *_POURED, "caulk")
"""What is counted from the job itself, by name; the lengths of screws follow it."""

QUARTS_PER_LITRE = 1.056688
FEET_PER_METRE = 3.280840
FT2_PER_M2 = 10.763910

QUARTERS = Marks(units="inch", resolution=0.25)
"""Screws are sold in quarter inches."""


def screw_of(item: str) -> tuple[str, float] | None:
    """Return a screw's kind and length in mm from its item name; None for anything else."""
    kind, _, length = item.rpartition(" ")
    if kind not in SCREWS:
        return None
    try:
        return kind, float(length)
    except ValueError:
        return None


def sold_by(item: str) -> AmountUnit:
    """Return the unit that packs of an item are told in: pieces, litres or metres; any where it is not known."""
    if screw_of(item) or item.startswith("washer ") or item in _COUNTED:
        return "counted"
    if item in _POURED:
        return "l"
    return "m" if item == "caulk" else "pieces"


def same_item(first: str, second: str) -> bool:
    """Return whether two item names mean one thing: screws by kind and nearly equal length, else the same words."""
    a, b = screw_of(first), screw_of(second)
    if a is None or b is None:
        return first == second
    return a[0] == b[0] and abs(a[1] - b[1]) <= SAME_SCREW_MM


def item_said(item: str, marks: Marks) -> str:
    """Return an item as one asks for it: `wood screw 64` or, in inches, `wood screw 2 1/2`."""
    screw = screw_of(item)
    if screw is None or marks.units == "mm":
        return item
    return f"{screw[0]} {show(screw[1], QUARTERS, with_unit=True)}"


def size_said(sizes_mm: tuple[float, ...], marks: Marks) -> str:
    """Return sizes with their unit once: `2440 x 1220 x 18 mm`."""
    fine = Marks(units=marks.units, resolution=0.1 if marks.units == "mm" else 1 / 32)
    return " x ".join(show(size, fine) for size in sizes_mm) + f" {'mm' if marks.units == 'mm' else 'in'}"


def size_item(key: str, length_mm: float, width_mm: float) -> str:
    """Return the name that another size of a sheet good is priced by."""
    return f"{key} {length_mm:g} x {width_mm:g}"


def amount_said(amount: float, unit: Unit, marks: Marks) -> tuple[float, Unit]:
    """Return an amount in the reader's unit: litres and metres, or quarts and feet."""
    if marks.units == "inch" and unit == "litres":
        return amount * QUARTS_PER_LITRE, "quarts"
    if marks.units == "inch" and unit == "metres":
        return amount * FEET_PER_METRE, "feet"
    return amount, unit


def pack_said(amount: float, unit: Unit, marks: Marks) -> str:
    """Return what one pack is, in the reader's unit: `box of 200`, `pack of 0.75 litres`, `single`."""
    amount, unit = amount_said(amount, unit, marks)
    if unit == "pieces":
        return "single" if amount == 1 else f"box of {amount:g}"
    tidy = f"{amount:.2f}".rstrip("0").rstrip(".")
    return f"pack of {tidy} {one_of(unit) if tidy == '1' else unit}"


def one_of(unit: Unit) -> str:
    """Return a unit in the singular."""
    return {"feet": "foot"}.get(unit, unit.removesuffix("s"))


def area_said(area_m2: float, marks: Marks) -> str:
    """Return an area with its unit."""
    return f"{area_m2:.1f} m2" if marks.units == "mm" else f"{area_m2 * FT2_PER_M2:.0f} ft2"
