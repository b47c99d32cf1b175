"""The kit as kept, with what was metered in place of what is printed, and the plain one a new database begins with."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, replace
from pathlib import Path
from typing import Any

from sqlalchemy.orm import Session

import sample_locations
from models.exchange.kit import KINDS, read_kit
from models.light.kit import Flash, Kit
from models.light.measuring import FlashReading, metered_flash, metered_modifier
from models.store import kit as kept
from models.store.engine import Store
from models.store.readings import list_readings

STARTER = Path(sample_locations.__file__).parent / "havenmark" / "kit.toml"
"""Plain kit of no brand, most of it as printed: such a guide number is taken half a stop low, and says so."""


def kit_of(store: Store) -> Kit:
    """What the organiser owns, retired pieces left out, with their own readings in place of printed figures."""
    with store.reading() as s:
        pieces: dict[str, Any] = {kind.name: kept.list_kit(s, kind.piece) for kind in KINDS}
        readings = list_readings(s)
        flashes = [entry.item for entry in kept.list_entries(s, Flash)] if readings else []
    return with_readings(Kit(**pieces), flashes, readings)


def with_readings(kit: Kit, flashes: Sequence[Flash], readings: Sequence[FlashReading]) -> Kit:
    """The kit with metered guide numbers and losses. flashes: all that were read, those retired since too."""
    if not readings:
        return kit
    return replace(
        kit,
        flashes=tuple(metered_flash(flash, readings) for flash in kit.flashes),
        modifiers=tuple(metered_modifier(modifier, flashes, readings) for modifier in kit.modifiers),
    )


def begin_with_kit(store: Store) -> None:
    """Put the starter kit into a database that has never held any."""
    with store.reading() as s:
        if kept.has_kit(s):
            return
    with store.writing() as s:
        if not kept.has_kit(s):
            add_kit(s, read_kit(STARTER))


def add_kit(s: Session, kit: Kit) -> None:
    """Every piece, in order. Raises InputProblem where one of its id is there already."""
    for kind in fields(kit):
        for piece in getattr(kit, kind.name):
            kept.add_kit(s, piece)
