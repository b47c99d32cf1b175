"""What a spot's form starts with, and what it understood of the things typed so far."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from models.exchange.zones import zone_at
from models.planning.places import read_place
from models.planning.sentence import bearing_words, read_distance, read_looking
from models.planning.spot_notes import place_words
from models.problems import InputProblem
from models.store.engine import Store
from models.store.settings import get_setting


def new_spot_form(store: Store, place: str) -> dict[str, str]:
    """Sensible values for a new spot at a place, which may be empty or not yet readable."""
    with store.reading() as s:
        turbidity = get_setting(s, "turbidity")
    return {"place": place, "roof": "none", "floor_m": "0", "turbidity": f"{turbidity:g}"}


def understood(form: Mapping[str, str]) -> dict[str, str]:
    """By field, how what was typed is taken; fields that are empty or cannot be read are left out."""
    said: dict[str, str] = {}
    for field, words in _WORDS.items():
        typed = form.get(field, "").strip()
        if not typed:
            continue
        try:
            said[field] = words(typed)
        except InputProblem:
            continue
    return said


def _place(text: str) -> str:
    latitude, longitude = read_place(text)
    return f"{place_words(latitude, longitude)}, time zone {zone_at(latitude, longitude)}"


def _looking(text: str) -> str:
    bearing = read_looking(text)
    return "no bearing chosen" if bearing is None else f"the camera looks {bearing_words(bearing)}"


def _metres(text: str) -> str:
    return f"{read_distance(text):.2f} m"


_WORDS: dict[str, Callable[[str], str]] = {
    "place": _place,
    "looking_deg": _looking,
    "pavement_width_m": _metres,
}
