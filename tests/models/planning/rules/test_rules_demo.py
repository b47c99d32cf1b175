"""Havenmark's by-laws: what they must hold to show every answer, and that they say they are invented."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import pytest

from models.clock import to_local
from models.planning.demo import HAVENMARK
from models.planning.rules.rule_rows import contradicted, is_old
from models.rules.areas import KINDS, Area
from models.rules.enquiry import Enquiry
from models.rules.papers import Paper
from models.rules.rule import Rule
from models.rules.working_days import ask_by, calendar_of
from models.rules.workshop import Workshop
from models.store import rules as kept
from models.store.engine import Store
from models.store.settings import get_setting
from models.store.spots import Spot, list_spots
from tests.databases import copy_of

OPENED = date(2026, 10, 17)


@dataclass(frozen=True)
class Town:
    store: Store
    spots: dict[str, Spot]
    areas: dict[str, Area]
    rules: tuple[Rule, ...]
    enquiries: tuple[Enquiry, ...]
    papers: tuple[Paper, ...]
    workshops: tuple[Workshop, ...]

    def at(self, name: str) -> set[str]:
        spot = self.spots[name]
        with self.store.reading() as s:
            return {area.name for area in kept.areas_at(s, spot.latitude_deg, spot.longitude_deg)}


@pytest.fixture(scope="module")
def town(demo_once: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Town]:
    with copy_of(demo_once, tmp_path_factory.mktemp("town")) as store, store.reading() as s:
        yield Town(
            store,
            {spot.name: spot for spot in list_spots(s)},
            {area.name: area for area in kept.list_areas(s)},
            kept.list_rules(s),
            kept.list_enquiries(s),
            kept.list_papers(s),
            kept.list_workshops(s),
        )


def test_there_is_enough_to_look_at(town: Town) -> None:
    assert len(town.areas) >= 7
    assert len(town.rules) >= 22
    assert {area.kind for area in town.areas.values()} == set(KINDS)
    with town.store.reading() as s:
        assert get_setting(s, "holidays") == "NL"


def test_every_controller_of_a_spot_is_an_authority_there(town: Town) -> None:
    """What the scouting notes say and what the areas say are the same people."""
    words = {
        "Town Hall Arcade": {"market office"},
        "North Rope Quay": {"harbour office", "highways"},
        "West Quay": {"harbour office"},
        "Linden Walk": {"parks office"},
        "Station Road underpass": {"railway", "highways"},
        "Hall Deck, top floor": {"hall deck parking company"},
        "Almshouse Court": {"trustees of the almshouses"},
        "Foundry Yard": {"foundry owner"},
    }
    for name, said in words.items():
        authorities = " ".join(town.areas[area].authority for area in town.at(name)).lower()
        assert all(word in town.spots[name].controller.lower() for word in said), name
        assert all(word in authorities for word in said), name


def test_areas_overlap_and_one_spot_lies_in_none(town: Town) -> None:
    assert town.at("Market Square, by the pump") == {"Old town streets", "Market ground"}
    assert town.at("Station Road underpass") == {"Railway ground", "Station Road"}
    assert town.at("Almshouse Court") == {"Ropemakers' Almshouses"}, "the old town leaves the almshouses out"
    lane = town.spots["Foundry Lane"]
    assert town.at("Foundry Lane") == set()
    assert not [rule for rule in town.rules if rule.spot_id == lane.id]
    assert [name for name in town.spots if not town.at(name)] == ["Foundry Lane"]


def test_the_rules_show_every_trouble(town: Town) -> None:
    assert {rule.found for rule in town.rules} >= {"needed", "not_permitted", "conditions", "permitted", "unknown"}
    assert len(contradicted(town.rules)) == 2
    assert [rule.activity for rule in town.rules if is_old(rule, OPENED)] == ["tripod"]
    assert sum(rule.spoken for rule in town.rules) == 1
    assert [rule for rule in town.rules if rule.activity == "group" and rule.over]
    assert [rule for rule in town.rules if rule.first_day and rule.last_day and rule.from_time]
    assert [rule for rule in town.rules if rule.from_time and rule.to_time and rule.to_time < rule.from_time]
    assert [rule for rule in town.rules if rule.spot_id]
    assert {rule.lead_working for rule in town.rules if rule.lead_days} == {True, False}
    assert all(rule.checked_on <= OPENED for rule in town.rules)


def test_the_walk_to_the_deck_crosses_ground_where_kit_is_stopped(town: Town) -> None:
    (deck,) = [one for one in town.workshops if one.spot_id == town.spots["Hall Deck, top floor"].id]
    spot = town.spots["Hall Deck, top floor"]
    assert deck.meeting_point
    with town.store.reading() as s:
        crossed = kept.areas_along(s, [deck.meeting_point, (spot.latitude_deg, spot.longitude_deg)])
    assert [area.name for area in crossed if area.no_passing] == ["Market Hall"]
    assert "Market Hall" not in town.at("Hall Deck, top floor")


def test_two_workshops_are_still_to_come_until_may_2027(town: Town) -> None:
    days = [to_local(one.starts, "Europe/Amsterdam").date() for one in town.workshops]
    assert days == [date(2026, 10, 17), date(2027, 1, 2), date(2027, 5, 8), date(2027, 10, 9)]
    assert sum(day > date(2027, 5, 7) for day in days) == 2


@pytest.mark.parametrize(
    ("day", "last"), [(date(2027, 1, 2), date(2026, 12, 16)), (date(2027, 5, 8), date(2027, 4, 21))]
)
def test_lead_times_run_over_holidays(day: date, last: date) -> None:
    """By hand, 10 clear working days. Before 2 January 2027: December 31, 30, 29, 28, 24, 23, 22, 21, 18, 17; 25
    December and 1 January are holidays. Before 8 May 2027: May 7, 5, 4, 3, April 30, 29, 28, 26, 23, 22; 6 May is
    Ascension and 27 April King's Day.
    """
    assert ask_by(day, 10, calendar_of("NL"), working=True) == last


def test_enquiries_and_papers_leave_something_to_do(town: Town) -> None:
    assert {enquiry.state for enquiry in town.enquiries} == {"granted", "asked", "refused", "planned"}
    (insurance,) = [paper for paper in town.papers if paper.kind == "insurance"]
    assert insurance.covers_teaching is False
    assert insurance.covers_models is None
    assert insurance.valid_to is not None
    assert insurance.valid_to < date(2027, 5, 8)
    granted = next(enquiry for enquiry in town.enquiries if enquiry.state == "granted")
    with town.store.reading() as s:
        assert [(step.state, step.at.date()) for step in kept.history_of(s, granted.id)] == [
            ("asked", date(2026, 9, 22)),
            ("granted", date(2026, 10, 9)),
        ]


def test_the_files_say_that_they_are_invented() -> None:
    assert "invented" in (HAVENMARK / "bylaws.toml").read_text("utf-8")[:300]
    readme = (HAVENMARK / "README.md").read_text("utf-8")
    assert "Havenmark does not exist" in readme
    for name in ("areas.geojson", "bylaws.toml"):
        assert f"`{name}`" in readme
    links = json.dumps((HAVENMARK / "bylaws.toml").read_text("utf-8"))
    assert links.count("https://") == links.count(".havenmark.example/")
