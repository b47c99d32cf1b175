"""Rules, papers, workshops and enquiries from a TOML file, hung on areas and spots by their names.

[[rule]], [[paper]], [[workshop]] and [[enquiry]] carry the fields of their drafts, but for: `area` and `spot` (names)
in place of an id, `fallback` (a spot's name), `workshop` (a title), weekdays as "Mon" to "Sun", `doing` as a table.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, fields
from datetime import datetime
from pathlib import Path
from typing import Any, TypeVar

from models.exchange.features import short
from models.problems import InputProblem
from models.rules.enquiry import EnquiryDraft
from models.rules.footprint import Doing
from models.rules.papers import PaperDraft
from models.rules.rule import RuleDraft
from models.rules.workshop import WorkshopDraft

T = TypeVar("T", RuleDraft, PaperDraft, WorkshopDraft, EnquiryDraft, Doing)
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
Ids = Mapping[str, int]


@dataclass(frozen=True, slots=True)
class Bylaws:
    """holidays: whose holidays the place keeps. Each enquiry comes with the title of its workshop, or ''."""

    holidays: str
    rules: tuple[RuleDraft, ...]
    papers: tuple[PaperDraft, ...]
    workshops: tuple[WorkshopDraft, ...]
    enquiries: tuple[tuple[EnquiryDraft, str], ...]


def read_bylaws(path: str | Path, *, areas: Ids, spots: Ids) -> Bylaws:
    """areas, spots: ids by name. Raises InputProblem naming the entry, like 'rule 3'."""
    noted = _parsed(path)
    names = {"area": ("area_id", areas), "spot": ("spot_id", spots), "fallback": ("fallback_spot_id", spots)}
    _only(noted, ("holidays", "rule", "paper", "workshop", "enquiry"), "file")
    return Bylaws(
        _text(noted, "holidays"),
        tuple(_draft(label, entry, RuleDraft, names) for label, entry in _entries(noted, "rule")),
        tuple(_draft(label, entry, PaperDraft, names) for label, entry in _entries(noted, "paper")),
        tuple(_draft(label, entry, WorkshopDraft, names) for label, entry in _entries(noted, "workshop")),
        tuple(_enquiry(label, entry, names) for label, entry in _entries(noted, "enquiry")),
    )


def _parsed(path: str | Path) -> dict[str, Any]:
    try:
        return tomllib.loads(Path(path).read_text("utf-8"))
    except OSError as problem:
        raise InputProblem("file", f"cannot be read: {problem.strerror}") from None
    except ValueError as problem:
        raise InputProblem("file", f"is not TOML: {problem}") from None


def _entries(noted: Mapping[str, Any], key: str) -> list[tuple[str, Mapping[str, Any]]]:
    entries = noted.get(key, [])
    if not isinstance(entries, list) or not all(isinstance(entry, Mapping) for entry in entries):
        raise InputProblem(key, f"write [[{key}]] above each")
    return [(f"{key} {number}", entry) for number, entry in enumerate(entries, start=1)]


def _enquiry(label: str, entry: Mapping[str, Any], names: Mapping[str, tuple[str, Ids]]) -> tuple[EnquiryDraft, str]:
    rest = {name: value for name, value in entry.items() if name != "workshop"}
    return _draft(label, rest, EnquiryDraft, names), _text(entry, "workshop")


def _draft(label: str, entry: Mapping[str, Any], kind: type[T], names: Mapping[str, tuple[str, Ids]]) -> T:
    known = {field.name for field in fields(kind)}
    values: dict[str, Any] = {}
    for name, value in entry.items():
        field, ids = names.get(name, (name, None))
        if field not in known or name.endswith("_id"):
            raise InputProblem(label, f"does not know {short(name)}")
        values[field] = _value(label, name, value) if ids is None else _id(label, name, value, ids)
    try:
        return kind(**values)
    except TypeError:
        raise InputProblem(label, "lacks a value that it needs") from None


def _id(label: str, name: str, value: Any, ids: Ids) -> int:
    if not isinstance(value, str) or value not in ids:
        raise InputProblem(label, f"there is no {name} {short(value)}")
    return ids[value]


def _value(label: str, name: str, value: Any) -> Any:
    if name == "doing":
        return _draft(label, _table(label, value), Doing, {})
    if name == "weekdays":
        return tuple(_weekday(label, day) for day in (value if isinstance(value, list) else [value]))
    if isinstance(value, datetime) and value.tzinfo is None:
        raise InputProblem(label, f"{name} needs its zone, like 2027-05-08T18:30:00+02:00")
    return tuple(value) if isinstance(value, list) else value


def _weekday(label: str, day: Any) -> int:
    if day not in WEEKDAYS:
        raise InputProblem(label, f"{short(day)} is no weekday; write {', '.join(WEEKDAYS)}")
    return WEEKDAYS.index(day)


def _table(label: str, value: Any) -> Mapping[str, Any]:
    if not isinstance(value, Mapping):
        raise InputProblem(label, f"{short(value)} is not a table of values")
    return value


def _text(noted: Mapping[str, Any], key: str) -> str:
    value = noted.get(key, "")
    if not isinstance(value, str):
        raise InputProblem(key, f"{short(value)} is not text")
    return value


def _only(noted: Mapping[str, Any], known: tuple[str, ...], label: str) -> None:
    for key in noted:
        if key not in known:
            raise InputProblem(label, f"does not know {short(key)}; it knows {', '.join(known)}")
