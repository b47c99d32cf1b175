"""What hangs on what: rules on their area or spot, workshops and enquiries on what they name."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
import sqlalchemy as sa

from models.problems import InputProblem
from models.rules.enquiry import EnquiryDraft
from models.store.rules import (
    add_area,
    add_areas,
    add_enquiry,
    add_paper,
    add_rule,
    add_rules,
    add_workshop,
    area_names,
    change_rule,
    change_workshop,
    count_areas,
    count_workshops,
    delete_area,
    delete_enquiry,
    delete_rule,
    delete_workshop,
    enquiries_for,
    get_rule,
    list_areas,
    list_enquiries,
    list_papers,
    list_rules,
    list_workshops,
    restore_area,
    restore_rule,
    rules_for,
    rules_of_area,
    rules_of_spot,
)
from models.store.rules.tables import areas, enquiries, rules
from models.store.spots import Missing, add_spot, delete_spot, restore_spot
from models.store.spots import shelf as spots_kept
from tests.models.store.rules_drafts import NOON, PAPER, area_draft, rule_draft, workshop_draft

LONG_AGO = NOON - timedelta(days=90)
ASKED_OF_PARK = EnquiryDraft(to_whom="Park office", first_day=date(2026, 11, 7))


@pytest.fixture
def spot(store, foundry_lane):
    with store.writing() as s:
        return add_spot(s, foundry_lane)


@pytest.fixture
def area(store):
    with store.writing() as s:
        return add_area(s, area_draft())


def test_rules_of_areas_and_of_the_spot(store, spot, area):
    with store.writing() as s:
        other = add_area(s, area_draft("Quay"))
        add_rules(s, [rule_draft(area_id=area.id), rule_draft(area_id=other.id), rule_draft(spot_id=spot.id)])
        park, quay, own = list_rules(s)
        assert rules_of_area(s, area.id) == (park,)
        assert rules_of_spot(s, spot.id) == (own,)
        assert rules_for(s, (area.id, other.id), spot.id) == (park, quay, own)
        assert rules_for(s, (other.id,), None) == (quay,)
        assert rules_for(s, (), None) == ()
        assert list_rules(s, limit=1, offset=1) == (quay,)


def test_of_many_rules_the_bad_one_is_named_and_none_is_kept(store, area):
    with store.writing() as s:
        with pytest.raises(InputProblem) as problem:
            add_rules(s, [rule_draft(area_id=area.id), rule_draft(area_id=area.id, activity="busking")])
        assert problem.value.field == "rule 2: activity"
        add_rules(s, [])
        assert list_rules(s) == ()


def test_an_area_put_aside_takes_its_rules_along_and_brings_them_back(store, area):
    with store.writing() as s:
        rule = add_rule(s, rule_draft(area_id=area.id))
        deleted = add_rule(s, rule_draft(area_id=area.id))
        delete_rule(s, deleted.id, 1)
        delete_area(s, area.id, 1)
        assert list_rules(s) == rules_of_area(s, area.id) == ()
        for act in (get_rule, lambda s, number: change_rule(s, number, 1, rule_draft(area_id=area.id))):
            with pytest.raises(Missing):
                act(s, rule.id)
        restore_area(s, area.id)
        assert list_rules(s) == (rule,)
        assert restore_rule(s, deleted.id) in list_rules(s)


def test_a_spot_put_aside_takes_its_rules_along_and_brings_them_back(store, spot):
    with store.writing() as s:
        rule = add_rule(s, rule_draft(spot_id=spot.id))
        delete_spot(s, spot.id, 1)
        assert rules_of_spot(s, spot.id) == ()
        restore_spot(s, spot.id)
        assert rules_of_spot(s, spot.id) == (rule,)


def test_nothing_hangs_on_what_is_not_there(store, spot, area):
    with store.writing() as s:
        delete_area(s, area.id, 1)
        for number in (area.id, 999, 2**31 - 1):
            with pytest.raises(InputProblem, match=f"there is no area {number}"):
                add_rule(s, rule_draft(area_id=number))
        with pytest.raises(InputProblem, match="there is no spot 999"):
            add_workshop(s, workshop_draft(spot.id, fallback_spot_id=999))
        with pytest.raises(InputProblem, match="there is no workshop 999"):
            add_enquiry(s, replace(ASKED_OF_PARK, spot_id=spot.id, workshop_id=999))


def test_a_workshop_can_be_called_off_after_its_spot_was_deleted_but_not_moved_to_it(store, spot, foundry_lane):
    with store.writing() as s:
        other = add_spot(s, foundry_lane)
        workshop = add_workshop(s, workshop_draft(spot.id))
        elsewhere = add_workshop(s, workshop_draft(other.id))
        delete_spot(s, spot.id, 1)
        assert change_workshop(s, workshop.id, 1, workshop_draft(spot.id, called_off=True)).called_off
        with pytest.raises(InputProblem, match="spot_id: there is no spot"):
            change_workshop(s, elsewhere.id, 1, workshop_draft(spot.id))


def test_a_spot_thrown_away_takes_its_rules_along(store, spot, area):
    with store.writing() as s:
        add_rule(s, rule_draft(spot_id=spot.id))
        kept = add_rule(s, rule_draft(area_id=area.id))
        delete_spot(s, spot.id, 1, now=LONG_AGO)
        assert spots_kept.purge(s, now=NOON) == 1
        assert [row.id for row in s.execute(sa.select(rules.c.id))] == [kept.id]


@pytest.mark.parametrize("link", ["spot_id", "fallback_spot_id"])
def test_a_spot_that_a_workshop_names_is_thrown_away_only_after_it(store, spot, foundry_lane, link):
    with store.writing() as s:
        elsewhere = add_spot(s, replace(foundry_lane, name="Elsewhere"))
        named = workshop_draft(elsewhere.id, **{link: spot.id})
        workshop = add_workshop(s, named)
        delete_spot(s, spot.id, 1, now=LONG_AGO)
        assert spots_kept.purge(s, now=NOON) == 0
        delete_workshop(s, workshop.id, 1, now=LONG_AGO)
        assert spots_kept.purge(s, now=NOON) == 0
        other = add_workshop(s, workshop_draft(elsewhere.id))
        delete_workshop(s, other.id, 1, now=NOON)
        assert spots_kept.purge(s, now=NOON) == 1


def test_what_an_enquiry_names_stays_on_record_as_long_as_it(store, spot, area):
    with store.writing() as s:
        of_area, of_spot = (
            add_enquiry(s, replace(ASKED_OF_PARK, **place)) for place in ({"area_id": area.id}, {"spot_id": spot.id})
        )
        add_rule(s, rule_draft(area_id=area.id))
        delete_area(s, area.id, 1, now=LONG_AGO)
        delete_spot(s, spot.id, 1, now=LONG_AGO)
        other = add_area(s, area_draft("Other"))
        delete_area(s, other.id, 1, now=NOON)
        assert spots_kept.purge(s, now=NOON) == 0
        assert enquiries_for(s, (area.id,), spot.id) == (of_area, of_spot)
        assert area_names(s, [area.id, 999]) == {area.id: "Canal park"}
        for enquiry in (of_area, of_spot):
            delete_enquiry(s, enquiry.id, 1, now=LONG_AGO)
        delete_enquiry(s, add_enquiry(s, replace(ASKED_OF_PARK, area_id=add_area(s, area_draft()).id)).id, 1, now=NOON)
        assert spots_kept.purge(s, now=NOON) == 1
        delete_area(s, add_area(s, area_draft("Third")).id, 1, now=NOON)
        assert area_names(s, [area.id]) == {}
        assert s.execute(sa.select(rules.c.id)).all() == []


def test_an_enquiry_outlives_its_workshop(store, spot):
    with store.writing() as s:
        workshop, later = (add_workshop(s, workshop_draft(spot.id)) for _ in range(2))
        enquiry = add_enquiry(s, replace(ASKED_OF_PARK, spot_id=spot.id, workshop_id=workshop.id))
        assert enquiry.workshop_id == workshop.id
        delete_workshop(s, workshop.id, 1, now=LONG_AGO)
        delete_workshop(s, later.id, 1, now=NOON)
        assert list_enquiries(s) == (replace(enquiry, workshop_id=None),)


@pytest.mark.parametrize("table", [enquiries, rules, areas], ids=str)
def test_the_database_itself_keeps_what_is_pointed_to(store, table):
    """No row may point nowhere, whatever the program forgets."""
    links = {key.column.table.name: key.ondelete for key in table.foreign_keys}
    assert (
        links
        == {
            "enquiries": {"areas": "SET NULL", "spots": "SET NULL", "workshops": "SET NULL"},
            "rules": {"areas": "CASCADE", "spots": "CASCADE"},
            "areas": {},
        }[table.name]
    )


def test_the_database_itself_refuses_a_rule_of_two_places_or_none(store, spot, area):
    with store.writing() as s:
        rule = add_rule(s, rule_draft(area_id=area.id))
    for values in ({"spot_id": spot.id}, {"area_id": None}):
        with pytest.raises(sa.exc.IntegrityError, match="ck_rules_one_place"), store.writing() as s:
            s.execute(sa.update(rules).where(rules.c.id == rule.id).values(**values))


def test_areas_are_listed_by_name_a_page_at_a_time(store):
    names = ["élan", "Zoo", "arcade", "  Bank  ", "Äcker", "bank"]
    with store.writing() as s:
        add_areas(s, [area_draft(name) for name in names])
        listed = list_areas(s, limit=None)
        assert [area.name for area in listed] == ["arcade", "Bank", "bank", "Zoo", "Äcker", "élan"]
        assert list_areas(s, limit=2, offset=1) == listed[1:3]
        assert count_areas(s) == len(names)


def test_workshops_in_order_of_their_start_those_to_come_only(store, spot):
    with store.writing() as s:
        late, early, running = (
            add_workshop(
                s, workshop_draft(spot.id, starts=NOON + timedelta(hours=k), ends=NOON + timedelta(hours=k + 2))
            )
            for k in (30, -9, -1)
        )
        assert list_workshops(s) == (early, running, late)
        assert list_workshops(s, from_=NOON) == (running, late)
        assert list_workshops(s, from_=NOON + timedelta(hours=1)) == (running, late)
        assert list_workshops(s, from_=NOON + timedelta(hours=1, seconds=1), limit=5) == (late,)
        assert list_workshops(s, limit=1, offset=1) == (running,)
        assert (count_workshops(s), count_workshops(s, from_=NOON)) == (3, 2)


def test_papers_by_kind_and_title(store):
    with store.writing() as s:
        for kind, title in (
            ("other", "a"),
            ("insurance", "Z"),
            ("grant", "b"),
            ("insurance", "äb"),
            ("insurance", "y"),
        ):
            add_paper(s, replace(PAPER, kind=kind, title=title))
        assert [paper.title for paper in list_papers(s)] == ["y", "Z", "äb", "b", "a"]
