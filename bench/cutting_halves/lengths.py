"""Runs the search for lengths of stock on one instance."""

from __future__ import annotations

import time
from typing import Any

from nookwright.solvers.bounds import least_lengths
from nookwright.solvers.pack_lengths import Length, pack_lengths

ROUNDS_A_STEP = 300


def solve_lengths(instance: dict[str, Any], seconds: float) -> tuple[int, int]:
    """Return the number of lengths found, with more rounds as long as the time lasts, and the bound."""
    pieces = [size for size, copies in instance["items"] for _ in range(copies)]
    capacity = instance["capacity"]
    end = time.perf_counter() + seconds
    bound = least_lengths(pieces, capacity)
    rounds = ROUNDS_A_STEP
    while True:
        plan = pack_lengths(pieces, stocks=[Length(size=capacity, price=1)], kerf=0, tries=rounds)
        bound = max(bound, plan.least_cost)
        if plan.cost == bound or time.perf_counter() > end:
            break
        rounds *= 2
    filled = sorted(i for one in plan.filled for i in one.pieces)
    if filled != list(range(len(pieces))) or any(sum(pieces[i] for i in one.pieces) > capacity for one in plan.filled):
        message = f"{instance['name']}: the plan for lengths cannot be cut"
        raise SystemExit(message)
    return len(plan.filled), bound
