"""Density, stiffness, strength, creep and movement of each wood and board."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from nookwright.basics.problems import Inspection
from nookwright.basics.sources import SourceStatus
from nookwright.trade._tables import Row, rows, rows_by


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A tabled figure with what it rests on.

    Args:
        value: the figure.
        source: key in `trade/sources.py`.
        status: how it was obtained.
    """

    value: float
    source: str
    status: SourceStatus


@dataclass(frozen=True, slots=True, kw_only=True)
class Wood:
    """What a wood or board is reckoned with.

    Args:
        key: what stock files call it.
        name: what people read.
        solid: solid wood (moves with the seasons) or a board.
        density_kg_m3: at about 12 % moisture. [kg/m3]
        along_n_mm2, across_n_mm2: modulus of elasticity along and across the grain or face grain. [N/mm2]
        strength_n_mm2: modulus of rupture along the grain. [N/mm2]
        modulus_cv: standard deviation of the modulus over its mean; 0 when unknown.
        creep: long-term sag over sag at once.
        tangential, radial: change of width per width and per 1 % moisture; None for boards.
        gravity: specific gravity that fastenings are reckoned with; None when a screw's hold is not tabled.
    """

    key: str
    name: str
    solid: bool
    density_kg_m3: float
    along_n_mm2: Figure
    across_n_mm2: Figure
    strength_n_mm2: Figure
    modulus_cv: float
    creep: Figure
    tangential: Figure | None
    radial: Figure | None
    gravity: Figure | None


def wood_keys() -> tuple[str, ...]:
    """Return the key of every wood in the table, in its order."""
    return tuple(row["key"] for row in rows("woods"))


@cache
def wood(key: str) -> Wood:
    """Return the properties of a wood or board.

    Args:
        key: its key, for example `birch-plywood`.

    Returns:
        Its properties, each with its source.

    Raises:
        InvalidInputError: if the table has no such key.

    Valid:
        Clear wood and sound boards, dry, indoors. A single board's stiffness strays 22 % (one standard deviation).

    Source:
        [wood-handbook], [wood-handbook-recalled], [species-table], [panel-grades],
        [board-figures]: named per figure.
        Creep: [nds-creep], [eurocode-5]. Specific gravity for fastenings: [nds].

    Example:
        >>> wood("white-oak").along_n_mm2.value
        12270.0
    """
    found = rows_by("woods").get(key)
    inspection = Inspection()
    inspection.expect(found is not None, "wood", key, "one of " + ", ".join(wood_keys()))
    inspection.finish()
    assert found is not None  # noqa: S101  the inspection above has raised
    return Wood(
        key=key,
        name=found["name"],
        solid=found["solid"] == "yes",
        density_kg_m3=float(found["density"]),
        along_n_mm2=Figure(value=float(found["along"]), source=found["source"], status=_status(found["status"])),
        across_n_mm2=Figure(
            value=float(found["across"]), source=found["source"], status=_status(found["across_status"])
        ),
        strength_n_mm2=Figure(value=float(found["strength"]), source=found["source"], status=_status(found["status"])),
        modulus_cv=float(found["modulus_cv"]),
        creep=Figure(value=float(found["creep"]), source=found["creep_source"], status=_status(found["creep_status"])),
        tangential=_figure(found, "tangential", "movement"),
        radial=_figure(found, "radial", "movement"),
        gravity=_figure(found, "gravity", "gravity"),
    )


def _figure(row: Row, column: str, cited_by: str) -> Figure | None:
    """Return a figure that a wood may lack."""
    if not row[column]:
        return None
    return Figure(value=float(row[column]), source=row[f"{cited_by}_source"], status=_status(row[f"{cited_by}_status"]))


_STATUSES: dict[str, SourceStatus] = {"read": "read", "recalled": "recalled", "common practice": "common practice"}


def _status(text: str) -> SourceStatus:
    """Return a status as typed in the table."""
    return _STATUSES[text]
