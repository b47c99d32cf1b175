"""Entries of the calendar file: whose they are stays, their number grows when they read differently and never falls."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from models.store.engine import Store
from models.store.rules.calendar import KEEP_SETTLED, OF_READERS, CalendarNote, number_entries, number_entry

TODAY = date(2026, 10, 17)


def note(
    about: str = "12 area 3", day: date = date(2026, 11, 2), title: str = "Ask the harbour office"
) -> CalendarNote:
    return CalendarNote(about=about, day=day, title=title, description="Stands on the ground.")


def numbered(store: Store, *notes: CalendarNote, today: date = TODAY):
    with store.writing() as s:
        return number_entries(s, notes, today=today)


def test_the_same_entry_keeps_its_number_and_a_changed_one_gets_the_next(store):
    (first,) = numbered(store, note())
    assert (first.sequence, first.settled_on) == (0, None)
    (same,) = numbered(store, note())
    assert same == first
    (moved,) = numbered(store, note(day=date(2026, 11, 3)))
    assert (moved.uid, moved.sequence, moved.day) == (first.uid, 1, date(2026, 11, 3))


def test_an_entry_of_a_reader_is_numbered_by_itself_and_left_alone_by_the_deadlines(store):
    of_model = note(f"{OF_READERS}of workshop 1 for model")
    with store.writing() as s:
        first, again = number_entry(s, of_model), number_entry(s, of_model)
    (only,) = numbered(store, note(), today=TODAY + timedelta(days=365))
    assert only.about == note().about
    with store.writing() as s:
        later = number_entry(s, replace(of_model, description="Moved."))
    assert [each.sequence for each in (first, again, later)] == [0, 0, 1]
    assert first.uid == again.uid == later.uid
    with store.writing() as s, pytest.raises(ValueError, match="no entry of a reader"):
        number_entry(s, note())


def test_one_that_is_gone_is_settled_for_a_while_and_comes_back_as_itself(store):
    first, other = numbered(store, note(), note("12 area 4"))
    assert first.uid != other.uid
    kept, settled = numbered(store, note())
    assert kept == first
    assert (settled.uid, settled.sequence, settled.settled_on) == (other.uid, 1, TODAY)
    assert numbered(store, note(), today=TODAY + KEEP_SETTLED)[1] == settled
    back = numbered(store, note(), note("12 area 4"), today=TODAY + timedelta(days=3))[1]
    assert (back.uid, back.sequence, back.settled_on) == (other.uid, 2, None)


def test_one_settled_long_ago_is_forgotten(store):
    numbered(store, note())
    numbered(store)
    assert numbered(store, today=TODAY + KEEP_SETTLED + timedelta(days=1)) == ()


ABOUT = st.sampled_from(["1 area 1", "1 spot 2", "2 area 1"])


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.dictionaries(ABOUT, st.dates(date(2026, 1, 1), date(2026, 1, 3))), max_size=6))
def test_numbers_never_fall_and_grow_with_every_change(shared_store, versions):
    before = {}
    for version in versions:
        entries = numbered(shared_store, *(note(about, day) for about, day in version.items()))
        for entry in entries:
            old = before.get(entry.about, entry)
            assert entry.uid == old.uid
            assert entry.sequence == old.sequence if entry == old else entry.sequence == old.sequence + 1
        assert {entry.about for entry in entries if not entry.settled_on} == set(version)
        before = {entry.about: entry for entry in entries}
    assert len({entry.uid for entry in before.values()}) == len(before)
