"""What a general-purpose packing library does with the same instances: a plain setting, and the best of all it has."""

from __future__ import annotations

from itertools import product
from typing import Any

from rectpack import SORT_AREA, PackingBin, PackingMode, guillotine, newPacker, packer

BINS = (PackingBin.BNF, PackingBin.BFF, PackingBin.BBF)
SORTS = (packer.SORT_AREA, packer.SORT_PERI, packer.SORT_DIFF, packer.SORT_SSIDE, packer.SORT_LSIDE, packer.SORT_RATIO)
RULES = tuple(
    getattr(guillotine, f"Guillotine{fit}{split}")
    for fit, split in product(("Bssf", "Blsf", "Baf"), ("Sas", "Las", "Slas", "Llas", "Maxas", "Minas"))
)


def plain(instance: dict[str, Any], rotate: bool) -> int:
    """Return the number of sheets by best short side fit, largest area first, into the best sheet."""
    return _sheets(instance, rotate, PackingBin.BBF, SORT_AREA, guillotine.GuillotineBssfSas)


def best_of_all(instance: dict[str, Any], rotate: bool) -> int:
    """Return the fewest sheets by any of its 324 settings for cuts right through."""
    return min(_sheets(instance, rotate, *setting) for setting in product(BINS, SORTS, RULES))


def _sheets(instance: dict[str, Any], rotate: bool, which: Any, sort: Any, rule: Any) -> int:
    packing = newPacker(mode=PackingMode.Offline, bin_algo=which, pack_algo=rule, sort_algo=sort, rotation=rotate)
    count = 0
    for length, width, copies, *_ in instance["items"]:
        for _ in range(copies):
            packing.add_rect(length, width)
            count += 1
    length, width = instance["bins"][0][:2]
    packing.add_bin(length, width, count=float("inf"))
    packing.pack()
    if len(packing.rect_list()) != count:
        message = f"{instance['name']}: the library left rectangles out"
        raise SystemExit(message)
    return len(packing)
