"""The leaf for when things go wrong, the fallback and the batteries: worked out beforehand, whole without a server."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from models.planning.rules.workshops import draft_of
from models.planning.workshops.batteries_page import batteries_page
from models.planning.workshops.fallback import fallback_order, fallback_worked, fallbacks_of
from models.planning.workshops.leaf import leaf_page
from models.planning.workshops.running import running_of
from models.store import rules
from models.store.spots import shelf as spots
from models.street.spot import SpotDraft
from tests.models.planning.workshops.evening import NOW, STARTS, keep_evening, keep_station
from tests.models.planning.workshops.running_evening import NAMES, add_part, keep_running
from tests.models.planning.workshops.test_rota_page import told


def shooters(rota):
    """How often each number stands in each column."""
    return [
        sorted(int(one) for each in rota.rounds if each.cells[k] for one in each.cells[k].split(", "))
        for k in range(len(rota.stations))
    ]


def test_rotas_with_fewer_go_by_numbers_everybody_once_at_each_station(plans):
    page = leaf_page(plans, keep_running(plans, attendees=9, stations="ABC"), NOW)
    assert [rota.title for rota in page.fewer] == [
        "1 person fewer: 8 there",
        "2 people fewer: 7 there",
        "3 people fewer: 6 there",
    ]
    for rota, people in zip(page.fewer, (8, 7, 6), strict=True):
        assert shooters(rota) == [list(range(1, people + 1))] * 3
        assert "the rounds take" in rota.words
    assert page.station_fewer.stations == ("A", "B")
    assert "without C" in page.station_fewer.title
    assert shooters(page.station_fewer) == [list(range(1, 10))] * 2


def test_the_spot_lost_says_where_to_who_owes_what_and_what_fits(plans):
    page = leaf_page(plans, keep_running(plans, attendees=9, stations="ABC", fallback=True), NOW)
    first, second = page.lost
    assert [each.after for each in page.lost] == [1, 2]
    assert first.leave.endswith("CEST")
    owed = {each.station: {one.shown for one in each.people} for each in first.owed}
    assert {station: len(people) for station, people in owed.items()} == {"A": 6, "B": 6, "C": 6}
    assert {station: len(each) for station, each in ((one.station, one.people) for one in second.owed)} == {
        "A": 3, "B": 3, "C": 3,
    }  # fmt: skip
    assert first.order.name == "Quay"
    assert first.order.frames >= 1
    assert [block.title for block in first.order.blocks][:3] == ["Walk there", "Set up", "Safety word"]
    assert "Round 2" in [block.title for block in first.order.blocks]
    assert all(station.light for station in first.order.stations)
    text = told(page)
    assert not [name for name in NAMES if f'"{name}"' in text]


def test_without_a_fallback_and_with_one_station_it_says_so(plans):
    page = leaf_page(plans, keep_running(plans, attendees=3, stations="A"), NOW)
    assert page.station_fewer is None
    assert page.lost == (), "one round only: there is nothing after it"
    assert "has nowhere to go: choose a fallback" in page.answer.text
    assert "nobody is named yet" in page.if_stopped[1]


def test_without_people_or_stations_there_is_still_what_to_do_when_asked_to_stop(plans):
    page = leaf_page(plans, keep_evening(plans)[0], NOW)
    assert page.answer.text == "Nothing can be worked out beforehand yet: no station is set up for it yet."
    assert (page.fewer, page.lost) == ((), ())
    assert page.if_stopped[0].startswith("Stop at once, fold the stands")


def test_one_person_leaves_no_rota_with_fewer(plans):
    assert leaf_page(plans, keep_running(plans, attendees=1, stations="AB"), NOW).fewer == ()


def test_a_fallback_that_nobody_went_to_yet_is_reached_by_set_up(plans):
    workshop = keep_running(plans, fallback=True)
    there = fallback_order(plans, running_of(plans, workshop, NOW))
    assert there.decide_by == "16:30 CEST"
    assert there.known is False, "nobody noted who controls the lane"
    setup = next(block for block in there.blocks if block.title == "Set up")
    assert setup.starts == "17:00"
    assert "frames a turn" in there.fits


def test_a_fallback_under_the_same_controller_is_none(plans):
    workshop = keep_running(plans, fallback=True)
    with plans.writing() as s:
        spot = spots.find(s, 1)[0]
        fields = {name: getattr(spot, name) for name in SpotDraft.__dataclass_fields__}
        spots.change(s, 1, spot.version, SpotDraft(**fields | {"controller": "Harbour office"}))
    there = fallback_order(plans, running_of(plans, workshop, NOW))
    assert there.same_guard


def test_no_time_left_says_by_how_much_it_does_not_fit(plans):
    workshop = keep_running(plans, fallback=True)
    running = running_of(plans, workshop, NOW)
    late = fallback_order(plans, running, leave=STARTS + timedelta(minutes=85), first_round=2)
    assert late.frames is None
    assert late.fits.startswith("Not even one frame a turn fits: ")
    assert late.blocks == ()


def test_deleted_fallbacks_are_left_out(plans):
    workshop = keep_running(plans, fallback=True)
    with plans.writing() as s:
        spots.delete(s, 2, 1, now=NOW)
    running = running_of(plans, workshop, NOW)
    assert fallbacks_of(plans, running.grounds) == ()
    assert fallback_order(plans, running) is None
    assert fallback_worked(plans, running, running.worked.rota, STARTS) is None


def test_batteries_are_counted_by_light_and_what_is_not_known_is_said(plans):
    workshop = keep_running(plans)
    page = batteries_page(plans, workshop, NOW)
    assert page.answer.text.startswith("Charge ")
    assert len(page.units) == 4, "two lights at two stations"
    assert any("no battery is given" in line for line in page.charge), "the fill has none"
    assert "Not all lights are counted." in page.answer.text
    keep_station(plans, workshop, name="C")
    assert "C: no setup is chosen, so its flashes are not known" in batteries_page(plans, workshop, NOW).charge


def test_cells_that_run_out_are_changed_at_a_turn(plans):
    page = batteries_page(plans, keep_running(plans, attendees=9, frames=60), NOW)
    changes = [line for unit in page.units for line in unit.changes]
    assert changes
    assert all("before round " in line or line == "before the group picture" for line in changes)


def test_without_a_rota_nothing_is_counted(plans):
    page = batteries_page(plans, keep_evening(plans)[0], NOW)
    assert page.answer.text == "Nothing can be counted yet: no station is set up for it yet."
    assert (page.charge, page.units) == ((), ())


def test_stations_without_any_light_have_no_sets(plans):
    workshop, _ = keep_evening(plans)
    add_part(plans, workshop, "attendee", "Ana")
    keep_station(plans, workshop, name="A")
    assert batteries_page(plans, workshop, NOW).answer.text.startswith("No sets can be counted")


def test_called_off_it_is_still_shown(plans):
    workshop = keep_running(plans)
    with plans.writing() as s:
        rules.change_workshop(s, workshop, 1, replace(draft_of(rules.get_workshop(s, workshop)), called_off=True))
    assert leaf_page(plans, workshop, NOW).workshop.called_off
    assert batteries_page(plans, workshop, NOW).units
