"""Keeping, changing, retiring and bringing back pieces of kit."""

from __future__ import annotations

from typing import Any

from models.planning.gear.fields import BY_NAME, GearKind
from models.planning.gear.form import id_for
from models.store import kit as kept
from models.store.engine import Store
from models.store.kit import KitClash, KitEntry
from models.store.versions import Missing

__all__ = ["KitClash", "add_piece", "bring_back", "change_piece", "get_piece", "kind_called", "new_id", "retire"]


def kind_called(name: str) -> GearKind:
    """Raises Missing."""
    if name not in BY_NAME:
        raise Missing(name, "kind of kit")
    return BY_NAME[name]


def get_piece(store: Store, kind: GearKind, item_id: str) -> KitEntry[Any]:
    """Retired or not. Raises Missing."""
    with store.reading() as s:
        entry = kept.get_kit(s, kind.piece, item_id)
    if entry is None:
        raise Missing(item_id, kind.one)
    return entry


def new_id(store: Store, kind: GearKind, name: str) -> str:
    with store.reading() as s:
        return id_for(name, {entry.item.id for entry in kept.list_entries(s, kind.piece)})


def add_piece(store: Store, piece: Any) -> None:
    """Raises InputProblem where somebody added one of its id in between."""
    with store.writing() as s:
        kept.add_kit(s, piece)


def change_piece(store: Store, version: int, piece: Any, *, retired: bool) -> KitEntry[Any]:
    """Raises KitClash where somebody changed it in between."""
    with store.writing() as s:
        return kept.change_kit(s, version, piece, retired=retired)


def retire(store: Store, kind: GearKind, item_id: str, version: int) -> KitEntry[Any]:
    """Off the lists, still on record. Raises KitClash, Missing."""
    return change_piece(store, version, get_piece(store, kind, item_id).item, retired=True)


def bring_back(store: Store, kind: GearKind, item_id: str) -> KitEntry[Any]:
    """As it was when it was retired; what is not retired stays as it is. Raises Missing."""
    entry = get_piece(store, kind, item_id)
    return change_piece(store, entry.version, entry.item, retired=False) if entry.retired else entry
