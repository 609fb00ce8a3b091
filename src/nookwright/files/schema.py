"""The job files' JSON Schema, for editors that check while one types; made from the field table."""

from __future__ import annotations

from typing import Any

from nookwright.files.fields import Field, FileKind, expected_of, fields_of, groups_of

Schema = dict[str, Any]

_SCALAR: Schema = {"type": ["string", "number"]}
_READING_VALUE: Schema = {"anyOf": [_SCALAR, {"type": "array", "items": _SCALAR}, {"$ref": "#/$defs/reading"}]}
_NAMED_LINE: Schema = {"type": "object", "minProperties": 1, "maxProperties": 1}
_PROFILE: Schema = {"$ref": "#/$defs/profile"}
_PLACE: Schema = {"anyOf": [_SCALAR, {"type": "array", "items": _SCALAR, "minItems": 3, "maxItems": 3}]}
_OFFSETS: Schema = {"type": "object", "additionalProperties": {"anyOf": [_READING_VALUE, {"type": "boolean"}]}}
_LISTS: dict[str, Schema] = {
    "readings": {"type": "array", "items": {**_NAMED_LINE, "additionalProperties": _READING_VALUE}},
    "readings:gaps": {"type": "array", "items": {**_NAMED_LINE, "additionalProperties": _PROFILE}},
    "readings:offsets": {"type": "array", "items": {**_NAMED_LINE, "additionalProperties": _OFFSETS}},
    "lengths": {"type": "array", "items": _SCALAR},
    "edges": {"type": "array", "items": _READING_VALUE},
    "texts": {"anyOf": [_SCALAR, {"type": "array", "items": _SCALAR}]},
    "thicknesses": {"type": "array", "items": {**_NAMED_LINE, "additionalProperties": _SCALAR}},
    "sizes": {"type": "array", "items": {**_NAMED_LINE, "additionalProperties": _SCALAR}},
    "places": {
        "anyOf": [
            {"type": "object", "additionalProperties": _PLACE},
            {"type": "array", "items": {**_NAMED_LINE, "additionalProperties": _PLACE}},
        ]
    },
    "prices": {"type": "object", "additionalProperties": _SCALAR},
    "turns": {"type": "object", "additionalProperties": _SCALAR},
    "answers": {"type": "object", "additionalProperties": _SCALAR},
}


def json_schema(file: FileKind) -> Schema:
    """Return the JSON Schema (draft 2020-12) of one job file.

    It holds what can be told without reading lengths: keys, required keys, lists and groups, choices. Lengths and
    numbers may be typed with units, so every scalar may be a string or a number. A choice accepts only the spelling
    of the reference, although the reader also takes other capitals, hyphens and underscores.

    Args:
        file: which of the job files.

    Returns:
        The schema, keys in a stable order.
    """
    outermost, *others = groups_of(file)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": f"{file}.yaml",
        **_group(file, outermost),
        "$defs": {group: _group(file, group) for group in others},
    }


def _group(file: FileKind, group: str) -> Schema:
    """Return the schema of a group of keys."""
    known = fields_of(file, group)
    schema: Schema = {
        "type": "object",
        "additionalProperties": False,
        "properties": {key: {"description": field.help, **_value(field)} for key, field in known.items()},
    }
    required = [key for key, field in known.items() if field.required]
    return {**schema, "required": required} if required else schema


def _value(field: Field) -> Schema:
    """Return the schema of a field's value."""
    outer, _, _ = field.kind.partition(":")
    if outer == "group":
        return {"$ref": f"#/$defs/{field.inner}"}
    if outer == "list":
        return {"type": "array", "items": {"$ref": f"#/$defs/{field.inner}"}}
    if field.group == "profile" and field.key == "gaps":
        return {"type": "array", "items": _READING_VALUE}
    if outer in _LISTS:
        return _LISTS.get(field.kind, _LISTS[outer])
    return _scalar(field)


def _scalar(field: Field) -> Schema:
    """Return the schema of a value that is one word, number or length."""
    if field.kind == "grade":
        return {**_SCALAR, "examples": list(field.choices)}
    if field.choices:
        return {"enum": [*field.choices, *(float(choice) for choice in field.choices if _is_number(choice))]}
    if field.kind == "yes-no":
        return {"enum": ["yes", "no", True, False]}
    return {**_SCALAR, "examples": [field.default]} if field.default else dict(_SCALAR)


def _is_number(choice: str) -> bool:
    return choice.replace(".", "", 1).isdigit()


_TITLES: dict[FileKind, str] = {
    "room": "room.yaml: the room as measured",
    "brief": "brief.yaml: what is wanted",
    "shop": "shop.yaml: stock, saw and prices",
    "prices": "A supplier's price file, named in shop.yaml: other prices for the same things",
    "offcuts": "The offcut file, named in shop.yaml: what jobs left over and kept",
    "built": "built.yaml: what is bought or built, and how it came out",
}


def files_reference() -> str:
    """Return the reference of every field of the job files, as Markdown."""
    lines = [
        "# The job files, field by field",
        "",
        "A job is a folder with `room.yaml`, `brief.yaml`, `shop.yaml` and, once something is bought or built,",
        "`built.yaml`. All are YAML 1.2. Keys are lower case words with spaces; hyphens and underscores do as well.",
        "List places in messages count from 1: `readings.tape[3]` is the third tape reading.",
        "",
        'Lengths may be typed as `854`, `854 mm`, `85.4 cm`, `0.854 m`, `33 5/8"`, `33-5/8 in`, `2\' 9-5/8"`;',
        "a number without a mark is in the file's own `units`. Angles: `40.1`, `40.1 deg`, a rise in a run, `7 in 12`:",
        "the `in` there is no inch mark.",
        "Nothing needs quotes, except text that holds `: ` or ` #`.",
    ]
    for file, title in _TITLES.items():
        lines += ["", f"## {title}"]
        for group in groups_of(file):
            lines += ["", *_group_reference(file, group)]
    return "\n".join(lines) + "\n"


def _group_reference(file: FileKind, group: str) -> list[str]:
    """Return one group's heading and table."""
    heading = "Outermost keys" if group == file else f"`{group}`"
    lines = [f"### {heading}", "", "| key | value | default | meaning |", "|---|---|---|---|"]
    for key, field in fields_of(file, group).items():
        default = "**must be given**" if field.required else (f"`{field.default}`" if field.default else "")
        value = f"group `{field.inner}`" if field.kind.startswith("group:") else expected_of(field, "mm")
        value = f"a list of `{field.inner}`" if field.kind.startswith("list:") else value
        lines.append(f"| `{key}` | {_cell_text(value)} | {default} | {_cell_text(field.help)} |")
    return lines


def _cell_text(text: str) -> str:
    return text.replace("|", "\\|")
