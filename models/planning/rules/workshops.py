"""Workshops as far as rules go: kept, changed, called off, put aside and brought back."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from models.clock import to_local
from models.planning.workshops.past import must_keep_people
from models.problems import InputProblems, noted
from models.rules.footprint import Footprint
from models.rules.workshop import Workshop, WorkshopDraft
from models.store import rules as kept
from models.store.engine import Store
from models.store.spots import Spot
from models.store.spots import shelf as spots
from models.store.versions import drafted


def get_workshop(store: Store, workshop_id: int) -> Workshop:
    """Raises Missing."""
    with store.reading() as s:
        return kept.get_workshop(s, workshop_id)


def spot_of(store: Store, workshop: WorkshopDraft) -> Spot:
    """Its spot, even where that was deleted meanwhile."""
    with store.reading() as s:
        return spots.find(s, workshop.spot_id)[0]


def add_workshop(store: Store, draft: WorkshopDraft) -> Workshop:
    with store.writing() as s:
        return kept.add_workshop(s, draft)


def change_workshop(
    store: Store, workshop_id: int, version: int, draft: WorkshopDraft, now: datetime | None = None
) -> Workshop:
    """Whether it is called off stays as it is. now: then no new day may make its people due for erasing.

    Raises Clash where somebody changed it in between, Missing, InputProblems.
    """
    with store.writing() as s:
        before = kept.get_workshop(s, workshop_id)
        problems: dict[str, str] = {}
        if now is not None and before.version == version:
            with noted(problems, "day"):
                must_keep_people(s, before, draft, spots.find(s, draft.spot_id)[0].zone, now, "day")
        if problems:
            raise InputProblems(problems)
        return kept.change_workshop(s, workshop_id, version, replace(draft, called_off=before.called_off))


def call_off(store: Store, workshop_id: int, version: int, *, called_off: bool) -> Workshop:
    """Call it off, or on again. Raises Clash, Missing."""
    with store.writing() as s:
        draft = draft_of(kept.get_workshop(s, workshop_id))
        return kept.change_workshop(s, workshop_id, version, replace(draft, called_off=called_off))


def delete_workshop(store: Store, workshop_id: int, version: int, *, now: datetime) -> Workshop:
    """Put aside, with a way back. Raises Clash, Missing."""
    with store.writing() as s:
        return kept.delete_workshop(s, workshop_id, version, now=now)


def restore_workshop(store: Store, workshop_id: int) -> Workshop:
    with store.writing() as s:
        return kept.restore_workshop(s, workshop_id)


def draft_of(workshop: Workshop) -> WorkshopDraft:
    return drafted(WorkshopDraft, workshop)


def footprint_of(workshop: WorkshopDraft, zone: str) -> Footprint:
    """What it does where, in the local time of its spot."""
    return Footprint(
        starts=to_local(workshop.starts, zone),
        ends=to_local(workshop.ends, zone),
        doing=workshop.doing,
        width_left_m=workshop.width_left_m,
    )
