"""Point clouds in PLY files, text and binary, and files that are none."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.files import scan_ply
from nookwright.files.scan_ply import UnreadableScanError, read_ply

POINTS = np.array([[0.5, -1.25, 2.0], [3.0, 4.5, -6.0], [0.0, 0.125, 9.0]])


def written(path: Path, form: str, points: np.ndarray = POINTS, extra: str = "") -> Path:
    """Write a cloud whose points carry a colour before z, and faces after them."""
    head = f"ply\nformat {form} 1.0\ncomment made for a test\nelement vertex {len(points)}\n{extra}"
    head += "property float x\nproperty double y\nproperty uchar red\nproperty float z\n"
    head += "element face 1\nproperty list uchar int vertex_indices\nend_header\n"
    if form == "ascii":
        lines = "".join(f"{x!r} {y!r} 200 {z!r}\n" for x, y, z in points.tolist())
        path.write_text(head + lines + "3 0 1 2\n")
        return path
    order = "<" if "little" in form else ">"
    row = np.dtype([("x", order + "f4"), ("y", order + "f8"), ("red", "u1"), ("z", order + "f4")])
    rows = np.zeros(len(points), row)
    rows["x"], rows["y"], rows["z"], rows["red"] = *points.T, 200
    path.write_bytes(head.encode() + rows.tobytes() + b"\x03" + np.array([0, 1, 2], order + "i4").tobytes())
    return path


@pytest.mark.parametrize("form", ["ascii", "binary_little_endian", "binary_big_endian"])
def test_points_are_read_whatever_else_they_carry(tmp_path: Path, form: str) -> None:
    """Colours between the coordinates and faces behind the points do no harm."""
    assert np.array_equal(read_ply(written(tmp_path / "a.ply", form)), POINTS)


@pytest.mark.parametrize("form", ["ascii", "binary_little_endian"])
def test_points_that_are_no_numbers_are_left_out(tmp_path: Path, form: str) -> None:
    """Scanners write nan where nothing came back."""
    points = np.vstack([POINTS, [[np.nan, 0.0, 0.0]]])
    assert np.array_equal(read_ply(written(tmp_path / "a.ply", form, points)), POINTS)


@pytest.mark.parametrize("form", ["ascii", "binary_little_endian"])
def test_a_very_large_cloud_is_thinned_evenly(tmp_path: Path, form: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every third point of ten, when four are the most."""
    monkeypatch.setattr(scan_ply, "MOST_POINTS", 4)
    points = np.column_stack([np.arange(10.0)] * 3)
    assert read_ply(written(tmp_path / "a.ply", form, points))[:, 0].tolist() == [0, 3, 6, 9]


def test_elements_before_the_points_are_passed_over(tmp_path: Path) -> None:
    """A camera written first, as some programs do."""
    head = "ply\nformat ascii 1.0\nelement camera 1\nproperty float view\nelement vertex 1\n"
    head += "property float x\nproperty float y\nproperty float z\nend_header\n"
    path = tmp_path / "a.ply"
    path.write_text(head + "7\n1 2 3\n")
    assert read_ply(path).tolist() == [[1.0, 2.0, 3.0]]


HEAD = "ply\nformat ascii 1.0\nelement vertex 2\nproperty float x\nproperty float y\nproperty float z\nend_header\n"


@pytest.mark.parametrize(
    ("content", "said"),
    [
        ("solid\nfacet", "a file that does not begin with the word ply"),
        ("ply\nformat ascii 1.0\nelement vertex 3\n", "a header without its end"),
        ("ply\nelement vertex 1\nproperty float x\nend_header\n", "a header that names no format"),
        ("ply\nformat zip 1.0\nend_header\n", 'a header line "format zip 1.0"'),
        ("ply\nformat ascii 1.0\nelement vertex 1\nproperty half x\nend_header\n", 'a header line "property half x"'),
        ("ply\nformat ascii 1.0\nelement face 1\nproperty float x\nend_header\n", "no points"),
        ("ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\nend_header\n1\n", "points without y and z"),
        (HEAD.replace("vertex 2", "vertex 0"), "no points"),
        (HEAD + "1 2 3\n", "1 points where 2 are promised"),
        (HEAD + "1 2 3\n1 two 3\n", "a point that is not written as numbers"),
        (HEAD + "1 2 3\n1 2\n", "a point that is not written as numbers"),
        (HEAD + "nan 2 3\nnan 2 3\n", "no points"),
        (
            HEAD.replace("property float x", "property list uchar int n\nproperty float x"),
            'a list inside "vertex", before or among the points',
        ),
    ],
)
def test_a_bad_file_is_told_in_one_sentence(tmp_path: Path, content: str, said: str) -> None:
    """The sentence says what was found in place of points."""
    path = tmp_path / "a.ply"
    path.write_text(content)
    with pytest.raises(UnreadableScanError) as caught:
        read_ply(path)
    assert str(caught.value) == said


def test_a_binary_file_that_breaks_off_is_told(tmp_path: Path) -> None:
    """As after a copy that was interrupted."""
    path = written(tmp_path / "a.ply", "binary_little_endian")
    path.write_bytes(path.read_bytes()[:-40])
    with pytest.raises(UnreadableScanError, match="points where 3 are promised"):
        read_ply(path)


@given(content=st.binary(max_size=200), form=st.sampled_from(["ascii", "binary_little_endian"]))
def test_any_bytes_are_read_or_told(tmp_path_factory: pytest.TempPathFactory, content: bytes, form: str) -> None:
    """No other error comes out, whatever follows the header."""
    path = tmp_path_factory.mktemp("any") / "a.ply"
    path.write_bytes(HEAD.replace("ascii", form).encode() + content)
    try:
        assert read_ply(path).shape[1] == 3
    except UnreadableScanError as error:
        assert str(error)  # noqa: PT017
