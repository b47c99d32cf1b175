"""How a workshop is run, in a few lines for its own page: its stations, where it meets, where it goes instead."""

from __future__ import annotations

from sqlalchemy.orm import Session

from models.store.plans import plan_of
from models.store.spots import shelf as spots
from models.store.stations import stations_of
from models.words.plan import plan_facts


def summary_of(s: Session, workshop_id: int) -> tuple[tuple[str, str], ...]:
    """(what, in words); what nobody filled in says so."""
    plan = plan_of(s, workshop_id)
    there = spots.these(s, plan.fallback_ids)
    further = [there[number].name for number in plan.fallback_ids if number in there]
    return plan_facts(plan, [station.name for station in stations_of(s, workshop_id)], further)
