"""Every field of the job files: kind, unit, limits, default, help. Readers, schema and reference all use this table."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Literal, cast

from nookwright.basics.amounts import AmountUnit
from nookwright.basics.lengths import Marks, Units, show

FileKind = Literal["room", "brief", "shop", "prices", "offcuts", "built"]
FILE_KINDS: tuple[FileKind, ...] = ("room", "brief", "shop", "prices", "offcuts", "built")


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One field of one file.

    Args:
        file: the file it stands in.
        group: the group of keys it belongs to; the file's outermost group has the file's own name.
        key: its key, lower case, words with spaces.
        kind: what its value is; `group:x` and `list:x` hold the keys of group x.
        required: whether it must be given.
        least, most: limits in mm, degrees, or `unit`; None for no limit.
        unit: unit of an amount.
        default: what is taken when it is left out, as one would type it.
        choices: the words allowed, for a choice.
        help: what it means.
    """

    file: FileKind
    group: str
    key: str
    kind: str
    required: bool
    least: float | None
    most: float | None
    unit: AmountUnit
    default: str
    choices: tuple[str, ...]
    help: str

    @property
    def inner(self) -> str:
        """The group whose keys its value holds; empty for a plain value."""
        return self.kind.partition(":")[2] if self.kind.startswith(("group:", "list:")) else ""


@cache
def all_fields() -> tuple[Field, ...]:
    """Return every field, in the order of the reference."""
    text = files("nookwright.files").joinpath("fields.csv").read_text(encoding="utf-8")
    return tuple(
        Field(
            file=cast("FileKind", row["file"]),
            group=row["group"],
            key=row["key"],
            kind=row["kind"],
            required=row["need"] == "yes",
            least=float(row["least"]) if row["least"] else None,
            most=float(row["most"]) if row["most"] else None,
            unit=cast("AmountUnit", row["unit"]),
            default=row["default"],
            choices=tuple(row["choices"].split("|")) if row["choices"] else (),
            help=row["help"],
        )
        for row in csv.DictReader(text.splitlines())
    )


@cache
def fields_of(file: FileKind, group: str) -> dict[str, Field]:
    """Return the fields of one group of keys, by key."""
    return {field.key: field for field in all_fields() if field.file == file and field.group == group}


def groups_of(file: FileKind) -> tuple[str, ...]:
    """Return the groups of a file, outermost first."""
    return tuple(dict.fromkeys(field.group for field in all_fields() if field.file == file))


_INCH_MARKS = Marks(units="inch", resolution=1 / 16)
_LENGTHS_IN_READINGS = (
    "readings:tape",
    "readings:rough",
    "readings:level",
    "readings:plumb",
    "readings:gaps",
    "readings:offsets",
)
_LENGTHS_IN_LISTS = ("lengths", "prices", "thicknesses", *_LENGTHS_IN_READINGS)
_ANGLES_IN_LISTS = ("readings:bevel", "readings:slope")
_LENGTH_KINDS = {"length", "edges", "pair", "height", "end", "size", "sizes", *_LENGTHS_IN_LISTS}


def expected_of(field: Field, units: Units) -> str:
    """Return what would be right for a field, in words and in the file's own units.

    Args:
        field: the field.
        units: the units the file is written in.
    """
    limits = _limits(field, units)
    words = {
        "text": "a text",
        "texts": "a text, or a list of texts",
        "length": f"a length{limits}",
        "lengths": f"a list of lengths{limits}",
        "pair": f"two lengths with x between them{limits}",
        "angle": f"an angle{limits}",
        "amount": f"a number{limits}",
        "count": f"a whole number{limits}",
        "yes-no": "yes or no",
        "height": f"a length{limits}, `to slope` or `to ceiling`",
        "end": f"a length{limits}, or `wall`",
        "size": f"a length{limits}, `equal`, or a share such as `2 parts`",
        "shelves": f"a whole number{limits} with `on pins` or `fixed`, such as `3 on pins`",
        "front": "`one`, `pair` or `sliding`, then `inset` or `overlay`; or `none`",
        "sheet": "the key of a sheet in the shop file",
        "board": "the key of a board in the shop file",
        "stock": "the key of a sheet or board in the shop file",
        "product": "the key of a product in the shop file",
        "wood": "a wood of the tool's table",
        "nominal": "a nominal name such as 1x4 or 2x4",
        "money": "a price such as 62.50",
        "prices": "lengths with their prices, such as `{2400: 6.20, 3000: 7.75}`",
        "edges": "a list such as `[381 to 419, centre 800]`",
        "turns": "corners with their rough angles, such as `{A: 90, B: 90, C: 135}`",
        "answers": "questions with their answers, such as `wiring: none`",
        "thicknesses": "lines such as `- birch-18: 17.6`",
        "sizes": "lines such as `- C3: 854 x 280`",
        "places": "lines such as `- BL0: 0.132, 1.204, -0.011`",
    }
    if field.kind == "grade":
        return f"{', '.join(field.choices)} or a number{limits}"
    if field.choices:
        return _alternatives(field.choices)
    if field.kind.startswith("readings:"):
        return f"a list of readings, such as {_example(field)}"
    if field.kind.startswith("list:"):
        return f"a list, each with keys such as {_keys(field)}"
    if field.kind.startswith("group:"):
        return f"a group of keys such as {_keys(field)}"
    return words[field.kind]


def one_value_of(field: Field, units: Units) -> str:
    """Return what would be right for one value of a field that may hold a list of them.

    Args:
        field: the field.
        units: the units the file is written in.
    """
    if field.kind in _LENGTHS_IN_LISTS:
        return f"a length{_limits(field, units)}"
    if field.kind == "edges":
        return f"a length{_limits(field, units)}"
    if field.kind in _ANGLES_IN_LISTS:
        return f"an angle{_limits(field, units)}"
    if field.kind == "sizes":
        return f"two lengths with x between them{_limits(field, units)}"
    return expected_of(field, units)


def _alternatives(words: tuple[str, ...]) -> str:
    """Return `a, b or c`."""
    return ", ".join(words[:-1]) + (" or " if len(words) > 1 else "") + words[-1]


def _keys(field: Field) -> str:
    """Return the first keys of the group inside."""
    return _alternatives(tuple(fields_of(field.file, field.inner))[:3])


def _example(field: Field) -> str:
    """Return the first example between backticks in the help."""
    return f"`{field.help.split('`')[1]}`"


def _limits(field: Field, units: Units) -> str:
    """Return ` from 20 mm to 600 mm`; empty without limits."""
    if field.least is None or field.most is None:
        return ""
    if field.kind in _LENGTH_KINDS:
        low, high = (_length_text(limit, units) for limit in (field.least, field.most))
    else:
        unit = " deg" if field.kind in ("angle", *_ANGLES_IN_LISTS) else f" {field.unit}".rstrip()
        unit = "" if field.unit == "pieces" else unit
        low, high = f"{field.least:g}{unit}", f"{field.most:g}{unit}"
    return f" from {low} to {high}"


def _length_text(mm: float, units: Units) -> str:
    """Return a limit in the file's units; millimetres where inch marks are too coarse."""
    if units == "inch" and (mm == 0 or abs(mm) >= 1):
        return show(mm, _INCH_MARKS, with_unit=True)
    return f"{mm:g} mm"
