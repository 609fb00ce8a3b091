"""Scans and photos against the truth: coverage, spreads and time with a scan; errors of rendered photos."""

from __future__ import annotations

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the command line does; set before numpy is loaded

import argparse
import math
import sys
import time
from collections import defaultdict
from dataclasses import replace
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests"))

import numpy as np

from nookwright.basics.problems import InvalidInputError
from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.survey.scan_register import with_surfaces
from nookwright.stages.survey.strip_photo import profile_of
from scanned_rooms import SPOTS, scanned, true_values
from simulated_rooms import Waviness
from simulated_scans import Scanner

QUANTITIES = ("corner", "lean", "width", "depth", "fall", "pitch")


def coverage(rooms: int) -> None:
    """Print how often the truth lies within 1.96 standard deviations, with a scan, three tapes and four levels."""
    print(f"Coverage of 95 % intervals: scan of 40,000 points, three tapes, four levels; {rooms} rooms of each kind")
    for kind in SPOTS:
        sizes: dict[str, list[tuple[float, float]]] = defaultdict(list)
        alarms = refused = 0
        for seed in range(rooms):
            wavy = Waviness((0.7, 1.5, 3.0)[seed % 3], belly_mm=3.0 if seed % 5 == 0 else 0.0)
            truth, survey, points = scanned(kind, 1000 + seed, scanner=Scanner(points=40_000), wavy=wavy)
            try:
                room = reconcile(with_surfaces(survey, [points]))
            except InvalidInputError:
                refused += 1
                continue
            alarms += any(fit.suspect for fit in room.fits)
            true = true_values(truth, survey, room)
            for one in room.derived:
                if one.fixed and one.name in true:
                    quantity = next(word for word in QUANTITIES if word in one.name)
                    sizes[quantity].append(((one.measured.value - true[one.name]) / one.measured.sd, one.measured.sd))
        print(f"  {kind}: alarms {alarms}, refused {refused}")
        for quantity, found in sizes.items():
            scores, sds = np.array(found).T
            within, size = float(np.mean(np.abs(scores) < 1.96)), math.sqrt(float(np.mean(scores**2)))
            spread = f"mean spread {np.mean(sds):.2f}  ({len(found)} values)"
            print(f"    {quantity:8} {100 * within:5.1f} %  rms {size:.2f}  {spread}")


def speed() -> None:
    """Print how long a million points take, in seconds of one processor."""
    _, survey, points = scanned("alcove", 3, scanner=Scanner(points=1_000_000))
    start = time.process_time()
    survey = with_surfaces(survey, [points])
    thinned = time.process_time()
    reconcile(survey)
    end = time.process_time()
    print(
        f"{len(points):,} points: thinned to {len(survey.scans[0].patches)} pieces in {thinned - start:.2f} s, ", end=""
    )
    print(f"adjusted in {end - thinned:.2f} s")


CASES: dict[str, tuple[dict[str, Any], dict[str, Any]]] = {
    "telephone, glued sheets": ({}, {}),
    "lines bent by 4 %": ({"lens": (-0.25, 0.08, 0.0, 4e-4, -3e-4)}, {}),
    "blurred, noisy, small file": ({"blur_px": 1.6, "noise": 10.0, "jpeg": 60}, {}),
    "held askew by 12 degrees": ({"tilt_deg": (12.0, -6.0, 5.0), "aside_mm": (80.0, 250.0)}, {}),
    "one piece": ({}, {"glued_mm": 0.0, "glued_rad": 0.0}),
    "one piece, cut exactly": ({}, {"glued_mm": 0.0, "glued_rad": 0.0, "cut_mm": 0.0}),
    "all perfect": (
        {"lens": (0.0,) * 5, "off_centre_px": (0.0, 0.0)},
        {"glued_mm": 0.0, "glued_rad": 0.0, "cut_mm": 0.0, "card_mm": 0.0},
    ),
}


def photos(seeds: int) -> None:
    """Print what profiles from rendered photos miss."""
    from nookwright.files.photo_strip import markers_in
    from rendered_photos import Camera, Laid, photo

    print(f"Profiles from rendered photos, 11 cards on 1.2 m, {seeds} each; mean and slope taken out [mm]")
    for name, (camera, changes) in CASES.items():
        missed, spreads, pixels = [], [], []
        for seed in range(seeds):
            rng = np.random.default_rng(seed)
            sizes, waves = rng.normal(0, 1.5, 6), 2 * np.pi / rng.uniform(700, 2500, 6)
            phases = rng.uniform(0, 2 * np.pi, 6)

            def wall(x: float, a: Any = sizes, k: Any = waves, p: Any = phases) -> float:
                return 92 + float(np.sum(a * np.cos(k * x + p)))

            laid = replace(Laid(columns=20, wall=wall, cards_at=np.linspace(40, 1160, 11)), **changes)
            picture, ends = photo(laid, replace(Camera(), **camera), seed)
            seen = markers_in(picture)
            profile = profile_of(seen.markers, seen.size_px, one_piece=not laid.glued_mm)
            along = np.array([station.along_mm for station in profile.stations])
            off = np.array([station.out_mm - ends[station.card][1] for station in profile.stations])
            design = np.column_stack([np.ones_like(along), along])
            missed += list(off - design @ np.linalg.lstsq(design, off, rcond=None)[0])
            spreads += [station.sd_mm for station in profile.stations]
            pixels.append(profile.corner_px)
        size, most = math.sqrt(float(np.mean(np.square(missed)))), float(np.max(np.abs(missed)))
        print(f"  {name:28} rms {size:.2f}  greatest {most:.2f}  spread promised {np.mean(spreads):.2f}", end="")
        print(f"  corners {np.mean(pixels):.2f} pixels")


def main() -> None:
    """Print all three."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--rooms", type=int, default=12, help="rooms of each kind (default: 12)")
    asked.add_argument("--photos", type=int, default=4, help="photos of each case (default: 4)")
    chosen = asked.parse_args()
    coverage(chosen.rooms)
    speed()
    photos(chosen.photos)


if __name__ == "__main__":
    main()
