"""The kit as kept, and the plain one that a new database begins with."""

from __future__ import annotations

from dataclasses import fields
from pathlib import Path

from sqlalchemy.orm import Session

import sample_locations
from models.exchange.kit import read_kit
from models.light.battery import BatterySet
from models.light.kit import Camera, Flash, Kit, Modifier, Trigger
from models.store import kit as kept
from models.store.engine import Store

STARTER = Path(sample_locations.__file__).parent / "havenmark" / "kit.toml"
"""Plain kit of no brand, nothing of it measured: so each guide number is taken half a stop low, and says so."""


def kit_of(store: Store) -> Kit:
    """What the organiser owns, retired pieces left out."""
    with store.reading() as s:
        return Kit(
            kept.list_kit(s, Flash),
            kept.list_kit(s, Modifier),
            kept.list_kit(s, Camera),
            kept.list_kit(s, Trigger),
            kept.list_kit(s, BatterySet),
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
