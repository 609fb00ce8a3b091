"""The reader of the table of woods."""

from __future__ import annotations

import pytest

from nookwright.basics.problems import InvalidInputError
from nookwright.trade.woods import wood, wood_keys


def test_the_table_has_every_wood_that_stock_may_name() -> None:
    """Boards and solid woods."""
    assert set(wood_keys()) >= {
        "birch-plywood", "softwood-plywood", "mdf", "particleboard", "osb", "hardboard", "pine", "spruce",
        "douglas-fir", "red-oak", "white-oak", "hard-maple", "poplar", "beech",
    }  # fmt: skip


@pytest.mark.parametrize("key", wood_keys())
def test_every_row_is_sound(key: str) -> None:
    """Figures are above zero; solid wood moves and holds screws by table, boards do not."""
    found = wood(key)
    assert found.across_n_mm2.value <= found.along_n_mm2.value
    assert found.creep.value >= 1
    assert 300 <= found.density_kg_m3 <= 1100
    assert (found.tangential is not None) == (found.radial is not None) == (found.gravity is not None) == found.solid
    if found.tangential is not None and found.radial is not None:
        assert found.radial.value < found.tangential.value


def test_an_unknown_wood_is_refused_with_the_choice() -> None:
    """The message lists every key."""
    with pytest.raises(InvalidInputError) as caught:
        wood("teak")
    assert str(caught.value) == "wood: found teak; expected one of " + ", ".join(wood_keys()) + "."
