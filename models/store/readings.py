"""Readings of flashes: kept with their day, listed, deleted with a way back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

import sqlalchemy as sa
from sqlalchemy.orm import Session

from models.light.kit import Flash, Modifier
from models.light.measuring import FlashReading
from models.problems import InputProblem
from models.store.kit import get_kit
from models.store.types import UtcDateTime, metadata
from models.store.versions import Shelf


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptReading(FlashReading):
    """A reading as kept."""

    id: int
    version: int
    deleted_at: datetime | None = None


flash_readings = sa.Table(
    "flash_readings",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("version", sa.Integer, nullable=False),
    sa.Column("flash_id", sa.Text, sa.ForeignKey("flashes.id"), nullable=False),
    sa.Column("on", sa.Date, nullable=False),
    sa.Column("distance_m", sa.Float, nullable=False),
    sa.Column("aperture", sa.Float, nullable=False),
    sa.Column("iso", sa.Float, nullable=False),
    sa.Column("power", sa.Float, nullable=False),
    sa.Column("zoom_mm", sa.Float),
    sa.Column("modifier_id", sa.Text, sa.ForeignKey("modifiers.id")),
    sa.Column("kind", sa.Text, nullable=False),
    sa.Column("deleted_at", UtcDateTime),
    sa.Index(None, "flash_id"),
    sqlite_autoincrement=True,
)
shelf = Shelf[FlashReading, KeptReading](
    what="reading", table=flash_readings, kept=KeptReading, check=lambda reading: reading
)


def list_readings(s: Session) -> tuple[KeptReading, ...]:
    """All of them, the oldest first."""
    return shelf.list(s, order_by=(flash_readings.c.on, flash_readings.c.id))


def add_reading(s: Session, reading: FlashReading) -> KeptReading:
    """Raises InputProblem where its flash or its modifier is not in the kit."""
    if get_kit(s, Flash, reading.flash_id) is None:
        raise InputProblem("flash_id", f"{reading.flash_id!r} is not in the kit")
    if reading.modifier_id is not None and get_kit(s, Modifier, reading.modifier_id) is None:
        raise InputProblem("modifier_id", f"{reading.modifier_id!r} is not in the kit")
    return shelf.add(s, reading)


def delete_reading(s: Session, reading_id: int, version: int, *, now: datetime | None = None) -> KeptReading:
    """Put aside; `restore_reading` brings it back."""
    return shelf.delete(s, reading_id, version, now=now)


def restore_reading(s: Session, reading_id: int) -> KeptReading:
    return shelf.restore(s, reading_id)
