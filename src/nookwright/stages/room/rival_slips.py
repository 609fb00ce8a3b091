"""Several readings that may each be the slip: which readings to take to find out which one it is."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from nookwright.solvers.telling_apart import Rivals, telling
from nookwright.stages.room.candidates import Candidate
from nookwright.stages.room.outlook import Outlook, seen
from nookwright.stages.room.room import Room

LEAST_CHECKED = 1e-4
"""A reading whose slip shows by less than this share cannot be judged."""


def rival_places(room: Room) -> tuple[tuple[int, ...], ...]:
    """Return, for each suspect that is not alone, the places of all readings that may be the slip instead of it."""
    found = []
    for place, fit in enumerate(room.fits):
        if fit.slip is not None and fit.slip.or_else:
            others = (i for i, other in enumerate(room.fits) if other.text in fit.slip.or_else and i != place)
            found.append((place, *others))
    return tuple(found)


def telling_offers(
    room: Room, outlook: Outlook, rivals: Sequence[int], offers: Sequence[Candidate], count: int
) -> tuple[Candidate, ...]:
    """Return the readings to take that tell rival suspects apart soonest.

    Each suspect is taken to be the slip by turns: the room without it says what every other reading would then be,
    the suspects themselves read again included.

    Args:
        room: the room.
        outlook: it with all rivals counting, and every other suspect set aside.
        rivals: the rivals' places among the readings that count.
        offers: readings that could be taken.
        count: how many at most.

    Returns:
        Some of the offers, in order.
    """
    counted = room.survey.counted.readings
    held, asked = (seen(readings, outlook) for readings in ([counted[i] for i in rivals], [o.reading for o in offers]))
    spread = asked.rows @ outlook.covariance
    errors = held.residuals + held.rows @ outlook.shift
    left = held.noise - np.einsum("ij,ij->i", held.rows @ outlook.covariance, held.rows)
    judged = left > LEAST_CHECKED * held.noise
    if judged.sum() < 2:
        return ()
    errors, left, pulls = errors[judged], left[judged], (spread @ held.rows.T)[:, judged]
    logs = errors**2 / left / 2
    likely = np.exp(logs - logs.max())
    likely /= likely.sum()
    chosen = telling(
        Rivals(
            likely=likely,
            says=(pulls * (errors / left)).T,
            spread=spread @ asked.rows.T + np.diag(asked.noise) + (pulls * (likely / left)) @ pulls.T,
            costs=np.array([one.minutes for one in offers]),
        ),
        count,
    )
    return tuple(offers[row] for row in chosen)
