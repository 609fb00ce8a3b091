"""`climate:` of brief.yaml -> Climate: twelve months of air, such as `-2 at 84`."""

from __future__ import annotations

import re

from nookwright.basics.lengths import quoted
from nookwright.files.form import Form
from nookwright.stages.inputs.brief import Climate, MonthAir

_AIR = re.compile(r"([-+]?\d{1,3}(?:\.\d{1,2})?)\s*([CF])?\s+at\s+(\d{1,3}(?:\.\d{1,2})?)\s*%?", re.IGNORECASE)
_EXPECTED = "a month's mean warmth and humidity, such as `-2 at 84` or `28 F at 84`"


def read_climate(form: Form | None) -> Climate | None:
    """Return the climate; None when the brief tells none."""
    if form is None:
        return None
    outdoor, indoor = _months(form, "outdoor"), _months(form, "indoor")
    if not form.has("outdoor") and not form.has("indoor"):
        form.desk.note(form.where, "neither", "`outdoor` or `indoor`, twelve months each")
    return Climate(outdoor=outdoor, indoor=indoor, heated_c=form.amount("room"), moisture=form.choice("moisture"))


def _months(form: Form, key: str) -> tuple[MonthAir, ...]:
    """Return twelve months of air; none when the key was left out."""
    if not form.has(key):
        return ()
    found: list[MonthAir] = []
    for typed in form.texts(key):
        match = _AIR.fullmatch(typed.strip())
        if match is None:
            form.note(key, quoted(typed), _EXPECTED)
            continue
        degrees, humidity = float(match[1]), float(match[3])
        celsius = (degrees - 32) / 1.8 if (match[2] or "C").upper() == "F" else degrees
        if not -50 <= celsius <= 50 or not 0 < humidity <= 100:
            form.note(key, quoted(typed), "-50 to 50 C and 1 to 100 % humidity")
        found.append(MonthAir(warmth_c=celsius, humidity_pct=humidity))
    if len(found) != 12:
        form.note(key, f"{len(found)} months", "twelve, from January to December")
    return tuple(found)
