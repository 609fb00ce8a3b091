"""What takes unknowns out of a network: enough, never a reading, and it changes nothing but the work."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from nookwright.solvers.shared_scale import NOTHING_SPENT, scan_scales
from nookwright.stages.inputs.survey import RoomKind
from nookwright.stages.room.network import Network, network_of, scaled_system
from nookwright.stages.survey.field_lists import field_list
from simulated_rooms import LAYOUTS, Person, ToTake, field_book, simulated_room


def network(kind: RoomKind) -> Network:
    """Return the network of a simulated room read by its field sheet."""
    sheet = field_list(kind)
    takes: list[ToTake] = [("pitch",) if one.tool == "slope" else (one.tool, *one.of) for one in sheet.readings]
    true = simulated_room(kind, 3, heights_mm=sheet.heights_mm)
    return network_of(field_book(Person(true), takes)[0])


@pytest.mark.parametrize("kind", LAYOUTS)
def test_what_is_spent_settles_as_many_unknowns_and_is_no_reading(kind: RoomKind) -> None:
    """Its own unknowns alone, at any state: each once, and by a well-conditioned system."""
    made = network(kind)
    spent, system = made.spent, scaled_system(made, made.start)
    assert len(spent.rows) == len(set(spent.rows.tolist())) == len(set(spent.columns.tolist())) == len(spent.columns)
    assert min(spent.rows) >= len(made.rows.places)
    assert np.linalg.cond(system.jacobian[np.ix_(spent.rows, spent.columns)]) < 1e4
    surfaces, open_ways = 3 * len(made.unknowns.surfaces), system.jacobian.shape[1] - len(spent.columns)
    assert open_ways <= surfaces + 12  # left are the surfaces, the level line, and what is placed by eye


@pytest.mark.parametrize("kind", LAYOUTS)
def test_every_scale_says_the_same_with_nothing_spent(kind: RoomKind) -> None:
    """A reading set aside too: the rows then move up."""
    made = network(kind)
    scales = np.array([0.5, 2.0, 7.0])
    for aside in ((), (5, 9)):
        system, tested = scaled_system(made, made.start, aside), range(24 - len(aside))
        quick, plain = (scan_scales(one, scales, tested) for one in (system, replace(system, spent=NOTHING_SPENT)))
        assert np.diff(quick.deviances) == pytest.approx(np.diff(plain.deviances), rel=1e-6)
        assert quick.errors == pytest.approx(plain.errors, rel=1e-5, abs=1e-7)
        assert quick.precisions == pytest.approx(plain.precisions, rel=1e-5, abs=1e-9)
