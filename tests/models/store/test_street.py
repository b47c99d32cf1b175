"""Counts of who comes by: kept by spot, changed with a version, put aside, gone with their spot."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from models.problems import InputProblem
from models.store.engine import Store
from models.store.spots import add_spot, delete_spot
from models.store.street import CountDraft, counts_at, counts_by_spot, shelf
from models.store.versions import Clash, Missing
from models.street.spot import SpotDraft

NOW = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)


def drafted(store: Store, **changes: object) -> CountDraft:
    with store.writing() as s:
        spot = add_spot(s, SpotDraft(name="Lane", latitude_deg=52.5, longitude_deg=5.2, zone="Europe/Amsterdam"))
    facts = {"spot_id": spot.id, "starts": NOW, "minutes": 10.0, "number": 42, "whence": "  me "}
    return CountDraft(**(facts | changes))  # type: ignore[arg-type]


def test_a_count_comes_back_as_it_was_kept_but_for_idle_blanks(store):
    draft = drafted(store, of="parties", note="rain ")
    with store.writing() as s:
        kept = shelf.add(s, draft)
    with store.reading() as s:
        (back,) = counts_at(s, draft.spot_id)
    assert (back.id, back.version, back.starts, back.minutes, back.number) == (kept.id, 1, NOW, 10.0, 42)
    assert (back.of, back.whence, back.note) == ("parties", "me", "rain")
    assert back.local("Europe/Amsterdam").starts.hour == 16


def test_the_latest_stands_first_and_spots_are_told_apart(store):
    draft, other = drafted(store), drafted(store)
    with store.writing() as s:
        shelf.add_all(s, [draft, replace(draft, starts=NOW + timedelta(hours=1)), other])
        assert [count.starts.hour for count in counts_at(s, draft.spot_id)] == [15, 14]
        assert {spot: len(found) for spot, found in counts_by_spot(s, [draft.spot_id, other.spot_id, 99]).items()} == {
            draft.spot_id: 2, other.spot_id: 1,
        }  # fmt: skip


def test_a_change_of_something_older_clashes_and_what_is_deleted_comes_back(store):
    draft = drafted(store)
    with store.writing() as s:
        kept = shelf.add(s, draft)
        shelf.change(s, kept.id, 1, replace(draft, number=43))
        with pytest.raises(Clash):
            shelf.change(s, kept.id, 1, replace(draft, number=44))
        shelf.delete(s, kept.id, 2, now=NOW)
        assert counts_at(s, draft.spot_id) == ()
        with pytest.raises(Missing):
            shelf.get(s, kept.id)
        shelf.restore(s, kept.id)
        assert [count.number for count in counts_at(s, draft.spot_id)] == [43]


def test_counts_go_when_their_spot_goes_for_good(store):
    draft = drafted(store)
    with store.writing() as s:
        shelf.add(s, draft)
        delete_spot(s, draft.spot_id, 1, now=NOW)
        assert len(counts_at(s, draft.spot_id)) == 1
        second = add_spot(s, SpotDraft(name="Other", latitude_deg=52.5, longitude_deg=5.2, zone="UTC"))
        delete_spot(s, second.id, 1, now=NOW + timedelta(days=31))
        assert counts_at(s, draft.spot_id) == ()


@pytest.mark.parametrize(
    ("field", "value"),
    [("number", -1), ("number", 10**6), ("minutes", 0.0), ("minutes", float("nan")), ("of", "cats"), ("spot_id", 99),
     ("whence", "x" * 200), ("note", "a\x00b"), ("starts", datetime(2026, 10, 17, 14, 40))],  # noqa: DTZ001  naive
)  # fmt: skip
def test_what_cannot_be_meant_is_refused_by_its_field(store, field, value):
    draft = drafted(store)
    with store.writing() as s, pytest.raises(InputProblem) as problem:
        shelf.add(s, replace(draft, **{field: value}))
    assert problem.value.field == field
