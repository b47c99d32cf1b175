"""How long things take, as people type it: '90 s', '2 min', '1:30', '1 min 30 s'; a bare number goes by its field."""

from __future__ import annotations

import re
from typing import Literal

from models.problems import InputProblem

Unit = Literal["s", "min"]
SECONDS: dict[Unit, float] = {"s": 1.0, "min": 60.0}
SAID: dict[Unit, str] = {"s": "90 s or 2 min", "min": "10 min or 90 s"}

_NUMBER = r"[0-9]{1,5}(?:[.,][0-9]{1,3})?"
_BARE = re.compile(rf"({_NUMBER})$")
_CLOCK = re.compile(r"(?P<m>[0-9]{1,4}):(?P<s>[0-5][0-9])$")
_SPELT = re.compile(
    rf"(?:(?P<h>{_NUMBER})\s*h(?:ours?|rs?)?)?\s*(?:(?P<m>{_NUMBER})\s*(?:m(?:in(?:ute)?s?)?|′|'))?\s*"
    rf"(?:(?P<s>{_NUMBER})\s*(?:s(?:ec(?:ond)?s?)?|″|\"))?$"
)


def read_duration(field: str, text: str, unit: Unit) -> float:
    """In that unit. '1:30' is a minute and a half. Raises InputProblem naming the field."""
    typed = text.strip().lower()
    if found := _BARE.match(typed):
        return _number(found[1])
    if found := _CLOCK.match(typed):
        return (int(found["m"]) * 60 + int(found["s"])) / SECONDS[unit]
    found = _SPELT.match(typed)
    if not typed or not found:
        raise InputProblem(field, f"“{text.strip()[:40]}” is not a time. Type it like {SAID[unit]}.")
    hours, minutes, seconds = (_number(found[part] or "0") for part in ("h", "m", "s"))
    return round((hours * 3600 + minutes * 60 + seconds) / SECONDS[unit], 6)


def duration_text(value: float | None, unit: Unit) -> str:
    """'90 s', '10 min', as it may be typed again; empty for None."""
    return "" if value is None else f"{round(value, 3):.10g} {unit}"


def _number(text: str) -> float:
    return float(text.replace(",", "."))
