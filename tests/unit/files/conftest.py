"""A small good job, to be spoilt one place at a time."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

ROOM = """\
kind: alcove
units: mm
heights: [150, 900]
tools: {tape: II, reading: 0.7}
readings:
  tape:
    - BL1 - BR1: 1184
    - BL0 - right: 1180
  level:
    - BL0: -1003
  plumb:
    - left BL0 - BL2: 4
  bevel:
    - back/left at 1: 89.3
skirting: {height: 145, thickness: 20}
wall: {kind: studs, studs: [372, 972]}
outlets:
  - {name: socket, wall: back, from: left, distance: 430, above floor: 300, box: 74 x 74, plate: 86 x 86}
questions: {wiring: none, escape window: "found, painted shut"}
"""
BRIEF = """\
title: Shelves
units: mm
tiers:
  - cases:
      name: low
      height: 800
      depth: 300
      board: birch-18
      back: birch-6
      units:
        - name: left box
          width: 600 mm
          inside:
            columns:
              - {size: 2 parts, shelves: 3 on pins}
              - {size: equal, shelves: 1 fixed, front: pair inset, front board: mdf-18}
        - name: right box
          bought: {width: 400, height: 720, depth: 300}
  - top: {name: top, board: strip}
trim: {board: strip}
finish: {coat: satin}
"""
SHOP = """\
currency: EUR
sheets:
  - {key: birch-18, name: birch 18, wood: birch-plywood, size: 2440 x 1220, thickness: 17.8, price: 74.00}
  - {key: birch-6, name: birch 6, wood: birch-plywood, size: 2440 x 1220, thickness: 6.3, price: 30}
  - {key: mdf-18, name: MDF 18, wood: mdf, size: 2440 x 1220, thickness: 18, grain: no, price: 38, on hand: 2}
boards:
  - {key: strip, name: strip, wood: pine, section: 21 x 70, lengths: {3000: 8.00, 2400: 6.40}}
packs:
  - {item: pocket screw 32, amount: 200, price: 10.90}
products:
  - {key: satin, name: satin paint, covers: 12, recoat: 16, cure: 7}
"""

WriteJob = Callable[..., Path]


@pytest.fixture
def write_job(tmp_path: Path) -> WriteJob:
    """Return a function that writes the good job, with texts put in place of others, and returns its folder."""

    def write(file: str = "", old: str = "", new: str = "", built: str | None = None) -> Path:
        texts = {"room.yaml": ROOM, "brief.yaml": BRIEF, "shop.yaml": SHOP}
        if built is not None:
            texts["built.yaml"] = built
        if file:
            assert texts[file].count(old) >= 1, f"{old!r} is not in {file}"
            texts[file] = texts[file].replace(old, new, 1)
        for name, text in texts.items():
            (tmp_path / name).write_text(text, encoding="utf-8")
        return tmp_path

    return write
