"""Everything that can be told of a job is told at once, a line that is no YAML and a name that is no spot among it."""

from __future__ import annotations

from pathlib import Path

import pytest

from filled_jobs import filled_job
from nookwright.basics.problems import InvalidInputError
from nookwright.files.job_folder import read_job


def refusal(folder: Path) -> list[str]:
    """Return the sentences a job is refused with."""
    with pytest.raises(InvalidInputError) as caught:
        read_job(folder)
    return str(caught.value).splitlines()


def changed(path: Path, **lines: str) -> dict[str, int]:
    """Write other lines in place of those that begin as told; return the number of each."""
    text = path.read_text(encoding="utf-8").splitlines()
    found = {}
    for start, line in lines.items():
        place = next(i for i, old in enumerate(text) if old.strip().startswith(start.replace("_", " ")))
        text[place], found[start] = line, place + 1
    path.write_text("\n".join(text) + "\n", encoding="utf-8")
    return found


def test_a_line_that_is_no_yaml_hides_nothing_else(tmp_path: Path) -> None:
    """The wrong value further down, the wrong spot, the brief's and the shop's mistakes are told with it."""
    folder = filled_job("alcove", tmp_path)
    room = (folder / "room.yaml").read_text(encoding="utf-8")
    lines = room.splitlines()
    tape = next(i for i, line in enumerate(lines) if "- BL1 - BR1:" in line)
    other = next(i for i, line in enumerate(lines) if "- FL1 - FR1:" in line)
    third = next(i for i, line in enumerate(lines) if "- BL3 - BR3:" in line)
    lines[tape] = "    - BL1 - BR1: 1184: 3"
    lines[other] = "    - FL1 - FR1: twelve"
    lines[third] = "    - BL3 - XR3: 1180"
    (folder / "room.yaml").write_text("\n".join(lines) + "\n", encoding="utf-8")
    brief = changed(folder / "brief.yaml", platform="platform: {height: tall, board: ply-thick}")
    shop = changed(folder / "shop.yaml", saw="saw: {kerf: wide}")
    said = refusal(folder)
    assert any(one.startswith(f"room.yaml:{tape + 1}:") and "a second colon on one line" in one for one in said)
    assert any(one.startswith(f"room.yaml:{other + 1}:") and '"twelve"' in one for one in said)
    assert any(one.startswith(f"room.yaml:{third + 1}:") and '"XR3"' in one for one in said)
    assert any(one.startswith(f"brief.yaml:{brief['platform']}:") for one in said)
    assert any(one.startswith(f"shop.yaml:{shop['saw']}:") for one in said)
    assert len(said) == 5


def test_a_line_left_out_is_not_told_as_missing(tmp_path: Path) -> None:
    """A key that must be given may stand on the very line that cannot be read; a stock as well."""
    folder = filled_job("alcove", tmp_path)
    text = (folder / "shop.yaml").read_text(encoding="utf-8")
    (folder / "shop.yaml").write_text(text.replace("currency: EUR", "currency: EUR: 3"), encoding="utf-8")
    (one,) = refusal(folder)
    assert "a second colon on one line" in one
    lines = text.splitlines()
    place = next(i for i, line in enumerate(lines) if "key: ply-thin" in line)
    lines[place] = "  - {key: ply-thin, name: plywood 6, wood: softwood-plywood"
    (folder / "shop.yaml").write_text("\n".join(lines) + "\n", encoding="utf-8")
    said = refusal(folder)
    assert len(said) == 1
    assert f"shop.yaml:{place + 1}:" in said[0]


def test_several_lines_that_are_no_yaml_are_told_together(tmp_path: Path) -> None:
    """Each with its own number, as long as the file still means something without them."""
    folder = filled_job("alcove", tmp_path)
    lines = (folder / "room.yaml").read_text(encoding="utf-8").splitlines()
    places = [
        next(i for i, line in enumerate(lines) if f"- {name}:" in line) for name in ("BL1 - BR1", "left BL1 - BL3")
    ]
    for place in places:
        lines[place] = f"{lines[place].split(':')[0]}: 12: 3"
    (folder / "room.yaml").write_text("\n".join(lines) + "\n", encoding="utf-8")
    said = refusal(folder)
    assert [int(one.split(":")[1]) for one in said] == sorted(place + 1 for place in places)


def test_where_all_hangs_on_the_line_only_it_is_told(tmp_path: Path) -> None:
    """Without its unit no number of the file can be judged."""
    folder = filled_job("alcove", tmp_path)
    lines = (folder / "room.yaml").read_text(encoding="utf-8").splitlines()
    place = next(i for i, line in enumerate(lines) if line.startswith("units:"))
    lines[place] = "units: mm: 3"
    (folder / "room.yaml").write_text("\n".join(lines) + "\n", encoding="utf-8")
    (one,) = refusal(folder)
    assert one.startswith(f"room.yaml:{place + 1}:")


def test_wrong_spots_are_told_with_the_mistakes_of_other_files(tmp_path: Path) -> None:
    """The room file holds no wrong value: its names are looked at all the same."""
    folder = filled_job("alcove", tmp_path)
    text = (folder / "room.yaml").read_text(encoding="utf-8")
    (folder / "room.yaml").write_text(text.replace("- BL1 - BR1:", "- BL1 - XR1:", 1), encoding="utf-8")
    changed(folder / "shop.yaml", saw="saw: {kerf: wide}")
    said = refusal(folder)
    assert any('"XR1"' in one for one in said)
    assert any("kerf" in one for one in said)
