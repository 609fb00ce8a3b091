"""Scans and photos named in room.yaml: read with the job, or refused in one sentence each."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import numpy as np
import pytest

from nookwright.basics.problems import InvalidInputError
from nookwright.cli.main import main
from nookwright.files.job_folder import read_room
from nookwright.stages.inputs.survey import GapReading, Survey
from nookwright.stages.room.reconcile import reconcile
from scanned_rooms import scanned
from simulated_rooms import Point
from simulated_scans import Scanner


def room_text(survey: Survey, scan: str) -> str:
    """Return the room file of a scanned room."""
    lines = [
        f"kind: {survey.kind}",
        f"heights: [{', '.join(f'{height:g}' for height in survey.heights_mm)}]",
        "readings:",
    ]
    lines += ["  tape:"] + [
        f"    - {r.start} - {r.end}: {r.length_mm:g}" for r in survey.readings if hasattr(r, "length_mm")
    ]
    lines += ["  level:"] + [f"    - {r.spot}: {r.above_mm:g}" for r in survey.readings if hasattr(r, "above_mm")]
    return "\n".join(lines) + f"\nscans:\n{scan}"


def scan_text(survey: Survey, file: str, size: float = 1000.0, more: str = "") -> str:
    """Return what the room file says of a scan."""
    spots = "".join(
        f"      {spot.name}: {', '.join(f'{value / size:.5f}' for value in spot.xyz)}\n"
        for spot in survey.scans[0].spots
    )
    return f"  - file: {file}\n    noise: 2.5 mm\n    level: 2\n    spots:\n{spots}{more}"


def write_ply(path: Path, points: Point) -> None:
    """Write a cloud as small as it gets."""
    head = f"ply\nformat binary_little_endian 1.0\nelement vertex {len(points)}\n"
    head += "property float x\nproperty float y\nproperty float z\nend_header\n"
    path.write_bytes(head.encode() + points.astype("<f4").tobytes())


@pytest.fixture(scope="module")
def scan() -> tuple[Survey, Point]:
    """Return a scanned alcove."""
    _, survey, points = scanned("alcove", 2, scanner=Scanner(points=40_000))
    return survey, points


def refused(folder: Path) -> list[str]:
    """Return the sentences a job is refused with."""
    with pytest.raises(InvalidInputError) as caught:
        read_room(folder)
    return str(caught.value).splitlines()


@pytest.mark.parametrize(("units", "size"), [("m", 1000.0), ("foot", 304.8), ("mm", 1.0)])
def test_a_scan_beside_the_room_file_makes_the_room_surer(
    scan: tuple[Survey, Point], tmp_path: Path, units: str, size: float
) -> None:
    """In any unit; the leans are then fixed."""
    survey, points = scan
    write_ply(tmp_path / "alcove.ply", points / size)
    text = scan_text(survey, "alcove.ply", size, f"    units: {units}\n")
    (tmp_path / "room.yaml").write_text(room_text(survey, text))
    read = read_room(tmp_path).survey
    assert 60 <= len(read.scans[0].patches) <= 150
    leans = [one for one in reconcile(read).derived if one.name.endswith("lean")]
    assert len(leans) == 3
    assert all(one.fixed for one in leans)


def test_survey_tells_which_surfaces_a_scan_shows(
    scan: tuple[Survey, Point], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """And which it does not: here everything to the right of the middle is cut away."""
    survey, points = scan
    left, right = (np.array(next(s for s in survey.scans[0].spots if s.name == name).xyz) for name in ("BL0", "BR0"))
    along = (points - left) @ (right - left) / float((right - left) @ (right - left))
    write_ply(tmp_path / "a.ply", points[along < 0.6] / 1000)
    (tmp_path / "room.yaml").write_text(room_text(survey, scan_text(survey, "a.ply")))
    assert main(["survey", str(tmp_path)]) in (0, 1)
    said = capsys.readouterr().out
    assert re.search(r"\n  a\.ply: floor \d+, back wall \d+, left wall \d+; nothing of the right wall\n", said)


def test_spots_may_be_a_list_of_lines_and_of_numbers(scan: tuple[Survey, Point], tmp_path: Path) -> None:
    """As the readings are, for those who like it."""
    survey, points = scan
    write_ply(tmp_path / "a.ply", points / 1000)
    spots = "".join(
        f"      - {s.name}: [{', '.join(f'{v / 1000:.5f}' for v in s.xyz)}]\n" for s in survey.scans[0].spots
    )
    (tmp_path / "room.yaml").write_text(room_text(survey, f"  - file: a.ply\n    spots:\n{spots}"))
    assert read_room(tmp_path).survey.scans[0].patches


def test_a_scan_left_out_is_not_even_opened(scan: tuple[Survey, Point], tmp_path: Path) -> None:
    """`use: no` works when the file is gone."""
    survey, _ = scan
    (tmp_path / "room.yaml").write_text(room_text(survey, scan_text(survey, "gone.ply", more="    use: no\n")))
    room = reconcile(read_room(tmp_path).survey)
    assert [one.text for one in room.left_out] == ["scale of scan gone.ply"]


def test_files_that_are_no_scans_are_told_all_at_once(scan: tuple[Survey, Point], tmp_path: Path) -> None:
    """Missing, of another kind, damaged, and with nothing near enough."""
    survey, points = scan
    (tmp_path / "bad.ply").write_text("solid\n")
    write_ply(tmp_path / "far.ply", points / 1000 + 90)
    texts = [scan_text(survey, name) for name in ("gone.ply", "cloud.xyz", "bad.ply")]
    texts.append(scan_text(survey, "far.ply", more="    farthest: 5000\n"))
    (tmp_path / "room.yaml").write_text(room_text(survey, "".join(texts)))
    said = [line.partition(": ")[2] for line in refused(tmp_path)]
    assert said == [
        'found no file "gone.ply"; expected a PLY or E57 file. The path starts from the job folder.',
        'found scan "cloud.xyz"; expected a PLY or E57 file.',
        "found a file that does not begin with the word ply in bad.ply; expected a PLY or E57 file. Export it from the scanner's program again.",
        "found no point of far.ply within 5000 mm of its own zero; expected points nearer than `farthest`. Take `farthest` out if the scan's zero is not where the scanner stood.",
    ]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            "  - file: a.ply\n    spots: {BL0: 1 2}\n",
            'scans[1].spots[1]: found "1 2"; expected three numbers, such as `0.132, 1.204, -0.011`.',
        ),
        (
            "  - file: a.ply\n    spots: {BL0: 1 2 c}\n",
            'scans[1].spots[1]: found "1 2 c"; expected three numbers, such as `0.132, 1.204, -0.011`.',
        ),
        (
            "  - file: a.ply\n    spots:\n      BL0: 0, 0, 0\n    units: yards\n",
            'scans[1].units: found "yards"; expected mm, cm, m, inch or foot.',
        ),
        (
            "  - file: a.ply\n",
            "scans[1].spots: found nothing; expected lines such as `- BL0: 0.132, 1.204, -0.011`. `spots` is missing here.",
        ),
        ("  - a.ply\n", 'scans[1]: found "a.ply"; expected a group of keys such as file, units, spots.'),
    ],
)
def test_a_wrong_line_of_a_scan_is_told(scan: tuple[Survey, Point], tmp_path: Path, text: str, said: str) -> None:
    """With its place, before any file is opened."""
    (tmp_path / "room.yaml").write_text(room_text(scan[0], text))
    assert [line.partition(" ")[2] for line in refused(tmp_path)] == [said]


@pytest.mark.parametrize(
    ("spots", "said"),
    [
        (
            "BL0: 0 0 0\n      BR0: 1.2 0 0\n",
            "found 2 spots picked in scan a.ply; expected 3 or more, not on one line. Corners of the room are easy to pick.",
        ),
        (
            "BL0: 0 0 0\n      BR0: 1 0 0\n      BL0: 0 0 1\n",
            "found BL0 picked twice in scan a.ply; expected each spot once.",
        ),
        (
            "BL0: 0 0 0\n      BL2: 0 0 1\n      BL3: 0 0 2\n",
            "found the spots of scan a.ply all on one line; expected three or more that are not. Pick one more, away from that line.",
        ),
        (
            "BL0: 0 0 0\n      BR0: 1 0 0\n      BX3: 0 0 2\n",
            'found spot "BX3"; expected a spot of this room, such as BL0 or BR1.',
        ),
    ],
)
def test_spots_that_cannot_lay_a_scan_on_the_room_are_told(
    scan: tuple[Survey, Point], tmp_path: Path, spots: str, said: str
) -> None:
    """Too few, twice, in one line, or none of this room."""
    write_ply(tmp_path / "a.ply", scan[1] / 1000)
    (tmp_path / "room.yaml").write_text(room_text(scan[0], f"  - file: a.ply\n    spots:\n      {spots}"))
    assert any(said in line for line in refused(tmp_path))


def test_an_e57_file_is_read_like_a_ply_file(scan: tuple[Survey, Point], tmp_path: Path) -> None:
    """Two scans in one file, each moved by its own pose."""
    pye57 = pytest.importorskip("pye57", reason="the optional extra `scan` is not installed")
    survey, points = scan
    file = pye57.E57(str(tmp_path / "a.e57"), mode="w")
    for part in (points[::2], points[1::2]):
        columns = {f"cartesian{axis}": part[:, i] / 1000 - 5.0 * (i == 0) for i, axis in enumerate("XYZ")}
        file.write_scan_raw(columns, translation=np.array([5.0, 0.0, 0.0]))
    file.close()
    (tmp_path / "room.yaml").write_text(room_text(survey, scan_text(survey, "a.e57")))
    assert 60 <= len(read_room(tmp_path).survey.scans[0].patches) <= 150
    (tmp_path / "a.e57").write_bytes(b"nothing")
    assert "found a file that is damaged or no E57 file in a.e57" in refused(tmp_path)[0]


def test_without_the_extra_an_e57_file_is_told_how_to_be_read(
    scan: tuple[Survey, Point], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What to install, or what else to do."""
    monkeypatch.setitem(sys.modules, "pye57", None)
    (tmp_path / "a.e57").write_bytes(b"")
    (tmp_path / "room.yaml").write_text(room_text(scan[0], scan_text(scan[0], "a.e57")))
    (said,) = refused(tmp_path)
    assert said.endswith(
        "found scan a.e57, but no reader of E57 files; expected the optional extra `scan`. Install it with `pip install nookwright[scan]`, or export the scan as PLY."
    )


PHOTO = "photos:\n  - {file: back.png, line: back BL1 - BR1, zero at: 40}\n"


def photo_job(folder: Path, photo: str = PHOTO) -> Path:
    """Write a job whose room file names a photo."""
    readings = "readings:\n  tape:\n    - BL1 - BR1: 1290\n    - BL0 - BR0: 1288\n    - BL0 - FL0: 600\n"
    (folder / "room.yaml").write_text(f"kind: alcove\nheights: [300]\n{readings}{photo}")
    return folder


def test_a_photo_of_the_strip_becomes_gaps(tmp_path: Path) -> None:
    """Eleven cards beside a wall that is hollow by 4 mm in its middle."""
    cv2 = pytest.importorskip("cv2", reason="the optional extra `photo` is not installed")
    from rendered_photos import Camera, Laid, photo

    laid = Laid(columns=20, wall=lambda x: 95 + 4 * (1 - ((x - 600) / 600) ** 2), cards_at=np.linspace(40, 1160, 11))
    cv2.imwrite(str(tmp_path / "back.png"), photo(laid, Camera())[0])
    survey = read_room(photo_job(tmp_path)).survey
    gaps = [reading for reading in survey.readings if isinstance(reading, GapReading)]
    assert len(gaps) == 11
    edge, middle = (gaps[0].gap_mm + gaps[-1].gap_mm) / 2, gaps[5].gap_mm
    assert middle - edge == pytest.approx(4 * (560 / 600) ** 2, abs=0.6)
    room = reconcile(survey)
    assert sum(fit.text.startswith("gap back BL1 - BR1 at") for fit in room.fits) == 11


def test_photos_that_show_nothing_are_told(tmp_path: Path) -> None:
    """No picture at all, one without the strip, and none there."""
    cv2 = pytest.importorskip("cv2", reason="the optional extra `photo` is not installed")
    (tmp_path / "text.jpg").write_text("nothing")
    (tmp_path / "empty.jpg").write_bytes(b"")
    cv2.imwrite(str(tmp_path / "grey.png"), np.full((300, 400), 128, np.uint8))
    names = ("text.jpg", "empty.jpg", "grey.png", "gone.png")
    photos = "photos:\n" + "".join(f"  - {{file: {name}, line: back BL1 - BR1}}\n" for name in names)
    said = [line.partition(": ")[2] for line in refused(photo_job(tmp_path, photos))]
    assert said == [
        "found no picture in text.jpg; expected a photo of the marker strip, as JPEG or PNG.",
        "found no picture in empty.jpg; expected a photo of the marker strip, as JPEG or PNG.",
        "found none of the strip's markers in grey.png; expected the strip and its cards. Take the picture from nearer, sharp and evenly lit, with the whole strip in it.",
        'found no file "gone.png"; expected a photo of the marker strip, as JPEG or PNG. The path starts from the job folder.',
    ]


def test_without_the_extra_a_photo_is_told_how_to_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What to install."""
    monkeypatch.setitem(sys.modules, "cv2", None)
    (tmp_path / "back.png").write_bytes(b"")
    (said,) = refused(photo_job(tmp_path))
    assert said.endswith(
        "found photo back.png, but no reader of photos; expected the optional extra `photo`. Install it with `pip install nookwright[photo]`."
    )


def test_a_wrong_line_of_a_photo_is_told(tmp_path: Path) -> None:
    """The line as under `gaps`, and the ruler near 200 mm."""
    said = refused(photo_job(tmp_path, "photos:\n  - {file: back.png, line: back, ruler: 300, strip: glued}\n"))
    assert [line.partition(" ")[2] for line in said] == [
        'photos[1].line: found "back"; expected a surface, a spot on it, and another spot or a way, such as `left BL1 up`.',
        'photos[1].strip: found "glued"; expected sheets or one piece.',
        'photos[1].ruler: found "300"; expected a length from 180 mm to 220 mm.',
    ]


def test_a_line_that_the_room_does_not_have_is_told_once(tmp_path: Path) -> None:
    """Not once for each card."""
    cv2 = pytest.importorskip("cv2", reason="the optional extra `photo` is not installed")
    from rendered_photos import Camera, Laid, photo

    laid = Laid(columns=8, wall=lambda x: 95.0, cards_at=(60, 200, 340))
    cv2.imwrite(str(tmp_path / "back.png"), photo(laid, Camera(size_px=(2400, 1200)))[0])
    survey = read_room(photo_job(tmp_path, PHOTO.replace("BL1", "BX1"))).survey
    with pytest.raises(InvalidInputError) as caught:
        reconcile(survey)
    (said,) = str(caught.value).splitlines()
    assert said.startswith('room.yaml:9:5 photos[1]: found spot "BX1"; expected a spot of this room')
