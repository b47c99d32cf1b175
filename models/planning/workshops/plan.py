"""The plan of a workshop: kept with its version, and its page, with what stands open about it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import timedelta

from sqlalchemy.orm import Session

from models.clock import time_words
from models.planning.rules.findings import FallbackShown
from models.planning.rules.what_if import span_words
from models.planning.rules.workshops import footprint_of
from models.planning.street.hazards import same_in_sheet
from models.planning.workshops.fallback import further_spots
from models.planning.workshops.plan_form import plan_form_of, read_plan_form
from models.rules.workshop import Workshop
from models.store import rules as kept
from models.store.engine import Store
from models.store.hazards import sheet_of
from models.store.plans import keep_plan, plan_of
from models.store.spots import Spot
from models.store.spots import shelf as spots
from models.words import plan as words
from models.words.rules import STANDING_NOTE
from models.words.said import Said
from models.workshop.plan import Plan, PlanDraft


@dataclass(frozen=True, slots=True)
class PlanPage:
    """version: 0 where none is kept yet and all is as usual. form: as its form shows it. further: the workshop's first
    fallback and those of the plan, in order. missing: what nobody filled in yet."""

    workshop: Workshop
    spot: Spot
    when: str
    answer: Said
    version: int
    plan: PlanDraft
    form: Mapping[str, str]
    further: tuple[FallbackShown, ...]
    decide_at: str
    missing: tuple[str, ...]
    standing_note: str = STANDING_NOTE


def plan_page(store: Store, workshop_id: int) -> PlanPage:
    """Raises Missing."""
    with store.reading() as s:
        workshop = kept.get_workshop(s, workshop_id)
        spot = spots.find(s, workshop.spot_id)[0]
        plan = _with_ambulance(s, plan_of(s, workshop_id))
        further = tuple(shown for _, shown in further_spots(s, workshop, spot, plan))
    decide_at = time_words(workshop.starts - timedelta(minutes=plan.decide_min), spot.zone)
    missing = words.missing_of(plan, has_fallback=bool(further))
    return PlanPage(
        workshop=workshop,
        spot=spot,
        when=span_words(footprint_of(workshop, spot.zone), spot.zone),
        answer=words.plan_answer(plan, decide_at, missing),
        version=plan.version if isinstance(plan, Plan) else 0,
        plan=plan,
        form=plan_form_of(store, plan),
        further=further,
        decide_at=decide_at,
        missing=missing,
    )


def change_plan(store: Store, workshop_id: int, version: int, form: Mapping[str, str]) -> Plan:
    """version: 0 where none was kept yet. Raises Clash where somebody was faster, Missing, InputProblems."""
    with store.reading() as s:
        workshop, before = kept.get_workshop(s, workshop_id), plan_of(s, workshop_id)
    draft = read_plan_form(store, before, form, workshop.spot_id)
    with store.writing() as s:
        plan = keep_plan(s, version, draft)
        same_in_sheet(s, workshop_id, plan.ambulance)
        return plan


def _with_ambulance(s: Session, plan: PlanDraft) -> PlanDraft:
    """The address of the hazards sheet where the plan has none: nobody types it twice."""
    sheet = None if plan.ambulance else sheet_of(s, plan.workshop_id)
    return replace(plan, ambulance=sheet.ambulance_address) if sheet else plan
