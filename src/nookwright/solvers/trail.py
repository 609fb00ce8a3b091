"""Where the last steps of an iteration lead: Anderson mixing."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from nookwright.solvers.linear_fit import Vector

_KEPT = 5
_SLOW = 0.3  # steps that shrink by less than this from one to the next close in slowly
_LAST_DIGITS = 1e-10


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Trail:
    """The last places an iteration stood at, and the steps it would have taken from them.

    Args:
        places, steps: the last few, oldest first.
        scale: what a unit of each unknown weighs.
    """

    places: tuple[Vector, ...] = ()
    steps: tuple[Vector, ...] = ()
    scale: Vector | None = None

    def longer(self, place: Vector, step: Vector, scale: Vector) -> Trail:
        """Return the trail with one place more."""
        return Trail(places=(*self.places, place)[-_KEPT:], steps=(*self.steps, step)[-_KEPT:], scale=scale)

    def step(self) -> Vector | None:
        """Return the step to where the computed steps would vanish, were they linear in the place.

        Returns:
            The step from the last place; None while the steps shrink fast by themselves, or are too few to tell.

        Source:
            Anderson, Journal of the ACM 12 (1965), iterative procedures for nonlinear integral equations.
            Status: recalled.
        """
        if len(self.steps) < 2 or self.scale is None:
            return None
        sizes = [float(np.linalg.norm(step * self.scale)) for step in self.steps[-2:]]
        if sizes[1] <= _SLOW * sizes[0]:
            return None
        steps, places = np.array(self.steps), np.array(self.places)
        turned, gone = np.diff(steps, axis=0), np.diff(places, axis=0)
        shares, *_ = np.linalg.lstsq((turned * self.scale).T, steps[-1] * self.scale, rcond=_LAST_DIGITS)
        led: Vector = steps[-1] - shares @ (turned + gone)
        return led
