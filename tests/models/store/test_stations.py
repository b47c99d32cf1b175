"""Stations, plans and happenings: kept with their workshop, named apart, one plan each, gone with it."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from models.problems import InputProblem
from models.rules.workshop import WorkshopDraft
from models.store import happenings, plans, rules, stations
from models.store.spots import add_spot
from models.store.versions import Clash, Missing
from models.street.spot import SpotDraft
from models.workshop.happening import HappeningDraft
from models.workshop.plan import BlockEdit, Plan, PlanDraft
from models.workshop.station import MOST_STATIONS, StationDraft

NOW = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)


@pytest.fixture
def workshop(store):
    with store.writing() as s:
        spot = add_spot(s, SpotDraft(name="Lane", latitude_deg=52.5, longitude_deg=5.2, zone="UTC"))
        draft = WorkshopDraft(title="Evening", spot_id=spot.id, starts=NOW, ends=NOW + timedelta(hours=1))
        return rules.add_workshop(s, draft).id


def test_a_station_comes_back_as_it_was_kept(store, workshop):
    draft = StationDraft(
        workshop_id=workshop, name=" A ", model_id=7, place=(52.5, 5.2), looking_deg=360.0, depth_m=1.5, width_m=2.0,
        holders=2, watchers=0, pose_s=8.0, lesson="feather\nthe edge", notes=" by the door ",
    )  # fmt: skip
    with store.writing() as s:
        stations.add_station(s, draft)
        (back,) = stations.stations_of(s, workshop)
    assert (back.name, back.looking_deg, back.lesson, back.notes) == ("A", 0.0, "feather the edge", "by the door")
    assert (back.place, back.depth_m, back.holders, back.watchers, back.model_id) == ((52.5, 5.2), 1.5, 2, 0, 7)


def test_stations_stand_in_order_of_their_names(store, workshop):
    with store.writing() as s:
        for name in ("C", "a", "B"):
            stations.add_station(s, StationDraft(workshop_id=workshop, name=name))
        assert [each.name for each in stations.stations_of(s, workshop)] == ["a", "B", "C"]


def test_a_name_is_given_once_and_there_are_no_more_than_eight(store, workshop):
    with store.writing() as s:
        kept = [stations.add_station(s, StationDraft(workshop_id=workshop, name=c)) for c in "ABCDEFGH"[:MOST_STATIONS]]
        with pytest.raises(InputProblem, match="at most 8"):
            stations.add_station(s, StationDraft(workshop_id=workshop, name="I"))
        with pytest.raises(InputProblem, match="already"):
            stations.change_station(s, kept[1].id, 1, StationDraft(workshop_id=workshop, name="a"))
        stations.change_station(s, kept[0].id, 1, StationDraft(workshop_id=workshop, name="a", lesson="same name"))


def test_a_deleted_station_comes_back_unless_its_name_was_taken(store, workshop):
    with store.writing() as s:
        first = stations.add_station(s, StationDraft(workshop_id=workshop, name="A"))
        stations.shelf.delete(s, first.id, first.version, now=NOW)
        assert stations.stations_of(s, workshop) == ()
        assert stations.restore_station(s, first.id).version == 3
        stations.shelf.delete(s, first.id, 3, now=NOW)
        stations.add_station(s, StationDraft(workshop_id=workshop, name="A"))
        with pytest.raises(InputProblem, match="already"):
            stations.restore_station(s, first.id)


def test_a_station_of_no_workshop_or_no_setup_is_refused(store, workshop):
    with store.writing() as s:
        for field, draft in (
            ("workshop_id", StationDraft(workshop_id=99, name="A")),
            ("setup_id", StationDraft(workshop_id=workshop, name="A", setup_id=99)),
        ):
            with pytest.raises(InputProblem) as problem:
                stations.add_station(s, draft)
            assert problem.value.field == field


def test_a_workshop_without_a_plan_has_the_usual_one_and_keeps_one_only(store, workshop):
    with store.writing() as s:
        usual = plans.plan_of(s, workshop)
        assert (type(usual), usual.workshop_id, usual.group_size, usual.pose_s) == (PlanDraft, workshop, 3, 6.0)
        typed = replace(usual, fallback_ids=(4, 2, 4), blocks=(BlockEdit("meet", 5.0), BlockEdit("walk")), talks=" Bo ")
        kept = plans.keep_plan(s, 0, typed)
        assert (kept.fallback_ids, kept.blocks, kept.talks) == ((4, 2), (BlockEdit("meet", 5.0),), "Bo")
        assert plans.plan_of(s, workshop) == kept
        assert isinstance(kept, Plan)
        with pytest.raises(Clash):
            plans.keep_plan(s, 0, typed)
        assert plans.keep_plan(s, 1, replace(usual, frames=8)).frames == 8
        with pytest.raises(Clash):
            plans.keep_plan(s, 1, typed)
        with pytest.raises(Missing):
            plans.keep_plan(s, 1, PlanDraft(workshop_id=workshop + 1))


def test_happenings_come_in_the_order_of_their_instants(store, workshop):
    with store.writing() as s:
        for minutes, kind, about in ((20, "round done", 1), (0, "not come", 5), (30, "spot lost", None)):
            at = NOW + timedelta(minutes=minutes)
            happenings.shelf.add(s, HappeningDraft(workshop_id=workshop, kind=kind, at=at, about=about))
        found = happenings.happenings_of(s, workshop)
        assert [(each.kind, each.about) for each in found] == [("not come", 5), ("round done", 1), ("spot lost", None)]
        happenings.shelf.delete(s, found[2].id, 1, now=NOW)
        assert len(happenings.happenings_of(s, workshop)) == 2


def test_all_of_it_goes_when_the_workshop_goes_for_good(store, workshop):
    with store.writing() as s:
        stations.add_station(s, StationDraft(workshop_id=workshop, name="A"))
        plans.keep_plan(s, 0, PlanDraft(workshop_id=workshop))
        happenings.shelf.add(s, HappeningDraft(workshop_id=workshop, kind="left", at=NOW, about=1))
        rules.delete_workshop(s, workshop, 1, now=NOW)
        assert stations.stations_of(s, workshop)
        assert happenings.happenings_of(s, workshop)
        rules.workshops.shelf.purge(s, now=NOW + timedelta(days=31))
        assert not stations.stations_of(s, workshop)
        assert not happenings.happenings_of(s, workshop)
        assert isinstance(plans.plan_of(s, workshop), PlanDraft)
        assert not isinstance(plans.plan_of(s, workshop), Plan)
