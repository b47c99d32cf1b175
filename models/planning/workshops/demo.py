"""How a workshop of the demo town is run, as its plain file holds it: people, stations, plan."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

from sqlalchemy.orm import Session

from models.problems import InputProblem
from models.store import rules as kept
from models.store.people import shelf as people
from models.store.plans import keep_plan
from models.store.setups import setups as table
from models.store.setups import shelf as setups
from models.store.spots import list_spots
from models.store.stations import add_station
from models.workshop.person import PersonDraft
from models.workshop.plan import PlanDraft
from models.workshop.station import StationDraft

RUNNING_FILE = "running.toml"
KEPT_UNTIL = date(2029, 12, 31)
"""Invented people are erased late, so that the workshop can be looked at after its day."""


def fill_running(s: Session, folder: Path) -> None:
    """The workshops, spots and setups that the file names must be there. InputProblem names what is not."""
    workshops = {workshop.title: workshop.id for workshop in kept.list_workshops(s)}
    spots = {spot.name: spot.id for spot in list_spots(s, limit=1000)}
    titles = {setup.title: setup.id for setup in setups.list(s, order_by=(table.c.id,))}
    for entry in tomllib.loads((folder / RUNNING_FILE).read_text("utf-8"))["workshop"]:
        workshop_id = _named("workshop", entry["title"], workshops)
        known = {}
        for person in entry["person"]:
            draft = PersonDraft(workshop_id=workshop_id, erase_after=KEPT_UNTIL, **person)
            known[draft.name] = people.add(s, draft).id
        for station in entry["station"]:
            add_station(s, _station(workshop_id, station, known, titles))
        plan = dict(entry["plan"])
        further = tuple(_named("fallback", name, spots) for name in plan.pop("fallbacks", ()))
        keep_plan(s, 0, PlanDraft(workshop_id=workshop_id, fallback_ids=further, **plan))


def _station(
    workshop_id: int, entry: Mapping[str, Any], people_by_name: Mapping[str, int], titles: Mapping[str, int]
) -> StationDraft:
    rest = {name: value for name, value in entry.items() if name not in ("setup", "model", "place")}
    latitude_deg, longitude_deg = entry["place"]
    return StationDraft(
        workshop_id=workshop_id,
        setup_id=_named("setup", entry["setup"], titles),
        model_id=_named("model", entry["model"], people_by_name),
        place=(latitude_deg, longitude_deg),
        **rest,
    )


def _named(what: str, name: str, known: Mapping[str, int]) -> int:
    if name not in known:
        raise InputProblem(what, f"there is no {what} named {name!r}")
    return known[name]
