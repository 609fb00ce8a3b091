"""The page docs/validation.md: every published figure beside ours, and what is still only recalled."""

from __future__ import annotations

import math

from nookwright.trade.sources import SOURCES
from nookwright.trade.woods import Figure, wood, wood_keys
from published.formulas import Compared, compared, reason_not_computed
from published.rows import Row, published_rows

INTRO = """# Validation

Published figures on moisture, movement, fasteners, shelf loads, stability and beams, beside what our formulas give. The
figures stand in `tests/published/rows.csv`, what computes ours in `tests/published/computing.py`, `by_hand.py` and `rooms_and_frames.py`, paired in `formulas.py`; `tests/reference` fails
when one of them does not agree, and when one of a formula's numbers or signs is changed. Random beams and frames are held against
finite elements, composite sections against a section package, moist air against an independent program (`bench/strength.py`, `tests/reference`).

Status of a published figure:

- **read**: seen in a copy, an excerpt or a quotation of its source, not in the publisher's own document.
- **computed**: worked out for this table with the source's formula, and agreed by an independent package.
- **recalled**: from memory only. Never quote it as the source's.

A figure agrees when ours rounds to the printed digits. Wider: printed shelf spans (0.75 in, the table rounds either
way), moisture tables (0.06 %), rules of thumb (0.5 %), bearing strength tables (25 psi, they are rounded to 50), the
screw example printed as 109 (cut off, not rounded), movement coefficients (a little over half a unit in the fifth
decimal).

Movement coefficients follow from printed shrinkages, but for white oak, green ash, sweet birch and cedar elm: there the
handbook prints those of a group; the printed ones are used.
"""


def validation_page() -> str:
    """Return the page."""
    rows = published_rows()
    found = [(row, compared(row)) for row in rows]
    lines = [INTRO.rstrip(), "", *_counts(found)]
    for topic in dict.fromkeys(row.topic for row in rows):
        lines += ["", f"## {topic.capitalize()}", "", *_table([pair for pair in found if pair[0].topic == topic])]
    lines += ["", "## Still only recalled", "", *_recalled(rows)]
    return "\n".join(lines) + "\n"


def _counts(found: list[tuple[Row, Compared | None]]) -> list[str]:
    lines = ["| Topic | Figures | Agree | read | computed | recalled | Not computed |", "|---|---|---|---|---|---|---|"]
    for topic in [*dict.fromkeys(row.topic for row, _ in found), "all"]:
        mine = [pair for pair in found if topic in {pair[0].topic, "all"}]
        beside = [(row, each) for row, each in mine if each is not None]
        agree = [row.status for row, each in beside if each.agrees]
        cells = [topic, len(mine), f"{len(agree)} of {len(beside)}"]
        cells += [agree.count(status) for status in ("read", "computed", "recalled")]
        lines.append("| " + " | ".join(str(cell) for cell in [*cells, len(mine) - len(beside)]) + " |")
    return lines


def _table(found: list[tuple[Row, Compared | None]]) -> list[str]:
    lines = [
        "| Figure | From | Ours | Published | Unit | Source | Status | Computed by |",
        "|---|---|---|---|---|---|---|---|",
    ]
    words = []
    for row, each in found:
        source = f"{row.source}, {row.place}" if row.place not in {"", "-"} else row.source
        if each is None:
            printed = " ".join(part for part in (row.inputs, row.value) if part not in {"", "-"})
            words.append(f"- {row.quantity}: {printed} ({source}; {row.status}): {reason_not_computed(row)}.")
            continue
        cells = (
            row.quantity,
            row.inputs,
            _ours(each),
            _printed(each),
            row.unit,
            source,
            row.status,
            f"`{each.formula.by}`",
        )
        lines.append("| " + " | ".join(cell.replace("|", "/") for cell in cells) + " |")
    return [*lines, *(["", "Not computed:", "", *words] if words else [])]


def _printed(each: Compared) -> str:
    """Return what is printed; where the numbers stand among the inputs, or are compared twice, the numbers."""
    return each.row.value if each.row.value != "-" else "; ".join(f"{number:g}" for number in each.printed)


def _ours(each: Compared) -> str:
    """Return our numbers, to one more digit than the slack asks for."""
    return "; ".join(_rounded(mine, slack) for mine, slack in zip(each.ours, each.slack, strict=True))


def _rounded(number: float, slack: float) -> str:
    if slack < 1e-8:
        return f"{number:.6g}"
    decimals = max(0, math.ceil(-math.log10(slack)) + 1)
    return f"{number:.{decimals}f}"


def _recalled(rows: tuple[Row, ...]) -> list[str]:
    lines = ["Published figures above:", ""]
    lines += [
        f"- {row.quantity}{', ' + row.inputs if row.inputs else ''} ({row.source})"
        for row in rows
        if row.status == "recalled"
    ]
    lines += ["", "Figures of woods and boards (`trade/tables/woods.csv`):", ""]
    for key in wood_keys():
        mine = wood(key)
        figures: dict[str, Figure | None] = {
            "stiffness along": mine.along_n_mm2, "stiffness across": mine.across_n_mm2, "strength": mine.strength_n_mm2,
            "creep": mine.creep, "movement, flat-sawn": mine.tangential, "movement, quarter-sawn": mine.radial,
            "gravity for fastenings": mine.gravity,
        }  # fmt: skip
        names = [name for name, figure in figures.items() if figure is not None and figure.status == "recalled"]
        if names:
            lines.append(f"- {mine.name}: {', '.join(names)}")
    lines += ["", "Sources that stand on memory (`trade/sources.py`):", ""]
    return lines + [f"- {source.title}: {source.place}" for source in SOURCES if source.status == "recalled"]
