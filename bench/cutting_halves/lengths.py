"""Runs the search for lengths of stock on one instance and checks what it found."""

from __future__ import annotations

import time
from typing import Any

from nookwright.solvers.guillotine import length_faults
from nookwright.solvers.pack_lengths import Length, LengthsPlan, lengths_plans


def solve_lengths(instance: dict[str, Any], seconds: float) -> tuple[int, int]:
    """Return the number of lengths found within the time, counted by the checker, and the bound.

    The time is that of the processor, so that a busy machine does not change what is found.
    """
    pieces = [size for size, copies in instance["items"] for _ in range(copies)]
    capacity = instance["capacity"]
    end = time.process_time() + seconds
    best = LengthsPlan(filled=(), cost=0, least_cost=0)
    stock = Length(size=capacity, price=1)
    for plan in lengths_plans(pieces, stocks=[stock], kerf=0, time_left=lambda: end - time.process_time()):
        best = plan
    return checked(instance["name"], pieces, capacity, best), best.least_cost


def checked(name: str, pieces: list[int], capacity: int, plan: LengthsPlan) -> int:
    """Return how many lengths a plan really uses; end the run if it cannot be cut."""
    faults: list[str] = []
    for one in plan.filled:
        at, run = 0, []
        for i in one.pieces:
            run.append((str(i), at, pieces[i]))
            at += pieces[i]
        faults += length_faults({str(i): pieces[i] for i in one.pieces}, run, length=capacity, end_trim=0, kerf=0)
    if sorted(i for one in plan.filled for i in one.pieces) != list(range(len(pieces))):
        faults.append("not every piece is cut once")
    if faults:
        message = f"{name}: the plan for lengths cannot be cut: " + "; ".join(faults)
        raise SystemExit(message)
    return len(plan.filled)
