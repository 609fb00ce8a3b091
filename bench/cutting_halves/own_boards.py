"""Makes jobs to cut from boards: several lengths at their prices, offcuts, pieces of many widths.

The same number always gives the same job, so that figures can be repeated. Sizes in tenths of a millimetre, prices in
hundredths. Lengths, widths and prices are common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from nookwright.solvers.pack_boards import Board

TRIM = 100
LENGTHS = (18000, 21000, 24000, 27000, 30000, 36000, 39000, 42000, 48000, 51000)
WIDE = ((24000, 27000, 30000, 36000, 42000, 48000), (950, 1200, 1450, 1700, 1950))
STRIPS = (180, 220, 300, 350, 400, 450, 580, 600, 700, 900, 950)


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnBoards:
    """Pieces, kerf, and the boards that can be had; usable lengths, end trim taken off."""

    name: str
    pieces: list[tuple[int, int]]
    boards: list[Board]
    kerf: int


def length_job(number: int, pieces: int | None = None) -> OwnBoards:
    """Return a job of 10 to 60 pieces of full width: 2 to 5 lengths for sale, up to 5 offcuts.

    Args:
        number: which job.
        pieces: how many pieces; by chance when left out.
    """
    chance = Random(number)  # noqa: S311
    kerf = chance.choice([22, 30, 32])
    count = pieces or chance.randint(10, 60)
    kinds = max(3, int(count * chance.uniform(0.3, 0.9)))
    sizes = []
    for _ in range(kinds):
        low, high = chance.choice([(200, 900), (400, 1400), (900, 2300)])
        sizes.append(chance.randint(low, high) * 10 + chance.choice([0, 0, 0, 5]))
    wanted = [*sizes, *(chance.choice(sizes) for _ in range(count - kinds))]
    metre = chance.uniform(250, 600)
    sold = chance.sample(LENGTHS, chance.randint(2, 5))
    if max(sold) < 24200:
        sold.append(30000)
    boards = [
        Board(length=length - TRIM, width=950, price=round(length / 10_000 * metre * chance.uniform(0.9, 1.15)))
        for length in sold
    ]
    boards += [
        Board(length=chance.randint(500, 2000) * 10, width=950, price=0, most=1) for _ in range(chance.randint(0, 5))
    ]
    return OwnBoards(name=f"lengths {number}", pieces=[(size, 950) for size in wanted], boards=boards, kerf=kerf)


def ripped_job(number: int, pieces: int | None = None) -> OwnBoards:
    """Return a job of 10 to 60 pieces of 2 to 5 widths: 2 to 5 sizes of board for sale.

    Args:
        number: which job.
        pieces: how many pieces; by chance when left out.
    """
    chance = Random(number)  # noqa: S311
    count = pieces or chance.randint(10, 60)
    widths = chance.sample(STRIPS, chance.randint(2, 5))
    kinds = max(4, int(count * chance.uniform(0.4, 0.9)))
    sizes = [(chance.randint(250, 2200) * 10, chance.choice(widths)) for _ in range(kinds)]
    wanted = [*sizes, *(chance.choice(sizes) for _ in range(count - kinds))]
    square_metre = chance.uniform(2000, 4000)
    boards = []
    for _ in range(chance.randint(2, 5)):
        length, width = chance.choice(WIDE[0]), chance.choice(WIDE[1])
        price = round(length * width / 1e8 * square_metre * chance.uniform(0.9, 1.15))
        boards.append(Board(length=length - TRIM, width=width, price=price))
    return OwnBoards(name=f"ripped {number}", pieces=wanted, boards=boards, kerf=30)
