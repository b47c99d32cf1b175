"""The kit: what can be chosen for a setup, in the order it was added. Retired kit stays on record, off the lists."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any, Generic, TypeVar

import sqlalchemy as sa
from sqlalchemy.orm import Session

from models.light.accessories import Filter, Gel, HeatRow, Stand
from models.light.battery import BatterySet
from models.light.kit import Camera, Flash, Modifier, Trigger
from models.problems import InputProblem
from models.store.types import NestedTuple, TupleAsJson, metadata
from models.street.spot import readable

AnyItem = Flash | Modifier | Camera | Trigger | BatterySet | Gel | Filter | Stand
Item = TypeVar("Item", bound=AnyItem)


@dataclass(frozen=True, slots=True)
class KitEntry(Generic[Item]):
    """A piece of kit as kept; hand `version` back with a change."""

    item: Item
    version: int
    retired: bool


class KitClash(Exception):
    """Somebody changed the piece in between; `current` is what is kept now."""

    def __init__(self, current: KitEntry[Any]) -> None:
        super().__init__(f"{current.item.id} is at version {current.version} by now")
        self.current = current


def _table(name: str, *columns: sa.Column[Any]) -> sa.Table:
    return sa.Table(
        name,
        metadata,
        sa.Column("number", sa.Integer, primary_key=True),
        sa.Column("id", sa.Text, nullable=False, unique=True),
        sa.Column("name", sa.Text, nullable=False),
        *columns,
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("retired", sa.Boolean, nullable=False),
    )


TABLES: dict[type, sa.Table] = {
    Flash: _table(
        "flashes",
        sa.Column("guide_numbers", NestedTuple, nullable=False),
        sa.Column("measured", sa.Boolean, nullable=False),
        sa.Column("lowest_power", sa.Float, nullable=False),
        sa.Column("recycle_full_s", sa.Float, nullable=False),
        sa.Column("clean_sync_s", sa.Float, nullable=False),
        sa.Column("hss_loss_stops", sa.Float),
        sa.Column("beam_note", sa.Text, nullable=False),
        sa.Column("heat", TupleAsJson(HeatRow), nullable=False),
        sa.Column("rungs_per_stop", sa.Integer, nullable=False),
    ),
    Modifier: _table(
        "modifiers",
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("loss_stops", sa.Float, nullable=False),
        sa.Column("measured_zoom_mm", sa.Float),
        sa.Column("beam_deg", sa.Float),
        sa.Column("face_m", NestedTuple),
        sa.Column("weight_kg", sa.Float),
    ),
    Camera: _table(
        "cameras",
        sa.Column("sync_s", sa.Float, nullable=False),
        sa.Column("base_iso", sa.Integer, nullable=False),
        sa.Column("min_shutter_s", sa.Float, nullable=False),
        sa.Column("widest_aperture", sa.Float, nullable=False),
        sa.Column("smallest_aperture", sa.Float, nullable=False),
        sa.Column("highest_iso", sa.Integer, nullable=False),
    ),
    Trigger: _table(
        "triggers",
        sa.Column("sync_s", sa.Float, nullable=False),
        sa.Column("passes_hss", sa.Boolean, nullable=False),
        sa.Column("channels", sa.Integer),
    ),
    BatterySet: _table(
        "battery_sets",
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("full_flashes", sa.Integer, nullable=False),
        sa.Column("recycle_factor", sa.Float, nullable=False),
    ),
    Gel: _table(
        "gels",
        sa.Column("loss_stops", sa.Float, nullable=False),
        sa.Column("shift_mired", sa.Float, nullable=False),
    ),
    Filter: _table("filters", sa.Column("stops", sa.Float, nullable=False)),
    Stand: _table(
        "stands",
        sa.Column("highest_m", sa.Float, nullable=False),
        sa.Column("across_m", sa.Float, nullable=False),
        sa.Column("weight_kg", sa.Float, nullable=False),
    ),
}


def list_kit(s: Session, kind: type[Item]) -> tuple[Item, ...]:
    """The pieces of one kind, retired ones left out."""
    return tuple(entry.item for entry in list_entries(s, kind) if not entry.retired)


def list_entries(s: Session, kind: type[Item]) -> tuple[KitEntry[Item], ...]:
    """The pieces of one kind with their versions, retired ones too."""
    table = TABLES[kind]
    rows = s.execute(sa.select(table).order_by(table.c.number))
    return tuple(KitEntry(_item(kind, row), row.version, row.retired) for row in rows)


def add_kit(s: Session, item: AnyItem) -> None:
    """Raises InputProblem where one of its id is there already."""
    table = TABLES[type(item)]
    if get_kit(s, type(item), item.id) is not None:
        raise InputProblem("id", f"{item.id!r} is in the kit already")
    s.execute(sa.insert(table).values(version=1, retired=False, **_columns(item)))


def get_kit(s: Session, kind: type[Item], item_id: str) -> KitEntry[Item] | None:
    """One piece with its version, retired or not."""
    table = TABLES[kind]
    row = s.execute(sa.select(table).where(table.c.id == item_id)).one_or_none()
    return None if row is None else KitEntry(_item(kind, row), row.version, row.retired)


def change_kit(s: Session, version: int, item: Item, *, retired: bool = False) -> KitEntry[Item]:
    """The piece of this id as given, and retired or brought back; KitClash if it is no longer at this version."""
    table = TABLES[type(item)]
    query = sa.update(table).where(table.c.id == item.id, table.c.version == version)
    values = _columns(item) | {"version": version + 1, "retired": retired}
    changed = s.execute(query.values(values).returning(table.c.number)).one_or_none()
    entry = get_kit(s, type(item), item.id)
    if entry is None:
        raise InputProblem("id", f"{item.id!r} is not in the kit")
    if changed is None:
        raise KitClash(entry)
    return entry


def has_kit(s: Session) -> bool:
    """Whether any piece is on record, retired or not."""
    return any(s.execute(sa.select(table.c.number).limit(1)).first() for table in TABLES.values())


def _columns(item: AnyItem) -> dict[str, Any]:
    columns = {field.name: getattr(item, field.name) for field in fields(item)}
    for name in ("id", "name"):
        if not readable(name, columns[name]).strip():
            raise InputProblem(name, "is empty")
    return columns


def _item(kind: type[Item], row: sa.Row[Any]) -> Item:
    return kind(**{field.name: row._mapping[field.name] for field in fields(kind)})
