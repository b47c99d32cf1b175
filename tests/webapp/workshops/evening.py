"""A workshop as its form is sent, and what a form holds."""

from __future__ import annotations

import re
from html import unescape

from models.store import rules as kept

FORM = {
    "title": "Evening light", "spot": "Foundry Lane", "day": "31 Oct", "from_time": "17.00", "to_time": "18:30",
    "group": "9", "models": "1", "teaching": "yes", "stand_ground": "2", "stand_held": "0", "tripod": "0",
    "flash_held": "1", "obstruction": "no", "cable": "no", "vehicle": "no", "signs": "no", "filming": "no",
    "width_left": "1.8 m", "meeting_point": "", "fallback": "Ferry quay",
}  # fmt: skip


def only(store):
    with store.reading() as s:
        (workshop,) = kept.list_workshops(s)
    return workshop


def fields_of(page: str) -> dict[str, str]:
    """What a form holds, by name."""
    typed = dict(re.findall(r'<input id="\w+" name="(\w+)"[^>]*? value="([^"]*)"', page))
    chosen = re.findall(r'<select id="\w+" name="(\w+)".*?</select>', page, re.DOTALL)
    for name in chosen:
        part = re.search(rf'<select id="\w+" name="{name}".*?</select>', page, re.DOTALL)[0]
        found = re.search(r'<option value="([^"]*)" selected', part)
        typed[name] = found[1] if found else re.search(r'<option value="([^"]*)"', part)[1]
    return {name: unescape(text) for name, text in typed.items()}
