"""Every published figure in tests/published/rows.csv against our formulas: the rows of docs/validation.md."""

from __future__ import annotations

import pytest

from published.formulas import compared, formula_for, reason_not_computed
from published.rows import Row, half_steps, numbers, published_rows

ROWS = published_rows()
BESIDE = [row for row in ROWS if formula_for(row) is not None]


@pytest.mark.parametrize("row", BESIDE, ids=lambda row: f"{row.quantity} {row.inputs}"[:80])
def test_ours_is_what_is_published(row: Row) -> None:
    """Within half a unit of the last printed digit, or the slack that the formula's entry states and the page says."""
    each = compared(row)
    assert each is not None
    assert len(each.ours) == len(each.printed) > 0
    assert each.agrees, f"{row.quantity}, {row.inputs}: ours {each.ours}, printed {row.value}"


def test_rows_without_a_formula_say_why() -> None:
    """No row is left out in silence."""
    silent = [row.quantity for row in ROWS if formula_for(row) is None and not reason_not_computed(row)]
    assert silent == []


def test_at_least_200_figures_are_computed() -> None:
    """All twelve printed shelf spans are among them."""
    assert len(BESIDE) >= 200
    assert sum(1 for row in BESIDE if row.quantity.startswith("max shelf span")) == 12


@pytest.mark.parametrize(
    ("text", "found", "half"),
    [
        ("0.00151 ; 0.00256", [0.00151, 0.00256], [5e-6, 5e-6]),
        ("105.1 (mode IIIs); Im 701.8", [105.1, 701.8], [0.05, 0.05]),
        ("E=0.95e6 psi", [0.95e6], [5e3]),
        ("3/8 wL", [0.375], [0.0]),
        ("-5 C 80%", [-5.0, 80.0], [0.5, 0.5]),
    ],
)
def test_printed_numbers_are_read_as_printed(text: str, found: list[float], half: list[float]) -> None:
    """With the rounding that their last digit stands for."""
    assert numbers(text) == pytest.approx(found)
    assert half_steps(text) == pytest.approx(half, rel=1e-3, abs=1e-8)
