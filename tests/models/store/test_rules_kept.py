"""Areas, rules, enquiries, papers and workshops alike: what is kept comes back, and no edit is lost."""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import timedelta

import pytest

from models.problems import InputProblem
from models.store.rules import add_area, add_workshop
from models.store.spots import add_spot
from models.store.versions import Clash, Missing
from tests.models.store.rules_drafts import NOON, THINGS, Street, area_draft, workshop_draft


@pytest.fixture
def street(store, foundry_lane):
    with store.writing() as s:
        spot, other = (add_spot(s, replace(foundry_lane, name=name)) for name in ("Foundry Lane", "Mill Lane"))
        area = add_area(s, area_draft("Old town"))
        return Street(spot.id, other.id, area.id, add_workshop(s, workshop_draft(spot.id)).id)


@pytest.fixture(params=THINGS, ids=str)
def thing(request):
    return THINGS[request.param]


@pytest.fixture
def kept(store, street, thing):
    with store.writing() as s:
        return thing.add(s, thing.full(street))


def draft_of(thing, kept):
    return thing.draft(**{each.name: getattr(kept, each.name) for each in fields(thing.draft)})


def test_a_draft_says_all_that_can_be_said(street, thing):
    """So that the next test looks at each field; a rule and an enquiry speak of one place only."""
    full = thing.full(street)
    unsaid = [each.name for each in fields(full) if getattr(full, each.name) == each.default]
    assert unsaid == {"rule": ["spot_id"], "enquiry": ["area_id"]}.get(thing.shelf.what, [])


def test_it_comes_back_with_all_that_was_noted(store, street, thing, kept):
    assert type(kept) is thing.kept
    assert draft_of(thing, kept) == thing.full(street)
    assert kept.version == 1
    with store.reading() as s:
        assert thing.get(s, kept.id) == kept


def test_the_table_has_a_column_for_each_field(thing):
    worked_out = {"name_key", "south", "west", "north", "east"} if thing.shelf.what == "area" else set()
    columns = {column.name for column in thing.shelf.table.c}
    assert columns == {each.name for each in fields(thing.kept)} | {"deleted_at"} | worked_out


def test_a_change_raises_the_version(store, thing, kept):
    with store.writing() as s:
        changed = thing.change_(s, kept.id, 1, replace(draft_of(thing, kept), **thing.change))
    assert changed == replace(kept, version=2, **thing.change)
    with store.reading() as s:
        assert thing.get(s, kept.id) == changed


def test_a_change_with_a_stale_version_clashes_and_hands_over_what_is_kept(store, thing, kept):
    with store.writing() as s:
        theirs = thing.change_(s, kept.id, 1, replace(draft_of(thing, kept), **thing.change))
    with store.writing() as s, pytest.raises(Clash) as clash:
        thing.change_(s, kept.id, 1, draft_of(thing, kept))
    assert (clash.value.current, clash.value.what, clash.value.deleted) == (theirs, thing.shelf.what, False)
    with store.reading() as s:
        assert thing.get(s, kept.id) == theirs


def test_a_bad_draft_is_refused_and_nothing_changes(store, street, thing, kept):
    bad = replace(draft_of(thing, kept), **thing.bad)
    with store.writing() as s:
        before = thing.shelf.count(s)
        for act in (lambda: thing.add(s, bad), lambda: thing.change_(s, kept.id, 1, bad)):
            with pytest.raises(InputProblem, match=next(iter(thing.bad))):
                act()
        assert thing.shelf.count(s) == before
        assert thing.get(s, kept.id) == kept


def test_deleted_it_is_gone_and_comes_back_whole(store, thing, kept):
    with store.writing() as s:
        before = thing.shelf.count(s)
        deleted = thing.delete(s, kept.id, 1, now=NOON)
        assert thing.shelf.count(s) == before - 1
        with pytest.raises(Missing, match=f"no {thing.shelf.what} {kept.id}"):
            thing.get(s, kept.id)
        with pytest.raises(Missing):
            thing.delete(s, kept.id, deleted.version)
        with pytest.raises(Clash) as clash:
            thing.change_(s, kept.id, 1, draft_of(thing, kept))
        assert clash.value.deleted
        back = thing.restore(s, kept.id)
    assert back == replace(kept, version=3)
    with store.reading() as s:
        assert thing.get(s, kept.id) == back


def test_deleting_with_a_stale_version_clashes(store, thing, kept):
    with store.writing() as s:
        thing.change_(s, kept.id, 1, replace(draft_of(thing, kept), **thing.change))
        with pytest.raises(Clash):
            thing.delete(s, kept.id, 1)
        assert thing.get(s, kept.id).version == 2


def test_restoring_what_was_never_deleted_changes_nothing(store, thing, kept):
    with store.writing() as s:
        assert thing.restore(s, kept.id) == kept


def test_thirty_days_after_it_a_deletion_throws_it_away_and_its_number_never_comes_back(store, street, thing, kept):
    with store.writing() as s:
        other, third = (thing.add(s, thing.full(street)) for _ in range(2))
        thing.delete(s, third.id, 1, now=NOON - timedelta(days=30, seconds=1))
        thing.delete(s, kept.id, 1, now=NOON - timedelta(days=30))
        thing.delete(s, other.id, 1, now=NOON)
        with pytest.raises(Missing):
            thing.restore(s, third.id)
        assert thing.restore(s, kept.id).version == 3
        assert thing.add(s, thing.full(street)).id > third.id


@pytest.mark.parametrize("number", [0, -1, 999, 2**31, 2**63, 10**30])
def test_a_number_that_nothing_has_is_missing(store, street, thing, number):
    with store.writing() as s:
        for act in (thing.get, thing.restore):
            with pytest.raises(Missing):
                act(s, number)
        with pytest.raises(Missing):
            thing.delete(s, number, 1)
        with pytest.raises(Missing):
            thing.change_(s, number, 1, thing.full(street))


@pytest.mark.parametrize("version", [0, -1, 2**31 - 1, 2**63, 10**30])
def test_a_version_that_never_was_clashes(store, thing, kept, version):
    with store.writing() as s, pytest.raises(Clash):
        thing.delete(s, kept.id, version)
