"""The adjustment against the certified nonlinear regressions of NIST.

Source: NIST Statistical Reference Datasets, nonlinear regression: Misra1a, MGH09, Thurber, Chwirut2. Certified to
11 digits; the datasets ask for agreement from both published starting points.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from nookwright.solvers.adjust import Adjustment, adjust
from nookwright.solvers.whitened import Block

MISRA1A_Y_X = [
    (10.07, 77.6), (14.73, 114.9), (17.94, 141.1), (23.93, 190.8), (29.61, 239.9), (35.18, 289.0), (40.02, 332.8),
    (44.82, 378.4), (50.76, 434.8), (55.05, 477.3), (61.01, 536.8), (66.40, 593.1), (75.47, 689.1), (81.78, 760.0),
]  # fmt: skip

Model = Callable[[np.ndarray, np.ndarray], tuple[np.ndarray, list[np.ndarray]]]


def misra1a(b: np.ndarray, x: np.ndarray) -> tuple[np.ndarray, list[np.ndarray]]:
    """Return y = b1 (1 - exp(-b2 x)) and its derivatives."""
    fall = np.exp(-b[1] * x)
    return b[0] * (1 - fall), [1 - fall, b[0] * x * fall]


def mgh09(b: np.ndarray, x: np.ndarray) -> tuple[np.ndarray, list[np.ndarray]]:
    """Return y = b1 (x^2 + b2 x) / (x^2 + b3 x + b4) and its derivatives."""
    top, bottom = x**2 + b[1] * x, x**2 + b[2] * x + b[3]
    y = b[0] * top / bottom
    return y, [top / bottom, b[0] * x / bottom, -y * x / bottom, -y / bottom]


def thurber(b: np.ndarray, x: np.ndarray) -> tuple[np.ndarray, list[np.ndarray]]:
    """Return the quotient of a cubic by a cubic and its derivatives."""
    top = b[0] + b[1] * x + b[2] * x**2 + b[3] * x**3
    bottom = 1 + b[4] * x + b[5] * x**2 + b[6] * x**3
    y = top / bottom
    return y, [x**k / bottom for k in range(4)] + [-y * x**k / bottom for k in (1, 2, 3)]


def chwirut2(b: np.ndarray, x: np.ndarray) -> tuple[np.ndarray, list[np.ndarray]]:
    """Return y = exp(-b1 x) / (b2 + b3 x) and its derivatives."""
    bottom = b[1] + b[2] * x
    y = np.exp(-b[0] * x) / bottom
    return y, [-x * y, -y / bottom, -x * y / bottom]


MODELS: dict[str, Model] = {
    "nist_misra1a": misra1a, "nist_mgh09": mgh09, "nist_thurber": thurber, "nist_chwirut2": chwirut2,
}  # fmt: skip


def fitted(model: Model, data: np.ndarray, start: list[float]) -> Adjustment:
    """Fit a model with unit weights."""
    y, x = data[:, 0], data[:, 1]

    def evaluate(b: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        computed, derivatives = model(b, x)
        return computed - y, np.stack(derivatives, axis=1)

    block = Block(evaluate=evaluate, columns=np.arange(len(start)), sd=np.ones(len(y)))
    return adjust(start=np.array(start), blocks=[block], most_iterations=2000)


@pytest.mark.parametrize("start", [[500.0, 0.0001], [250.0, 0.0005]])
def test_misra1a_is_certified_from_both_starts(start: list[float]) -> None:
    """Typed here, so that it runs anywhere: b1 = 2.3894212918e+02, b2 = 5.5015643181e-04, RSS 1.2455138894e-01."""
    fit = fitted(misra1a, np.array(MISRA1A_Y_X), start)
    assert fit.converged
    assert fit.state == pytest.approx([2.3894212918e02, 5.5015643181e-04], rel=1e-9)
    assert fit.weighted_sum_of_squares == pytest.approx(1.2455138894e-01, rel=1e-9)
    sd = np.sqrt(np.diag(fit.covariance)) * fit.sigma0
    assert sd == pytest.approx([2.7070075241e00, 7.2668688436e-06], rel=1e-7)


@pytest.mark.parametrize("key", list(MODELS))
@pytest.mark.parametrize("start", ["start1", "start2"])
def test_nist_values_are_certified_from_both_starts(reference_folder: Path, key: str, start: str) -> None:
    """Eight digits of every parameter, six of every standard deviation."""
    entries = json.loads((reference_folder / "survey" / "examples.json").read_text())["nist"]
    entry = next(one for one in entries if one["id"] == key)
    fit = fitted(MODELS[key], np.array(entry["data_y_x"]), [p[start] for p in entry["parameters"]])
    assert fit.converged
    assert fit.dof == entry["dof"]
    assert fit.state == pytest.approx([p["certified"] for p in entry["parameters"]], rel=1e-8)
    assert fit.weighted_sum_of_squares == pytest.approx(entry["rss"], rel=1e-9)
    sd = np.sqrt(np.diag(fit.covariance)) * fit.sigma0
    assert sd == pytest.approx([p["certified_sd"] for p in entry["parameters"]], rel=1e-6)
