"""People and releases as kept: with their workshop, apart from each other, and gone from the file once erased."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
import sqlalchemy as sa

from models.problems import InputProblem
from models.rules.workshop import WorkshopDraft
from models.store import rules
from models.store.engine import Store, open_store, upgrade
from models.store.erasing import clean, is_unclean, last_erasure, note_erasure
from models.store.people import (
    erase_people,
    erase_releases,
    lapsed_releases,
    people_by_workshop,
    people_of,
    personal_rows,
    put_aside,
    release_shelf,
    releases_by_person,
    shelf,
)
from models.store.spots import add_spot
from models.street.spot import SpotDraft
from models.workshop.person import PersonDraft, ReleaseDraft

NOW = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)
TODAY = NOW.date()
PAPER = {"signed_on": TODAY, "by_whom": "Rosa L.", "for_whom": "Mia L.", "uses": ("web", "sale")}


@pytest.fixture
def workshop(store):
    return add_workshop(store)


def add_workshop(store: Store) -> int:
    with store.writing() as s:
        spot = add_spot(s, SpotDraft(name="Lane", latitude_deg=52.5, longitude_deg=5.2, zone="UTC"))
        draft = WorkshopDraft(title="Evening", spot_id=spot.id, starts=NOW, ends=NOW + timedelta(hours=1))
        return rules.add_workshop(s, draft).id


def person(workshop, name="Ana", part="attendee", **more) -> PersonDraft:
    return PersonDraft(workshop_id=workshop, part=part, name=name, **more)


def test_they_come_back_by_part_and_name(store, workshop):
    full = person(
        workshop, "M.L.", "model", adult="no", guardian="Rosa", owed_pictures=5, owed_by=TODAY, stands_in=True
    )
    with store.writing() as s:
        for draft in (person(workshop, "Bo", "helper"), full, person(workshop, "cy"), person(workshop, "Ana")):
            shelf.add(s, draft)
        found = people_of(s, workshop)
        assert [each.name for each in found] == ["Ana", "cy", "M.L.", "Bo"]
        assert (found[2].guardian, found[2].owed_pictures, found[2].owed_by) == ("Rosa", 5, TODAY)
        assert found[2].stands_in is False
        assert set(people_by_workshop(s, [workshop, 99])) == {workshop}


def test_a_person_of_no_workshop_is_refused(store, workshop):
    with store.writing() as s, pytest.raises(InputProblem) as problem:
        shelf.add(s, person(99))
    assert problem.value.field == "workshop_id"


def test_they_are_put_aside_with_their_workshop_and_gone_with_it_for_good_but_releases_stay(store, workshop):
    with store.writing() as s:
        ana = shelf.add(s, person(workshop))
        paper = release_shelf.add(s, ReleaseDraft(workshop_id=workshop, person_id=ana.id, **PAPER))
        assert releases_by_person(s, [ana.id]) == {ana.id: [paper]}
        rules.delete_workshop(s, workshop, 1, now=NOW)
        assert people_of(s, workshop) == ()
        assert [each.name for each in personal_rows(s)] == ["Ana"]
        rules.restore_workshop(s, workshop)
        assert people_of(s, workshop) == (ana,)
        rules.delete_workshop(s, workshop, 3, now=NOW)
        rules.workshops.shelf.purge(s, now=NOW + timedelta(days=31))
        assert personal_rows(s) == ()
        kept = release_shelf.get(s, paper.id)
    assert (kept.workshop_id, kept.person_id, kept.for_whom, kept.uses) == (None, None, "Mia L.", ("web", "sale"))


def test_erasing_empties_the_row_also_of_who_is_put_aside_and_leaves_the_release(store, workshop):
    with store.writing() as s:
        ana, bo = shelf.add(s, person(workshop, contact="555 0100")), shelf.add(s, person(workshop, "Bo"))
        paper = release_shelf.add(s, ReleaseDraft(workshop_id=workshop, person_id=ana.id, **PAPER))
        shelf.delete(s, bo.id, 1, now=NOW)
        assert put_aside(s, workshop) == 1
        assert erase_people(s, [ana.id, bo.id, 99], TODAY) == 2
        assert erase_people(s, [ana.id], TODAY) == 0
        assert put_aside(s, workshop) == 0
        gone = shelf.get(s, ana.id)
        assert (gone.name, gone.contact, gone.erased_on, gone.version) == ("erased", "", TODAY, 2)
        assert shelf.restore(s, bo.id).name == "erased"
        assert release_shelf.get(s, paper.id) == paper


def test_a_release_goes_after_its_own_day(store, workshop):
    with store.writing() as s:
        paper = ReleaseDraft(workshop_id=workshop, person_id=None, **PAPER | {"signed_on": date(2026, 1, 1)})
        for until in (None, TODAY, date(2026, 10, 16)):
            release_shelf.add(s, replace(paper, keep_until=until))
        lapsed = lapsed_releases(s, TODAY)
        assert len(lapsed) == 1
        assert erase_releases(s, lapsed) == 1
        assert lapsed_releases(s, TODAY) == ()


def in_file(path: Path, word: str) -> bool:
    """Whether any file of the database holds the word."""
    return any(word.encode() in each.read_bytes() for each in path.parent.glob(f"{path.name}*"))


@pytest.fixture
def own(tmp_path):
    """A database at a path that is known, its store open."""
    path = tmp_path / "people.sqlite3"
    store = open_store(f"sqlite:///{path}")
    upgrade(store)
    yield path, store
    store.close()


def test_once_erased_and_cleaned_no_part_of_the_file_holds_a_name_any_more(own):
    """Many people with long notes, so that pages were split, moved and freed; some changed, some put aside."""
    path, store = own
    workshop = add_workshop(store)
    with store.writing() as s:
        for number in range(120):
            shelf.add(
                s, person(workshop, f"Zebedee {number}", notes="Zebedee " * (number % 9) * 60, contact="555 0100")
            )
    with store.writing() as s:
        for each in people_of(s, workshop)[::3]:
            shelf.change(s, each.id, 1, person(workshop, "Zebedee once more"))
        for each in people_of(s, workshop)[::4]:
            shelf.delete(s, each.id, each.version, now=NOW)
    assert in_file(path, "Zebedee")
    with store.writing() as s:
        assert erase_people(s, [each.id for each in personal_rows(s)], TODAY) == 120
        note_erasure(s, NOW, 120, 0)
        assert is_unclean(s)
    assert clean(store)
    assert not in_file(path, "Zebedee")
    assert not in_file(path, "555 0100")
    with store.reading() as s:
        assert (last_erasure(s).people, last_erasure(s).cleaned, is_unclean(s)) == (120, True, False)
        assert len(people_of(s, workshop)) == 90


def test_what_is_deleted_is_written_over_even_without(own):
    _, store = own
    with store.engine.connect() as connection:
        assert connection.exec_driver_sql("PRAGMA secure_delete").scalar() == 1


@pytest.mark.parametrize("use", ["reading", "writing"])
def test_a_file_in_use_is_left_and_cleaned_the_next_time(own, use):
    path, store = own
    with store.writing() as s:
        note_erasure(s, NOW, 1, 0)
    other = open_store(f"sqlite:///{path}")
    with getattr(other, use)() as s:
        s.execute(sa.text("SELECT count(*) FROM people"))
        assert clean(store, patience_ms=10) is False
    other.close()
    with store.reading() as s:
        assert is_unclean(s)
    assert clean(store)
    with store.writing() as s:
        assert not is_unclean(s)
        assert s.scalar(sa.text("SELECT count(*) FROM people")) == 0


def test_no_error_tells_what_a_row_held(store):
    with pytest.raises(sa.exc.IntegrityError) as failed, store.writing() as s:
        s.execute(sa.text("INSERT INTO people (name) VALUES (:name)"), {"name": "Zebedee"})
    assert "Zebedee" not in str(failed.value)
