"""Address search: off until a contact is given, kept, paced, and it survives no answer."""

from __future__ import annotations

import time
from datetime import UTC, datetime

import pytest
from geopy.exc import GeocoderServiceError
from geopy.geocoders import Nominatim
from geopy.location import Location

from models.exchange.addresses import Found, ask_nominatim
from models.planning import addresses
from models.planning.addresses import Pace, find_address
from models.planning.settings import change_settings
from models.problems import InputProblem

NOW = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)
QUAY = Found("Ferry quay, Havenmark", 52.5288, 5.2275)


@pytest.fixture(autouse=True)
def no_pause(monkeypatch):
    monkeypatch.setattr(addresses, "_PACE", Pace(0))


def never(address, contact):
    raise AssertionError("asked the network")


def test_nothing_is_asked_without_a_contact(plans):
    with pytest.raises(InputProblem, match="off"):
        find_address(plans, "Ferry quay", now=NOW, ask=never)


def test_an_answer_is_asked_for_once(plans):
    change_settings(plans, {"geocoder_contact": "me@example.org"})
    asked = []

    def ask(address, contact):
        asked.append((address, contact))
        return (QUAY,)

    assert find_address(plans, "  Ferry   quay ", now=NOW, ask=ask) == (QUAY,)
    assert asked == [("Ferry quay", "me@example.org")]
    assert find_address(plans, "ferry quay", now=NOW, ask=never) == (QUAY,)


def test_no_answer_is_kept_too_but_a_failure_is_not(plans):
    change_settings(plans, {"geocoder_contact": "me@example.org"})

    def fails(address, contact):
        raise InputProblem("address", "did not answer")

    with pytest.raises(InputProblem):
        find_address(plans, "Rope walk", now=NOW, ask=fails)
    assert find_address(plans, "Rope walk", now=NOW, ask=lambda address, contact: ()) == ()
    assert find_address(plans, "Rope walk", now=NOW, ask=never) == ()


@pytest.mark.parametrize("text", ["", " x ", "y" * 201])
def test_too_short_and_too_long_are_not_asked(plans, text):
    change_settings(plans, {"geocoder_contact": "me@example.org"})
    with pytest.raises(InputProblem, match="3 to 200"):
        find_address(plans, text, now=NOW, ask=never)


def test_callers_are_let_through_one_by_one():
    pace, start = Pace(0.05), time.monotonic()
    for _ in range(3):
        pace.wait()
    assert time.monotonic() - start >= 0.1


def test_the_service_hears_who_asks(monkeypatch):
    heard = {}

    def geocode(self, query, *, exactly_one, limit):
        heard.update(agent=self.headers["User-Agent"], query=query, exactly_one=exactly_one, limit=limit)
        return [Location(QUAY.words, (QUAY.latitude_deg, QUAY.longitude_deg), {})]

    monkeypatch.setattr(Nominatim, "geocode", geocode)
    assert ask_nominatim("Ferry quay", "me@example.org") == (QUAY,)
    assert heard == {"agent": "kerbstand (me@example.org)", "query": "Ferry quay", "exactly_one": False, "limit": 5}


def test_a_service_that_fails_says_what_to_do(monkeypatch):
    def geocode(self, query, **options):
        raise GeocoderServiceError("503")

    monkeypatch.setattr(Nominatim, "geocode", geocode)
    with pytest.raises(InputProblem, match="paste the coordinates"):
        ask_nominatim("Ferry quay", "me@example.org")
