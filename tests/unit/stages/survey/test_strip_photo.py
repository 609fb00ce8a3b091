"""Profiles from photos of the marker strip: rendered pictures with known truth, and pictures that show none."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from nookwright.stages.inputs.survey import GapReading, Line, StripPhoto, Survey
from nookwright.stages.survey.marker_strip import corners_about, strip_marker
from nookwright.stages.survey.photo_profile import with_profile
from nookwright.stages.survey.strip_photo import Detections, UnusablePhotoError, profile_of

SIZE = (4000, 1500)
WALL = {0: (100.0, 90.0), 1: (300.0, 93.0), 2: (500.0, 95.5), 3: (700.0, 94.0), 4: (900.0, 91.0)}


def seen_from_above(*, bend: float = 0.0, sheets: int = 4, wrong: int | None = None) -> Detections:
    """Return the corners of a strip and five cards, seen straight on at 3 pixels a millimetre through a lens of k1 `bend`.

    A card's marker stands 100 mm in front of its end. The picture's y runs down, away from the wall.
    """
    found: dict[int, np.ndarray] = {}
    half = np.hypot(*SIZE) / 2
    middles = {n: one.middle for n in range(16, 16 + 8 * sheets) if (one := strip_marker(n))}
    middles |= {card: (x, out - 100.0) for card, (x, out) in WALL.items()}
    for number, middle in middles.items():
        at = (np.array(corners_about(middle)) - (480.0, 0.0)) * (3.0, -3.0) / half
        at = at * (1 + bend * (at**2).sum(axis=1))[:, None]
        found[number] = at * half + np.array(SIZE) / 2 - 0.5
    if wrong is not None:
        found[wrong] = found[wrong] + 40.0
    return found


@pytest.mark.parametrize("bend", [0.0, -0.08, 0.08])
def test_exact_corners_give_the_wall_exactly_whatever_the_lens(bend: float) -> None:
    """A bend of 0.08 moves the picture's corners by 160 pixels, 53 mm of the strip."""
    profile = profile_of(seen_from_above(bend=bend), SIZE, one_piece=True)
    for station in profile.stations:
        assert (station.along_mm, station.out_mm) == pytest.approx(WALL[station.card], abs=0.01)
    assert profile.markers == 32
    assert profile.corner_px < 0.01


@pytest.mark.parametrize("turns", [1, 2, 3])
def test_it_does_not_matter_which_way_up_the_picture_is(turns: int) -> None:
    """A telephone held sideways or upside down."""
    seen, size = dict(seen_from_above(bend=-0.05)), SIZE
    for _ in range(turns):
        size = size[::-1]
        seen = {number: np.column_stack([size[0] - 1 - at[:, 1], at[:, 0]]) for number, at in seen.items()}
    profile = profile_of(seen, size, one_piece=True)
    for station in profile.stations:
        assert (station.along_mm, station.out_mm) == pytest.approx(WALL[station.card], abs=0.01)


def test_the_ruler_scales_the_profile() -> None:
    """A strip printed one percent too large has a ruler of 202 mm."""
    profile = profile_of(seen_from_above(), SIZE, one_piece=True, ruler=1.01)
    assert profile.stations[-1].along_mm == pytest.approx(909)


def test_a_misread_marker_is_left_out() -> None:
    """It is 40 pixels away from where the others say."""
    profile = profile_of(seen_from_above(wrong=20), SIZE, one_piece=True)
    assert profile.left_out == (20,)
    assert profile.stations[2].out_mm == pytest.approx(95.5, abs=0.05)


@pytest.mark.parametrize(
    ("kept", "said"),
    [
        (range(5), "none of the strip's markers"),
        (range(21), "5 of the strip's markers"),
        (range(16, 48), "no cards"),
        ((0, *range(16, 48)), "1 card"),
        ((0, 1, *range(16, 48)), "2 cards"),
    ],
)
def test_too_little_in_the_picture_is_told(kept: range, said: str) -> None:
    """With what to do."""
    seen = {number: corners for number, corners in seen_from_above().items() if number in kept}
    with pytest.raises(UnusablePhotoError) as caught:
        profile_of(seen, SIZE, one_piece=True)
    assert str(caught.value) == said
    assert caught.value.hint


def test_a_crumpled_strip_is_told() -> None:
    """Corners 3 pixels off at random fit no plane."""
    rng = np.random.default_rng(1)
    seen = {number: corners + rng.normal(0, 3, (4, 2)) for number, corners in seen_from_above().items()}
    with pytest.raises(UnusablePhotoError, match="markers that miss a flat strip by"):
        profile_of(seen, SIZE, one_piece=False)


def test_a_photo_becomes_gaps_of_one_more_laying() -> None:
    """Beside a laying on the same line that was typed; gaps count from the nearest card."""
    line = Line(surface="back", start="BL1", towards="BR1")
    typed = GapReading(line=line, at_mm=0.0, gap_mm=1.0)
    survey = Survey(kind="alcove", corner="left", heights_mm=(300.0,), readings=(typed,))
    photo = StripPhoto(name="back.jpg", line=line, zero_mm=50.0, one_piece=True)
    gaps = with_profile(survey, photo, seen_from_above(), SIZE).readings[1:]
    assert [gap.set_up for gap in gaps if isinstance(gap, GapReading)] == [2] * 5
    shown = [(gap.at_mm, gap.gap_mm) for gap in gaps if isinstance(gap, GapReading)]
    assert np.array(shown) == pytest.approx(np.array([(150, 0), (350, 3), (550, 5.5), (750, 4), (950, 1)]), abs=0.02)


def wavy(seed: int) -> np.ndarray:
    """Return amplitudes, wave numbers and phases of a wall: six cosines 0.7 to 2.5 m long."""
    rng = np.random.default_rng(seed)
    return np.array([rng.normal(0, 1.5, 6), 2 * np.pi / rng.uniform(700, 2500, 6), rng.uniform(0, 2 * np.pi, 6)])


def errors(
    seed: int, camera_changes: dict[str, object], laid_changes: dict[str, object]
) -> tuple[np.ndarray, np.ndarray]:
    """Return what a rendered photo's profile misses, its mean and slope taken out, and the spreads it promises. [mm]"""
    pytest.importorskip("cv2", reason="the optional extra `photo` is not installed")
    from nookwright.files.photo_strip import markers_in
    from rendered_photos import Camera, Laid, photo

    sizes, waves, phases = wavy(seed)
    laid = replace(
        Laid(
            columns=20,
            wall=lambda x: 92 + float(np.sum(sizes * np.cos(waves * x + phases))),
            cards_at=np.linspace(40, 1160, 11),
        ),
        **laid_changes,
    )
    picture, ends = photo(laid, replace(Camera(), **camera_changes), seed)
    seen = markers_in(picture)
    profile = profile_of(seen.markers, seen.size_px, one_piece=not laid.glued_mm)
    assert len(profile.stations) == 11
    along = np.array([station.along_mm for station in profile.stations])
    missed = np.array([station.out_mm - ends[station.card][1] for station in profile.stations])
    design = np.column_stack([np.ones(11), along])
    missed -= design @ np.linalg.lstsq(design, missed, rcond=None)[0]
    return missed, np.array([station.sd_mm for station in profile.stations])


@pytest.mark.parametrize(
    ("camera", "laid", "allowed"),
    [
        ({}, {}, 0.35),
        ({"lens": (-0.25, 0.08, 0.0, 4e-4, -3e-4)}, {}, 0.45),
        ({"blur_px": 1.6, "noise": 10.0, "jpeg": 60}, {}, 0.45),
        ({}, {"glued_mm": 0.0, "glued_rad": 0.0}, 0.3),
        ({"lens": (0.0,) * 5}, {"glued_mm": 0.0, "glued_rad": 0.0, "cut_mm": 0.0, "card_mm": 0.0}, 0.15),
    ],
    ids=["telephone", "bent lines", "blurred", "one piece", "all perfect"],
)
def test_a_rendered_photo_gives_the_wall_to_a_few_tenths(
    camera: dict[str, object], laid: dict[str, object], allowed: float
) -> None:
    """Lens, hand-held tilt, blur, noise and JPEG, sheets glued askew, cards cut by hand. Root of the mean square. [mm]"""
    missed, promised = errors(1, camera, laid)
    assert np.sqrt(np.mean(missed**2)) < allowed
    assert np.all(np.abs(missed) < 3 * promised)
