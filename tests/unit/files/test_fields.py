"""The one table of fields: whole, true to the inputs it fills, and the same in reader, schema and reference."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import jsonschema
import pytest
from ruamel.yaml import YAML

from nookwright.files.fields import FILE_KINDS, FileKind, all_fields, expected_of, fields_of, groups_of, one_value_of
from nookwright.files.job_folder import read_job
from nookwright.files.schema import files_reference, json_schema
from nookwright.stages.inputs.brief import Allowances, Brief, Cases, Finish, Joinery, Load, Platform, Top, Trim
from nookwright.stages.inputs.shop import Saw
from nookwright.stages.inputs.survey import Tools, WallBuild

EXAMPLES = ("landing-linen", "hall-stair", "alcove-records")


def test_every_field_is_whole() -> None:
    """It has a help, limits that fit, words for what is expected, and stands once."""
    assert len({(field.file, field.group, field.key) for field in all_fields()}) == len(all_fields())
    for field in all_fields():
        assert field.help
        assert field.file in FILE_KINDS
        assert field.least is None or field.most is None or field.least < field.most
        assert not (field.required and field.default)
        assert expected_of(field, "mm")
        assert one_value_of(field, "inch")


def test_every_group_named_is_there_and_every_group_there_is_named() -> None:
    """Nothing is documented that cannot be reached; `reading` and `profile` are reached by their own braces."""
    for file in FILE_KINDS:
        named = {field.inner for field in all_fields() if field.file == file and field.inner} | {file}
        assert named | ({"reading", "profile"} if file == "room" else set()) == set(groups_of(file))


def test_defaults_are_those_of_the_inputs(write_job: Callable[..., Path]) -> None:
    """What the reference says is taken when a key is left out is what is taken."""
    folder = write_job("room.yaml", "wall: {kind: studs, studs: [372, 972]}\n", "")
    path = folder / "brief.yaml"
    path.write_text(path.read_text(encoding="utf-8") + "platform: {height: 90, board: strip}\n", encoding="utf-8")
    job = read_job(folder)
    assert job.survey.tools == Tools()
    assert job.survey.wall == WallBuild()
    brief = job.brief
    assert (brief.joinery, brief.allowances, brief.load) == (Joinery(), Allowances(), Load())
    assert brief.finish == Finish(coat="satin")
    assert brief.trim == Trim(board="strip")
    assert brief.platform is not None
    assert brief.platform == Platform(height_mm=90, board="strip", where=brief.platform.where)
    top = brief.tiers[1]
    assert top == Top(name="top", board="strip", where=top.where)
    cases = brief.tiers[0]
    assert isinstance(cases, Cases)
    plain = Cases(name="", height_mm=None, depth_mm=1, units=(), board="")
    assert (cases.rake_low, cases.rake_high) == (plain.rake_low, plain.rake_high)
    least = Brief(title="", units="mm", resolution=0.5, tiers=())
    assert (brief.revision, brief.date, brief.paper) == (least.revision, least.date, least.paper)
    assert job.shop.saw == Saw()


def test_limits_are_told_in_the_units_of_the_file() -> None:
    """300 mm is 11-13/16 in to the nearest sixteenth."""
    depth = fields_of("brief", "platform")["toe"]
    assert expected_of(depth, "mm") == "a length from 0 mm to 300 mm"
    assert expected_of(depth, "inch") == 'a length from 0" to 11 13/16"'


@pytest.mark.parametrize("file", FILE_KINDS)
def test_the_schema_is_a_schema(file: FileKind) -> None:
    """By the metaschema of draft 2020-12."""
    jsonschema.Draft202012Validator.check_schema(json_schema(file))


def as_json(value: object) -> object:
    """Return YAML data with every key a text, as JSON has it."""
    if isinstance(value, dict):
        return {str(key): as_json(inner) for key, inner in value.items()}
    return [as_json(inner) for inner in value] if isinstance(value, list) else value


@pytest.mark.parametrize("name", EXAMPLES)
@pytest.mark.parametrize("file", ["room", "brief"])
def test_the_examples_keep_to_the_schema(name: str, file: FileKind, repository: Path) -> None:
    """Judged by an independent validator, on the file as a plain YAML library reads it."""
    text = (repository / "examples" / name / f"{file}.yaml").read_text(encoding="utf-8")
    jsonschema.validate(as_json(YAML(typ="safe").load(text)), json_schema(file))


@pytest.mark.parametrize("shop", ["shop.yaml", "hall-stair/shop.yaml"])
def test_the_shops_keep_to_the_schema(shop: str, repository: Path) -> None:
    """As above."""
    text = (repository / "examples" / shop).read_text(encoding="utf-8")
    jsonschema.validate(as_json(YAML(typ="safe").load(text)), json_schema("shop"))


def test_the_schema_refuses_what_the_reader_refuses() -> None:
    """A misspelt key, a missing one, a word that is no choice."""
    for spoilt in ({"kind": "alcove"}, {"kind": "attic", "heights": [1], "readings": {"tape": []}}):
        with pytest.raises(jsonschema.ValidationError):
            jsonschema.validate(spoilt, json_schema("room"))
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({"parts": [{"C3": "854 x 280"}], "prats": []}, json_schema("built"))
    jsonschema.validate({"parts": [{"C3": "854 x 280"}], "thicknesses": [{"birch-18": 17.6}]}, json_schema("built"))


def test_the_reference_tells_every_field() -> None:
    """Each in the table of its group."""
    reference = files_reference()
    for field in all_fields():
        assert f"| `{field.key}` |" in reference
        assert field.help.replace("|", "\\|") in reference
