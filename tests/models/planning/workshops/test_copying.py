"""Last year's again: stations and plan go along; models, happenings and deleted things do not."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from models.planning.rules.workshops import draft_of, get_workshop
from models.planning.setups.keeping import delete_setup
from models.planning.workshops.copying import add_workshop_like
from models.store.happenings import happenings_of
from models.store.happenings import shelf as happenings
from models.store.plans import keep_plan, plan_of
from models.store.stations import stations_of
from models.workshop.happening import HappeningDraft
from models.workshop.plan import BlockEdit, Plan, PlanDraft
from tests.models.planning.workshops.evening import NOW, keep_evening, keep_station


def test_stations_and_plan_go_along_and_nobody_does(plans):
    workshop, setup = keep_evening(plans)
    station = keep_station(plans, workshop, setup_id=setup, model_id=5, depth_m=1.0, lesson="edge")
    with plans.writing() as s:
        keep_plan(
            s, 0, PlanDraft(workshop_id=workshop, talks="Bo", fallback_ids=(77,), blocks=(BlockEdit("meet", 5.0),))
        )
        happenings.add(s, HappeningDraft(workshop_id=workshop, kind="left", at=NOW, about=1))
    draft = draft_of(get_workshop(plans, workshop))
    later = replace(draft, starts=draft.starts + timedelta(days=364), ends=draft.ends + timedelta(days=364))
    copy = add_workshop_like(plans, later, workshop)
    (again,) = _stations(plans, copy.id)
    assert again.id != station.id
    assert (again.name, again.setup_id, again.model_id, again.depth_m, again.lesson) == ("A", setup, None, 1.0, "edge")
    with plans.reading() as s:
        plan = plan_of(s, copy.id)
        assert isinstance(plan, Plan)
        assert (plan.talks, plan.fallback_ids, plan.blocks) == ("Bo", (), (BlockEdit("meet", 5.0),))
        assert happenings_of(s, copy.id) == ()


def test_a_setup_that_was_deleted_is_chosen_anew_and_one_that_is_like_nothing_is_plain(plans):
    workshop, setup = keep_evening(plans)
    keep_station(plans, workshop, setup_id=setup)
    delete_setup(plans, setup, 1, now=NOW)
    draft = draft_of(get_workshop(plans, workshop))
    assert _stations(plans, add_workshop_like(plans, draft, workshop).id)[0].setup_id is None
    for like in (None, 999):
        assert _stations(plans, add_workshop_like(plans, draft, like).id) == ()


def _stations(plans, workshop):
    with plans.reading() as s:
        return stations_of(s, workshop)
