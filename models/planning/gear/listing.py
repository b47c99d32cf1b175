"""The kit page: what is owned, what of it is only printed, and each kind in a table."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from models.light.kit import Flash, Kit
from models.planning.gear.fields import KINDS, GearKind
from models.planning.kit import with_readings
from models.store import kit as kept
from models.store.engine import Store
from models.store.readings import list_readings
from models.words.kit import kit_answer


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of a piece under its heading. known: somebody noted it."""

    label: str
    text: str
    known: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceRow:
    """A piece of kit. note: where its figures come from, loud where only_printed."""

    id: str
    name: str
    figures: tuple[Figure, ...]
    note: str
    only_printed: bool
    version: int


@dataclass(frozen=True, slots=True, kw_only=True)
class KindRows:
    """The pieces of one kind, those in use and those retired."""

    name: str
    one: str
    many: str
    hint: str
    rows: tuple[PieceRow, ...]
    retired: tuple[PieceRow, ...]


@dataclass(frozen=True, slots=True)
class KitPage:
    answer: str
    groups: tuple[KindRows, ...]


def kit_page(store: Store) -> KitPage:
    """All pieces by kind, with what was metered in place of what is printed."""
    with store.reading() as s:
        entries = {kind.name: kept.list_entries(s, kind.piece) for kind in KINDS}
        readings = list_readings(s)
    plain = Kit(**{name: tuple(entry.item for entry in those) for name, those in entries.items()})
    metered = with_readings(plain, plain.flashes, readings)
    groups = tuple(_group(kind, entries[kind.name], getattr(metered, kind.name)) for kind in KINDS)
    return KitPage(_answer(groups), groups)


def _group(kind: GearKind, entries: Sequence[kept.KitEntry[Any]], pieces: Sequence[Any]) -> KindRows:
    rows = [(entry.retired, _row(kind, entry, piece)) for entry, piece in zip(entries, pieces, strict=True)]
    in_use, retired = (tuple(row for gone, row in rows if gone is wanted) for wanted in (False, True))
    return KindRows(name=kind.name, one=kind.one, many=kind.many, hint=kind.hint, rows=in_use, retired=retired)


def _row(kind: GearKind, entry: kept.KitEntry[Any], piece: Any) -> PieceRow:
    listed = (field for field in kind.fields if field.short)
    return PieceRow(
        id=piece.id,
        name=piece.name,
        figures=tuple(
            Figure(field.short, _short(field.name, piece) or field.words(value), value is not None)
            for field in listed
            for value in (getattr(piece, field.name),)
        ),
        note=_note(piece),
        only_printed=isinstance(piece, Flash) and not piece.measured,
        version=entry.version,
    )


def _short(field: str, piece: Any) -> str:
    """The first and the last zoom of a flash are enough for a list."""
    if field != "guide_numbers":
        return ""
    ends = dict.fromkeys((piece.guide_numbers[0], piece.guide_numbers[-1]))
    return " to ".join(f"{number:.3g} m at {zoom:g} mm" for zoom, number in ends)


def _note(piece: Any) -> str:
    note: str = getattr(piece, "guide_note", "") or getattr(piece, "loss_note", "")
    if note or not isinstance(piece, Flash):
        return note
    return "Down as metered outdoors." if piece.measured else "Only printed: taken half a stop low, give or take half."


def _answer(groups: Iterable[KindRows]) -> str:
    by_name = {group.name: group for group in groups}
    counts = [(len(group.rows), group.one, group.many) for group in by_name.values()]
    flashes = by_name["flashes"].rows
    return kit_answer(counts, len(flashes), [row.name for row in flashes if row.only_printed])
