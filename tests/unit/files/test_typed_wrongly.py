"""The linen cupboard's files typed wrongly, as people do: what is said, in the order of the files' lines."""

from __future__ import annotations

from pathlib import Path

import pytest

from example_jobs import copied
from nookwright.basics.problems import InvalidInputError
from nookwright.files.job_folder import read_job, read_room


def said_of(repository: Path, place: Path, file: str, right: str, wrong: str) -> list[str]:
    """Return the sentences the example is refused with when one place of a file is typed otherwise."""
    examples = copied(repository, place / "examples")
    path = examples / file
    text = path.read_text(encoding="utf-8")
    assert right in text
    path.write_text(text.replace(right, wrong, 1), encoding="utf-8")
    with pytest.raises(InvalidInputError) as caught:
        read_job(examples / "landing-linen")
    return str(caught.value).splitlines()


@pytest.mark.parametrize(
    ("file", "right", "wrong", "said"),
    [
        ("shop.yaml", "price: 79.00", "price: 79,00", 'found "79,00"; expected a point in the number: 79.00. Between'),
        (
            "landing-linen/room.yaml",
            "studs: [20, 412",
            "studs: [20, 40.5, 412",
            "found stud centres 20 and 40.5; expected centres at least a stud's width of 38 mm apart.",
        ),
    ],
)
def test_one_wrong_place_is_told_in_one_sentence(
    repository: Path, tmp_path: Path, file: str, right: str, wrong: str, said: str
) -> None:
    """A comma for the point between braces; a stud's centre left a figure short."""
    (one,) = said_of(repository, tmp_path, file, right, wrong)
    assert said in one


def test_studs_side_by_side_may_touch(repository: Path, tmp_path: Path) -> None:
    """Two studs of 38 mm together, their centres read 36 mm apart, are no mistake."""
    examples = copied(repository, tmp_path / "examples")
    room = examples / "landing-linen" / "room.yaml"
    text = room.read_text(encoding="utf-8")
    room.write_text(text.replace("studs: [20, 412", "studs: [20, 56, 412", 1), encoding="utf-8")
    assert read_job(examples / "landing-linen").survey.wall.stud_centres_mm[:2] == (20.0, 56.0)


def test_problems_run_down_the_file(repository: Path, tmp_path: Path) -> None:
    """Levels are read after tapes but stand above them in the file: they are told first."""
    examples = copied(repository, tmp_path / "examples")
    path = examples / "landing-linen" / "room.yaml"
    text = path.read_text(encoding="utf-8")
    levels = text[text.index("  level:") : text.index("  plumb:")].replace("BL0: -1000", "BL0:")
    text = text.replace(text[text.index("  level:") : text.index("  plumb:")], "").replace(
        "  tape:\n", f"{levels}  tape:\n"
    )
    path.write_text(text.replace("FL1 - BR1: 1907", "FL1 - BR1:"), encoding="utf-8")
    with pytest.raises(InvalidInputError) as caught:
        read_job(examples / "landing-linen")
    assert [problem.where.path for problem in caught.value.problems] == ["readings.level[1]", "readings.tape[11]"]


def test_a_folder_that_is_not_there_is_said_so_once(tmp_path: Path) -> None:
    """Not file by file, and not that a file is missing in it."""
    for read in (read_job, read_room):
        with pytest.raises(InvalidInputError) as caught:
            read(tmp_path / "nowhere")
        (problem,) = caught.value.problems
        assert problem.found == f'no folder "{tmp_path / "nowhere"}"'
