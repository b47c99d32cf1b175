"""The organiser's settings: read, shown as text, and changed all at once or not at all."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from models.problems import InputProblem, InputProblems, noted
from models.store.engine import Store
from models.store.settings import SETTINGS, all_settings, get_setting, put_setting

BANDS = ("golden_limits", "blue_limits")
TEXTS = (
    "tiles",
    "geocoder_contact",
    "forecast",
    "forecast_contact",
    "forecast_address",
    "holidays",
    "organiser",
    "organiser_contact",
    "language",
)
MONTHLY = "cloud_by_month"

_BAND = re.compile(
    r"([-−+]?\d+(?:[.,]\d+)?)\s*(?:°|deg)?\s*(?:to|and|\.\.|;|,\s)\s*([-−+]?\d+(?:[.,]\d+)?)\s*(?:°|deg)?$"
)


def read_setting(store: Store, name: str) -> Any:
    """One setting as kept, else its default."""
    with store.reading() as s:
        return get_setting(s, name)


def settings_form(store: Store) -> dict[str, str]:
    """Every setting as the text a form shows; read back it gives the same."""
    with store.reading() as s:
        return {name: _shown(name, value) for name, value in all_settings(s).items()}


def change_settings(store: Store, form: Mapping[str, str]) -> None:
    """Keep the settings named in the form. Raises InputProblems, and then keeps none of them."""
    problems: dict[str, str] = {}
    with store.writing() as s:
        for name in (name for name in SETTINGS if name in form):
            with noted(problems, name):
                put_setting(s, name, _read(name, form[name]))
        if get_setting(s, "forecast") == "on" and not get_setting(s, "forecast_contact"):
            problems.setdefault("forecast_contact", "say how the forecast service can reach you, or leave it off.")
        if problems:
            raise InputProblems(problems)


def _read(name: str, text: str) -> Any:
    typed = text.strip()
    if name in TEXTS:
        return typed or None
    if name in BANDS:
        return _band(name, typed)
    if name == MONTHLY:
        return [_number(name, figure) for figure in re.split(r"[\s;]+", typed) if figure]
    return _number(name, typed)


def _band(name: str, typed: str) -> list[float]:
    found = _BAND.match(typed)
    if not found:
        raise InputProblem(name, f"“{typed}” is not two heights of the sun. Type it like -4 to 6.")
    return [_number(name, found[1]), _number(name, found[2])]


def _number(name: str, typed: str) -> float:
    try:
        return float(typed.replace("−", "-").replace(",", ".").rstrip("°").strip())
    except ValueError:
        raise InputProblem(name, f"“{typed}” is not a number.") from None


def _shown(name: str, value: Any) -> str:
    if value is None:
        return ""
    if name == MONTHLY:
        return " ".join(f"{oktas:g}" for oktas in value)
    if name in BANDS:
        return f"{value[0]:g} to {value[1]:g}".replace("-", "−")
    return value if isinstance(value, str) else f"{value:g}".replace("-", "−")
