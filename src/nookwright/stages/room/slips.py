"""The hunt for slips: readings that the others contradict, told apart from walls wavier than assumed."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from nookwright.solvers.linear_fit import Vector
from nookwright.stages.room.chosen_waviness import Waviness, as_careful, chosen_waviness
from nookwright.stages.room.doubts import Doubts, doubts_of
from nookwright.stages.room.network import (
    FIRST_LOOK,
    ROUGH,
    SEARCHING,
    THOROUGH,
    Network,
    Solution,
    readings_off,
    settle,
    solve,
)

AS_WELL = 6.0
"""Readings whose slip would explain the rest nearly as well, within a likelihood ratio of exp(3) = 20, share the
suspicion. Common practice, no source."""

BLUNDER = 60.0
"""A gain beyond this is a slip so great that it bends the whole room: it is looked at again from a room that gives
way to it. Common practice, no source."""

GIVING_WAY_SDS = 2.0
GIVING_WAY_ROUNDS = 4
"""A reading this far off counts less from then on, in so many rounds: least absolute sums, nearly. Common practice,
no source."""

MOST_SLIPS = 6
"""More slips than this in one field book are not sorted out: it is read again."""

ROUNDS = 2
"""How often the hunt starts anew when a reading was put back."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Hunt:
    """What the hunt found.

    Args:
        waviness: how wavy the surfaces are, by what a careful person could have read.
        suspects: readings that are probably slips, by their place in the survey, each with the others that would
            explain the rest as well.
        exchanged: of readings probably exchanged: the place of the other one.
        without: the network adjusted without the suspects.
        careful: the state a careful person's readings would give, those that would then be slips set aside.
    """

    waviness: Waviness
    suspects: dict[int, tuple[int, ...]]
    exchanged: dict[int, int]
    without: Solution
    careful: Vector


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Search:
    """Where the hunt stands: suspects with those that are suspect as well, pairs exchanged, the rest adjusted."""

    suspects: dict[int, tuple[int, ...]]
    exchanged: dict[int, int]
    state: Vector
    doubts: Doubts


def hunt(network: Network) -> Hunt:
    """Find the readings that are probably slips, and the waviness that the others show.

    The most suspect reading, or the two most probably exchanged, are set aside and the rest adjusted again, until
    none exceeds the limit. Then every one set aside is looked at once more beside the good ones, and put back if it
    agrees with them. Where a slip bends the whole room, the hunt begins from a room that gives way to it.

    How wavy the walls are is told by readings that would be no slips had a careful person taken them, so that it hangs
    on no declared tool: a worse tape, by which a suspect may pass, makes no spread smaller.

    Args:
        network: the network.

    Returns:
        Suspects and waviness.
    """
    careful = as_careful(network)
    begun = _begun(careful)
    cared = _widened(careful, begun)
    waviness = chosen_waviness(careful, cared.state, cared.suspects)
    search = replace(begun, doubts=doubts_of(network, begun.state, ()))
    for _ in range(ROUNDS):
        found = _widened(network, search)
        search = _narrowed(network, found)
        if len(search.suspects) == len(found.suspects):
            break
    solution = solve(network, waviness.at_spots_mm, search.suspects, search.state, effort=THOROUGH)
    return Hunt(
        waviness=waviness,
        suspects=search.suspects,
        exchanged=search.exchanged,
        without=solution,
        careful=cared.state,
    )


def _begun(careful: Network) -> _Search:
    """Return the hunt's beginning: nothing aside, in a room that gives way where a slip bends it."""
    first = settle(careful, careful.survey.tools.waviness_mm, effort=FIRST_LOOK)
    doubts = doubts_of(careful, first.state, ())
    begun = _Search(suspects={}, exchanged={}, state=first.state, doubts=doubts)
    if first.converged and max(doubts.gains.values(), default=0.0) <= BLUNDER:
        return begun
    state = _giving_way(careful)
    return replace(begun, state=state, doubts=doubts_of(careful, state, ()))


def _with(
    network: Network, search: _Search, suspects: dict[int, tuple[int, ...]], exchanged: dict[int, int]
) -> _Search:
    """Return the search with other readings set aside."""
    state = settle(network, search.doubts.waviness_mm, suspects, search.state, effort=SEARCHING).state
    return _Search(suspects=suspects, exchanged=exchanged, state=state, doubts=doubts_of(network, state, suspects))


def _widened(network: Network, search: _Search) -> _Search:
    """Set readings aside one after another, until none of the rest is suspect."""
    while len(search.suspects) < MOST_SLIPS:
        pair, worst = search.doubts.worst_pair, search.doubts.worst
        if pair is not None:
            one, two = pair
            suspects = {**search.suspects, one: (), two: ()}
            search = _with(network, search, suspects, {**search.exchanged, one: two, two: one})
        elif worst is not None:
            suspects = {**search.suspects, worst: search.doubts.as_well(worst, AS_WELL)}
            search = _with(network, search, suspects, search.exchanged)
        else:
            break
    return search


def _narrowed(network: Network, search: _Search) -> _Search:
    """Look at every suspect once more beside the good readings, and put back those that agree with them."""
    if len(search.suspects) < 2:
        return search
    for place in reversed(tuple(search.suspects)):
        if place not in search.suspects:
            continue
        unit = {place, search.exchanged.get(place, place)}
        suspects = {other: as_well for other, as_well in search.suspects.items() if other not in unit}
        exchanged = {one: two for one, two in search.exchanged.items() if one not in unit}
        beside = _with(network, search, suspects, exchanged)
        gain, limit = beside.doubts.gains[place], beside.doubts.limit
        if len(unit) == 2:
            pair = min(unit), max(unit)
            gain, limit = beside.doubts.exchanges[pair], beside.doubts.pair_limits[pair]
        if gain <= limit:
            search = beside
        elif len(unit) == 1:
            as_well = beside.doubts.as_well(place, AS_WELL)
            search = replace(search, suspects={**search.suspects, place: as_well})
    return search


def _giving_way(network: Network) -> Vector:
    """Adjust so that readings far off count less: a great slip then stands alone instead of bending the room."""
    waviness_mm = network.survey.tools.waviness_mm
    state = network.start
    for _ in range(GIVING_WAY_ROUNDS):
        state = settle(network, waviness_mm, (), state, effort=ROUGH, slack=_slack(network, state)).state
    return state


def _slack(network: Network, state: Vector) -> Vector:
    """Return by how much each reading's standard deviation grows, in the order of `Rows.places`."""
    return np.sqrt(np.maximum(np.abs(readings_off(network, state)) / GIVING_WAY_SDS, 1.0))
