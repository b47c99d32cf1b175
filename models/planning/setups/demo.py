"""The demo town's setups, as its plain file holds them: each written as it is typed in the form."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from sqlalchemy.orm import Session

from models.light.kit import Kit
from models.planning.sentence import read_looking
from models.planning.setups.form import read_setup_form
from models.planning.setups.kit import WholeKit
from models.problems import InputProblem
from models.store.setups import SetupDraft, Try, shelf
from models.store.spots import list_spots

SETUPS_FILE = "setups.toml"


def fill_setups(s: Session, folder: Path, kit: Kit) -> None:
    """The spots and the kit that they name must be there. InputProblem names the entry."""
    spots = {spot.name: spot.id for spot in list_spots(s, limit=1000)}
    for draft in read_setups(folder / SETUPS_FILE, kit, spots):
        shelf.add(s, draft)


def read_setups(path: Path, kit: Kit, spots: Mapping[str, int]) -> tuple[SetupDraft, ...]:
    """Raises InputProblem, or InputProblems by field of the form."""
    entries = tomllib.loads(path.read_text(encoding="utf-8"))["setup"]
    return tuple(_draft(entry, WholeKit(kit, frozenset()), spots) for entry in entries)


def _draft(entry: Mapping[str, Any], whole: WholeKit, spots: Mapping[str, int]) -> SetupDraft:
    form = {name: text for name, text in entry.items() if isinstance(text, str)}
    for number, light in enumerate(entry["light"], start=1):
        form |= {f"light_{number}_{name}": text for name, text in light.items()}
    return replace(read_setup_form(form, whole), tries=_tries(entry.get("try", ()), spots))


def _tries(entries: Sequence[Mapping[str, Any]], spots: Mapping[str, int]) -> tuple[Try, ...]:
    unknown = [entry["spot"] for entry in entries if entry["spot"] not in spots]
    if unknown:
        raise InputProblem("spot", f"there is no spot named {unknown[0]!r}")
    return tuple(
        Try(spots[entry["spot"]], entry["on"], entry["at"], entry["sky"], read_looking(entry["looking"]))
        for entry in entries
    )
