"""The evening of evening.py with stations, people, a fallback and a plan, so that it can be run."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from models.planning.rules.workshops import draft_of
from models.planning.workshops.day import add_happenings
from models.store import rules
from models.store.engine import Store
from models.store.people import shelf as people
from models.store.plans import keep_plan
from models.store.spots import add_spot
from models.street.spot import SpotDraft
from models.workshop.happening import Happening, HappeningDraft
from models.workshop.person import PersonDraft
from models.workshop.plan import PlanDraft
from tests.models.planning.workshops.evening import NOW, STARTS, ZONE, keep_evening, keep_station

NAMES = ("Ana", "Bo", "Cem", "Dov", "Eli", "Fay", "Gus", "Hal", "Ida")
QUAY = SpotDraft(name="Quay", latitude_deg=52.5288, longitude_deg=5.2275, zone=ZONE, controller="Harbour office")


def keep_running(
    store: Store,
    *,
    attendees: int = 6,
    stations: str = "AB",
    models: int = 0,
    helpers: int = 0,
    fallback: bool = False,
    holders: int | None = None,
    **plan: object,
) -> int:
    """Number of the workshop. models stand at the first stations; attendees are called as NAMES, then by number."""
    workshop_id, setup_id = keep_evening(store)
    here = [add_part(store, workshop_id, "model", f"Sitter {k}") for k in range(1, models + 1)]
    for k in range(attendees):
        add_part(store, workshop_id, "attendee", NAMES[k] if k < len(NAMES) else f"Person {k + 1:02}")
    for k in range(helpers):
        add_part(store, workshop_id, "helper", f"Aide {k + 1}")
    for k, name in enumerate(stations):
        model = here[k] if k < len(here) else None
        keep_station(store, workshop_id, name=name, setup_id=setup_id, model_id=model, holders=holders)
    with store.writing() as s:
        if fallback:
            other = add_spot(s, QUAY)
            workshop = rules.get_workshop(s, workshop_id)
            rules.change_workshop(s, workshop_id, 1, replace(draft_of(workshop), fallback_spot_id=other.id))
        if plan:
            keep_plan(s, 0, PlanDraft(workshop_id=workshop_id, **plan))
    return workshop_id


def add_part(store: Store, workshop_id: int, part: str, name: str) -> int:
    with store.writing() as s:
        return people.add(s, PersonDraft(workshop_id=workshop_id, part=part, name=name)).id


def happening(
    workshop_id: int, kind: str, about: int | None = None, round_: int = 1, turn: int = 1, at: datetime = STARTS
):
    return HappeningDraft(workshop_id=workshop_id, kind=kind, at=at, about=about, round=round_, turn=turn)


def form(kind: str, *about: int, **typed: str) -> dict[str, list[str]]:
    """As a page of the day sends it."""
    return {"kind": [kind], "about": [str(each) for each in about], **{name: [text] for name, text in typed.items()}}


def keep(store: Store, *happened: HappeningDraft) -> list[Happening]:
    return [add_happenings(store, [each], NOW)[0] for each in happened]
