"""Fetching a forecast: off until switched on, not before it expires, and a failure leaves what is kept."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from models.exchange.forecast import Asked, Refused
from models.exchange.locationforecast import Forecast
from models.planning.answers import Moment
from models.planning.keeping import change_spot
from models.planning.settings import change_settings
from models.planning.street.forecast import fetch_forecast, service
from models.planning.street.sky import under_weather
from models.problems import InputProblem
from models.store.spots import get_spot
from models.store.versions import Missing
from models.store.weather import HourDraft, hours_at, shelf
from models.street.weather import WeatherHour
from tests.models.exchange.forecast_service import NOW, dead_address, serving
from tests.models.planning.grounds import ZONE, stand

ON = {"forecast": "on", "forecast_contact": "me@example.org"}
FIRST = NOW.replace(minute=0)
HOUR = timedelta(hours=1)
MINUTE = timedelta(minutes=1)


@pytest.fixture
def lane(plans):
    change_settings(plans, ON)
    return stand(plans, "Lane")


class Stub:
    """Answers in turn; remembers what it was asked."""

    def __init__(self, *answers):
        self.answers, self.asked = list(answers), []

    def __call__(self, *asked, now):
        self.asked.append(asked)
        answer = self.answers.pop(0)
        if isinstance(answer, Exception):
            raise answer
        return answer


def told(oktas=5.0, expires=NOW + 30 * MINUTE, hours=3, modified="Sat, 17 Oct 2026 11:40:00 GMT"):
    facts = {"oktas": oktas, "source": "MET Norway forecast", "issued_at": NOW - 3 * HOUR}
    row = tuple(WeatherHour(starts=FIRST + n * HOUR, **facts) for n in range(hours))
    return Asked(Forecast(NOW - 3 * HOUR, row), expires, modified)


def clouds(plans, spot):
    with plans.reading() as s:
        return [hour.oktas for hour in hours_at(s, spot.id)]


@pytest.mark.parametrize("form", [{}, {"forecast": "off", "forecast_contact": "me@example.org"}])
def test_nothing_is_asked_until_it_is_switched_on(plans, form):
    change_settings(plans, form)
    stub, spot = Stub(), stand(plans)
    with pytest.raises(InputProblem, match="off"):
        fetch_forecast(plans, spot.id, now=NOW, ask=stub)
    assert stub.asked == []


def test_it_is_kept_and_said_how_far_it_reaches(plans, lane):
    stub = Stub(told())
    words = fetch_forecast(plans, lane.id, now=NOW, ask=stub)
    assert words == "The forecast is kept: made 3 h ago, it reaches to Saturday 17 October 18:00."
    assert clouds(plans, lane) == [5.0, 5.0, 5.0]
    ((address, latitude, longitude, contact, name, modified),) = stub.asked
    assert address == "https://api.met.no/weatherapi/locationforecast/2.0/compact"
    assert (latitude, longitude) == (lane.latitude_deg, lane.longitude_deg)
    assert (contact, name, modified) == ("me@example.org", "MET Norway forecast", "")


def test_it_is_not_asked_again_before_it_expires(plans, lane):
    stub = Stub(told(), told(7.0))
    fetch_forecast(plans, lane.id, now=NOW, ask=stub)
    words = fetch_forecast(plans, lane.id, now=NOW + 29 * MINUTE, ask=stub)
    assert words.startswith("Nothing was asked: the forecast kept here holds until 17:10 CEST")
    assert len(stub.asked) == 1
    fetch_forecast(plans, lane.id, now=NOW + 30 * MINUTE, ask=stub)
    assert stub.asked[1][-1] == "Sat, 17 Oct 2026 11:40:00 GMT"
    assert clouds(plans, lane) == [7.0, 7.0, 7.0]


def test_nothing_newer_leaves_what_is_kept(plans, lane):
    stub = Stub(told(), Asked(None, NOW + 60 * MINUTE, "Sat, 17 Oct 2026 11:40:00 GMT"))
    fetch_forecast(plans, lane.id, now=NOW, ask=stub)
    assert "nothing newer" in fetch_forecast(plans, lane.id, now=NOW + 31 * MINUTE, ask=stub)
    assert clouds(plans, lane) == [5.0, 5.0, 5.0]
    assert "until 17:40" in fetch_forecast(plans, lane.id, now=NOW + 45 * MINUTE, ask=stub)


def test_a_failure_leaves_what_is_kept_and_the_service_alone_for_a_while(plans, lane):
    stub = Stub(told(), Refused("too often", 10 * MINUTE), told(1.0))
    fetch_forecast(plans, lane.id, now=NOW, ask=stub)
    with pytest.raises(Refused, match="What is kept stays"):
        fetch_forecast(plans, lane.id, now=NOW + 40 * MINUTE, ask=stub)
    assert clouds(plans, lane) == [5.0, 5.0, 5.0]
    assert "left alone until 17:30" in fetch_forecast(plans, lane.id, now=NOW + 49 * MINUTE, ask=stub)
    assert len(stub.asked) == 2
    fetch_forecast(plans, lane.id, now=NOW + 50 * MINUTE, ask=stub)
    assert stub.asked[2][-1] == "Sat, 17 Oct 2026 11:40:00 GMT"
    assert clouds(plans, lane) == [1.0, 1.0, 1.0]


def test_a_spot_that_moved_and_another_service_are_asked_anew(plans, lane):
    stub = Stub(told(), told(), told())
    fetch_forecast(plans, lane.id, now=NOW, ask=stub)
    with plans.reading() as s:
        draft = get_spot(s, lane.id).draft
    change_spot(plans, lane.id, lane.version, replace(draft, latitude_deg=lane.latitude_deg + 0.01))
    fetch_forecast(plans, lane.id, now=NOW + MINUTE, ask=stub)
    assert stub.asked[1][-1] == ""
    change_settings(plans, {"forecast_address": "https://weather.example/compact"})
    fetch_forecast(plans, lane.id, now=NOW + 2 * MINUTE, ask=stub)
    assert stub.asked[2][0] == "https://weather.example/compact"
    assert (stub.asked[2][-2], stub.asked[2][-1]) == ("forecast by weather.example", "")


def test_what_was_typed_is_not_touched(plans, lane):
    with plans.writing() as s:
        shelf.add(s, HourDraft(spot_id=lane.id, starts=FIRST, kept_at=NOW, oktas=1.0))
    fetch_forecast(plans, lane.id, now=NOW, ask=Stub(told(8.0)))
    assert under_weather(plans, Moment(NOW, ZONE, 2, "assumed"), lane.id, NOW).oktas == 1
    later = under_weather(plans, Moment(NOW + HOUR, ZONE, 2, "assumed"), lane.id, NOW)
    assert (later.oktas, later.oktas_by) == (8, "by forecast of 3 h ago")


def test_a_spot_that_is_not_there_is_not_asked_about(plans, lane):
    stub = Stub()
    with pytest.raises(Missing):
        fetch_forecast(plans, 99, now=NOW, ask=stub)
    assert stub.asked == []


def test_what_leaves_the_machine_and_whose_data_it_is(plans, lane):
    with plans.reading() as s:
        found = service(s)
    assert found.on
    assert "4 decimals" in found.leaves
    assert "api.met.no" in found.leaves
    assert found.attribution == "Data from MET Norway, licence CC BY 4.0; cloud turned into eighths."
    change_settings(plans, {"forecast_address": "https://weather.example/compact"})
    with plans.reading() as s:
        assert "MET Norway" not in service(s).attribution


def test_the_whole_way_with_a_service_on_this_machine(plans, lane):
    with serving() as running:
        change_settings(plans, {"forecast_address": running.address})
        words = fetch_forecast(plans, lane.id, now=NOW)
        assert "made 3 h ago" in words
        assert clouds(plans, lane) == [5.0, 5.0, 5.0, 5.0, 8.0]
        assert "nothing newer" in fetch_forecast(plans, lane.id, now=NOW + HOUR)
        assert len(running.asked) == 2
        running.tells({"properties": 7})
        running.heads = {}
        with pytest.raises(InputProblem) as problem:
            fetch_forecast(plans, lane.id, now=NOW + 26 * HOUR)
        assert problem.value.field == "forecast"
    change_settings(plans, {"forecast_address": dead_address()})
    with pytest.raises(InputProblem, match="did not answer"):
        fetch_forecast(plans, lane.id, now=NOW + 27 * HOUR)
    assert clouds(plans, lane) == [5.0, 5.0, 5.0, 5.0, 8.0]
