"""Names in what an organiser typed go with the last of a workshop's people, also from the file's bytes."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest
import sqlalchemy as sa

from models.planning.briefing.versions import issue
from models.planning.workshops.erasing import erase_due, erase_person, erase_workshop_people
from models.store.briefings import TextsDraft, issued_of, texts_of
from models.store.briefings import shelf as texts
from models.store.engine import open_store, upgrade
from models.store.happenings import happenings_of
from models.store.happenings import shelf as happenings
from models.store.hazards import SheetDraft, sheet_of
from models.store.hazards import shelf as sheets
from models.store.named_texts import GONE, empty_named, left_by_all
from models.store.people import people, people_of
from models.store.plans import plan_of
from models.words.briefing import SPARES
from models.workshop.hazards import HazardLine
from tests.models.planning.workshops.evening import STARTS
from tests.models.planning.workshops.running_evening import happening, keep_running

NOW = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)
NAME = "Zebedee"
LINES = (
    HazardLine(key="wind", what="Wind", done="Weight on stands", who=f"{NAME} (brother of {NAME})"),
    HazardLine(key="cycles", what="Bicycles (many)", done="Step back", who="pavement watcher"),
)


@pytest.fixture
def own(tmp_path):
    """A database at a path that is known, its store open."""
    path = tmp_path / "own.sqlite3"
    store = open_store(f"sqlite:///{path}")
    upgrade(store)
    yield path, store
    store.close()


def named(store) -> int:
    """A workshop whose every text names somebody, with a briefing that was issued and a sheet that was put aside."""
    number = keep_running(store, attendees=2, talks=NAME)
    with store.writing() as s:
        happenings.add(s, replace(happening(number, "spot lost"), note=f"{NAME} talked to the guard"))
        first = sheets.add(s, SheetDraft(workshop_id=number, lines=LINES, first_aider=f"{NAME}, in the van"))
        sheets.delete(s, first.id, 1, now=NOW)
        sheets.add(s, SheetDraft(workshop_id=number, lines=LINES, first_aider=f"{NAME}, in the van"))
        texts.add(s, TextsDraft(workshop_id=number, texts=((SPARES, NAME),)))
    issued = issue(store, number, NOW)
    assert issued is not None
    assert NAME in str(issued.facts.paragraphs)
    return number


def in_file(path) -> bool:
    return any(NAME.encode() in each.read_bytes() for each in path.parent.glob(f"{path.name}*"))


def test_they_go_on_the_day_its_people_are_erased_and_no_part_of_the_file_holds_them(own):
    path, store = own
    number, last = named(store), STARTS + timedelta(days=30)
    assert erase_due(store, last).named == 0
    assert in_file(path)
    done = erase_due(store, last + timedelta(days=3))
    assert (done.people, done.named, done.cleaned) == (2, 6, True)
    assert "went with the last of them" in done.words
    assert not in_file(path)
    with store.reading() as s:
        sheet, told = sheet_of(s, number), issued_of(s, number)[0].facts
        assert (plan_of(s, number).talks, sheet.first_aider, happenings_of(s, number)[0].note) == ("", "", "")
        assert [line.who for line in sheet.lines] == ["", "pavement watcher"]
        assert texts_of(s, number).texts == ()
    assert GONE in str(told.paragraphs)
    assert told.hazards == ("Wind: Weight on stands", "Bicycles (many): Step back (pavement watcher)")
    assert (told.talks, told.first_aider, told.spares) == ("", "", "")
    assert erase_due(store, last + timedelta(days=4)).named == 0


def test_they_stay_as_long_as_anybody_is_on_record(own):
    path, store = own
    number = named(store)
    with store.reading() as s:
        first, second = people_of(s, number)
    assert erase_person(store, number, first.id, NOW).named == 0
    assert in_file(path)
    assert erase_person(store, number, second.id, NOW).named == 6
    assert not in_file(path)


def test_what_is_typed_anew_after_that_stays_until_the_usual_day(own):
    path, store = own
    number = named(store)
    assert erase_workshop_people(store, number, NOW).named == 6
    with store.writing() as s:
        happenings.add(s, replace(happening(number, "spot lost"), note=NAME))
    assert erase_due(store, NOW + timedelta(days=1)).named == 0
    assert in_file(path)
    assert erase_due(store, STARTS + timedelta(days=33)).named == 1
    assert not in_file(path)


def test_another_workshop_and_one_without_people_keep_theirs(own):
    _, store = own
    number, other = named(store), keep_running(store, attendees=1, talks=NAME)
    with store.writing() as s:
        s.execute(sa.update(people).where(people.c.workshop_id == number).values(erased_on=date(2026, 10, 1)))
        assert left_by_all(s) == {number}
        assert left_by_all(s, [99]) == set()
        assert empty_named(s, left_by_all(s)) == 6
        assert empty_named(s, ()) == 0
        assert plan_of(s, other).talks == NAME
