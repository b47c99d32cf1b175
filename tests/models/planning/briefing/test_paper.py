"""A workshop's briefing on paper: the same facts as its readers are told anywhere, and nobody's name."""

from __future__ import annotations

from contextlib import closing
from dataclasses import replace
from datetime import date

import pytest

from models.clock import to_local
from models.exchange.pdf import MOST_BYTES, briefing_pdf
from models.exchange.pdf_sheet import MOST_PAGES
from models.planning.briefing.facts import facts_of
from models.planning.briefing.paper import paper_of, read_paper
from models.planning.briefing.versions import issue, issued_briefing
from models.planning.rules.workshops import draft_of
from models.problems import InputProblem
from models.store import rules
from models.store.engine import open_store
from models.store.people import people_of
from models.store.stations import change_station, stations_of
from models.store.versions import Missing, drafted
from models.words.briefing_voices import briefing_of
from models.words.never import forbidden_in
from models.words.paper import undrawn_words
from models.workshop.briefing import READERS
from models.workshop.station import StationDraft
from tests.models.exchange.printed import plain, reader, text_of, words_of
from tests.models.planning.briefing.briefed import NAMES, NUMBERS
from tests.models.planning.workshops.evening import NOW, keep_evening

LINK = "https://kerbstand.example/b/1-abcdefghijklmnopqrstuvwxyz234567"


@pytest.fixture(scope="module")
def demo(demo_once):
    with closing(open_store(f"sqlite:///{demo_once}")) as store:
        yield store


@pytest.mark.parametrize("who", READERS)
def test_says_all_that_readers_are_told_and_nobodys_name(briefed, who):
    told = issued_briefing(briefed, 1, who, NOW)
    pdf = paper_of(briefed, 1, who, NOW, link=LINK)
    said = text_of(pdf)
    assert [words for words in words_of(told) if plain(words) not in said] == []
    assert [name for name in (*NAMES, *NUMBERS) if plain(name) in said] == []
    assert plain(LINK) in said
    assert forbidden_in(" ".join(page.extract_text() for page in reader(pdf).pages)) == []


@pytest.mark.parametrize("who", READERS)
def test_every_time_place_and_number_of_the_facts_is_on_it(briefed, who):
    """Held to the facts themselves, not to the words made of them."""
    facts = facts_of(briefed, 1, NOW)
    said = text_of(paper_of(briefed, 1, who, NOW))
    for block in facts.blocks:
        assert f"{to_local(block.starts, facts.zone):%H:%M}{to_local(block.ends, facts.zone):%H:%M}" in said
        assert plain(block.title) in said
    for place in (facts.spot, facts.meeting, facts.fallback):
        assert plain(f"{place.name}, {place.latitude_deg:.5f}, {place.longitude_deg:.5f}") in said
    for number in (facts.contact, facts.emergency, facts.ambulance):
        assert plain(number) in said


@pytest.mark.parametrize(
    ("who", "paper"), [("attendee", "a4"), ("model", "us-letter"), ("helper", "a4"), ("helper", "us-letter")]
)
def test_a_workshop_of_three_stations_and_nine_people_fits_whole(demo, who, paper):
    number = evening_in_the_demo(demo)
    with demo.reading() as s:
        assert len(stations_of(s, number)) == 3
        people = people_of(s, number)
    assert sum(person.part == "attendee" for person in people) == 9
    pdf = paper_of(demo, number, who, NOW, paper, LINK)
    said = text_of(pdf)
    assert len(reader(pdf).pages) <= MOST_PAGES
    assert len(pdf) < MOST_BYTES / 2
    assert "Leftout" not in said
    for name in ("Single gridded key", "Shade key against a sunlit wall", "Dish and reflector"):
        assert (plain(name) in said) == (who != "model")
    assert [each for person in people for each in (person.name, person.contact) if each and plain(each) in said] == []


def evening_in_the_demo(demo) -> int:
    with demo.reading() as s:
        return next(each.id for each in rules.list_workshops(s) if each.title == "Afternoon in the lane")


def test_plans_of_the_setups_are_for_helpers(briefed):
    said = {who: text_of(paper_of(briefed, 1, who, NOW)) for who in READERS}
    assert plain("Clock round the model") in said["helper"]
    assert plain("Clock round the model") not in said["attendee"] + said["model"]


def test_a_plan_that_cannot_be_drawn_any_more_is_said(briefed):
    issue(briefed, 1, NOW)
    with briefed.writing() as s:
        for station in stations_of(s, 1):
            change_station(s, station.id, station.version, replace(drafted(StationDraft, station), setup_id=None))
    said = text_of(paper_of(briefed, 1, "helper", NOW))
    assert plain(undrawn_words(1)) in said
    assert plain("Clock round the model") not in said


def test_says_which_version_it_is_and_that_it_was_called_off(briefed):
    assert plain("A draft that was never issued") in text_of(paper_of(briefed, 1, "model", NOW))
    issue(briefed, 1, NOW)
    with briefed.writing() as s:
        kept = rules.get_workshop(s, 1)
        rules.change_workshop(s, 1, kept.version, replace(draft_of(kept), called_off=True))
    said = text_of(paper_of(briefed, 1, "model", NOW))
    assert plain("Version 1, issued on Saturday 10 October 2026.") in said
    assert said.index("Calledoff:donotcome.") < said.index("Yourcall")


def test_a_workshop_with_nothing_filled_in_has_a_paper_too(plans):
    number, _ = keep_evening(plans)
    for who in READERS:
        assert plain("not said yet") in text_of(paper_of(plans, number, who, NOW))


def test_ten_times_the_facts_keep_to_the_pages_and_say_what_is_left_out(briefed):
    facts = facts_of(briefed, 1, NOW)
    rounds = tuple(
        replace(block, key=f"round {k}", title=f"Round {k}") for k, block in enumerate(facts.blocks * 6, start=1)
    )
    stations = tuple(replace(each, name=f"{each.name}{k}") for k in range(6) for each in facts.stations)
    many = {name: getattr(facts, name) * 10 for name in ("hazards", "kit", "cells", "leaf", "carry", "enquiries")}
    big = replace(facts, blocks=rounds, stations=stations, **many)
    for who in READERS:
        told = briefing_of(big, who, 3, date(2026, 10, 10), facts)
        pdf = briefing_pdf(told)
        said = text_of(pdf)
        assert len(reader(pdf).pages) <= MOST_PAGES
        assert [block.title for block in rounds if plain(block.title) not in said] == []
        everything = all(plain(words) in said for words in words_of(told))
        assert everything != ("Leftout,tokeepthisto4pages:" in said)
    assert not everything


@pytest.mark.parametrize(("typed", "paper"), [("", "a4"), (" A4 ", "a4"), ("Letter", "us-letter")])
def test_paper_is_typed_in_words(typed, paper):
    assert read_paper(typed) == paper


@pytest.mark.parametrize("typed", ["a3", "4", "\x00", "a4;x"])
def test_other_paper_is_refused(typed):
    with pytest.raises(InputProblem, match="no size of paper"):
        read_paper(typed)


def test_no_workshop_no_paper(plans):
    with pytest.raises(Missing):
        paper_of(plans, 99, "model", NOW)
