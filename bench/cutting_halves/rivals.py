"""What a general-purpose packing library does with the same instances: a plain setting, and all that it has."""

from __future__ import annotations

from itertools import product
from typing import Any

from rectpack import PackingBin, PackingMode, guillotine, newPacker, packer

SETTINGS = tuple(
    product(
        ("BNF", "BFF", "BBF"),
        tuple(f"SORT_{by}" for by in ("AREA", "PERI", "DIFF", "SSIDE", "LSIDE", "RATIO")),
        tuple(
            f"Guillotine{fit}{split}"
            for fit, split in product(("Bssf", "Blsf", "Baf"), ("Sas", "Las", "Slas", "Llas", "Maxas", "Minas"))
        ),
    )
)
"""Its 324 settings for cuts right through, in its own words: which sheet, order of the parts, place and split."""
PLAIN = SETTINGS.index(("BBF", "SORT_AREA", "GuillotineBssfSas"))
"""Best short side fit, largest area first, into the best sheet."""


def by_setting(instance: dict[str, Any], rotate: bool) -> list[int]:
    """Return the number of sheets by each of its settings."""
    return [_sheets(instance, rotate, *setting) for setting in SETTINGS]


def _sheets(instance: dict[str, Any], rotate: bool, which: str, sort: str, rule: str) -> int:
    packing = newPacker(
        mode=PackingMode.Offline,
        bin_algo=getattr(PackingBin, which),
        pack_algo=getattr(guillotine, rule),
        sort_algo=getattr(packer, sort),
        rotation=rotate,
    )
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
