"""What brings people by a spot: notes beside what was counted, never counts."""

from __future__ import annotations

from datetime import UTC, datetime

from models.planning.demo import open_demo
from models.planning.street.counts import add_count
from models.planning.street.counts_form import read_count_form
from models.planning.street.counts_page import counts_page
from models.planning.street.near import NEAR_M, footfall_note
from models.store.spots import find_spot
from models.store.town import replace_import
from models.street.town import HintDraft, TownDraft
from tests.models.planning.grounds import HOSTILE, at, stand
from tests.models.street import ways

NOW = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)
SATURDAY = at("2026-10-17T15:10")
COUNT = {"number": "40", "minutes": "10", "day": "10 Oct", "clock": "17:00"}


def lay(store, *hints, name="town"):
    """hints: kind, metres east and north, name."""
    drafts = tuple(HintDraft(*ways.at(east_m, north_m), kind, called) for kind, east_m, north_m, called in hints)
    with store.writing() as s:
        replace_import(s, name, TownDraft(hints=drafts))


def test_the_nearest_of_each_kind_within_reach_nearest_first_and_no_toilets(plans):
    spot = stand(plans)
    lay(
        plans,
        ("toilets", 5, 0, ""),
        ("bus", 90, 0, "Quay"),
        ("bus", 0, -42, "Bell Street"),
        ("school", 20, 0, ""),
        ("market", 0, NEAR_M + 5, ""),
    )
    assert counts_page(plans, spot.id, SATURDAY, {}).near == (
        "School 20 m away: people come in waves. A note from the map, not a count.",
        "Bus stop (Bell Street) 40 m away: people come in waves. A note from the map, not a count.",
    )


def test_they_stand_beside_the_count_and_change_no_figure(plans):
    spot = stand(plans)
    before = counts_page(plans, spot.id, SATURDAY, {})
    assert footfall_note(plans, spot, SATURDAY).text == "Saturdays, 17 to 18 h: not counted at that hour"
    lay(plans, ("entrance", 3, 0, ""))
    note = footfall_note(plans, spot, SATURDAY)
    assert note.text.split("\n") == [
        "Saturdays, 17 to 18 h: not counted at that hour",
        "Near it, from the map and no count: station entrance under 10 m away",
    ]
    assert not note.noted
    after = counts_page(plans, spot.id, SATURDAY, {})
    assert (after.hour, after.counted_words, after.answer) == (before.hour, before.counted_words, before.answer)
    add_count(plans, read_count_form(COUNT, spot, NOW))
    note = footfall_note(plans, spot, SATURDAY)
    assert note.noted
    assert note.text.startswith("Saturdays, 17 to 18 h: about ")
    assert "station entrance" in note.text


def test_a_hostile_name_is_only_text(plans):
    spot = stand(plans)
    lay(plans, ("bus", 10, 0, HOSTILE.replace("\u202e", "")))
    assert "DROP TABLE" in counts_page(plans, spot.id, SATURDAY, {}).near[0]


def test_the_demo_has_some(tmp_path):
    store = open_demo(tmp_path / "demo.sqlite3")
    with store.reading() as s:
        lane, underpass = find_spot(s, "Foundry Lane"), find_spot(s, "Station Road underpass")
    near = counts_page(store, lane.id, SATURDAY, {}).near
    waves = counts_page(store, underpass.id, SATURDAY, {}).near
    store.close()
    assert any(line.startswith("Bus stop (Foundry Lane) ") for line in near)
    assert any(line.startswith("Station entrance ") for line in waves)
