"""The same workshop again: with its stations and its plan; nobody who came, nothing that happened, nothing granted."""

from __future__ import annotations

from dataclasses import replace

from sqlalchemy.orm import Session

from models.rules.workshop import Workshop, WorkshopDraft
from models.store import rules as kept
from models.store import stations
from models.store.engine import Store
from models.store.plans import keep_plan, plan_of
from models.store.setups import shelf as setups
from models.store.spots import shelf as spots
from models.store.versions import Missing, drafted
from models.workshop.plan import Plan, PlanDraft
from models.workshop.station import StationDraft


def add_workshop_like(store: Store, draft: WorkshopDraft, like: int | None) -> Workshop:
    """Keep the workshop, with stations and plan of that one where there is one of this number; models are to be chosen
    anew. Setups and spots that were deleted meanwhile are left out. Raises InputProblem."""
    with store.writing() as s:
        workshop = kept.add_workshop(s, draft)
        if like is None:
            return workshop
        try:
            kept.get_workshop(s, like)
        except Missing:
            return workshop
        there = stations.stations_of(s, like)
        for station in there:
            setup_id = station.setup_id
            if setup_id is not None and not setups.find(s, setup_id)[1]:
                setup_id = None
            again = drafted(StationDraft, station)
            stations.add_station(s, replace(again, workshop_id=workshop.id, model_id=None, setup_id=setup_id))
        plan = plan_of(s, like)
        if isinstance(plan, Plan):
            further = tuple(number for number in plan.fallback_ids if _goes(s, number) and number != draft.spot_id)
            keep_plan(s, 0, replace(drafted(PlanDraft, plan), workshop_id=workshop.id, fallback_ids=further))
        return workshop


def _goes(s: Session, number: int) -> bool:
    try:
        return spots.find(s, number)[1]
    except Missing:
        return False
