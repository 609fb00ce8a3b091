"""How wavy the room's surfaces are: one figure for all of them, chosen by what the readings leave over."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace

import numpy as np

from nookwright.solvers.linear_fit import Vector
from nookwright.solvers.shared_scale import scan_scales
from nookwright.stages.inputs.survey import Reading, Tools
from nookwright.stages.room.network import Network, scaled_system, with_tools_of

SCALE_STEPS = 2.0 ** np.arange(-3.0, 3.01, 0.5)
"""Waviness tried, as factors on the declared one: an eighth to eight times, each 1.4 times the one before."""

WAVINESS_LOG_SD = 0.85
"""How far a room's waviness strays from the declared one where that counts, standard deviation of its logarithm: a
factor of 2.3. Computed: chosen on simulated rooms of 0.7 to 4 mm; no source."""

CAREFUL = Tools(tape="I", reading_mm=0.5, level_mm_per_m=0.5, plumb_mm_per_m=0.5, bevel_deg=0.2, gap_mm=0.5)
"""What a careful person's readings are good for. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Waviness:
    """How wavy the surfaces are.

    Args:
        at_spots_mm: mean over the scales, each as likely as it is. [mm]
        between_mm: cautious, for where no spot tells and the surface strays by all of it: root of the mean cube. [mm]
    """

    at_spots_mm: float
    between_mm: float


def scales_tried(tools: Tools) -> Vector:
    """Return the waviness to try; the declared one alone when that is certain. [mm]"""
    return tools.waviness_mm * (np.ones(1) if tools.waviness_fixed else SCALE_STEPS)


def near_declared(scales: Vector, tools: Tools) -> Vector:
    """Return the logarithm of how likely each waviness is beforehand where the declared one counts."""
    found: Vector = -0.5 * (np.log(scales / tools.waviness_mm) / WAVINESS_LOG_SD) ** 2
    return found


def chosen_waviness(careful: Network, state: Vector, aside: Collection[int]) -> Waviness:
    """Return how wavy the surfaces are.

    The readings are taken to be as good as a careful person's, whatever the file says of the tools. Were the declared
    tools used, a worse tape would explain what the walls then need not, and the spreads of what lies between the
    spots would shrink. So a worse tape never makes the walls flatter, and only makes every spread greater.

    Every waviness is as likely beforehand as the next, so that the readings decide. Not so with a scan: its pieces lie
    close together, where waves longer than the law of waviness expects look flat, and the declared waviness counts.

    Args:
        careful: the network as if a careful person had taken its readings.
        state: where it is linear about.
        aside: readings that do not count, by their place in the survey.

    Returns:
        The waviness; both figures are the declared one when that is held.
    """
    tools = careful.survey.tools
    scales = scales_tried(tools)
    if len(scales) == 1:
        return Waviness(at_spots_mm=float(scales[0]), between_mm=float(scales[0]))
    scan = scan_scales(scaled_system(careful, state, aside), scales, ())
    likely = scan.likelihoods(near_declared(scales, tools) if careful.unknowns.scans else np.zeros(len(scales)))
    return Waviness(at_spots_mm=float(likely @ scales), between_mm=float(likely @ scales**3) ** (1 / 3))


def as_careful(network: Network) -> Network:
    """Return the network as if a careful person had taken its readings, whatever is declared of the tools."""
    survey, told = network.survey, network.survey.tools
    tools = replace(CAREFUL, waviness_mm=told.waviness_mm, waviness_fixed=told.waviness_fixed)
    readings = tuple(_as_good_as_the_tools(reading) for reading in survey.readings)
    return with_tools_of(network, replace(survey, tools=tools, readings=readings))


def _as_good_as_the_tools(reading: Reading) -> Reading:
    """Return a reading without a spread of its own."""
    own = {key: None for key in ("sd_mm", "sd_deg") if getattr(reading, key, None) is not None}
    return replace(reading, **own)  # type: ignore[arg-type]
