"""The facts of a briefing as plain values for JSON, and back: what was told at an issue must read the same for good."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, fields
from datetime import datetime
from typing import Any

from models.clock import require_aware
from models.workshop.briefing import Facts, Place, StationTold, TimedBlock

INSTANTS = ("starts", "ends", "decide_by")
PLACES = ("spot", "meeting", "fallback")
TEXTS = (
    "bring", "carry", "charge", "hazards", "leaf", "wear", "bring_models", "kit", "cells", "rests", "cautions",
    "redials",
)  # fmt: skip


def facts_to_plain(facts: Facts) -> dict[str, Any]:
    """Instants in ISO 8601, everything else as JSON has it."""
    plain = asdict(facts)
    for holder in (plain, *plain["blocks"]):
        for name in INSTANTS:
            if holder.get(name) is not None:
                holder[name] = holder[name].isoformat()
    return plain


def facts_from_plain(plain: Mapping[str, Any]) -> Facts:
    """What a later shape has more is as usual there; what it has no more is left out."""
    known = {field.name for field in fields(Facts)}
    values: dict[str, Any] = {name: value for name, value in plain.items() if name in known}
    values |= {name: _instant(values[name]) for name in INSTANTS if values.get(name) is not None}
    values |= {name: Place(**values[name]) for name in PLACES if values.get(name) is not None}
    values |= {name: tuple(values[name]) for name in TEXTS if name in values}
    values["blocks"] = tuple(_block(each) for each in values["blocks"])
    values["stations"] = tuple(_station(each) for each in values["stations"])
    values["enquiries"] = tuple(tuple(each) for each in values["enquiries"])
    return Facts(**values)


def _block(plain: Mapping[str, Any]) -> TimedBlock:
    return TimedBlock(**{**plain, "starts": _instant(plain["starts"]), "ends": _instant(plain["ends"])})


def _station(plain: Mapping[str, Any]) -> StationTold:
    place = None if plain["place"] is None else Place(**plain["place"])
    return StationTold(**{**plain, "powers": tuple(plain["powers"]), "place": place})


def _instant(text: str) -> datetime:
    return require_aware(datetime.fromisoformat(text))
