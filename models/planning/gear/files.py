"""Kit out of a file and into one: what was understood row by row, and keeping it on another press."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from models.exchange.kit import write_kit
from models.exchange.kit_csv import CsvRow, CsvTable, read_csv, write_csv
from models.light.kit import Kit
from models.planning.gear.fields import KINDS, GearKind
from models.planning.gear.form import form_of, id_for, read_piece
from models.problems import InputProblem, InputProblems
from models.store import kit as kept
from models.store.engine import Store
from models.store.kit import KitEntry
from models.store.types import name_key

State = Literal["new", "changed", "same", "refused"]


@dataclass(frozen=True, slots=True, kw_only=True)
class RowUnderstood:
    """One row of a file. what: by field's label, how it was taken, was it changed, or why it was refused.

    retired: it is off the lists and comes back.
    """

    line: int
    name: str
    state: State
    what: tuple[tuple[str, str], ...]
    retired: bool = False


@dataclass(frozen=True, slots=True)
class KitPreview:
    """What a file holds. mark: changes when the file or the kit it is held against does. problem: of the whole file."""

    kind: str
    answer: str
    rows: tuple[RowUnderstood, ...]
    to_keep: int
    mark: str
    ignored: tuple[str, ...] = ()
    problem: str = ""


@dataclass(frozen=True, slots=True)
class _Taken:
    """A row with the piece it makes (None where refused) and the entry it changes (None where new)."""

    shown: RowUnderstood
    piece: Any = None
    entry: KitEntry[Any] | None = None


class KitMoved(Exception):
    """The kit or the file is not what the preview showed; nothing was kept."""


def csv_of(store: Store, kind: GearKind) -> str:
    """All pieces of one kind in use, as they are kept: metered figures stay with the readings."""
    with store.reading() as s:
        pieces = kept.list_kit(s, kind.piece)
    return write_csv(columns_of(kind), [{"id": piece.id, **form_of(kind, piece)} for piece in pieces])


def toml_of(store: Store) -> str:
    """Everything in use as one file of the demo's own kind."""
    with store.reading() as s:
        return write_kit(Kit(**{kind.name: kept.list_kit(s, kind.piece) for kind in KINDS}))


def columns_of(kind: GearKind) -> tuple[str, ...]:
    return ("id", *(field.name for field in kind.fields))


def preview_csv(store: Store, kind: GearKind, data: bytes) -> KitPreview:
    """What the file holds, row by row; keeps nothing."""
    try:
        table = _table(kind, data)
    except InputProblem as problem:
        return KitPreview(kind.name, f"Nothing can come in: the file {problem.message}", (), 0, "", (), problem.message)
    taken = _taken(store, kind, table)
    return _preview(kind, table, taken)


def import_csv(store: Store, kind: GearKind, data: bytes, mark: str) -> str:
    """Keep what the preview showed but refused rows; says in a sentence what came in. Raises InputProblem, KitMoved."""
    table = _table(kind, data)
    with store.writing() as s:
        taken = _held_against(kind, table, kept.list_entries(s, kind.piece))
        if _preview(kind, table, taken).mark != mark:
            raise KitMoved
        for each in taken:
            if each.shown.state == "new":
                kept.add_kit(s, each.piece)
            elif each.shown.state == "changed" and each.entry:
                kept.change_kit(s, each.entry.version, each.piece)
    counts = _counts([each.shown for each in taken])
    return f"{_many(counts['new'], kind)} added, {counts['changed']} changed."


def _table(kind: GearKind, data: bytes) -> CsvTable:
    return read_csv(data, columns_of(kind), ("name",))


def _taken(store: Store, kind: GearKind, table: CsvTable) -> list[_Taken]:
    with store.reading() as s:
        return _held_against(kind, table, kept.list_entries(s, kind.piece))


def _held_against(kind: GearKind, table: CsvTable, entries: Sequence[KitEntry[Any]]) -> list[_Taken]:
    """Each row against the piece of its id, else of its name. The second row of one piece is refused."""
    by_id = {entry.item.id: entry for entry in entries}
    by_name = {name_key(entry.item.name): entry for entry in entries}
    ids, names, taken = set(by_id), dict[str, int](), list[_Taken]()
    for row in table.rows:
        item_id, key = row.cells.get("id", "").strip(), name_key(row.cells.get("name", ""))
        entry = by_id.get(item_id) if item_id else by_name.get(key)
        mark = f"id {entry.item.id}" if entry else f"id {item_id}" if item_id else f"name {key}"
        if mark in names and key:
            taken.append(_Taken(_refused(row, {"name": f"stands in line {names[mark]} too."}, kind)))
            continue
        names[mark] = row.line
        made = entry.item.id if entry else _own_id(item_id) or id_for(row.cells.get("name", ""), ids)
        one = _one(kind, row, made, entry)
        ids |= {made}
        taken.append(one)
    return taken


def _one(kind: GearKind, row: CsvRow, item_id: str, entry: KitEntry[Any] | None) -> _Taken:
    before = form_of(kind, entry.item) if entry else {}
    try:
        piece = read_piece(kind, before | dict(row.cells), item_id)
    except InputProblems as problems:
        return _Taken(_refused(row, problems.by_field, kind))
    if entry is None:
        what = tuple((field.label, field.words(getattr(piece, field.name))) for field in kind.fields[1:])
        return _Taken(RowUnderstood(line=row.line, name=piece.name, state="new", what=what), piece)
    changes = tuple(
        (field.label, f"{field.words(was)}, now {field.words(now)}")
        for field in kind.fields
        for was, now in ((getattr(entry.item, field.name), getattr(piece, field.name)),)
        if was != now
    )
    state: State = "changed" if changes or entry.retired else "same"
    shown = RowUnderstood(line=row.line, name=piece.name, state=state, what=changes, retired=entry.retired)
    return _Taken(shown, piece, entry)


def _own_id(text: str) -> str:
    """An id of the file's own, as far as it may stand in an address."""
    return text if text and text == id_for(text, ()) else ""


def _refused(row: CsvRow, by_field: Mapping[str, str], kind: GearKind) -> RowUnderstood:
    labels = {field.name: field.label for field in kind.fields}
    what = tuple((labels.get(name, name), message) for name, message in by_field.items())
    name = " ".join(row.cells.get("name", "").split())[:120]
    return RowUnderstood(line=row.line, name=name or "a row without a name", state="refused", what=what)


def _preview(kind: GearKind, table: CsvTable, taken: Sequence[_Taken]) -> KitPreview:
    rows = tuple(each.shown for each in taken)
    counts = _counts(rows)
    held = [(each.entry.version, each.entry.retired) if each.entry else None for each in taken]
    pieces = [each.piece for each in taken]
    mark = hashlib.sha256(repr((kind.name, pieces, held)).encode("utf-8", "surrogatepass")).hexdigest()
    to_keep = counts["new"] + counts["changed"]
    return KitPreview(kind.name, _answer(counts, kind, to_keep), rows, to_keep, mark, table.ignored)


def _counts(rows: Sequence[RowUnderstood]) -> dict[State, int]:
    return {state: sum(row.state == state for row in rows) for state in ("new", "changed", "same", "refused")}


def _answer(counts: Mapping[State, int], kind: GearKind, to_keep: int) -> str:
    parts = [f"{count} {word}" for word, count in counts.items() if count]
    if not parts:
        return "The file holds no rows under its columns."
    end = "Nothing is kept yet." if to_keep else "There is nothing to keep."
    total = sum(counts.values())
    return f"{total} {'row' if total == 1 else 'rows'} of {kind.many}: {', '.join(parts)}. {end}"


def _many(count: int, kind: GearKind) -> str:
    return f"{count} {kind.one if count == 1 else kind.many}"
